//! Simple polygons and their convex pieces.

use std::collections::BTreeMap;

use geo::TriangulateEarcut;

use super::{Bounds, Frame, NOISE_MM, OutlineFault, P2, convex::foot, cross, outline, twice_area};

/// A simple polygon: anticlockwise, at least three points, none repeated, no side meeting another.
#[derive(Clone, Debug, PartialEq)]
pub struct Polygon {
    points: Vec<P2>,
}

impl Polygon {
    /// The triangle (0, 0), (1, 0), (0, 1).
    pub fn unit_triangle() -> Polygon {
        let corners = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)];
        Polygon { points: corners.map(|(x, y)| P2::new(x, y)).to_vec() }
    }

    /// The polygon with these corners, given in either direction and not closed by repetition.
    pub fn new(mut points: Vec<P2>) -> Result<Polygon, OutlineFault> {
        outline::check(&points)?;
        if twice_area(&points) < 0.0 {
            points[1..].reverse();
        }
        Ok(Polygon { points })
    }

    /// For points known to be a simple anticlockwise outline.
    pub(super) fn known(points: Vec<P2>) -> Polygon {
        Polygon { points }
    }

    /// Mirrored in the y axis: x negative.
    pub fn mirrored(&self) -> Polygon {
        Polygon { points: self.points.iter().rev().map(|p| P2::new(-p.x, p.y)).collect() }
    }

    /// The corners, anticlockwise.
    pub fn points(&self) -> &[P2] {
        &self.points
    }

    /// The sides, anticlockwise, each from one corner to the next.
    pub fn edges(&self) -> impl Iterator<Item = (P2, P2)> + '_ {
        let next = self.points.iter().cycle().skip(1);
        self.points.iter().zip(next).map(|(a, b)| (*a, *b))
    }

    /// Area, mm², always positive.
    pub fn area(&self) -> f64 {
        twice_area(&self.points) / 2.0
    }

    /// Is the point inside or, within noise, on the outline?
    pub fn contains(&self, p: P2) -> bool {
        if !Bounds::of(&self.points).grow(NOISE_MM).contains(p) {
            return false;
        }
        let mut inside = false;
        for (a, b) in self.edges() {
            if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) {
                inside = !inside;
            }
        }
        inside || self.edges().any(|(a, b)| (foot(p, a, b) - p).norm() <= NOISE_MM)
    }

    /// The bounding box.
    pub fn bounds(&self) -> Bounds {
        Bounds::of(&self.points)
    }

    /// A point inside, good for a label: the centroid, or that of the largest convex piece.
    pub fn centre(&self) -> P2 {
        let whole = centroid(&self.points);
        if self.contains(whole) {
            return whole;
        }
        let pieces = self.convex_pieces();
        let largest = pieces.iter().max_by(|a, b| twice_area(a).total_cmp(&twice_area(b)));
        largest.map_or(whole, |p| centroid(p))
    }

    /// Convex polygons, anticlockwise, that together cover exactly this one and overlap only in their sides.
    /// A convex polygon gives itself.
    pub fn convex_pieces(&self) -> Vec<Vec<P2>> {
        let all: Vec<usize> = (0..self.points.len()).collect();
        if is_convex(&self.points, &all) {
            return vec![self.points.clone()];
        }
        let rings = merged(&self.points, self.triangle_indices());
        rings.iter().map(|r| r.iter().map(|i| self.points[*i]).collect()).collect()
    }

    /// Triangles, anticlockwise, that together cover exactly this polygon.
    pub fn triangles(&self) -> Vec<[P2; 3]> {
        self.triangle_indices().iter().map(|t| t.map(|i| self.points[i])).collect()
    }

    /// This polygon, given in the frame's coordinates, in world coordinates.
    pub fn place(&self, f: &Frame) -> Polygon {
        Polygon { points: self.points.iter().map(|p| f.to_world(*p)).collect() }
    }

    fn triangle_indices(&self) -> Vec<[usize; 3]> {
        let raw = to_geo(&self.points).earcut_triangles_raw();
        let triples = raw.triangle_indices.chunks_exact(3).map(|t| [t[0], t[1], t[2]]);
        let area = |t: &[usize; 3]| {
            cross(self.points[t[1]] - self.points[t[0]], self.points[t[2]] - self.points[t[0]])
        };
        triples
            .map(|t| if area(&t) < 0.0 { [t[0], t[2], t[1]] } else { t })
            .filter(|t| area(t) > 0.0)
            .collect()
    }
}

/// Triangles that cover what lies inside an outline and outside holes within it; their direction is not told.
pub fn triangles_around(outline: &[P2], holes: &[Vec<P2>]) -> Vec<[P2; 3]> {
    let whole = geo::Polygon::new(line_of(outline), holes.iter().map(|h| line_of(h)).collect());
    let corners = |t: geo::Triangle<f64>| t.to_array().map(|c| P2::new(c.x, c.y));
    whole.earcut_triangles().into_iter().map(corners).collect()
}

/// The ring as a polygon of the geometry crate.
pub(super) fn to_geo(ring: &[P2]) -> geo::Polygon<f64> {
    geo::Polygon::new(line_of(ring), Vec::new())
}

pub(super) fn line_of(ring: &[P2]) -> geo::LineString<f64> {
    ring.iter().map(|p| geo::Coord { x: p.x, y: p.y }).collect()
}

/// Joins triangles across their shared sides while the result stays convex (Hertel and Mehlhorn's method).
fn merged(points: &[P2], triangles: Vec<[usize; 3]>) -> Vec<Vec<usize>> {
    let mut owner: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for (k, t) in triangles.iter().enumerate() {
        for i in 0..3 {
            owner.insert((t[i], t[(i + 1) % 3]), k);
        }
    }
    let diagonals: Vec<(usize, usize)> =
        owner.keys().copied().filter(|(a, b)| a < b && owner.contains_key(&(*b, *a))).collect();
    let mut rings: Vec<Vec<usize>> = triangles.iter().map(|t| t.to_vec()).collect();
    for (a, b) in diagonals {
        let (Some(&p), Some(&q)) = (owner.get(&(a, b)), owner.get(&(b, a))) else {
            continue;
        };
        if p == q {
            continue;
        }
        let joined = joined(&rings[p], &rings[q], a, b);
        if !is_convex(points, &joined) {
            continue;
        }
        for i in 0..rings[q].len() {
            let side = (rings[q][i], rings[q][(i + 1) % rings[q].len()]);
            owner.insert(side, p);
        }
        rings[p] = joined;
        rings[q].clear();
    }
    rings.retain(|r| !r.is_empty());
    rings
}

/// Ring `p`, which has the side a to b, and ring `q`, which has b to a, as one ring.
fn joined(p: &[usize], q: &[usize], a: usize, b: usize) -> Vec<usize> {
    let from = |ring: &[usize], start: usize| -> Vec<usize> {
        let at = ring.iter().position(|i| *i == start).unwrap_or(0);
        ring[at..].iter().chain(&ring[..at]).copied().collect()
    };
    let mut ring = from(p, b);
    ring.extend(from(q, a).into_iter().skip(1).take(q.len() - 2));
    ring
}

/// Does the simple ring turn left everywhere? A dent shallower than a thousandth of the noise does not count.
fn is_convex(points: &[P2], ring: &[usize]) -> bool {
    let n = ring.len();
    let at = |i: usize| points[ring[i % n]];
    (0..n).all(|i| {
        let (a, b, c) = (at(i), at(i + 1), at(i + 2));
        cross(b - a, c - b) >= -1e-3 * NOISE_MM * (c - a).norm()
    })
}

fn centroid(ring: &[P2]) -> P2 {
    let o = ring[0];
    let mut sum = super::V2::zeros();
    let mut area = 0.0;
    for i in 1..ring.len() - 1 {
        let (a, b) = (ring[i] - o, ring[i + 1] - o);
        let w = cross(a, b);
        sum += (a + b) * w;
        area += w;
    }
    o + sum / (3.0 * area)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    pub(crate) fn poly(points: &[(f64, f64)]) -> Result<Polygon, OutlineFault> {
        Polygon::new(points.iter().map(|p| P2::new(p.0, p.1)).collect())
    }

    #[test]
    fn faults_and_their_sentences() {
        type Case = (&'static [(f64, f64)], OutlineFault, &'static str);
        let cases: [Case; 9] = [
            (
                &[(0.0, 0.0), (1.0, 0.0)],
                OutlineFault::TooFew(2),
                "the outline has 2 points and needs at least 3",
            ),
            (
                &[(0.0, 0.0), (1.0, 0.0), (1.0, f64::NAN)],
                OutlineFault::NotFinite(2),
                "point 3 is not a finite number",
            ),
            (
                &[(0.0, 0.0), (1.0, 0.0), (1.0, 0.0), (0.0, 1.0)],
                OutlineFault::Repeated(2),
                "point 3 repeats point 2",
            ),
            (
                &[(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (0.0, 0.0)],
                OutlineFault::Repeated(0),
                "the last point repeats point 1; the outline closes by itself, so leave the last point out",
            ),
            // The self-crossing square: GEOS calls it invalid, signed area 0.
            (
                &[(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)],
                OutlineFault::Crosses(0, 2),
                "side 1 crosses side 3",
            ),
            // A side folded back on its neighbour.
            (
                &[(0.0, 0.0), (4.0, 0.0), (2.0, 0.0), (2.0, 3.0)],
                OutlineFault::Crosses(0, 1),
                "side 1 crosses side 2",
            ),
            // A corner that touches another side.
            (
                &[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (0.0, 4.0)],
                OutlineFault::Crosses(0, 2),
                "side 1 crosses side 3",
            ),
            (&[(0.0, 0.0), (1.0, 1.0), (3.0, 3.0)], OutlineFault::NoArea, "the outline encloses no area"),
            (
                &[(1e308, 0.0), (-1e308, 1.0), (0.0, 3.0)],
                OutlineFault::NoArea,
                "the outline encloses no area",
            ),
        ];
        for (points, fault, sentence) in cases {
            assert_eq!(poly(points), Err(fault), "{points:?}");
            assert_eq!(fault.to_string(), sentence);
        }
    }

    #[test]
    fn either_direction_gives_the_same_area() {
        let l = [(0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (2.0, 2.0), (2.0, 6.0), (0.0, 6.0)];
        let mut back = l;
        back.reverse();
        for ring in [l, back] {
            let p = poly(&ring).unwrap();
            // GEOS: area 20, centroid (2.2, 2.2).
            assert!((p.area() - 20.0).abs() < 1e-12);
            assert!((centroid(p.points()) - P2::new(2.2, 2.2)).norm() < 1e-12);
            assert!(p.contains(p.centre()));
            assert_eq!(p.convex_pieces().len(), 2);
            assert!(p.contains(P2::new(2.0, 4.0)), "on the outline");
            assert!(!p.contains(P2::new(3.0, 3.0)), "in the notch");
        }
    }

    #[test]
    fn a_label_stays_inside_a_u() {
        let u =
            [(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (8.0, 9.0), (8.0, 1.0), (1.0, 1.0), (1.0, 9.0), (0.0, 9.0)];
        let p = poly(&u).unwrap();
        assert!(!p.contains(centroid(p.points())));
        assert!(p.contains(p.centre()));
    }

    #[test]
    fn ten_thousand_points_are_checked_in_good_time() {
        let n = 10_000;
        let star: Vec<P2> = (0..n)
            .map(|i| {
                let a = i as f64 / n as f64 * std::f64::consts::TAU;
                let r = if i % 2 == 0 { 9000.0 } else { 8000.0 };
                P2::new(r * a.cos(), r * a.sin())
            })
            .collect();
        let start = std::time::Instant::now();
        let p = Polygon::new(star).unwrap();
        let pieces = p.convex_pieces();
        assert!(start.elapsed().as_secs_f64() < 5.0, "{:?}", start.elapsed());
        let sum: f64 = pieces.iter().map(|r| twice_area(r) / 2.0).sum();
        assert!((sum / p.area() - 1.0).abs() < 1e-9);
    }

    proptest! {
        #![proptest_config(crate::seeds::cases(256))]
        #[test]
        fn pieces_are_convex_and_cover_the_polygon(radii in prop::collection::vec(100.0..3000.0f64, 4..24)) {
            let n = radii.len() as f64;
            let ring = radii.iter().enumerate().map(|(i, r)| {
                let a = i as f64 / n * std::f64::consts::TAU;
                P2::new(r * a.cos(), r * a.sin())
            });
            let p = Polygon::new(ring.collect()).unwrap();
            let pieces = p.convex_pieces();
            let sum: f64 = pieces.iter().map(|r| twice_area(r) / 2.0).sum();
            prop_assert!((sum - p.area()).abs() < 1e-6 * p.area());
            for r in &pieces {
                let all: Vec<usize> = (0..r.len()).collect();
                prop_assert!(is_convex(r, &all));
                prop_assert!(p.contains(centroid(r)));
            }
            prop_assert!(p.contains(p.centre()));
        }
    }
}
