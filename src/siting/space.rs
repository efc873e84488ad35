//! The plan rules turned into places where the vehicle may not stand, at one heading.
//!
//! The vehicle keeps its heading, so every pair of convex pieces (one that moves with the vehicle, one that stays)
//! forbids the origins inside their Minkowski difference, grown by the need. The distance from an allowed origin to
//! the nearest forbidden one is the least margin the plan rules find there.

use std::sync::Arc;

use super::obstacle::{Obstacle, Sides};
use super::still::Item;
use crate::checks::RuleId;
use crate::geometry::{Bounds, P2};

/// Everything that keeps the vehicle's origin off at one heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Space {
    /// Degrees.
    pub heading: f64,
    pub sides: Sides,
    pub obstacles: Vec<Obstacle>,
    pub holds: Vec<Hold>,
    /// No origin outside this box is allowed. Upside down when the rig is larger than the floor.
    pub domain: Bounds,
    /// As `domain`, by moving part: the box of its own and the setup it belongs to.
    pub domains: Vec<(Option<usize>, Bounds)>,
}

/// One pair of things a plan rule holds apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Hold {
    pub rule: RuleId,
    pub procedure: Option<usize>,
    /// Index into the layout's setups; `None`: the vehicle itself.
    pub setup: Option<usize>,
    pub moving: Arc<str>,
    pub still: Arc<str>,
    pub item: Item,
    /// mm; below zero where a person accepted an overlap.
    pub need: f64,
}

impl Space {
    /// The least of the signed distances to these obstacles: how far inside the allowed poses `p` is.
    pub fn depth(&self, among: &[u32], p: P2) -> f64 {
        among
            .iter()
            .map(|i| self.sides.signed(&self.obstacles[*i as usize], p).0)
            .fold(f64::INFINITY, f64::min)
    }

    /// The hold that binds at `p`, and its margin.
    pub fn binding(&self, among: &[u32], p: P2) -> Option<(f64, &Hold)> {
        among
            .iter()
            .map(|i| &self.obstacles[*i as usize])
            .map(|o| (self.sides.signed(o, p).0, &self.holds[o.hold as usize]))
            .min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// The obstacles that count when only some setups stand, and the box to look in.
    pub fn of_setups(&self, wanted: impl Fn(usize) -> bool) -> (Vec<u32>, Bounds) {
        let counts = |setup: Option<usize>| setup.is_none_or(&wanted);
        let among = (0..self.obstacles.len() as u32)
            .filter(|i| counts(self.holds[self.obstacles[*i as usize].hold as usize].setup))
            .collect();
        let domain =
            self.domains.iter().filter(|(setup, _)| counts(*setup)).fold(UNBOUNDED, |d, (_, b)| meet(&d, b));
        (among, domain)
    }

    /// By setup, the vehicle's own first: the box outside of which no pose serves it. Empty where none serves every
    /// setup: then poses outside count too.
    pub fn reach(&self, setups: usize) -> Vec<Bounds> {
        let is_any = |b: &Bounds| b.min.x <= b.max.x && b.min.y <= b.max.y;
        if !is_any(&self.domain) {
            return Vec::new();
        }
        let of = |only: Option<usize>| {
            let counts = |setup: Option<usize>| setup.is_none() || setup == only;
            let own = self.domains.iter().filter(|(setup, _)| counts(*setup));
            own.fold(UNBOUNDED, |d, (_, b)| meet(&d, b))
        };
        std::iter::once(None).chain((0..setups).map(Some)).map(of).collect()
    }

    /// All obstacles.
    pub fn all(&self) -> Vec<u32> {
        (0..self.obstacles.len() as u32).collect()
    }
}

/// The whole plane.
pub(super) const UNBOUNDED: Bounds =
    Bounds { min: P2::new(f64::NEG_INFINITY, f64::NEG_INFINITY), max: P2::new(f64::INFINITY, f64::INFINITY) };

/// What two boxes share; upside down when they are apart.
pub(super) fn meet(a: &Bounds, b: &Bounds) -> Bounds {
    Bounds {
        min: P2::new(a.min.x.max(b.min.x), a.min.y.max(b.min.y)),
        max: P2::new(a.max.x.min(b.max.x), a.max.y.min(b.max.y)),
    }
}
