//! The change of a text that lets reading get past a fault.

use std::ops::Range;

use super::explain::{Explained, Remedy};
use super::mended::Mended;
use super::scan::Scan;

/// One change of a text.
#[derive(Debug)]
pub struct Edit {
    pub range: Range<usize>,
    pub new: String,
    /// The new text is made up.
    pub supplied: bool,
    /// What the text loses: where the bracket it stood in opens, and the field's name ("" in a list).
    pub loses: Option<(usize, String)>,
}

/// Applies what does not overlap, last first, so that earlier offsets stay right.
pub fn apply(mended: &mut Mended, mut edits: Vec<Edit>) {
    edits.sort_by_key(|e| (e.range.start, e.range.end));
    let mut before = usize::MAX;
    for edit in edits.iter().rev() {
        if edit.range.end <= before {
            mended.replace(edit.range.clone(), &edit.new, edit.supplied);
            before = edit.range.start;
        }
    }
}

/// The change that mends a fault; `None` when nothing around it can be left out.
pub fn edit_for(scan: &Scan, found: &Explained) -> Option<Edit> {
    match &found.remedy {
        Remedy::Rename(token, name) => Some(Edit {
            range: scan.tokens.get(*token)?.at.clone(),
            new: name.clone(),
            supplied: false,
            loses: None,
        }),
        Remedy::Comma(token) => {
            let end = scan.tokens.get(token.checked_sub(1)?)?.at.end;
            Some(Edit { range: end..end, new: ",".into(), supplied: true, loses: None })
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
            Some(Edit { new: blank(&scan.source[range.clone()]), range, supplied: false, loses: None })
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
        let element = elements.iter().find(|e| e.first <= inner && inner <= e.last);
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
                loses: Some((scan.tokens[open].at.start, scan.field_name(e).unwrap_or("").into())),
            });
        }
        inner = open;
    }
}

/// As many bytes of nothing, lines kept.
fn blank(text: &str) -> String {
    text.bytes().map(|b| if b == b'\n' { '\n' } else { ' ' }).collect()
}

/// A value every reader of this field takes; numbers and names note it, and notes about supplied text are dropped.
fn stand_in(outer: &str, field: &str) -> &'static str {
    match (outer, field) {
        ("Zone", "shape") => "NotRead(\"\")",
        ("Target", "kind") => "Board",
        ("Sensor", "kind") => "Camera",
        ("Sensor", "at") => "(0, 0, 0)",
        ("Pick", "from") => "[(0, 0, \"\")]",
        ("FloorLine", "points") => "[]",
        ("Box" | "Round" | "Installed", "at") => "(0, 0)",
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
        _ => "_",
    }
}
