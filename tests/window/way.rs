//! The way in, in the window: looked for beside it, drawn, and let go with what it belonged to.

use baywright::app::Window;
use baywright::checks::{Outcome, RuleId};
use egui::{Key, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

use super::{Shop, drag, on_screen, press, settle, type_into, undo};

/// The workshop of the other tests with a car that can steer and see. It stands on the gate's middle line and can come
/// straight in: 1800 wide through 3600, (3600 - 1800) / 2 = 900 to either jamb, and the pillar's near side stands at
/// 5800 - 150 = 5650, 1750 from the car's side at 3900.
fn open() -> (Shop, Harness<'static, Window>) {
    let shop = Shop::new();
    let camera = r#"{"nose camera": (kind: Camera, at: (800, 0, 700), view: (across: 52, up: 40))}"#;
    let more = format!("ground_clearance: 150, turning_circle: 10400, sensors: {camera}");
    shop.change("car.ron", "ground_clearance: 150", &more);
    let sight = r#"height: Floor(300))], sights: [(from: "nose camera", to: "plate")]"#;
    shop.change("ahead.ron", "height: Floor(300))]", sight);
    let harness = shop.open();
    (shop, harness)
}

/// The finding about the way in: how it comes out, and its margin.
fn way_in(harness: &Harness<Window>) -> (Outcome, Option<f64>) {
    let found = harness.state().judgement().findings.iter().find(|f| f.rule == RuleId::DriveIn).unwrap();
    (found.outcome, found.margin)
}

#[test]
fn the_way_in_is_asked_for_looked_for_and_left_out_again() {
    let (_shop, mut harness) = open();
    assert_eq!(way_in(&harness).0, Outcome::NotApplicable);
    press(&mut harness, "driving in: judged");
    assert!(harness.state().document().job().drive_in);
    // straight in: 900 to either jamb
    assert_eq!(way_in(&harness), (Outcome::Pass, Some(900.0)));
    harness.get_by_label_contains("without a change of direction, 900 mm from gate jamb");
    // the straight run before the stop is typed, and given back by emptying the field
    type_into(&mut harness, "straight run", "900", Key::Enter);
    assert_eq!(harness.state().document().job().straight_run, Some(900.0));
    assert_eq!(way_in(&harness), (Outcome::Pass, Some(900.0)), "it comes straight in anyhow");
    undo(&mut harness);
    undo(&mut harness);
    assert!(!harness.state().document().job().drive_in);
    assert_eq!(way_in(&harness).0, Outcome::NotApplicable);
    harness.get_by_label("driving in: left out");
}

#[test]
fn a_way_is_shown_only_for_the_place_it_leads_to() {
    let (_shop, mut harness) = open();
    press(&mut harness, "driving in: judged");
    let (from, to) = (on_screen(&harness, 3000.0, 6500.0), on_screen(&harness, 3400.0, 6500.0));
    drag(&mut harness, from, to);
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
    let (_shop, mut harness) = open();
    press(&mut harness, "driving in: judged");
    let picture = |h: &Harness<Window>| {
        h.query_by_role_and_label(Role::Image, "What nose camera sees: plate").is_some()
    };
    // at this size it would hide some of the bay, so it starts folded
    assert!(!picture(&harness));
    press(&mut harness, "unfold: What nose camera sees: plate");
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
