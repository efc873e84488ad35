//! The set-out language: lines, constructions, directions, heights and zones, as a procedure spells them.

use super::bay::Surface;
use super::figure::Figure;
use super::further::MeasureOf;
use super::num;
use super::reading::{FromFile, Reader};
use super::record::{choice, record};
use super::spot::{List, Name};
use super::writing::{ToFile, Writer};
use crate::syntax::Id;

choice! {
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Hand {
        Left,
        Right,
    }
}

choice! {
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Corner {
        FrontLeft,
        FrontRight,
        RearLeft,
        RearRight,
    }
}

choice! {
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum End {
        Front,
        Rear,
    }
}

choice! {
    /// Something of the vehicle that a plumb bob can hang from.
    #[derive(Clone, Debug, PartialEq)]
    pub enum Feature {
        /// Centre of the wheel's outer face.
        Wheel(Corner),
        Axle(End),
        Nose,
        Tail,
        Sensor(Name),
        Point(Name),
    }
}

choice! {
    /// A directed line.
    #[derive(Clone, Debug, PartialEq)]
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
}

choice! {
    /// How a mark is found.
    #[derive(Clone, Debug, PartialEq)]
    pub enum Construction {
        Under(Feature),
        Along {
            line: LineRef,
            from: Name,
            by: Figure,
        },
        Foot {
            line: LineRef,
            from: Name,
        },
        Place {
            line: LineRef,
            from: Name,
            along: Figure,
            left: Figure,
        },
        Off {
            line: LineRef,
            from: Name,
            by: Figure,
        },
        Midway(Name, Name),
        Crossing(LineRef, LineRef),
        Bearing {
            from: Name,
            line: LineRef,
            angle: Figure,
            by: Figure,
        },
        Lengths {
            a: (Name, Figure),
            b: (Name, Figure),
            side: Side,
        },
    }
}

choice! {
    /// Which of the two points where two tapes meet is meant.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
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
}

choice! {
    /// Where a target's front looks.
    #[derive(Clone, Debug, PartialEq)]
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
}

choice! {
    #[derive(Clone, Debug, PartialEq)]
    pub enum HeightRef {
        /// Above the plane of the tyre contacts.
        Floor(Figure),
        /// At the height of a feature, plus.
        Level(Feature, Figure),
    }
}

choice! {
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    pub enum FaceEdge {
        #[default]
        Lower,
        Middle,
        Upper,
    }
}

choice! {
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum StandsBy {
        Front,
        Axis,
        Back,
    }
}

record! {
    #[derive(Clone, Debug, Default, PartialEq)]
    pub struct Tolerance as "a tolerance" {
        pub along: Option<Figure>,
        pub across: Option<Figure>,
        pub turn: Option<Figure>,
        pub roll: Option<Figure>,
        pub tilt: Option<Figure>,
        pub up: Option<Figure>,
    }
}

choice! {
    /// What a zone wants kept out.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
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

choice! {
    #[derive(Clone, Debug, PartialEq)]
    pub enum ZoneShape {
        Strip {
            line: LineRef,
            from: Name,
            along: (Figure, Figure),
            /// From the right edge to the left edge, to the left of the line.
            left: Option<(Figure, Figure)>,
            /// Width, centred; instead of `left`.
            across: Option<Figure>,
        },
        Fan {
            at: Name,
            line: LineRef,
            angles: (Figure, Figure),
            reach: Figure,
        },
        Around {
            stations: List<Name> [default],
            station: Option<Name>,
            beside: Option<Figure>,
            above: Option<Figure>,
            below: Option<Figure>,
            behind: Option<Figure>,
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
            part: Option<Figure>,
        },
        /// In a drawing that was not read.
        NotRead(Name [is super::reading::sentence]),
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Zone as "a zone" {
        pub name: Name,
        pub shape: ZoneShape,
        /// Only a printed `z` has a top.
        pub z: Option<(Figure, Figure)>,
        pub free_of: Vec<FreeOf> [default],
        pub tolerate_below: Option<Figure>,
        /// An area to be seen, not kept empty.
        pub seen: bool [default],
    }
}

/// How far a string line reaches from the foot of its mark: forward, or back and forward.
#[derive(Clone, Debug, PartialEq)]
pub enum Reach {
    Forward(Figure),
    Both(Figure, Figure),
}

impl FromFile for Reach {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        match r.tree.source(id).starts_with('(') {
            true => <(Figure, Figure)>::read(r, id).map(|(back, forward)| Reach::Both(back, forward)),
            false => Figure::read(r, id).map(Reach::Forward),
        }
    }
    fn stand_in() -> Self {
        Reach::Forward(Figure::stand_in())
    }
}

impl ToFile for Reach {
    fn write(&self, w: &mut Writer) {
        match self {
            Reach::Forward(reach) => reach.write(w),
            Reach::Both(back, forward) => w.tuple("", &[back, forward]),
        }
    }
}

choice! {
    #[derive(Clone, Debug, PartialEq)]
    pub enum Over {
        Stations,
        Zone(Name),
        Marks(List<Name>),
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct LevelAsk as "the level demand" {
        /// Absent: the shop's own figure.
        pub within: Option<Figure>,
        pub over: Over,
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Sight as "a sight" {
        pub from: Name,
        pub to: Name,
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct StringLine as "a string line" {
        pub line: LineRef,
        pub from: Name,
        pub reach: Reach,
        /// The string runs over the roof: headroom is wanted above it.
        pub over_vehicle: bool [default],
    }
}

choice! {
    /// The unit a measured figure is read in.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
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

record! {
    /// Taken off the car or the bay.
    #[derive(Clone, Debug, PartialEq)]
    pub struct MeasuredAsk as "a measured figure" {
        pub ask: String [default],
        pub unit: Unit [default],
        pub between: Option<(f64, f64)> [opt num::band],
        /// What it is the measure of: used wherever that is asked for.
        pub is: Option<MeasureOf>,
    }
}
