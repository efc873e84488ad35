//! The least margin against the position along or across the bay: how much play is left and where it ends.

use std::collections::VecDeque;

use super::site::Site;
use super::space::Space;
use crate::checks::{InCurve, RULES, RuleId};
use crate::geometry::{NOISE_MM, P2, V2};
use crate::layout::Stance;

/// Which way the vehicle is thought to be shifted, its heading kept: in bay axes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Into the bay: positions are y.
    Along,
    /// To the right: positions are x.
    Across,
}

/// The least margin of the plan rules over one line of positions through the present one.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    pub direction: Direction,
    /// Position and least margin, mm, by position. Straight between; where it is bent, off by no more than half a
    /// millimetre as long as 400 points are enough.
    pub points: Vec<(f64, f64)>,
    /// The present position and its least margin.
    pub present: (f64, f64),
    /// Where nothing fails: from, to, exact.
    pub fits: Vec<(f64, f64)>,
    /// The position with the greatest margin, and that margin (below zero: it fits nowhere on this line).
    pub best: (f64, f64),
}

/// The rules the curve holds, in their order: those siting searches by. Headroom, doorway, way in, sights and floor are not
/// in it; places the bay fixes leave no margin of their own.
pub fn held() -> impl Iterator<Item = RuleId> {
    RULES.iter().filter(|r| r.policy.curve == InCurve::Held).map(|r| r.id)
}

/// Points at most.
const MOST: usize = 400;
/// Stretches looked at in full before it is looked where the curve is bent.
const FIRST: usize = 12;
/// How far a straight piece may lie off the curve, mm.
const OFF_MM: f64 = 0.5;
/// How far beyond the floor's ends the curve is drawn, mm.
const BEYOND_MM: f64 = 500.0;

/// The curve through a pose.
pub fn curve(site: &Site, stance: Stance, direction: Direction) -> Curve {
    let spaces = site.spaces(stance.heading);
    let (way, here) = match direction {
        Direction::Along => (V2::y(), stance.y),
        Direction::Across => (V2::x(), stance.x),
    };
    let line = Line { spaces: &spaces, at: P2::new(stance.x, stance.y), way, here };
    let all: Vec<Vec<u32>> = spaces.iter().map(Space::all).collect();
    let (from, to) = range(&spaces, direction, here);
    let mut fits = Vec::new();
    for space in &spaces {
        fits.extend(free(space, line.at, way, here, (from, to)));
    }
    fits.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut places: Vec<f64> = (0..=FIRST).map(|i| from + (to - from) * i as f64 / FIRST as f64).collect();
    places.push(here);
    places.extend(fits.iter().flat_map(|(a, b)| [*a, *b]));
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() <= NOISE_MM);
    let mut points: Vec<(f64, f64)> = Vec::new();
    let mut open: VecDeque<Stretch> = VecDeque::new();
    for ends in places.windows(2) {
        let (stretch, middle) = line.stretch((ends[0], ends[1]), &all);
        points.extend([(ends[0], stretch.margins.0), (ends[1], stretch.margins.1), middle]);
        open.push_back(stretch);
    }
    // the longest stretches first: where it is bent, both halves are looked at again
    while let Some(s) = open.pop_front() {
        let (middle, margin) = ((s.ends.0 + s.ends.1) / 2.0, s.middle);
        let straight = (margin - (s.margins.0 + s.margins.1) / 2.0).abs() <= OFF_MM;
        if straight || s.ends.1 - s.ends.0 < 2.0 || points.len() + 4 >= MOST + places.len() {
            continue;
        }
        for ends in [(s.ends.0, middle), (middle, s.ends.1)] {
            let (half, point) = line.stretch(ends, &s.near);
            points.push(point);
            open.push_back(half);
        }
    }
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    points.dedup_by(|a, b| (a.0 - b.0).abs() <= NOISE_MM);
    points.truncate(MOST);
    let present = (here, line.margin(here, &all));
    let best = points.iter().copied().max_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or(present);
    Curve { direction, points, present, fits, best }
}

/// The poses of one curve.
struct Line<'a> {
    spaces: &'a [Space],
    at: P2,
    way: V2,
    here: f64,
}

/// A part of the line, and for each space the obstacles that may bind on it.
struct Stretch {
    ends: (f64, f64),
    margins: (f64, f64),
    middle: f64,
    near: Vec<Vec<u32>>,
}

impl Line<'_> {
    fn pose(&self, s: f64) -> P2 {
        self.at + self.way * (s - self.here)
    }

    /// The least margin at a position, of these obstacles.
    fn margin(&self, s: f64, among: &[Vec<u32>]) -> f64 {
        let p = self.pose(s);
        self.spaces
            .iter()
            .zip(among)
            .map(|(space, among)| space.depth(among, p))
            .fold(f64::NEG_INFINITY, f64::max)
    }

    /// Looks at the middle of a stretch, and leaves out what cannot bind on it: no margin changes by more than the
    /// vehicle is shifted.
    fn stretch(&self, ends: (f64, f64), among: &[Vec<u32>]) -> (Stretch, (f64, f64)) {
        let s = (ends.0 + ends.1) / 2.0;
        let (p, reach) = (self.pose(s), (ends.1 - ends.0) / 2.0);
        let mut middle = f64::NEG_INFINITY;
        let mut near = Vec::new();
        for (space, among) in self.spaces.iter().zip(among) {
            let mut least = f64::INFINITY;
            let mut kept: Vec<(u32, f64)> = Vec::new();
            for &i in among {
                let o = &space.obstacles[i as usize];
                let b = &o.bounds;
                let room = (b.min.x - p.x).max(p.x - b.max.x).max(b.min.y - p.y).max(p.y - b.max.y);
                if room > least + 2.0 * reach {
                    continue;
                }
                let (mm, _) = space.sides.signed(o, p);
                least = least.min(mm);
                if mm <= least + 2.0 * reach {
                    kept.push((i, mm));
                }
            }
            middle = middle.max(least);
            near.push(kept.into_iter().filter(|k| k.1 <= least + 2.0 * reach).map(|k| k.0).collect());
        }
        let margins = (self.margin(ends.0, &near), self.margin(ends.1, &near));
        (Stretch { ends, margins, middle, near }, (s, middle))
    }
}

/// From, to: all positions worth drawing, the present one among them.
fn range(spaces: &[Space], direction: Direction, here: f64) -> (f64, f64) {
    let mut range = (here, here);
    for b in spaces.iter().map(|s| s.domain) {
        let (from, to) = match direction {
            Direction::Along => (b.min.y, b.max.y),
            Direction::Across => (b.min.x, b.max.x),
        };
        if from.is_finite() && to.is_finite() {
            range = (range.0.min(from.min(to)), range.1.max(from.max(to)));
        }
    }
    (range.0 - BEYOND_MM, range.1 + BEYOND_MM)
}

/// The stretches of the line through `at` (position `here`) that no obstacle forbids.
fn free(space: &Space, at: P2, way: V2, here: f64, (from, to): (f64, f64)) -> Vec<(f64, f64)> {
    let left = V2::new(-way.y, way.x);
    let aside = left.dot(&at.coords);
    let shift = here - way.dot(&at.coords);
    let deep = |o: &super::obstacle::Obstacle, (a, b): (f64, f64)| {
        // a chord along an edge is allowed
        let middle = P2::from(way * ((a + b) / 2.0) + left * aside);
        space.sides.signed(o, middle).0 < -NOISE_MM
    };
    let mut met: Vec<(f64, f64)> = space
        .obstacles
        .iter()
        .filter_map(|o| space.sides.chord(o, way, aside).filter(|c| c.1 - c.0 > NOISE_MM && deep(o, *c)))
        .map(|(a, b)| (a + shift, b + shift))
        .collect();
    met.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut free = Vec::new();
    let mut reached = from;
    for (a, b) in met {
        if a >= reached - NOISE_MM && reached <= to {
            free.push((reached, a.clamp(reached, to)));
        }
        reached = reached.max(b);
    }
    if reached <= to {
        free.push((reached, to));
    }
    free
}
