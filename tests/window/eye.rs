//! The window for the eye and for the ear: what it shows beside the plan, what it keeps, and what a reader of the screen is
//! told.

use std::path::Path;

use baywright::app::Window;
use baywright::files::open_job;
use baywright::layout::Layout;
use baywright::scene::{Item, Role as Drawn, Show, plan};
use egui::{Key, Modifiers, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

use super::{AHEAD, Shop, dropped, key, on_screen, pose, press, settle, start_typing, type_into, window};

fn plan_of(harness: &Harness<Window>) -> egui::Rect {
    harness.get_by_label("plan of the bay").rect()
}

fn has(harness: &Harness<Window>, words: &str) -> bool {
    harness.query_all_by_label_contains(words).next().is_some()
}

/// Does a command by a word of what it does.
fn command(harness: &mut Harness<Window>, words: &str) {
    key(harness, Modifiers::COMMAND, Key::K);
    harness.get_by_role_and_label(Role::TextInput, "find a command").type_text(words);
    settle(harness);
    key(harness, Modifiers::NONE, Key::Enter);
}

#[test]
fn every_command_is_found_by_a_word() {
    let shop = Shop::new();
    let mut harness = shop.open();
    command(&mut harness, "half turn");
    assert_eq!(pose(&harness).2, 180.0);
    assert!(!has(&harness, "All commands"), "the list is put away");
    key(&mut harness, Modifiers::COMMAND, Key::K);
    harness.get_by_role_and_label(Role::TextInput, "find a command").type_text("xyzzy");
    settle(&mut harness);
    assert!(has(&harness, "No command says this"));
}

#[test]
fn panels_hide_by_a_key_give_the_plan_their_room_and_stay_so() {
    let shop = Shop::new();
    let mut harness = shop.open();
    let before = plan_of(&harness);
    key(&mut harness, Modifiers::NONE, Key::F7);
    assert!(harness.query_by_role_and_label(Role::TextInput, "into the bay").is_none());
    assert!(plan_of(&harness).left() < before.left() - 150.0);
    key(&mut harness, Modifiers::NONE, Key::F8);
    assert!(plan_of(&harness).right() > before.right() + 150.0);
    key(&mut harness, Modifiers::NONE, Key::F9);
    assert!(plan_of(&harness).height() > before.height() + 80.0);
    drop(harness);
    let mut harness = shop.open();
    assert!(plan_of(&harness).left() < before.left() - 150.0, "the next window has them hidden too");
    assert!(plan_of(&harness).height() > before.height() + 80.0);
    press(&mut harness, "show the panel of the job");
    press(&mut harness, "show the panel of findings");
    harness.get_by_role_and_label(Role::TextInput, "into the bay");
    assert_eq!(plan_of(&harness).width(), before.width());
}

#[test]
fn a_panel_is_drawn_wider_and_kept_so() {
    let shop = Shop::new();
    let mut harness = shop.open();
    let before = plan_of(&harness);
    let edge = egui::pos2(before.left() - 2.0, 400.0);
    super::drag(&mut harness, edge, edge + egui::vec2(50.0, 0.0));
    harness.drop_at(edge + egui::vec2(50.0, 0.0));
    settle(&mut harness);
    let wider = plan_of(&harness).left();
    assert!(wider > before.left() + 40.0, "{wider}");
    // whatever is listed, nothing moves the plan
    type_into(&mut harness, "into the bay", "9999", Key::Enter);
    assert_eq!(plan_of(&harness).left(), wider);
    press(&mut harness, "show across");
    command(&mut harness, "dark");
    drop(harness);
    assert_eq!(plan_of(&shop.open()).left(), wider);
}

#[test]
fn the_plan_keeps_a_least_size_where_the_text_is_large() {
    let shop = Shop::new();
    // 1280 by 720 with everything at 150 % and at 200 %
    for (width, height) in [(853.0, 480.0), (640.0, 360.0)] {
        let mut harness = window(Window::new(&shop.job(), None).unwrap(), width, height);
        let plan = plan_of(&harness);
        assert!(plan.width() >= width * 0.5 && plan.height() >= height * 0.4, "{plan:?}");
        assert!(harness.query_by_role_and_label(Role::TextInput, "into the bay").is_none());
        key(&mut harness, Modifiers::NONE, Key::F7);
        harness.get_by_role_and_label(Role::TextInput, "into the bay");
        assert!(!has(&harness, "find in the findings"), "one at a time");
        assert!(plan_of(&harness).width() >= width * 0.45, "{:?}", plan_of(&harness));
    }
}

#[test]
fn a_legend_says_what_is_drawn_and_a_thing_what_it_is() {
    let shop = Shop::new();
    let mut harness = shop.open();
    assert!(!has(&harness, "can be moved"));
    press(&mut harness, "unfold the legend");
    assert!(has(&harness, "can be moved") && has(&harness, "mark on the floor"));
    assert!(harness.query_by_label("lamp").is_none(), "only what is drawn");
    press(&mut harness, "fold the legend");
    let at = on_screen(&harness, 5750.0, 6050.0);
    harness.hover_at(at);
    for _ in 0..60 {
        harness.step();
    }
    settle(&mut harness);
    assert!(has(&harness, "300 × 300"), "the pillar says its size");
    assert!(has(&harness, "bays/bay.ron"), "and its file");
}

#[test]
fn two_marks_of_one_name_say_whose_they_are() {
    let shop = Shop::new();
    let second =
        AHEAD.replace("Plate ahead", "Plate far ahead").replace("2000", "2600").replace("Ahead\"", "Far\"");
    std::fs::write(shop.folder.path().join("far.ron"), second).unwrap();
    shop.change("job.ron", r#"(file: "ahead.ron")"#, r#"(file: "ahead.ron"), (file: "far.ron")"#);
    let layout = Layout::new(&open_job(&shop.job()).unwrap().bundle).unwrap();
    let names = |setup| -> Vec<String> {
        let scene = plan(&layout, None, &Show { setup, ..Show::default() });
        let labels = scene.items.iter().filter_map(|item| match item {
            Item::Label { role: Drawn::Mark, text, .. } => Some(text.clone()),
            _ => None,
        });
        labels.collect()
    };
    assert_eq!(names(None), ["X of\nAhead", "X of\nFar"]);
    assert_eq!(names(Some(0)), ["X"], "by itself it needs no more");
}

#[test]
fn a_missing_figure_is_one_card_and_its_field_stays_where_it_is() {
    let shop = Shop::new();
    shop.change(
        "ahead.ron",
        r#"values: {"distance": 2000}"#,
        r#"values: {"distance": Missing("not in the copy")}"#,
    );
    shop.change("ahead.ron", "height: Floor(300))]", "height: Floor(300)), (name: \"second\", target: \"plate\", at: \"X\", looks: Backward, height: Floor(300))]");
    let mut harness = shop.open();
    let of_it = harness.state().judgement().findings.iter();
    let of_it = of_it.filter(|f| f.missing.iter().any(|m| m.is_named("distance"))).count();
    assert!(of_it > 1, "{of_it}");
    let cards = harness.query_all_by_label_contains("more finding").count();
    assert!(cards >= 1 && has(&harness, "on it"), "{cards}");
    let field = |h: &Harness<Window>| h.get_by_role_and_label(Role::TextInput, "lamp height").rect().min;
    harness.get_by_role_and_label(Role::TextInput, "lamp height").scroll_to_me();
    settle(&mut harness);
    let before = field(&harness);
    type_into(&mut harness, "lamp height", "700", Key::Enter);
    assert_eq!(field(&harness), before);
    assert!(has(&harness, "500 to 900 mm"), "its band stays beside it");
}

#[test]
fn nothing_typed_into_a_field_that_is_gone_reaches_the_plan() {
    let shop = Shop::new();
    shop.change("bays/bay.ron", "ceiling: 4000,", "");
    let mut harness = shop.open();
    type_into(&mut harness, "ceiling height", "4000", Key::Enter);
    assert!(harness.query_by_role_and_label(Role::TextInput, "ceiling height").is_none(), "it is known now");
    for typed in [Key::ArrowUp, Key::ArrowLeft, Key::F9, Key::D, Key::E] {
        key(&mut harness, Modifiers::NONE, typed);
    }
    assert_eq!(pose(&harness), (3000.0, 8000.0, 0.0));
    assert!(!has(&harness, "Esc: back to the job"), "E has not begun to change the bay");
    // a step elsewhere, and the keys are the plan's again
    key(&mut harness, Modifiers::NONE, Key::Escape);
    let inward = super::inward(&harness);
    key(&mut harness, Modifiers::NONE, inward);
    assert_eq!(pose(&harness).1, 8010.0);
}

#[test]
fn the_box_for_a_path_is_always_there() {
    let shop = Shop::new();
    let mut harness = shop.open();
    for (modifiers, letter, words) in [
        (Modifiers::COMMAND, Key::O, "Open a job"),
        (Modifiers::COMMAND | Modifiers::SHIFT, Key::S, "Save the job as"),
    ] {
        key(&mut harness, modifiers, letter);
        harness.get_by_label(words);
        harness.get_by_role_and_label(Role::TextInput, "path");
        harness.get_by_label("browse…");
        key(&mut harness, Modifiers::NONE, Key::Escape);
        assert!(!has(&harness, "browse…"));
    }
}

#[test]
fn a_start_that_fails_shows_why_and_a_way_out() {
    let shop = Shop::new();
    let start = |path: &Path| window(Window::at_start(path, None).unwrap(), 1280.0, 720.0);
    let mut harness = start(&shop.folder.path().join("bays/bay.ron"));
    harness.get_by_label("bay.ron is a bay, not a job: open a job that names it");
    press(&mut harness, "open a job…");
    harness.get_by_role_and_label(Role::TextInput, "path").type_text(&shop.job().display().to_string());
    settle(&mut harness);
    key(&mut harness, Modifiers::NONE, Key::Enter);
    assert_eq!(harness.state().document().job().name.as_str(), "Test job");
    let harness = start(&shop.folder.path().join("car.ron"));
    assert!(has(&harness, "car.ron is a vehicle, not a job"));
    shop.change("job.ron", "pose:", "poze:");
    let harness = start(&shop.job());
    assert!(has(&harness, "job.ron cannot be opened; this is the demonstration") && has(&harness, "poze"));
}

#[test]
fn any_number_of_files_is_dropped_at_once() {
    let shop = Shop::new();
    let mut harness = shop.open();
    let second = AHEAD.replace("Plate ahead", "Plate far ahead");
    for (name, text) in [("far.ron", second.as_str()), ("strange.ron", "(what: 1)")] {
        std::fs::write(shop.folder.path().join(name), text).unwrap();
    }
    for name in ["bays/long.ron", "far.ron", "strange.ron"] {
        harness.input_mut().dropped_files.push(dropped(&shop.folder.path().join(name)));
    }
    settle(&mut harness);
    let job = harness.state().document().job();
    assert_eq!((job.bay.as_str(), job.procedures.len()), ("bays/long.ron", 2));
    assert!(has(&harness, "strange.ron: this is no file of a job"), "what cannot be used is told");
}

#[test]
fn the_plan_is_told_to_a_reader_and_the_verdict_is_spoken_when_it_changes() {
    let shop = Shop::new();
    let harness = shop.open();
    let plan = harness.get_by_label("plan of the bay");
    let node = plan.accesskit_node();
    let told = node.data().description().unwrap_or_default().to_owned();
    for words in ["Test bay is 12\u{a0}000 long and 6\u{a0}000 wide", "You look in from", "1 mark, 1 target"]
    {
        assert!(told.contains(words), "{told}");
    }
    let children: Vec<String> =
        node.children().flat_map(|c| c.children()).filter_map(|c| c.label()).collect();
    for words in ["On the plan: mark X of Ahead", "On the plan: target plate"] {
        assert!(children.iter().any(|c| c.starts_with(words)), "{children:?}");
    }
    let verdict = harness.get_by_role_and_label(Role::Label, "Not known: 1 figure is missing");
    assert_eq!(verdict.accesskit_node().data().live(), Some(egui::accesskit::Live::Polite));
    for part in ["Job", "Findings", "Plan", "Where it can stand", "Verdict and menus"] {
        assert!(harness.query_all_by_role_and_label(Role::Region, part).count() == 1, "{part}");
    }
    assert!(harness.query_all_by_role_and_label(Role::Heading, "What is missing").count() == 1);
}

#[test]
fn tab_goes_from_left_to_right() {
    let shop = Shop::new();
    let mut harness = shop.open();
    start_typing(&mut harness, "find in the findings", "");
    let focused = |h: &Harness<Window>| {
        let nodes = h.root().children_recursive();
        nodes.into_iter().find(|n| n.accesskit_node().is_focused()).map(|n| n.rect())
    };
    let first = focused(&harness).unwrap();
    key(&mut harness, Modifiers::NONE, Key::Tab);
    let second = focused(&harness).unwrap();
    assert!(second.left() >= first.right() && (second.center().y - first.center().y).abs() < 6.0);
    let left = |h: &Harness<Window>, name: &str| h.get_by_role_and_label(Role::Button, name).rect().left();
    assert!(
        left(&harness, "Job") < left(&harness, "Edit") && left(&harness, "Edit") < left(&harness, "View")
    );
    harness.get_by_role_and_label(Role::Button, "Job").focus();
    settle(&mut harness);
    let mut before = focused(&harness).unwrap().left();
    for _ in 0..2 {
        key(&mut harness, Modifiers::NONE, Key::Tab);
        let now = focused(&harness).unwrap().left();
        assert!(now > before);
        before = now;
    }
}

#[test]
fn targets_are_large_enough_for_fingers_when_asked() {
    let shop = Shop::new();
    let mut harness = shop.open();
    let high = |h: &Harness<Window>, name: &str| h.get_by_role_and_label(Role::Button, name).rect().height();
    assert!(high(&harness, "turn round") < 44.0);
    command(&mut harness, "fingers");
    for name in ["turn round", "Job", "Edit", "View"] {
        assert!(high(&harness, name) >= 44.0, "{name}: {}", high(&harness, name));
    }
    assert!(harness.get_by_role_and_label(Role::TextInput, "into the bay").rect().height() >= 44.0);
    drop(harness);
    assert!(high(&shop.open(), "turn round") >= 44.0, "kept for the next time");
}
