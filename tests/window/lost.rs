//! No work is lost: not by a crash, not by another window, not by somebody else who writes the same files.

use std::fs;

use baywright::app::Window;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

use super::{Shop, key, press, settle, undo};

/// The pose as a job's file spells it.
fn pose(harness: &Harness<Window>) -> String {
    let (x, y, heading) = super::pose(harness);
    format!("At(x: {x}, y: {y}, heading: {heading})")
}

/// The window is looked at again after another program was.
fn come_back(harness: &mut Harness<Window>) {
    for focused in [false, true] {
        harness.input_mut().focused = focused;
        settle(harness);
    }
}

fn read(shop: &Shop, name: &str) -> String {
    fs::read_to_string(shop.folder.path().join(name)).unwrap()
}

#[test]
fn work_that_was_never_saved_is_found_again() {
    let shop = Shop::new();
    let mut harness = shop.open();
    super::type_into(&mut harness, "into the bay", "8200", Key::Enter);
    drop(harness); // the window ends without being closed
    let mut harness = shop.open();
    harness.get_by_label("Work was found that was never saved");
    assert_eq!(super::pose(&harness).1, 8000.0);
    press(&mut harness, "take up Test job");
    assert_eq!(super::pose(&harness).1, 8200.0);
    assert!(harness.state().document().is_changed());
    key(&mut harness, Modifiers::COMMAND, Key::S);
    drop(harness);
    let harness = shop.open();
    assert!(harness.query_by_label("Work was found that was never saved").is_none());
    assert_eq!(super::pose(&harness).1, 8200.0);
}

#[test]
fn what_was_found_waits_until_it_is_decided_about() {
    let shop = Shop::new();
    let mut first = shop.open();
    key(&mut first, Modifiers::NONE, Key::ArrowRight);
    let moved = pose(&first);
    drop(first); // it ends without being closed
    for _ in 0..2 {
        let mut next = shop.open();
        next.get_by_label("Work was found that was never saved");
        press(&mut next, "decide next time");
        // a change here takes nothing away from it
        key(&mut next, Modifiers::NONE, Key::ArrowUp);
        undo(&mut next);
        key(&mut next, Modifiers::COMMAND, Key::Q);
    }
    let mut last = shop.open();
    press(&mut last, "take up Test job");
    assert_eq!(pose(&last), moved);
    assert!(last.state().document().is_changed());
    key(&mut last, Modifiers::COMMAND, Key::S);
    key(&mut last, Modifiers::COMMAND, Key::Q);
    drop(last);
    assert!(shop.open().query_by_label("Work was found that was never saved").is_none());
}

#[test]
fn another_window_on_the_job_is_told_of_and_its_work_is_not_offered() {
    let shop = Shop::new();
    let mut first = shop.open();
    key(&mut first, Modifiers::NONE, Key::ArrowRight);
    let mut second = shop.open();
    assert!(second.query_by_label("Work was found that was never saved").is_none());
    second.get_by_label_contains("This job is open in another window too");
    // both are saved: the second is asked
    key(&mut first, Modifiers::COMMAND, Key::S);
    key(&mut second, Modifiers::NONE, Key::ArrowLeft);
    let mine = pose(&second);
    key(&mut second, Modifiers::COMMAND, Key::S);
    second.get_by_label("Somebody else has changed this file");
    let theirs = read(&shop, "job.ron");
    press(&mut second, "save mine beside");
    assert_eq!(read(&shop, "job.ron"), theirs);
    assert!(read(&shop, "job-mine.ron").contains(&mine));
    assert_eq!(pose(&second), pose(&first));
    assert!(!second.state().document().is_changed());
}

#[test]
fn mine_is_kept_where_it_is_said_and_saving_then_writes_over_theirs() {
    let shop = Shop::new();
    let mut harness = shop.open();
    key(&mut harness, Modifiers::NONE, Key::ArrowRight);
    let mine = pose(&harness);
    shop.change("job.ron", "Test job", "Their job");
    come_back(&mut harness);
    harness.get_by_label("Somebody else has changed this file");
    assert!(read(&shop, "job.ron").contains("Their job"));
    press(&mut harness, "keep mine");
    assert!(harness.state().document().is_changed());
    key(&mut harness, Modifiers::COMMAND, Key::S);
    assert!(read(&shop, "job.ron").contains("Test job") && read(&shop, "job.ron").contains(&mine));
}

#[test]
fn a_file_changed_by_others_is_read_anew_when_the_window_is_looked_at() {
    let shop = Shop::new();
    let mut harness = shop.open();
    shop.change("bays/bay.ron", "ceiling: 4000", "ceiling: 3900");
    come_back(&mut harness);
    assert_eq!(harness.state().document().bundle().bay.ceiling, Some(3900.0));
    harness.get_by_label_contains("Changed on the disk by somebody else and read anew: bay.ron");
    assert!(!harness.state().document().is_changed());
    undo(&mut harness);
    assert_eq!(harness.state().document().bundle().bay.ceiling, Some(4000.0));
    // what cannot be used is told of, and the window goes on with what it has
    shop.change("ahead.ron", "by: \"distance\"", "by: \"distanc\"");
    key(&mut harness, Modifiers::NONE, Key::F5);
    harness.get_by_label_contains("ahead.ron: changed by somebody else, and cannot be used as it is now");
    press(&mut harness, "close");
    assert_eq!(harness.state().document().bundle().procedures.len(), 1);
}

#[test]
fn the_files_are_read_anew_with_a_key() {
    let shop = Shop::new();
    let mut harness = shop.open();
    key(&mut harness, Modifiers::NONE, Key::F5);
    harness.get_by_label_contains("The files on the disk say what is shown");
    shop.change("car.ron", "height: 1500", "height: 1510");
    key(&mut harness, Modifiers::NONE, Key::F5);
    assert_eq!(harness.state().document().bundle().vehicle.height, 1510.0);
}

#[test]
fn a_job_that_nothing_protects_says_so_as_long_as_it_lasts() {
    let shop = Shop::new();
    fs::write(shop.state(), "no folder").unwrap();
    let mut harness = shop.open();
    let told = |harness: &Harness<Window>| {
        harness.query_by_label_contains("Unsaved work is not protected against a crash").is_some()
    };
    assert!(told(&harness));
    key(&mut harness, Modifiers::NONE, Key::ArrowRight);
    assert!(told(&harness));
    fs::remove_file(shop.state()).unwrap();
    key(&mut harness, Modifiers::NONE, Key::ArrowRight);
    std::thread::sleep(std::time::Duration::from_millis(200)); // it is written beside the window
    settle(&mut harness);
    assert!(!told(&harness));
}
