//! Plan shapes ready to be measured.

use std::f64::consts::{PI, TAU};

use geo::ConvexHull;

use super::{Bounds, Frame, NOISE_MM, OutlineFault, P2, Polygon, V2, gap::point_gap, rotate};

/// Corners of the polygon drawn about a circle.
const CIRCLE_CORNERS: usize = 64;
/// Widest part of an arc that one chord stands for, radians.
const CHORD: f64 = PI / 90.0;

/// A closed region of the plane: convex pieces, and an outline to draw. A circle is one point with a radius, so
/// it is measured exactly; all other shapes have radius 0.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    pieces: Vec<Vec<P2>>,
    piece_bounds: Vec<Bounds>,
    radius: f64,
    outline: Polygon,
    bounds: Bounds,
}

impl Shape {
    /// The area of a polygon.
    pub fn polygon(p: Polygon) -> Shape {
        let pieces = p.convex_pieces();
        Shape::from_parts(p, pieces, 0.0)
    }

    /// A rectangle of `size` along x and y, then turned anticlockwise about its centre by `turn` radians.
    pub fn rect(centre: P2, size: V2, turn: f64) -> Result<Shape, OutlineFault> {
        if size.x <= 0.0 || size.y <= 0.0 {
            return Err(OutlineFault::NoArea);
        }
        let (w, d) = (size.x / 2.0, size.y / 2.0);
        let corners = [(-w, -d), (w, -d), (w, d), (-w, d)].map(|(x, y)| centre + rotate(V2::new(x, y), turn));
        Polygon::new(corners.to_vec()).map(Shape::polygon)
    }

    /// A circle. Its outline is the regular 64-gon drawn about it.
    pub fn round(centre: P2, diameter: f64) -> Result<Shape, OutlineFault> {
        let radius = diameter / 2.0;
        if radius <= 0.0 {
            return Err(OutlineFault::NoArea);
        }
        let outline = Polygon::new(polygon_about(centre, V2::x(), radius, CIRCLE_CORNERS))?;
        Ok(Shape::from_parts(outline, vec![vec![centre]], radius))
    }

    /// The convex hull of some points.
    pub fn hull(points: &[P2]) -> Result<Shape, OutlineFault> {
        if let Some(i) = points.iter().position(|p| !(p.x.is_finite() && p.y.is_finite())) {
            return Err(OutlineFault::NotFinite(i));
        }
        if points.len() < 3 {
            return Err(OutlineFault::TooFew(points.len()));
        }
        let points: geo::MultiPoint<f64> = points.iter().map(|p| (p.x, p.y)).collect();
        let mut ring: Vec<P2> = points.convex_hull().exterior().coords().map(|c| P2::new(c.x, c.y)).collect();
        ring.pop();
        ring.dedup_by(|a, b| (*a - *b).norm() <= NOISE_MM);
        if ring.len() > 1 && (ring[0] - ring[ring.len() - 1]).norm() <= NOISE_MM {
            ring.pop();
        }
        if ring.len() < 3 {
            return Err(OutlineFault::NoArea);
        }
        Polygon::new(ring).map(Shape::polygon)
    }

    /// A sector of a circle about `at`: from the ray along `from_dir`, `sweep` radians anticlockwise (a full circle
    /// from 2 pi on), as far as `reach`. The arc is replaced by chords about it, at most 2 degrees a chord, so the
    /// shape holds the true sector. The straight sides end at exactly `reach`.
    pub fn sector(at: P2, from_dir: V2, sweep: f64, reach: f64) -> Result<Shape, OutlineFault> {
        let Some(from) = from_dir.try_normalize(0.0) else {
            return Err(OutlineFault::NoArea);
        };
        if sweep.is_nan() || !reach.is_finite() || sweep <= 0.0 || reach <= 0.0 {
            return Err(OutlineFault::NoArea);
        }
        if sweep >= TAU - 1e-9 {
            let ring = polygon_about(at, from, reach, (TAU / CHORD).round() as usize);
            return Polygon::new(ring).map(Shape::polygon);
        }
        let chords = (sweep / CHORD - 1e-9).ceil().max(1.0);
        let step = sweep / chords;
        let far = reach / (step / 2.0).cos();
        let mut arc = vec![at + from * reach];
        arc.extend((0..chords as usize).map(|i| at + rotate(from, (i as f64 + 0.5) * step) * far));
        arc.push(at + rotate(from, sweep) * reach);
        let fan = |part: &[P2]| std::iter::once(at).chain(part.iter().copied()).collect::<Vec<_>>();
        let outline = Polygon::new(fan(&arc))?;
        if sweep <= PI {
            let whole = outline.points().to_vec();
            return Ok(Shape::from_parts(outline, vec![whole], 0.0));
        }
        let half = arc.len() / 2;
        let pieces = vec![fan(&arc[..=half]), fan(&arc[half..])];
        Ok(Shape::from_parts(outline, pieces, 0.0))
    }

    /// The outline, for drawing; of a circle the 64-gon about it.
    pub fn outline(&self) -> &Polygon {
        &self.outline
    }

    /// Convex pieces, anticlockwise. A circle has one piece, its centre.
    pub fn pieces(&self) -> &[Vec<P2>] {
        &self.pieces
    }

    /// How far the shape reaches beyond its pieces: the radius of a circle, else 0.
    pub fn radius(&self) -> f64 {
        self.radius
    }

    /// The bounding box of the shape itself.
    pub fn bounds(&self) -> Bounds {
        self.bounds
    }

    /// This shape, given in the frame's coordinates, in world coordinates.
    pub fn place(&self, f: &Frame) -> Shape {
        self.mapped(|p| f.to_world(p))
    }

    /// The shape moved.
    pub fn shifted(&self, by: V2) -> Shape {
        self.mapped(|p| p + by)
    }

    /// Is the point inside or, within noise, on the edge?
    pub fn contains(&self, p: P2) -> bool {
        point_gap(p, self).mm <= NOISE_MM
    }

    /// The bounding boxes of the pieces, radius included.
    pub(super) fn piece_bounds(&self) -> &[Bounds] {
        &self.piece_bounds
    }

    fn from_parts(outline: Polygon, pieces: Vec<Vec<P2>>, radius: f64) -> Shape {
        let piece_bounds: Vec<Bounds> = pieces.iter().map(|p| Bounds::of(p).grow(radius)).collect();
        let bounds = piece_bounds.iter().skip(1).fold(piece_bounds[0], |b, p| b.union(p));
        Shape { pieces, piece_bounds, radius, outline, bounds }
    }

    fn mapped(&self, f: impl Fn(P2) -> P2) -> Shape {
        let ring = |r: &[P2]| r.iter().map(|p| f(*p)).collect::<Vec<_>>();
        let pieces = self.pieces.iter().map(|p| ring(p)).collect();
        Shape::from_parts(Polygon::known(ring(self.outline.points())), pieces, self.radius)
    }
}

/// The regular polygon whose sides touch a circle; the middle of the side before its first corner lies along `from`.
pub fn polygon_about(centre: P2, from: V2, radius: f64, corners: usize) -> Vec<P2> {
    let step = TAU / corners as f64;
    let far = radius / (step / 2.0).cos();
    (0..corners).map(|i| centre + rotate(from, (i as f64 + 0.5) * step) * far).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::twice_area;

    #[test]
    fn rectangles() {
        let s = Shape::rect(P2::new(10.0, 20.0), V2::new(4.0, 2.0), PI / 2.0).unwrap();
        assert_eq!(s.bounds(), Bounds { min: P2::new(9.0, 18.0), max: P2::new(11.0, 22.0) });
        assert_eq!(s.outline().area(), 8.0);
        assert!(s.contains(P2::new(9.0, 18.0)) && !s.contains(P2::new(8.9, 18.0)));
        assert_eq!(Shape::rect(P2::origin(), V2::new(0.0, 2.0), 0.0), Err(OutlineFault::NoArea));
        assert!(Shape::rect(P2::origin(), V2::new(f64::NAN, 2.0), 0.0).is_err());
    }

    #[test]
    fn circles_are_exact_and_drawn_from_outside() {
        let s = Shape::round(P2::new(5.0, 5.0), 20.0).unwrap();
        assert_eq!(s.bounds(), Bounds { min: P2::new(-5.0, -5.0), max: P2::new(15.0, 15.0) });
        // A regular 64-gon about a circle of radius r has area 64 r² tan(pi / 64): never less than the circle,
        // where GEOS's own 64-gon of radius 10 is inscribed, 313.6548.
        let about = s.outline().area();
        assert!((about - 6400.0 * (PI / 64.0).tan()).abs() < 1e-9);
        assert!(about > PI * 100.0);
        assert_eq!(Shape::round(P2::origin(), 0.0), Err(OutlineFault::NoArea));
        assert!(Shape::round(P2::origin(), f64::NAN).is_err());
    }

    #[test]
    fn hulls() {
        let l = [(0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (2.0, 2.0), (2.0, 6.0), (0.0, 6.0)]
            .map(|p| P2::new(p.0, p.1));
        // GEOS: hull of this L has area 28.
        assert_eq!(Shape::hull(&l).unwrap().outline().area(), 28.0);
        let line = [(0.0, 0.0), (6.0, 0.0), (3.0, 0.0)].map(|p| P2::new(p.0, p.1));
        assert_eq!(Shape::hull(&line), Err(OutlineFault::NoArea));
        assert_eq!(Shape::hull(&[P2::origin(); 5]), Err(OutlineFault::NoArea));
    }

    #[test]
    fn sectors_hold_the_true_sector() {
        let at = P2::new(100.0, 50.0);
        for degrees in [1.0f64, 45.0, 90.0, 180.0, 181.0, 270.0, 359.0, 360.0] {
            let sweep = degrees.to_radians();
            let s = Shape::sector(at, V2::new(0.0, 2.0), sweep, 5000.0).unwrap();
            let on = |a: f64| at + rotate(V2::y(), a) * 5000.0;
            assert!((0..=1000).all(|i| s.contains(on(sweep * i as f64 / 1000.0))), "{degrees}");
            let area = 5000.0f64.powi(2) * sweep / 2.0;
            let about = s.outline().area();
            assert!(about > area && about < area * 1.0002, "{degrees}: {about} {area}");
            let sum: f64 = s.pieces().iter().map(|p| twice_area(p) / 2.0).sum();
            assert!((sum - about).abs() < 1e-3);
            if degrees < 360.0 {
                for end in [on(0.0), on(sweep)] {
                    assert!(s.outline().points().iter().any(|p| (p - end).norm() < 1e-9));
                }
            }
        }
        assert!(Shape::sector(at, V2::x(), 0.0, 10.0).is_err());
        assert!(Shape::sector(at, V2::x(), 1.0, f64::INFINITY).is_err());
        assert!(Shape::sector(at, V2::zeros(), 1.0, 10.0).is_err());
    }

    #[test]
    fn placed_and_shifted() {
        let s = Shape::rect(P2::new(1.0, 0.0), V2::new(2.0, 2.0), 0.0).unwrap();
        let f = Frame::heading(P2::new(100.0, 100.0), 0.0);
        assert_eq!(s.place(&f).bounds(), Bounds { min: P2::new(99.0, 100.0), max: P2::new(101.0, 102.0) });
        assert_eq!(s.shifted(V2::new(0.0, 9.0)).bounds().min, P2::new(0.0, 8.0));
    }
}
