//! The further parts of the set-out language: the other side, ways, checks, needs, things the bay fixes.

use super::equipment::TargetKind;
use super::figure::Figure;
use super::language::Feature;
use super::num;
use super::reading::{FromFile, Reader};
use super::record::{choice, record, values};
use super::spot::{List, Name};
use super::writing::{ToFile, Writer};
use crate::syntax::Id;

record! {
    /// The same setup for the other side, built again from that side's own features.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Mirrored as "`mirrored`" {
        pub name: Name,
        /// Names of marks and stations exchanged on the other side.
        pub swap: List<Pair> [default],
    }
}

values! {
    /// Two names, each the other's on the other side.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Pair(pub Name, pub Name);
}

choice! {
    /// Something in the bay that fixes where a target is.
    #[derive(Clone, Debug, PartialEq)]
    pub enum FixedTo {
        /// The wall behind it.
        Wall,
        /// An installed thing of the bay, by name.
        Bay(Name),
        /// Where an earlier setup of the same procedure put the station of the same name.
        Earlier(Name),
    }
}

record! {
    /// A mark that must lie on a line painted on the bay's floor.
    #[derive(Clone, Debug, PartialEq)]
    pub struct StandOn as "`stand_on`" {
        pub mark: Name,
        pub floor_line: Name,
        /// How far beside the line it may lie, mm.
        pub within: Option<Figure>,
    }
}

choice! {
    /// When a setup or station applies.
    #[derive(Clone, Debug, PartialEq)]
    pub enum OnlyIf {
        /// The sensor sits on this side of the vehicle's centreline, or on it.
        SensorOn(Name, Sits),
    }
}

choice! {
    /// Where something sits, seen from the vehicle's centreline.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Sits {
        Left,
        Middle,
        Right,
    }
}

choice! {
    /// A length or angle printed beside a procedure to check the set-out by.
    #[derive(Clone, Debug, PartialEq)]
    pub enum CheckLength {
        Length(Name, Name, Figure),
        Same((Name, Name), (Name, Name)),
        /// Round the marks and back to the first.
        Loop(List<Name>, Figure),
        /// A right angle at the middle one.
        Right(Name, Name, Name),
    }
}

record! {
    /// What is asked of a target that is not named by one particular piece.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Need as "a need" {
        pub kind: Option<TargetKind>,
        pub width: Option<Size>,
        pub height: Option<Size>,
        pub thickness: Option<Size>,
        pub count: Option<u32>,
    }
}

/// A size asked for, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Size {
    Exactly(f64),
    AtLeast(f64),
    AtMost(f64),
    Between(f64, f64),
}

impl Size {
    /// How much the size has to spare, mm; below zero it does not serve. The second figure is the one it is held to.
    pub fn spare(self, have: f64) -> (f64, f64) {
        match self {
            Size::Exactly(v) => (-(have - v).abs(), v),
            Size::AtLeast(v) => (have - v, v),
            Size::AtMost(v) => (v - have, v),
            Size::Between(lo, hi) if have - lo <= hi - have => (have - lo, lo),
            Size::Between(_, hi) => (hi - have, hi),
        }
    }
}

choice! {
    enum SizeSpelt {
        Exactly(f64 [is num::size]),
        AtLeast(f64 [is num::size]),
        AtMost(f64 [is num::size]),
        Between(f64 [is num::size], f64 [is num::size]),
    }
}

impl FromFile for Size {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        if num::of(r, id).is_some() {
            return num::size(r, id).map(Size::Exactly);
        }
        Some(match SizeSpelt::read(r, id)? {
            SizeSpelt::Exactly(v) => Size::Exactly(v),
            SizeSpelt::AtLeast(v) => Size::AtLeast(v),
            SizeSpelt::AtMost(v) => Size::AtMost(v),
            SizeSpelt::Between(a, b) => {
                if a > b {
                    r.refuse(id, format!("the first number of Between({a}, {b}) is above the second"), None);
                }
                Size::Between(a, b)
            }
        })
    }
    fn stand_in() -> Self {
        Size::Exactly(f64::NAN)
    }
}

impl ToFile for Size {
    fn write(&self, w: &mut Writer) {
        match self {
            Size::Exactly(size) => size.write(w),
            Size::AtLeast(size) => w.tuple("AtLeast", &[size]),
            Size::AtMost(size) => w.tuple("AtMost", &[size]),
            Size::Between(lo, hi) => w.tuple("Between", &[lo, hi]),
        }
    }
}

choice! {
    /// A figure worked out from readings.
    #[derive(Clone, Debug, PartialEq)]
    pub enum Derived {
        /// The average of readings.
        Mean(List<Name>),
    }
}

record! {
    /// A variant chosen by the band a figure falls in.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Pick as "`pick`" {
        pub by: Name,
        pub from: List<PickBand>,
    }
}

impl Pick {
    /// The first band that holds a figure.
    pub fn band(&self, figure: f64) -> Option<&PickBand> {
        self.from.iter().find(|b| b.0 <= figure && figure <= b.1)
    }
}

values! {
    /// From, to (both included), and the variant. A figure on the edge of two bands takes the first listed.
    #[derive(Clone, Debug, PartialEq)]
    pub struct PickBand(pub f64 [is num::coord], pub f64 [is num::coord], pub Name);
}

choice! {
    /// What a reading is the measure of.
    #[derive(Clone, Debug, PartialEq)]
    pub enum MeasureOf {
        /// Height of a feature above the plane of the tyre contacts.
        HeightOf(Feature),
    }
}

choice! {
    /// A line to put on a target's face.
    #[derive(Clone, Debug, PartialEq)]
    pub enum FaceLine {
        /// Upright, through a mark of the floor.
        Upright(Name),
        /// Level, at the height of a feature, plus.
        Level(Feature, Figure),
        /// Level, at a height above the plane of the tyre contacts.
        At(Figure),
    }
}

record! {
    /// A line to chalk on the floor.
    #[derive(Clone, Debug, PartialEq)]
    pub struct ChalkLine as "a chalk line" {
        pub from: Name,
        pub to: Name,
        pub width: Option<Figure>,
    }
}

record! {
    /// Between which dates the text applies, as printed.
    #[derive(Clone, Debug, Default, PartialEq)]
    pub struct Valid as "`valid`" {
        pub from: Option<String>,
        pub until: Option<String>,
    }
}
