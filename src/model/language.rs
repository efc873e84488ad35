//! The set-out language: lines, constructions, directions, heights and zones, as a procedure spells them.

use serde::Deserialize;

use super::bay::Surface;
use super::figure::Figure;
use super::further::MeasureOf;
use super::num;
use super::spot::{List, Name};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum Hand {
    Left,
    Right,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum Corner {
    FrontLeft,
    FrontRight,
    RearLeft,
    RearRight,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum End {
    Front,
    Rear,
}

/// Something of the vehicle that a plumb bob can hang from.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub enum Feature {
    /// Centre of the wheel's outer face.
    Wheel(Corner),
    Axle(End),
    Nose,
    Tail,
    Sensor(Name),
    Point(Name),
}

/// A directed line.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum LineRef {
    Centre,
    Thrust,
    WheelSide(Hand),
    BodySide(Hand),
    WheelPlane(Corner),
    Nose,
    Tail,
    Through(Name, Name),
    Square {
        line: Box<LineRef>,
        at: Name,
    },
    /// The same line the other way round.
    Reversed(Box<LineRef>),
}

/// How a mark is found.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Construction {
    Under(Feature),
    Along { line: LineRef, from: Name, by: Figure },
    Foot { line: LineRef, from: Name },
    Place { line: LineRef, from: Name, along: Figure, left: Figure },
    Off { line: LineRef, from: Name, by: Figure },
    Midway(Name, Name),
    Crossing(LineRef, LineRef),
    Bearing { from: Name, line: LineRef, angle: Figure, by: Figure },
    Lengths { a: (Name, Figure), b: (Name, Figure), side: Side },
}

/// Which of the two points where two tapes meet is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum Side {
    /// Left of the way from the first tape's mark to the second's.
    Left,
    Right,
    /// The one farther forward on the vehicle.
    Ahead,
    Behind,
    /// The one farther to the vehicle's left.
    CarLeft,
    CarRight,
}

/// Where a target's front looks.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub enum Looks {
    Forward,
    Backward,
    Left,
    Right,
    At(Name),
    AtSensor(Name),
    Along(LineRef),
    Against(LineRef),
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
pub enum HeightRef {
    /// Above the plane of the tyre contacts.
    Floor(Figure),
    /// At the height of a feature, plus.
    Level(Feature, Figure),
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
pub enum FaceEdge {
    #[default]
    Lower,
    Middle,
    Upper,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum StandsBy {
    Front,
    Axis,
    Back,
}

#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tolerance {
    #[serde(default)]
    pub along: Option<Figure>,
    #[serde(default)]
    pub across: Option<Figure>,
    #[serde(default)]
    pub turn: Option<Figure>,
    #[serde(default)]
    pub roll: Option<Figure>,
    #[serde(default)]
    pub tilt: Option<Figure>,
    #[serde(default)]
    pub up: Option<Figure>,
}

/// What a zone wants kept out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum FreeOf {
    Anything,
    People,
    Metal,
    Shine,
    Pattern,
    Light,
    Glass,
    Drain,
}

impl FreeOf {
    pub fn surface(self) -> Option<Surface> {
        match self {
            FreeOf::Anything | FreeOf::People => None,
            FreeOf::Metal => Some(Surface::Metal),
            FreeOf::Shine => Some(Surface::Shine),
            FreeOf::Pattern => Some(Surface::Pattern),
            FreeOf::Light => Some(Surface::Light),
            FreeOf::Glass => Some(Surface::Glass),
            FreeOf::Drain => Some(Surface::Drain),
        }
    }
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum ZoneShape {
    Strip {
        line: LineRef,
        from: Name,
        along: (Figure, Figure),
        /// From the right edge to the left edge, to the left of the line.
        #[serde(default)]
        left: Option<(Figure, Figure)>,
        /// Width, centred; instead of `left`.
        #[serde(default)]
        across: Option<Figure>,
    },
    Fan {
        at: Name,
        line: LineRef,
        angles: (Figure, Figure),
        reach: Figure,
    },
    Around {
        #[serde(default)]
        stations: List<Name>,
        #[serde(default)]
        station: Option<Name>,
        #[serde(default)]
        beside: Option<Figure>,
        #[serde(default)]
        above: Option<Figure>,
        #[serde(default)]
        below: Option<Figure>,
        #[serde(default)]
        behind: Option<Figure>,
        #[serde(default)]
        ahead: Option<Figure>,
    },
    AroundVehicle {
        ahead: Figure,
        behind: Figure,
        left: Figure,
        right: Figure,
    },
    Corners(List<Name>),
    Lane {
        from: Name,
        to: Name,
        width: Figure,
    },
    /// The Fresnel zone of a radar's line to a reflector: within it nothing may stand.
    Fresnel {
        /// A sensor of the vehicle.
        from: Name,
        /// A station of the setup.
        to: Name,
        frequency_ghz: Figure,
        /// The share of the first zone's radius asked for; absent: all of it.
        #[serde(default)]
        part: Option<Figure>,
    },
    /// In a drawing that was not read.
    NotRead(#[serde(deserialize_with = "super::spot::sentence")] Name),
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Zone {
    pub name: Name,
    pub shape: ZoneShape,
    /// Only a printed `z` has a top.
    #[serde(default)]
    pub z: Option<(Figure, Figure)>,
    #[serde(default)]
    pub free_of: Vec<FreeOf>,
    #[serde(default)]
    pub tolerate_below: Option<Figure>,
    /// An area to be seen, not kept empty.
    #[serde(default)]
    pub seen: bool,
}

/// How far a string line reaches from the foot of its mark: forward, or back and forward.
#[derive(Clone, Debug, PartialEq)]
pub enum Reach {
    Forward(Figure),
    Both(Figure, Figure),
}

impl<'de> Deserialize<'de> for Reach {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let (text, _) = super::spot::raw(d)?;
        if text.starts_with('(') {
            let pair: Option<(Figure, Figure)> = super::spot::part(text);
            let (a, b) = pair.unwrap_or((Figure::number(f64::NAN), Figure::number(f64::NAN)));
            return Ok(Reach::Both(a, b));
        }
        Ok(Reach::Forward(super::spot::part(text).unwrap_or(Figure::number(f64::NAN))))
    }
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
pub enum Over {
    Stations,
    Zone(Name),
    Marks(List<Name>),
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LevelAsk {
    /// Absent: the shop's own figure.
    #[serde(default)]
    pub within: Option<Figure>,
    pub over: Over,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sight {
    pub from: Name,
    pub to: Name,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StringLine {
    pub line: LineRef,
    pub from: Name,
    pub reach: Reach,
    /// The string runs over the roof: headroom is wanted above it.
    #[serde(default)]
    pub over_vehicle: bool,
}

/// The unit a measured figure is read in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
pub enum Unit {
    #[default]
    Mm,
    Deg,
    Lux,
    Celsius,
    Volt,
    Percent,
    Bar,
    Kg,
}

impl Unit {
    pub fn word(self) -> &'static str {
        match self {
            Unit::Mm => "mm",
            Unit::Deg => "°",
            Unit::Lux => "lx",
            Unit::Celsius => "°C",
            Unit::Volt => "V",
            Unit::Percent => "%",
            Unit::Bar => "bar",
            Unit::Kg => "kg",
        }
    }
}

/// Taken off the car or the bay.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasuredAsk {
    #[serde(default)]
    pub ask: String,
    #[serde(default)]
    pub unit: Unit,
    #[serde(default, deserialize_with = "num::opt_band")]
    pub between: Option<(f64, f64)>,
    /// What it is the measure of: used wherever that is asked for.
    #[serde(default)]
    pub is: Option<MeasureOf>,
}
