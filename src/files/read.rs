//! Reading one file: its text, its format, its value, and every fault of it.

use std::path::Path;

use crate::model::faults::Defect;
use crate::model::reading::Reader;
use crate::model::{Bay, Equipment, Job, Procedure, Spot, Vehicle, words};
use crate::syntax::{Tree, shown};

use super::fault::{FileFault, at_most};
use super::kind::{FileKind, kind_in};
use super::source::Source;

/// Reads a bay file.
pub fn read_bay(path: &Path) -> Result<Bay, Vec<FileFault>> {
    read(path)
}

/// Reads a vehicle file.
pub fn read_vehicle(path: &Path) -> Result<Vehicle, Vec<FileFault>> {
    read(path)
}

/// Reads an equipment file.
pub fn read_equipment(path: &Path) -> Result<Equipment, Vec<FileFault>> {
    read(path)
}

/// Reads a procedure file.
pub fn read_procedure(path: &Path) -> Result<Procedure, Vec<FileFault>> {
    read(path)
}

/// Reads a job file alone, without the files it names.
pub fn read_job(path: &Path) -> Result<Job, Vec<FileFault>> {
    read(path)
}

/// Reads a file of one kind; every fault of it, in the order of the file.
pub fn read<T: FileKind>(path: &Path) -> Result<T, Vec<FileFault>> {
    let source = Source::load(path).map_err(|fault| vec![fault])?;
    Read::new(&source).result()
}

/// Reads a text of one kind; `path` is what its faults are reported under.
pub fn read_text<T: FileKind>(text: &str, path: &Path) -> Result<T, Vec<FileFault>> {
    Read::new(&Source::new(path, text)).result()
}

/// A file as far as it could be read.
#[derive(Debug)]
pub(super) struct Read<T> {
    /// With faults: a value with stand-ins, good for finding more faults and for nothing else.
    pub value: Option<T>,
    pub faults: Vec<FileFault>,
    /// Nothing was left out of the value.
    pub whole: bool,
    tree: Tree,
    /// Fields that are missing: where their bracket opens, and their name.
    missing: Vec<(usize, &'static str)>,
}

/// Most faults that are told of one file; whoever mends them looks again.
pub(super) const MOST: usize = 50;

impl<T: FileKind> Read<T> {
    pub(super) fn new(source: &Source) -> Self {
        Self::of_tree(source, Tree::new(source.text.as_str()))
    }

    /// The same of a text whose tree there is already.
    pub(super) fn of_tree(source: &Source, tree: Tree) -> Self {
        if let Some(stop) = stops(source, &tree, T::KIND) {
            return Read { value: None, faults: vec![stop], whole: false, tree, missing: Vec::new() };
        }
        let mut reader = Reader::new(&tree);
        let value: Option<T> = reader.whole();
        let (noted, missing, cut) = (reader.noted, reader.missing, reader.cut);
        let whole = reader.whole && tree.faults().is_empty();
        let met = tree.faults().iter().map(|f| source.fault(f.at, f.text.clone(), f.hint.clone()));
        let noted = noted.into_iter().map(|n| source.fault(n.at, n.text, n.hint));
        let mut faults: Vec<FileFault> = met.take(2 * MOST).chain(noted).collect();
        if value.is_none() && faults.is_empty() {
            faults.push(FileFault::whole(&source.path, "this file cannot be read"));
        }
        let mut read = Read { value, faults, whole, tree, missing };
        let defects = read.value.as_ref().map(|v| v.defects(whole)).unwrap_or_default();
        let told: Vec<_> = read.faults.iter().map(|f| (f.line, f.column)).collect();
        let more = read.places(source, &defects).into_iter();
        let more: Vec<FileFault> = more.filter(|f| !told.contains(&(f.line, f.column))).collect();
        read.faults.extend(more);
        read.faults.sort_by_key(|f| (f.line, f.column));
        read.faults.dedup();
        at_most(&mut read.faults, MOST, cut);
        read
    }

    /// Defects of the value as faults of the file, without those about something the file does not hold.
    pub(super) fn places(&self, source: &Source, defects: &[Defect]) -> Vec<FileFault> {
        defects.iter().filter_map(|d| self.place(source, d)).collect()
    }

    /// One defect as a fault of the file.
    pub(super) fn place(&self, source: &Source, defect: &Defect) -> Option<FileFault> {
        let at = self.resolve(defect)?;
        Some(source.fault(at, defect.text.clone(), defect.hint.clone()))
    }

    /// The offset of what a defect is about: its spot, or the field it names in the brackets around the spot (`z`,
    /// `heights[3]`).
    fn resolve(&self, defect: &Defect) -> Option<usize> {
        let at = self.place_of(defect.spot)?;
        let Some(path) = defect.field.as_deref() else { return Some(at) };
        let (name, index) = match path.split_once('[') {
            Some((name, index)) => (name, index.trim_end_matches(']').parse::<usize>().ok()),
            None => (path, None),
        };
        for id in self.tree.around(at).into_iter().rev() {
            if self.missing.contains(&(self.tree.bracket(id), name)) {
                return None; // told already
            }
            let keys = || self.tree.entries(id).iter().map(|e| self.tree.key(e));
            let misspelt = || words::nearest(name, keys()).filter(|_| !self.faults.is_empty());
            let spelt = keys().find(|k| *k == name).or_else(misspelt);
            if let Some(value) = spelt.and_then(|spelt| self.tree.field(id, spelt)) {
                let inside = index.and_then(|i| self.tree.entries(value).get(i));
                return Some(self.tree.range(inside.map_or(value, |e| e.value)).start);
            }
        }
        Some(at)
    }

    /// The offset of a spot in the text of the file; `None` of what stands in no file.
    pub(super) fn place_of(&self, spot: Spot) -> Option<usize> {
        (spot.0 <= self.tree.text().len()).then_some(spot.0)
    }

    pub(super) fn result(self) -> Result<T, Vec<FileFault>> {
        match self.value {
            Some(value) if self.faults.is_empty() => Ok(value),
            _ => Err(self.faults),
        }
    }
}

/// What makes reading any further pointless: another format, another kind of file.
fn stops(source: &Source, tree: &Tree, kind: super::Kind) -> Option<FileFault> {
    let root = tree.root()?;
    if let Some(format) = tree.field(root, "format") {
        let (at, text) = (tree.range(format).start, tree.source(format));
        match text.parse::<u32>().ok() {
            Some(1) => {}
            Some(other) => {
                let text =
                    format!("this file has format {other}; this version of the program reads format 1");
                let hint = (other > 1).then(|| "a newer version of the program wrote it".into());
                return Some(source.fault(at, text, hint));
            }
            None => {
                let text = format!("expected the number of the file format, found {}", shown(text));
                return Some(source.fault(at, text, Some("write format: 1".into())));
            }
        }
    }
    let is = kind_in(tree).filter(|is| *is != kind)?;
    let at = tree.bracket(root);
    let text = format!("expected {}, but the fields here are those of {}", kind.article(), is.article());
    Some(source.fault(at, text, None))
}
