//! A procedure: what a maker publishes for one sensor. Setups, marks, stations, zones, conditions.

use super::figure::{Figure, Value};
use super::further::{
    ChalkLine, CheckLength, Derived, FaceLine, FixedTo, Mirrored, Need, OnlyIf, Pair, Pick, StandOn, Valid,
};
use super::language::{
    Construction, FaceEdge, HeightRef, LevelAsk, LineRef, Looks, MeasuredAsk, Sight, StandsBy, StringLine,
    Tolerance, Unit, Zone,
};
use super::reading::{FromFile, Reader};
use super::record::{record, values};
use super::spot::{List, Name, Table};
use super::writing::{ToFile, Writer};
use crate::syntax::{Id, Kind};

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Procedure as "a procedure" {
        pub format: u32 [or 1],
        pub name: Name,
        pub system: Option<Word>,
        pub source: Option<String>,
        pub values: Table<Value> [default],
        pub variants: Table<Table<Value>> [default],
        pub measured: Table<MeasuredAsk> [default],
        pub vehicle_state: Vec<String> [default],
        pub light_note: Option<String>,
        pub floor_note: Option<String>,
        pub ambient_note: Option<String>,
        pub marks: List<MarkDef> [default],
        pub zones: List<Zone> [default],
        pub may_move_between_setups: bool [default],
        pub setups: List<Setup>,
        /// Names of sensors, points and targets that are each other's on the other side.
        pub pairs: List<Pair> [default],
        /// Lists of setups, any one of which does the work; setups in none of them are always done.
        pub ways: Table<List<Name>> [default],
        /// More of the readiness list, by market.
        pub vehicle_state_in: Table<Vec<String>> [default],
        pub needs: Table<Need> [default],
        pub derived: Table<Derived> [default],
        pub pick: Option<Pick>,
        /// How the text prints a figure: shown beside it.
        pub printed: Table<String> [default],
        pub valid: Option<Valid>,
        /// Readings to write down on the day.
        pub readings: Vec<String> [default],
    }
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

record! {
    /// The stations that stand at the same time.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Setup as "a setup" {
        pub name: Name,
        pub marks: List<MarkDef> [default],
        pub stations: List<Station> [default],
        pub zones: List<Zone> [default],
        pub sights: List<Sight> [default],
        pub level: Option<LevelAsk>,
        pub lines: List<StringLine> [default],
        pub vehicle_state: Vec<String> [default],
        /// What could not even be placed.
        pub missing: Vec<String> [default],
        pub mirrored: Option<Mirrored>,
        pub stand_on: Option<StandOn>,
        /// Variants it belongs to; empty: all.
        pub only: List<Name> [default],
        pub only_if: Option<OnlyIf>,
        pub checks: List<CheckLength> [default],
        pub needs: Table<Need> [default],
        /// One piece visits the stations in order.
        pub in_turn: bool [default],
        pub draw: List<ChalkLine> [default],
        pub readings: Vec<String> [default],
    }
}

values! {
    /// A mark's name and how it is found.
    #[derive(Clone, Debug, PartialEq)]
    pub struct MarkDef(pub Name, pub Construction);
}

record! {
    /// One target hung on a mark.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Station as "a station" {
        pub name: Name,
        pub target: Name,
        pub at: Name,
        pub looks: Option<Looks>,
        /// `faces: L` is `looks: Against(L)`.
        pub faces: Option<LineRef>,
        /// Degrees anticlockwise, added.
        pub turn: Option<Figure>,
        /// The point of the target, in target axes, that stands on the mark.
        pub anchor: Option<Anchor>,
        pub stands_by: Option<StandsBy>,
        pub height: Option<HeightRef>,
        pub of: FaceEdge [default],
        pub tolerance: Tolerance [default],
        pub fixed_to: Option<FixedTo>,
        /// Marks it is moved through, from `at` on; the swept area is its footprint.
        pub path: List<Name> [default],
        /// Variants it belongs to; empty: all.
        pub only: List<Name> [default],
        pub only_if: Option<OnlyIf>,
        pub on_face: List<FaceLine> [default],
    }
}

values! {
    /// A point in target axes.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Anchor(pub Figure, pub Figure);
}

/// A bare word such as `ForwardRadar`, kept as written.
#[derive(Clone, Debug, PartialEq)]
pub struct Word(pub Name);

impl FromFile for Word {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        if r.tree.kind(id) != Kind::Word {
            r.expected_plain(id, "a word such as ForwardRadar");
        }
        Some(Word(Name { text: r.tree.source(id).into(), spot: r.spot(id) }))
    }
    fn stand_in() -> Self {
        Word(Name::stand_in())
    }
}

impl ToFile for Word {
    fn write(&self, w: &mut Writer) {
        w.word(self.0.as_str());
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
