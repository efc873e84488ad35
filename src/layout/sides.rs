//! Sides of the floor as walls of one surface: their stretches, with the shut doors that share it.

use super::stage::{Bound, BoundKind, Stage};
use crate::geometry::{NOISE_MM, P2, Region};

impl Stage {
    /// The side a bound is told under where its surface counts: of a shut door that shares its side's surface that
    /// side's wall, else the bound itself.
    pub fn side_of(&self, label: u32) -> u32 {
        side_of(&self.walls, label)
    }

    /// The stretches of a side by its surface, from its first point on; what joins is one stretch.
    pub fn side_stretches(&self, label: u32) -> &[(P2, P2)] {
        &self.sides[label as usize]
    }
}

/// By label: the stretches of each side by its surface.
pub(super) fn stretches(floor: &Region, walls: &[Bound]) -> Vec<Vec<(P2, P2)>> {
    let mut all: Vec<Vec<(P2, P2)>> = vec![Vec::new(); walls.len()];
    for e in floor.edges() {
        let side = &mut all[side_of(walls, e.label) as usize];
        match side.last_mut() {
            Some(last) if (last.1 - e.a).norm() <= NOISE_MM => last.1 = e.b,
            _ => side.push((e.a, e.b)),
        }
    }
    all
}

fn side_of(walls: &[Bound], label: u32) -> u32 {
    let bound = &walls[label as usize];
    let shares = matches!(bound.kind, BoundKind::Door(_)) && !bound.own_surface && !bound.surface.is_empty();
    let is_its_wall = |w: &Bound| matches!(w.kind, BoundKind::Wall(_)) && w.side == bound.side;
    let wall = || (0..).zip(walls).find(|(_, w)| is_its_wall(w)).map(|(label, _)| label);
    shares.then(wall).flatten().unwrap_or(label)
}
