//! The ground a vehicle sweeps.
//!
//! On a straight a convex part sweeps the hull of its two ends. On an arc it is cut in two along the line of the rear
//! axle, on which the centre lies: seen from there, either half is met by each circle in one run, so what it sweeps is
//! bounded by its rear run of sides where it starts, an arc of its farthest point, its front run of sides where it ends
//! and an arc of its nearest point.

use super::car::{Car, Part};
use super::motion::Segment;
use crate::geometry::{Frame, NOISE_MM, P2, Polygon, Shape, rotate, twice_area, union_outlines};

/// Widest part of an arc that one chord stands for, radians: within 1 mm of it up to 6 m out.
const CHORD: f64 = std::f64::consts::PI / 90.0;
/// Widest arc of one piece.
const PIECE: f64 = std::f64::consts::FRAC_PI_2;

/// The ground swept by body and mirrors: outlines, and holes left in them.
pub fn swept(car: &Car, way: &[Segment]) -> (Vec<Polygon>, Vec<Polygon>) {
    let mut pieces = Vec::new();
    for segment in way {
        for part in car.outer_parts() {
            if segment.is_straight() {
                let ends = [segment.from.frame(), segment.to().frame()];
                let both: Vec<P2> =
                    ends.iter().flat_map(|f| part.points.iter().map(|p| f.to_world(*p))).collect();
                pieces.extend(hull(&both));
            } else {
                arc(part, segment, &mut pieces);
            }
        }
    }
    let (mut outer, mut holes) = (Vec::new(), Vec::new());
    for ring in union_outlines(&pieces) {
        let is_outer = twice_area(&ring) > 0.0;
        if let Ok(outline) = Polygon::new(ring) {
            if is_outer { outer.push(outline) } else { holes.push(outline) }
        }
    }
    (outer, holes)
}

/// The convex hull, anticlockwise; none of points on one line.
pub fn hull(points: &[P2]) -> Option<Vec<P2>> {
    Shape::hull(points).ok().map(|s| s.outline().points().to_vec())
}

fn arc(part: &Part, segment: &Segment, pieces: &mut Vec<Vec<P2>>) {
    let total = segment.length.abs();
    let turn = segment.curvature * segment.length;
    let n = (turn.abs() / PIECE).ceil().max(1.0);
    let centre = P2::new(0.0, 1.0 / segment.curvature);
    for half in [1.0, -1.0] {
        let half = half_of(&part.points, half);
        if half.len() < 3 {
            continue;
        }
        let half = with_foot(&half, centre);
        for i in 0..n as usize {
            // always swept anticlockwise: the other way round it starts from the end
            let (from, to) = (total * i as f64 / n, total * (i + 1) as f64 / n);
            let start = segment.at(if turn > 0.0 { from } else { to }).frame();
            pieces.push(turned(&half, centre, turn.abs() / n, &start));
        }
    }
}

/// What an anticlockwise ring sweeps, turned anticlockwise about a centre outside it.
fn turned(ring: &[P2], centre: P2, turn: f64, frame: &Frame) -> Vec<P2> {
    let away = |i: &usize| (ring[*i] - centre).norm();
    let near = (0..ring.len()).min_by(|a, b| away(a).total_cmp(&away(b))).unwrap_or(0);
    let far = (0..ring.len()).max_by(|a, b| away(a).total_cmp(&away(b))).unwrap_or(0);
    let mut out: Vec<P2> = run(near, far, ring.len()).map(|i| ring[i]).collect();
    let about = |p: P2, angle: f64| centre + rotate(p - centre, angle);
    let chords = (turn / CHORD).ceil().max(1.0) as usize;
    let part = |i: usize| turn * i as f64 / chords as f64;
    out.extend((1..chords).map(|i| about(ring[far], part(i))));
    out.extend(run(far, near, ring.len()).map(|i| about(ring[i], turn)));
    out.extend((1..chords).rev().map(|i| about(ring[near], part(i))));
    out.into_iter().map(|p| frame.to_world(p)).collect()
}

/// From one corner to another, both included, in the order of the ring.
fn run(from: usize, to: usize, n: usize) -> impl Iterator<Item = usize> {
    let steps = (to + n - from) % n;
    (0..=steps).map(move |k| (from + k) % n)
}

/// The part of a convex ring ahead (1) or behind (-1) the rear axle's line.
fn half_of(ring: &[P2], side: f64) -> Vec<P2> {
    let mut out = Vec::with_capacity(ring.len() + 2);
    for i in 0..ring.len() {
        let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
        let (da, db) = (side * a.x, side * b.x);
        if da >= 0.0 {
            out.push(a);
        }
        if (da < 0.0) != (db < 0.0) && (da - db).abs() > NOISE_MM {
            out.push(a + (b - a) * (da / (da - db)));
        }
    }
    out.dedup_by(|a, b| (*a - *b).norm() <= NOISE_MM);
    out
}

/// The ring with the point nearest to the centre among its corners.
fn with_foot(ring: &[P2], centre: P2) -> Vec<P2> {
    let mut out = Vec::with_capacity(ring.len() + 2);
    for i in 0..ring.len() {
        let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
        out.push(a);
        let d = b - a;
        let t = (centre - a).dot(&d) / d.norm_squared();
        if t > 1e-9 && t < 1.0 - 1e-9 {
            out.push(a + d * t);
        }
    }
    out
}
