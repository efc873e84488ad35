//! Everything that lies in a workshop's folders, read as far as it can be.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::find::WORKSHOP_FILE;
use crate::files::fault::FileFault;
use crate::files::folder::plain_path;
use crate::files::kind::FileKind;
use crate::files::limits::{Limits, Unread};
use crate::files::read::{Read, read};
use crate::model::{Bay, Equipment, Job, Name, Procedure, Vehicle, Workshop};

/// A workshop with its files, each list in the order of the names.
#[derive(Clone, Debug)]
pub struct ShopContents {
    /// The folder that holds the workshop's file.
    pub root: PathBuf,
    /// The usual one where its file has faults.
    pub name: String,
    /// What is wrong with the workshop's own file, a line each; its folders are then the usual ones.
    pub faults: Vec<FileFault>,
    /// Where bays and jobs are kept.
    pub bay_folder: PathBuf,
    pub job_folder: PathBuf,
    pub bays: Vec<ShopFile<Bay>>,
    pub vehicles: Vec<ShopFile<Vehicle>>,
    pub equipment: Vec<ShopFile<Equipment>>,
    pub procedures: Vec<ShopFile<Procedure>>,
    pub jobs: Vec<ShopFile<Job>>,
    /// What was not looked at.
    pub unread: Option<Unread>,
}

/// A file of a workshop.
#[derive(Clone, Debug)]
pub struct ShopFile<T> {
    pub path: PathBuf,
    /// The name inside the file; the file's own where that gives none.
    pub name: String,
    /// What it says; none where it cannot be used.
    pub value: Option<Arc<T>>,
    /// Why it cannot be used.
    pub faults: Vec<FileFault>,
}

/// Reads the workshop at `root`. One sentence where there is no such folder, or no workshop in it; `stop` ends it early.
pub fn shop_contents(root: &Path, stop: &dyn Fn() -> bool) -> Result<ShopContents, String> {
    let root = plain_path(root);
    if !root.is_dir() {
        return Err(format!("the folder {} is not there", root.display()));
    }
    let file = root.join(WORKSHOP_FILE);
    if !file.is_file() {
        return Err(format!("there is no {WORKSHOP_FILE} in {}", root.display()));
    }
    let (shop, faults) = match read::<Workshop>(&file) {
        Ok(shop) => (Some(shop), Vec::new()),
        Err(faults) => (None, faults),
    };
    let folders = shop.as_ref().map(|s| s.folders.clone()).unwrap_or_default();
    let own = || root.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let mut limits = Limits::new(stop);
    let at = |name: &Name| plain_path(&root.join(name.as_str()));
    Ok(ShopContents {
        name: shop.map_or_else(own, |s| s.name.to_string()),
        faults,
        bay_folder: at(&folders.bays),
        job_folder: at(&folders.jobs),
        bays: files(&at(&folders.bays), &mut limits, |b: &Bay| &b.name),
        vehicles: files(&at(&folders.vehicles), &mut limits, |v: &Vehicle| &v.name),
        equipment: files(&at(&folders.equipment), &mut limits, |e: &Equipment| &e.name),
        procedures: files(&at(&folders.procedures), &mut limits, |p: &Procedure| &p.name),
        jobs: files(&at(&folders.jobs), &mut limits, |j: &Job| &j.name),
        unread: limits.unread(),
        root,
    })
}

/// The files of one folder read as what stands there; what is of another kind is a fault of its own.
fn files<T: FileKind>(folder: &Path, limits: &mut Limits, name: fn(&T) -> &Name) -> Vec<ShopFile<T>> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten().map(|e| e.path());
    let mut paths: Vec<PathBuf> = entries.filter(|p| p.extension().is_some_and(|e| e == "ron")).collect();
    paths.sort();
    let mut found = Vec::new();
    for path in paths {
        if limits.is_over() {
            break;
        }
        let stem = || path.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        let Some(source) = limits.load(&path) else {
            let fault = FileFault::whole(&path, "this file cannot be read, or is too large");
            found.push(ShopFile { name: stem(), value: None, faults: vec![fault], path });
            continue;
        };
        let read = Read::<T>::new(&source);
        let said = read.value.as_ref().map(|v| name(v).to_string()).filter(|n| !n.trim().is_empty());
        let name = said.unwrap_or_else(stem);
        let (value, faults) = match read.result() {
            Ok(value) => (Some(Arc::new(value)), Vec::new()),
            Err(faults) => (None, faults),
        };
        found.push(ShopFile { path, name, value, faults });
    }
    found.sort_by(|a, b| (a.name.to_lowercase(), &a.path).cmp(&(b.name.to_lowercase(), &b.path)));
    found
}
