//! Reading on after a fault, so that one reading reports every fault of a file.
//!
//! What the RON reader refuses is explained, and then mended in a copy: a misspelt field is read under its nearest
//! name, a part that cannot be used is left out, a missing field is supplied. The copy is read again until nothing is
//! refused. Whatever was mended, the file stays refused; only its faults are kept.

use std::time::{Duration, Instant};

use serde::de::DeserializeOwned;

use crate::model::spot::{self, Noted, Sink};

use super::edit::{Edit, apply, edit_for};
use super::explain::{Remedy, explain};
use super::mended::Mended;
use super::scan::Scan;

/// Most readings of one file.
const READINGS: usize = 200;

/// Most faults that are told of one file; whoever mends them looks again.
pub const MOST: usize = 50;

/// How long a file is looked through once something in it is wrong.
const TIME: Duration = Duration::from_millis(500);

/// What a text gave.
#[derive(Debug)]
pub struct Gathered<T> {
    /// The value, mended where it had to be; without faults exactly what the text says.
    pub value: Option<T>,
    /// Every fault, in the order of the text; places are offsets in the text that was given.
    pub faults: Vec<Noted>,
    /// Nothing was left out, so that a name which is not there is truly not there.
    pub whole: bool,
    /// The text the value was read from, and the way back from its offsets.
    pub mended: Mended,
    /// Not all of the text was looked through: there was too much wrong with it, or it took too long.
    pub cut: bool,
}

/// Reads a text whole and gathers every fault.
pub fn gather<T: DeserializeOwned>(source: &str) -> Gathered<T> {
    let mut gathered =
        Gathered { value: None, faults: Vec::new(), whole: true, mended: Mended::new(source), cut: false };
    let mut lost = Vec::new();
    let began = Instant::now();
    for round in 1.. {
        let edits = gathered.read_once(&mut lost, began);
        if edits.is_empty() && !gathered.cut {
            break;
        }
        gathered.cut |= round >= READINGS || gathered.faults.len() > MOST || began.elapsed() > TIME;
        if gathered.cut {
            gathered.whole = false;
            break;
        }
        apply(&mut gathered.mended, edits);
    }
    gathered.faults.sort_by_key(|f| f.at);
    gathered
}

impl<T: DeserializeOwned> Gathered<T> {
    /// Reads the text as it is mended so far, keeps what is found, and tells how to mend it further. `lost`: fields that
    /// were left out, by the place of their bracket; that they are missing afterwards is no new fault.
    fn read_once(&mut self, lost: &mut Vec<(usize, String)>, began: Instant) -> Vec<Edit> {
        self.value = None;
        let text = std::mem::take(&mut self.mended.text);
        let edits = match Scan::new(&text) {
            Ok(scan) if scan.tokens.is_empty() => {
                self.note(text.len(), "the file holds nothing".into(), None);
                Vec::new()
            }
            Ok(scan) => {
                let (value, sink) = spot::reading_until::<T>(&text, Box::new(move || began.elapsed() > TIME));
                self.value = value;
                self.cut |= sink.cut;
                self.understand(&scan, sink, lost)
            }
            Err(broken) => {
                self.note(broken.at, broken.text, broken.hint);
                Vec::new()
            }
        };
        self.mended.text = text;
        edits
    }

    fn understand(&mut self, scan: &Scan, sink: Sink, lost: &mut Vec<(usize, String)>) -> Vec<Edit> {
        for noted in sink.noted {
            self.note(noted.at, noted.text, noted.hint);
        }
        let mut edits = Vec::new();
        for refused in &sink.refused {
            let found = explain(scan, refused.base, &refused.error);
            let Some(at) = self.mended.original(found.at) else {
                continue; // about something supplied
            };
            let edit = edit_for(scan, &found);
            match &found.remedy {
                Remedy::Supply { field, .. } if lost.iter().any(|(o, f)| *o == at && f == field) => {}
                remedy => {
                    // Others may refer to what is missing.
                    let referred = ["name", "setups", "targets", "procedures"];
                    self.whole &= !matches!(remedy, Remedy::Supply { field, .. } if referred.contains(field));
                    self.note(found.at, found.text, found.hint);
                }
            }
            self.whole &= edit.as_ref().is_some_and(|e| e.loses.is_none());
            if let Some((open, field)) = edit.as_ref().and_then(|e| e.loses.as_ref()) {
                lost.extend(self.mended.original(*open).map(|open| (open, field.clone())));
            }
            edits.extend(edit);
        }
        edits
    }

    /// Keeps a fault once, unless it is about something that was supplied.
    fn note(&mut self, at: usize, text: String, hint: Option<String>) {
        if let Some(at) = self.mended.original(at) {
            let noted = Noted { at, text, hint };
            if self.faults.len() <= MOST && !self.faults.contains(&noted) {
                self.faults.push(noted);
            }
        }
    }
}
