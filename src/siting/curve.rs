//! The least margin against the position along or across the bay: how much play is left and where it ends.

use super::site::Site;
use super::space::Space;
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

/// Points at most.
const MOST: usize = 400;
/// Points before it is looked where the curve is bent.
const FIRST: usize = 48;
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
    let all: Vec<Vec<u32>> = spaces.iter().map(Space::all).collect();
    let at = |s: f64| P2::new(stance.x, stance.y) + way * (s - here);
    let margin = |s: f64| {
        spaces.iter().zip(&all).map(|(space, all)| space.depth(all, at(s))).fold(f64::NEG_INFINITY, f64::max)
    };
    let (from, to) = range(&spaces, direction, here);
    let mut fits = Vec::new();
    for space in &spaces {
        fits.extend(free(space, at(here), way, here, (from, to)));
    }
    fits.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut places: Vec<f64> = (0..=FIRST).map(|i| from + (to - from) * i as f64 / FIRST as f64).collect();
    places.push(here);
    places.extend(fits.iter().flat_map(|(a, b)| [*a, *b, (a + b) / 2.0]));
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() <= NOISE_MM);
    let mut points: Vec<(f64, f64)> = places.into_iter().map(|s| (s, margin(s))).collect();
    loop {
        let mut finer = Vec::with_capacity(points.len() * 2);
        let mut bent = false;
        for (i, &p) in points.iter().enumerate() {
            finer.push(p);
            let Some(&q) = points.get(i + 1) else { break };
            let room = points.len() + (finer.len() - i) <= MOST;
            let s = (p.0 + q.0) / 2.0;
            if room && q.0 - p.0 > 1.0 {
                let m = (s, margin(s));
                if (m.1 - (p.1 + q.1) / 2.0).abs() > OFF_MM {
                    finer.push(m);
                    bent = true;
                }
            }
        }
        points = finer;
        if !bent || points.len() >= MOST {
            break;
        }
    }
    let best = points.iter().copied().max_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or((here, margin(here)));
    Curve { direction, points, present: (here, margin(here)), fits, best }
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
