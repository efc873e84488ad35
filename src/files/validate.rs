//! Everything that is wrong with a file, and everything that looks wrong.

use std::path::Path;

use crate::model::faults::Defect;
use crate::model::faults::advice;
use crate::model::spot::Name;
use crate::model::{Bay, Equipment, FileOf, Procedure, Vehicle, Workshop, workshop};
use crate::syntax::Tree;

use super::fault::{FileFault, Notice, Severity, at_most};
use super::kind::{FileKind, Kind, kind_in};
use super::open::Examined;
use super::read::{MOST, Read};
use super::source::Source;
use super::workshop::WORKSHOP_FILE;

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
    // a workshop's file may say no more than its name, as one of every kind could
    let by_name = source.path.file_name().is_some_and(|n| n == WORKSHOP_FILE).then_some(Kind::Workshop);
    match kind_in(&tree).or(by_name) {
        Some(Kind::Bay) => single::<Bay>(&source, tree, advice::bay),
        Some(Kind::Vehicle) => single::<Vehicle>(&source, tree, advice::vehicle),
        Some(Kind::Equipment) => single::<Equipment>(&source, tree, |_| Vec::new()),
        Some(Kind::Procedure) => single::<Procedure>(&source, tree, advice::procedure),
        Some(Kind::Job) => job(source),
        Some(Kind::Workshop) => {
            let folder = source.path.parent().unwrap_or(Path::new("")).to_owned();
            single::<Workshop>(&source, tree, |shop| {
                let mut doubts = workshop::doubts(shop);
                doubts.extend(missing_folders(&folder, shop));
                doubts
            })
        }
        None => notices(vec![unknown_kind(&source, &tree)], Severity::Error),
    }
}

/// Folders that a workshop names and that are not there.
fn missing_folders(root: &Path, shop: &Workshop) -> Vec<Defect> {
    // what the file leaves out has no place in it, and may well be missing in a new workshop
    let named = shop.folders.all().into_iter().filter(|(_, folder)| folder.spot.0 > 0);
    let missing = named.filter(|(_, folder)| !root.join(folder.as_str()).is_dir());
    let defect = |(_, folder): (&str, &Name)| Defect {
        spot: folder.spot,
        field: None,
        text: format!("there is no folder {folder:?}"),
        hint: Some("it is looked for in the folder of this file".into()),
    };
    missing.map(defect).collect()
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
            let text = "this is no bay, vehicle, equipment, procedure, job or workshop: none of their fields stands here";
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
