//! A table with an entry for each system: its keys are bare words.

use crate::model::procedure::Word;
use crate::model::reading::{FromFile, Reader};
use crate::model::spot::{Name, Spot};
use crate::model::writing::{ToFile, Writer};
use crate::syntax::{Id, Kind, shown};

/// Entries by system, such as `{ForwardCamera: (..)}`, in the order of the file; a system given twice is a fault.
#[derive(Clone, Debug, PartialEq)]
pub struct SystemTable<T>(pub Vec<(Word, T)>);

impl<T> Default for SystemTable<T> {
    fn default() -> Self {
        SystemTable(Vec::new())
    }
}

impl<T: FromFile> FromFile for SystemTable<T> {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let tree = r.tree;
        if tree.kind(id) != Kind::Map {
            r.expected(id, "a table {ForwardCamera: value, ...}");
            return None;
        }
        let mut table: Vec<(Word, T)> = Vec::new();
        for entry in tree.entries(id) {
            let (at, key) = (tree.entry_range(entry).start, tree.key(entry));
            if !key.starts_with(|c: char| c.is_alphabetic()) || key.contains('"') {
                r.note(at, format!("expected a word such as ForwardRadar, found {}", shown(key)), None);
                r.whole = false;
            } else if table.iter().any(|(w, _)| w.0.as_str() == key) {
                r.note(at, format!("`{key}` is given twice in this table"), None);
            } else if let Some(value) = T::read(r, entry.value) {
                table.push((Word(Name { text: key.into(), spot: Spot(at) }), value));
            } else {
                r.whole = false;
            }
        }
        Some(SystemTable(table))
    }
    fn stand_in() -> Self {
        SystemTable::default()
    }
}

impl<T: ToFile> ToFile for SystemTable<T> {
    fn write(&self, w: &mut Writer) {
        w.open("", '{');
        for (word, value) in &self.0 {
            w.field(word.0.as_str(), value);
        }
        w.close('}');
    }
}
