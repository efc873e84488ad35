//! The bay changed in the window: a new one typed, things put down, dragged, typed into place, taken away; its file keeps
//! what a person wrote.

use std::fs;

use baywright::app::Window;
use baywright::files::{open_job, read_text};
use baywright::model::Bay;
use egui::{Key, Modifiers, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};

use super::{Shop, drag, key, on_screen, press, settle, type_into, undo};

fn bay<'a>(harness: &'a Harness<Window>) -> &'a Bay {
    &harness.state().document().bundle().bay
}

fn at(harness: &Harness<Window>, name: &str) -> (f64, f64) {
    let thing = bay(harness).fixtures.iter().find(|f| f.name.as_str() == name).unwrap();
    let middle = thing.shape.0.bounds().centre();
    (middle.x, middle.y)
}

fn save(harness: &mut Harness<Window>) {
    harness.key_press_modifiers(Modifiers::COMMAND, Key::S);
    settle(harness);
    for _ in 0..200 {
        if !harness.state().is_busy() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
        settle(harness);
    }
}

#[test]
fn a_new_bay_is_typed_and_written_with_the_job() {
    let shop = Shop::new();
    let mut harness = shop.open();
    harness.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::N);
    settle(&mut harness);
    harness.get_by_label_contains("bays/new-bay.ron is written when the job is saved");
    type_into(&mut harness, "bay name", "Owner's bay", Key::Enter);
    type_into(&mut harness, "bay width", "6.1 m", Key::Enter);
    type_into(&mut harness, "bay length", "11400", Key::Enter);
    type_into(&mut harness, "ceiling", "4.2 m", Key::Enter);
    press(&mut harness, "doorway");
    type_into(&mut harness, "doorway width", "3500", Key::Enter);
    type_into(&mut harness, "from the side's first corner", "1300", Key::Enter);
    press(&mut harness, "choose none");
    press(&mut harness, "put down: cabinet");
    type_into(&mut harness, "its middle to the right", "5' 3\"", Key::Enter);
    type_into(&mut harness, "to the wall along", "100", Key::Enter);
    let path = shop.folder.path().join("bays/new-bay.ron");
    assert!(!path.exists(), "nothing is written before it is saved");
    save(&mut harness);
    let text = fs::read_to_string(&path).unwrap();
    let written: Bay = read_text(&text, &path).unwrap();
    assert_eq!((written.name.as_str(), written.ceiling), ("Owner's bay", Some(4200.0)));
    assert_eq!(written.floor.points, vec![(0.0, 0.0), (6100.0, 0.0), (6100.0, 11_400.0), (0.0, 11_400.0)]);
    assert_eq!((written.doorways[0].from, written.doorways[0].width), (1300.0, 3500.0));
    let (x, y) = at(&harness, "cabinet");
    assert_eq!(x, 1600.2);
    // 100 to the nearer of the two end walls, half its length 450
    assert!(y == 550.0 || y == 11_400.0 - 550.0, "{y}");
    let opened = open_job(&shop.job()).unwrap();
    assert_eq!(opened.bundle.bay.name.as_str(), "Owner's bay");
    // and back to the bay before, with its file left alone
    while bay(&harness).name.as_str() != "Test bay" && harness.state().document().revision() > 0 {
        undo(&mut harness);
    }
    assert_eq!(bay(&harness).name.as_str(), "Test bay");
}

#[test]
fn a_thing_is_dragged_nudged_typed_and_taken_away_and_the_rest_of_the_file_stays() {
    let shop = Shop::new();
    let before = fs::read_to_string(shop.folder.path().join("bays/bay.ron")).unwrap();
    let mut harness = shop.open();
    let checks = harness.state().checks();
    let start = at(&harness, "tool cart");
    key(&mut harness, Modifiers::NONE, Key::E);
    harness.get_by_label("bay name");
    let from = on_screen(&harness, start.0, start.1);
    drag(&mut harness, from, from + Vec2::new(0.0, 40.0));
    harness.get_by_label("name of the thing");
    harness.drop_at(from + Vec2::new(0.0, 40.0));
    settle(&mut harness);
    let dragged = at(&harness, "tool cart");
    assert!(dragged != start && dragged.0.fract() == 0.0 && dragged.1.fract() == 0.0, "{dragged:?}");
    assert!(harness.state().checks() > checks, "judged while it was dragged");
    undo(&mut harness);
    assert_eq!(at(&harness, "tool cart"), start, "one drag is one step");
    // let go with Esc, it is where it was
    drag(&mut harness, from, from + Vec2::new(0.0, 40.0));
    harness.key_press(Key::Escape);
    settle(&mut harness);
    harness.drop_at(from + Vec2::new(0.0, 40.0));
    settle(&mut harness);
    assert_eq!(at(&harness, "tool cart"), start);
    // typed, in feet
    type_into(&mut harness, "its middle into the bay", "20'", Key::Enter);
    assert_eq!(at(&harness, "tool cart").1, 6096.0);
    save(&mut harness);
    let after = fs::read_to_string(shop.folder.path().join("bays/bay.ron")).unwrap();
    let differing = before.lines().zip(after.lines()).filter(|(a, b)| a != b).count();
    assert_eq!((before.lines().count(), differing), (after.lines().count(), 1), "{after}");
    press(&mut harness, "Take away");
    assert!(bay(&harness).fixtures.iter().all(|f| f.name.as_str() != "tool cart"));
    undo(&mut harness);
    assert_eq!(at(&harness, "tool cart").1, 6096.0);
    // Esc ends it, and the arrows move the vehicle again
    key(&mut harness, Modifiers::NONE, Key::Escape);
    key(&mut harness, Modifiers::NONE, Key::Escape);
    assert!(harness.query_by_label("bay name").is_none());
}

/// Six tapes typed one after the other; the corners put where they have them; one step of undo takes that back.
#[test]
fn a_bay_is_measured_with_a_tape() {
    let shop = Shop::new();
    let mut harness = shop.open();
    harness.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::N);
    settle(&mut harness);
    press(&mut harness, "Measured with a tape");
    for (tape, reads) in [
        ("tape corner 0 to corner 1", "6.1 m"),
        ("tape corner 1 to corner 2", "11400"),
        ("tape corner 2 to corner 3", "6100"),
    ] {
        assert!(
            tape.starts_with("tape corner 0 to corner 1") || harness.get_by_label(tape).is_focused(),
            "{tape}"
        );
        type_into(&mut harness, tape, reads, Key::Enter);
    }
    harness.get_by_label_contains("readings are missing: the tapes do not settle");
    for (tape, reads) in
        [("tape corner 0 to corner 3", "37' 4-13/16\""), ("tape corner 0 to corner 2", "12 929")]
    {
        type_into(&mut harness, tape, reads, Key::Enter);
    }
    harness.get_by_label_contains("no reading checks another");
    assert_eq!(bay(&harness).taped.len(), 5);
    type_into(&mut harness, "tape corner 1 to corner 3", "12930", Key::Enter);
    harness.get_by_label_contains("The readings fit each other; 1 reading to spare.");
    press(&mut harness, "put the corners there");
    let points = bay(&harness).floor.points.clone();
    assert!(points[0] == (0.0, 0.0) && points[1].1 == 0.0, "{points:?}");
    for ((x, y), want) in points.iter().zip([(0.0, 0.0), (6100.0, 0.0), (6100.0, 11_399.0), (0.0, 11_399.0)])
    {
        assert!((x - want.0).abs() < 3.0 && (y - want.1).abs() < 3.0, "{points:?}");
    }
    harness.get_by_label_contains("The floor is drawn where the tapes have it.");
    undo(&mut harness);
    assert_eq!(bay(&harness).floor.points[2], (6000.0, 12_000.0));
    // a wrong one: with one to spare none is pointed at, and a jamb is asked for
    type_into(&mut harness, "reading 6, corner 1 to corner 3", "12990", Key::Enter);
    harness.get_by_label_contains("it cannot be told which");
    harness.get_by_label("tape corner 2 to doorway from");
    // an emptied field takes its reading out
    type_into(&mut harness, "reading 6, corner 1 to corner 3", " ", Key::Enter);
    assert_eq!(bay(&harness).taped.len(), 5);
    save(&mut harness);
    let path = shop.folder.path().join("bays/new-bay.ron");
    let written: Bay = read_text(&fs::read_to_string(&path).unwrap(), &path).unwrap();
    assert_eq!(written.taped.len(), 5);
}

#[test]
fn several_things_are_chosen_and_changed_together() {
    let shop = Shop::new();
    let mut harness = shop.open();
    key(&mut harness, Modifiers::NONE, Key::E);
    let names = |harness: &Harness<Window>| {
        bay(harness).fixtures.iter().map(|f| f.name.to_string()).collect::<Vec<_>>()
    };
    let before = names(&harness);
    press(&mut harness, "tool cart");
    let start = at(&harness, "tool cart");
    press(&mut harness, "Duplicate");
    assert_eq!(at(&harness, "tool cart 2"), (start.0 + 200.0, start.1 + 200.0));
    // the copy is chosen; with Shift the first one too, and both move
    let own =
        bay(&harness).fixtures.iter().find(|f| f.name.as_str() == "tool cart").unwrap().shape.0.bounds();
    let point = on_screen(&harness, own.min.x + 40.0, own.min.y + 40.0);
    harness.hover_at(point);
    harness.event(egui::Event::ModifiersChanged(Modifiers::SHIFT));
    harness.drag_at(point);
    harness.step();
    harness.drop_at(point);
    harness.step();
    harness.event(egui::Event::ModifiersChanged(Modifiers::NONE));
    settle(&mut harness);
    harness.get_by_label("2 chosen");
    press(&mut harness, "Mirror left and right");
    let (one, two) = (at(&harness, "tool cart"), at(&harness, "tool cart 2"));
    assert_eq!((one, two), ((start.0 + 200.0, start.1), (start.0, start.1 + 200.0)));
    press(&mut harness, "Lock");
    key(&mut harness, Modifiers::NONE, Key::Delete);
    harness.get_by_label_contains("is locked: let it go first");
    assert_eq!(names(&harness).len(), before.len() + 1);
    press(&mut harness, "Unlock");
    press(&mut harness, "Take away");
    assert_eq!(names(&harness).len(), before.len() - 1);
    undo(&mut harness);
    undo(&mut harness);
    undo(&mut harness);
    assert_eq!((names(&harness), at(&harness, "tool cart")), (before, start));
}

#[test]
fn a_length_is_typed_while_a_thing_is_dragged_and_lines_draw_it() {
    let shop = Shop::new();
    let mut harness = shop.open();
    key(&mut harness, Modifiers::NONE, Key::E);
    let start = at(&harness, "tool cart");
    let from = on_screen(&harness, start.0, start.1);
    let width = bay(&harness).floor.points.iter().map(|p| p.0).fold(0.0, f64::max);
    drag(&mut harness, from, from - Vec2::new(0.0, 30.0));
    for digit in ["3", "3", "7"] {
        harness.event(egui::Event::Text(digit.into()));
        settle(&mut harness);
    }
    harness.hover_at(from + Vec2::new(0.0, -31.0));
    settle(&mut harness);
    harness.drop_at(from + Vec2::new(0.0, -31.0));
    settle(&mut harness);
    let thing = bay(&harness).fixtures.iter().find(|f| f.name.as_str() == "tool cart").unwrap();
    let own = thing.shape.0.bounds();
    let length = bay(&harness).floor.points.iter().map(|p| p.1).fold(0.0, f64::max);
    let gaps = [own.min.x, width - own.max.x, own.min.y, length - own.max.y];
    assert!(gaps.iter().any(|gap| (gap - 337.0).abs() < 1e-6), "{gaps:?}");
    undo(&mut harness);
    assert_eq!(at(&harness, "tool cart"), start, "one drag is one step");
    // told in words
    type_into(&mut harness, "its middle in words", "1200 right, 850 up from corner A", Key::Enter);
    let corner = bay(&harness).floor.points[0];
    assert_eq!(at(&harness, "tool cart"), (corner.0 + 1200.0, corner.1 + 850.0));
}

#[test]
fn a_tape_is_held_on_the_plan_between_points_and_outlines() {
    let shop = Shop::new();
    let mut harness = shop.open();
    key(&mut harness, Modifiers::NONE, Key::J);
    let click = |harness: &mut Harness<Window>, x: f64, y: f64| {
        let at = on_screen(harness, x, y);
        harness.hover_at(at);
        harness.drag_at(at);
        harness.step();
        harness.drop_at(at);
        settle(harness);
    };
    let points = bay(&harness).floor.points.clone();
    click(&mut harness, points[0].0, points[0].1);
    click(&mut harness, points[1].0, points[1].1);
    let long = (points[1].0 - points[0].0).abs();
    assert!(long > 1000.0 && points[0].1 == points[1].1, "{points:?}");
    let said = |harness: &Harness<Window>| {
        let node = harness.get_by_label_contains(", across").accesskit_node();
        node.value().or(node.label()).unwrap_or_default().replace('\u{a0}', "")
    };
    assert!(said(&harness).starts_with(&format!("corner 0 to corner 1: {long} mm (")), "{}", said(&harness));
    assert!(said(&harness).contains(&format!("across {long} mm")) && said(&harness).contains("along 0 mm"));
    // the third press begins another tape; with Shift it runs to the outline of the cart
    click(&mut harness, points[0].0, points[0].1);
    let cart = at(&harness, "tool cart");
    harness.event(egui::Event::ModifiersChanged(Modifiers::SHIFT));
    click(&mut harness, cart.0, cart.1);
    harness.event(egui::Event::ModifiersChanged(Modifiers::NONE));
    settle(&mut harness);
    assert!(said(&harness).starts_with("corner 0 to tool cart: "), "{}", said(&harness));
    let own =
        bay(&harness).fixtures.iter().find(|f| f.name.as_str() == "tool cart").unwrap().shape.0.bounds();
    let off = |p: f64, low: f64, high: f64| (low - p).max(p - high).max(0.0);
    let (dx, dy) = (off(points[0].0, own.min.x, own.max.x), off(points[0].1, own.min.y, own.max.y));
    let reads = format!("{} mm", (dx.hypot(dy) * 10.0).round() / 10.0);
    assert!(said(&harness).contains(&reads), "{} has no {reads}", said(&harness));
    assert!(!harness.state().document().is_changed(), "a tape changes nothing");
    key(&mut harness, Modifiers::NONE, Key::Escape);
    assert!(harness.query_by_label_contains("corner 0 to").is_none());
}

#[test]
fn a_corner_is_dragged_and_walls_that_cross_are_refused() {
    let shop = Shop::new();
    let mut harness = shop.open();
    key(&mut harness, Modifiers::NONE, Key::E);
    let points = bay(&harness).floor.points.clone();
    let corner = on_screen(&harness, points[2].0, points[2].1);
    drag(&mut harness, corner, corner - Vec2::new(15.0, 0.0));
    harness.drop_at(corner - Vec2::new(15.0, 0.0));
    settle(&mut harness);
    assert_ne!(bay(&harness).floor.points[2], points[2]);
    assert!(harness.query_by_label("bay width").is_none(), "no rectangle any more");
    press(&mut harness, "corner after it");
    assert_eq!(bay(&harness).floor.points.len(), points.len() + 1);
    press(&mut harness, "Take away");
    assert_eq!(bay(&harness).floor.points.len(), points.len());
    let now = bay(&harness).floor.points.clone();
    press(&mut harness, "corner 2");
    type_into(&mut harness, "its middle into the bay", "-9000", Key::Enter);
    assert_eq!(bay(&harness).floor.points, now);
    harness.get_by_label_contains("The walls would cross");
}

#[test]
fn a_missing_ceiling_is_typed_where_it_is_asked_for() {
    let shop = Shop::new();
    shop.change("bays/bay.ron", "ceiling: 4000,", "");
    let mut harness = shop.open();
    harness.get_by_label_contains("written into the bay's file, for every job of it");
    type_into(&mut harness, "ceiling height", "13' 1-1/2\"", Key::Enter);
    assert_eq!(bay(&harness).ceiling, Some(4000.5));
    assert!(harness.query_by_label("ceiling height").is_none(), "it is not missing any more");
    save(&mut harness);
    let text = fs::read_to_string(shop.folder.path().join("bays/bay.ron")).unwrap();
    assert!(text.contains("ceiling: 4000.5"), "{text}");
}
