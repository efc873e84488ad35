//! A slow exact way to the same region: every pair's grown difference as a convex hull of corners, all of them taken
//! off the floor by Clipper2 (another library, another author and integer arithmetic), and the deepest pose by
//! splitting squares. It shares the layout with the program and nothing of siting.

use baywright::layout::{Layout, Solid, Stance};
use clipper2::{FillRule, Milli, Path, Paths, Point, difference};

pub(crate) type Ring = Vec<(f64, f64)>;

/// The allowed poses of one heading: area in mm², the deepest pose's depth.
pub(crate) struct Region {
    pub area: f64,
    pub depth: f64,
}

/// Corners of the polygon about a circle of 1: off by less than 0.1 mm at 600.
const ROUND: usize = 256;

/// What moves at the origin, with the need it keeps to things and to the floor's edge.
pub(crate) struct Moving {
    pub solid: Solid,
    pub need: f64,
}

/// The parts of a job's rig at a heading, the vehicle at the origin: body, targets, rooms behind, zones that forbid
/// anything.
pub(crate) fn moving(layout: &Layout, heading: f64) -> Vec<Moving> {
    let turned = layout.at(Stance { x: 0.0, y: 0.0, heading });
    let mut all: Vec<Moving> = turned
        .body
        .hull
        .iter()
        .map(|s| Moving { solid: s.clone(), need: layout.needs.walk_around })
        .collect();
    for setup in &turned.setups {
        for stand in setup.stations.iter().filter_map(|s| s.place.as_ref().ok()) {
            all.extend(stand.parts.iter().map(|s| Moving { solid: s.clone(), need: layout.needs.clearance }));
            all.extend(stand.room.iter().map(|s| Moving { solid: s.clone(), need: 0.0 }));
        }
        for zone in setup.zones.iter().filter_map(|z| z.place.as_ref().ok()) {
            if let baywright::layout::Area::Plan { solid, .. } = zone {
                all.push(Moving { solid: solid.clone(), need: 0.0 });
            }
        }
    }
    all
}

/// The region of allowed poses; `outside`: convex polygons that cover what is no floor round a box `floor`.
pub(crate) fn region(layout: &Layout, heading: f64, outside: &[Ring], floor: (f64, f64)) -> Region {
    let mut holes: Vec<Ring> = Vec::new();
    for m in moving(layout, heading) {
        let radius = m.solid.shape.radius();
        for piece in m.solid.shape.pieces() {
            let piece: Ring = piece.iter().map(|p| (p.x, p.y)).collect();
            for out in outside {
                holes.push(grown(out, &piece, m.need + radius));
            }
            for thing in &layout.stage.things {
                let (z, o) = (thing.solid.z, m.solid.z);
                if z.lo.max(o.lo) < z.hi.min(o.hi) {
                    for other in thing.solid.shape.pieces() {
                        let other: Ring = other.iter().map(|p| (p.x, p.y)).collect();
                        holes.push(grown(&other, &piece, m.need + radius + thing.solid.shape.radius()));
                    }
                }
            }
        }
    }
    let subject = vec![
        (-20_000.0, -20_000.0),
        (floor.0 + 20_000.0, -20_000.0),
        (floor.0 + 20_000.0, floor.1 + 20_000.0),
        (-20_000.0, floor.1 + 20_000.0),
    ];
    let path = |r: &Ring| -> Path<Milli> { Path::new(r.iter().map(|p| Point::new(p.0, p.1)).collect()) };
    let subject: Paths<Milli> = Paths::new(vec![path(&subject)]);
    let holes: Paths<Milli> = Paths::new(holes.iter().map(path).collect());
    let left: Paths<Milli> =
        difference(subject, holes, FillRule::NonZero).unwrap_or_else(|e| panic!("{e:?}"));
    let rings: Vec<Ring> = left.iter().map(|p| p.iter().map(|q| (q.x(), q.y())).collect()).collect();
    let area = left.signed_area();
    let depth = deepest(&rings);
    Region { area, depth }
}

/// Still minus moving, grown by `by`: the hull of all corner differences and of the circle about each.
fn grown(still: &Ring, moving: &Ring, by: f64) -> Ring {
    let mut points = Vec::new();
    for s in still {
        for m in moving {
            let d = (s.0 - m.0, s.1 - m.1);
            if by <= 0.0 {
                points.push(d);
            } else {
                // about the circle, not in it
                let far = by / (std::f64::consts::PI / ROUND as f64).cos();
                points.extend((0..ROUND).map(|i| {
                    let a = std::f64::consts::TAU * i as f64 / ROUND as f64;
                    (d.0 + far * a.cos(), d.1 + far * a.sin())
                }));
            }
        }
    }
    hull(points)
}

/// Convex hull, anticlockwise (Andrew 1979, monotone chain; from memory).
fn hull(mut points: Ring) -> Ring {
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    points.dedup();
    let turn = |o: &(f64, f64), a: &(f64, f64), b: &(f64, f64)| {
        (a.0 - o.0) * (b.1 - o.1) - (a.1 - o.1) * (b.0 - o.0)
    };
    let half = |points: &mut dyn Iterator<Item = &(f64, f64)>| {
        let mut chain: Ring = Vec::new();
        for p in points {
            while chain.len() >= 2 && turn(&chain[chain.len() - 2], &chain[chain.len() - 1], p) <= 0.0 {
                chain.pop();
            }
            chain.push(*p);
        }
        chain.pop();
        chain
    };
    let mut lower = half(&mut points.iter());
    lower.extend(half(&mut points.iter().rev()));
    lower
}

/// Inside one ring?
pub(crate) fn inside(at: (f64, f64), ring: &[impl Corner]) -> bool {
    let mut odd = false;
    for i in 0..ring.len() {
        let (a, b) = (ring[i].xy(), ring[(i + 1) % ring.len()].xy());
        if (a.1 > at.1) != (b.1 > at.1) && at.0 < a.0 + (at.1 - a.1) / (b.1 - a.1) * (b.0 - a.0) {
            odd = !odd;
        }
    }
    odd
}

/// A corner of a ring, whoever made it.
pub(crate) trait Corner {
    fn xy(&self) -> (f64, f64);
}

impl Corner for (f64, f64) {
    fn xy(&self) -> (f64, f64) {
        *self
    }
}

impl Corner for baywright::geometry::P2 {
    fn xy(&self) -> (f64, f64) {
        (self.x, self.y)
    }
}

/// How far inside the rings (holes too) a point is; below zero outside.
pub(crate) fn depth(at: (f64, f64), rings: &[Vec<impl Corner>]) -> f64 {
    let mut least = f64::INFINITY;
    let mut odd = false;
    for ring in rings {
        for i in 0..ring.len() {
            let (a, b) = (ring[i].xy(), ring[(i + 1) % ring.len()].xy());
            let (dx, dy) = (b.0 - a.0, b.1 - a.1);
            let t =
                (((at.0 - a.0) * dx + (at.1 - a.1) * dy) / (dx * dx + dy * dy).max(1e-12)).clamp(0.0, 1.0);
            least = least.min((at.0 - a.0 - t * dx).hypot(at.1 - a.1 - t * dy));
            if (a.1 > at.1) != (b.1 > at.1) && at.0 < a.0 + (at.1 - a.1) / (b.1 - a.1) * dx {
                odd = !odd;
            }
        }
    }
    if odd { least } else { -least }
}

/// The greatest depth, within 0.5 mm: squares are split while their middle's depth and half diagonal promise more.
fn deepest(rings: &[Ring]) -> f64 {
    let all = || rings.iter().flatten();
    if rings.is_empty() {
        return f64::NEG_INFINITY;
    }
    let span = |f: fn(&(f64, f64)) -> f64| {
        all().map(f).fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)))
    };
    let (x, y) = (span(|p| p.0), span(|p| p.1));
    let half = (x.1 - x.0).max(y.1 - y.0) / 2.0;
    let mut open = vec![((x.0 + x.1) / 2.0, (y.0 + y.1) / 2.0, half)];
    let mut best = f64::NEG_INFINITY;
    while let Some((cx, cy, half)) = open.pop() {
        let here = depth((cx, cy), rings);
        best = best.max(here);
        if here + half * std::f64::consts::SQRT_2 > best + 0.5 {
            let q = half / 2.0;
            open.extend([(cx - q, cy - q, q), (cx + q, cy - q, q), (cx - q, cy + q, q), (cx + q, cy + q, q)]);
        }
    }
    best
}
