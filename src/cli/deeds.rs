//! What an author can have the program do about a fault, as commands.

use crate::names::{Deed, Fault};

/// How a fault is mended, with the command where there is one for it.
pub(super) fn help(fault: &Fault) -> Option<String> {
    let help = fault.help.as_ref()?;
    Some(match &fault.deed {
        None => help.clone(),
        Some(Deed::Release(panels)) if panels.is_empty() => {
            format!("{help}: versefold pass --release PANELS")
        }
        Some(Deed::Release(panels)) => {
            format!("{help}: versefold pass --release \"{}\"", panels.join(", "))
        }
        Some(Deed::ChooseAfresh) => format!("{help}: versefold flow --afresh --keep"),
        Some(Deed::ReleaseAndChooseAfresh) => {
            let (release, choose) = help.rsplit_once(" and ")?;
            format!(
                "{release} (versefold pass --release PANELS) and {choose}: versefold flow --afresh --keep"
            )
        }
        Some(Deed::TakeSheet(sheet)) => format!("{help}, such as --paper {sheet}"),
    })
}
