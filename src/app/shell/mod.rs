//! The desktop round the window: how it is opened, its file dialogs, and what outlives it.

pub(super) mod file_dialog;
pub(super) mod launch;
pub(super) mod persistence;
