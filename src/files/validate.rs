//! Everything that is wrong with a file, and everything that looks wrong.

use std::path::Path;

use crate::model::faults::Defect;
use crate::model::faults::advice;
use crate::model::{Bay, Equipment, FileOf, Procedure, Vehicle};
use crate::syntax::Tree;

use super::fault::{FileFault, Notice, Severity, at_most};
use super::kind::{FileKind, Kind, kind_in};
use super::open::Examined;
use super::read::{MOST, Read};
use super::source::Source;

/// Every fault and every doubt about a file of any kind; for a job also about every file it names and about how they go
/// together. Errors first, each part in the order of the files.
pub fn validate(path: &Path) -> Vec<Notice> {
    match Source::load(path) {
        Ok(source) => validate_source(source),
        Err(fault) => notices(vec![fault], Severity::Error),
    }
}

fn validate_source(source: Source) -> Vec<Notice> {
    let tree = Tree::new(source.text.as_str());
    match kind_in(&tree) {
        Some(Kind::Bay) => single::<Bay>(&source, tree, advice::bay),
        Some(Kind::Vehicle) => single::<Vehicle>(&source, tree, advice::vehicle),
        Some(Kind::Equipment) => single::<Equipment>(&source, tree, |_| Vec::new()),
        Some(Kind::Procedure) => single::<Procedure>(&source, tree, advice::procedure),
        Some(Kind::Job) => job(source),
        None => notices(vec![unknown_kind(&source, &tree)], Severity::Error),
    }
}

fn single<T: FileKind>(source: &Source, tree: Tree, doubts: impl Fn(&T) -> Vec<Defect>) -> Vec<Notice> {
    let read = Read::<T>::of_tree(source, tree);
    let doubts = about(&read, source, doubts);
    together(read.faults, doubts)
}

fn about<T: FileKind>(read: &Read<T>, source: &Source, doubts: impl Fn(&T) -> Vec<Defect>) -> Vec<FileFault> {
    let value = read.value.as_ref().filter(|_| read.whole);
    let defects = value.map(doubts).unwrap_or_default();
    let mut found = read.places(source, &defects);
    found.sort_by_key(|f| (f.line, f.column));
    found
}

fn job(source: Source) -> Vec<Notice> {
    let all = Examined::new(source);
    let mut doubts = Vec::new();
    let source = |file| all.sources.get(file);
    if let Some(s) = source(FileOf::Job) {
        doubts.extend(about(&all.job, s, advice::job));
    }
    if let (Some(s), Some(bay)) = (source(FileOf::Bay), &all.bay) {
        doubts.extend(about(bay, s, advice::bay));
    }
    if let (Some(s), Some(vehicle)) = (source(FileOf::Vehicle), &all.vehicle) {
        doubts.extend(about(vehicle, s, advice::vehicle));
    }
    for (i, procedure) in all.procedures.iter().enumerate() {
        if let (Some(s), Some(procedure)) = (source(FileOf::Procedure(i)), procedure) {
            doubts.extend(about(procedure, s, advice::procedure));
        }
    }
    if let Some(parts) = all.parts() {
        let found = advice::bundle(&parts);
        doubts.extend(found.iter().filter_map(|(file, defect)| all.place(*file, defect)));
    }
    together(all.faults, doubts)
}

fn unknown_kind(source: &Source, tree: &Tree) -> FileFault {
    match (tree.root(), tree.faults()) {
        (None, [fault, ..]) => source.fault(fault.at, fault.text.clone(), fault.hint.clone()),
        (root, _) => {
            let at = root.map_or(0, |root| tree.range(root).start);
            let text =
                "this is no bay, vehicle, equipment, procedure or job: none of their fields stands here";
            source.fault(at, text, None)
        }
    }
}

fn together(faults: Vec<FileFault>, mut doubts: Vec<FileFault>) -> Vec<Notice> {
    at_most(&mut doubts, MOST, false);
    // where the errors alone are more than is told, doubts help nobody
    let doubts = if faults.len() > MOST { Vec::new() } else { doubts };
    let mut all = notices(faults, Severity::Error);
    for doubt in notices(doubts, Severity::Warning) {
        if !all.contains(&doubt) {
            all.push(doubt);
        }
    }
    all
}

fn notices(faults: Vec<FileFault>, severity: Severity) -> Vec<Notice> {
    let notice = |fault| Notice { severity, fault };
    faults.into_iter().map(notice).collect()
}
