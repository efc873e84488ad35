//! What of areas and lines lies inside an outline, through the geometry crate.

use geo::BooleanOps;
use geo::algorithm::bool_ops::unary_union;

use super::P2;
use super::polygon::{line_of, to_geo};
use super::union::{is_sliver, ring};

/// An outline, anticlockwise, and the holes in it, clockwise; none closed by repetition.
#[derive(Clone, Debug, PartialEq)]
pub struct Patch {
    pub outline: Vec<P2>,
    pub holes: Vec<Vec<P2>>,
}

/// The part of the union of some convex pieces, each anticlockwise, that lies inside an outline. Points may move by
/// some 1e-5 mm in a bay.
pub fn union_within(pieces: &[Vec<P2>], inside: &[P2]) -> Vec<Patch> {
    let pieces: Vec<geo::Polygon<f64>> = pieces.iter().filter(|p| p.len() >= 3).map(|p| to_geo(p)).collect();
    let all = unary_union(&pieces).intersection(&to_geo(inside));
    let patch = |p: &geo::Polygon<f64>| Patch {
        outline: ring(p.exterior(), true),
        holes: p.interiors().iter().map(|h| ring(h, false)).filter(|h| !is_sliver(h)).collect(),
    };
    all.iter().map(patch).filter(|p| !is_sliver(&p.outline)).collect()
}

/// The parts of lines that lie inside an outline.
pub fn lines_within(lines: &[Vec<P2>], inside: &[P2]) -> Vec<Vec<P2>> {
    let lines = geo::MultiLineString::new(lines.iter().map(|l| line_of(l)).collect());
    let parts = to_geo(inside).clip(&lines, false);
    parts.iter().map(|l| l.coords().map(|c| P2::new(c.x, c.y)).collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::twice_area;

    fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<P2> {
        vec![P2::new(x0, y0), P2::new(x1, y0), P2::new(x1, y1), P2::new(x0, y1)]
    }

    fn area(patch: &Patch) -> f64 {
        let rings = std::iter::once(&patch.outline).chain(&patch.holes);
        rings.map(|r| twice_area(r) / 2.0).sum()
    }

    #[test]
    fn pieces_are_joined_and_cut_off_at_the_outline() {
        // four bars about a hole of 7 by 7; the outline keeps x from 5 on: half of everything
        let bars = [
            rect(0.0, 0.0, 10.0, 1.5),
            rect(0.0, 8.5, 10.0, 10.0),
            rect(0.0, 0.0, 1.5, 10.0),
            rect(8.5, 0.0, 10.0, 10.0),
        ];
        let whole = union_within(&bars, &rect(-1.0, -1.0, 20.0, 20.0));
        assert_eq!((whole.len(), whole[0].holes.len()), (1, 1));
        assert!((area(&whole[0]) - 51.0).abs() < 1e-6);
        let half = union_within(&bars, &rect(5.0, -1.0, 20.0, 20.0));
        assert_eq!((half.len(), half[0].holes.len()), (1, 0));
        assert!((area(&half[0]) - 25.5).abs() < 1e-6);
        assert!(union_within(&bars, &rect(20.0, 0.0, 30.0, 10.0)).is_empty());
        assert!(union_within(&[], &rect(0.0, 0.0, 1.0, 1.0)).is_empty());
    }

    #[test]
    fn lines_end_at_the_outline_and_go_on_behind_a_bay() {
        // a U open at the top: a line across it at y 5 lies inside in both arms
        let u =
            [(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (6.0, 9.0), (6.0, 3.0), (3.0, 3.0), (3.0, 9.0), (0.0, 9.0)];
        let u: Vec<P2> = u.iter().map(|(x, y)| P2::new(*x, *y)).collect();
        let mut parts = lines_within(&[vec![P2::new(-5.0, 5.0), P2::new(20.0, 5.0)]], &u);
        parts.sort_by(|a, b| a[0].x.min(a[1].x).total_cmp(&b[0].x.min(b[1].x)));
        let spans: Vec<(f64, f64)> = parts.iter().map(|p| (p[0].x.min(p[1].x), p[0].x.max(p[1].x))).collect();
        assert_eq!(spans.len(), 2);
        for ((a, b), (x, y)) in spans.iter().zip([(0.0, 3.0), (6.0, 9.0)]) {
            assert!((a - x).abs() < 1e-6 && (b - y).abs() < 1e-6, "{spans:?}");
        }
    }
}
