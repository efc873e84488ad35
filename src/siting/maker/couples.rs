//! What moves and what it is held off, piece by piece: for turning the vehicle on the spot.

use std::ops::Range;

use crate::geometry::{NOISE_MM, P2, convex_gap};

/// A convex piece that turns with the vehicle, and one that stays.
#[derive(Clone, Debug)]
pub(crate) struct Couple {
    moving: Range<usize>,
    still: Range<usize>,
    /// How far apart they must stay, their own radii with it, mm.
    apart: f64,
}

/// All of them, the vehicle at the bay's origin.
#[derive(Clone, Debug, Default)]
pub(crate) struct Couples {
    points: Vec<P2>,
    pub all: Vec<Couple>,
    /// Holds of what is another part at every heading.
    pub loose: Vec<u32>,
}

/// Where the vehicle is turned: about `at`, by an angle whose sine and cosine these are.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Turn {
    pub at: P2,
    pub sin: f64,
    pub cos: f64,
}

impl Turn {
    pub(crate) fn by(at: P2, angle: f64) -> Turn {
        let (sin, cos) = angle.sin_cos();
        Turn { at, sin, cos }
    }
}

impl Couples {
    /// Adds a couple that must stay `apart`.
    pub(crate) fn push(&mut self, moving: &[P2], still: &[P2], apart: f64) {
        // lines that may touch forbid nothing
        if apart == 0.0 && moving.len() < 3 && still.len() < 3 {
            return;
        }
        let first = self.points.len();
        self.points.extend(moving);
        let middle = self.points.len();
        self.points.extend(still);
        self.all.push(Couple { moving: first..middle, still: middle..self.points.len(), apart });
    }

    /// What a couple has to spare where the vehicle is turned, mm; below zero it fails. `room` for the turned piece.
    pub(crate) fn spare(&self, couple: &Couple, turn: Turn, room: &mut Vec<P2>) -> f64 {
        let Turn { at, sin, cos } = turn;
        room.clear();
        let turned = |p: &P2| P2::new(at.x + p.x * cos - p.y * sin, at.y + p.x * sin + p.y * cos);
        room.extend(self.points[couple.moving.clone()].iter().map(turned));
        convex_gap(room, &self.points[couple.still.clone()], 0.0, 0.0).mm - couple.apart
    }

    /// How far what a couple has to spare can fall while the vehicle is turned about `at` by one radian, mm: neither goes
    /// faster about it than its farthest point.
    pub(crate) fn rate(&self, couple: &Couple, at: P2) -> f64 {
        let farthest = |off: &mut dyn Iterator<Item = f64>| off.fold(0.0, f64::max);
        let moving = farthest(&mut self.points[couple.moving.clone()].iter().map(|p| p.coords.norm()));
        let still = farthest(&mut self.points[couple.still.clone()].iter().map(|p| (p - at).norm()));
        moving.min(still).max(NOISE_MM)
    }

    /// Never more than what the couple has to spare unturned, by the circles about their first points.
    pub(crate) fn at_least(&self, couple: &Couple, at: P2) -> f64 {
        let (moving, still) = (&self.points[couple.moving.clone()], &self.points[couple.still.clone()]);
        let reach = |ring: &[P2]| ring.iter().map(|p| (p - ring[0]).norm()).fold(0.0, f64::max);
        let apart = (moving[0] + at.coords - still[0]).norm();
        apart - reach(moving) - reach(still) - couple.apart
    }
}
