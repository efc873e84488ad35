//! The tree of a text.

use std::ops::Range;
use std::sync::Arc;

use super::build::build;

/// A part of a [`Tree`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id(pub(super) u32);

/// What a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// `(name: value, ..)`, perhaps with a word before it.
    Fields,
    /// `(value, ..)`, perhaps with a word before it; `()` too.
    Tuple,
    /// `[value, ..]`
    List,
    /// `{key: value, ..}`
    Map,
    /// A word alone.
    Word,
    Number,
    /// A text in quotes.
    Text,
    /// Something that is no value; a fault tells of it, or the word before a value that is not there.
    Bad,
}

/// One comma-separated part of what a bracket holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Of a field its name; of an entry of a map its key; empty (at the value) in lists and tuples. Bytes of the text.
    pub(super) key: (u32, u32),
    pub value: Id,
    /// Where the comma behind it ends; 0 without one.
    pub(super) comma: u32,
}

#[derive(Clone, Copy, Debug)]
pub(super) struct Node {
    pub kind: Kind,
    pub start: u32,
    pub end: u32,
    /// Where the opening bracket stands; `start` where no word stands before it.
    pub bracket: u32,
    /// Entries, as a stretch of the tree's list.
    pub entries: (u32, u32),
}

/// What is wrong with a text at a place (bytes), in one sentence, and what may help.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SyntaxFault {
    pub at: usize,
    pub text: String,
    pub hint: Option<String>,
}

impl SyntaxFault {
    pub(super) fn new(at: usize, text: impl Into<String>, hint: Option<&str>) -> Self {
        SyntaxFault { at, text: text.into(), hint: hint.map(Into::into) }
    }
}

/// A text and its parts.
#[derive(Clone, Debug)]
pub struct Tree {
    pub(super) text: Arc<str>,
    pub(super) nodes: Vec<Node>,
    pub(super) entries: Vec<Entry>,
    pub(super) root: Option<Id>,
    pub(super) faults: Vec<SyntaxFault>,
}

impl Tree {
    /// The tree of a text; whatever the text is, there is one.
    pub fn new(text: impl Into<Arc<str>>) -> Tree {
        build(text.into())
    }

    pub fn text(&self) -> &str {
        &self.text
    }

    /// The value the whole text is; none where it holds nothing or brackets, quotes or comments are not closed.
    pub fn root(&self) -> Option<Id> {
        self.root
    }

    /// What could not be understood, in the order of the text.
    pub fn faults(&self) -> &[SyntaxFault] {
        &self.faults
    }

    pub fn kind(&self, id: Id) -> Kind {
        self.node(id).kind
    }

    /// The bytes a part takes, without the blanks and comments around it.
    pub fn range(&self, id: Id) -> Range<usize> {
        let node = self.node(id);
        node.start as usize..node.end as usize
    }

    /// A part as it is spelt.
    pub fn source(&self, id: Id) -> &str {
        &self.text[self.range(id)]
    }

    /// The word before a bracket, or the word a part is; "" for others.
    pub fn word(&self, id: Id) -> &str {
        let node = self.node(id);
        match node.kind {
            Kind::Word => &self.text[node.start as usize..node.end as usize],
            Kind::Fields | Kind::Tuple => self.text[node.start as usize..node.bracket as usize]
                .split(|c: char| !(c.is_alphanumeric() || c == '_'))
                .next()
                .unwrap_or_default(),
            _ => "",
        }
    }

    /// Where the opening bracket of a part stands; the start of what has none.
    pub fn bracket(&self, id: Id) -> usize {
        self.node(id).bracket as usize
    }

    /// What a bracket holds, comma by comma; nothing for other parts.
    pub fn entries(&self, id: Id) -> &[Entry] {
        let (from, to) = self.node(id).entries;
        &self.entries[from as usize..to as usize]
    }

    /// The name of a field or the key of a map's entry, as spelt; "" in lists and tuples.
    pub fn key(&self, entry: &Entry) -> &str {
        &self.text[entry.key.0 as usize..entry.key.1 as usize]
    }

    /// The bytes of an entry, from its name or key to the end of its value, without the comma.
    pub fn entry_range(&self, entry: &Entry) -> Range<usize> {
        let start = if entry.key.1 > entry.key.0 { entry.key.0 } else { self.node(entry.value).start };
        start as usize..self.node(entry.value).end as usize
    }

    /// The value of a field, the first where it is given twice.
    pub fn field(&self, id: Id, name: &str) -> Option<Id> {
        let is_fields = self.kind(id) == Kind::Fields;
        let found = self.entries(id).iter().find(|e| is_fields && self.key(e) == name);
        found.map(|e| e.value)
    }

    fn node(&self, id: Id) -> &Node {
        &self.nodes[id.0 as usize]
    }
}
