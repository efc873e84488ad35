//! A procedure: what a maker publishes for one sensor. Setups, marks, stations, zones, conditions.

use serde::Deserialize;

use super::figure::{Figure, Value};
use super::language::{
    Construction, FaceEdge, HeightRef, LevelAsk, LineRef, Looks, MeasuredAsk, Sight, StandsBy,
    StringLine, Tolerance, Zone,
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
    #[serde(default)]
    pub missing: Vec<String>,
    // the second half of the language
    #[serde(default)]
    pub pairs: Later,
    #[serde(default)]
    pub ways: Later,
    #[serde(default)]
    pub vehicle_state_in: Later,
    #[serde(default)]
    pub needs: Later,
    #[serde(default)]
    pub derived: Later,
    #[serde(default)]
    pub pick: Later,
    #[serde(default)]
    pub printed: Later,
    #[serde(default)]
    pub valid: Later,
    #[serde(default)]
    pub readings: Later,
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
    // the second half of the language
    #[serde(default)]
    pub mirrored: Later,
    #[serde(default)]
    pub stand_on: Later,
    #[serde(default)]
    pub only: Later,
    #[serde(default)]
    pub only_if: Later,
    #[serde(default)]
    pub checks: Later,
    #[serde(default)]
    pub needs: Later,
    #[serde(default)]
    pub in_turn: Later,
    #[serde(default)]
    pub on_face: Later,
    #[serde(default)]
    pub draw: Later,
    #[serde(default)]
    pub readings: Later,
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
    // the second half of the language
    #[serde(default)]
    pub fixed_to: Later,
    #[serde(default)]
    pub path: Later,
    #[serde(default)]
    pub only: Later,
    #[serde(default)]
    pub only_if: Later,
    #[serde(default)]
    pub on_face: Later,
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
                format!(
                    "expected a word such as ForwardRadar, found {}",
                    super::spot::shown(text)
                ),
                None,
            );
        }
        Ok(Word(Name {
            text: text.into(),
            spot,
        }))
    }
}

/// A part of the language this version reads but does not yet understand: its use is refused by name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Later;

impl<'de> Deserialize<'de> for Later {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let (_, spot) = raw(d)?;
        let field = super::spot::field_at(spot);
        note(
            spot,
            format!("`{field}` is not yet understood by this version of the program"),
            Some("leave it out, or write what it says as marks, stations and zones".into()),
        );
        Ok(Later)
    }
}

/// Fields that are read only to be refused by name, see [`Later`].
pub const NOT_YET: &[&str] = &[
    "pairs",
    "ways",
    "vehicle_state_in",
    "needs",
    "derived",
    "pick",
    "printed",
    "valid",
    "readings",
    "mirrored",
    "stand_on",
    "only",
    "only_if",
    "checks",
    "in_turn",
    "on_face",
    "draw",
    "fixed_to",
    "path",
];

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
