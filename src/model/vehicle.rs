//! The vehicle, in its own axes: origin on the ground under the middle of the front axle, X forward, Y left, Z up.

use super::num;
use super::reading::{FromFile, Reader};
use super::record::{choice, record};
use super::shape::Outline;
use super::spot::{List, Name, Table};
use super::writing::{ToFile, Writer};
use crate::syntax::Id;

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Vehicle as "a vehicle" {
        pub format: u32 [or 1],
        pub name: Name,
        pub length: f64 [is num::size],
        /// Without mirrors.
        pub width: f64 [is num::size],
        pub height: f64 [is num::size],
        pub wheelbase: f64 [is num::size],
        pub front_overhang: f64 [is num::length],
        pub track: Track,
        pub tyre: Tyre,
        pub ground_clearance: f64 [is num::length],
        pub mirrors: Option<Mirrors>,
        /// Body in plan; absent: the rectangle length by width.
        pub outline: Option<Outline>,
        pub points: Table<Place3> [default],
        pub sensors: Table<Sensor> [default],
        /// Sensors this vehicle is known not to have.
        pub without: List<Name> [default],
        /// Kerb to kerb, mm.
        pub turning_circle: Option<f64> [opt num::size],
    }
}

impl Vehicle {
    /// Length behind the rear axle; below zero only in a file that is refused.
    pub fn rear_overhang(&self) -> f64 {
        self.length - self.wheelbase - self.front_overhang
    }
}

record! {
    /// Between the middles of the two wheels of an axle.
    #[derive(Clone, Copy, Debug, PartialEq)]
    pub struct Track as "the track" {
        pub front: f64 [is num::size],
        pub rear: f64 [is num::size],
    }
}

record! {
    #[derive(Clone, Copy, Debug, PartialEq)]
    pub struct Tyre as "the tyre" {
        pub width: f64 [is num::size],
        pub diameter: f64 [is num::size],
    }
}

record! {
    /// Two boxes centred at X = -behind_front_axle, from half the body's width to half of `width`.
    #[derive(Clone, Copy, Debug, PartialEq)]
    pub struct Mirrors as "the mirrors" {
        pub width: f64 [is num::size],
        pub behind_front_axle: f64 [is num::coord],
        pub depth: f64 [is num::size],
        pub z: (f64, f64) [is num::band],
    }
}

/// A point (X, Y, Z).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place3 {
    pub x: f64,
    pub y: f64,
    pub z: f64,
}

impl FromFile for Place3 {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let [x, y, z] = r.values(id)?;
        Some(Place3 { x: r.value(x), y: r.value(y), z: r.value(z) })
    }
    fn stand_in() -> Self {
        Place3 { x: f64::NAN, y: f64::NAN, z: f64::NAN }
    }
}

impl ToFile for Place3 {
    fn write(&self, w: &mut Writer) {
        w.tuple("", &[&self.x, &self.y, &self.z]);
    }
}

choice! {
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum SensorKind {
        Camera,
        Radar,
        Laser,
        Lamp,
        Ultrasonic,
        Infrared,
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Sensor as "a sensor" {
        pub kind: SensorKind,
        pub at: Place3,
        /// Degrees anticlockwise from X.
        pub facing: f64 [default is num::coord],
        /// Degrees, upward positive.
        pub tilt: f64 [default is num::coord],
        pub view: Option<View>,
    }
}

record! {
    /// Full opening angles, degrees.
    #[derive(Clone, Copy, Debug, PartialEq)]
    pub struct View as "a view" {
        pub across: f64 [is num::size],
        pub up: f64 [is num::size],
    }
}
