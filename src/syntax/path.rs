//! The way to a part of a tree: through fields, numbers in lists, keys of tables.

use super::text::unquote;
use super::{Entry, Id, Kind, Tree};

/// One step into a bracket.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step<'a> {
    /// The value of a field.
    Field(&'a str),
    /// The n-th value of a list or a tuple, from 0.
    Index(usize),
    /// The value under a key of a table; the key as it is meant, not as it is spelt.
    Key(&'a str),
}

impl Tree {
    /// The part some steps lead to, from the whole; `None` where a step leads nowhere.
    pub fn at(&self, steps: &[Step]) -> Option<Id> {
        let root = self.root()?;
        steps.iter().try_fold(root, |id, step| Some(self.entries(id)[self.entry_at(id, *step)?].value))
    }

    /// The brackets a place (bytes) lies in, the outermost first; a bracket does not lie in itself.
    pub fn around(&self, at: usize) -> Vec<Id> {
        let mut around = Vec::new();
        let mut inside = self.root().filter(|root| self.holds(*root, at));
        while let Some(id) = inside {
            around.push(id);
            let entries = self.entries(id);
            let next = entries.partition_point(|e| self.range(e.value).end <= at);
            inside = entries.get(next).map(|e| e.value).filter(|value| self.holds(*value, at));
        }
        around
    }

    fn holds(&self, id: Id, at: usize) -> bool {
        let leaf = matches!(self.kind(id), Kind::Word | Kind::Number | Kind::Text | Kind::Bad);
        !leaf && self.bracket(id) < at && at < self.range(id).end
    }

    /// Which entry of a bracket a step leads to.
    pub fn entry_at(&self, id: Id, step: Step) -> Option<usize> {
        let entries = self.entries(id);
        let find = |is: &dyn Fn(&Entry) -> bool| entries.iter().position(is);
        match (step, self.kind(id)) {
            (Step::Field(name), Kind::Fields) => find(&|e| self.key(e) == name),
            (Step::Index(i), Kind::List | Kind::Tuple) => (i < entries.len()).then_some(i),
            (Step::Key(key), Kind::Map) => find(&|e| {
                let spelt = self.key(e);
                if spelt.contains('"') { unquote(spelt).is_ok_and(|said| said == key) } else { spelt == key }
            }),
            _ => None,
        }
    }
}
