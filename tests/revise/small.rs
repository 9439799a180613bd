//! Small manuscripts known by heart.

use versefold::names::SetAs;

use super::revised;

fn verse(manuscript: &str, client: &str) -> versefold::text::revise::Revision {
    revised(manuscript, SetAs::Verse, client).expect("it can be revised")
}

#[test]
fn emphasis_stays_around_words_that_are_still_there() {
    for (manuscript, client, made) in [
        // Another word beside it, before it, and one of several.
        (
            "She *never* drove it\n",
            "He never drove it\n",
            "He *never* drove it\n",
        ),
        (
            "*I am coming. Stay where you are.*\n",
            "I am coming. Stop where you are.\n",
            "*I am coming. Stop where you are.*\n",
        ),
        (
            "*I have stopped.* Come\n",
            "I have stopped. Come past\n",
            "*I have stopped.* Come past\n",
        ),
        (
            "said **Mr** for *nine* years\n",
            "said Mr for nine long years\n",
            "said **Mr** for *nine* long years\n",
        ),
        // Over two lines, of which one is changed.
        (
            "*Stay where\nyou are now.*\n",
            "Stay where\nyou were now.\n",
            "*Stay where*\n*you were now.*\n",
        ),
        (
            "*not once*, she said\n",
            "not ever, she said\n",
            "*not ever*, she said\n",
        ),
        // A sign of the client's own beside it.
        ("a *b* 2\\*3\n", "a b 2*4 c\n", "a *b* 2\\*4 c\n"),
    ] {
        let revision = verse(manuscript, client);
        assert_eq!(revision.text, made);
        assert!(revision.lost.is_empty(), "{:?}", revision.lost);
    }
    let gone = verse("She *never* drove it\n", "She rarely drove it\n");
    assert_eq!(gone.text, "She rarely drove it\n");
    assert_eq!(gone.lost, ["the emphasis of: never"]);
    let gone = verse("said *Mr*, and went on\n", "said Mister, and went on\n");
    assert_eq!(gone.lost, ["the emphasis of: Mr,"]);
}

#[test]
fn signs_before_lines_stay_with_their_words() {
    let manuscript = "# The Winter Bus\n\n    ‘One to the top.’\n>> ‘And that?’\n>> ‘A tripod.’\n";
    let client = "The Winter Coach\n\n    ‘One to the top.’\n‘And those?’\n‘A tripod.’\n";
    let made = "# The Winter Coach\n\n    ‘One to the top.’\n>> ‘And those?’\n>> ‘A tripod.’\n";
    assert_eq!(verse(manuscript, client).text, made);
    // Without the line that it steps on from, a step has no meaning.
    let made = verse(
        "‘One to the top.’\n>> ‘And that?’\n>> ‘A tripod.’\n",
        "‘And that?’\n‘A tripod.’\n",
    );
    assert_eq!(made.text, "‘And that?’\n>> ‘A tripod.’\n");
    assert_eq!(made.lost, ["`>>` before: ‘And that?’"]);
    // Words that are no line of their own any more do not step.
    let made = verse(
        "‘What’s it doing there?’\n>> ‘It is thinking.’\nHe dug.\n",
        "‘What’s it doing there?’ ‘It is thinking.’\nHe dug.\n",
    );
    assert_eq!(
        made.text,
        "‘What’s it doing there?’ ‘It is thinking.’\nHe dug.\n"
    );
    assert_eq!(made.lost, ["`>>` before: ‘It is thinking.’"]);
    // A new title in the place of the old one is the title.
    let made = verse(
        "# The Winter Bus\n\nIt snowed.\n",
        "Nine Years\n\nIt snowed.\n",
    );
    assert_eq!(made.text, "# Nine Years\n\nIt snowed.\n");
}

#[test]
fn callouts_go_with_their_words() {
    let manuscript = "One long\nbefore a bend\n[picture: the bend]\n\n[new panel]\nTwo short\nfrom a passing place\n[picture: the place]\n\nThree\nfor the mail\n";
    // The second stanza comes first now.
    let moved = verse(
        manuscript,
        "Two short\nfrom a passing place\n\nOne long\nbefore a bend\n\nThree\nfor the mail\n",
    );
    assert_eq!(
        moved.text,
        "[new panel]\nTwo short\nfrom a passing place\n[picture: the place]\n\nOne long\nbefore a bend\n[picture: the bend]\n\nThree\nfor the mail\n"
    );
    assert!(moved.callouts.is_empty(), "{:?}", moved.callouts);
    // The second stanza is gone.
    let cut = verse(
        manuscript,
        "One long\nbefore a bend\n\nThree\nfor the mail\n",
    );
    assert_eq!(
        cut.text,
        "One long\nbefore a bend\n[picture: the bend]\n[picture: the place]\n\n[new panel]\nThree\nfor the mail\n"
    );
    let told: Vec<&str> = cut.callouts.iter().map(|told| told.what.as_str()).collect();
    assert_eq!(
        told,
        [
            "[new panel] stood before a stanza that is gone: it now stands after line 2",
            "[picture: the place] stood after a stanza that is gone: it now stands after line 2",
        ]
    );
    assert_eq!(cut.carried, 1);
}

#[test]
fn what_says_what_a_line_is_goes_with_it() {
    let manuscript = "[epigraph]\nThe horn shall be sounded.\n[attribution]\n*Handbook*, 1968\n\nI got the pass.\n";
    let cut = verse(manuscript, "I got the pass.\n");
    assert_eq!(cut.text, "I got the pass.\n");
    let told: Vec<&str> = cut.callouts.iter().map(|told| told.what.as_str()).collect();
    assert_eq!(
        told,
        [
            "[epigraph] could not be carried over: its words are gone",
            "[attribution] could not be carried over: its words are gone",
        ]
    );
    let kept =
        "[keep together]\nOne long\nTwo short\nThree\n[end together]\n\nSo says the Handbook.\n";
    let some = verse(kept, "Two short\nFour\n\nSo says the Handbook.\n");
    assert_eq!(
        some.text,
        "[keep together]\nTwo short\nFour\n[end together]\n\nSo says the Handbook.\n"
    );
    let none = verse(kept, "So says the Handbook.\n");
    assert_eq!(
        (none.text.as_str(), none.callouts.len()),
        ("So says the Handbook.\n", 2)
    );
}

#[test]
fn prose_keeps_its_lines_and_what_stands_between_them() {
    let manuscript = "The coat came with the job. The foreman\ntook it off a nail behind the door,\n[picture: the coat]\nand shook it once.\n\nIt was blue.\n";
    // Wrapped otherwise it is the same.
    let wrapped = "The coat came with the job.\nThe foreman took it off a nail\nbehind the door, and shook it once.\n\nIt was blue.\n";
    let made = revised(manuscript, SetAs::Prose, wrapped).expect("it can be revised");
    assert_eq!((made.text.as_str(), made.changes.len()), (manuscript, 0));
    let made = revised(
        manuscript,
        SetAs::Prose,
        &wrapped.replace("behind the", "behind the office"),
    )
    .expect("it can be revised");
    assert_eq!(
        made.text,
        manuscript.replace("behind the", "behind the office")
    );
    assert!(made.callouts.is_empty());
}

#[test]
fn verse_in_prose_is_found_again() {
    let manuscript = "I still eat there. There is\nno horn.\n\n[part: colophon]\n[set as verse]\nPrinted from blocks\nby hand\n[space: 14 mm]\nsigned\n";
    let client = "I still eat there, always. There is\nno horn.\n\nNor a bus.\n\nPrinted from lino blocks\nby hand,\nsigned\n";
    let made = revised(manuscript, SetAs::Prose, client).expect("it can be revised");
    assert_eq!(
        made.text,
        "I still eat there, always. There is\nno horn.\n\nNor a bus.\n\n[part: colophon]\n[set as verse]\nPrinted from lino blocks\nby hand,\n[space: 14 mm]\nsigned\n"
    );
}

#[test]
fn a_copy_of_the_manuscript_is_read_with_its_mark_up() {
    let manuscript = "# Bus\n\nOne *long*\n[picture: the bend]\n\n[may divide]\nTwo short\n";
    let client = "# Bus\n\nOne *very long*\n[picture: the bend]\n\nTwo short\n";
    let made = verse(manuscript, client);
    assert!(made.marked);
    assert_eq!(
        made.text,
        "# Bus\n\nOne *very long*\n[picture: the bend]\n\n[may divide]\nTwo short\n"
    );
    assert_eq!(
        made.callouts[0].what,
        "[may divide] was missing from the client's file: it now stands after line 3"
    );
    assert_eq!(verse(manuscript, manuscript).text, manuscript);
}

#[test]
fn readings_stay_above_their_words() {
    let read_as = versefold::text::revise::ReadAs {
        set_as: SetAs::Verse,
        has_readings: &|_| true,
    };
    let revise = |old: &str, new: &str| {
        versefold::text::revise::revise(
            &super::source("m", old),
            read_as,
            &super::source("c", new),
            &versefold::text::revise::Choice::All,
        )
        .expect("it can be revised")
    };
    let manuscript = "歌の｜峠の灯《とうげのひ》を見る\n冬《ふゆ》のバス\n";
    assert_eq!(
        revise(manuscript, "歌の峠の灯を見る\n冬のバス\n").text,
        manuscript
    );
    assert_eq!(
        revise(manuscript, "歌の峠の灯を見た\n冬のバス\n").text,
        "歌の｜峠の灯《とうげのひ》を見た\n冬《ふゆ》のバス\n"
    );
    let lost = revise(manuscript, "歌の峠の灯を見る\n夏のバス\n");
    assert_eq!(lost.text, "歌の｜峠の灯《とうげのひ》を見る\n夏のバス\n");
    assert_eq!(lost.lost, ["the reading 冬《ふゆ》"]);
    // The client's own stay as he has them.
    let own = "冬《ふゆ》のバス\n峠を見る\n";
    assert_eq!(
        revise(own, "冬《ふゆ》のバスで\n峠を見る\n").text,
        "冬《ふゆ》のバスで\n峠を見る\n"
    );
}

/// A program that wraps lines parts words at their own hyphens too; in prose they are one word again.
#[test]
fn words_that_the_client_s_program_parts_are_whole_again() {
    let manuscript = "The winter-bus was late that\nday, and galley-slave work it was.\n";
    for (client, made) in [
        (
            "The winter-\nbus was late that morning, and galley-\nslave work it was.\n",
            "The winter-bus was late that morning, and galley-slave work it was.\n",
        ),
        // The part after the hyphen alone on its line.
        (
            "The winter-\nbus\nwas never late that day, and galley-slave work it was.\n",
            "The winter-bus was never late that day, and galley-slave work it was.\n",
        ),
    ] {
        let revision = revised(manuscript, SetAs::Prose, client).expect("it can be revised");
        let words = |text: &str| {
            text.split_whitespace()
                .map(String::from)
                .collect::<Vec<_>>()
        };
        assert_eq!(words(&revision.text), words(made));
    }
    // Words that the manuscript does not have stay the client's, and so do lines of verse.
    let revision = revised(
        "The bus was late.\n",
        SetAs::Prose,
        "The bus was snow-\nlate.\n",
    );
    assert!(revision.expect("it can be revised").text.contains("snow-"));
    let verse = verse("The winter-bus\nwas late\n", "The winter-\nbus was late\n");
    assert_eq!(verse.text, "The winter-\nbus was late\n");
}
