//! What waits until changes are saved.

use std::path::PathBuf;

/// What follows once changes are saved or given up.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum AfterSaving {
    Quit,
    Open(PathBuf),
    /// A bay is shown on the plan.
    OpenBay(PathBuf),
    AskOpen,
    New,
    /// One of the jobs found again.
    Recover(usize),
}
