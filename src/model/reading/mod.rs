//! Reading values out of the tree of a file: every value is given as far as it can be used, every fault is met once.
//!
//! A value that cannot be used is noted at its place and a harmless stand-in takes its place, so that the rest of the
//! file is read and looked at too; the caller refuses the file when anything was noted.

mod fields;
mod values;

pub use values::sentence;

use crate::syntax::{Entry, Id, Kind, Tree, shown, unquote};

use super::spot::Spot;
use super::words;

/// A fault noted while reading: where (bytes of the text), what is wrong in one sentence, and what may help.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noted {
    pub at: usize,
    pub text: String,
    pub hint: Option<String>,
}

/// A tree while it is read, and what was found wrong in it so far.
pub struct Reader<'t> {
    pub tree: &'t Tree,
    pub noted: Vec<Noted>,
    /// Nothing was left out so far, so that a name which is not there is truly not there.
    pub whole: bool,
    /// Fields that had to be there and are not: where their bracket opens, and their name.
    pub missing: Vec<(usize, &'static str)>,
    /// So much was noted that the rest was left.
    pub cut: bool,
}

/// Most that is noted during one reading.
const MOST: usize = 200;

/// A value that stands in a file.
pub trait FromFile: Sized {
    /// Reads a part of the tree; `None` (noted) where nothing of it can be used.
    fn read(r: &mut Reader, id: Id) -> Option<Self>;

    /// A harmless value for what could not be read; nothing is ever computed from it.
    fn stand_in() -> Self;

    /// The value of a field that is not there; `None` where it has to be.
    fn absent() -> Option<Self> {
        None
    }
}

/// A value written as a bracket with named fields.
pub trait Record: FromFile {
    /// What it is called in a sentence: "a bay", "the tyre".
    const CALLED: &'static str;
    const FIELDS: &'static [&'static str];
}

impl<'t> Reader<'t> {
    pub fn new(tree: &'t Tree) -> Self {
        Reader { tree, noted: Vec::new(), whole: true, missing: Vec::new(), cut: false }
    }

    /// Reads the whole tree as one value.
    pub fn whole<T: FromFile>(&mut self) -> Option<T> {
        let value = self.tree.root().and_then(|root| T::read(self, root));
        self.whole &= value.is_some();
        value
    }

    /// Whether reading on would tell nobody anything.
    pub(super) fn is_enough(&mut self) -> bool {
        self.cut |= self.noted.len() >= MOST;
        self.whole &= !self.cut;
        self.cut
    }

    /// A place for what a value keeps of where it stood.
    pub fn spot(&self, id: Id) -> Spot {
        Spot(self.tree.range(id).start)
    }

    pub fn note(&mut self, at: usize, text: impl Into<String>, hint: Option<String>) {
        self.noted.push(Noted { at, text: text.into(), hint });
    }

    /// Notes that something else should stand where a part is. A part that is no value has its fault already.
    pub fn expected(&mut self, id: Id, what: &str) {
        let found = self.found(id);
        self.refuse(id, format!("expected {what}, found {found}"), None);
    }

    /// The same for a word or a number, which is shown as it stands.
    pub fn expected_plain(&mut self, id: Id, what: &str) {
        let found = shown(self.tree.source(id));
        self.refuse(id, format!("expected {what}, found {found}"), None);
    }

    /// Notes a fault of a part; one that is no value has its own already.
    pub fn refuse(&mut self, id: Id, text: String, hint: Option<String>) {
        if self.tree.kind(id) != Kind::Bad {
            self.note(self.tree.range(id).start, text, hint);
        }
    }

    /// What stands there, for a message.
    pub fn found(&self, id: Id) -> String {
        let text = self.tree.source(id);
        match self.tree.kind(id) {
            Kind::Text => shown(text),
            _ => format!("`{}`", shown(text)),
        }
    }

    /// The values of a bracket without names, so many of them.
    pub fn values<const N: usize>(&mut self, id: Id) -> Option<[Id; N]> {
        let tree = self.tree;
        let entries = tree.entries(id);
        match tree.kind(id) {
            Kind::Tuple if entries.len() == N => {
                let mut ids = [id; N];
                for (id, entry) in ids.iter_mut().zip(entries) {
                    *id = entry.value;
                }
                Some(ids)
            }
            Kind::Tuple | Kind::Fields => {
                let values = if N == 1 { "1 value".to_owned() } else { format!("{N} values") };
                let found = match tree.kind(id) {
                    Kind::Tuple => entries.len().to_string(),
                    _ => "named fields".to_owned(),
                };
                let text = format!("expected {values} in these brackets, found {found}");
                self.note(tree.bracket(id), text, None);
                None
            }
            _ => {
                self.expected(id, "an opening `(`");
                None
            }
        }
    }

    /// Which of some words stands here, alone or before a bracket.
    pub fn word(&mut self, id: Id, known: &'static [&'static str]) -> Option<&'static str> {
        let tree = self.tree;
        let word = tree.word(id);
        if word.is_empty() {
            let found = self.found(id);
            let hint = choice(None, "the words are", known);
            self.refuse(id, format!("expected a word, found {found}"), Some(hint));
            return None;
        }
        if let Some(exact) = known.iter().find(|k| **k == word) {
            return Some(exact);
        }
        let near = words::nearest(word, known.iter().copied());
        let text = format!("`{word}` is not a word that may stand here");
        self.note(tree.range(id).start, text, Some(choice(near, "the words are", known)));
        near
    }

    /// Whether a word stands alone, as one that takes nothing must.
    pub fn alone(&mut self, id: Id) -> Option<()> {
        if self.tree.kind(id) == Kind::Word {
            return Some(());
        }
        let text = format!("`{}` takes nothing in brackets", self.tree.word(id));
        self.note(self.tree.bracket(id), text, None);
        None
    }

    /// The bracket behind a word that needs one.
    pub fn bracketed(&mut self, id: Id) -> Option<()> {
        if self.tree.kind(id) != Kind::Word {
            return Some(());
        }
        let word = self.tree.word(id);
        self.note(
            self.tree.range(id).start,
            format!("`{word}` needs its values in brackets: {word}(...)"),
            None,
        );
        None
    }

    /// A text in quotes.
    pub fn text(&mut self, id: Id, what: &str) -> Option<String> {
        let source = self.tree.source(id);
        if self.tree.kind(id) != Kind::Text || source.starts_with(['b', '\'']) {
            self.expected(id, what);
            return None;
        }
        match unquote(source) {
            Ok(text) => Some(text),
            Err(_) => {
                let text =
                    "this text in quotes holds a backslash that means nothing; write \\\\ for a backslash";
                self.refuse(id, text.into(), None);
                None
            }
        }
    }

    /// The entries of a list; anything else is noted.
    pub fn list(&mut self, id: Id) -> Option<&'t [Entry]> {
        if self.tree.kind(id) != Kind::List {
            self.expected(id, "a list in square brackets");
            return None;
        }
        Some(self.tree.entries(id))
    }

    fn kept<T: FromFile>(&mut self, id: Id) -> Option<Vec<T>> {
        let entries = self.list(id)?;
        let mut kept = Vec::with_capacity(entries.len());
        for entry in entries {
            if self.is_enough() {
                break;
            }
            match T::read(self, entry.value) {
                Some(value) => kept.push(value),
                None => self.whole = false,
            }
        }
        Some(kept)
    }
}

/// Reads a text as one value; everything wrong with it where it is not wholly right.
pub fn read_str<T: FromFile>(text: &str) -> Result<T, Vec<Noted>> {
    let tree = Tree::new(text);
    let mut reader = Reader::new(&tree);
    let value = reader.whole();
    let met = tree.faults().iter();
    let mut noted: Vec<Noted> =
        met.map(|f| Noted { at: f.at, text: f.text.clone(), hint: f.hint.clone() }).collect();
    noted.extend(reader.noted);
    match value {
        Some(value) if noted.is_empty() => Ok(value),
        _ => Err(noted),
    }
}

/// "did you mean ..?" and all that may stand there.
fn choice(near: Option<&str>, are: &str, known: &[&str]) -> String {
    let all = known.iter().map(|k| format!("`{k}`")).collect::<Vec<_>>().join(", ");
    match near {
        Some(near) => format!("did you mean `{near}`? {are} {all}"),
        None if known.is_empty() => "nothing may stand here".into(),
        None => format!("{are} {all}"),
    }
}
