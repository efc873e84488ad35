//! Writing values as the text of a file: the plain spelling, and a person's own text changed to say something else.

use super::reading::{FromFile, read_str};
use super::spot::{List, Name, Table};
use crate::syntax::{self, Tree};

/// A value that can be written into a file, so that reading it gives an equal one.
pub trait ToFile {
    fn write(&self, w: &mut Writer);

    /// Whether a field of this value is left out.
    fn is_absent(&self) -> bool {
        false
    }
}

/// The text of a value as far as it is written.
#[derive(Default)]
pub struct Writer {
    text: String,
    /// Something stands before the next part of the bracket at hand.
    follows: bool,
}

/// The plain spelling of a value: each number the shortest that reads back equal, what would hold without being said left
/// out, long brackets set over several lines.
pub fn spell(value: &dyn ToFile) -> String {
    let mut writer = Writer::default();
    value.write(&mut writer);
    syntax::lay_out(&writer.text)
}

/// The same, where it reads back equal; else one sentence why it cannot be written.
pub fn spell_whole<T: FromFile + ToFile + PartialEq>(value: &T) -> Result<String, String> {
    let text = spell(value);
    match read_str::<T>(&text) {
        Ok(back) if back == *value => Ok(text),
        Ok(_) => Err("it would not read back the same".into()),
        Err(noted) => Err(noted.first().map(|n| n.text.clone()).unwrap_or_default()),
    }
}

/// A person's own text made to say `value`, everything it says already left as it stands, to the byte. `None` where that
/// cannot be done, or would not read back equal.
pub fn rewrite<T: FromFile + ToFile + PartialEq>(text: &str, value: &T) -> Option<String> {
    let is: T = read_str(text).ok()?;
    if is == *value {
        return Some(text.to_owned());
    }
    let (was, wanted) = (Tree::new(spell(&is)), Tree::new(spell(value)));
    let new = syntax::merge(text, &was, &wanted)?;
    reads_as(&new, value).then_some(new)
}

/// Whether a text says this.
pub fn reads_as<T: FromFile + PartialEq>(text: &str, value: &T) -> bool {
    read_str::<T>(text).is_ok_and(|read| read == *value)
}

impl Writer {
    /// Opens a bracket, with a word before it or none.
    pub fn open(&mut self, word: &str, bracket: char) {
        self.part();
        self.text.push_str(word);
        self.text.push(bracket);
        self.follows = false;
    }

    pub fn close(&mut self, bracket: char) {
        self.text.push(bracket);
        self.follows = true;
    }

    /// A field of the bracket at hand, unless there is nothing to say.
    pub fn field(&mut self, name: &str, value: &dyn ToFile) {
        if !value.is_absent() {
            self.word(name);
            self.text.push_str(": ");
            self.follows = false;
            value.write(self);
        }
    }

    /// Values in round brackets.
    pub fn tuple(&mut self, word: &str, values: &[&dyn ToFile]) {
        self.open(word, '(');
        for value in values {
            value.write(self);
        }
        self.close(')');
    }

    /// A word, or anything else that stands as it is.
    pub fn word(&mut self, word: &str) {
        self.part();
        self.text.push_str(word);
    }

    /// A text in quotes.
    pub fn quoted(&mut self, text: &str) {
        self.word(&syntax::quote(text));
    }

    /// The next part of a bracket begins.
    fn part(&mut self) {
        if std::mem::replace(&mut self.follows, true) {
            self.text.push_str(", ");
        }
    }

    fn list<T: ToFile>(&mut self, values: &[T]) {
        self.open("", '[');
        for value in values {
            value.write(self);
        }
        self.close(']');
    }
}

impl ToFile for f64 {
    fn write(&self, w: &mut Writer) {
        let value = *self + 0.0; // -0 is 0
        let plain = value == 0.0 || (1e-6..1e15).contains(&value.abs()) || !value.is_finite();
        w.word(&if plain { format!("{value}") } else { format!("{value:e}") });
    }
}

impl ToFile for u32 {
    fn write(&self, w: &mut Writer) {
        w.word(&self.to_string());
    }
}

impl ToFile for bool {
    fn write(&self, w: &mut Writer) {
        w.word(if *self { "true" } else { "false" });
    }
}

impl ToFile for String {
    fn write(&self, w: &mut Writer) {
        w.quoted(self);
    }
}

impl ToFile for Name {
    fn write(&self, w: &mut Writer) {
        w.quoted(self.as_str());
    }
}

impl<T: ToFile> ToFile for Option<T> {
    fn write(&self, w: &mut Writer) {
        match self {
            Some(value) => value.write(w),
            None => w.word("None"),
        }
    }
    fn is_absent(&self) -> bool {
        self.is_none()
    }
}

impl<T: ToFile> ToFile for Box<T> {
    fn write(&self, w: &mut Writer) {
        (**self).write(w);
    }
}

impl<T: ToFile> ToFile for Vec<T> {
    fn write(&self, w: &mut Writer) {
        w.list(self);
    }
}

impl<T: ToFile> ToFile for List<T> {
    fn write(&self, w: &mut Writer) {
        w.list(&self.0);
    }
}

impl<T: ToFile> ToFile for Table<T> {
    fn write(&self, w: &mut Writer) {
        w.open("", '{');
        for (name, value) in self.iter() {
            w.field(&syntax::quote(name.as_str()), value);
        }
        w.close('}');
    }
}

impl<A: ToFile, B: ToFile> ToFile for (A, B) {
    fn write(&self, w: &mut Writer) {
        w.tuple("", &[&self.0, &self.1]);
    }
}
