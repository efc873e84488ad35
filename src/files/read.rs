//! Reading one file: its text, its format, its value, and every fault of it.

use std::cell::OnceCell;
use std::path::Path;

use crate::model::faults::Defect;
use crate::model::spot::{self, Noted, Spot};
use crate::model::{Bay, Equipment, Job, Procedure, Vehicle};

use super::fault::{FileFault, at_most};
use super::kind::{FileKind, kind_in};
use super::mended::Mended;
use super::repair::{Gathered, MOST, gather};
use super::scan::{Element, Kind as Token, Scan};
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
    mended: Mended,
}

impl<T: FileKind> Read<T> {
    pub fn new(source: &Source) -> Self {
        if let Some(stop) = stops(source, T::KIND) {
            return Read { value: None, faults: vec![stop], whole: false, mended: Mended::new("") };
        }
        let Gathered { value, faults, whole, mended, cut } = gather::<T>(&source.text);
        let mut faults: Vec<FileFault> =
            faults.into_iter().map(|n: Noted| source.fault(n.at, n.text, n.hint)).collect();
        if value.is_none() && faults.is_empty() {
            faults.push(FileFault::whole(&source.path, "this file cannot be read"));
        }
        let mut read = Read { value, faults, whole, mended };
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
    pub fn places(&self, source: &Source, defects: &[Defect]) -> Vec<FileFault> {
        let scan = OnceCell::new();
        let scanned = || scan.get_or_init(|| Scan::new(&self.mended.text).ok()).as_ref();
        let fault = |d: &Defect| {
            let at = self.mended.original(resolve(scanned, d))?;
            Some(source.fault(at, d.text.clone(), d.hint.clone()))
        };
        defects.iter().filter_map(fault).collect()
    }

    /// One defect as a fault of the file.
    pub fn place(&self, source: &Source, defect: &Defect) -> Option<FileFault> {
        self.places(source, std::slice::from_ref(defect)).pop()
    }

    /// The offset of a spot in the text of the file; `None` in something that was supplied.
    pub fn place_of(&self, spot: Spot) -> Option<usize> {
        self.mended.original(spot.0)
    }

    pub fn result(self) -> Result<T, Vec<FileFault>> {
        match self.value {
            Some(value) if self.faults.is_empty() => Ok(value),
            _ => Err(self.faults),
        }
    }
}

/// The offset of what a defect is about: its spot, or the field it names in the bracket around the spot
/// (`z`, `heights[3]`); only that needs the text's tokens.
fn resolve<'s>(scan: impl FnOnce() -> Option<&'s Scan<'s>>, defect: &Defect) -> usize {
    let at = defect.spot.0;
    let Some(path) = defect.field.as_deref() else {
        return at;
    };
    let found = scan().and_then(|scan| {
        let (name, index) = match path.split_once('[') {
            Some((name, index)) => (name, index.trim_end_matches(']').parse::<usize>().ok()),
            None => (path, None),
        };
        let mut token = scan.token_at(at)?;
        let field: Element = loop {
            let open = scan.around(token)?;
            match scan.field(open, name) {
                Some(field) => break field,
                None => token = open,
            }
        };
        let value = field.first + 2;
        let inside = index.and_then(|i| scan.elements(value).get(i).map(|e| e.first));
        scan.tokens.get(inside.unwrap_or(value)).map(|t| t.at.start)
    });
    found.unwrap_or(at)
}

/// What makes reading any further pointless: another format, another kind of file.
fn stops(source: &Source, kind: super::Kind) -> Option<FileFault> {
    let scan = Scan::new(&source.text).ok()?;
    let open = scan.outermost()?;
    if let Some(format) = scan.field(open, "format") {
        let value = &scan.tokens[format.first + 2];
        let text = scan.text(format.first + 2);
        let number: Option<u32> = (value.kind == Token::Word && format.last == format.first + 2)
            .then(|| spot::options().from_str(text).ok())
            .flatten();
        match number {
            Some(1) => {}
            Some(other) => {
                let text =
                    format!("this file has format {other}; this version of the program reads format 1");
                let hint = (other > 1).then(|| "a newer version of the program wrote it".into());
                return Some(source.fault(value.at.start, text, hint));
            }
            None => {
                let found = spot::shown(text);
                let text = format!("expected the number of the file format, found {found}");
                return Some(source.fault(value.at.start, text, Some("write format: 1".into())));
            }
        }
    }
    let is = kind_in(&scan).filter(|is| *is != kind)?;
    let at = scan.tokens[open].at.start;
    let text = format!("expected {}, but the fields here are those of {}", kind.article(), is.article());
    Some(source.fault(at, text, None))
}
