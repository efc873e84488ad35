//! The window, driven as a person does: by what things are called.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]
#![cfg(feature = "gui")]

mod advice;
mod bay;
mod beside;
mod eye;
mod floor;
mod lost;
mod way;
mod workshop;

use std::path::{Path, PathBuf};

use baywright::app::Window;
use baywright::checks::{Outcome, RuleId, Verdict};
use baywright::model::Pose;
use egui::{Key, Modifiers, Pos2, Role, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

// A workshop made up for these tests. Worked out by hand: the nose is at y 8000 + 900, the board's front 2000 ahead of it
// at 10 900, its stand ends 150 + 300 behind that at 11 350, the end wall is at 12 000: 650, and 100 are asked for.
const BAY: &str = r#"(name: "Test bay", ceiling: 4000,
    floor: [(0, 0), (6000, 0), (6000, 12000), (0, 12000)],
    walls: [(side: 2, name: "end wall")],
    doorways: [(name: "gate", side: 0, from: 1200, width: 3600, height: 3000,
                apron: [(1200, -3000), (4800, -3000), (4800, 0), (1200, 0)])],
    fixtures: [(name: "tool cart", shape: Box(at: (5500, 11000), size: (400, 400)), z: (0, 1000), movable: true),
               (name: "pillar", shape: Box(at: (5800, 6000), size: (300, 300)))])"#;
const LONG_BAY: &str =
    r#"(name: "Long bay", ceiling: 4000, floor: [(0, 0), (6000, 0), (6000, 15000), (0, 15000)])"#;
const CAR: &str = r#"(name: "Test car", length: 4500, width: 1800, height: 1500, wheelbase: 2600, front_overhang: 900,
    track: (front: 1500, rear: 1500), tyre: (width: 200, diameter: 620), ground_clearance: 150)"#;
const SHOP: &str = r#"(name: "Test shop", targets: {"plate": (kind: Board,
    face: (width: 600, height: 800, thickness: 40), stand: Box(at: (-150, 0), size: (600, 700)), owned: 1)})"#;
const AHEAD: &str = r#"(name: "Plate ahead", values: {"distance": 2000},
    measured: {"lamp height": (ask: "lamp centre above the floor", between: (500, 900))},
    setups: [(name: "Ahead", vehicle_state: ["nobody inside"],
        marks: [("X", Along(line: Centre, from: "nose", by: "distance"))],
        stations: [(name: "plate", target: "plate", at: "X", looks: Backward, height: Floor(300))])])"#;
const JOB: &str = r#"(name: "Test job", bay: "bays/bay.ron", vehicle: "car.ron", equipment: "shop.ron",
    procedures: [(file: "ahead.ron")], pose: At(x: 3000, y: 8000, heading: 0))"#;

struct Shop {
    folder: tempfile::TempDir,
}

impl Shop {
    fn new() -> Shop {
        let folder = tempfile::tempdir().unwrap();
        std::fs::create_dir(folder.path().join("bays")).unwrap();
        for (name, text) in [
            ("bays/bay.ron", BAY),
            ("bays/long.ron", LONG_BAY),
            ("car.ron", CAR),
            ("shop.ron", SHOP),
            ("ahead.ron", AHEAD),
            ("job.ron", JOB),
        ] {
            std::fs::write(folder.path().join(name), text).unwrap();
        }
        Shop { folder }
    }

    /// Changes one of its files.
    fn change(&self, file: &str, from: &str, to: &str) {
        let path = self.folder.path().join(file);
        let text = std::fs::read_to_string(&path).unwrap();
        assert!(text.contains(from), "{file}: {from}");
        std::fs::write(path, text.replacen(from, to, 1)).unwrap();
    }

    fn job(&self) -> PathBuf {
        self.folder.path().join("job.ron")
    }

    fn state(&self) -> PathBuf {
        self.folder.path().join("state")
    }

    fn open(&self) -> Harness<'static, Window> {
        window(Window::new(&self.job(), Some(self.state())).unwrap(), 1280.0, 720.0)
    }
}

fn window(window: Window, width: f32, height: f32) -> Harness<'static, Window> {
    let mut harness = Harness::builder()
        .with_size(Vec2::new(width, height))
        .with_max_steps(40)
        .build_ui_state(|ui, window: &mut Window| window.show(ui), window);
    settle(&mut harness);
    harness
}

/// Runs until nothing moves any more and nothing is worked out beside the window.
fn settle(harness: &mut Harness<Window>) {
    for _ in 0..500 {
        harness.run();
        if !harness.state().is_busy() {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("the searches do not end");
}

/// Types into a field by its name and stays in it.
fn start_typing(harness: &mut Harness<Window>, field: &str, text: &str) {
    harness.get_by_role_and_label(Role::TextInput, field).scroll_to_me();
    settle(harness);
    harness.get_by_role_and_label(Role::TextInput, field).click();
    settle(harness);
    harness.get_by_role_and_label(Role::TextInput, field).type_text(text);
    settle(harness);
}

/// Types into a field by its name and leaves it with a key.
fn type_into(harness: &mut Harness<Window>, field: &str, text: &str, leave: Key) {
    start_typing(harness, field, text);
    harness.key_press(leave);
    settle(harness);
}

fn press(harness: &mut Harness<Window>, label: &str) {
    harness.get_by_label(label).scroll_to_me();
    settle(harness);
    harness.get_by_label(label).click();
    settle(harness);
}

/// Opens a list.
fn choose(harness: &mut Harness<Window>, list: &str) {
    harness.get_by_role_and_label(Role::ComboBox, list).scroll_to_me();
    settle(harness);
    harness.get_by_role_and_label(Role::ComboBox, list).click();
    settle(harness);
}

/// Presses the card of a finding.
fn press_card(harness: &mut Harness<Window>, title: &str) {
    harness.get_by_role_and_label(Role::Button, title).click();
    settle(harness);
}

fn key(harness: &mut Harness<Window>, modifiers: Modifiers, key: Key) {
    harness.key_press_modifiers(modifiers, key);
    settle(harness);
}

fn pose(harness: &Harness<Window>) -> (f64, f64, f64) {
    match harness.state().document().job().pose {
        Pose::At { x, y, heading } => (x, y, heading),
        Pose::Anywhere => (f64::NAN, f64::NAN, f64::NAN),
    }
}

fn undo(harness: &mut Harness<Window>) {
    key(harness, Modifiers::COMMAND, Key::Z);
}

/// The key that drives the vehicle into the bay on the page as it lies.
fn inward(harness: &Harness<Window>) -> Key {
    if harness.state().plan_view().unwrap().quarter { Key::ArrowRight } else { Key::ArrowUp }
}

/// A bay point on the screen.
fn on_screen(harness: &Harness<Window>, x: f64, y: f64) -> Pos2 {
    let corner = harness.get_by_label("plan of the bay").rect().min;
    let [px, py] = harness.state().plan_view().unwrap().to_page(baywright::geometry::P2::new(x, y));
    corner + Vec2::new(px, py)
}

fn drag(harness: &mut Harness<Window>, from: Pos2, to: Pos2) {
    harness.hover_at(from);
    settle(harness);
    harness.drag_at(from);
    settle(harness);
    for t in [0.3, 0.7, 1.0] {
        harness.hover_at(from + (to - from) * t);
        settle(harness);
    }
}

#[test]
fn the_demonstration_opens_with_its_verdict() {
    let job = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/jobs/fennel-van-radar.ron");
    let harness = window(Window::new(&job, None).unwrap(), 1280.0, 720.0);
    harness.get_by_label("Does not fit: 60 mm short");
    harness.get_by_label("does-not-fit");
    assert!(harness.query_all_by_label_contains("Board is 60 mm too close to the end wall").count() >= 2);
}

#[test]
fn a_missing_measured_figure_is_asked_for_and_typed() {
    let shop = Shop::new();
    let mut harness = shop.open();
    harness.get_by_label("Not known: 1 figure is missing");
    harness.get_by_label_contains("lamp centre above the floor");
    type_into(&mut harness, "lamp height", "70 cm", Key::Enter);
    harness.get_by_label("Fits: 550 mm to spare");
    assert_eq!(harness.state().document().job().measured.get("lamp height").unwrap().0, 700.0);
    // outside the maker's band it will not work; the field stays to be mended
    type_into(&mut harness, "lamp height", "450", Key::Tab);
    harness.get_by_label_contains("Does not fit");
}

#[test]
fn arrow_keys_move_the_vehicle_and_the_verdict_follows() {
    let shop = Shop::new();
    let mut harness = shop.open();
    type_into(&mut harness, "lamp height", "700", Key::Enter);
    let inward = inward(&harness);
    key(&mut harness, Modifiers::NONE, inward);
    assert_eq!(pose(&harness), (3000.0, 8010.0, 0.0));
    harness.get_by_label("Fits: 540 mm to spare");
    key(&mut harness, Modifiers::SHIFT, inward);
    assert_eq!(pose(&harness), (3000.0, 8011.0, 0.0));
    harness.get_by_label("Fits: 539 mm to spare");
    key(&mut harness, Modifiers::COMMAND, Key::ArrowLeft);
    assert_eq!(pose(&harness).2, 0.1);
    for _ in 0..3 {
        undo(&mut harness);
    }
    harness.get_by_label("Fits: 550 mm to spare");
    key(&mut harness, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    harness.get_by_label("Fits: 540 mm to spare");
}

#[test]
fn arrow_keys_in_a_field_move_its_cursor_and_not_the_vehicle() {
    let shop = Shop::new();
    let mut harness = shop.open();
    harness.get_by_role_and_label(Role::TextInput, "into the bay").click();
    settle(&mut harness);
    key(&mut harness, Modifiers::NONE, Key::ArrowLeft);
    key(&mut harness, Modifiers::NONE, Key::ArrowUp);
    assert_eq!(pose(&harness), (3000.0, 8000.0, 0.0));
}

#[test]
fn a_dragged_vehicle_is_judged_on_its_way_and_is_one_step_to_undo() {
    let shop = Shop::new();
    let mut harness = shop.open();
    type_into(&mut harness, "lamp height", "700", Key::Enter);
    let from = on_screen(&harness, 3000.0, 6500.0);
    let to = on_screen(&harness, 3000.0, 7300.0);
    drag(&mut harness, from, to);
    // still held: judged there, but not yet a change
    harness.get_by_label_contains("Does not fit: ");
    assert_eq!(pose(&harness), (3000.0, 8000.0, 0.0));
    harness.drop_at(to);
    settle(&mut harness);
    let (x, y, heading) = pose(&harness);
    assert!((x - 3000.0).abs() <= 1.0 && (y - 8800.0).abs() < 20.0 && heading == 0.0, "{x} {y} {heading}");
    assert_eq!((x, y), (x.round(), y.round()));
    undo(&mut harness);
    assert_eq!(pose(&harness), (3000.0, 8000.0, 0.0));
    harness.get_by_label("Fits: 550 mm to spare");
}

#[test]
fn escape_lets_the_vehicle_go_where_it_was() {
    let shop = Shop::new();
    let mut harness = shop.open();
    let from = on_screen(&harness, 3000.0, 6500.0);
    let to = on_screen(&harness, 3500.0, 6500.0);
    drag(&mut harness, from, to);
    key(&mut harness, Modifiers::NONE, Key::Escape);
    harness.drop_at(to);
    settle(&mut harness);
    assert_eq!(pose(&harness), (3000.0, 8000.0, 0.0));
    assert!(!harness.state().document().is_changed());
}

#[test]
fn the_ring_ahead_of_the_nose_turns_the_vehicle() {
    let shop = Shop::new();
    let mut harness = shop.open();
    let nose = on_screen(&harness, 3000.0, 8900.0);
    let ahead = (nose - on_screen(&harness, 3000.0, 8000.0)).normalized();
    let from = nose + ahead * 30.0;
    let to = on_screen(&harness, 2000.0, 9700.0);
    drag(&mut harness, from, to);
    harness.drop_at(to);
    settle(&mut harness);
    let (x, y, heading) = pose(&harness);
    // atan(1000 / 1700) is 30.5 degrees, and heading counts anticlockwise from straight in
    assert!((heading - 30.5).abs() < 1.0, "{heading}");
    assert_eq!((x, y), (3000.0, 8000.0));
}

#[test]
fn dragging_the_empty_floor_moves_the_plan_alone() {
    let shop = Shop::new();
    let mut harness = shop.open();
    let (from, before) = (on_screen(&harness, 800.0, 2000.0), on_screen(&harness, 0.0, 0.0));
    drag(&mut harness, from, from + Vec2::new(60.0, 0.0));
    harness.drop_at(from + Vec2::new(60.0, 0.0));
    settle(&mut harness);
    assert!(!harness.state().document().is_changed());
    let moved = on_screen(&harness, 0.0, 0.0) - before;
    assert!(moved.x > 40.0 && moved.y.abs() < 0.5, "{moved:?}");
    key(&mut harness, Modifiers::NONE, Key::F);
    assert!((on_screen(&harness, 0.0, 0.0) - before).length() < 0.5, "F fits it again");
}

#[test]
fn doors_open_and_things_are_cleared() {
    let shop = Shop::new();
    let mut harness = shop.open();
    press(&mut harness, "gate: shut");
    assert!(!harness.state().document().is_changed(), "it is shut already");
    press(&mut harness, "gate: open");
    assert_eq!(harness.state().document().job().doors_open.len(), 1);
    press(&mut harness, "tool cart: cleared");
    assert_eq!(harness.state().document().job().cleared.len(), 1);
    undo(&mut harness);
    undo(&mut harness);
    assert!(!harness.state().document().is_changed());
    assert!(harness.query_by_label_contains("pillar:").is_none(), "what cannot be moved has no switch");
}

#[test]
fn what_cannot_be_read_stays_with_its_reason_and_escape_forgets_it() {
    let shop = Shop::new();
    let mut harness = shop.open();
    type_into(&mut harness, "to the right", "24.7.5", Key::Enter);
    harness.get_by_label_contains("cannot read \"24.7.5\" as a length");
    assert_eq!(pose(&harness), (3000.0, 8000.0, 0.0));
    assert!(!harness.state().document().is_changed());
    // Enter stays in the field with everything selected, to be typed over: read in any unit
    harness.get_by_role_and_label(Role::TextInput, "to the right").type_text("9' 10\"");
    settle(&mut harness);
    key(&mut harness, Modifiers::NONE, Key::Tab);
    assert!(harness.query_by_label_contains("cannot read").is_none());
    assert!((pose(&harness).0 - 2997.2).abs() < 1e-9);
    // leaving the field by a press elsewhere takes it too
    start_typing(&mut harness, "heading", "-1.5");
    harness.get_by_label("nose into the bay").click();
    settle(&mut harness);
    harness.get_by_role_and_label(Role::TextInput, "into the bay").click();
    settle(&mut harness);
    assert_eq!(pose(&harness).2, 358.5);
    type_into(&mut harness, "into the bay", "9999", Key::Escape);
    assert_eq!(pose(&harness).1, 8000.0);
    type_into(&mut harness, "into the bay", "far", Key::Enter);
    harness.get_by_label_contains("cannot read \"far\"");
    key(&mut harness, Modifiers::NONE, Key::Escape);
    assert!(harness.query_by_label_contains("cannot read").is_none());
}

#[test]
fn letters_typed_into_a_field_are_no_commands() {
    let shop = Shop::new();
    let mut harness = shop.open();
    harness.get_by_role_and_label(Role::TextInput, "name").click();
    settle(&mut harness);
    harness.get_by_role_and_label(Role::TextInput, "name").type_text("Ford road");
    for letter in [Key::F, Key::R, Key::D] {
        harness.key_press(letter);
    }
    settle(&mut harness);
    assert_eq!(pose(&harness).2, 0.0, "no letter turns the vehicle");
    harness.key_press(Key::Enter);
    settle(&mut harness);
    assert_eq!(harness.state().document().job().name.as_str(), "Ford road");
    for letter in [Key::R, Key::B, Key::Delete, Key::N] {
        key(&mut harness, Modifiers::NONE, letter);
    }
    assert_eq!(pose(&harness), (3000.0, 8000.0, 0.0), "outside a field neither");
    key(&mut harness, Modifiers::COMMAND, Key::R);
    assert_eq!(pose(&harness).2, 180.0);
}

#[test]
fn a_finding_is_chosen_in_the_list_by_key_and_on_the_plan() {
    let shop = Shop::new();
    let mut harness = shop.open();
    type_into(&mut harness, "into the bay", "8600", Key::Enter);
    let title = "Plate is 50 mm too close to the end wall";
    press_card(&mut harness, title);
    let chosen = harness.state().chosen().unwrap();
    let finding = &harness.state().judgement().findings[chosen];
    assert_eq!((finding.rule, finding.outcome), (RuleId::TargetClear, Outcome::Fail));
    let at = finding.at().unwrap();
    press_card(&mut harness, title);
    assert_eq!(harness.state().chosen(), None, "pressed again it is let go");
    key(&mut harness, Modifiers::NONE, Key::N);
    assert_eq!(harness.state().chosen(), Some(chosen), "the worst comes first");
    press_card(&mut harness, title);
    // the dimension between plate and wall on the plan
    let spot = on_screen(&harness, at.x, at.y);
    harness.hover_at(spot);
    settle(&mut harness);
    harness.drag_at(spot);
    harness.drop_at(spot);
    settle(&mut harness);
    assert_eq!(harness.state().chosen(), Some(chosen));
}

#[test]
fn the_list_is_filtered_by_text_and_by_outcome() {
    let shop = Shop::new();
    let mut harness = shop.open();
    type_into(&mut harness, "into the bay", "8600", Key::Enter);
    let title = "Plate is 50 mm too close to the end wall";
    let missing = "Lamp height is not measured";
    harness.get_by_role_and_label(Role::Button, title);
    harness.get_by_role_and_label(Role::Button, missing);
    start_typing(&mut harness, "find in the findings", "LAMP");
    assert!(harness.query_by_role_and_label(Role::Button, title).is_none());
    harness.get_by_role_and_label(Role::Button, missing);
    press(&mut harness, "1 not known");
    assert!(harness.query_by_role_and_label(Role::Button, missing).is_none());
    harness.get_by_label_contains("the filter leaves all of them out");
}

#[test]
fn why_opens_the_page_of_the_rule() {
    let shop = Shop::new();
    let mut harness = shop.open();
    press(&mut harness, "why? measured");
    harness.get_by_label("Why it matters on the shop floor");
    key(&mut harness, Modifiers::NONE, Key::Escape);
    assert!(harness.query_by_label("Why it matters on the shop floor").is_none());
}

#[test]
fn f1_lists_the_keys() {
    let mut harness = Shop::new().open();
    key(&mut harness, Modifiers::NONE, Key::F1);
    for label in ["Keys and pointer", "Heights of the floor", "Ctrl+Shift+Z", "drag the vehicle"] {
        harness.get_by_label(label);
    }
    harness.key_press(Key::Escape);
    settle(&mut harness);
    assert!(harness.query_by_label("Keys and pointer").is_none());
}

#[test]
fn a_finding_is_accepted_with_a_reason_and_taken_back() {
    let shop = Shop::new();
    let mut harness = shop.open();
    type_into(&mut harness, "lamp height", "700", Key::Enter);
    type_into(&mut harness, "into the bay", "8600", Key::Enter);
    harness.get_by_label("Does not fit: 50 mm short");
    press_card(&mut harness, "Plate is 50 mm too close to the end wall");
    press(&mut harness, "accept…");
    start_typing(&mut harness, "reason", "the wall is padded");
    start_typing(&mut harness, "by", "A. N.");
    press(&mut harness, "accept");
    let accepted = &harness.state().document().job().accepted;
    assert_eq!(
        (accepted.len(), accepted[0].reason.as_str(), accepted[0].by.as_str()),
        (1, "the wall is padded", "A. N.")
    );
    harness.get_by_label_contains("Fits if 1 condition");
    press(&mut harness, "take back");
    harness.get_by_label("Does not fit: 50 mm short");
}

#[test]
fn help_makes_its_move() {
    let shop = Shop::new();
    let mut harness = shop.open();
    type_into(&mut harness, "lamp height", "700", Key::Enter);
    type_into(&mut harness, "into the bay", "8600", Key::Enter);
    press_card(&mut harness, "Plate is 50 mm too close to the end wall");
    press(&mut harness, "move it there");
    assert_eq!(pose(&harness).1, 8550.0);
    harness.get_by_label("Fits: 0 mm to spare");
}

#[test]
fn another_bay_is_picked_from_the_list_and_back() {
    let shop = Shop::new();
    let mut harness = shop.open();
    choose(&mut harness, "bay");
    press(&mut harness, "Long bay");
    assert_eq!(harness.state().document().job().bay.as_str(), "bays/long.ron");
    assert_eq!(harness.state().document().bundle().bay.name.as_str(), "Long bay");
    undo(&mut harness);
    assert_eq!(harness.state().document().job().bay.as_str(), "bays/bay.ron");
}

#[test]
fn procedures_are_removed_and_added() {
    let shop = Shop::new();
    let mut harness = shop.open();
    press(&mut harness, "remove Plate ahead");
    // nothing placed is not a fit
    assert_eq!(harness.state().judgement().verdict, Verdict::NotKnown);
    harness.get_by_label("Not known: a procedure is missing");
    assert!(harness.state().document().bundle().procedures.is_empty());
    choose(&mut harness, "add a procedure");
    press(&mut harness, "Plate ahead");
    harness.get_by_label("Not known: 1 figure is missing");
    assert_eq!(harness.state().document().job().procedures[0].file.as_str(), "ahead.ron");
}

#[test]
fn a_new_job_says_that_a_procedure_is_missing() {
    let shop = Shop::new();
    let mut harness = shop.open();
    key(&mut harness, Modifiers::COMMAND, Key::N);
    assert!(harness.state().document().job().procedures.is_empty());
    harness.get_by_label("Not known: a procedure is missing");
    harness.get_by_label("not-known");
    assert!(harness.query_all_by_label_contains("No procedure is chosen").count() >= 1);
    // with one it is judged as any other job
    choose(&mut harness, "add a procedure");
    press(&mut harness, "Plate ahead");
    type_into(&mut harness, "lamp height", "700", Key::Enter);
    harness.get_by_label("Fits: 550 mm to spare");
}

#[test]
fn rear_toe_is_typed_side_by_side() {
    let shop = Shop::new();
    let mut harness = shop.open();
    type_into(&mut harness, "rear toe, left", "0.2", Key::Enter);
    assert_eq!(harness.state().document().job().rear_toe, None, "one side alone is no toe");
    type_into(&mut harness, "rear toe, right", "-0.1", Key::Enter);
    let toe = harness.state().document().job().rear_toe.unwrap();
    assert_eq!((toe.left, toe.right), (0.2, -0.1));
    harness.get_by_label("0.15° to the right");
}

#[test]
fn a_job_is_saved_and_reads_back_the_same() {
    let shop = Shop::new();
    let mut harness = shop.open();
    type_into(&mut harness, "lamp height", "702.5", Key::Enter);
    type_into(&mut harness, "into the bay", "8123.25", Key::Enter);
    let job = harness.state().document().job().clone();
    key(&mut harness, Modifiers::COMMAND, Key::S);
    harness.get_by_label_contains("Saved: ");
    assert!(!harness.state().document().is_changed());
    let again = Window::new(&shop.job(), None).unwrap();
    assert_eq!(*again.document().job(), job);
    undo(&mut harness);
    assert_eq!(pose(&harness).1, 8000.0, "undo survives saving");
}

#[test]
fn a_typed_figure_is_taken_before_the_job_is_saved() {
    let shop = Shop::new();
    let mut harness = shop.open();
    start_typing(&mut harness, "into the bay", "8200");
    key(&mut harness, Modifiers::COMMAND, Key::S);
    assert_eq!(pose(&harness).1, 8200.0);
    assert!(!harness.state().document().is_changed());
    assert!(std::fs::read_to_string(shop.job()).unwrap().contains("8200"));
}

#[test]
fn a_file_that_cannot_be_read_leaves_the_window_as_it_was() {
    let shop = Shop::new();
    let mut harness = shop.open();
    let bad = shop.folder.path().join("bad.ron");
    std::fs::write(&bad, "(name: \"Bad\", bey: \"bays/bay.ron\")").unwrap();
    harness.input_mut().dropped_files.push(dropped(&bad));
    settle(&mut harness);
    harness.get_by_label("bad.ron cannot be opened");
    harness.get_by_label("Nothing was changed.");
    assert!(harness.query_all_by_label_contains("bad.ron:1:").count() > 0, "file, line and column");
    press(&mut harness, "close");
    assert_eq!(harness.state().document().job().name.as_str(), "Test job");
}

fn dropped(path: &Path) -> egui::DroppedFileHandle {
    std::sync::Arc::new(Dropped(path.to_owned()))
}

#[derive(Debug)]
struct Dropped(PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|e| e.to_string())
    }
}

#[test]
fn changes_are_asked_about_before_another_job_is_opened() {
    let shop = Shop::new();
    let other = shop.folder.path().join("other.ron");
    std::fs::write(&other, JOB.replace("Test job", "Other job")).unwrap();
    let mut harness = shop.open();
    type_into(&mut harness, "into the bay", "8200", Key::Enter);
    harness.input_mut().dropped_files.push(dropped(&other));
    settle(&mut harness);
    harness.get_by_label("The job has changes that are not saved");
    press(&mut harness, "go on working");
    assert_eq!(pose(&harness).1, 8200.0);
    harness.input_mut().dropped_files.push(dropped(&other));
    settle(&mut harness);
    press(&mut harness, "save");
    assert_eq!(harness.state().document().job().name.as_str(), "Other job");
    assert!(std::fs::read_to_string(shop.job()).unwrap().contains("8200"));
}

#[test]
fn closing_while_a_figure_is_typed_asks_first() {
    let shop = Shop::new();
    let mut harness = shop.open();
    start_typing(&mut harness, "into the bay", "8200");
    let viewport = harness.input().viewport_id;
    let info = harness.input_mut().viewports.entry(viewport).or_default();
    info.events.push(egui::ViewportEvent::Close);
    harness.step();
    harness.input_mut().viewports.entry(viewport).or_default().events.clear();
    settle(&mut harness);
    assert_eq!(pose(&harness).1, 8200.0, "the figure is taken");
    harness.get_by_label("The job has changes that are not saved");
}

#[test]
fn the_size_of_the_text_is_remembered() {
    let shop = Shop::new();
    let mut harness = shop.open();
    key(&mut harness, Modifiers::COMMAND, Key::Plus);
    assert!((harness.ctx.zoom_factor() - 1.1).abs() < 0.01);
    drop(harness);
    let mut harness = shop.open();
    settle(&mut harness);
    assert!((harness.ctx.zoom_factor() - 1.1).abs() < 0.01);
    key(&mut harness, Modifiers::COMMAND, Key::Num0);
    assert!((harness.ctx.zoom_factor() - 1.0).abs() < 0.01);
}

#[test]
fn an_idle_window_asks_for_nothing() {
    let shop = Shop::new();
    let mut harness = shop.open();
    let checks = harness.state().checks();
    for _ in 0..10 {
        harness.step();
        assert!(!harness.ctx.has_requested_repaint());
    }
    assert_eq!(harness.state().checks(), checks, "the rules are run only when something changes");
    let scene = |h: &Harness<Window>| h.output().shapes.len();
    assert!(scene(&harness) > 0);
}

#[test]
fn everything_has_its_place_in_a_small_window_and_in_a_large_one() {
    let shop = Shop::new();
    for (width, height) in [(1280.0, 720.0), (1600.0, 1000.0), (2560.0, 1440.0)] {
        let harness = window(Window::new(&shop.job(), None).unwrap(), width, height);
        for label in ["Not known: 1 figure is missing", "plan of the bay", "find in the findings", "View"] {
            let rect = harness.get_by_label(label).rect();
            assert!(
                rect.min.x >= 0.0 && rect.max.x <= width + 1.0 && rect.max.y <= height + 1.0,
                "{label} {width}: {rect:?}"
            );
        }
        let plan = harness.get_by_label("plan of the bay").rect();
        assert!(plan.width() > width * 0.5 && plan.height() > height * 0.6, "{plan:?}");
    }
}

#[test]
fn night_and_feet_are_remembered() {
    let shop = Shop::new();
    let mut harness = shop.open();
    key(&mut harness, Modifiers::NONE, Key::D);
    key(&mut harness, Modifiers::NONE, Key::U);
    assert!(harness.ctx.global_style().visuals.dark_mode);
    let shown = harness.get_by_role_and_label(Role::TextInput, "into the bay").value().unwrap();
    assert_eq!(shown, "26' 2-15/16\"", "8000 mm");
    drop(harness);
    let harness = shop.open();
    assert!(harness.ctx.global_style().visuals.dark_mode);
}
