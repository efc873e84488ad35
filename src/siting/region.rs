//! The region of allowed poses as outlines, with its area.
//!
//! Most of the many obstacles lie wholly behind others. The box is split until every part is covered by one
//! obstacle, met by none, or met by few; the obstacles met on the way are enough to make the same region, and their
//! union is small. It is exact but for arcs, which are replaced by chords about them.

use super::progress::{Progress, Stopped};
use super::space::Space;
use crate::geometry::{Bounds, NOISE_MM, P2, V2, twice_area, union_outlines};

/// The allowed poses of one heading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Allowed {
    /// Outlines anticlockwise, holes in them clockwise. A region without area has none.
    pub rings: Vec<Vec<P2>>,
    /// mm²
    pub area: f64,
}

/// Parts met by so few obstacles are not split.
const FEW: usize = 3;
/// Parts smaller than this are not split, mm.
const SMALL_MM: f64 = 4.0;
/// How far a chord may reach beyond its arc at first, mm.
const CHORD_MM: f64 = 0.25;
/// The part of the area that chords may take.
const SHARE: f64 = 1e-3;
/// Outlines narrower than this come from rounding in the union, mm.
const SLIVER_MM: f64 = 2e-3;

/// The region in the box that these obstacles leave free.
pub(super) fn allowed(
    space: &Space,
    among: &[u32],
    domain: Bounds,
    progress: &Progress,
) -> Result<Allowed, Stopped> {
    let size = domain.size();
    if size.x <= NOISE_MM || size.y <= NOISE_MM || !(size.x + size.y).is_finite() {
        return Ok(Allowed::default());
    }
    let mut cover = Cover {
        space,
        taken: vec![false; space.obstacles.len()],
        used: Vec::new(),
        free: Bounds::of(Vec::<P2>::new()),
        looked_at: 0,
        progress,
    };
    cover.split(domain.centre(), size / 2.0, among)?;
    let free = Bounds {
        min: P2::new(cover.free.min.x.max(domain.min.x), cover.free.min.y.max(domain.min.y)),
        max: P2::new(cover.free.max.x.min(domain.max.x), cover.free.max.y.min(domain.max.y)),
    };
    let size = free.size();
    if size.x <= 0.0 || size.y <= 0.0 {
        return Ok(Allowed::default());
    }
    let mut found = cover.outlines(&free, CHORD_MM);
    let round: f64 = found.rings.iter().map(|r| perimeter(r)).sum::<f64>();
    let finer = SHARE * found.area / round.max(1.0);
    if finer < CHORD_MM && found.area > 0.0 {
        found = cover.outlines(&free, finer.max(2e-3));
    }
    Ok(found)
}

struct Cover<'a> {
    space: &'a Space,
    taken: Vec<bool>,
    /// Obstacles that are enough to make the region.
    used: Vec<u32>,
    /// The box about everything that may be free.
    free: Bounds,
    looked_at: usize,
    progress: &'a Progress,
}

impl Cover<'_> {
    fn take(&mut self, i: u32) {
        if !self.taken[i as usize] {
            self.taken[i as usize] = true;
            self.used.push(i);
        }
    }

    fn covers(&self, i: u32, at: P2, half: V2) -> bool {
        let o = &self.space.obstacles[i as usize];
        let b = &o.bounds;
        if b.min.x > at.x - half.x
            || b.max.x < at.x + half.x
            || b.min.y > at.y - half.y
            || b.max.y < at.y + half.y
        {
            return false;
        }
        let corners = [V2::new(-half.x, -half.y), V2::new(half.x, -half.y), half, V2::new(-half.x, half.y)];
        corners.iter().all(|c| self.space.sides.signed(o, at + c).0 <= 0.0)
    }

    fn split(&mut self, at: P2, half: V2, among: &[u32]) -> Result<(), Stopped> {
        self.looked_at += 1;
        if self.looked_at.is_multiple_of(256) {
            self.progress.go_on()?;
        }
        for k in 0..self.used.len() {
            if self.covers(self.used[k], at, half) {
                // the one that covers is likely to cover the next part too
                self.used.swap(0, k);
                return Ok(());
            }
        }
        let mut meets = Vec::new();
        for &i in among {
            let o = &self.space.obstacles[i as usize];
            let b = &o.bounds;
            let apart = b.min.x >= at.x + half.x
                || b.max.x <= at.x - half.x
                || b.min.y >= at.y + half.y
                || b.max.y <= at.y - half.y;
            if apart {
                continue;
            }
            let (mm, _) = self.space.sides.signed(o, at);
            let reach = half.norm();
            if mm >= reach {
                continue;
            }
            if mm < 0.0 && (mm + reach <= 0.0 || self.covers(i, at, half)) {
                self.take(i);
                return Ok(());
            }
            meets.push(i);
        }
        if meets.len() <= FEW || half.x.max(half.y) < SMALL_MM {
            for i in meets {
                self.take(i);
            }
            self.free = self.free.union(&Bounds { min: at - half, max: at + half });
            return Ok(());
        }
        let (part, step) = if half.x >= half.y {
            (V2::new(half.x / 2.0, half.y), V2::new(half.x / 2.0, 0.0))
        } else {
            (V2::new(half.x, half.y / 2.0), V2::new(0.0, half.y / 2.0))
        };
        self.split(at - step, part, &meets)?;
        self.split(at + step, part, &meets)
    }

    /// The box less the obstacles used, as outlines.
    fn outlines(&self, free: &Bounds, chord: f64) -> Allowed {
        const FRAME_MM: f64 = 10.0;
        let clip = free.grow(FRAME_MM / 2.0);
        let (a, b, c) = (free.min, free.max, FRAME_MM);
        let bar = |x0: f64, y0: f64, x1: f64, y1: f64| {
            vec![P2::new(x0, y0), P2::new(x1, y0), P2::new(x1, y1), P2::new(x0, y1)]
        };
        let mut rings = vec![
            bar(a.x - c, a.y - c, b.x + c, a.y),
            bar(a.x - c, b.y, b.x + c, b.y + c),
            bar(a.x - c, a.y - c, a.x, b.y + c),
            bar(b.x, a.y - c, b.x + c, b.y + c),
        ];
        for i in &self.used {
            let o = &self.space.obstacles[*i as usize];
            if o.bounds.distance(&clip) > 0.0 {
                continue;
            }
            let ring = clipped(self.space.sides.outline(o, chord, &clip), &clip);
            if ring.len() >= 3 && twice_area(&ring) > 0.0 {
                rings.push(ring);
            }
        }
        let frame = |r: &[P2]| r.iter().any(|p| p.x < a.x - c / 2.0 && p.y < a.y - c / 2.0);
        let mut found = Allowed::default();
        for mut ring in union_outlines(&rings) {
            let doubled = twice_area(&ring);
            if frame(&ring) && doubled > 0.0 || doubled.abs() < SLIVER_MM * perimeter(&ring) {
                continue;
            }
            ring.reverse();
            found.area -= doubled / 2.0;
            found.rings.push(ring);
        }
        found
    }
}

fn perimeter(ring: &[P2]) -> f64 {
    (0..ring.len()).map(|i| (ring[(i + 1) % ring.len()] - ring[i]).norm()).sum()
}

/// The part of a convex ring in a box.
fn clipped(ring: Vec<P2>, to: &Bounds) -> Vec<P2> {
    let limits: [(V2, f64); 4] = [
        (V2::new(1.0, 0.0), to.max.x),
        (V2::new(-1.0, 0.0), -to.min.x),
        (V2::new(0.0, 1.0), to.max.y),
        (V2::new(0.0, -1.0), -to.min.y),
    ];
    limits.iter().fold(ring, |ring, (n, limit)| {
        let mut kept = Vec::with_capacity(ring.len() + 2);
        for (i, p) in ring.iter().enumerate() {
            let q = ring[(i + 1) % ring.len()];
            let (hp, hq) = (n.dot(&p.coords) - limit, n.dot(&q.coords) - limit);
            if hp <= 0.0 {
                kept.push(*p);
            }
            if hp * hq < 0.0 {
                kept.push(p + (q - p) * (hp / (hp - hq)));
            }
        }
        kept
    })
}
