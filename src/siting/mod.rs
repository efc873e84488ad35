//! Siting: where the vehicle can stand so that no plan rule fails, how exactly it must stop there, and where it can
//! stand nowhere, by how much the bay is short and which one change opens it.
//!
//! [`find`] answers everything; it may run beside the window and be stopped. The needs and the measures are those of
//! the checks: a pose inside the region checks without a failing plan rule, one outside it fails. On a lift its runways
//! or posts and its middle line are among them; headroom is not, and is told at the best pose.

mod accepted;
mod between;
mod bound;
mod change;
mod choose;
mod curve;
mod deepest;
mod even;
mod find;
mod fixed;
mod grow;
mod heading;
mod maker;
mod obstacle;
mod openings;
mod progress;
mod region;
mod short;
mod site;
mod space;
mod stands;
mod still;
mod turn;
mod whole;

pub use between::Between;
pub use change::{Change, Tried};
pub use curve::{Curve, Direction, curve, held};
pub use even::{Even, even};
pub use find::{Ask, Best, Halted, Note, OtherBay, Siting, best_pose, find, find_among, judged_pose};
pub use heading::HeadingFound;
pub use openings::{Openings, headings_of, openings};
pub use progress::{Progress, Stopped};
pub use region::Allowed;
pub use short::{Beside, Shortfall};
pub use site::{Place, Site, allowed_of, deepest_of};
pub use space::{Hold, Space};
pub use stands::Stand;
pub use turn::{Swing, swing};
