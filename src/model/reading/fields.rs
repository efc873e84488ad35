//! Brackets with named fields: which are given, which are missing, which are misspelt.

use super::{FromFile, Reader, choice};
use crate::model::words;
use crate::syntax::{Entry, Id, Kind, shown};

/// The fields a bracket gives, in the order of the type's own; taken one by one.
pub struct Given<'t> {
    id: Id,
    called: &'static str,
    names: &'static [&'static str],
    entries: &'t [Entry],
    /// For each name the number of its entry, from 1; 0 where there is none.
    slots: [u32; MOST_FIELDS],
    next: usize,
}

/// The most fields one bracket may have.
const MOST_FIELDS: usize = 32;

impl<'t> Reader<'t> {
    /// Opens a bracket with named fields. `called`: what it is in a sentence; `word`: what may stand before it.
    pub fn fields(
        &mut self,
        id: Id,
        word: &str,
        called: &'static str,
        names: &'static [&'static str],
    ) -> Option<Given<'t>> {
        let tree = self.tree;
        let entries = tree.entries(id);
        match tree.kind(id) {
            Kind::Fields => {}
            Kind::Tuple if entries.is_empty() => {}
            Kind::Tuple => {
                let first = tree.source(entries[0].value);
                let found = if first.starts_with('"') { shown(first) } else { format!("`{}`", shown(first)) };
                let text = format!("expected a word, found {found}");
                self.note(
                    tree.range(entries[0].value).start,
                    text,
                    Some(format!("{called} has fields: {}: ...", names[0])),
                );
                return None;
            }
            _ => {
                self.expected(id, &format!("{called} in round brackets"));
                return None;
            }
        }
        let before = tree.word(id);
        if !before.is_empty() && before != word {
            let at = tree.range(id).start;
            self.note(at, format!("expected {called}, found `{before}`"), None);
        }
        let mut given = Given { id, called, names, entries, slots: [0; MOST_FIELDS], next: 0 };
        let mut likely = 0;
        for (i, entry) in entries.iter().enumerate() {
            if self.is_enough() {
                return None;
            }
            let key = tree.key(entry);
            let slot = match names.get(likely) {
                Some(name) if *name == key => Some(likely),
                _ => names.iter().position(|n| *n == key),
            };
            match slot {
                Some(slot) if given.slots[slot] == 0 => given.slots[slot] = i as u32 + 1,
                Some(_) => {
                    let text = format!("`{key}` is given twice in {}", self.thing(&given));
                    self.note(tree.entry_range(entry).start, text, Some("keep one of them".into()));
                }
                None => self.unknown_field(&mut given, i),
            }
            likely = slot.unwrap_or(likely) + 1;
        }
        Some(given)
    }

    fn unknown_field(&mut self, given: &mut Given, i: usize) {
        let entry = &given.entries[i];
        let key = self.tree.key(entry);
        let near = words::nearest(key, given.names.iter().copied());
        let text = format!("{} has no field `{key}`", self.thing(given));
        let hint = choice(near, "the fields are", given.names);
        self.note(self.tree.entry_range(entry).start, text, Some(hint));
        // read as the one that was meant, where that is not given too
        let slot = near.and_then(|near| given.names.iter().position(|n| *n == near));
        let meant = slot.filter(|s| {
            given.slots[*s] == 0 && !given.entries.iter().any(|e| self.tree.key(e) == given.names[*s])
        });
        match meant {
            Some(slot) => given.slots[slot] = i as u32 + 1,
            None => self.whole = false,
        }
    }

    /// The next field of the type, where the bracket gives it.
    pub fn next(&self, given: &mut Given) -> Option<Id> {
        let slot = given.slots[given.next];
        given.next += 1;
        (slot > 0).then(|| given.entries[slot as usize - 1].value)
    }

    /// The next field, which has to be there unless its type may be absent.
    pub fn field<T: FromFile>(&mut self, given: &mut Given) -> T {
        let name = given.names[given.next];
        match self.next(given) {
            Some(id) => self.value(id),
            None => T::absent().unwrap_or_else(|| {
                self.missing(given, name);
                T::stand_in()
            }),
        }
    }

    /// The next field, or what stands for it where it is left out.
    pub fn field_or<T: FromFile>(&mut self, given: &mut Given, default: T) -> T {
        match self.next(given) {
            Some(id) => self.value(id),
            None => default,
        }
    }

    /// The next field, read in a way of its own.
    pub fn field_by<T: FromFile>(
        &mut self,
        given: &mut Given,
        by: fn(&mut Reader, Id) -> Option<T>,
        default: Option<T>,
    ) -> T {
        let name = given.names[given.next];
        match self.next(given) {
            Some(id) => self.value_by(id, by),
            None => default.unwrap_or_else(|| {
                self.missing(given, name);
                T::stand_in()
            }),
        }
    }

    /// The next field, which may be left out, read in a way of its own.
    pub fn field_opt<T: FromFile>(
        &mut self,
        given: &mut Given,
        by: fn(&mut Reader, Id) -> Option<T>,
    ) -> Option<T> {
        let id = self.next(given)?;
        let id = self.some(id)?;
        Some(self.value_by(id, by))
    }

    /// What `Some(..)` holds, or the part itself; nothing for `None`.
    pub(super) fn some(&self, id: Id) -> Option<Id> {
        let tree = self.tree;
        match (tree.kind(id), tree.word(id), tree.entries(id)) {
            (Kind::Word, "None", _) => None,
            (Kind::Tuple, "Some", [only]) => Some(only.value),
            _ => Some(id),
        }
    }

    /// A value, or its stand-in where it cannot be used.
    pub fn value<T: FromFile>(&mut self, id: Id) -> T {
        self.value_by(id, T::read)
    }

    fn value_by<T: FromFile>(&mut self, id: Id, by: fn(&mut Reader, Id) -> Option<T>) -> T {
        by(self, id).unwrap_or_else(|| {
            self.whole = false;
            T::stand_in()
        })
    }

    fn missing(&mut self, given: &Given, name: &'static str) {
        let text = format!("{} lacks the field `{name}`", self.thing(given));
        let at = self.tree.bracket(given.id);
        self.note(at, text, None);
        self.missing.push((at, name));
        // others may refer to what is missing
        self.whole &= !["name", "setups", "targets", "procedures"].contains(&name);
    }

    /// "the fixture "tool cabinet"" when the bracket has a name, else "a fixture".
    fn thing(&self, given: &Given) -> String {
        let name = self.tree.field(given.id, "name").filter(|n| self.tree.kind(*n) == Kind::Text);
        let noun = given.called.strip_prefix("a ").or_else(|| given.called.strip_prefix("an "));
        match (name, noun) {
            (Some(name), Some(noun)) if self.tree.root() != Some(given.id) => {
                format!("the {noun} {}", self.tree.source(name))
            }
            _ => given.called.to_owned(),
        }
    }
}
