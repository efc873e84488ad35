//! Where the floor lets the vehicle stand, on a floor worked out by hand; no outside source is needed.

use baywright::geometry::{Bounds, P2, Patch};
use baywright::layout::Layout;
use baywright::siting::{Even, even};

use crate::bays::Parts;

/// A bay of 6000 by 12000, even up to y 8000 and rising by 10 mm per m from there.
const RISING: &str = r#"(name: "Rising", floor: [(0, 0), (6000, 0), (6000, 12000), (0, 12000)],
    heights: [(0, 0, 0), (6000, 0, 0), (0, 8000, 0), (6000, 8000, 0), (0, 12000, 40), (6000, 12000, 40)])"#;
/// A board 3000 ahead of the front axle, on floor within 5 mm of the wheels' plane.
const AHEAD: &str = r#"(name: "Ahead", setups: [(name: "Ahead",
    marks: [("X", Along(line: Centre, from: "front axle", by: 3000))],
    stations: [(name: "board", target: "board", at: "X", looks: Backward, height: Floor(300))],
    level: (within: 5, over: Stations))])"#;
const SHOP: &str = r#"(name: "Shop", targets: {"board": (kind: Board, face: (width: 600, height: 800, thickness: 40), owned: 2)})"#;

fn look(bay: &str, procedure: &str, region: &[Vec<P2>]) -> Option<Even> {
    let mut parts = Parts::alone(bay, 0.0);
    parts.equipment = SHOP.into();
    parts.procedures = vec![procedure.into()];
    let layout = Layout::new(&parts.bundle()).unwrap_or_else(|e| panic!("{e:?}"));
    even(&layout, region, &|| false)
}

fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<P2> {
    vec![P2::new(x0, y0), P2::new(x1, y0), P2::new(x1, y1), P2::new(x0, y1)]
}

fn box_of(patches: &[Patch]) -> Bounds {
    Bounds::of(patches.iter().flat_map(|p| p.outline.iter().copied()).collect::<Vec<_>>())
}

#[test]
fn the_board_may_stand_half_a_metre_up_the_slope() {
    // the wheels stand even up to y 8000; the board, 3000 ahead, is y + 3000 - 8000 up the slope: 5 mm at y 5500.
    // All four tyres are on the survey from y 2500 (wheelbase) and x 750 (half the track) on.
    let found = look(RISING, AHEAD, &[]).unwrap();
    let about = box_of(&found.patches);
    assert!((about.max.y - 5500.0).abs() < 0.01, "{about:?}");
    assert!((2500.0..2500.0 + found.pitch).contains(&about.min.y), "{about:?} {}", found.pitch);
    assert!((750.0..750.0 + found.pitch).contains(&about.min.x), "{about:?}");
    let (best, margin) = found.best.unwrap();
    assert!(
        (margin - 5.0).abs() < 1e-9 && best.y <= 5000.0,
        "all 5 mm are left on even floor: {best:?} {margin}"
    );
    assert!(!found.within);
}

#[test]
fn only_where_everything_else_fits() {
    // at y 5100 the board is 100 up the slope: 1 mm, 4 left; at y 5700 it is 7 mm: 2 short. 20 mm farther in the floor is
    // 0.2 mm worse, which nobody can tell, and the vehicle has that much room all round.
    for (from, left) in [(5100.0, 4.0), (5700.0, -2.0)] {
        let found = look(RISING, AHEAD, &[rect(2000.0, from, 3000.0, 6000.0)]).unwrap();
        let (best, margin) = found.best.unwrap();
        assert!(found.within && (from + 19.0..=from + 20.0).contains(&best.y), "{best:?}");
        assert!((margin - (left - 0.2)).abs() <= 0.011, "{margin}");
        assert!((2020.0..=2980.0).contains(&best.x), "{best:?}");
    }
    // a hole in the region is no place
    let hole: Vec<P2> = rect(1900.0, 4000.0, 3100.0, 5600.0).into_iter().rev().collect();
    let found = look(RISING, AHEAD, &[rect(1800.0, 3990.0, 3200.0, 6000.0), hole]).unwrap();
    let (best, margin) = found.best.unwrap();
    let in_the_hole = (1900.0..3100.0).contains(&best.x) && (4000.0..5600.0).contains(&best.y);
    assert!(!in_the_hole && (margin - 5.0).abs() < 1e-9, "{best:?} {margin}");
}

#[test]
fn a_region_between_the_places_of_the_grid() {
    // an angle whose box's middle is outside of it; a small place listed behind one where a tyre is off the survey
    let angle: Vec<P2> = [(3002, 4904), (3030, 4904), (3030, 4908), (3006, 4908), (3006, 4930), (3002, 4930)]
        .map(|(x, y)| P2::new(f64::from(x), f64::from(y)))
        .to_vec();
    for region in [vec![angle], vec![rect(302.0, 104.0, 312.0, 114.0), rect(3002.0, 4904.0, 3012.0, 4914.0)]]
    {
        let found = look(RISING, AHEAD, &region).unwrap();
        let (best, margin) = found.best.unwrap_or_else(|| panic!("{region:?}"));
        assert!((3002.0..=3030.0).contains(&best.x) && (margin - 5.0).abs() < 1e-9, "{best:?} {margin}");
    }
}

#[test]
fn without_a_survey_or_a_question_there_is_no_answer() {
    let bare = RISING.split(",\n    heights").next().unwrap().to_owned() + ")";
    assert_eq!(look(&bare, AHEAD, &[]), None);
    let unasked = AHEAD.replace(",\n    level: (within: 5, over: Stations)", "");
    assert_eq!(look(RISING, &unasked, &[]), None);
    // a board beyond the survey wherever the car stands: nothing is known, nothing is called even
    let far = AHEAD.replace("by: 3000", "by: 11000");
    let found = look(RISING, &far, &[]).unwrap();
    assert!(found.best.is_none() && found.patches.is_empty(), "{found:?}");
    let mut parts = Parts::alone(RISING, 0.0);
    parts.equipment = SHOP.into();
    parts.procedures = vec![AHEAD.into()];
    let layout = Layout::new(&parts.bundle()).unwrap();
    assert_eq!(even(&layout, &[], &|| true), None, "stopped");
}
