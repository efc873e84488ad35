//! Tape readings of a bay: which points were measured, and what the tape read.

use super::num;
use super::reading::{FromFile, Reader};
use super::record::{choice, values};
use super::spot::{Name, Spot};
use super::writing::{ToFile, Writer};
use crate::syntax::Id;

values! {
    /// One tape: from, to, and what it read, mm.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Taped(pub TapedPoint, pub TapedPoint, pub f64 [is num::size]);
}

/// Where a tape begins or ends.
#[derive(Clone, Debug, PartialEq)]
pub enum TapedPoint {
    /// The corner of the floor with this number, 0 the first of the file.
    Corner(usize, Spot),
    /// A jamb of the doorway of this name.
    Jamb(Name, JambEnd),
}

choice! {
    /// Which jamb of a doorway.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    pub enum JambEnd {
        /// The one nearer to the first corner of the doorway's side.
        From,
        To,
    }
}

choice! {
    /// A jamb as it is spelt.
    #[derive(Clone, Debug, PartialEq)]
    enum SpeltJamb {
        Jamb(Name, JambEnd),
    }
}

impl std::fmt::Display for TapedPoint {
    /// "2", "roller door from": as answers name it.
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        match self {
            TapedPoint::Corner(corner, _) => write!(f, "{corner}"),
            TapedPoint::Jamb(door, JambEnd::From) => write!(f, "{door} from"),
            TapedPoint::Jamb(door, JambEnd::To) => write!(f, "{door} to"),
        }
    }
}

impl FromFile for TapedPoint {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let source = r.tree.source(id);
        if source.starts_with("Jamb") {
            let SpeltJamb::Jamb(door, end) = SpeltJamb::read(r, id)?;
            return Some(TapedPoint::Jamb(door, end));
        }
        match source.parse() {
            Ok(corner) => Some(TapedPoint::Corner(corner, r.spot(id))),
            Err(_) => {
                r.expected_plain(
                    id,
                    "the number of a corner (0 is the first) or Jamb(\"a door\", From or To)",
                );
                None
            }
        }
    }
    fn stand_in() -> Self {
        TapedPoint::Corner(0, Spot::NOWHERE)
    }
}

impl ToFile for TapedPoint {
    fn write(&self, w: &mut Writer) {
        match self {
            TapedPoint::Corner(corner, _) => w.word(&corner.to_string()),
            TapedPoint::Jamb(door, end) => SpeltJamb::Jamb(door.clone(), *end).write(w),
        }
    }
}
