//! What lies outside a region, cut to the points that count when some of its edges are skipped.
//!
//! A point outside counts where an edge that is not skipped is nearer than every skipped one: the same reading as
//! [`Region::signed`] has, turned into convex pieces. A piece is cut along the lines on which the nearest point of an edge
//! becomes its end, and then along the line of points equally far from two edges; each cut settles one pair. Points as
//! far from an edge as from a corner lie on a parabola: there a piece is cut into strips, and each along a chord or a
//! tangent, whichever lets more count.

use super::near::Near;
use super::{Edge, Region, point_edge};
use crate::geometry::clip::cut;
use crate::geometry::{NOISE_MM, P2, V2};

/// How far a chord or a tangent may lie off the parabola, mm, and beside the distance from the floor there.
const OFF_MM: f64 = 0.05;
const OFF: f64 = 0.002;

/// Which edges are skipped, and what counts at a corner of an edge that counts (first) and one that is skipped.
pub struct Skips<'a> {
    pub skipped: &'a dyn Fn(u32) -> bool,
    pub counts_at_corner: &'a dyn Fn(u32, u32) -> bool,
}

impl Region {
    /// The convex parts of a convex `ring` outside the region in which an edge that is not skipped is the nearest.
    pub fn counted_outside(&self, ring: &[P2], skips: &Skips) -> Vec<Vec<P2>> {
        let (skipped, counted) = self.edges.iter().partition(|e| (skips.skipped)(e.label));
        let mut parts = Vec::new();
        split(ring.to_vec(), Near::new(counted, skipped), skips, &mut parts);
        parts
    }
}

fn split(ring: Vec<P2>, near: Near, skips: &Skips, parts: &mut Vec<Vec<P2>>) {
    let mut rest = vec![(ring, near)];
    while let Some((ring, near)) = rest.pop() {
        let near = near.to(&ring);
        let middle = middle(&ring);
        let (Some(e), Some(s)) = (nearest(near.counted(), middle), nearest(near.skipped(), middle)) else {
            if !near.counted().is_empty() {
                parts.push(ring);
            }
            continue;
        };
        if let Some((at, out)) = ends_within(&ring, &e).or_else(|| ends_within(&ring, &s)) {
            let (inner, outer) = cut(&ring, at, out);
            rest.extend([inner, outer].into_iter().flatten().map(|r| (r, near.clone())));
            continue;
        }
        let (here, there) = (feature(middle, &e), feature(middle, &s));
        match line_between(&ring, here, there) {
            Between::Same => {
                let counts = (skips.counts_at_corner)(e.label, s.label);
                rest.push((ring, if counts { near.without(&s) } else { near.without(&e) }));
            }
            Between::First(true) => rest.push((ring, near.without(&s))),
            Between::First(false) => rest.push((ring, near.without(&e))),
            Between::Line(at, towards_skipped) => {
                let (counts, not) = cut(&ring, at, towards_skipped);
                rest.extend(counts.map(|r| (r, near.without(&s))));
                rest.extend(not.map(|r| (r, near.without(&e))));
            }
            Between::Strips(at, along) => {
                let (a, b) = cut(&ring, at, along);
                rest.extend([a, b].into_iter().flatten().map(|r| (r, near.clone())));
            }
        }
    }
}

/// What of an edge is nearest: an end, or a point of the line through a point with a normal of length 1.
#[derive(Clone, Copy)]
enum Feature {
    End(P2),
    Line(P2, V2),
}

enum Between {
    /// Both are the same point.
    Same,
    /// The first is nearer everywhere, or the second.
    First(bool),
    /// The first is nearer behind the line through this point with this normal.
    Line(P2, V2),
    /// To be cut first along this line.
    Strips(P2, V2),
}

/// What of an edge is nearest to the point.
fn feature(p: P2, e: &Edge) -> Feature {
    let foot = point_edge(p, e).b;
    let way = (e.b - e.a).try_normalize(0.0);
    match way.filter(|_| foot != e.a && foot != e.b) {
        Some(way) => Feature::Line(e.a, V2::new(way.y, -way.x)),
        None => Feature::End(foot),
    }
}

/// A line square to the edge at one of its ends, with its normal, or the edge's own, that runs through the ring.
fn ends_within(ring: &[P2], e: &Edge) -> Option<(P2, V2)> {
    let way = (e.b - e.a).try_normalize(0.0)?;
    let across = V2::new(way.y, -way.x);
    [(e.a, way), (e.b, way), (e.a, across)].into_iter().find(|(at, out)| runs_through(ring, *at, *out))
}

fn runs_through(ring: &[P2], at: P2, out: V2) -> bool {
    let heights = ring.iter().map(|p| out.dot(&(p - at)));
    let (low, high) = heights.fold((0.0f64, 0.0f64), |(l, h), d| (l.min(d), h.max(d)));
    low < -NOISE_MM && high > NOISE_MM
}

/// Where the two are equally far, in a ring on one side of both.
fn line_between(ring: &[P2], a: Feature, b: Feature) -> Between {
    // the normal that looks to the ring
    let to = |at: P2, n: V2| if n.dot(&(middle(ring) - at)) < 0.0 { -n } else { n };
    match (a, b) {
        (Feature::End(a), Feature::End(b)) => match (b - a).try_normalize(NOISE_MM) {
            Some(out) => Between::Line(a + (b - a) / 2.0, out),
            None => Between::Same,
        },
        (Feature::Line(p, n), Feature::Line(q, m)) => {
            let (n, m) = (to(p, n), to(q, m));
            // n . (x - p) - m . (x - q) <= 0 where the first is nearer
            let out = n - m;
            match out.try_normalize(1e-12) {
                Some(unit) => {
                    let limit = n.dot(&p.coords) - m.dot(&q.coords);
                    Between::Line(P2::from(out * (limit / out.norm_squared())), unit)
                }
                None if (n.dot(&(q - p))).abs() <= NOISE_MM => Between::Same,
                None => Between::First(n.dot(&(q - p)) < 0.0),
            }
        }
        (Feature::End(p), Feature::Line(q, n)) => parabola(ring, p, q, to(q, n), true),
        (Feature::Line(q, n), Feature::End(p)) => parabola(ring, p, q, to(q, n), false),
    }
}

/// Where the end `p` and the line through `q` are equally far; the normal looks to the ring. `counted`: it is the end
/// that counts.
fn parabola(ring: &[P2], p: P2, q: P2, n: V2, counted: bool) -> Between {
    let h = n.dot(&(p - q));
    if h <= NOISE_MM {
        return Between::First(!counted);
    }
    // along the line from the foot of the end, and how high above it both are equally far
    let (foot, way) = (p - n * h, V2::new(n.y, -n.x));
    let high = |t: f64| (t * t + h * h) / (2.0 * h);
    let along = ring.iter().map(|x| way.dot(&(x - foot)));
    let (t0, t1) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), d| (l.min(d), h.max(d)));
    let (middle, nearest) = ((t0 + t1) / 2.0, if t0 * t1 < 0.0 { 0.0 } else { t0.abs().min(t1.abs()) });
    if (t1 - t0) * (t1 - t0) / (8.0 * h) > OFF_MM.max(OFF * high(nearest)) {
        return Between::Strips(foot + way * middle, way);
    }
    // chord and tangent at the middle have the same slope
    let slope = middle / h;
    let at = if counted { (middle, high(middle)) } else { (t0, high(t0)) };
    let up = (n - way * slope).normalize();
    Between::Line(foot + way * at.0 + n * at.1, if counted { -up } else { up })
}

fn nearest(edges: &[Edge], p: P2) -> Option<Edge> {
    edges.iter().min_by(|a, b| point_edge(p, a).mm.total_cmp(&point_edge(p, b).mm)).copied()
}

fn middle(ring: &[P2]) -> P2 {
    let sum = ring.iter().fold(V2::zeros(), |sum, p| sum + p.coords);
    P2::from(sum / ring.len() as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Polygon;

    /// A floor with one corner inward and a slanted one, a nib out of one wall.
    fn floor() -> Region {
        let corners = [
            (0.0, 0.0),
            (4000.0, 0.0),
            (4000.0, 3000.0),
            (7000.0, 3000.0),
            (7000.0, 8000.0),
            (5000.0, 9000.0),
            (3000.0, 9000.0),
            (3000.0, 8200.0),
            (2400.0, 8200.0),
            (2400.0, 9000.0),
            (0.0, 9000.0),
        ]
        .map(|(x, y)| P2::new(x, y));
        let edges = (0..corners.len()).map(|i| Edge {
            a: corners[i],
            b: corners[(i + 1) % corners.len()],
            label: i as u32,
        });
        Region::new(vec![Polygon::new(corners.to_vec()).unwrap()], edges.collect())
    }

    /// How deep inside a convex ring; negative outside.
    fn depth(ring: &[P2], p: P2) -> f64 {
        let ends = ring.iter().zip(ring.iter().cycle().skip(1));
        let sides = ends.filter_map(|(a, b)| Some((a, V2::new(b.y - a.y, a.x - b.x).try_normalize(0.0)?)));
        sides.map(|(a, out)| -out.dot(&(p - a))).fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn a_point_outside_is_in_a_piece_where_a_counted_edge_is_nearest() {
        let floor = floor();
        let outside = floor.outside(1e6);
        let (mut counted, mut not, mut near) = (0, 0, 0);
        for pattern in 1u32..60 {
            let skipped = |label: u32| pattern.wrapping_mul(2_654_435_761).rotate_left(label * 3) & 3 == 0;
            let (skip, count) = floor.edges.iter().partition(|e| skipped(e.label));
            let told = Near::new(count, skip);
            let skips = Skips { skipped: &skipped, counts_at_corner: &|_, _| false };
            let pieces: Vec<_> = outside.iter().flat_map(|o| floor.counted_outside(o, &skips)).collect();
            for k in 0..400u32 {
                let p =
                    P2::new(f64::from(k * 7919 % 13_007) - 3000.0, f64::from(k * 104_729 % 15_013) - 3000.0);
                if floor.contains(p) {
                    continue;
                }
                let deepest = pieces.iter().map(|ring| depth(ring, p)).fold(f64::NEG_INFINITY, f64::max);
                match (told.nearest(p).is_some(), deepest) {
                    (true, d) => {
                        assert!(d >= -1e-3, "{p} counts, but lies {d} beyond every piece, pattern {pattern}");
                        counted += 1;
                    }
                    (false, d) if d <= 1e-3 => not += 1,
                    // along a parabola a piece is a little too large
                    (false, d) => {
                        assert!(
                            d < 0.05f64.max(0.005 * p.coords.norm()),
                            "{p} does not count and lies {d} in a piece, pattern {pattern}"
                        );
                        near += 1;
                    }
                }
            }
        }
        assert!(counted > 3000 && not > 2000 && near < 200, "{counted} {not} {near}");
    }

    #[test]
    fn behind_a_corner_inward_the_bisector_parts_the_two_walls() {
        // skipped: the wall from (4000, 0) up to the corner inward at (4000, 3000); behind it floor is missing
        let floor = floor();
        let skips = Skips { skipped: &|label| label == 1, counts_at_corner: &|_, _| false };
        let ring = [(4000.0, 2000.0), (5000.0, 2000.0), (5000.0, 3000.0), (4000.0, 3000.0)]
            .map(|(x, y)| P2::new(x, y));
        let pieces = floor.counted_outside(&ring, &skips);
        let area: f64 = pieces.iter().map(|r| crate::geometry::twice_area(r) / 2.0).sum();
        assert!((area - 500_000.0).abs() < 1e-3, "{area}: the half nearer to the wall along y = 3000");
    }
}
