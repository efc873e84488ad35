//! What the shop owns: targets with their faces and stands.
//!
//! Target axes: x out of the front face toward the vehicle, y to the target's own left, z up; origin at the middle of
//! the face's foot. A mat lies with its length along x, its origin at its centre; a pipe's origin is its axis.

use super::num;
use super::record::{choice, record};
use super::shape::PlanShape;
use super::spot::{List, Name, Table};

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Equipment as "an equipment file" {
        pub format: u32 [or 1],
        pub name: Name,
        pub targets: Table<Target>,
    }
}

choice! {
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum TargetKind {
        Board,
        Reflector,
        Mat,
        Screen,
        Pipe,
        Lines,
    }
}

impl TargetKind {
    /// What stands upright and has a front to be looked at. A pipe looks the same from all round.
    pub fn has_front(self) -> bool {
        matches!(self, TargetKind::Board | TargetKind::Reflector | TargetKind::Screen)
    }

    /// Mats and lines lie flat on the floor.
    pub fn lies_flat(self) -> bool {
        matches!(self, TargetKind::Mat | TargetKind::Lines)
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Target as "a target" {
        pub kind: TargetKind,
        pub face: Face,
        /// The foot, in target axes.
        pub stand: Option<PlanShape>,
        /// From the floor; absent: up to the foot of the face.
        pub stand_height: Option<f64> [opt num::size],
        /// Depth behind the rearmost part that a person needs.
        pub room_behind: Option<f64> [opt num::length],
        /// How many the shop has; absent: nobody said.
        pub owned: Option<u32>,
        pub code: Option<String>,
        /// Names used by procedures that it can stand for.
        pub serves: List<Name> [default],
    }
}

record! {
    /// Size of the face. For things that lie flat `height` is the length along x.
    #[derive(Clone, Copy, Debug, PartialEq)]
    pub struct Face as "a face" {
        pub width: f64 [is num::size],
        pub height: f64 [is num::size],
        pub thickness: f64 [default is num::length],
    }
}
