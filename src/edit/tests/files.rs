//! Edits as changes of the texts of files.

use std::sync::Arc;

use super::{stand, x_of};
use crate::edit::{Document, Edit, FileValue};
use crate::files::open_job;

/// A bay with notes in it, on the disk with the other files of a job.
fn on_disk() -> (tempfile::TempDir, Document) {
    let dir = tempfile::tempdir().unwrap();
    let put = |name: &str, text: &str| std::fs::write(dir.path().join(name), text).unwrap();
    put(
        "bay.ron",
        "// by tape\n(name: \"Bay\", floor: [(0, 0), (6_000, 0), (6_000, 12e3), (0, 12e3)], // wide\n    fixtures: [\n        (name: \"cart\", shape: Round(at: (500, 500), diameter: 400), movable: true), // on wheels\n    ],\n)\n",
    );
    put("shop.ron", "(name: \"Shop\", targets: {})");
    put(
        "car.ron",
        "(name: \"Car\", length: 4500, width: 1800, height: 1500, wheelbase: 2600, front_overhang: 900,\n  track: (front: 1500, rear: 1500), tyre: (width: 200, diameter: 620), ground_clearance: 150)",
    );
    put(
        "job.ron",
        "(name: \"Job\", bay: \"bay.ron\", vehicle: \"car.ron\", equipment: \"shop.ron\", procedures: [],\n  pose: At(x: 3000, y: 5000, heading: 0), cleared: [\"cart\"],\n  accepted: [(rule: \"vehicle-clear\", items: [\"vehicle\", \"cart\"], reason: \"soft\", by: \"A. N.\", on: \"2026-11-24\")])\n",
    );
    let opened = open_job(&dir.path().join("job.ron")).unwrap();
    (dir, Document::opened(opened))
}

fn text_of(document: &Document, name: &str) -> String {
    let is = |s: &&Arc<crate::files::Source>| s.path.ends_with(name);
    document.texts().values().find(is).map(|s| s.text.clone()).unwrap()
}

#[test]
fn one_step_may_touch_several_files_and_nothing_else_of_them() {
    let (_dir, mut document) = on_disk();
    let before = (text_of(&document, "bay.ron"), text_of(&document, "job.ron"));
    document.apply(&Edit::RenameFixture { from: "cart".into(), to: "trolley".into() }).unwrap();
    assert_eq!(text_of(&document, "bay.ron"), before.0.replace("\"cart\"", "\"trolley\""));
    assert_eq!(text_of(&document, "job.ron"), before.1.replace("\"cart\"", "\"trolley\""));
    let changed: Vec<_> = document.changed().iter().map(|s| s.path.file_name().unwrap().to_owned()).collect();
    assert_eq!(changed, ["job.ron", "bay.ron"]);
    for source in document.changed() {
        crate::files::save(&source).unwrap();
        document.wrote(source);
    }
    assert!(!document.is_changed());
    // undo survives saving: both files are changed again, and are as they were
    assert_eq!(document.undo().as_deref(), Some("rename cart"));
    assert_eq!((text_of(&document, "bay.ron"), text_of(&document, "job.ron")), before);
    assert_eq!(document.changed().len(), 2);
    for (to, why) in [("", "a thing needs a name"), ("cart\n", "a line break")] {
        let refused = document.apply(&Edit::RenameFixture { from: "cart".into(), to: to.into() });
        assert!(refused.as_ref().is_err_and(|e| e.contains(why)), "{refused:?}");
    }
    assert_eq!(text_of(&document, "bay.ron"), before.0);
}

#[test]
fn a_rename_keeps_what_was_accepted_about_another_thing_of_that_name() {
    let (_dir, mut document) = on_disk();
    let words = |document: &Document| -> Vec<String> {
        document.job().accepted[0].items.iter().map(|i| i.as_str().to_owned()).collect()
    };
    let mut rename = |from: &str, to: &str| {
        document.apply(&Edit::RenameFixture { from: from.into(), to: to.into() }).unwrap();
        words(&document)
    };
    // the vehicle's tyres are called so too: then the kind is said
    assert_eq!(rename("cart", "tyres"), ["vehicle", "fixture: tyres"]);
    assert_eq!(rename("tyres", "pile"), ["vehicle", "pile"]);
    // a plain word that means the vehicle is not the fixture's
    assert_eq!(rename("pile", "vehicle"), ["vehicle", "fixture: vehicle"]);
    assert_eq!(rename("vehicle", "cart"), ["vehicle", "cart"]);
}

#[test]
fn every_kind_of_file_is_changed_through_its_text() {
    let (_dir, mut document) = on_disk();
    let car = text_of(&document, "car.ron");
    let mut vehicle = (*document.bundle().vehicle).clone();
    vehicle.length = 4510.0;
    let title = "change length".to_owned();
    document.apply(&Edit::Rewrite { title, file: FileValue::Vehicle(Arc::new(vehicle)) }).unwrap();
    assert_eq!(text_of(&document, "car.ron"), car.replace("4500", "4510"));
    let bay = text_of(&document, "bay.ron");
    let spots = vec![crate::model::bay::SpotHeight(0.0, 0.0, -1.5)];
    document.apply(&Edit::Survey { spots, error: Some(0.5) }).unwrap();
    let survey = "    ],\n    heights: [(0, 0, -1.5)],\n    reading_error: 0.5,\n)";
    assert_eq!(text_of(&document, "bay.ron"), bay.replace("    ],\n)", survey));
    let mut shop = (*document.bundle().equipment).clone();
    shop.name = "Own set".into();
    let edit = Edit::Rewrite { title: "rename".into(), file: FileValue::Equipment(Arc::new(shop)) };
    document.apply(&edit).unwrap();
    assert_eq!(text_of(&document, "shop.ron"), "(name: \"Own set\", targets: {})");
    // a value that no file can hold is refused, and nothing has changed
    let mut vehicle = (*document.bundle().vehicle).clone();
    vehicle.width = f64::NAN;
    let edit = Edit::Rewrite { title: "x".into(), file: FileValue::Vehicle(Arc::new(vehicle)) };
    let why = document.apply(&edit).unwrap_err();
    assert_eq!(why, "the vehicle file cannot say so: expected a finite number, found NaN");
    // faults found later know their place in the text as it is now
    let source = document.sources();
    let place = document.bundle().bay.fixtures[0].name.spot.0;
    assert!(source.get(crate::model::FileOf::Bay).unwrap().text[place..].starts_with("\"cart\""));
    for _ in 0..3 {
        document.undo();
    }
    assert!(!document.is_changed());
}

#[test]
fn what_others_have_written_is_a_step_that_can_be_taken_back() {
    let (dir, mut document) = on_disk();
    document.apply(&stand(3100.0)).unwrap();
    let path = dir.path().join("bay.ron");
    std::fs::write(&path, text_of(&document, "bay.ron").replace("(500, 500)", "(700, 500)")).unwrap();
    let theirs = Arc::new(crate::files::Source::load(&path).unwrap());
    let new: crate::files::Texts = [(crate::files::plain_path(&path), theirs)].into();
    let mut texts = document.texts().clone();
    texts.extend(new.clone());
    let opened = crate::files::open_over(document.home(), &texts).unwrap();
    document.read_anew(opened, new);
    assert_eq!(x_of(&document), 3100.0, "what was done here stays");
    assert!(text_of(&document, "bay.ron").contains("(700, 500)") && !document.is_file_changed(&path));
    document.undo();
    assert!(document.is_file_changed(&path), "saving would take theirs back");
}
