//! Reading on after a fault, so that one reading reports every fault of a file.
//!
//! What the RON reader refuses is explained, and then mended in a copy: a misspelt field is read under its nearest
//! name, a part that cannot be used is left out, a missing field is supplied. The copy is read again until nothing is
//! refused. Whatever was mended, the file stays refused; only its faults are kept.

use serde::de::DeserializeOwned;

use crate::model::spot::{self, Noted};

use super::explain::{Explained, Remedy, explain};
use super::scan::Scan;

/// Most readings of one file, and most bytes read in all of them.
const READINGS: usize = 200;
const BYTES: usize = 64 << 20;

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
}

/// A text that was changed, and where each byte of it came from.
#[derive(Clone, Debug)]
pub struct Mended {
    pub text: String,
    /// For each byte its offset in the first text, or `None` in what was supplied; absent while nothing was changed.
    origin: Option<Vec<Option<u32>>>,
}

impl Mended {
    pub fn new(text: &str) -> Self {
        Mended {
            text: text.into(),
            origin: None,
        }
    }

    /// The offset in the text as it was given; `None` in something that was supplied.
    pub fn original(&self, at: usize) -> Option<usize> {
        match &self.origin {
            None => Some(at),
            Some(origin) => match origin.get(at) {
                Some(from) => from.map(|f| f as usize),
                None => Some(
                    origin
                        .iter()
                        .rev()
                        .find_map(|o| *o)
                        .map_or(0, |o| o as usize + 1),
                ),
            },
        }
    }

    /// Replaces a range. The new bytes come from where the old ones began, or from nowhere when `supplied`.
    fn replace(&mut self, range: std::ops::Range<usize>, new: &str, supplied: bool) {
        let len = self.text.len() as u32;
        let origin = self
            .origin
            .get_or_insert_with(|| (0..len).map(Some).collect());
        let from = if supplied {
            None
        } else {
            origin.get(range.start).copied().flatten()
        };
        origin.splice(range.clone(), std::iter::repeat_n(from, new.len()));
        self.text.replace_range(range, new);
    }
}

/// Reads a text whole and gathers every fault.
pub fn gather<T: DeserializeOwned>(source: &str) -> Gathered<T> {
    let mut mended = Mended::new(source);
    let mut faults: Vec<Noted> = Vec::new();
    let mut whole = true;
    let mut blanked: Vec<(usize, String)> = Vec::new();
    let mut value = None;
    for round in 1.. {
        let scan = match Scan::new(&mended.text) {
            Ok(scan) if !scan.tokens.is_empty() => scan,
            Ok(_) => {
                push(
                    &mut faults,
                    source.len(),
                    "the file holds nothing".into(),
                    None,
                );
                break;
            }
            Err(broken) => {
                let at = mended.original(broken.at).unwrap_or(0);
                push(&mut faults, at, broken.text, broken.hint);
                break;
            }
        };
        let (read, sink) = spot::reading::<T>(&mended.text);
        value = read;
        for noted in sink.noted {
            if let Some(at) = mended.original(noted.at) {
                push(&mut faults, at, noted.text, noted.hint);
            }
        }
        let mut edits: Vec<Edit> = Vec::new();
        for refused in &sink.refused {
            let found = explain(&scan, refused.base, &refused.error);
            let Some(at) = mended.original(found.at) else {
                continue;
            };
            let edit = edit_for(&scan, &found);
            let silent = match &found.remedy {
                Remedy::Supply { field, .. } => blanked.iter().any(|(o, f)| *o == at && f == field),
                _ => false,
            };
            if !silent {
                push(&mut faults, at, found.text, found.hint);
            }
            if let Some(edit) = edit {
                if let Some((open, field)) = &edit.loses {
                    whole = false;
                    if let Some(open) = mended.original(*open) {
                        blanked.push((open, field.clone()));
                    }
                }
                edits.push(edit);
            } else {
                whole = false;
            }
        }
        drop(scan);
        if edits.is_empty() || round >= READINGS || round * mended.text.len() > BYTES {
            whole &= edits.is_empty();
            break;
        }
        apply(&mut mended, edits);
    }
    faults.sort_by_key(|f| f.at);
    Gathered {
        value,
        faults,
        whole,
        mended,
    }
}

struct Edit {
    range: std::ops::Range<usize>,
    new: String,
    supplied: bool,
    /// What the text loses: the bracket it stood in and the field's name ("" in a list).
    loses: Option<(usize, String)>,
}

fn push(faults: &mut Vec<Noted>, at: usize, text: String, hint: Option<String>) {
    let noted = Noted { at, text, hint };
    if !faults.contains(&noted) {
        faults.push(noted);
    }
}

/// Applies what does not overlap, last first, so that earlier offsets stay right.
fn apply(mended: &mut Mended, mut edits: Vec<Edit>) {
    edits.sort_by_key(|e| (e.range.start, e.range.end));
    let mut before = usize::MAX;
    for edit in edits.iter().rev() {
        if edit.range.end <= before {
            mended.replace(edit.range.clone(), &edit.new, edit.supplied);
            before = edit.range.start;
        }
    }
}

fn edit_for(scan: &Scan, found: &Explained) -> Option<Edit> {
    match &found.remedy {
        Remedy::Rename(token, name) => Some(Edit {
            range: scan.tokens.get(*token)?.at.clone(),
            new: name.clone(),
            supplied: false,
            loses: None,
        }),
        Remedy::Comma(token) => {
            let end = scan.tokens.get(token.checked_sub(1)?)?.at.end;
            Some(Edit {
                range: end..end,
                new: ",".into(),
                supplied: true,
                loses: None,
            })
        }
        Remedy::Supply { open, field, outer } => {
            let inside = scan.tokens.get(*open)?.at.end;
            Some(Edit {
                range: inside..inside,
                new: format!("{field}: {}, ", stand_in(outer, field)),
                supplied: true,
                loses: None,
            })
        }
        Remedy::Blank(token) => {
            let range = scan.tokens.get(*token)?.at.clone();
            Some(Edit {
                new: blank(&scan.source[range.clone()]),
                range,
                supplied: false,
                loses: None,
            })
        }
        Remedy::Leave(token) => leave(scan, *token),
    }
}

/// Blanks the smallest part around the token that can be missed: an element of a list, an entry of a table, a field.
fn leave(scan: &Scan, token: usize) -> Option<Edit> {
    let mut inner = token;
    loop {
        let open = scan.around(inner)?;
        let elements = scan.elements(open);
        let element = elements
            .iter()
            .find(|e| e.first <= inner && inner <= e.last);
        let closing = scan.close(open) == Some(inner);
        let element = if closing { elements.last() } else { element };
        if let Some(e) = element
            && (scan.text(open) != "(" || scan.has_fields(open))
        {
            let start = scan.tokens[e.first].at.start;
            let end = scan.tokens[e.comma.unwrap_or(e.last)].at.end;
            return Some(Edit {
                range: start..end,
                new: blank(&scan.source[start..end]),
                supplied: false,
                loses: Some((
                    scan.tokens[open].at.start,
                    scan.field_name(e).unwrap_or("").into(),
                )),
            });
        }
        inner = open;
    }
}

/// As many bytes of nothing, lines kept.
fn blank(text: &str) -> String {
    text.bytes()
        .map(|b| if b == b'\n' { '\n' } else { ' ' })
        .collect()
}

/// A value every reader of this field takes; numbers and names note it, and notes about supplied text are dropped.
fn stand_in(outer: &str, field: &str) -> &'static str {
    match (outer, field) {
        ("Zone", "shape") => "NotRead(\"\")",
        ("Target", "kind") => "Board",
        ("Sensor", "kind") => "Camera",
        ("Sensor", "at") => "(0, 0, 0)",
        ("Box" | "Round", "at") => "(0, 0)",
        ("Box", "size") => "(1, 1)",
        (_, "face") => "(width: 1, height: 1)",
        (_, "track") => "(front: 1, rear: 1)",
        (_, "tyre") => "(width: 1, diameter: 1)",
        (_, "line") => "Centre",
        (_, "side") if outer == "Lengths" => "Left",
        ("Lengths", "a" | "b") => "(\"\", 0)",
        (_, "along" | "angles") if matches!(outer, "Strip" | "Fan") => "(0, 0)",
        (_, "over") => "Stations",
        (_, "pose") => "Anywhere",
        (_, "targets") => "{}",
        (_, "setups" | "procedures" | "items") => "[]",
        _ => "0",
    }
}
