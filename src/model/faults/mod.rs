//! What a file or a whole job says that cannot be used, as far as the data alone tell it; and what it probably did not
//! mean to say.
//!
//! A measured figure outside its band is not here: the file is right, the vehicle is not, and a rule says so.

mod bands;
mod bay;
mod bundle;
mod equipment;
mod figures;
mod fixed;
mod further;
mod job;
mod marks;
mod parts;
mod procedure;
mod sights;
mod upright;
mod vehicle;

pub mod advice;

use std::collections::BTreeSet;

use super::figure::Figure;
use super::spot::{Name, Spot};
use super::words;

pub use bay::bay;
pub use bundle::{Parts, bundle};
pub use equipment::equipment;
pub use job::job;
pub use procedure::procedure;
pub use vehicle::vehicle;

/// Something a file says that cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Defect {
    /// A place in the file: what the defect is about, or something in the same bracket as `field`.
    pub spot: Spot,
    /// The field it is about, when the value of that field keeps no place of its own: `z`, or `heights[3]`.
    pub field: Option<String>,
    pub text: String,
    pub hint: Option<String>,
}

/// Names of sensors the trade's own documents use; another is allowed, with a hint.
pub const SENSORS: &[&str] = &[
    "windscreen camera",
    "windscreen laser",
    "front radar",
    "grille laser",
    "front left radar",
    "front right radar",
    "rear left radar",
    "rear right radar",
    "front camera",
    "rear camera",
    "left mirror camera",
    "right mirror camera",
    "left headlamp",
    "right headlamp",
    "night camera",
];

/// Names of points of a vehicle; another is allowed, with a hint.
pub const POINTS: &[&str] = &[
    "front emblem",
    "rear emblem",
    "driver eye",
    "front left wheel arch",
    "front right wheel arch",
    "rear left wheel arch",
    "rear right wheel arch",
    "roof centre",
];

/// Marks every setup knows.
pub const BUILT_IN_MARKS: &[&str] = &["nose", "tail", "front axle", "rear axle", "N", "T", "FA", "RA"];

/// Defects while they are gathered, and the names of values that could be taken for numbers.
#[derive(Default)]
pub(in crate::model) struct Defects(pub(in crate::model) Vec<Defect>, Vec<String>);

/// Most defects that are gathered of one file; whoever mends them looks again.
const MOST: usize = 100;

impl Defects {
    /// Whether as much was found as anybody is told.
    fn is_full(&self) -> bool {
        self.0.len() >= MOST
    }

    /// About the thing at the spot.
    pub(in crate::model) fn at(&mut self, spot: Spot, text: impl Into<String>, hint: Option<String>) {
        if !self.is_full() {
            self.0.push(Defect { spot, field: None, text: text.into(), hint });
        }
    }

    /// About a field in the bracket the spot stands in.
    pub(in crate::model) fn field(&mut self, spot: Spot, field: impl Into<String>, text: impl Into<String>) {
        if !self.is_full() {
            self.0.push(Defect { spot, field: Some(field.into()), text: text.into(), hint: None });
        }
    }

    /// The number of a figure that rests on no value.
    fn plain(&self, figure: &Figure) -> Option<f64> {
        figure.plain_among(|name| self.1.iter().any(|n| n == name))
    }

    /// A name that nothing has, with the nearest or all of the known ones.
    fn unknown<'a>(&mut self, name: &Name, what: &str, known: impl IntoIterator<Item = &'a str>) {
        if !name.as_str().is_empty() && !self.is_full() {
            let hint = words::suggest(name.as_str(), what, known);
            self.at(name.spot, format!("there is no {what} {name:?}"), hint);
        }
    }

    /// About a name that nothing has, in words of one's own.
    fn named<'a>(&mut self, name: &Name, text: String, what: &str, known: impl Iterator<Item = &'a str>) {
        if !name.as_str().is_empty() && !self.is_full() {
            let hint = words::suggest(name.as_str(), what, known);
            self.at(name.spot, text, hint.or(Some(format!("it has no {what} at all"))));
        }
    }

    /// Names that must differ among themselves; an empty one is a defect too.
    pub(in crate::model) fn unique<'a>(&mut self, what: &str, names: impl IntoIterator<Item = &'a Name>) {
        let mut seen = BTreeSet::new();
        for name in names {
            if name.as_str().trim().is_empty() {
                self.at(name.spot, format!("a {what} needs a name"), None);
            } else if !seen.insert(name.as_str()) {
                let text = format!("{name:?} is the name of another {what} already");
                self.at(name.spot, text, Some("give each its own name".into()));
            }
        }
    }
}

/// A figure in mm or degrees as a person writes it: at most three decimals, none that are not needed.
fn plain(value: f64) -> String {
    let rounded = (value * 1000.0).round() / 1000.0;
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}
