//! Sentences of every language: templates with named places, the tables that hold them, and how a place is filled in.
//!
//! Whoever says something names a [`Phrase`] and gives what belongs into its places; the words come from a table.
//! English stands where the phrase is named, so that a rule stays one file; a second language is one more [`Words`],
//! keyed by [`Phrase::key`].
//!
//! A template is text with places: `{door}` is what was given under that name; `{the door}` the same with the English
//! article where its name takes one; `{n|thing fails|things fail}` the wording for that number. What stands in a place is
//! never looked into.

mod fill;

use std::collections::HashMap;
use std::fmt::{self, Display};
use std::ops::Deref;

use crate::units::{Show, printable};

/// One thing that is said: how it is called in a table, and what it is in English.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Phrase {
    /// Who says it: a rule's name, or a part of the page or of the plan.
    pub group: &'static str,
    pub name: &'static str,
    pub english: &'static str,
}

impl Phrase {
    /// How a table calls it: `doorway.TOO_WIDE`.
    pub fn key(&self) -> String {
        format!("{}.{}", self.group, self.name)
    }
}

/// Names phrases, and lists them in `PHRASES`.
macro_rules! phrases {
    ($vis:vis in $group:literal; $($(#[$doc:meta])* $name:ident = $english:literal;)*) => {
        $($(#[$doc])* $vis const $name: $crate::phrases::Phrase =
            $crate::phrases::Phrase { group: $group, name: stringify!($name), english: $english };)*
        /// Everything that is said here.
        $vis const PHRASES: &[$crate::phrases::Phrase] = &[$($name),*];
    };
}
pub(crate) use phrases;

/// Says a phrase: `say!(say, TOO_WIDE, door, short = figures.short())`.
macro_rules! say {
    (@part $name:ident) => { $name };
    (@part $name:ident $value:expr) => { $value };
    ($say:expr, $phrase:expr $(, $name:ident $(= $value:expr)?)* $(,)?) => {
        $say.fill(&$phrase, &[$((
            stringify!($name),
            &$crate::phrases::say!(@part $name $($value)?) as &dyn std::fmt::Display,
        )),*])
    };
}
pub(crate) use say;

/// The words of one language. What a table leaves out is said in English.
pub struct Words {
    /// By group and name.
    entries: Option<HashMap<(&'static str, &'static str), String>>,
    /// Which of the wordings `{n|..|..}` a number takes, counted from 0.
    form: fn(&str) -> usize,
}

/// The language the phrases are written in.
pub static ENGLISH: Words = Words { entries: None, form: fill::one_or_many };

/// A table is equal to itself alone.
impl PartialEq for Words {
    fn eq(&self, other: &Words) -> bool {
        std::ptr::eq(self, other)
    }
}

impl fmt::Debug for Words {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "words for {} phrases", self.entries.as_ref().map_or(0, HashMap::len))
    }
}

/// What is wrong with a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TableFault {
    /// No words for this phrase.
    Missing(String),
    /// Its words name a place that the phrase does not have: phrase, place.
    NoSuchPlace(String, String),
}

impl Words {
    /// A table for `phrases`: the words that `of` gives for each. `form` tells which wording a number, as it is printed,
    /// takes.
    ///
    /// Refused where a phrase has no words, or words with places that the English does not have.
    pub fn of<'a>(
        phrases: impl IntoIterator<Item = &'a Phrase>,
        of: impl Fn(&Phrase) -> Option<String>,
        form: fn(&str) -> usize,
    ) -> Result<Words, Vec<TableFault>> {
        let (mut entries, mut faults) = (HashMap::new(), Vec::new());
        for phrase in phrases {
            let Some(words) = of(phrase) else {
                faults.push(TableFault::Missing(phrase.key()));
                continue;
            };
            let known = fill::places(phrase.english);
            let strange = fill::places(&words).into_iter().filter(|p| !known.contains(p));
            faults.extend(strange.map(|p| TableFault::NoSuchPlace(phrase.key(), p.to_owned())));
            entries.insert((phrase.group, phrase.name), words);
        }
        if faults.is_empty() { Ok(Words { entries: Some(entries), form }) } else { Err(faults) }
    }

    fn template<'a>(&'a self, phrase: &'a Phrase) -> &'a str {
        let own = self.entries.as_ref().and_then(|e| e.get(&(phrase.group, phrase.name)));
        own.map_or(phrase.english, String::as_str)
    }
}

/// How things are said: in which units, and in whose words.
#[derive(Clone, Copy)]
pub struct Say<'w> {
    pub show: Show,
    words: &'w Words,
}

impl<'w> Say<'w> {
    pub fn new(show: Show, words: &'w Words) -> Say<'w> {
        Say { show, words }
    }

    /// The phrase with its places filled in.
    pub fn fill(self, phrase: &Phrase, parts: &[(&str, &dyn Display)]) -> String {
        fill::fill(self.words.template(phrase), parts, self.words.form)
    }

    /// A phrase without places.
    pub fn word(self, phrase: Phrase) -> String {
        self.fill(&phrase, &[])
    }

    /// Several things after each other, parted by a phrase without places.
    pub fn list<T: Display>(self, items: impl IntoIterator<Item = T>, between: Phrase) -> String {
        let items: Vec<String> = items.into_iter().map(|i| i.to_string()).collect();
        items.join(&self.word(between))
    }
}

impl Say<'static> {
    /// English in millimetres: what JSON holds.
    pub const PLAIN: Say<'static> = Say { show: Show::Mm, words: &ENGLISH };

    pub fn english(show: Show) -> Say<'static> {
        Say { show, words: &ENGLISH }
    }
}

/// Lengths are shown as by [`Show`].
impl Deref for Say<'_> {
    type Target = Show;

    fn deref(&self) -> &Show {
        &self.show
    }
}

/// On one line, with a capital first; what a file's text holds besides plain text is spelt out.
pub fn capital(text: &str) -> String {
    let text = printable(text);
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => String::new(),
    }
}
