//! The edge of the usable floor: every stretch by its own need, and where there is no floor.

use std::borrow::Cow;

use super::Maker;
use crate::checks::RuleId;
use crate::checks::pairs::Pair;
use crate::geometry::{P2, Skips, cut};
use crate::siting::still::{Item, Piece};

impl<'a> Maker<'a> {
    pub(super) fn walls(&mut self, pair: &Pair) {
        let edge = self.edge(pair);
        for part in pair.parts {
            let r = part.shape.radius();
            for ring in part.shape.pieces() {
                for i in self.stills.edges.clone() {
                    let piece = &self.stills.pieces[i];
                    let Item::Edge(label) = piece.item else { continue };
                    let (hold, need) = edge.holds[label as usize];
                    // an edge that may be overlapped is held by what is missing beyond it
                    if edge.own != Some(label) && need >= 0.0 {
                        self.keep_off(ring, r, i, piece, need, hold);
                    }
                }
                for (i, piece, need, hold) in &edge.missing {
                    self.keep_off(ring, r, *i, piece, *need, *hold);
                }
            }
        }
    }

    /// What the edge asks of a pair.
    fn edge(&mut self, pair: &Pair) -> Edge<'a> {
        let own = self.wall_behind(pair);
        let near = if pair.rule == RuleId::VehicleClear { self.driven_up_to(pair.setup) } else { Vec::new() };
        let mut holds = Vec::new();
        for (label, bound) in (0..).zip(&self.stage.walls) {
            let need = if near.contains(&label) { 0.0 } else { pair.need };
            let need = self.relaxed.need(pair.rule, pair.setup, [pair.moving, bound.item()], need);
            let hold = self.hold(pair, &bound.name, Item::Edge(label), need);
            holds.push((hold, need));
        }
        let outside_need = holds.iter().map(|(_, need)| *need).fold(pair.need, f64::min);
        let outside = self.hold(pair, &"the floor's edge".into(), Item::Outside, outside_need);
        let missing = match self.is_open(pair) {
            false => self.missing_everywhere(outside_need, outside),
            true => self.missing_but(own, &holds, outside),
        };
        Edge { own, holds, missing }
    }

    fn missing_everywhere(&self, need: f64, hold: u32) -> Vec<Missing<'a>> {
        self.stills.outside.clone().map(|i| (i, Cow::Borrowed(&self.stills.pieces[i]), need, hold)).collect()
    }

    /// Where there is no floor and the nearest edge is neither the wall the target hangs on nor one that may be
    /// overlapped; and what lies deeper beyond one of these than a person accepted.
    fn missing_but(&self, own: Option<u32>, holds: &[(u32, f64)], outside: u32) -> Vec<Missing<'a>> {
        let floor = &self.stage.floor;
        let is_own = |label: u32| own == Some(label);
        let overlapped: Vec<u32> =
            (0..).zip(holds).filter(|(l, h)| h.1 < 0.0 && !is_own(*l)).map(|(l, _)| l).collect();
        let mut missing = Vec::new();
        for i in self.stills.outside.clone() {
            let ring = &self.stills.pieces[i].ring;
            let mut add = |rings: Vec<Vec<P2>>, hold: u32| {
                missing.extend(
                    rings.into_iter().map(|r| (i, Cow::Owned(Piece::new(Item::Outside, r, 0.0)), 0.0, hold)),
                );
            };
            let skips = Skips {
                skipped: &|label| is_own(label) || overlapped.contains(&label),
                counts_at_corner: &|counted, skipped| !is_own(skipped) && counted < skipped,
            };
            add(floor.counted_outside(ring, &skips), outside);
            for label in &overlapped {
                let (hold, need) = holds[*label as usize];
                let bound = self.stage.bound(*label);
                let skips = Skips { skipped: &|l| l != *label, counts_at_corner: &|_, _| false };
                let cells = floor.counted_outside(ring, &skips);
                let deep = bound.side.0 + bound.inward * need;
                add(cells.iter().filter_map(|cell| cut(cell, deep, bound.inward).0).collect(), hold);
            }
        }
        missing
    }
}

/// What the edge of the floor asks of one pair.
struct Edge<'a> {
    /// The wall the target hangs on.
    own: Option<u32>,
    /// By label: the hold and its need, mm.
    holds: Vec<(u32, f64)>,
    missing: Vec<Missing<'a>>,
}

/// Where there is no floor: the still piece it belongs to, the part of it that counts, the need in mm, the hold.
type Missing<'a> = (usize, Cow<'a, Piece>, f64, u32);
