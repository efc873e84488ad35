//! What a person accepted outlives every change of the job, as long as its things are there; what goes is told.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Arc;

use baywright::checks::acceptance::{Acceptances, spelt};
use baywright::checks::{Finding, Outcome, check};
use baywright::edit::{Edit, FileValue, Motion, ShopFigure, dropped};
use baywright::files::open_job;
use baywright::layout::Layout;
use baywright::model::job::{Accepted, Found, Support, Toe};
use baywright::model::{Bundle, FindingKey, Item, Items};

use crate::program::tests;

/// Every job of the tests and of the demonstration.
fn bundles() -> Vec<(PathBuf, Bundle)> {
    let mut paths: Vec<PathBuf> = Vec::new();
    for folder in ["cases/jobs", "scenarios"] {
        let entries = std::fs::read_dir(tests(folder)).expect("a folder");
        paths.extend(entries.map(|e| e.expect("an entry").path().join("job.ron")));
    }
    let demo = std::fs::read_dir(tests("../demo/jobs")).expect("the demonstration");
    paths.extend(demo.map(|e| e.expect("an entry").path()));
    paths.sort();
    let open = |path: PathBuf| {
        let opened = open_job(&path).unwrap_or_else(|faults| panic!("{}: {faults:?}", path.display()));
        (path, opened.bundle)
    };
    paths.into_iter().map(open).collect()
}

fn findings(bundle: &Bundle) -> Vec<Finding> {
    check(&Layout::new(bundle).unwrap_or_else(|faults| panic!("{faults:?}"))).findings
}

/// The finding accepted, as the window writes it.
fn accepting(bundle: &Bundle, finding: &Finding) -> Accepted {
    Accepted {
        rule: finding.rule.word().into(),
        items: spelt(bundle, finding),
        reason: "seen".into(),
        by: "A. N.".into(),
        on: "2026-11-24".into(),
    }
}

fn with(bundle: &Bundle, accepted: &[Accepted]) -> Bundle {
    let mut bundle = bundle.clone();
    Arc::make_mut(&mut bundle.job).accepted = accepted.iter().cloned().collect();
    bundle
}

/// Which change it is: a new one asks for its place here, and with it for a row below.
fn number(edit: &Edit) -> usize {
    match edit {
        Edit::Stand { .. } => 0,
        Edit::ChooseBay { .. } => 1,
        Edit::ChooseVehicle { .. } => 2,
        Edit::ChooseEquipment { .. } => 3,
        Edit::AddProcedure { .. } => 4,
        Edit::RemoveProcedure(_) => 5,
        Edit::MoveProcedure { .. } => 6,
        Edit::Variants { .. } => 7,
        Edit::Way { .. } => 8,
        Edit::Measured { .. } => 9,
        Edit::Choose { .. } => 10,
        Edit::Figure { .. } => 11,
        Edit::RearToe(_) => 12,
        Edit::FrontToe(_) => 13,
        Edit::Door { .. } => 14,
        Edit::Clear { .. } => 15,
        Edit::Accept(_) => 16,
        Edit::TakeBack { .. } => 17,
        Edit::Rename(_) => 18,
        Edit::ShopFigure { .. } => 19,
        Edit::Support(_) => 20,
        Edit::EnterBy(_) => 21,
        Edit::DriveIn(_) => 22,
        Edit::StraightRun(_) => 23,
        Edit::Market(_) => 24,
        Edit::When(_) => 25,
        Edit::Survey { .. } => 26,
        Edit::RenameFixture { .. } => 27,
        Edit::Rewrite { .. } => 28,
    }
}

const CHANGES: usize = 29;

/// Every change that can be made of a job, with another job to take files from.
fn changes(bundle: &Bundle, other: &Bundle) -> Vec<Edit> {
    let (bay, job) = (&bundle.bay, &bundle.job);
    let procedures = 0..bundle.procedures.len();
    let mut all = vec![
        Edit::Stand { x: 2500.0, y: 5000.0, heading: 180.0, how: Motion::Type },
        Edit::ChooseBay { file: "x".into(), bay: other.bay.clone() },
        Edit::ChooseVehicle { file: "x".into(), vehicle: other.vehicle.clone() },
        Edit::ChooseEquipment { file: "x".into(), equipment: other.equipment.clone() },
        Edit::RearToe(Some(Toe { left: 0.1, right: 0.2 })),
        Edit::FrontToe(None),
        Edit::TakeBack { rule: "vehicle-clear".into(), items: vec!["nothing of this name".into()] },
        Edit::Rename("Another".into()),
        Edit::ShopFigure { which: ShopFigure::ALL[0], mm: Some(500.0) },
        Edit::Support(Support::Floor),
        Edit::EnterBy(None),
        Edit::DriveIn(!job.drive_in),
        Edit::StraightRun(Some(300.0)),
        Edit::Market(Some("north".into())),
        Edit::When(None),
        Edit::Survey { spots: Vec::new(), error: None },
        Edit::Rewrite { title: "other bay".into(), file: FileValue::Bay(other.bay.clone()) },
        Edit::Rewrite { title: "other car".into(), file: FileValue::Vehicle(other.vehicle.clone()) },
    ];
    all.extend(
        other.procedures.iter().map(|p| Edit::AddProcedure { file: "x".into(), procedure: p.clone() }),
    );
    all.extend(procedures.clone().map(Edit::RemoveProcedure));
    all.extend(procedures.clone().map(|from| Edit::MoveProcedure { from, to: 0 }));
    all.extend(procedures.clone().map(|procedure| Edit::Variants { procedure, variants: vec![] }));
    all.extend(procedures.map(|procedure| Edit::Way { procedure, way: None }));
    all.extend(bay.doorways.iter().map(|d| Edit::Door { name: d.name.clone(), open: true }));
    all.extend(bay.fixtures.iter().map(|f| Edit::Clear { name: f.name.clone(), away: f.movable }));
    // under another name a thing is the same thing: a rename keeps what was accepted about it
    all.extend(bay.fixtures.iter().map(|f| Edit::RenameFixture { from: f.name.clone(), to: f.name.clone() }));
    all.extend(bay.lifts.iter().map(|l| Edit::Support(Support::Lift { name: l.name.clone(), height: 0.0 })));
    for p in &bundle.procedures {
        all.extend(p.measured.iter().map(|(n, _)| Edit::Measured { name: n.clone(), value: Some(1.0) }));
        for (name, _) in p.values.iter() {
            let found = Found { mm: 500.0, from: "read".into() };
            all.push(Edit::Figure { name: name.clone(), found: Some(found) });
            all.push(Edit::Choose { name: name.clone(), value: None });
        }
    }
    let accepted = job.accepted.iter().next();
    all.extend(accepted.map(|a| Edit::Accept(Accepted { reason: "again".into(), ..a.clone() })));
    all
}

/// Whether all its things are still there: those that the files have at all.
fn whole(key: &FindingKey, before: &Items, after: &Items) -> bool {
    key.items().iter().all(|item: &Item| after.has(item) || !before.has(item))
}

#[test]
fn every_change_keeps_what_was_accepted_while_its_things_are_there_and_tells_what_goes() {
    let all = bundles();
    let mut met = BTreeSet::new();
    let (mut kept, mut told) = (0, 0);
    for (at, (path, bundle)) in all.iter().enumerate() {
        let (_, other) = &all[(at + 7) % all.len()];
        let mut list: Vec<(Accepted, FindingKey)> = Vec::new();
        for finding in findings(bundle).iter().filter(|f| !f.items.is_empty()) {
            let accepted = accepting(bundle, finding);
            if !list.iter().any(|(a, _)| *a == accepted) {
                list.push((accepted, finding.key()));
            }
        }
        let accepted: Vec<Accepted> = list.iter().map(|(a, _)| a.clone()).collect();
        let bundle = with(bundle, &accepted);
        let before = Items::of(&bundle);
        for edit in changes(&bundle, other) {
            // a change that cannot be made keeps everything
            let Ok(after) = edit.apply(&bundle) else { continue };
            met.insert(number(&edit));
            let now = Items::of(&after);
            let mut gone = 0;
            for (a, key) in &list {
                let stays = after.job.accepted.iter().any(|b| b.rule == a.rule && b.items == a.items);
                gone += usize::from(!stays);
                kept += usize::from(stays);
                assert!(
                    stays || !whole(key, &before, &now),
                    "{}, {}: {} of {:?} is lost",
                    path.display(),
                    edit.title(),
                    a.rule,
                    a.items
                );
            }
            let words = dropped(&bundle, &after);
            let of_accepted = words.iter().filter(|w| w.starts_with("the accepted finding")).count();
            let changed = usize::from(matches!(edit, Edit::Accept(_)));
            assert_eq!(of_accepted, gone + changed, "{}, {}: {words:?}", path.display(), edit.title());
            told += gone;
        }
    }
    let missing: Vec<usize> = (0..CHANGES).filter(|n| !met.contains(n)).collect();
    assert!(missing.is_empty(), "changes that were never made: {missing:?}");
    assert!(kept > 10_000 && told > 1_000, "{kept} kept, {told} told");
}

/// What the window writes accepts the finding it was written for and no other, and the file may be opened again.
#[test]
fn what_fails_can_be_accepted_and_nothing_else_is_with_it() {
    let mut tried = 0;
    for (path, bundle) in bundles() {
        let fails = |f: &&Finding| matches!(f.outcome, Outcome::Fail | Outcome::Movable);
        for finding in findings(&bundle).iter().filter(fails) {
            let with = with(&bundle, &[accepting(&bundle, finding)]);
            let accepted = Acceptances::of(&with);
            let covered = |f: &Finding| accepted.place(f.rule, &f.items).is_some();
            for f in findings(&with).iter().filter(|f| f.outcome == Outcome::Accepted) {
                assert!(covered(f) && f.key().items() == finding.key().items(), "{}: {f:?}", path.display());
            }
            assert!(covered(finding), "{}: {finding:?}", path.display());
            tried += 1;
        }
    }
    assert!(tried > 30, "{tried}");
}

/// Every finding is about things that its rule speaks of, and that the files have.
#[test]
fn findings_are_about_what_their_rules_speak_of() {
    let mut looked = 0;
    for (path, bundle) in bundles() {
        let items = Items::of(&bundle);
        for finding in findings(&bundle) {
            let about = finding.rule.rule().about;
            for (at, item) in finding.items.iter().enumerate() {
                let kinds = about.get(at).or(about.last()).expect("some kinds");
                assert!(kinds.contains(&item.kind()), "{}: {item:?} of {finding:?}", path.display());
                let known = !finding.rule.is_about_things() || items.has(item);
                assert!(known || item.kind().is_free(), "{}: {item:?} of {finding:?}", path.display());
                looked += 1;
            }
        }
    }
    assert!(looked > 3_000, "{looked}");
}
