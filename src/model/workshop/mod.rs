//! The workshop: the file at the root of a folder of bays, vehicles, equipment, procedures and jobs. All it says is the
//! shop's own; nothing of it is built in.

mod faults;
mod file;
mod systems;

pub use faults::{doubts, faults};
pub use file::{
    GearCheck, Identified, InHouse, LegalPlace, SentOut, ShopFolders, ShopMoney, ShopTape, ShopUnits,
    Touched, Workshop,
};
pub use systems::SystemTable;
