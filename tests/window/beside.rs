//! The folders beside the job are read beside the window.

use std::time::{Duration, Instant};

use baywright::app::Window;
use egui_kittest::kittest::Queryable;

use super::{Shop, settle, window};

/// Neighbours that take long to read do not keep the window from opening; what was not looked at is said.
#[test]
fn a_bad_neighbour_does_not_keep_the_window_from_opening() {
    let shop = Shop::new();
    let bays = shop.folder.path().join("bays");
    let bad = format!("(name: \"B\", floor: 5, {})", "celing: 4000,\n".repeat(10_000));
    for i in 0..3 {
        std::fs::write(bays.join(format!("bad-{i}.ron")), &bad).unwrap();
    }
    std::fs::write(bays.join("large.ron"), bad.repeat(30)).unwrap();
    let began = Instant::now();
    let opened = Window::new(&shop.job(), Some(shop.state())).unwrap();
    assert!(began.elapsed() < Duration::from_secs(1), "{:?}", began.elapsed());
    assert!(opened.is_busy(), "the folders are still to be read");
    let mut harness = window(opened, 1280.0, 720.0);
    settle(&mut harness);
    harness.get_by_label_contains("Not looked at beside this job: 1 file larger than 256 KiB");
}
