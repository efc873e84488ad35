//! Plain data as the files hold it; what can be wrong with a single value is refused while it is read.

pub mod bay;
mod called;
pub mod equipment;
pub mod faults;
pub mod figure;
pub mod further;
pub mod item;
pub mod items;
pub mod job;
pub mod language;
pub mod num;
pub mod procedure;
pub mod reading;
mod record;
pub mod rule_id;
pub mod shape;
pub mod spot;
pub mod taped;
pub mod uses;
pub mod vehicle;
pub mod when;
pub mod words;
pub mod writing;

pub use bay::{Bay, Needs, Surface};
pub use called::Lack;
pub use equipment::{Equipment, Target, TargetKind};
pub use figure::{Figure, Term, Value};
pub use item::{Called, FindingKey, Item, ItemKind, ItemRef};
pub use items::Items;
pub use job::{Bundle, Fault, FileOf, Job, Pose};
pub use procedure::{Procedure, Setup, Station};
pub use rule_id::RuleId;
pub use spot::{List, Name, Spot, Table};
pub use vehicle::Vehicle;
pub use when::When;
