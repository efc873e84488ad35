//! What the window can be told, and the one place where it is carried out.

mod bay_commands;
pub(super) mod command;
mod disk_commands;
mod dispatch;
mod dropped;
mod file_commands;
pub(super) mod load;
pub(super) mod menu;
pub(super) mod shortcuts;
mod survey_commands;
mod workshop_commands;
