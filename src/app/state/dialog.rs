//! What lies over the window, with what is typed into it.

use std::path::PathBuf;
use std::sync::Arc;

use crate::app::shell::file_dialog::Purpose;
use crate::app::state::survey_draft::{Height, SurveyDraft};
use crate::checks::RuleId;
use crate::files::Source;
use crate::model::job::Accepted;

/// What lies over the window.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Dialog {
    /// What each key does, and what the pointer does on the plan.
    Keys,
    /// The page about a rule.
    Why(RuleId),
    /// A finding to be accepted: its title, and what is written so far.
    Accept { title: String, draft: Accepted },
    /// What is wrong in files, and what was tried.
    Faults { tried: String, faults: Vec<String> },
    /// A path to be typed, or looked for with the desktop's dialog; `browsed`: that one gave none.
    Path { purpose: Purpose, text: String, jobs: Vec<(String, PathBuf)>, focused: bool, browsed: bool },
    /// The list of all commands, and the word looked for.
    Commands { text: String, focused: bool },
    /// Something would be lost.
    Unsaved,
    /// A file is there already.
    Overwrite(PathBuf),
    /// Heights of the floor as a table.
    Survey(SurveyDraft),
    /// The height at one place of the floor, typed.
    Height(Height),
    /// A file that is changed here was changed by others too.
    Changed(FileConflict),
    /// Unsaved work was found again: names and where they belong.
    Lost(Vec<(String, Option<PathBuf>)>),
    /// Something was to be written into the demonstration, which is not.
    Demonstration,
}

/// What was written by others into files that are open.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct FileConflict {
    pub path: PathBuf,
    /// What the file holds now.
    pub source: Arc<Source>,
    /// It came up while saving, which goes on once it is settled.
    pub saving: bool,
}

/// How a file that others have changed is dealt with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ConflictChoice {
    KeepMine,
    TakeTheirs,
    /// Mine goes into a file of its own, theirs is taken.
    MineBeside,
}
