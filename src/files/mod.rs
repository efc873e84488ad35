//! Files: RON in and out, whole jobs with everything they name, faults with line and column, safe saving.
//!
//! The only room that touches the disk.

mod beside;
mod demo;
mod fault;
mod folder;
mod heights;
mod journal;
mod kind;
mod limits;
mod open;
mod read;
mod recent;
mod save;
mod settings;
mod source;
mod state;
mod validate;
mod workshop;
mod write_whole;

pub use beside::BaysBeside;
pub use demo::demo_job;
pub use fault::{FileFault, Notice, Severity};
pub use folder::{Entry, Listing, folder, plain_path, relative_path};
pub use heights::{Bare, HeightTable, Typed, load_heights, write_heights};
pub use journal::{Journal, Kept, KeptFile, KeptHeights, Recovered};
pub use kind::{FileKind, Kind, kind_of};
pub use limits::Unread;
pub use open::{Opened, Sources, Texts, named_path, open_held, open_job, open_over};
pub use read::{read, read_bay, read_equipment, read_job, read_procedure, read_text, read_vehicle};
pub use recent::Recent;
pub use save::{save, write_new};
pub use settings::Settings;
pub use source::Source;
pub use state::state_folder;
pub use validate::validate;
pub use workshop::{
    Along, NewShop, ShopContents, ShopFile, WORKSHOP_FILE, is_demonstration, make_shop, nearest_workshop,
    shop_contents, shop_tape,
};

#[cfg(test)]
mod tests;
