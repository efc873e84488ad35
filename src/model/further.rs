//! The further parts of the set-out language: the other side, ways, checks, needs, things the bay fixes.

use serde::Deserialize;

use super::equipment::TargetKind;
use super::figure::Figure;
use super::language::Feature;
use super::num;
use super::spot::{List, Name, note, part, raw, shown};

/// The same setup for the other side, built again from that side's own features.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mirrored {
    pub name: Name,
    /// Names of marks and stations exchanged on the other side.
    #[serde(default)]
    pub swap: List<Pair>,
}

/// Two names, each the other's on the other side.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Pair(pub Name, pub Name);

/// Something in the bay that fixes where a target is.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub enum FixedTo {
    /// The wall behind it.
    Wall,
    /// An installed thing of the bay, by name.
    Bay(Name),
    /// Where an earlier setup of the same procedure put the station of the same name.
    Earlier(Name),
}

/// A mark that must lie on a line painted on the bay's floor.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StandOn {
    pub mark: Name,
    pub floor_line: Name,
    /// How far beside the line it may lie, mm.
    #[serde(default)]
    pub within: Option<Figure>,
}

/// When a setup or station applies.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub enum OnlyIf {
    /// The sensor sits on this side of the vehicle's centreline, or on it.
    SensorOn(Name, Sits),
}

/// Where something sits, seen from the vehicle's centreline.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum Sits {
    Left,
    Middle,
    Right,
}

/// A length or angle printed beside a procedure to check the set-out by.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub enum CheckLength {
    Length(Name, Name, Figure),
    Same((Name, Name), (Name, Name)),
    /// Round the marks and back to the first.
    Loop(List<Name>, Figure),
    /// A right angle at the middle one.
    Right(Name, Name, Name),
}

/// What is asked of a target that is not named by one particular piece.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Need {
    #[serde(default)]
    pub kind: Option<TargetKind>,
    #[serde(default)]
    pub width: Option<Size>,
    #[serde(default)]
    pub height: Option<Size>,
    #[serde(default)]
    pub thickness: Option<Size>,
    #[serde(default)]
    pub count: Option<u32>,
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

impl<'de> Deserialize<'de> for Size {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        enum Spelt {
            Exactly(#[serde(deserialize_with = "num::size")] f64),
            AtLeast(#[serde(deserialize_with = "num::size")] f64),
            AtMost(#[serde(deserialize_with = "num::size")] f64),
            Between(
                #[serde(deserialize_with = "num::size")] f64,
                #[serde(deserialize_with = "num::size")] f64,
            ),
        }
        let (text, spot) = raw(d)?;
        if let Some(v) = num::read(text) {
            let low = (v <= 0.0).then(|| format!("expected a size above zero, found {}", shown(text)));
            if let Some(why) = num::wrong(v, text).or(low) {
                note(spot, why, None);
                return Ok(Size::Exactly(f64::NAN));
            }
            return Ok(Size::Exactly(v));
        }
        Ok(match part::<Spelt>(text) {
            Some(Spelt::Exactly(v)) => Size::Exactly(v),
            Some(Spelt::AtLeast(v)) => Size::AtLeast(v),
            Some(Spelt::AtMost(v)) => Size::AtMost(v),
            Some(Spelt::Between(a, b)) => {
                if a > b {
                    note(spot, format!("the first number of Between({a}, {b}) is above the second"), None);
                }
                Size::Between(a, b)
            }
            None => Size::Exactly(f64::NAN),
        })
    }
}

/// A figure worked out from readings.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub enum Derived {
    /// The average of readings.
    Mean(List<Name>),
}

/// A variant chosen by the band a figure falls in.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pick {
    pub by: Name,
    pub from: List<PickBand>,
}

impl Pick {
    /// The first band that holds a figure.
    pub fn band(&self, figure: f64) -> Option<&PickBand> {
        self.from.iter().find(|b| b.0 <= figure && figure <= b.1)
    }
}

/// From, to (both included), and the variant. A figure on the edge of two bands takes the first listed.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct PickBand(
    #[serde(deserialize_with = "num::coord")] pub f64,
    #[serde(deserialize_with = "num::coord")] pub f64,
    pub Name,
);

/// What a reading is the measure of.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub enum MeasureOf {
    /// Height of a feature above the plane of the tyre contacts.
    HeightOf(Feature),
}

/// A line to put on a target's face.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub enum FaceLine {
    /// Upright, through a mark of the floor.
    Upright(Name),
    /// Level, at the height of a feature, plus.
    Level(Feature, Figure),
    /// Level, at a height above the plane of the tyre contacts.
    At(Figure),
}

/// A line to chalk on the floor.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChalkLine {
    pub from: Name,
    pub to: Name,
    #[serde(default)]
    pub width: Option<Figure>,
}

/// Between which dates the text applies, as printed.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Valid {
    #[serde(default)]
    pub from: Option<String>,
    #[serde(default)]
    pub until: Option<String>,
}
