//! What the window can be told, and the one place where it is carried out.

mod bay_commands;
pub mod command;
mod disk_commands;
mod dispatch;
mod file_commands;
pub mod load;
pub mod menu;
pub mod shortcuts;
mod survey_commands;
