//! The way in, in the window: looked for beside it, drawn, and let go with what it belonged to.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]
#![cfg(feature = "gui")]

use baywright::app::Window;
use baywright::checks::{Outcome, RuleId};
use egui::{Key, Modifiers, Pos2, Role, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

// A workshop made up for these tests. The car stands on the gate's middle line and can come straight in: 1800 wide
// through 3600, (3600 - 1800) / 2 = 900 to either jamb, and the pillar's near side stands at 5800 - 150 = 5650, 1750
// from the car's side at 3900.
const BAY: &str = r#"(name: "Test bay", ceiling: 4000,
    floor: [(0, 0), (6000, 0), (6000, 12000), (0, 12000)],
    doorways: [(name: "gate", side: 0, from: 1200, width: 3600, height: 3000)],
    fixtures: [(name: "pillar", shape: Box(at: (5800, 6000), size: (300, 300)))])"#;
const CAR: &str = r#"(name: "Test car", length: 4500, width: 1800, height: 1500, wheelbase: 2600, front_overhang: 900,
    track: (front: 1500, rear: 1500), tyre: (width: 200, diameter: 620), ground_clearance: 150, turning_circle: 10400,
    sensors: {"nose camera": (kind: Camera, at: (800, 0, 700), view: (across: 52, up: 40))})"#;
const SHOP: &str = r#"(name: "Test shop", targets: {"plate": (kind: Board,
    face: (width: 600, height: 800, thickness: 40), stand: Box(at: (-150, 0), size: (600, 700)))})"#;
const AHEAD: &str = r#"(name: "Plate ahead",
    setups: [(name: "Ahead", marks: [("X", Along(line: Centre, from: "nose", by: 2000))],
        stations: [(name: "plate", target: "plate", at: "X", looks: Backward, height: Floor(300))],
        sights: [(from: "nose camera", to: "plate")])])"#;
const JOB: &str = r#"(name: "Test job", bay: "bay.ron", vehicle: "car.ron", equipment: "shop.ron",
    procedures: [(file: "ahead.ron")], pose: At(x: 3000, y: 8000, heading: 0))"#;

fn open() -> (tempfile::TempDir, Harness<'static, Window>) {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in
        [("bay.ron", BAY), ("car.ron", CAR), ("shop.ron", SHOP), ("ahead.ron", AHEAD), ("job.ron", JOB)]
    {
        std::fs::write(folder.path().join(name), text).unwrap();
    }
    let window = Window::new(&folder.path().join("job.ron"), None).unwrap();
    let mut harness = Harness::builder()
        .with_size(Vec2::new(1280.0, 720.0))
        .with_max_steps(40)
        .build_ui_state(|ui, window: &mut Window| window.show(ui), window);
    settle(&mut harness);
    (folder, harness)
}

fn settle(harness: &mut Harness<Window>) {
    for _ in 0..1000 {
        harness.run();
        if !harness.state().is_busy() {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("the searches do not end");
}

fn press(harness: &mut Harness<Window>, label: &str) {
    harness.get_by_label(label).scroll_to_me();
    settle(harness);
    harness.get_by_label(label).click();
    settle(harness);
}

/// The finding about the way in: how it comes out, and its margin.
fn way_in(harness: &Harness<Window>) -> (Outcome, Option<f64>) {
    let found = harness.state().judgement().findings.iter().find(|f| f.rule == RuleId::DriveIn).unwrap();
    (found.outcome, found.margin)
}

fn on_screen(harness: &Harness<Window>, x: f64, y: f64) -> Pos2 {
    let corner = harness.get_by_label("plan of the bay").rect().min;
    let [px, py] = harness.state().plan_view().unwrap().to_page(baywright::geometry::P2::new(x, y));
    corner + Vec2::new(px, py)
}

#[test]
fn the_way_in_is_asked_for_looked_for_and_left_out_again() {
    let (_folder, mut harness) = open();
    assert_eq!(way_in(&harness).0, Outcome::NotApplicable);
    press(&mut harness, "driving in: left out");
    assert!(harness.state().document().job().drive_in);
    // straight in: 900 to either jamb
    assert_eq!(way_in(&harness), (Outcome::Pass, Some(900.0)));
    harness.get_by_label_contains("without a change of direction, 900 mm from gate jamb");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut harness);
    assert!(!harness.state().document().job().drive_in);
    assert_eq!(way_in(&harness).0, Outcome::NotApplicable);
    harness.get_by_label("driving in: left out");
}

#[test]
fn a_way_is_shown_only_for_the_place_it_leads_to() {
    let (_folder, mut harness) = open();
    press(&mut harness, "driving in: left out");
    let (from, to) = (on_screen(&harness, 3000.0, 6500.0), on_screen(&harness, 3400.0, 6500.0));
    harness.hover_at(from);
    settle(&mut harness);
    harness.drag_at(from);
    settle(&mut harness);
    harness.hover_at(from + (to - from) * 0.5);
    settle(&mut harness);
    harness.hover_at(to);
    settle(&mut harness);
    // held elsewhere: nothing is looked for, nothing old is told
    assert_eq!(way_in(&harness), (Outcome::Unknown, None));
    harness.get_by_label_contains("The way in is not worked out yet");
    harness.drop_at(to);
    settle(&mut harness);
    let (outcome, margin) = way_in(&harness);
    assert!(outcome == Outcome::Pass && margin.unwrap() < 900.0, "{outcome:?} {margin:?}");
}

#[test]
fn the_way_and_the_picture_are_shown_and_hidden_by_the_menu() {
    let (_folder, mut harness) = open();
    press(&mut harness, "driving in: left out");
    let picture = |h: &Harness<Window>| {
        h.query_by_role_and_label(Role::Image, "What nose camera sees: plate").is_some()
    };
    assert!(picture(&harness));
    let shapes = |h: &Harness<Window>| h.output().shapes.len();
    let with = shapes(&harness);
    harness.get_by_label("plan of the bay").click();
    settle(&mut harness);
    harness.key_press(Key::I);
    settle(&mut harness);
    assert!(shapes(&harness) < with);
    harness.key_press(Key::I);
    harness.key_press(Key::C);
    settle(&mut harness);
    assert!(!picture(&harness));
    for _ in 0..10 {
        harness.step();
        assert!(!harness.ctx.has_requested_repaint(), "an idle window asks for nothing");
    }
    harness.get_by_role_and_label(Role::Button, "View").click();
    settle(&mut harness);
    harness.get_by_label_contains("What a sensor sees");
}
