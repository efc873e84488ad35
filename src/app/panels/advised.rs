//! What the buttons do that carry out advice, and what they say.

use crate::advice::Tried;
use crate::app::commands::command::{Command, PickedFile};
use crate::app::state::panel_context::PanelContext;
use crate::edit::{Edit, Step};
use crate::files::named_path;

/// What a button that does it says; `short`: beside words that tell what is moved.
pub(super) fn button(tried: &Tried, there: &str) -> String {
    let of = |e: &Edit| match e {
        Edit::Clear { .. } => "clear it".to_owned(),
        Edit::Door { .. } => "open it".to_owned(),
        Edit::ChooseBay { .. } => "use that bay".to_owned(),
        _ if tried.turns() => format!("turn it round and {there}"),
        _ => there.to_owned(),
    };
    let mut words: Vec<String> = tried.edits.iter().map(of).collect();
    words.dedup();
    words.join(" and ")
}

/// The commands that do what was tried.
pub(super) fn commands(cx: PanelContext, tried: &Tried) -> Option<Vec<Command>> {
    let command = |edit: &Edit| match edit {
        Edit::ChooseBay { file, .. } => {
            Some(Command::Pick(PickedFile::Bay(named_path(cx.document.path()?, file.as_str()))))
        }
        other => Some(Command::Edit(other.clone(), Step::New)),
    };
    tried.edits.iter().map(command).collect()
}
