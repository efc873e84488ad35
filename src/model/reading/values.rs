//! How the plain kinds of values stand in a file: texts, names, words of yes and no, lists, tables, pairs.

use std::collections::BTreeSet;

use super::{FromFile, Reader};
use crate::model::spot::{List, Name, Spot, Table};
use crate::syntax::{Id, Kind, shown, unquote};
use crate::units::is_unprintable;

/// A sentence in quotes where a name could stand: it may run over several lines.
pub fn sentence(r: &mut Reader, id: Id) -> Option<Name> {
    let text = r.text(id, "a text in quotes")?;
    Some(Name { text: text.into(), spot: r.spot(id) })
}

/// What a character that no name may hold is called.
fn unprintable(c: char) -> String {
    let what = match c {
        '\n' | '\r' | '\u{85}' | '\u{2028}' | '\u{2029}' => "a line break",
        '\t' => "a tab",
        c if c.is_control() => "a control character",
        '\u{200b}' | '\u{2060}' | '\u{feff}' => "a character that cannot be seen",
        _ => "a mark that turns the direction of text",
    };
    format!("{what}, {}: a name is one line of plain text", c.escape_default())
}

impl<T: FromFile> FromFile for Option<T> {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        match r.some(id) {
            Some(id) => T::read(r, id).map(Some),
            None => Some(None),
        }
    }
    fn stand_in() -> Self {
        None
    }
    fn absent() -> Option<Self> {
        Some(None)
    }
}

impl<T: FromFile> FromFile for Box<T> {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        T::read(r, id).map(Box::new)
    }
    fn stand_in() -> Self {
        Box::new(T::stand_in())
    }
}

impl<T: FromFile> FromFile for Vec<T> {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        r.kept(id)
    }
    fn stand_in() -> Self {
        Vec::new()
    }
}

impl<T: FromFile> FromFile for List<T> {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        r.kept(id).map(List)
    }
    fn stand_in() -> Self {
        List::default()
    }
}

impl<T: FromFile> FromFile for Table<T> {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let tree = r.tree;
        if tree.kind(id) != Kind::Map {
            r.expected(id, "a table {\"name\": value, ...}");
            return None;
        }
        let mut table = Table(Vec::with_capacity(tree.entries(id).len()));
        let mut seen = BTreeSet::new();
        for entry in tree.entries(id) {
            if r.is_enough() {
                break;
            }
            let (at, key) = (tree.entry_range(entry).start, tree.key(entry));
            let name = match key.starts_with(['"', 'r']).then(|| unquote(key)) {
                Some(Ok(text)) if key.contains('"') => {
                    if let Some(bad) = text.chars().find(|c| is_unprintable(*c)) {
                        r.note(at, format!("the name {} holds {}", shown(key), unprintable(bad)), None);
                    }
                    Name { text: text.into(), spot: Spot(at) }
                }
                _ => {
                    r.note(at, format!("expected a name in quotes, found {}", shown(key)), None);
                    r.whole = false;
                    continue;
                }
            };
            if !seen.insert(name.text.clone()) {
                r.note(at, format!("{name:?} is given twice in this table"), None);
            } else if let Some(value) = T::read(r, entry.value) {
                table.0.push((name, value));
            } else {
                r.whole = false;
            }
        }
        Some(table)
    }
    fn stand_in() -> Self {
        Table::default()
    }
}

impl<A: FromFile, B: FromFile> FromFile for (A, B) {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let [a, b] = r.values(id)?;
        Some((r.value(a), r.value(b)))
    }
    fn stand_in() -> Self {
        (A::stand_in(), B::stand_in())
    }
}

impl FromFile for Name {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        if r.tree.kind(id) != Kind::Text {
            r.expected_plain(id, "a name in quotes");
            return None;
        }
        let text = r.text(id, "a name in quotes")?;
        if let Some(bad) = text.chars().find(|c| is_unprintable(*c)) {
            let name = shown(r.tree.source(id));
            r.refuse(id, format!("the name {name} holds {}", unprintable(bad)), None);
        }
        Some(Name { text: text.into(), spot: r.spot(id) })
    }
    fn stand_in() -> Self {
        Name { spot: Spot::NOWHERE, ..Name::default() }
    }
}

impl FromFile for String {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        r.text(id, "a text in quotes")
    }
    fn stand_in() -> Self {
        String::new()
    }
}

impl FromFile for bool {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        match r.tree.source(id) {
            "true" => Some(true),
            "false" => Some(false),
            _ => {
                r.expected(id, "true or false");
                None
            }
        }
    }
    fn stand_in() -> Self {
        false
    }
}

impl FromFile for u32 {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let source = r.tree.source(id);
        let whole = source.strip_prefix('+').unwrap_or(source).replace('_', "");
        let value = (r.tree.kind(id) == Kind::Number).then(|| whole.parse().ok()).flatten();
        if value.is_none() {
            r.expected(id, "a whole number, 0 or more");
        }
        value
    }
    fn stand_in() -> Self {
        1
    }
}
