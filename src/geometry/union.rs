//! Unions of many polygons, through the geometry crate.

use geo::algorithm::bool_ops::unary_union;

use super::{P2, polygon::to_geo, twice_area};

/// The outlines of the union of some polygons: outer rings anticlockwise, holes clockwise, none closed by
/// repetition. Rings with fewer than three points are left out. The crate snaps points to a grid of about
/// a billionth of the whole extent, so points may move by some 1e-5 mm in a bay; what is left between two pieces by that
/// is left out too.
pub fn union_outlines(polys: &[Vec<P2>]) -> Vec<Vec<P2>> {
    let finite = |p: &P2| p.x.is_finite() && p.y.is_finite();
    let turned: Vec<geo::Polygon<f64>> = polys
        .iter()
        .filter(|r| r.len() >= 3 && r.iter().all(finite))
        .map(|r| {
            if twice_area(r) < 0.0 { to_geo(&r.iter().rev().copied().collect::<Vec<_>>()) } else { to_geo(r) }
        })
        .collect();
    let mut rings = Vec::new();
    for p in unary_union(&turned) {
        rings.push(ring(p.exterior(), true));
        rings.extend(p.interiors().iter().map(|h| ring(h, false)));
    }
    rings.retain(|r| !is_sliver(r));
    rings
}

/// Narrower than the crate's grid can tell from nothing: less than 2e-4 mm on average.
pub(super) fn is_sliver(ring: &[P2]) -> bool {
    let around: f64 = ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| (b - a).norm()).sum();
    twice_area(ring).abs() < 1e-4 * around
}

/// A ring of the crate as ours, in the direction asked for.
pub(super) fn ring(line: &geo::LineString<f64>, anticlockwise: bool) -> Vec<P2> {
    let mut points: Vec<P2> = line.coords().map(|c| P2::new(c.x, c.y)).collect();
    points.pop();
    if (twice_area(&points) > 0.0) != anticlockwise {
        points.reverse();
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<P2> {
        vec![P2::new(x0, y0), P2::new(x1, y0), P2::new(x1, y1), P2::new(x0, y1)]
    }

    #[test]
    fn a_frame_of_four_bars_has_a_hole() {
        let mut bars = [
            rect(0.0, 0.0, 9.0, 1.0),
            rect(0.0, 8.0, 9.0, 9.0),
            rect(0.0, 0.0, 1.0, 9.0),
            rect(8.0, 0.0, 9.0, 9.0),
        ];
        bars[2].reverse();
        let rings = union_outlines(&bars);
        let mut areas: Vec<f64> = rings.iter().map(|r| twice_area(r) / 2.0).collect();
        areas.sort_by(f64::total_cmp);
        assert_eq!(areas.len(), 2);
        assert!((areas[0] + 49.0).abs() < 1e-6 && (areas[1] - 81.0).abs() < 1e-6, "{areas:?}");
        assert!(union_outlines(&[]).is_empty());
    }

    #[test]
    fn a_gap_of_rounding_between_two_pieces_is_no_hole() {
        // as two runs of a swept outline left one: 570 long and 2e-5 wide
        let around =
            [rect(0.0, 0.0, 100.0, 9.0), rect(100.0 + 2e-5, 0.0, 200.0, 9.0), rect(0.0, -5.0, 200.0, 0.0)];
        let mut all = around.to_vec();
        all.push(rect(0.0, 9.0, 200.0, 14.0));
        let rings = union_outlines(&all);
        assert_eq!(rings.len(), 1, "{rings:?}");
        // one of a hundredth stays
        all[1] = rect(100.01, 0.0, 200.0, 9.0);
        assert_eq!(union_outlines(&all).len(), 2);
    }

    #[test]
    fn union_areas_agree_with_geos() {
        // GEOS 3.14.1: touching rectangles 12, sliver overlap 22, contained 100.
        let cases = [
            (rect(0.0, 0.0, 4.0, 2.0), rect(4.0, 1.0, 6.0, 3.0), 12.0),
            (rect(0.0, 0.0, 10.0, 2.0), rect(9.999, 0.5, 12.0, 1.5), 22.0),
            (rect(0.0, 0.0, 10.0, 10.0), rect(4.0, 4.0, 6.0, 6.0), 100.0),
        ];
        for (a, b, area) in cases {
            let sum: f64 = union_outlines(&[a, b]).iter().map(|r| twice_area(r) / 2.0).sum();
            assert!((sum - area).abs() < 1e-6, "{sum} {area}");
        }
    }
}
