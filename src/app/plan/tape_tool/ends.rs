//! What a tape may run between on the plan: named points, outlines of things, and places of the floor.

use crate::app::state::view_state::TapeEnd;
use crate::geometry::{P2, Shape, V2, segment_gap};
use crate::layout::Layout;
use crate::layout::body::wheel_face;
use crate::model::Item;
use crate::model::language::Corner;

/// The named points of a layout that a tape can be held to, in bay axes.
pub(super) fn points(layout: &Layout, setup: Option<usize>) -> Vec<(P2, String)> {
    let bay = &layout.bundle.bay;
    let mut all: Vec<(P2, String)> = Vec::new();
    for (i, p) in bay.floor.points.iter().enumerate() {
        all.push((P2::new(p.0, p.1), format!("corner {i}")));
    }
    for door in &bay.doorways {
        let Some((a, b)) = bay.floor.side(door.side.index) else { continue };
        let (a, b) = (P2::new(a.0, a.1), P2::new(b.0, b.1));
        let Some(way) = (b - a).try_normalize(0.0) else { continue };
        all.push((a + way * door.from, format!("{} from", door.name)));
        all.push((a + way * (door.from + door.width), format!("{} to", door.name)));
    }
    all.extend(bay.points.iter().map(|(name, p)| (P2::new(p.x, p.y), name.to_string())));
    for (i, setup_of) in layout.setups.iter().enumerate() {
        if setup.is_none_or(|only| only == i) {
            let placed =
                setup_of.marks.iter().filter_map(|m| Some((*m.at.as_ref().ok()?, m.name.to_string())));
            all.extend(placed);
        }
    }
    let vehicle = &layout.bundle.vehicle;
    let frame = layout.frame();
    let wheels = [
        (Corner::FrontLeft, "front left wheel"),
        (Corner::FrontRight, "front right wheel"),
        (Corner::RearLeft, "rear left wheel"),
        (Corner::RearRight, "rear right wheel"),
    ];
    all.extend(wheels.map(|(corner, name)| (frame.to_world(wheel_face(vehicle, corner)), name.to_owned())));
    for thing in &layout.stage.things {
        for piece in thing.solid.shape.pieces().iter().filter(|piece| piece.len() > 2) {
            all.extend(piece.iter().map(|p| (*p, format!("corner of {}", thing.name))));
        }
    }
    all
}

/// The outline of something, in bay axes; empty of what has none.
pub(super) fn outline(layout: &Layout, of: &Item) -> Vec<Shape> {
    let things = layout.stage.things.iter().filter(|t| t.item().item() == *of);
    let shapes: Vec<Shape> = things.map(|t| t.solid.shape.clone()).collect();
    if shapes.is_empty() && *of == Item::only(crate::model::ItemKind::Vehicle) {
        return layout.body.hull.iter().chain(&layout.body.mirrors).map(|s| s.shape.clone()).collect();
    }
    shapes
}

/// Where the tape lies: from point to point as they are, to and from an outline where it is shortest.
pub(super) fn laid(layout: &Layout, a: &TapeEnd, b: &TapeEnd) -> (P2, P2) {
    let sides = |end: &TapeEnd| match &end.outline {
        None => vec![(end.at, end.at)],
        Some(item) => outline(layout, item).iter().flat_map(edges).collect(),
    };
    let (of_a, of_b) = (sides(a), sides(b));
    let pairs = of_a.iter().flat_map(|s| of_b.iter().map(move |t| segment_gap(s.0, s.1, t.0, t.1)));
    let nearest = pairs.min_by(|g, h| g.mm.total_cmp(&h.mm));
    nearest.map_or((a.at, b.at), |gap| (gap.a, gap.b))
}

fn edges(shape: &Shape) -> Vec<(P2, P2)> {
    let points: Vec<P2> = shape.outline().points().to_vec();
    (0..points.len()).map(|i| (points[i], points[(i + 1) % points.len()])).collect()
}

/// Its parts across and along the bay, mm.
pub(super) fn parts(from: P2, to: P2) -> V2 {
    to - from
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::open_job;

    #[test]
    fn a_tape_runs_from_point_to_point_and_between_outlines_where_it_is_shortest() {
        let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
        let opened = open_job(&root.join("demo/jobs/fennel-van-radar.ron")).unwrap();
        let layout = Layout::new(&opened.bundle).unwrap();
        let all = points(&layout, None);
        let at = |name: &str| all.iter().find(|p| p.1 == name).unwrap_or_else(|| panic!("{name}")).0;
        assert_eq!((at("corner 2"), at("roller door to")), (P2::new(7000.0, 13_200.0), P2::new(5250.0, 0.0)));
        assert!(
            all.iter().any(|p| p.1 == "rear left wheel") && all.iter().any(|p| p.1 == "corner of workbench")
        );
        let item = |name: &str| layout.stage.things.iter().find(|t| &*t.name == name).unwrap().item().item();
        let end = |name: &str| TapeEnd { at: P2::origin(), name: name.into(), outline: Some(item(name)) };
        // the bench's front lies at x 700, the post's left side at 1425; both stand beside y 8000 only just not: the
        // bench from 8000, the post to 7775
        let (a, b) = laid(&layout, &end("workbench"), &end("two-post post 1"));
        assert_eq!((a, b), (P2::new(700.0, 8000.0), P2::new(1425.0, 7775.0)));
        assert_eq!(parts(a, b), V2::new(725.0, -225.0));
        let corner = TapeEnd { at: at("corner 3"), name: "corner 3".into(), outline: None };
        let (a, b) = laid(&layout, &corner, &end("tool cabinet"));
        // from (0, 13200) to the box from (1450, 12700) to (2050, 13200)
        assert_eq!((a, b), (P2::new(0.0, 13_200.0), P2::new(1450.0, 13_200.0)));
    }
}
