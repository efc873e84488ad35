//! What the shop owns: targets with their faces and stands.
//!
//! Target axes: x out of the front face toward the vehicle, y to the target's own left, z up; origin at the middle of
//! the face's foot. A mat lies with its length along x, its origin at its centre; a pipe's origin is its axis.

use serde::Deserialize;

use super::num;
use super::shape::PlanShape;
use super::spot::{List, Name, Table};

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Equipment {
    #[serde(default = "super::format_one")]
    pub format: u32,
    pub name: Name,
    pub targets: Table<Target>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum TargetKind {
    Board,
    Reflector,
    Mat,
    Screen,
    Pipe,
    Lines,
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

#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Target {
    pub kind: TargetKind,
    pub face: Face,
    /// The foot, in target axes.
    #[serde(default)]
    pub stand: Option<PlanShape>,
    /// From the floor; absent: up to the foot of the face.
    #[serde(default, deserialize_with = "num::opt_size")]
    pub stand_height: Option<f64>,
    /// Depth behind the rearmost part that a person needs.
    #[serde(default, deserialize_with = "num::opt_length")]
    pub room_behind: Option<f64>,
    /// How many the shop has; absent: nobody said.
    #[serde(default)]
    pub owned: Option<u32>,
    #[serde(default)]
    pub code: Option<String>,
    /// Names used by procedures that it can stand for.
    #[serde(default)]
    pub serves: List<Name>,
}

/// Size of the face. For things that lie flat `height` is the length along x.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Face {
    #[serde(deserialize_with = "num::size")]
    pub width: f64,
    #[serde(deserialize_with = "num::size")]
    pub height: f64,
    #[serde(default, deserialize_with = "num::length")]
    pub thickness: f64,
}
