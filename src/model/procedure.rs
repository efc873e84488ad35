//! A procedure: what a maker publishes for one sensor. Setups, marks, stations, zones, conditions.

use serde::Deserialize;

use super::figure::{Figure, Value};
use super::further::{
    ChalkLine, CheckLength, Derived, FaceLine, FixedTo, Mirrored, Need, OnlyIf, Pair, Pick, StandOn, Valid,
};
use super::language::{
    Construction, FaceEdge, HeightRef, LevelAsk, LineRef, Looks, MeasuredAsk, Sight, StandsBy, StringLine,
    Tolerance, Unit, Zone,
};
use super::spot::{List, Name, Table, note, raw};

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Procedure {
    #[serde(default = "super::format_one")]
    pub format: u32,
    pub name: Name,
    #[serde(default)]
    pub system: Option<Word>,
    #[serde(default)]
    pub source: Option<String>,
    #[serde(default)]
    pub values: Table<Value>,
    #[serde(default)]
    pub variants: Table<Table<Value>>,
    #[serde(default)]
    pub measured: Table<MeasuredAsk>,
    #[serde(default)]
    pub vehicle_state: Vec<String>,
    #[serde(default)]
    pub light_note: Option<String>,
    #[serde(default)]
    pub floor_note: Option<String>,
    #[serde(default)]
    pub ambient_note: Option<String>,
    #[serde(default)]
    pub marks: List<MarkDef>,
    #[serde(default)]
    pub zones: List<Zone>,
    #[serde(default)]
    pub may_move_between_setups: bool,
    pub setups: List<Setup>,
    /// Names of sensors, points and targets that are each other's on the other side.
    #[serde(default)]
    pub pairs: List<Pair>,
    /// Lists of setups, any one of which does the work; setups in none of them are always done.
    #[serde(default)]
    pub ways: Table<List<Name>>,
    /// More of the readiness list, by market.
    #[serde(default)]
    pub vehicle_state_in: Table<Vec<String>>,
    #[serde(default)]
    pub needs: Table<Need>,
    #[serde(default)]
    pub derived: Table<Derived>,
    #[serde(default)]
    pub pick: Option<Pick>,
    /// How the text prints a figure: shown beside it.
    #[serde(default)]
    pub printed: Table<String>,
    #[serde(default)]
    pub valid: Option<Valid>,
    /// Readings to write down on the day.
    #[serde(default)]
    pub readings: Vec<String>,
}

impl Procedure {
    /// The unit of a measured figure, or of an average of some.
    pub fn unit(&self, name: &str) -> Unit {
        let reading = match self.derived.get(name) {
            Some(Derived::Mean(readings)) => readings.first().map_or(name, Name::as_str),
            None => name,
        };
        self.measured.get(reading).map_or(Unit::Mm, |ask| ask.unit)
    }
}

/// The stations that stand at the same time.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Setup {
    pub name: Name,
    #[serde(default)]
    pub marks: List<MarkDef>,
    #[serde(default)]
    pub stations: List<Station>,
    #[serde(default)]
    pub zones: List<Zone>,
    #[serde(default)]
    pub sights: List<Sight>,
    #[serde(default)]
    pub level: Option<LevelAsk>,
    #[serde(default)]
    pub lines: List<StringLine>,
    #[serde(default)]
    pub vehicle_state: Vec<String>,
    /// What could not even be placed.
    #[serde(default)]
    pub missing: Vec<String>,
    #[serde(default)]
    pub mirrored: Option<Mirrored>,
    #[serde(default)]
    pub stand_on: Option<StandOn>,
    /// Variants it belongs to; empty: all.
    #[serde(default)]
    pub only: List<Name>,
    #[serde(default)]
    pub only_if: Option<OnlyIf>,
    #[serde(default)]
    pub checks: List<CheckLength>,
    #[serde(default)]
    pub needs: Table<Need>,
    /// One piece visits the stations in order.
    #[serde(default)]
    pub in_turn: bool,
    #[serde(default)]
    pub draw: List<ChalkLine>,
    #[serde(default)]
    pub readings: Vec<String>,
}

/// A mark's name and how it is found.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct MarkDef(pub Name, pub Construction);

/// One target hung on a mark.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Station {
    pub name: Name,
    pub target: Name,
    pub at: Name,
    #[serde(default)]
    pub looks: Option<Looks>,
    /// `faces: L` is `looks: Against(L)`.
    #[serde(default)]
    pub faces: Option<LineRef>,
    /// Degrees anticlockwise, added.
    #[serde(default)]
    pub turn: Option<Figure>,
    /// The point of the target, in target axes, that stands on the mark.
    #[serde(default)]
    pub anchor: Option<Anchor>,
    #[serde(default)]
    pub stands_by: Option<StandsBy>,
    #[serde(default)]
    pub height: Option<HeightRef>,
    #[serde(default)]
    pub of: FaceEdge,
    #[serde(default)]
    pub tolerance: Tolerance,
    #[serde(default)]
    pub fixed_to: Option<FixedTo>,
    /// Marks it is moved through, from `at` on; the swept area is its footprint.
    #[serde(default)]
    pub path: List<Name>,
    /// Variants it belongs to; empty: all.
    #[serde(default)]
    pub only: List<Name>,
    #[serde(default)]
    pub only_if: Option<OnlyIf>,
    #[serde(default)]
    pub on_face: List<FaceLine>,
}

/// A point in target axes.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Anchor(pub Figure, pub Figure);

/// A bare word such as `ForwardRadar`, kept as written.
#[derive(Clone, Debug, PartialEq)]
pub struct Word(pub Name);

impl<'de> Deserialize<'de> for Word {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let (text, spot) = raw(d)?;
        if text.is_empty() || !text.chars().all(|c| c.is_alphanumeric() || c == '_') {
            note(
                spot,
                format!("expected a word such as ForwardRadar, found {}", super::spot::shown(text)),
                None,
            );
        }
        Ok(Word(Name { text: text.into(), spot }))
    }
}

/// Names of systems the trade's own documents use for the kinds of work; another is allowed, with a hint.
pub const SYSTEMS: &[&str] = &[
    "ForwardCamera",
    "ForwardRadar",
    "ForwardLaser",
    "NightVision",
    "FrontSideRadar",
    "RearCornerRadar",
    "RearCamera",
    "SurroundView",
    "ParkingAid",
    "Headlamp",
    "FieldOfView",
];
