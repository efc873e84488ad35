//! Edits and undo, case by case.

mod bay;
mod files;

use std::path::Path;
use std::sync::Arc;

use super::*;
use crate::files::{open_job, read_text};
use crate::model::job::{Accepted, Found, Support, Toe};
use crate::model::{Bay, Bundle, Equipment, Items, Job, Name, Pose, Procedure, Vehicle};

fn read<T: crate::files::FileKind>(text: &str) -> Arc<T> {
    match read_text::<T>(text, Path::new("made up")) {
        Ok(value) => Arc::new(value),
        Err(faults) => panic!("{faults:?}"),
    }
}

fn bay() -> Arc<Bay> {
    read(
        r#"(name: "Bay", floor: [(0, 0), (6000, 0), (6000, 12000), (0, 12000)],
            doorways: [(name: "gate", side: 0, from: 1000, width: 3600, height: 3000), (name: "back door", side: 2, from: 100, width: 900, height: 2000)],
            fixtures: [(name: "cart", shape: Round(at: (500, 500), diameter: 400), movable: true), (name: "pillar", shape: Round(at: (5500, 9000), diameter: 400))],
            lifts: [(name: "lift", posts: [Round(at: (500, 5000), diameter: 300)])])"#,
    )
}

fn procedure(name: &str) -> Arc<Procedure> {
    read(&format!(
        r#"(name: "{name}", values: {{"side": OneOf([300, 400]), "gap": Between(800, 1200), "height": Missing("cut off")}},
            variants: {{"roof rails": {{"side": 310}}, "tow bar less": {{}}}}, ways: {{"at once": ["Ahead"]}}, measured: {{"lamp": (ask: "lamp height", between: (500, 900))}},
            setups: [(name: "Ahead")])"#
    ))
}

fn bundle() -> Bundle {
    let job: Arc<Job> = read(
        r#"(name: "Job", bay: "bay.ron", vehicle: "car.ron", equipment: "shop.ron",
            procedures: [(file: "one.ron"), (file: "two.ron")], pose: At(x: 3000, y: 5000, heading: 0))"#,
    );
    let vehicle: Arc<Vehicle> = read(
        r#"(name: "Car", length: 4500, width: 1800, height: 1500, wheelbase: 2600, front_overhang: 900,
            track: (front: 1500, rear: 1500), tyre: (width: 200, diameter: 620), ground_clearance: 150)"#,
    );
    let equipment: Arc<Equipment> = read(r#"(name: "Shop", targets: {})"#);
    Bundle { job, bay: bay(), vehicle, equipment, procedures: vec![procedure("One"), procedure("Two")] }
}

fn document() -> Document {
    let mut document = Document::made("jobs/job.ron", bundle());
    write(&mut document);
    document
}

/// As if every file were written.
fn write(document: &mut Document) {
    for source in document.changed() {
        document.wrote(source);
    }
}

fn stand(x: f64) -> Edit {
    Edit::Stand { x, y: 5000.0, heading: 0.0, how: Motion::Nudge }
}

fn x_of(document: &Document) -> f64 {
    match document.job().pose {
        Pose::At { x, .. } => x,
        Pose::Anywhere => f64::NAN,
    }
}

fn accepted(reason: &str) -> Accepted {
    Accepted {
        rule: "vehicle-clear".into(),
        items: vec!["vehicle".into(), "cart".into()],
        reason: reason.into(),
        by: "A. N.".into(),
        on: String::new(),
    }
}

/// Every kind of edit: what undo calls it, and what it did to the job.
#[test]
fn every_edit_changes_what_it_says_and_is_undone() {
    type Seen = fn(&Bundle) -> bool;
    let cases: Vec<(Edit, &str, Seen)> = vec![
        (stand(2000.0), "move vehicle", |b| b.job.pose == Pose::At { x: 2000.0, y: 5000.0, heading: 0.0 }),
        (Edit::Stand { x: 1.0, y: 2.0, heading: -90.0, how: Motion::TurnRound }, "turn vehicle round", |b| {
            b.job.pose == Pose::At { x: 1.0, y: 2.0, heading: 270.0 }
        }),
        (Edit::RemoveProcedure(0), "remove procedure", |b| {
            b.procedures.len() == 1 && b.job.procedures[0].file == "two.ron"
        }),
        (
            Edit::AddProcedure { file: "three.ron".into(), procedure: procedure("Three") },
            "add procedure",
            |b| b.procedures.len() == 3 && b.job.procedures[2].file == "three.ron",
        ),
        (Edit::MoveProcedure { from: 1, to: 0 }, "reorder procedures", |b| {
            b.procedures[0].name == "Two" && b.job.procedures[0].file == "two.ron"
        }),
        (Edit::Variants { procedure: 1, variants: vec!["roof rails".into()] }, "choose variant", |b| {
            b.job.procedures[1].variant.as_ref().is_some_and(|v| *v == "roof rails")
        }),
        (
            Edit::Variants { procedure: 0, variants: vec!["roof rails".into(), "tow bar less".into()] },
            "choose variant",
            |b| b.job.procedures[0].variant.is_none() && b.job.procedures[0].all_variants().count() == 2,
        ),
        (Edit::Way { procedure: 0, way: Some("at once".into()) }, "choose way", |b| {
            b.job.procedures[0].way.is_some()
        }),
        (
            Edit::When(crate::model::when::When::parse("2026-11-24 15:00 +00:00").ok()),
            "set date and time",
            |b| b.job.when.is_some(),
        ),
        (Edit::Market(Some("north".into())), "choose market", |b| b.job.market.is_some()),
        (Edit::Measured { name: "lamp".into(), value: Some(700.0) }, "set lamp", |b| {
            b.job.measured.get("lamp").is_some()
        }),
        (Edit::Choose { name: "gap".into(), value: Some(900.0) }, "set gap", |b| {
            b.job.choose.get("gap").is_some()
        }),
        (
            Edit::Figure { name: "height".into(), found: Some(Found { mm: 640.0, from: "page 3".into() }) },
            "set height",
            |b| b.job.figures.get("height").is_some_and(|f| f.from == "page 3"),
        ),
        (Edit::RearToe(Some(Toe { left: 0.2, right: -0.1 })), "set rear toe", |b| b.job.rear_toe.is_some()),
        (Edit::FrontToe(Some(Toe { left: 0.0, right: 0.0 })), "set front toe", |b| b.job.front_toe.is_some()),
        (Edit::Door { name: "gate".into(), open: true }, "open gate", |b| b.job.doors_open.len() == 1),
        (Edit::Clear { name: "cart".into(), away: true }, "clear cart", |b| b.job.cleared.len() == 1),
        (Edit::Accept(accepted("seen to")), "accept finding", |b| b.job.accepted.len() == 1),
        (Edit::Rename(" New ".into()), "rename job", |b| b.job.name == "New"),
        (Edit::ShopFigure { which: ShopFigure::WalkAround, mm: Some(500.0) }, "set walk-round", |b| {
            b.needs().walk_around == 500.0
        }),
        (Edit::Support(Support::Lift { name: "lift".into(), height: 0.0 }), "choose support", |b| {
            b.job.support != Support::Floor
        }),
        (Edit::EnterBy(Some("back door".into())), "choose doorway", |b| b.job.enter_by.is_some()),
        (Edit::DriveIn(true), "judge the way in", |b| b.job.drive_in),
        (Edit::StraightRun(Some(900.0)), "set straight run", |b| b.job.straight_run == Some(900.0)),
    ];
    for (edit, title, seen) in cases {
        let mut document = document();
        let before = document.bundle().clone();
        document.apply(&edit).unwrap();
        assert!(seen(document.bundle()), "{edit:?}");
        assert!(!seen(&before), "{edit:?} shows already");
        assert_eq!(document.can_undo(), Some(title), "{edit:?}");
        assert_eq!(document.undo().as_deref(), Some(title));
        assert_eq!(*document.bundle(), before, "{edit:?}");
        assert_eq!(document.redo().as_deref(), Some(title));
        assert!(seen(document.bundle()), "{edit:?}");
    }
}

#[test]
fn what_cannot_be_is_refused_in_one_sentence() {
    let cases = [
        (stand(f64::NAN), "x is not a number"),
        (Edit::RemoveProcedure(2), "no such procedure"),
        (Edit::MoveProcedure { from: 0, to: 2 }, "no such procedure"),
        (Edit::AddProcedure { file: "one.ron".into(), procedure: procedure("One") }, "already part"),
        (Edit::Variants { procedure: 0, variants: vec!["tow bar".into()] }, "has no variant"),
        (Edit::Way { procedure: 0, way: Some("in turn".into()) }, "has no way"),
        (Edit::Measured { name: "lump".into(), value: Some(1.0) }, "no procedure of the job asks"),
        (Edit::Measured { name: "lamp".into(), value: Some(f64::INFINITY) }, "not a number"),
        (Edit::Choose { name: "side".into(), value: Some(350.0) }, "must be 300 or 400"),
        (Edit::Choose { name: "gap".into(), value: Some(1200.5) }, "must be from 800 to 1200"),
        (Edit::Choose { name: "lamp".into(), value: Some(1.0) }, "leaves"),
        (Edit::Door { name: "window".into(), open: true }, "no doorway"),
        (Edit::Clear { name: "pillar".into(), away: true }, "cannot be moved"),
        (Edit::Accept(accepted("  ")), "say why"),
        (Edit::Rename(" ".into()), "needs a name"),
        (Edit::ShopFigure { which: ShopFigure::Clearance, mm: Some(-1.0) }, "cannot be -1"),
        (Edit::Support(Support::Lift { name: "hoist".into(), height: 0.0 }), "no lift"),
        (Edit::EnterBy(Some("hatch".into())), "no doorway"),
        (Edit::StraightRun(Some(-1.0)), "at least 0"),
    ];
    for (edit, says) in cases {
        let mut document = document();
        let why = document.apply(&edit).unwrap_err();
        assert!(why.contains(says), "{edit:?}: {why}");
        assert_eq!(*document.bundle(), bundle());
        assert_eq!(document.can_undo(), None);
        assert!(!document.is_changed());
    }
}

#[test]
fn the_ends_of_a_band_are_in_it() {
    let mut document = document();
    for value in [800.0, 1200.0] {
        document.apply(&Edit::Choose { name: "gap".into(), value: Some(value) }).unwrap();
    }
}

#[test]
fn another_bay_takes_its_own_names_along() {
    let mut document = document();
    for edit in [
        Edit::Door { name: "gate".into(), open: true },
        Edit::Door { name: "back door".into(), open: true },
        Edit::Clear { name: "cart".into(), away: true },
        Edit::Accept(accepted("it is soft")),
        Edit::Support(Support::Lift { name: "lift".into(), height: 0.0 }),
        Edit::EnterBy(Some("back door".into())),
    ] {
        document.apply(&edit).unwrap();
    }
    let other: Arc<Bay> = read(
        r#"(name: "Other", floor: [(0, 0), (6000, 0), (6000, 9000), (0, 9000)],
            doorways: [(name: "gate", side: 0, from: 1000, width: 3600, height: 3000)])"#,
    );
    document.apply(&Edit::ChooseBay { file: "other.ron".into(), bay: other }).unwrap();
    let job = document.job();
    assert_eq!(job.bay, "other.ron");
    assert_eq!(job.doors_open.0, vec![Name::from("gate")]);
    assert!(job.cleared.is_empty() && job.accepted.is_empty());
    assert_eq!((&job.support, &job.enter_by), (&Support::Floor, &None));
    document.undo();
    assert_eq!(document.job().accepted.len(), 1);
}

#[test]
fn figures_go_with_the_last_procedure_that_asks_for_them() {
    let mut document = document();
    document.apply(&Edit::Measured { name: "lamp".into(), value: Some(700.0) }).unwrap();
    document.apply(&Edit::Choose { name: "side".into(), value: Some(400.0) }).unwrap();
    document.apply(&Edit::RemoveProcedure(0)).unwrap();
    assert!(document.job().measured.get("lamp").is_some());
    document.apply(&Edit::RemoveProcedure(0)).unwrap();
    assert!(document.job().measured.is_empty() && document.job().choose.is_empty());
}

#[test]
fn accepting_again_replaces_and_taking_back_ignores_the_order_of_items() {
    let mut document = document();
    document.apply(&Edit::Accept(accepted("one"))).unwrap();
    document.apply(&Edit::Accept(accepted("two"))).unwrap();
    assert_eq!(document.job().accepted.len(), 1);
    assert_eq!(document.job().accepted[0].reason, "two");
    let items = vec!["cart".into(), "vehicle".into()];
    document.apply(&Edit::TakeBack { rule: "vehicle-clear".into(), items }).unwrap();
    assert!(document.job().accepted.is_empty());
    // a kind before the name is the same thing said more clearly; two kinds are two things
    for (item, count) in [("cart", 1), ("fixture: cart", 1), ("post: cart", 2)] {
        let items = vec![item.into(), "vehicle".into()];
        document.apply(&Edit::Accept(Accepted { items, ..accepted("again") })).unwrap();
        assert_eq!(document.job().accepted.len(), count, "{item}");
    }
}

#[test]
fn a_held_key_is_one_step() {
    let mut document = document();
    document.apply(&stand(3010.0)).unwrap();
    for x in [3020.0, 3030.0] {
        let next = document.after(&stand(x)).unwrap();
        document.accept(&stand(x), next, Step::Same);
    }
    assert_eq!(x_of(&document), 3030.0);
    document.undo();
    assert_eq!(x_of(&document), 3000.0);
    assert_eq!(document.can_undo(), None);
}

#[test]
fn nothing_joins_a_step_that_was_saved_or_was_something_else() {
    let mut document = document();
    document.apply(&stand(3010.0)).unwrap();
    write(&mut document);
    let next = document.after(&stand(3020.0)).unwrap();
    document.accept(&stand(3020.0), next, Step::Same);
    document.undo();
    assert_eq!(x_of(&document), 3010.0);
    assert!(!document.is_changed(), "back at what was saved");

    document.apply(&Edit::Rename("Other".into())).unwrap();
    let next = document.after(&stand(1.0)).unwrap();
    document.accept(&stand(1.0), next, Step::Same);
    document.undo();
    assert_eq!(document.job().name, "Other");
}

#[test]
fn saving_keeps_the_history_and_a_new_change_ends_what_could_be_redone() {
    let mut document = document();
    assert!(!document.is_changed());
    document.apply(&stand(3010.0)).unwrap();
    assert!(document.is_changed());
    document.move_to(Path::new("elsewhere/job.ron"), None).unwrap();
    assert!(document.is_changed() && document.path().is_none(), "not written there yet");
    write(&mut document);
    assert!(!document.is_changed());
    assert_eq!(document.path(), Some(Path::new("elsewhere/job.ron")));
    document.undo();
    assert!(document.is_changed());
    assert_eq!(x_of(&document), 3000.0);
    document.apply(&stand(9.0)).unwrap();
    assert_eq!(document.can_redo(), None);
}

#[test]
fn a_change_that_changes_nothing_leaves_no_trace() {
    let mut document = document();
    document.apply(&stand(3000.0)).unwrap();
    document.apply(&Edit::Door { name: "gate".into(), open: false }).unwrap();
    assert_eq!((document.can_undo(), document.is_changed(), document.revision()), (None, false, 0));
}

#[test]
fn a_revision_stands_for_one_state() {
    let mut document = document();
    document.apply(&stand(1.0)).unwrap();
    let first = document.revision();
    document.apply(&stand(2.0)).unwrap();
    assert_ne!(document.revision(), first);
    document.undo();
    assert_eq!(document.revision(), first);
    document.apply(&stand(2.0)).unwrap();
    assert!(document.revision() > first);
}

#[test]
fn the_history_is_bounded() {
    let mut document = document();
    for n in 0..600 {
        document.apply(&stand(f64::from(n))).unwrap();
    }
    let mut steps = 0;
    while document.undo().is_some() {
        steps += 1;
    }
    assert_eq!(steps, 500);
    assert_eq!(x_of(&document), 99.0);
}

#[test]
fn a_job_moved_to_another_folder_keeps_its_files_through_undo() {
    let mut document = document();
    document.apply(&Edit::RemoveProcedure(1)).unwrap();
    let rename = |name: &str| format!("../jobs/{name}");
    document.move_to(Path::new("elsewhere/job.ron"), Some(&rename)).unwrap();
    assert_eq!(document.job().bay, "../jobs/bay.ron");
    document.undo();
    assert_eq!(document.job().procedures[1].file, "../jobs/two.ron");
}

/// Every acceptance whose things are all still there outlives every change of the files; each other one is told.
#[test]
fn what_was_accepted_goes_only_with_its_things() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/jobs");
    let open = |name: &str| open_job(&root.join(name)).expect(name).bundle;
    let names = |bundle: &Bundle| -> Vec<String> { Items::of(bundle).names().map(str::to_owned).collect() };
    let other = open("hatchback-door-open.ron");
    let (mut kept, mut told) = (0, 0);
    for job in ["crossover-alignment-lift.ron", "fennel-van-radar.ron"] {
        let mut bundle = open(job);
        let all = names(&bundle);
        let accepted = |rule: &str, items: &[&str]| Accepted {
            rule: rule.into(),
            items: items.iter().map(|i| (*i).into()).collect(),
            reason: "seen".into(),
            by: "A. N.".into(),
            on: "2026-11-24".into(),
        };
        let mut list: Vec<Accepted> =
            all.iter().map(|n| accepted("vehicle-clear", &["vehicle", n])).collect();
        // items of other kinds than things are nobody's to drop
        list.push(accepted("floor-line", &["A", "side of the left wheels"]));
        Arc::make_mut(&mut bundle.job).accepted = list.iter().cloned().collect();
        let mut edits: Vec<Edit> = (0..bundle.procedures.len()).map(Edit::RemoveProcedure).collect();
        edits.push(Edit::ChooseBay { file: "x".into(), bay: other.bay.clone() });
        edits.push(Edit::ChooseVehicle { file: "x".into(), vehicle: other.vehicle.clone() });
        edits.push(Edit::ChooseEquipment { file: "x".into(), equipment: other.equipment.clone() });
        edits.extend(
            (0..bundle.procedures.len()).map(|procedure| Edit::Variants { procedure, variants: vec![] }),
        );
        for edit in edits {
            let after = edit.apply(&bundle).expect("it can be done");
            let are = names(&after);
            for a in &list {
                let whole = a.rule == "floor-line" || a.items.iter().all(|i| are.contains(&i.to_string()));
                assert_eq!(after.job.accepted.contains(a), whole, "{job}, {}: {:?}", edit.title(), a.items);
                kept += usize::from(whole);
            }
            let gone = dropped(&bundle, &after).iter().filter(|g| g.contains("accepted")).count();
            assert_eq!(gone, list.len() - after.job.accepted.len());
            told += gone;
        }
    }
    assert!(kept > 100 && told > 10, "{kept} kept, {told} told");
}
