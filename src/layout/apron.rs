//! What the apron of an open door adds to the edges of the usable floor.

use crate::geometry::{Line, NOISE_MM, P2, Polygon, segment_gap};

type Segment = (P2, P2);

/// Lines drawn by hand that are no farther apart than this are one line, mm.
const ONE_LINE: f64 = 1.0;

/// The apron's own outline where it lies neither in the doorway (`gate`) nor over the floor, and those stretches of the
/// doorway that the apron does not reach.
pub(super) fn edges(apron: &Polygon, floor: &Polygon, gate: Segment) -> Vec<Segment> {
    let in_gate = |p: P2| segment_gap(p, p, gate.0, gate.1).mm <= ONE_LINE;
    let mut edges = Vec::new();
    for side in apron.edges() {
        let parts = split(side, floor.edges().chain([gate]));
        edges.extend(parts.filter(|part| {
            let middle = middle(part);
            !in_gate(middle) && (!floor.contains(middle) || off_outline(floor, middle) <= ONE_LINE)
        }));
    }
    let bare = split(gate, apron.edges()).filter(|part| {
        let middle = middle(part);
        !apron.contains(middle) && off_outline(apron, middle) > ONE_LINE
    });
    edges.extend(bare);
    edges
}

/// The apron with the points beside the door's line put on it, so that no crack is left between it and the floor.
pub(super) fn snapped(apron: &Polygon, gate: Segment) -> Polygon {
    let Some(line) = Line::through(gate.0, gate.1) else { return apron.clone() };
    let snap = |p: &P2| if line.offset(*p).abs() <= ONE_LINE { line.foot(*p) } else { *p };
    Polygon::new(apron.points().iter().map(snap).collect()).unwrap_or_else(|_| apron.clone())
}

fn middle((a, b): &Segment) -> P2 {
    nalgebra::center(a, b)
}

/// Distance of a point to the outline.
fn off_outline(polygon: &Polygon, p: P2) -> f64 {
    polygon.edges().map(|(a, b)| segment_gap(p, p, a, b).mm).fold(f64::INFINITY, f64::min)
}

/// The parts of a segment between the points where others meet it.
fn split((a, b): Segment, others: impl Iterator<Item = Segment>) -> impl Iterator<Item = Segment> {
    let length = (b - a).norm();
    let mut cuts = vec![0.0, length];
    if let Some(line) = Line::through(a, b) {
        for (p, q) in others {
            let ends = [p, q].into_iter().filter(|end| line.offset(*end).abs() <= ONE_LINE);
            let crossing = Line::through(p, q)
                .and_then(|other| line.crossing(&other))
                .filter(|x| segment_gap(*x, *x, p, q).mm <= ONE_LINE);
            cuts.extend(ends.chain(crossing).map(|at| (at - a).dot(&line.dir)));
        }
    }
    cuts.retain(|along| (0.0..=length).contains(along));
    cuts.sort_by(f64::total_cmp);
    let parts: Vec<Segment> = cuts
        .windows(2)
        .filter(|w| w[1] - w[0] > NOISE_MM)
        .map(|w| (a + (b - a) * (w[0] / length), a + (b - a) * (w[1] / length)))
        .collect();
    parts.into_iter()
}

#[cfg(test)]
mod tests {
    use super::*;

    // Floor above y 0, doorway from x 3000 to 7000 in its lower side.
    fn found(apron: &[(f64, f64)]) -> Vec<((f64, f64), (f64, f64))> {
        let polygon = |points: &[(f64, f64)]| {
            Polygon::new(points.iter().map(|p| P2::new(p.0, p.1)).collect()).expect("a simple outline")
        };
        let floor = polygon(&[(0.0, 0.0), (10000.0, 0.0), (10000.0, 9000.0), (0.0, 9000.0)]);
        let gate = (P2::new(3000.0, 0.0), P2::new(7000.0, 0.0));
        let mut edges: Vec<_> = edges(&polygon(apron), &floor, gate)
            .iter()
            .map(|(a, b)| ((a.x.min(b.x), a.y.min(b.y)), (a.x.max(b.x), a.y.max(b.y))))
            .collect();
        edges.sort_by(|a, b| a.partial_cmp(b).expect("numbers"));
        edges
    }

    #[test]
    fn an_apron_as_wide_as_the_doorway_is_open_to_the_floor() {
        assert_eq!(
            found(&[(3000.0, -2000.0), (7000.0, -2000.0), (7000.0, 0.0), (3000.0, 0.0)]),
            [
                ((3000.0, -2000.0), (3000.0, 0.0)),
                ((3000.0, -2000.0), (7000.0, -2000.0)),
                ((7000.0, -2000.0), (7000.0, 0.0))
            ]
        );
    }

    #[test]
    fn a_narrower_apron_leaves_the_rest_of_the_doorway_an_edge() {
        let edges = found(&[(3500.0, -2000.0), (6000.0, -2000.0), (6000.0, 0.0), (3500.0, 0.0)]);
        assert_eq!(edges.len(), 5);
        assert!(
            edges.contains(&((3000.0, 0.0), (3500.0, 0.0)))
                && edges.contains(&((6000.0, 0.0), (7000.0, 0.0)))
        );
    }

    #[test]
    fn a_wider_apron_keeps_its_edge_beside_the_doorway() {
        let edges = found(&[(2000.0, -2000.0), (8000.0, -2000.0), (8000.0, 0.0), (2000.0, 0.0)]);
        assert_eq!(edges.len(), 5);
        assert!(
            edges.contains(&((2000.0, 0.0), (3000.0, 0.0)))
                && edges.contains(&((7000.0, 0.0), (8000.0, 0.0)))
        );
    }

    #[test]
    fn what_is_drawn_over_the_floor_bounds_nothing() {
        // reaches 200 into the bay, and is narrower than the doorway
        let edges = found(&[(3500.0, -2000.0), (6000.0, -2000.0), (6000.0, 200.0), (3500.0, 200.0)]);
        assert_eq!(
            edges,
            [
                ((3000.0, 0.0), (3500.0, 0.0)),
                ((3500.0, -2000.0), (3500.0, 0.0)),
                ((3500.0, -2000.0), (6000.0, -2000.0)),
                ((6000.0, -2000.0), (6000.0, 0.0)),
                ((6000.0, 0.0), (7000.0, 0.0)),
            ]
        );
    }

    #[test]
    fn an_apron_that_stops_short_of_the_door_is_not_joined() {
        let edges = found(&[(3000.0, -2000.0), (7000.0, -2000.0), (7000.0, -2.0), (3000.0, -2.0)]);
        assert_eq!(edges.len(), 5);
        assert!(edges.contains(&((3000.0, 0.0), (7000.0, 0.0))));
        // within a millimetre it is one line
        let joined = found(&[(3000.0, -2000.0), (7000.0, -2000.0), (7000.0, -0.5), (3000.0, -0.5)]);
        assert_eq!(joined.len(), 3);
    }
}
