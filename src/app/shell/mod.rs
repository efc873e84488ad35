//! The desktop round the window: how it is opened, its file dialogs, and what outlives it.

pub mod file_dialog;
pub mod launch;
pub mod persistence;
