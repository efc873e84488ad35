//! The box in which a pose can be at all, and what lies too far off it to count.

use super::Maker;
use crate::checks::RuleId;
use crate::checks::pairs::{Pair, Still};
use crate::geometry::{Bounds, P2};
use crate::siting::fixed::Fixing;
use crate::siting::space::meet;
use crate::siting::still::Piece;

impl Maker<'_> {
    /// The box in which a part that keeps to the floor lets the vehicle stand.
    pub(super) fn hold_in(&mut self, pair: &Pair) {
        if !matches!(pair.still, Still::Walls | Still::WallsBut(_)) || self.is_open(pair) {
            return;
        }
        for part in pair.parts {
            let b = part.shape.bounds();
            let own = Bounds { min: self.floor.min - b.min.coords, max: self.floor.max - b.max.coords };
            self.space.domain = meet(&self.space.domain, &own);
            self.space.domains.push((pair.setup, own));
        }
    }

    /// The wall a target hangs on.
    pub(super) fn wall_behind(&self, pair: &Pair) -> Option<u32> {
        let hangs = |f: &&Fixing| {
            pair.rule == RuleId::TargetClear && Some(f.setup) == pair.setup && f.moving == *pair.moving.name
        };
        self.fixings.iter().find(hangs).and_then(|f| f.label)
    }

    /// Whether the part may reach out of the floor: beyond the wall a target hangs on, or one accepted to be overlapped.
    pub(super) fn is_open(&self, pair: &Pair) -> bool {
        let need = |still| self.relaxed.need(pair.rule, pair.setup, [pair.moving, still], pair.need);
        self.wall_behind(pair).is_some() || self.stage.walls.iter().any(|bound| need(bound.item()) < 0.0)
    }

    /// Whether no pose that counts for the hold comes near to what the two forbid.
    pub(super) fn is_far(&self, ring: &[P2], piece: &Piece, grow: f64, hold: u32) -> bool {
        const APART_MM: f64 = 1.0;
        if self.reach.is_empty() {
            return false;
        }
        let reach = &self.reach[self.space.holds[hold as usize].setup.map_or(0, |s| s + 1)];
        let (still, moving) = (piece.bounds, Bounds::of(ring));
        let forbidden = Bounds { min: still.min - moving.max.coords, max: still.max - moving.min.coords };
        forbidden.grow(grow.max(0.0)).distance(reach) > APART_MM
    }
}
