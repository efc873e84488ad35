//! The window: a thin reader of the job. Panels read and send commands; `commands::dispatch` carries them out at one place.

mod background;
mod background_update;
mod commands;
mod dialogs;
mod division;
mod open_job;
mod panels;
mod plan;
mod shell;
mod state;
mod widgets;
mod window;

pub use shell::launch::open;
pub use window::Window;
