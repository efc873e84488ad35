//! What zones keep off: sides by their surface, and everything round the faces of targets.

use super::Maker;
use crate::checks::RuleId;
use crate::checks::pairs::Pair;
use crate::checks::rules::{HaloPair, HaloStill};
use crate::geometry::{NOISE_MM, P2, V2, convex_meet, minkowski_difference, polygon_about, twice_area};
use crate::layout::{Band, Halo};
use crate::model::{ItemKind, ItemRef};
use crate::siting::still::{Item, Piece, REACH};

impl Maker<'_> {
    /// A side by its surface: no stretch of it may pass through the shape. Where an overlap was accepted, not deeper.
    pub(super) fn through_side(&mut self, pair: &Pair, label: u32) {
        let stills = self.stills;
        let bound = self.stage.bound(label);
        let need = self.relaxed.need(pair.rule, pair.setup, [pair.moving, bound.item()], pair.need);
        let hold = self.hold(pair, &bound.name, Item::Side(label), need);
        let rings = || pair.parts.iter().flat_map(|p| p.shape.pieces());
        for i in stills.side(label) {
            let stretch = &stills.pieces[i];
            if need >= 0.0 {
                rings().for_each(|ring| self.keep_off(ring, 0.0, i, stretch, need, hold));
                continue;
            }
            let (from, to) = (bound.inward * need, bound.inward * -REACH);
            let mut behind: Vec<P2> =
                [(0, from), (1, from), (1, to), (0, to)].map(|(end, by)| stretch.ring[end] + by).to_vec();
            if twice_area(&behind) < 0.0 {
                behind.reverse();
            }
            for (through, deep) in rings().flat_map(|r| rings().map(move |d| (r, d))) {
                let passes = minkowski_difference(&stretch.ring, through);
                let reaches = minkowski_difference(&behind, deep);
                self.forbid(&convex_meet(&passes, &reaches), 0.0, i, hold);
            }
        }
    }

    /// A box round a face: what stands in its depth and is not clear of it in height must be clear sideways.
    pub(super) fn halos(&mut self, pair: &HaloPair) {
        let stills = self.stills;
        match &pair.still {
            HaloStill::Thing(thing) => {
                let i = self.thing(thing);
                self.around(pair, thing.item(), Item::Thing(i), thing.solid.z, stills.thing(i).collect());
            }
            HaloStill::Walls => {
                for (label, bound) in (0..).zip(&self.stage.walls) {
                    let pieces = stills.stretches(label).collect();
                    self.around(pair, bound.item(), Item::Edge(label), Band::ALL, pieces);
                }
            }
            HaloStill::Side(label) => {
                let side = self.stage.bound(*label).item();
                self.around(pair, side, Item::Side(*label), Band::ALL, stills.side(*label).collect());
            }
        }
    }

    /// The boxes of one zone against the pieces of one thing.
    fn around(&mut self, pair: &HaloPair, still: ItemRef, item: Item, z: Band, pieces: Vec<usize>) {
        let stills = self.stills;
        let need = self.relaxed.need(
            RuleId::ClearZone,
            Some(pair.setup),
            [ItemRef { kind: ItemKind::Zone, name: pair.name }, still],
            0.0,
        );
        let hold = self.halo_hold(pair, still.name, item, need);
        for halo in pair.halos {
            let above = z.lo - (halo.lower + halo.size.height) - halo.above;
            let below = halo.lower - z.hi - halo.below;
            if above.max(below) >= need - NOISE_MM {
                continue;
            }
            let half = halo.size.half_width + halo.beside + need;
            if half >= 0.0 {
                let ring = across(halo, -half, half);
                for i in &pieces {
                    self.keep_off(&ring, 0.0, *i, &stills.pieces[*i], 0.0, hold);
                }
                continue;
            }
            // So much was accepted that a thing may lie across the whole face: it must not reach farther on both sides.
            let (right, left) = (across(halo, -REACH, half), across(halo, -half, REACH));
            for i in &pieces {
                for j in &pieces {
                    let right = minkowski_difference(&about(&stills.pieces[*i]), &right);
                    let left = minkowski_difference(&about(&stills.pieces[*j]), &left);
                    self.forbid(&convex_meet(&right, &left), 0.0, *i, hold);
                }
            }
        }
    }
}

/// The box round a face in plan, from right to left of its axis.
fn across(halo: &Halo, right: f64, left: f64) -> [P2; 4] {
    let (back, front) = (halo.size.back - halo.behind, halo.size.front + halo.ahead);
    [(back, right), (front, right), (front, left), (back, left)]
        .map(|(x, y)| halo.frame.to_world(P2::new(x, y)))
}

/// A piece without radius: a disc as a polygon about it.
fn about(piece: &Piece) -> Vec<P2> {
    match piece.ring.first() {
        Some(middle) if piece.radius > 0.0 => polygon_about(*middle, V2::x(), piece.radius, 64),
        _ => piece.ring.clone(),
    }
}
