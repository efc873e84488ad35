//! The places of a workshop: its lists, what is made and opened from them, and a demonstration that stays as it is.

use std::fs;
use std::path::Path;

use baywright::app::Window;
use egui::{Key, Modifiers, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

use super::{Shop, choose, key, press, settle, type_into, window};

/// The shop of these tests as a workshop, with a broken bay and a broken job.
fn yard() -> Shop {
    let shop = Shop::new();
    let write = |name: &str, text: &str| {
        let path = shop.folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    };
    write(
        "workshop.ron",
        "(name: \"Tarn Row\", folders: (vehicles: \".\", equipment: \"gear\", procedures: \"pages\", jobs: \"work\"))",
    );
    let job = super::JOB.replace("\"bays/", "\"../bays/").replace("\"car", "\"../car");
    let job = job.replace("\"shop", "\"../shop").replace("\"ahead", "\"../ahead");
    write("work/good.ron", &job);
    write("work/broken.ron", "(name: \"Broken job\", bay: 3");
    write("bays/broken.ron", "(name: \"Broken bay\", floor: [(0, 0)])");
    shop
}

fn demonstration() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/jobs/fennel-van-radar.ron")
}

fn folder(shop: &Shop) -> Harness<'static, Window> {
    let opened = Window::without_job(Some(shop.folder.path()), &demonstration(), Some(shop.state())).unwrap();
    window(opened, 1280.0, 720.0)
}

#[test]
fn a_folder_opens_with_its_jobs_judged_and_the_broken_ones_told() {
    let shop = yard();
    let mut harness = folder(&shop);
    harness.get_by_label("workshop: Tarn Row");
    // a bracket that is never closed says no name: the file's own is told
    harness.get_by_label("broken");
    harness.get_by_label_contains("broken.ron:1:");
    harness.get_by_role_and_label(Role::Image, "not-known");
    press(&mut harness, "Test job");
    assert_eq!(harness.state().document().job().name.as_str(), "Test job");
    assert!(harness.state().document().path().is_some_and(|p| p.ends_with("work/good.ron")));
}

#[test]
fn the_places_are_turned_to_by_key_and_a_bay_opens_on_the_plan() {
    let shop = yard();
    let mut harness = folder(&shop);
    for (number, there) in [
        (Key::Num2, "plan of Test bay"),
        (Key::Num3, "Test car from above"),
        (Key::Num1, "Test job"),
        (Key::Num2, "plan of Long bay"),
    ] {
        key(&mut harness, Modifiers::ALT, number);
        harness.get_by_label(there);
    }
    harness.get_by_label_contains("broken.ron:1:");
    harness.get_by_label("1 job stands in it");
    press(&mut harness, "Test bay");
    assert_eq!(harness.state().document().bundle().bay.name.as_str(), "Test bay");
}

#[test]
fn nothing_changes_a_job_that_is_not_seen() {
    let shop = yard();
    let mut harness = folder(&shop);
    press(&mut harness, "Test job");
    key(&mut harness, Modifiers::ALT, Key::Num1);
    key(&mut harness, Modifiers::NONE, Key::R);
    assert!(!harness.state().document().is_changed());
}

#[test]
fn a_folder_that_is_not_there_is_a_sentence_and_comes_off_the_list() {
    let shop = yard();
    let gone = shop.folder.path().join("elsewhere");
    let opened = Window::without_job(Some(&gone), &demonstration(), Some(shop.state())).unwrap();
    let mut harness = window(opened, 1280.0, 720.0);
    harness.get_by_label_contains("elsewhere is not there");
    press(&mut harness, "close");
    drop(harness);
    drop(folder(&shop));
    let opened = Window::without_job(None, &demonstration(), Some(shop.state())).unwrap();
    let mut harness = window(opened, 1280.0, 720.0);
    press(&mut harness, "take off the list");
    harness.get_by_label("None was opened yet.");
    assert!(shop.folder.path().join("workshop.ron").is_file());
}

#[test]
fn the_demonstration_is_copied_and_never_written_to() {
    let shop = yard();
    let before = fs::read_to_string(demonstration()).unwrap();
    let mut harness = window(Window::new(&demonstration(), Some(shop.state())).unwrap(), 1280.0, 720.0);
    key(&mut harness, Modifiers::COMMAND, Key::R);
    assert!(harness.state().document().is_changed());
    key(&mut harness, Modifiers::COMMAND, Key::S);
    harness.get_by_label("The demonstration stays as it is");
    press(&mut harness, "copy it as my own");
    assert_eq!(fs::read_to_string(demonstration()).unwrap(), before);
    let own = shop.folder.path().join("my own");
    for (field, text) in [("workshop name", "My own"), ("workshop folder", own.to_str().unwrap())] {
        harness.get_by_role_and_label(Role::TextInput, field).click();
        settle(&mut harness);
        harness.get_by_role_and_label(Role::TextInput, field).type_text(text);
        settle(&mut harness);
    }
    press(&mut harness, "copy the demonstration as my own");
    settle(&mut harness);
    harness.get_by_label("workshop: My own");
    assert!(own.join("jobs/fennel-van-radar.ron").is_file() && own.join("bays/lift-2.ron").is_file());
}

/// From an empty folder to an answer: a workshop, a bay by its size, the first verdict.
#[test]
fn a_newcomer_has_a_bay_of_their_own() {
    let shop = yard();
    let opened = Window::without_job(None, &demonstration(), Some(shop.state())).unwrap();
    let mut harness = window(opened, 1280.0, 720.0);
    let own = shop.folder.path().join("tarn row");
    for (field, text) in [("workshop name", "Tarn Row"), ("workshop folder", own.to_str().unwrap())] {
        harness.get_by_role_and_label(Role::TextInput, field).click();
        settle(&mut harness);
        harness.get_by_role_and_label(Role::TextInput, field).type_text(text);
        settle(&mut harness);
    }
    press(&mut harness, "new workshop");
    key(&mut harness, Modifiers::ALT, Key::Num2);
    press(&mut harness, "new bay");
    assert!(own.join("bays/new-bay.ron").is_file());
    type_into(&mut harness, "bay width", "6.1 m", Key::Enter);
    type_into(&mut harness, "bay length", "11400", Key::Enter);
    type_into(&mut harness, "ceiling", "4 m", Key::Enter);
    key(&mut harness, Modifiers::NONE, Key::Escape);
    let bay = &harness.state().document().bundle().bay;
    assert_eq!((bay.floor.points[2], bay.ceiling), ((6100.0, 11_400.0), Some(4000.0)));
    choose(&mut harness, "add a procedure");
    harness.get_by_label("Rear camera, three marks").click();
    settle(&mut harness);
    key(&mut harness, Modifiers::COMMAND, Key::B);
    assert_eq!(harness.state().judgement().verdict.word(), "fits");
    key(&mut harness, Modifiers::COMMAND, Key::S);
    harness.get_by_label("Save the job as");
    press(&mut harness, "save");
    for _ in 0..200 {
        if !harness.state().is_busy() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
        settle(&mut harness);
    }
    let text = fs::read_to_string(own.join("bays/new-bay.ron")).unwrap();
    assert!(own.join("jobs/new-job.ron").is_file());
    assert!(text.contains("ceiling: 4000") && text.contains("(6100, 11400)"), "{text}");
}
