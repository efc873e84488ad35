//! A small bay made by hand, and what its plan must show.

use std::sync::Arc;

use super::*;
use crate::checks::{Finding, Judgement, Outcome, RuleId, Verdict, check};
use crate::layout::Layout;
use crate::model::reading::{FromFile, read_str};
use crate::model::{Bundle, Equipment, Items, Job, Procedure, Vehicle, bay::Bay};

const BAY: &str = r#"(
    name: "Lean-to", floor: [(0, 0), (4400, 0), (4400, 9000), (3000, 9000), (3000, 10000), (0, 10000)], ceiling: 3600,
    walls: [(side: 1, name: "east wall")],
    doorways: [
        (name: "roller door", side: 0, from: 700, width: 3000, height: 2800,
         apron: [(700, -2000), (3700, -2000), (3700, 0), (700, 0)]),
        (name: "side door", side: 5, from: 1000, width: 900, height: 2000, leaf: Swing),
    ],
    fixtures: [
        (name: "bench", shape: Box(at: (4100, 6500), size: (600, 1800)), z: (0, 900)),
        (name: "trolley", shape: Box(at: (2300, 7900), size: (500, 700), turn: 20), z: (0, 900), surface: [Metal], movable: true),
        (name: "beam", shape: Box(at: (2200, 4000), size: (4400, 200)), z: (3000, 3200), surface: [Metal], overhead: true),
        (name: "lamp", shape: Box(at: (1200, 2500), size: (1200, 150)), z: (3300, 3350), surface: [Light], overhead: true),
        (name: "grate", shape: Round(at: (2200, 1200), diameter: 400), z: (0, 0), surface: [Metal, Drain]),
        (name: "pane", shape: Box(at: (40, 7000), size: (80, 1200)), z: (900, 1900), surface: [Glass]),
        (name: "drum", shape: Round(at: (600, 9300), diameter: 600), z: (0, 900)),
    ],
    lifts: [(name: "lift", posts: [Box(at: (300, 5200), size: (300, 300))], post_height: 3000,
             runways: [Box(at: (1500, 4000), size: (400, 3000))])],
    keep_clear: [(name: "switchboard", shape: Box(at: (3900, 8600), size: (800, 800)))],
)"#;

const VEHICLE: &str = r#"(
    name: "Test van <1>", length: 4200, width: 1700, height: 1800, wheelbase: 2500, front_overhang: 800,
    track: (front: 1450, rear: 1450), tyre: (width: 200, diameter: 620), ground_clearance: 160,
    mirrors: (width: 1950, behind_front_axle: 500, depth: 180, z: (900, 1100)),
    sensors: {"front radar": (kind: Radar, at: (780, 0, 500))},
)"#;

const EQUIPMENT: &str = r#"(
    name: "Two targets",
    targets: {
        "board": (kind: Board, face: (width: 700, height: 800, thickness: 40),
                  stand: Box(at: (-150, 0), size: (500, 600)), stand_height: 300, room_behind: 500, owned: 1),
        "mat": (kind: Mat, face: (width: 700, height: 2000), owned: 1),
    },
)"#;

const PROCEDURE: &str = r#"(
    name: "Ahead",
    setups: [
        (name: "Board", marks: [
            ("A", Under(Wheel(FrontLeft))),
            ("X", Along(line: Centre, from: "front axle", by: 3000)),
         ],
         stations: [(name: "board", target: "board", at: "X", looks: Backward, height: Floor(300))],
         zones: [
            (name: "field", shape: Strip(line: Centre, from: "nose", along: (0, 2600), across: 2000), z: (0, 2500), free_of: [Metal]),
            (name: "eyes only", shape: Lane(from: "nose", to: "X", width: 600), seen: true),
         ]),
        (name: "Mat", marks: [("M", Place(line: Centre, from: "front axle", along: -300, left: -1250))],
         stations: [(name: "mat", target: "mat", at: "M")],
         zones: [(name: "floor", shape: AroundVehicle(ahead: 300, behind: 300, left: 900, right: 900), free_of: [Pattern])]),
    ],
)"#;

const JOB: &str = r#"(
    name: "test", bay: "b", vehicle: "v", equipment: "e", procedures: [(file: "p")],
    pose: At(x: 2000, y: 4600, heading: 3), rear_toe: (left: 0.6, right: 0.2), doors_open: ["roller door"], cleared: ["drum"],
)"#;

fn read<T: FromFile>(text: &'static str) -> Arc<T> {
    Arc::new(read_str(text).unwrap())
}

pub(crate) fn bundle() -> Bundle {
    Bundle {
        job: read::<Job>(JOB),
        bay: read::<Bay>(BAY),
        vehicle: read::<Vehicle>(VEHICLE),
        equipment: read::<Equipment>(EQUIPMENT),
        procedures: vec![read::<Procedure>(PROCEDURE)],
    }
}

pub(crate) fn small() -> Layout {
    Layout::new(&bundle()).unwrap()
}

/// Findings made by hand, one of each kind that is drawn, so that pictures do not change with the rules.
pub(crate) fn found() -> Judgement {
    let finding =
        |rule, outcome, items: &[&str], have: f64, need: f64, from: (f64, f64), to: (f64, f64)| Finding {
            items: items.iter().map(|i| about(i)).collect(),
            have: Some(have),
            need: Some(need),
            margin: Some(have - need),
            witness: Some((P2::new(from.0, from.1), P2::new(to.0, to.1))),
            ..Finding::new(rule, outcome)
        };
    let unknown = Finding {
        setup: Some(0),
        items: vec![about("board")],
        missing: vec![crate::model::Lack::Named("distance".into())],
        ..Finding::new(RuleId::Measured, Outcome::Unknown)
    };
    Judgement {
        verdict: Verdict::DoesNotFit,
        margin: Some(-528.0),
        binding: Some(1),
        conditions: Vec::new(),
        ways: Vec::new(),
        missing: Vec::new(),
        findings: vec![
            finding(
                RuleId::VehicleClear,
                Outcome::Fail,
                &["vehicle", "bench"],
                470.0,
                600.0,
                (2790.0, 5400.0),
                (3800.0, 5600.0),
            ),
            finding(
                RuleId::ClearZone,
                Outcome::Movable,
                &["field", "trolley"],
                -528.0,
                0.0,
                (2050.0, 7700.0),
                (2540.0, 7960.0),
            ),
            finding(
                RuleId::KeepClear,
                Outcome::Tight,
                &["mat", "switchboard"],
                7.0,
                0.0,
                (3560.0, 8100.0),
                (3560.0, 8200.0),
            ),
            unknown,
        ],
    }
}

pub(crate) fn judged(layout: &Layout) -> Judgement {
    check(layout)
}

fn tags(scene: &Scene, role: Role) -> Vec<Option<Tag>> {
    scene.of_role(role).filter(|i| matches!(i, Item::Area { .. })).map(|i| i.tag().cloned()).collect()
}

fn thing(name: &str) -> Option<Tag> {
    Some(Tag::Thing(about(name)))
}

/// What the small job calls by this name.
pub(crate) fn about(name: &str) -> crate::model::Item {
    let items = Items::of(&bundle());
    items.called(name).next().unwrap_or_else(|| panic!("nothing is called {name}")).clone()
}

fn texts(scene: &Scene) -> Vec<&str> {
    let labels = scene.items.iter().filter_map(|i| match i {
        Item::Label { text, .. } | Item::Dimension { text, .. } => Some(&**text),
        _ => None,
    });
    labels.collect()
}

#[test]
fn every_thing_is_drawn_in_its_role() {
    let layout = small();
    let scene = plan(&layout, None, &Show::default());
    for (role, name) in [
        (Role::Fixture, "bench"),
        (Role::FixtureMovable, "trolley"),
        (Role::FixtureOverhead, "beam"),
        (Role::FixtureLight, "lamp"),
        (Role::FixtureFlush, "grate"),
        (Role::FixtureGlass, "pane"),
        (Role::FixtureCleared, "drum"),
        (Role::Post, "lift post 1"),
        (Role::KeepClear, "switchboard"),
        (Role::DoorShut, "side door"),
    ] {
        assert_eq!(tags(&scene, role), [thing(name)], "{role:?}");
    }
    for (role, count) in [
        (Role::Floor, 1),
        (Role::Apron, 1),
        (Role::Threshold, 2),
        (Role::DoorOpen, 1), // the open roller
        (Role::Swing, 1),
        (Role::Runway, 1),
        (Role::Body, 2), // outline and name
        (Role::BodyInner, 1),
        (Role::Mirror, 2),
        (Role::Tyre, 4),
        (Role::Axle, 2),
        (Role::CentreLine, 1),
        (Role::ThrustLine, 2), // line and name
        (Role::Sensor, 1),
        (Role::Foot, 1),
        (Role::Mat, 1),
        (Role::Room, 1),
        (Role::ZoneRadar, 2),
        (Role::ZoneSeen, 2),
        (Role::ZonePattern, 2),
        (Role::Mark, 6), // three dots, three letters
        (Role::Dimension, 2),
    ] {
        assert_eq!(scene.of_role(role).count(), count, "{role:?}");
    }
    let said = texts(&scene);
    for text in [
        "Test van <1>\n4\u{202f}200 × 1\u{202f}700 × 1\u{202f}800",
        "field\n2\u{202f}600 × 2\u{202f}000, to 2\u{202f}500 high",
        "roller door\n3\u{202f}000 × 2\u{202f}800, open",
        "beam, from 3\u{202f}000",
        "trolley, movable",
        "drum, cleared",
        "thrust line 0.20° right",
        "10\u{202f}000",
        "4\u{202f}400",
    ] {
        assert!(said.contains(&text), "{text:?} in {said:?}");
    }
}

#[test]
fn walls_leave_the_doorways_open_and_close_the_corners() {
    let scene = plan(&small(), None, &Show::default());
    let bands: Vec<&[P2]> = scene
        .of_role(Role::Wall)
        .filter_map(|i| match i {
            Item::Area { outline, .. } => Some(&outline[..]),
            _ => None,
        })
        .collect();
    // six sides, two of them broken by a doorway
    assert_eq!(bands.len(), 8);
    let covered = |x: f64, y: f64| {
        bands.iter().any(|b| crate::geometry::Polygon::new(b.to_vec()).unwrap().contains(P2::new(x, y)))
    };
    assert!(covered(-100.0, -100.0) && covered(4500.0, 9100.0), "outer corners");
    assert!(covered(3100.0, 9100.0) && covered(3075.0, 10100.0), "the step in the end wall");
    assert!(!covered(3200.0, 9300.0), "outside the step");
    assert!(!covered(2000.0, -75.0), "the roller door's opening");
    assert!(covered(600.0, -75.0) && covered(3800.0, -75.0), "beside it");
    // side 5 runs down from (0, 10000): the side door is from y = 9000 to y = 8100
    assert!(!covered(-75.0, 8500.0) && covered(-75.0, 9100.0) && covered(-75.0, 8000.0));
}

#[test]
fn only_the_setup_asked_for_is_drawn() {
    let layout = small();
    let one = Show { setup: Some(1), ..Show::default() };
    let scene = plan(&layout, Some(&judged(&layout)), &one);
    assert_eq!(scene.of_role(Role::Foot).count() + scene.of_role(Role::ZoneRadar).count(), 0);
    assert_eq!(scene.of_role(Role::Mat).count(), 1);
    let none = Show { setup: Some(9), ..Show::default() };
    assert_eq!(plan(&layout, None, &none).of_role(Role::Mat).count(), 0);
}

#[test]
fn what_fails_is_marked_with_its_two_points_and_its_figure() {
    let layout = small();
    let judgement = judged(&layout);
    let scene = plan(&layout, Some(&judgement), &Show::default());
    let mut marked = 0;
    for (i, f) in judgement.findings.iter().enumerate() {
        if !matches!(f.outcome, Outcome::Fail | Outcome::Movable) {
            continue;
        }
        let (a, b) = f.witness.unwrap();
        let found = scene.items.iter().any(|item| match item {
            Item::Dimension { a: p, b: q, tag, .. } => *tag == Some(Tag::Finding(i)) && (*p, *q) == (a, b),
            Item::Label { spot: Spot::Near(p), .. } => (p - a).norm() < 1.0,
            _ => false,
        });
        assert!(found, "{f:?}");
        marked += 1;
    }
    assert!(marked >= 2, "the case must have failures to mark");
    assert!(tags(&scene, Role::Movable).len() == 1, "the trolley in the field is ringed");
}

#[test]
fn the_chosen_finding_is_stressed_even_when_it_passes() {
    let layout = small();
    let judgement = judged(&layout);
    let passed = judgement.findings.iter().position(|f| f.outcome == Outcome::Pass && f.witness.is_some());
    let show = Show { chosen: passed, ..Show::default() };
    let scene = plan(&layout, Some(&judgement), &show);
    assert!(scene.of_role(Role::Chosen).count() > 0);
    let tag = Some(Tag::Finding(passed.unwrap()));
    assert!(scene.of_role(Role::Pass).any(|i| i.tag().cloned() == tag));
    let plain = plan(&layout, Some(&judgement), &Show::default());
    assert_eq!(plain.of_role(Role::Chosen).count() + plain.of_role(Role::Pass).count(), 0);
    let gone = Show { chosen: Some(usize::MAX), ..Show::default() };
    assert_eq!(plan(&layout, Some(&judgement), &gone), plain);
}

#[test]
fn names_tapes_and_grid_can_be_left_out() {
    let layout = small();
    let bare = Show { tapes: false, names: false, grid: false, ..Show::default() };
    let scene = plan(&layout, None, &bare);
    assert_eq!(scene.of_role(Role::Grid).count() + scene.of_role(Role::Tape).count(), 0);
    assert_eq!(texts(&scene).len(), 2, "the overall dimensions stay");
}

#[test]
fn the_same_layout_gives_the_same_scene() {
    let layout = small();
    let draw = || plan(&layout, Some(&judged(&layout)), &Show::default());
    assert_eq!(draw(), draw());
}
