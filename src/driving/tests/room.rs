//! How much room a way in is told to have: never less because less is asked.

use super::bays::{box_car_at, driven, none_with};
use crate::driving::WhyNot;
use crate::driving::{Answer, drive_in};

/// A lane 6 m by 14 m with a doorway in the middle of its near side and an apron as wide.
fn lane(door: f64) -> String {
    let (a, b) = (3000.0 - door / 2.0, 3000.0 + door / 2.0);
    format!(
        r#"(name: "lane", floor: [(0, 0), (6000, 0), (6000, 14000), (0, 14000)], ceiling: 4500,
            doorways: [(name: "door", side: 0, from: {a:?}, width: {door:?}, height: 3000,
                        apron: [({a:?}, -7000), ({b:?}, -7000), ({b:?}, 0), ({a:?}, 0)])])"#
    )
}

/// The room told; the vehicle is 2000 over its mirrors.
fn room(door: f64, pose: (f64, f64, f64), run: f64) -> f64 {
    let layout = box_car_at(&lane(door), pose, &format!("straight_run: {run:?}"));
    match drive_in(&layout, &|| false).unwrap().answer {
        Answer::Path(path) => path.tightest.margin,
        other => panic!("{door} {pose:?} {run}: {other:?}"),
    }
}

/// What a search may fall short of its best, mm.
const SLACK: f64 = 10.0;

const PLACES: [(f64, f64, f64); 4] =
    [(3300.0, 5000.0, 0.0), (3500.0, 6500.0, 0.0), (2600.0, 7000.0, 180.0), (3900.0, 9000.0, 8.0)];

#[test]
fn a_narrower_door_never_has_more_room() {
    for place in PLACES {
        let rooms: Vec<f64> =
            [2340.0, 2380.0, 2400.0, 2500.0, 2700.0].iter().map(|d| room(*d, place, 2000.0)).collect();
        assert!(rooms.windows(2).all(|w| w[1] >= w[0] - SLACK), "{place:?}: {rooms:?}");
        assert!(rooms[0] > 0.0, "{place:?}: {rooms:?}");
    }
}

#[test]
fn a_longer_straight_run_never_has_more_room() {
    for place in PLACES {
        let rooms: Vec<f64> =
            [0.0, 500.0, 1000.0, 2000.0, 3000.0].iter().map(|run| room(2400.0, place, *run)).collect();
        assert!(rooms.windows(2).all(|w| w[0] >= w[1] - SLACK), "{place:?}: {rooms:?}");
    }
}

#[test]
fn room_that_is_there_is_found() {
    // straight through the middle leaves (2400 - 2000) / 2 beside each mirror, and no way has more
    for run in [500.0, 2000.0, 3000.0] {
        let found = room(2400.0, (3300.0, 5000.0, 0.0), run);
        assert!((180.0..=200.0 + 1e-6).contains(&found), "{run}: {found}");
    }
}

#[test]
fn only_the_straight_run_is_in_the_way() {
    let bay = lane(2600.0);
    let place = (4200.0, 7500.0, 0.0);
    let none = none_with(&bay, place, "straight_run: 8000");
    assert_eq!(none.why, WhyNot::NoStraightRun(8000.0));
    assert!(none.tightest.is_none());
    assert!(driven(&bay, place, "straight_run: 0").path().is_some());
    // where there is none either way, the thing is named
    let narrow = none_with(&lane(1900.0), (3000.0, 7500.0, 0.0), "straight_run: 1000");
    assert!(
        matches!(&narrow.why, WhyNot::Blocked(t) if &**t.still.name() == "door jamb" && t.depth.is_some()),
        "{:?}",
        narrow.why
    );
}
