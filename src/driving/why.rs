//! Why no way in was found.

use std::sync::Arc;

use super::{DEEPEST, Tightest};
use crate::model::Item;

/// Why no way in was found.
#[derive(Clone, Debug, PartialEq)]
pub enum WhyNot {
    /// By how much the vehicle is too high for the doorway, mm.
    TooHigh(f64, Arc<str>),
    PlaceTaken(InTheWay),
    PlaceOffFloor,
    /// There is one without the straight run before the stop, mm.
    NoStraightRun(f64),
    NotEvenBad,
    /// On the best way found.
    Blocked(InTheWay),
}

/// What is in the way, and how deep, mm; `None`: it stands across it.
#[derive(Clone, Debug, PartialEq)]
pub struct InTheWay {
    pub still: Item,
    pub depth: Option<f64>,
}

impl InTheWay {
    pub(super) fn of(t: &Tightest) -> InTheWay {
        let depth = Some(-t.margin).filter(|depth| *depth <= DEEPEST);
        InTheWay { still: Item::new(t.still_is, t.still.clone()), depth }
    }
}
