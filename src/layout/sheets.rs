//! Walls as upright sheets, for lines of sight: a shut door closes its opening, an open one only the wall over it.

use super::stage::{Bound, BoundKind};
use crate::geometry::{NOISE_MM, P2, Region};
use crate::model::bay::{Bay, Doorway};
use crate::model::{Item, ItemKind, Job};

/// An upright sheet without thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// What it is a part of: a wall or a shut door.
    pub of: Item,
    pub a: P2,
    pub b: P2,
    /// Heights above the floor, mm; a wall has no end.
    pub z: (f64, f64),
}

/// The sheets of the bay's sides. The outer edge of an apron stops nobody's sight.
pub fn sheets(bay: &Bay, job: &Job, floor: &Region, bounds: &[Bound]) -> Vec<Sheet> {
    let mut all = Vec::new();
    for edge in floor.edges() {
        let bound = &bounds[edge.label as usize];
        let z = match bound.kind {
            BoundKind::Wall(_) => (0.0, f64::INFINITY),
            BoundKind::Door(door) if job.doors_open.contains(&bay.doorways[door].name) => continue,
            BoundKind::Door(door) => (0.0, bay.doorways[door].height),
            BoundKind::Apron(_) => continue,
        };
        all.push(Sheet { of: bound.item().item(), a: edge.a, b: edge.b, z });
    }
    for door in &bay.doorways {
        let Some((a, b)) = stretch(bay, door).filter(|(a, b)| (b - a).norm() > NOISE_MM) else { continue };
        let wall = bounds.iter().find(|b| b.kind == BoundKind::Wall(door.side.index));
        let door_itself = || Item::new(ItemKind::Doorway, door.name.text.clone());
        let of = wall.map_or_else(door_itself, |w| w.item().item());
        all.push(Sheet { of, a, b, z: (door.height, f64::INFINITY) });
    }
    all
}

/// The ends of a doorway's opening on its side.
pub fn stretch(bay: &Bay, door: &Doorway) -> Option<(P2, P2)> {
    let (a, b) = bay.floor.side(door.side.index)?;
    let (a, b) = (P2::new(a.0, a.1), P2::new(b.0, b.1));
    let length = (b - a).norm();
    let at = |mm: f64| a + (b - a) * (mm.clamp(0.0, length) / length);
    Some((at(door.from), at(door.from + door.width)))
}
