//! How far the stanzas of a part are done at each place, so that the panels of two parts can keep step.

use super::{Problem, RowFacts};

/// For each place, from before the first row to behind the last: twice the number of stanzas and paragraphs that
/// end before it, and one more where it lies within one. Captions are looked through; headings, ornaments, who
/// speaks and room are of no stanza.
pub(crate) fn stanzas_done(problem: &Problem) -> Vec<u32> {
    let rows = &problem.rows;
    let text = |row: &RowFacts| row.verse || row.prose;
    // Which of the rows of no caption stands first at or behind each place.
    let mut next = vec![None; rows.len() + 1];
    for at in (0..rows.len()).rev() {
        next[at] = match rows[at].caption {
            None => Some(at),
            Some(_) => next[at + 1],
        };
    }
    let mut done = Vec::with_capacity(rows.len() + 1);
    let (mut ended, mut last): (u32, Option<usize>) = (0, None);
    for (place, next) in next.iter().enumerate() {
        // The stanza that the words above belong to, and whether it goes on below.
        let above = last.filter(|last| text(&rows[*last]));
        let goes_on = above.zip(*next).is_some_and(|(above, next)| {
            text(&rows[next]) && rows[above].block == rows[next].block
        });
        let ends = above.is_some() && !goes_on;
        done.push(2 * (ended + u32::from(ends)) + u32::from(goes_on));
        if *next == Some(place) {
            ended += u32::from(ends);
            last = Some(place);
        }
    }
    done
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::{Ending, Rules};
    use crate::stack::Stack;

    /// Rows by a letter each: a letter of the alphabet is a line of that stanza, `.` goes on the paragraph
    /// before, `#` is a heading, `-` a caption.
    fn problem(rows: &str) -> Problem {
        let letters: Vec<char> = rows.chars().collect();
        let fact = |(at, letter): (usize, &char)| RowFacts {
            block: match letter {
                '.' => letters[at - 1] as usize,
                '#' | '-' => 1000 + at,
                _ => *letter as usize,
            },
            verse: letter.is_alphabetic(),
            prose: *letter == '.',
            inner: false,
            joined: false,
            section: 0,
            kept: None,
            may_divide: false,
            new_panel: false,
            ending: Ending::RunsOn,
            too_long: false,
            caption: (*letter == '-').then_some(0),
        };
        Problem {
            rows: letters.iter().enumerate().map(fact).collect(),
            stack: Stack::default(),
            panels: Vec::new(),
            pictures: Vec::new(),
            opening: 0,
            chosen_ends: Vec::new(),
            printed_ends: Vec::new(),
            blanks_unsaid: false,
            body: true,
            word_panels: 1,
            rules: Rules::default(),
        }
    }

    #[test]
    fn stanzas_are_done_where_they_end() {
        let done = |rows: &str| stanzas_done(&problem(rows));
        assert_eq!(done(""), [0]);
        assert_eq!(done("#aab"), [0, 0, 1, 2, 4]);
        assert_eq!(done("a#b."), [0, 2, 2, 3, 4]);
        // Within a stanza, at its end, at its head, and alone.
        assert_eq!(done("a--a"), [0, 1, 1, 1, 2]);
        assert_eq!(done("a-b"), [0, 2, 2, 4]);
        assert_eq!(done("-aa-"), [0, 0, 1, 2, 2]);
        assert_eq!(done("--"), [0, 0, 0]);
    }
}
