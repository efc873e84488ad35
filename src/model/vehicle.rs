//! The vehicle, in its own axes: origin on the ground under the middle of the front axle, X forward, Y left, Z up.

use serde::Deserialize;

use super::num;
use super::shape::Outline;
use super::spot::{List, Name, Table};

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Vehicle {
    #[serde(default = "super::format_one")]
    pub format: u32,
    pub name: Name,
    #[serde(deserialize_with = "num::size")]
    pub length: f64,
    /// Without mirrors.
    #[serde(deserialize_with = "num::size")]
    pub width: f64,
    #[serde(deserialize_with = "num::size")]
    pub height: f64,
    #[serde(deserialize_with = "num::size")]
    pub wheelbase: f64,
    #[serde(deserialize_with = "num::length")]
    pub front_overhang: f64,
    pub track: Track,
    pub tyre: Tyre,
    #[serde(deserialize_with = "num::length")]
    pub ground_clearance: f64,
    #[serde(default)]
    pub mirrors: Option<Mirrors>,
    /// Body in plan; absent: the rectangle length by width.
    #[serde(default)]
    pub outline: Option<Outline>,
    #[serde(default)]
    pub points: Table<Place3>,
    #[serde(default)]
    pub sensors: Table<Sensor>,
    /// Sensors this vehicle is known not to have.
    #[serde(default)]
    pub without: List<Name>,
    /// Kerb to kerb, mm.
    #[serde(default, deserialize_with = "num::opt_size")]
    pub turning_circle: Option<f64>,
}

impl Vehicle {
    /// Length behind the rear axle; below zero only in a file that is refused.
    pub fn rear_overhang(&self) -> f64 {
        self.length - self.wheelbase - self.front_overhang
    }
}

/// Between the middles of the two wheels of an axle.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Track {
    #[serde(deserialize_with = "num::size")]
    pub front: f64,
    #[serde(deserialize_with = "num::size")]
    pub rear: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tyre {
    #[serde(deserialize_with = "num::size")]
    pub width: f64,
    #[serde(deserialize_with = "num::size")]
    pub diameter: f64,
}

/// Two boxes centred at X = -behind_front_axle, from half the body's width to half of `width`.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mirrors {
    #[serde(deserialize_with = "num::size")]
    pub width: f64,
    #[serde(deserialize_with = "num::coord")]
    pub behind_front_axle: f64,
    #[serde(deserialize_with = "num::size")]
    pub depth: f64,
    #[serde(deserialize_with = "num::band")]
    pub z: (f64, f64),
}

/// A point (X, Y, Z).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place3 {
    pub x: f64,
    pub y: f64,
    pub z: f64,
}

impl<'de> Deserialize<'de> for Place3 {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        num::triple(d).map(|(x, y, z)| Place3 { x, y, z })
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum SensorKind {
    Camera,
    Radar,
    Laser,
    Lamp,
    Ultrasonic,
    Infrared,
}

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sensor {
    pub kind: SensorKind,
    pub at: Place3,
    /// Degrees anticlockwise from X.
    #[serde(default, deserialize_with = "num::coord")]
    pub facing: f64,
    /// Degrees, upward positive.
    #[serde(default, deserialize_with = "num::coord")]
    pub tilt: f64,
    #[serde(default)]
    pub view: Option<View>,
}

/// Full opening angles, degrees.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct View {
    #[serde(deserialize_with = "num::size")]
    pub across: f64,
    #[serde(deserialize_with = "num::size")]
    pub up: f64,
}
