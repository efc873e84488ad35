//! A text set over lines as a person would set it.

use super::{Entry, Id, Kind, Tree};

/// Where a line should end, in characters.
const WIDTH: usize = 100;

/// A text without faults and without notes, set anew: the fields of the whole on a line each, a bracket that is too long
/// for its line over several, four blanks deeper.
pub fn lay_out(text: &str) -> String {
    let tree = Tree::new(text);
    let mut out = String::with_capacity(text.len() * 2);
    if let Some(root) = tree.root() {
        value(&tree, root, 0, &mut out);
        out.push('\n');
    }
    out
}

fn value(tree: &Tree, id: Id, depth: usize, out: &mut String) {
    let entries = tree.entries(id);
    let source = tree.source(id);
    if entries.is_empty() || !(is_broken(tree, id, depth) || column(out) + source.chars().count() > WIDTH) {
        return out.push_str(source);
    }
    let (open, close) = match tree.kind(id) {
        Kind::List => ('[', ']'),
        Kind::Map => ('{', '}'),
        _ => ('(', ')'),
    };
    out.push_str(tree.word(id));
    out.push(open);
    let fills =
        entries.iter().all(|e| tree.entry_range(e).len() <= SHORT && tree.kind(e.value) != Kind::Fields);
    for (i, entry) in entries.iter().enumerate() {
        let wide = tree.entry_range(entry).len() + 2;
        if i == 0 || !fills || column(out) + wide > WIDTH {
            out.truncate(out.trim_end_matches(' ').len());
            line(depth + 1, out);
        }
        key(tree, entry, out);
        value(tree, entry.value, depth + 1, out);
        out.push_str(if fills { ", " } else { "," });
    }
    out.truncate(out.trim_end_matches(' ').len());
    line(depth, out);
    out.push(close);
}

/// Parts no longer than this, without names, share lines.
const SHORT: usize = 32;

/// The whole is always set over lines; so is a list of brackets with names in it.
fn is_broken(tree: &Tree, id: Id, depth: usize) -> bool {
    let is_records = || tree.entries(id).iter().any(|e| tree.kind(e.value) == Kind::Fields);
    depth == 0 || (depth == 1 && tree.kind(id) == Kind::List && is_records())
}

fn key(tree: &Tree, entry: &Entry, out: &mut String) {
    let key = tree.key(entry);
    if !key.is_empty() {
        out.push_str(key);
        out.push_str(": ");
    }
}

fn line(depth: usize, out: &mut String) {
    out.push('\n');
    out.extend(std::iter::repeat_n("    ", depth));
}

/// How many characters stand on the last line.
fn column(out: &str) -> usize {
    out[out.rfind('\n').map_or(0, |n| n + 1)..].chars().count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_long_goes_over_lines_and_says_the_same() {
        let spots: Vec<String> = (0..20).map(|i| format!("({}, 12000, -1.5)", i * 1000)).collect();
        let text = format!(
            "(name: \"B, (a) \", size: (1, 2), things: [(name: \"x\", at: (1, 2))], heights: [{}], none: [])",
            spots.join(", ")
        );
        let laid = lay_out(&text);
        assert!(laid.starts_with("(\n    name: \"B, (a) \",\n    size: (1, 2),\n    things: [\n        (name: \"x\", at: (1, 2)),\n    ],\n    heights: [\n        (0, 12000, -1.5), "), "{laid}");
        assert!(laid.ends_with("\n    ],\n    none: [],\n)\n"), "{laid}");
        assert!(laid.lines().all(|l| l.chars().count() <= WIDTH && l.trim_end() == l), "{laid}");
        let plain =
            |t: &str| t.replace(",\n", ", ").replace([' ', '\n'], "").replace(",]", "]").replace(",)", ")");
        assert_eq!(plain(&laid), plain(&text));
    }
}
