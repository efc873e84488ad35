//! Changes of a text that leave everything else of it as it was, to the byte.
//!
//! Notes stay where a person put them: what is inserted goes behind the note beside the part before it, what is taken out
//! leaves the notes around it. New parts are set as their neighbours are: each on a line of its own, or on one line.

use std::ops::Range;

use super::{Entry, Id, Kind, Step, Tree};

/// A stretch of a text (bytes), and what stands there afterwards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Patch {
    pub range: Range<usize>,
    pub new: String,
}

impl Patch {
    /// The patch that takes this one back, for the text it was made of; `None` where it does not fit that text.
    pub fn inverse(&self, text: &str) -> Option<Patch> {
        let old = text.get(self.range.clone())?.to_owned();
        Some(Patch { range: self.range.start..self.range.start + self.new.len(), new: old })
    }
}

/// A text with some patches made, all of them of the text as it is now; `None` where they overlap or do not fit it.
pub fn apply(text: &str, patches: &[Patch]) -> Option<String> {
    let mut order: Vec<&Patch> = patches.iter().collect();
    order.sort_by_key(|p| (p.range.start, p.range.end));
    let mut out = String::with_capacity(text.len() + patches.iter().map(|p| p.new.len()).sum::<usize>());
    let mut done = 0;
    for patch in order {
        if patch.range.start < done {
            return None;
        }
        out.push_str(text.get(done..patch.range.start)?);
        out.push_str(&patch.new);
        text.get(patch.range.clone())?;
        done = patch.range.end;
    }
    out.push_str(text.get(done..)?);
    Some(out)
}

impl Tree {
    /// Another spelling for a part.
    pub fn replace(&self, id: Id, new: &str) -> Patch {
        self.patch(self.range(id), new.to_owned())
    }

    /// Another value for a field of a bracket; the field is put last where the bracket has none of that name.
    pub fn set_field(&self, id: Id, name: &str, value: &str) -> Option<Patch> {
        match self.entry_at(id, Step::Field(name)) {
            Some(i) => Some(self.replace(self.entries(id)[i].value, value)),
            None => self.insert(id, self.entries(id).len(), &format!("{name}: {value}")),
        }
    }

    /// A field taken out of a bracket; `None` where there is none of that name.
    pub fn remove_field(&self, id: Id, name: &str) -> Option<Patch> {
        self.remove(id, self.entry_at(id, Step::Field(name))?)
    }

    /// A new part of a bracket (`value`, `name: value` or `"key": value`) before its `at`-th one; behind the last where
    /// `at` is their number. `None` for what is no bracket, or beyond its end.
    pub fn insert(&self, id: Id, at: usize, new: &str) -> Option<Patch> {
        let (inside, close) = self.inside(id)?;
        let entries = self.entries(id);
        let before = match at.checked_sub(1) {
            None => None,
            Some(i) => Some(entries.get(i)?),
        };
        // the neighbour that shows how parts are set here
        let own_line = match before.or(entries.first()) {
            Some(neighbour) => self.starts_line(self.entry_range(neighbour).start),
            None => self.text()[inside..close].contains('\n'),
        };
        let last = at == entries.len();
        let (value_end, end) = match before {
            None => (inside, inside),
            Some(e) => (self.range(e.value).end, self.end_with_comma(e)),
        };
        let had_comma = before.is_some_and(|e| e.comma > 0);
        let missing = if before.is_some() && !had_comma { "," } else { "" };
        if !own_line {
            let new = match (before.is_some(), last) {
                (false, true) => new.to_owned(),
                (false, false) => format!("{new}, "),
                (true, true) if !had_comma => format!(", {new}"),
                (true, _) => format!(" {new},"),
            };
            return Some(self.patch(end..end, new));
        }
        // a note beside the part before stays beside it
        let next = entries.get(at).map_or(close, |e| self.entry_range(e).start);
        let note = end + self.note_len(end, next);
        let indent = match before.or(entries.first()) {
            Some(neighbour) => self.indent(self.entry_range(neighbour).start).to_owned(),
            None => format!("{}    ", self.indent(inside)),
        };
        let beside = &self.text()[value_end..note];
        Some(self.patch(value_end..note, format!("{missing}{beside}\n{indent}{new},")))
    }

    /// The `at`-th part of a bracket taken out; `None` where there is none.
    pub fn remove(&self, id: Id, at: usize) -> Option<Patch> {
        let (inside, close) = self.inside(id)?;
        let entries = self.entries(id);
        let entry = entries.get(at)?;
        let text = self.text();
        let (start, end) = (self.entry_range(entry).start, self.end_with_comma(entry));
        // a note between the value and its comma is no part of either
        let note = text[self.range(entry.value).end..end].trim_end_matches(',');
        if !note.trim().is_empty() {
            return Some(self.patch(start..end, note.trim_start().to_owned()));
        }
        let behind = &text[end..entries.get(at + 1).map_or(close, |e| self.entry_range(e).start)];
        let to_line_end = behind.find('\n').filter(|i| behind[..*i].trim().is_empty());
        if let Some(i) = to_line_end.filter(|_| self.starts_line(start)) {
            let line = text[..start].rfind('\n').map_or(0, |n| n + 1).max(inside);
            return Some(self.patch(line..end + i + 1, String::new()));
        }
        if at + 1 < entries.len() {
            let blank = behind.len() - behind.trim_start_matches([' ', '\t']).len();
            return Some(self.patch(start..end + blank, String::new()));
        }
        // the last of a line goes with what parts it from the one before
        let Some(before) = at.checked_sub(1).map(|i| &entries[i]) else {
            return Some(self.patch(start..end, String::new()));
        };
        let from = if entry.comma > 0 { self.end_with_comma(before) } else { self.range(before.value).end };
        let between = text[from..start].trim_matches([' ', '\t', ',']).is_empty();
        Some(self.patch(if between { from } else { start }..end, String::new()))
    }

    /// The bytes between the brackets of a part.
    fn inside(&self, id: Id) -> Option<(usize, usize)> {
        let is_bracket = matches!(self.kind(id), Kind::Fields | Kind::Tuple | Kind::List | Kind::Map);
        is_bracket.then(|| (self.bracket(id) + 1, self.range(id).end - 1))
    }

    fn end_with_comma(&self, entry: &Entry) -> usize {
        self.range(entry.value).end.max(entry.comma as usize)
    }

    /// Whether only blanks stand before a place on its line.
    fn starts_line(&self, at: usize) -> bool {
        let line = self.text()[..at].rfind('\n');
        line.is_some_and(|n| self.text()[n + 1..at].chars().all(|c| c == ' ' || c == '\t'))
    }

    /// The blanks a line begins with.
    fn indent(&self, at: usize) -> &str {
        let line = self.text()[..at].rfind('\n').map_or(0, |n| n + 1);
        let rest = &self.text()[line..];
        &rest[..rest.len() - rest.trim_start_matches([' ', '\t']).len()]
    }

    /// How far the notes reach that stand on the line of a place, before `next`; 0 without one.
    fn note_len(&self, at: usize, next: usize) -> usize {
        let gap = &self.text()[at..next];
        let mut len = 0;
        let mut end = 0;
        while let Some(c) = gap[end..].chars().next() {
            let rest = &gap[end..];
            if rest.starts_with("//") {
                return end + rest.find('\n').map_or(rest.len(), |n| rest[..n].trim_end().len());
            } else if rest.starts_with("/*") {
                end += super::token::block_comment(rest).unwrap_or(rest.len());
                len = end;
            } else if c == '\n' || !c.is_whitespace() {
                break;
            } else {
                end += c.len_utf8();
            }
        }
        len
    }

    /// Lines end as they do in the text.
    fn patch(&self, range: Range<usize>, new: String) -> Patch {
        let crlf = self.text().contains("\r\n");
        let new = if crlf { new.replace("\r\n", "\n").replace('\n', "\r\n") } else { new };
        Patch { range, new }
    }
}
