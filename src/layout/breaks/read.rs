//! Reading `breaks.toml`.

use std::sync::Arc;

use super::written::{Along, BreaksWritten, KeptWritten, LineWritten};
use super::{Breaks, KeptLine, KeptPanel};
use crate::names::{Fault, Faults, PanelName, Role, Source};
use crate::reading;
use crate::reading::{At, Words};

/// Reads what an author chose and passed.
///
/// # Errors
/// Everything wrong with the file by itself: what is no TOML, keys it does not have, a panel that is there twice, a
/// role without its picture or a picture where none can stand.
pub fn read(source: &Arc<Source>) -> Result<Breaks, Faults> {
    let document = reading::read::<BreaksWritten>(source);
    let mut faults = document.faults;
    // A quotation mark that is lost upsets every line after it.
    if !document.complete {
        faults.sort_by_key(|fault| fault.place.as_ref().map(|place| place.span.start));
        faults.truncate(1);
    }
    let file = document.written;
    let list = file.panel.map(|list| list.value).unwrap_or_default();
    let mut panels: Vec<KeptPanel> = Vec::new();
    for entry in list {
        let Some(kept) = panel(entry, &mut faults) else {
            continue;
        };
        match panels.iter().find(|known| known.panel == kept.panel) {
            None => panels.push(kept),
            Some(first) => faults.extend(twice(&kept, first)),
        }
    }
    if !faults.is_empty() {
        faults.sort_by_key(|fault| fault.place.as_ref().map(|place| place.span.start));
        return Err(faults);
    }
    panels.sort_by_key(|kept| kept.panel);
    let words = file.words.map(|words| words.value.get(0));
    Ok(Breaks { panels, words })
}

fn twice(kept: &KeptPanel, first: &KeptPanel) -> Option<Fault> {
    let what = format!("{} is there twice", kept.panel);
    let fault = Fault::new("panel-twice", what).at(kept.place.clone()?);
    let fault = fault.help("put its words under one [[panel]], and take the other out");
    Some(fault.also(first.place.clone()?, "first here"))
}

/// One panel; nothing where too little of it could be read.
fn panel(entry: At<KeptWritten>, faults: &mut Faults) -> Option<KeptPanel> {
    let written = entry.value;
    let (chosen, goes_on) = (written.chosen().0, written.goes_on().0);
    let panel = written.panel?;
    let role = written.role?;
    let words = written.words.map(|words| words.value.0);
    let words = words.unwrap_or_default();
    faults.extend(wrong_role(panel.value, &role, written.picture.as_ref()));
    if role.value == Role::Blank && !words.trim().is_empty() {
        let what = format!("{} has the role `blank`, and words", panel.value);
        faults.push(Fault::new("wrong-role", what).at(role.place.clone()));
    }
    let unread = written.faulty.contains(&"passed");
    let passed = written.passed.filter(|_| !unread);
    let passed: Option<Vec<KeptLine>> =
        passed.map(|lines| lines.value.into_iter().filter_map(line).collect());
    if let Some(lines) = &passed
        && !words.is_empty()
        && !is_of(lines, &words)
    {
        faults.push(edited_though_passed(&panel));
    }
    let along = |at: Option<At<Along>>| at.map(|at| at.value.0);
    let page = along(written.width)
        .zip(along(written.height))
        .zip(along(written.bleed));
    Some(KeptPanel {
        page: page.map(|((width, height), bleed)| [width, height, bleed]),
        panel: panel.value,
        role: role.value,
        picture: written.picture.map(|picture| picture.value.0),
        chosen,
        goes_on,
        words,
        passed,
        place: Some(panel.place),
    })
}

/// A role without its picture, or with a picture that cannot stand on it.
fn wrong_role(panel: PanelName, role: &At<Role>, picture: Option<&At<Words>>) -> Option<Fault> {
    let word = role.value.word();
    let (what, place) = match (role.value.has_picture(), picture) {
        // It has no name yet.
        (true, None) if role.value == Role::Picture => return None,
        (true, None) => (
            format!("{panel} has the role `{word}` and no picture"),
            &role.place,
        ),
        (false, Some(picture)) => (
            format!("{panel} has the role `{word}`, on which no picture stands"),
            &picture.place,
        ),
        _ => return None,
    };
    Some(Fault::new("wrong-role", what).at(place.clone()))
}

/// A panel that is passed for press, with words that are not those of its printed lines.
fn edited_though_passed(panel: &At<PanelName>) -> Fault {
    let name = panel.value;
    let what = format!(
        "{name} is passed for press, and the words listed for it are no longer those of its printed lines"
    );
    let help = "put both back as they were, or release the panel and edit then";
    let fault = Fault::new("passed", what).at(panel.place.clone());
    fault.or_release(help, name)
}

/// Whether words are those of printed lines, what the program adds left aside; room that is left empty has no line.
fn is_of(lines: &[KeptLine], words: &str) -> bool {
    let letters = |text: &str| text.split_whitespace().collect::<String>();
    let own = lines.iter().filter(|line| !line.added);
    let printed: String = own.map(|line| letters(&line.words)).collect();
    let room = |line: &&str| line.starts_with('[') && line.ends_with(']');
    let without_room: String = words
        .lines()
        .filter(|line| !room(line))
        .map(letters)
        .collect();
    printed == letters(words) || printed == without_room
}

/// One printed line; nothing where it could not be read, which is told already.
fn line(entry: At<LineWritten>) -> Option<KeptLine> {
    let written = entry.value;
    let (goes_on, added) = (written.goes_on().0, written.added().0);
    Some(KeptLine {
        words: written.words?.value.0,
        left: written.left?.value.0,
        baseline: written.baseline?.value.0,
        goes_on,
        added,
        seal: written.seal?.value.0,
    })
}
