//! How far a shape stays before a stretch of wall, or reaches through it.

use super::clip::cut;
use super::convex::convex_gap;
use super::depth::depth;
use super::{Gap, NOISE_MM, P2, Shape, V2};

/// The gap between a shape and the stretch of wall from `a` to `b`, whose room lies on the side of `inward` (length 1).
///
/// Before the stretch, beside it or behind it: the plan distance. Where the stretch passes through the shape's inside:
/// minus the depth, square to the stretch, of the part of the shape that lies squarely behind it; `a` of the gap is
/// that part's deepest point and `b` where it is square to the stretch.
pub fn stretch_gap(s: &Shape, a: P2, b: P2, inward: V2) -> Gap {
    let wall = [a, b];
    let gaps = s.pieces().iter().map(|p| convex_gap(p, &wall, s.radius(), 0.0));
    let none = Gap { mm: f64::INFINITY, a, b: a };
    let nearest = gaps.fold(none, |least, g| if g.mm < least.mm { g } else { least });
    if !passes_through(s, a, b, nearest.mm) {
        return nearest;
    }
    let way = (b - a).normalize();
    let deepest = s.pieces().iter().filter_map(|p| deepest_behind(p, s.radius(), (a, b), way, inward));
    let beyond = deepest.fold(None, |most: Option<(f64, P2)>, d| match most {
        Some(m) if m.0 >= d.0 => Some(m),
        _ => Some(d),
    });
    match beyond {
        Some((mm, p)) => Gap { mm: -mm, a: p, b: p + inward * mm },
        None => nearest,
    }
}

/// Does the stretch pass through the inside of the shape, whose nearest piece has the gap `mm` to it? Pieces that meet
/// along the stretch each only touch it, and together have it inside.
pub(super) fn passes_through(s: &Shape, a: P2, b: P2, mm: f64) -> bool {
    if mm.abs() > NOISE_MM || s.pieces().len() == 1 {
        return mm < -NOISE_MM;
    }
    const HALF_MM: f64 = 50.0 * NOISE_MM;
    let Some(n) = V2::new(b.y - a.y, a.x - b.x).try_normalize(0.0).map(|n| n * HALF_MM) else {
        return false;
    };
    let thin = [vec![a + n, b + n, b - n, a - n]];
    depth(s.pieces(), &thin, s.radius(), 0.0).mm < -4.0 * HALF_MM
}

/// How deep the part of a piece (grown by `radius`, where it is a point) squarely behind the stretch reaches, and its
/// deepest point.
fn deepest_behind(piece: &[P2], radius: f64, (a, b): (P2, P2), way: V2, inward: V2) -> Option<(f64, P2)> {
    let behind = |p: P2| (-(p - a).dot(&inward), p);
    if let ([centre], true) = (piece, radius > 0.0) {
        let (along, length) = (way.dot(&(centre - a)), (b - a).norm());
        let off = along.clamp(0.0, length) - along;
        if off.abs() > radius {
            return None;
        }
        let reach = ((radius - off) * (radius + off)).sqrt();
        return Some(behind(centre + way * off - inward * reach));
    }
    let (inner, _) = cut(piece, a, -way);
    let (inner, _) = cut(&inner?, b, way);
    inner?.into_iter().map(behind).max_by(|p, q| p.0.total_cmp(&q.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Polygon, rotate};

    fn shape(points: &[(f64, f64)]) -> Shape {
        Shape::polygon(Polygon::new(points.iter().map(|p| P2::new(p.0, p.1)).collect()).unwrap())
    }

    /// A wall along x from 0 to 1000, the room above it.
    fn wall(s: &Shape) -> Gap {
        stretch_gap(s, P2::new(0.0, 0.0), P2::new(1000.0, 0.0), V2::y())
    }

    fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Shape {
        shape(&[(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    }

    #[test]
    fn before_beside_behind_and_through() {
        for (case, s, want) in [
            ("before it", rect(100.0, 30.0, 900.0, 500.0), 30.0),
            ("touching", rect(100.0, 0.0, 900.0, 500.0), 0.0),
            ("through it", rect(100.0, -40.0, 900.0, 500.0), -40.0),
            // 3-4-5 from the wall's end
            ("past its end", rect(1030.0, -800.0, 1500.0, -40.0), 50.0),
            ("beside its end", rect(1030.0, -800.0, 1500.0, 500.0), 30.0),
            ("wholly behind", rect(100.0, -800.0, 900.0, -70.0), 70.0),
            ("touching from behind", rect(100.0, -800.0, 900.0, 0.0), 0.0),
            ("about its end", rect(999.0, -800.0, 1500.0, 500.0), -800.0),
            // the corner at (1200, -400) is not squarely behind it; at x 1000 the slope is 200 deep
            ("a slope from it", shape(&[(800.0, 0.0), (1200.0, -400.0), (1200.0, 400.0)]), -200.0),
            ("a slope through it", shape(&[(700.0, 100.0), (1200.0, -400.0), (1200.0, 600.0)]), -200.0),
        ] {
            let g = wall(&s);
            assert!((g.mm - want).abs() < 1e-9, "{case}: {g:?}");
            assert!(((g.b - g.a).norm() - want.abs()).abs() < 1e-9, "{case}: {g:?}");
        }
        let round = |x: f64, y: f64| wall(&Shape::round(P2::new(x, y), 200.0).unwrap()).mm;
        assert_eq!(round(500.0, 130.0), 30.0);
        assert_eq!(round(500.0, 60.0), -40.0);
        // 60 past the end: square to it the disc reaches 80 below its middle
        assert!((round(1060.0, 20.0) + 60.0).abs() < 1e-9);
    }

    #[test]
    fn pieces_that_meet_along_the_wall_are_cut_by_it() {
        // a T whose bar ends where the wall is: cut into pieces along that line it must not be taken for touching
        let t = shape(&[
            (200.0, -300.0),
            (400.0, -300.0),
            (400.0, 0.0),
            (700.0, 0.0),
            (700.0, 200.0),
            (0.0, 200.0),
            (0.0, 0.0),
            (200.0, 0.0),
        ]);
        assert!((wall(&t).mm + 300.0).abs() < 1e-9, "{:?}", wall(&t));
        let touching = shape(&[(0.0, 0.0), (700.0, 0.0), (700.0, 500.0), (350.0, 200.0), (0.0, 500.0)]);
        assert!(wall(&touching).mm.abs() < 1e-9, "{:?}", wall(&touching));
    }

    #[test]
    fn the_same_however_it_is_turned() {
        let s = [(700.0, 100.0), (1200.0, -400.0), (1300.0, 300.0)];
        let plain = wall(&shape(&s)).mm;
        for turn in (0..360).map(|d| f64::from(d).to_radians()) {
            let at = |x: f64, y: f64| P2::from(rotate(V2::new(x, y), turn));
            let turned = Shape::polygon(Polygon::new(s.map(|p| at(p.0, p.1)).to_vec()).unwrap());
            let g = stretch_gap(&turned, at(0.0, 0.0), at(1000.0, 0.0), rotate(V2::y(), turn));
            assert!((g.mm - plain).abs() < 1e-6, "{turn}: {g:?} {plain}");
        }
    }
}
