//! Places the bay decides, case by case.

use std::sync::Arc;

use super::*;
use crate::layout::Stance;
use crate::model::Bundle;
use crate::model::reading::{FromFile, read_str};

const BAY: &str = r#"(
    name: "Hall", floor: [(0, 0), (10000, 0), (9000, 20000), (0, 18000)],
    installed: [(name: "rail", target: "board", at: (5200, 11300), turn: 170)],
    floor_lines: [(name: "line", points: [(500, 7000), (500, 7000), (9000, 6000)])],
)"#;
const CAR: &str = r#"(
    name: "Car", length: 4700, width: 1850, height: 1500, wheelbase: 2750, front_overhang: 950,
    track: (front: 1595, rear: 1595), tyre: (width: 225, diameter: 650), ground_clearance: 150,
)"#;
const SET: &str = r#"(name: "Set", targets: {"board": (kind: Board, face: (width: 600, height: 800, thickness: 40), owned: 1)})"#;
const PROCEDURE: &str = r#"(
    name: "P",
    setups: [(
        name: "S",
        marks: [("P", Place(line: Centre, from: "N", along: 5000, left: 300)), ("M", Along(line: Centre, from: "FA", by: 800))],
        stand_on: (mark: "M", floor_line: "line"),
        stations: [
            (name: "hung", target: "board", at: "P", looks: Backward, turn: 7, height: Floor(0), fixed_to: Wall),
            (name: "held", target: "board", at: "P", looks: Backward, height: Floor(0), anchor: (-40, 20), fixed_to: Bay("rail")),
        ],
    )],
)"#;
const JOB: &str = r#"(
    name: "J", bay: "b", vehicle: "v", equipment: "e", procedures: [(file: "p")], pose: At(x: 4800, y: 5200, heading: 3),
)"#;

fn read<T: FromFile>(text: &str) -> Arc<T> {
    Arc::new(read_str(text).expect("a value"))
}

fn layout() -> Layout {
    let bundle = Bundle {
        job: read(JOB),
        bay: read(BAY),
        vehicle: read(CAR),
        equipment: read(SET),
        procedures: vec![read(PROCEDURE)],
    };
    Layout::new(&bundle).expect("a layout")
}

fn all(layout: &Layout) -> Vec<Miss> {
    misses(layout, &layout.setups[0]).into_iter().map(|m| m.expect("known")).collect()
}

#[test]
fn a_shift_along_the_way_counts_in_full() {
    let here = layout();
    let before = all(&here);
    let axes: Vec<Axis> = before.iter().map(|m| m.axis).collect();
    assert_eq!(axes, [Axis::Along, Axis::Turn, Axis::Along, Axis::Across, Axis::Turn, Axis::Line]);
    for (i, miss) in before.iter().enumerate() {
        assert!(miss.allowed > 0.0 && miss.shops);
        let Some(way) = miss.way else {
            assert_eq!(miss.axis, Axis::Turn);
            continue;
        };
        assert!((way.norm() - 1.0).abs() < 1e-12);
        for d in [-40.0, 25.0] {
            let to = Stance { x: here.stance.x + d * way.x, y: here.stance.y + d * way.y, ..here.stance };
            let after = &all(&here.at(to))[i];
            assert!(
                (after.by - miss.by - d).abs() < 1e-6,
                "{:?} by {d}: {} to {}",
                miss.axis,
                miss.by,
                after.by
            );
        }
        // the shift that is left brings it right
        let to =
            Stance { x: here.stance.x - miss.by * way.x, y: here.stance.y - miss.by * way.y, ..here.stance };
        assert!(all(&here.at(to))[i].by.abs() < 1e-6, "{:?}", miss.axis);
        let (at, wanted) = miss.between;
        assert!(((wanted - at) + way * miss.by).norm() < 1e-6);
    }
}

#[test]
fn a_turn_of_the_vehicle_by_what_is_told_squares_it() {
    let here = layout();
    for (i, miss) in all(&here).iter().enumerate().filter(|(_, m)| m.axis == Axis::Turn) {
        let to = Stance { heading: here.stance.heading + miss.by, ..here.stance };
        assert!(all(&here.at(to))[i].by.abs() < 1e-9, "{}", miss.by);
    }
}
