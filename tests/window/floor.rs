//! The floor in the window: a survey typed, pasted, dropped and pressed into the plan, written into the bay's file, drawn,
//! and cut along a line.

use std::fs;

use baywright::app::Window;
use egui::{Key, Modifiers, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

use super::{Shop, choose, drag, dropped, key, on_screen, press, settle, undo};

/// Even up to y 4000 and falling by 1 mm per m from there: -8 at the end wall.
const FALLING: &str =
    "x, y, height\n0, 0, 0\n6000;0;0\n0 4000 0\n6000\t4000\t0\n0, 12000, -8\n6000, 12 000, -8\n";

fn table(harness: &Harness<Window>) -> Option<String> {
    harness.query_by_role_and_label(Role::MultilineTextInput, "heights of the floor").and_then(|t| t.value())
}

/// Pastes a table over what stands there.
fn type_table(harness: &mut Harness<Window>, text: &str) {
    harness.get_by_role_and_label(Role::MultilineTextInput, "heights of the floor").click();
    settle(harness);
    key(harness, Modifiers::COMMAND, Key::A);
    harness.event(egui::Event::Paste(text.into()));
    settle(harness);
}

fn heights(harness: &Harness<Window>) -> usize {
    harness.state().document().bundle().bay.heights.len()
}

fn surveyed() -> (Shop, Harness<'static, Window>) {
    let shop = Shop::new();
    shop.change(
        "bays/bay.ron",
        "ceiling: 4000,",
        "ceiling: 4000, heights: [(0, 0, 0), (6000, 0, 0), (0, 4000, 0), (6000, 4000, 0), (0, 12000, -8), (6000, 12000, -8)],",
    );
    let harness = shop.open();
    (shop, harness)
}

#[test]
fn a_pasted_table_is_written_into_the_bays_file_and_judged_by() {
    let shop = Shop::new();
    let mut harness = shop.open();
    key(&mut harness, Modifiers::NONE, Key::ArrowUp);
    let moved = harness.state().document().is_changed();
    press(&mut harness, "survey of the floor");
    type_table(&mut harness, "5\n");
    harness.get_by_label_contains("line 1: one figure; three are needed: x, y, height");
    harness.get_by_label("write into the bay's file").click();
    settle(&mut harness);
    assert!(table(&harness).is_some(), "a table with a fault is not written");
    type_table(&mut harness, FALLING);
    harness.get_by_label_contains("6 spots, -8 to 0 mm");
    let before = fs::read_to_string(shop.folder.path().join("bays/bay.ron")).unwrap();
    press(&mut harness, "write into the bay's file");
    let after = fs::read_to_string(shop.folder.path().join("bays/bay.ron")).unwrap();
    assert!(after.starts_with(before.trim_end().trim_end_matches(')')), "the rest stays: {after}");
    assert_eq!(heights(&harness), 6);
    assert_eq!(harness.state().document().is_changed(), moved, "the job's own file says nothing of it");
    harness.get_by_label_contains("heights of the floor: -8, -6, -4");
    harness.get_by_label_contains("Level: the wheels' plane slopes");
    // one history for all files: undo takes the survey back, though it was written, and then the step before it
    undo(&mut harness);
    assert_eq!(heights(&harness), 0);
    undo(&mut harness);
    let changed = harness.state().document().changed();
    assert_eq!(changed.len(), 1, "the bay's file holds what was taken back");
    harness.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    settle(&mut harness);
    harness.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    settle(&mut harness);
    assert_eq!((heights(&harness), harness.state().document().changed().len()), (6, usize::from(moved)));
    drop(harness);
    assert_eq!(heights(&shop.open()), 6);
}

#[test]
fn heights_pressed_into_the_plan_are_kept_until_they_are_written_or_thrown_away() {
    let (shop, mut harness) = surveyed();
    press(&mut harness, "survey of the floor");
    press(&mut harness, "enter on the plan");
    harness.get_by_label_contains("6 spots, -8 to 0 mm: as the bay's file has it");
    let at = on_screen(&harness, 1000.0, 2000.0);
    let click = |harness: &mut Harness<Window>, at: egui::Pos2| {
        harness.hover_at(at);
        settle(harness);
        harness.drag_at(at);
        harness.drop_at(at);
        settle(harness);
    };
    click(&mut harness, at);
    harness.get_by_role_and_label(Role::TextInput, "height").type_text("-11");
    settle(&mut harness);
    harness.key_press(Key::Enter);
    settle(&mut harness);
    harness.get_by_label_contains("7 spots, -11 to 0 mm: not in the bay's file yet");
    assert_eq!(heights(&harness), 7, "judged by from now on");
    // the same spot again: its height is there to be changed
    click(&mut harness, at);
    harness.get_by_label("This spot of the floor");
    assert_eq!(harness.get_by_role_and_label(Role::TextInput, "height").value().as_deref(), Some("-11"));
    press(&mut harness, "take it out");
    harness.get_by_label_contains("6 spots, -8 to 0 mm: as the bay's file has it");
    click(&mut harness, at);
    harness.get_by_role_and_label(Role::TextInput, "height").type_text("3");
    settle(&mut harness);
    press(&mut harness, "enter");
    // nothing lets it go unasked
    key(&mut harness, Modifiers::COMMAND, Key::O);
    harness.get_by_label("The job has changes that are not saved");
    harness.key_press(Key::Escape);
    settle(&mut harness);
    press(&mut harness, "survey of the floor");
    assert!(table(&harness).unwrap().contains(", 3\n"), "{:?}", table(&harness));
    press(&mut harness, "throw it away");
    assert_eq!(heights(&harness), 6);
    undo(&mut harness);
    assert_eq!(heights(&harness), 7, "what was thrown away comes back");
    undo(&mut harness);
    assert!(!harness.state().document().is_changed());
    let text = fs::read_to_string(shop.folder.path().join("bays/bay.ron")).unwrap();
    assert!(text.contains("(6000, 12000, -8)],"), "the file is as it was");
}

#[test]
fn a_dropped_table_is_added_to_the_heights() {
    let (shop, mut harness) = surveyed();
    let path = shop.folder.path().join("more.csv");
    fs::write(&path, "\u{feff}x;y;z\r\n3000;2000;-1,5\r\n").unwrap();
    harness.input_mut().dropped_files.push(dropped(&path));
    settle(&mut harness);
    let table = table(&harness).unwrap();
    assert!(table.ends_with("-8\n3000;2000;-1,5\r\n"), "its headings are left out: {table}");
    harness.get_by_label_contains("7 spots, -8 to 0 mm");
    press(&mut harness, "write into the bay's file");
    assert_eq!(heights(&harness), 7);
    assert!(!harness.state().document().is_changed());
}

#[test]
fn a_profile_is_drawn_along_any_line_and_put_away_with_escape() {
    let (_shop, mut harness) = surveyed();
    harness.get_by_label("plan of the bay").click();
    settle(&mut harness);
    key(&mut harness, Modifiers::NONE, Key::X);
    let (from, to) = (on_screen(&harness, 1000.0, 2000.0), on_screen(&harness, 1000.0, 9000.0));
    drag(&mut harness, from, to);
    harness.drop_at(to);
    settle(&mut harness);
    let pose = harness.state().document().job().pose;
    // from 0 to about -5: 5 m down the slope of 1 mm per m, as near as the pointer can be held
    let said = ["from -5", "from -4.9"].map(|part| harness.query_by_label_contains(part).is_some());
    assert!(said.contains(&true));
    press(&mut harness, "along");
    harness.get_by_label_contains("Floor from A to B, 12\u{a0}000: from -8 to 0 mm");
    // the vehicle is dragged as ever
    let (from, to) = (on_screen(&harness, 3000.0, 6500.0), on_screen(&harness, 3300.0, 6500.0));
    drag(&mut harness, from, to);
    harness.drop_at(to);
    settle(&mut harness);
    assert_ne!(harness.state().document().job().pose, pose);
    harness.key_press(Key::Escape);
    settle(&mut harness);
    assert!(harness.query_by_label_contains("Floor from A to B").is_none());
}

#[test]
fn undo_does_not_let_heights_go_that_were_entered_for_another_bay() {
    let shop = Shop::new();
    let mut harness = shop.open();
    choose(&mut harness, "bay");
    press(&mut harness, "Long bay");
    press(&mut harness, "survey of the floor");
    type_table(&mut harness, "0, 0, 1\n5\n");
    harness.key_press(Key::Escape);
    settle(&mut harness);
    undo(&mut harness);
    assert_eq!(table(&harness).as_deref(), Some("0, 0, 1\n5\n"), "asked about before the bay is left");
    assert_eq!(harness.state().document().job().bay.as_str(), "bays/long.ron");
    type_table(&mut harness, "0, 0, 1\n");
    harness.key_press(Key::Escape);
    settle(&mut harness);
    undo(&mut harness);
    assert_eq!(harness.state().document().job().bay.as_str(), "bays/long.ron", "first the heights");
    undo(&mut harness);
    assert_eq!(harness.state().document().job().bay.as_str(), "bays/bay.ron");
}

#[test]
fn a_dropped_table_does_not_wait_to_be_let_go_with_the_job() {
    let (shop, mut harness) = surveyed();
    let path = shop.folder.path().join("more.csv");
    fs::write(&path, "3000;2000;-1,5\n").unwrap();
    key(&mut harness, Modifiers::NONE, Key::ArrowUp);
    key(&mut harness, Modifiers::COMMAND, Key::N); // asks about the change
    harness.input_mut().dropped_files.push(dropped(&path));
    settle(&mut harness);
    press(&mut harness, "enter on the plan");
    harness.get_by_label_contains("7 spots, -8 to 0 mm: not in the bay's file yet");
    // saving writes every file that was changed
    key(&mut harness, Modifiers::COMMAND, Key::S);
    harness.get_by_label_contains("7 spots, -8 to 0 mm: as the bay's file has it");
    assert!(!harness.state().document().is_changed());
}

#[test]
fn where_the_floor_is_best_comes_back_with_undo() {
    let shop = Shop::new();
    shop.change(
        "bays/bay.ron",
        "ceiling: 4000,",
        "ceiling: 4000, heights: [(0, 0, 0), (6000, 0, 0), (0, 12000, -8), (6000, 12000, -8)],",
    );
    shop.change(
        "ahead.ron",
        "height: Floor(300))]",
        "height: Floor(300))], level: (within: 5, over: Stations)",
    );
    let mut harness = shop.open();
    let told =
        |harness: &Harness<Window>| harness.query_by_label_contains("the floor is best with").is_some();
    assert!(told(&harness));
    press(&mut harness, "remove Plate ahead");
    assert!(!told(&harness));
    undo(&mut harness);
    assert!(told(&harness));
}

#[test]
fn what_was_worked_out_is_not_of_the_job_before() {
    let shop = Shop::new();
    shop.change(
        "bays/bay.ron",
        "ceiling: 4000,",
        "ceiling: 4000, heights: [(0, 0, 0), (6000, 0, 0), (0, 12000, -8), (6000, 12000, -8)],",
    );
    let level = "height: Floor(300))], level: (within: 5, over: Stations)";
    shop.change("ahead.ron", "height: Floor(300))]", level);
    let other = shop.folder.path().join("other.ron");
    let job = fs::read_to_string(shop.job()).unwrap();
    fs::write(&other, job.replace("bays/bay.ron", "bays/long.ron")).unwrap();
    let mut harness = shop.open();
    harness.get_by_label_contains("the floor is best with");
    harness.input_mut().dropped_files.push(dropped(&other));
    settle(&mut harness);
    assert_eq!(harness.state().document().job().bay.as_str(), "bays/long.ron");
    assert!(
        harness.query_by_label_contains("the floor is best with").is_none(),
        "the other bay has no survey"
    );
    assert!(harness.query_by_label("search").is_none(), "its places were looked for");
}

#[test]
fn heights_that_somebody_else_wrote_meanwhile_are_asked_about_before_they_are_replaced() {
    let (shop, mut harness) = surveyed();
    press(&mut harness, "survey of the floor");
    type_table(&mut harness, FALLING);
    shop.change("bays/bay.ron", "heights: [", "heights: [(3000, 3000, 2), ");
    press(&mut harness, "write into the bay's file");
    harness.get_by_label("Somebody else has changed this file");
    let file = || fs::read_to_string(shop.folder.path().join("bays/bay.ron")).unwrap();
    assert!(file().contains("(3000, 3000, 2)"));
    press(&mut harness, "take theirs");
    assert_eq!(heights(&harness), 7);
    undo(&mut harness);
    assert_eq!(heights(&harness), 6, "mine come back");
    assert!(harness.state().document().is_changed() && file().contains("(3000, 3000, 2)"));
}

#[test]
fn tab_parts_columns_and_what_is_thrown_away_comes_back() {
    let (_shop, mut harness) = surveyed();
    press(&mut harness, "survey of the floor");
    let table_field = |h: &Harness<Window>| {
        h.get_by_role_and_label(Role::MultilineTextInput, "heights of the floor").rect()
    };
    let end = table_field(&harness).right_bottom() - egui::Vec2::splat(6.0);
    harness.hover_at(end);
    harness.drag_at(end);
    harness.drop_at(end);
    settle(&mut harness);
    for part in ["3000", "7000", "-2"] {
        harness.event(egui::Event::Text(part.into()));
        harness.key_press(Key::Tab);
        settle(&mut harness);
    }
    harness.key_press(Key::Enter);
    settle(&mut harness);
    assert!(table(&harness).unwrap().ends_with("3000\t7000\t-2\t\n"), "{:?}", table(&harness));
    harness.get_by_label_contains("7 spots");
    press(&mut harness, "throw it away");
    assert!(table(&harness).is_none());
    press(&mut harness, "survey of the floor");
    harness.get_by_label_contains("6 spots, -8 to 0 mm");
    press(&mut harness, "close");
    undo(&mut harness);
    assert_eq!(heights(&harness), 7);
}

#[test]
fn an_open_list_keeps_the_arrow_keys_from_the_vehicle() {
    let (_shop, mut harness) = surveyed();
    let pose = harness.state().document().job().pose;
    super::choose(&mut harness, "bay");
    harness.key_press(Key::ArrowDown);
    settle(&mut harness);
    assert_eq!(harness.state().document().job().pose, pose);
}

#[test]
fn heights_that_were_never_written_are_found_again() {
    let (shop, mut harness) = surveyed();
    press(&mut harness, "survey of the floor");
    type_table(&mut harness, "0; 0; 1\n5");
    drop(harness); // the window ends without being closed, the table still open
    let mut harness = shop.open();
    harness.get_by_label_contains("Heights of the floor were found that were never written");
    press(&mut harness, "go on with the survey");
    assert_eq!(table(&harness).as_deref(), Some("0; 0; 1\n5"));
    press(&mut harness, "throw it away");
    drop(harness);
    let harness = shop.open();
    harness.get_by_label("survey of the floor");
}
