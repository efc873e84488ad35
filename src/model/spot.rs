//! Where in its file a value stood, and the collecting of faults while a file is read.
//!
//! Reading never stops at the first fault it can step over: a value that cannot be used is noted in the sink of the
//! running [`reading`] and replaced by a harmless stand-in; the caller refuses the file when the sink is not empty.

use std::cell::RefCell;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::sync::Arc;

use ron::extensions::Extensions;
use ron::value::RawValue;
use serde::de::{Deserialize, Deserializer, Error, MapAccess, Visitor};
use serde::ser::{Serialize, SerializeMap, Serializer};

use crate::units::{is_unprintable, printable};

/// Byte offset of a value in the file it was read from (0 when it was made in the program). Never part of equality.
#[derive(Clone, Copy, Debug, Default)]
pub struct Spot(pub usize);

impl PartialEq for Spot {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}
impl Eq for Spot {}

/// A fault noted while reading: where, what is wrong in one sentence, and what may help.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noted {
    pub at: usize,
    pub text: String,
    pub hint: Option<String>,
}

/// A fault the RON reader itself found inside the part of the source that starts at `base`.
#[derive(Clone, Debug)]
pub struct Refused {
    pub base: usize,
    pub error: ron::error::SpannedError,
}

/// Everything noted during one [`reading`].
#[derive(Clone, Debug, Default)]
pub struct Sink {
    pub noted: Vec<Noted>,
    pub refused: Vec<Refused>,
    /// So much was noted, or so long read with something wrong, that the rest was left.
    pub cut: bool,
}

/// Most that is noted during one reading.
const MOST: usize = 200;

/// Tells whether the time to read is over; asked only once something is wrong.
pub type Over = Box<dyn Fn() -> bool>;

struct Context {
    base: usize,
    len: usize,
    sink: Sink,
    over: Over,
}

impl Context {
    /// Whether reading on would tell nobody anything.
    fn is_enough(&mut self) -> bool {
        let noted = self.sink.noted.len() + self.sink.refused.len();
        self.sink.cut |= noted >= MOST || (noted > 0 && (self.over)());
        self.sink.cut
    }
}

thread_local! {
    static CONTEXT: RefCell<Option<Context>> = const { RefCell::new(None) };
}

/// The reader's settings: `Some` may be left out, newtypes need no name.
pub fn options() -> ron::Options {
    ron::Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .with_default_extension(Extensions::UNWRAP_NEWTYPES)
}

/// Reads `source` as a `T`, keeping places, and returns what was read with everything noted on the way.
pub fn reading<'s, T: Deserialize<'s>>(source: &'s str) -> (Option<T>, Sink) {
    reading_until(source, Box::new(|| false))
}

/// The same, given up once something is wrong and the time is over.
pub fn reading_until<'s, T: Deserialize<'s>>(source: &'s str, over: Over) -> (Option<T>, Sink) {
    CONTEXT.with(|c| {
        let (base, len) = (source.as_ptr() as usize, source.len());
        *c.borrow_mut() = Some(Context { base, len, sink: Sink::default(), over });
    });
    let result = options().from_str::<T>(source);
    let mut sink = CONTEXT.with(|c| c.borrow_mut().take()).map(|c| c.sink).unwrap_or_default();
    match result {
        Ok(value) => (Some(value), sink),
        Err(_) if sink.cut => (None, sink),
        Err(error) => {
            sink.refused.push(Refused { base: 0, error });
            (None, sink)
        }
    }
}

/// Whether the running reading is to be given up.
fn is_enough() -> bool {
    CONTEXT.with(|c| c.borrow_mut().as_mut().is_some_and(Context::is_enough))
}

/// Notes a fault; quiet when nothing is being read.
pub fn note(spot: Spot, text: impl Into<String>, hint: Option<String>) {
    CONTEXT.with(|c| {
        if let Some(c) = c.borrow_mut().as_mut() {
            c.sink.noted.push(Noted { at: spot.0, text: text.into(), hint });
        }
    });
}

fn refuse(base: Spot, error: ron::error::SpannedError) {
    CONTEXT.with(|c| {
        if let Some(c) = c.borrow_mut().as_mut().filter(|c| !c.sink.cut) {
            c.sink.refused.push(Refused { base: base.0, error });
        }
    });
}

pub(super) fn offset(text: &str) -> usize {
    CONTEXT.with(|c| match c.borrow().as_ref() {
        Some(c) => {
            let at = text.as_ptr() as usize;
            if at >= c.base && at <= c.base + c.len { at - c.base } else { 0 }
        }
        None => 0,
    })
}

/// A value as it stands in the file, without the blanks and comments around it, and its place.
pub fn raw<'de, D: Deserializer<'de>>(d: D) -> Result<(&'de str, Spot), D::Error> {
    if is_enough() {
        return Err(D::Error::custom("enough is wrong already"));
    }
    let value = <&RawValue>::deserialize(d)?;
    let text = value.trim().get_ron();
    Ok((text, Spot(offset(text))))
}

/// Reads a piece of the source; a fault is noted at its place and gives `None`.
pub fn part<'de, T: Deserialize<'de>>(text: &'de str) -> Option<T> {
    match options().from_str::<T>(text) {
        Ok(value) => Some(value),
        Err(error) => {
            refuse(Spot(offset(text)), error);
            None
        }
    }
}

/// A name a person gave, with its place in the file.
#[derive(Clone, Default)]
pub struct Name {
    pub text: Arc<str>,
    pub spot: Spot,
}

impl Name {
    pub fn as_str(&self) -> &str {
        &self.text
    }
}

impl fmt::Debug for Name {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "{:?}", self.text)
    }
}
impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(&self.text)
    }
}
impl PartialEq for Name {
    fn eq(&self, other: &Self) -> bool {
        self.text == other.text
    }
}
impl Eq for Name {}
impl Hash for Name {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.text.hash(state);
    }
}
impl PartialOrd for Name {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Name {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.text.cmp(&other.text)
    }
}
impl From<&str> for Name {
    fn from(text: &str) -> Self {
        Name { text: text.into(), spot: Spot::default() }
    }
}
impl From<String> for Name {
    fn from(text: String) -> Self {
        Name { text: text.into(), spot: Spot::default() }
    }
}
impl PartialEq<str> for Name {
    fn eq(&self, other: &str) -> bool {
        &*self.text == other
    }
}
impl PartialEq<&str> for Name {
    fn eq(&self, other: &&str) -> bool {
        &*self.text == *other
    }
}

impl<'de> Deserialize<'de> for Name {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let (text, spot) = raw(d)?;
        let quoted = ["\"", "r\"", "r#"].iter().any(|q| text.starts_with(q));
        let read: Option<String> = if quoted {
            let name = part::<String>(text);
            if let Some(bad) = name.as_ref().and_then(|n| n.chars().find(|c| is_unprintable(*c))) {
                note(spot, format!("the name {} holds {}", shown(text), unprintable(bad)), None);
            }
            name
        } else {
            note(spot, format!("expected a name in quotes, found {}", shown(text)), None);
            None
        };
        Ok(Name { text: read.unwrap_or_default().into(), spot })
    }
}
impl Serialize for Name {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(&self.text)
    }
}

/// A sentence in quotes where a name could stand: it may run over several lines.
pub fn sentence<'de, D: Deserializer<'de>>(d: D) -> Result<Name, D::Error> {
    let (text, spot) = raw(d)?;
    let read: Option<String> = part(text);
    Ok(Name { text: read.unwrap_or_default().into(), spot })
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

/// What stood in the file, shortened for a message.
pub fn shown(text: &str) -> String {
    let line = text.lines().next().unwrap_or("").trim();
    if line.is_empty() {
        return "nothing".into();
    }
    let short: String = line.chars().take(40).collect();
    let cut = if short.len() < text.trim().len() { "..." } else { "" };
    printable(&short).into_owned() + cut
}

/// A list whose good entries are kept when others are refused.
#[derive(Clone, Debug, PartialEq)]
pub struct List<T>(pub Vec<T>);

impl<T> Default for List<T> {
    fn default() -> Self {
        List(Vec::new())
    }
}
impl<T> std::ops::Deref for List<T> {
    type Target = Vec<T>;
    fn deref(&self) -> &Vec<T> {
        &self.0
    }
}
impl<T> std::ops::DerefMut for List<T> {
    fn deref_mut(&mut self) -> &mut Vec<T> {
        &mut self.0
    }
}
impl<'a, T> IntoIterator for &'a List<T> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}
impl<T> FromIterator<T> for List<T> {
    fn from_iter<I: IntoIterator<Item = T>>(iter: I) -> Self {
        List(iter.into_iter().collect())
    }
}
impl<'de, T: Deserialize<'de>> Deserialize<'de> for List<T> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let raws = Vec::<&RawValue>::deserialize(d)?;
        let more = raws.into_iter().take_while(|_| !is_enough());
        Ok(more.filter_map(|r| part(r.trim().get_ron())).collect())
    }
}
impl<T: Serialize> Serialize for List<T> {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(s)
    }
}

/// A table of named entries in the order of the file; a name given twice is a fault.
#[derive(Clone, Debug, PartialEq)]
pub struct Table<T>(pub Vec<(Name, T)>);

impl<T> Default for Table<T> {
    fn default() -> Self {
        Table(Vec::new())
    }
}
impl<T> Table<T> {
    pub fn get(&self, name: &str) -> Option<&T> {
        self.0.iter().find(|(n, _)| n == name).map(|(_, v)| v)
    }
    /// Puts a value under a name, replacing the one there.
    pub fn set(&mut self, name: &str, value: T) {
        match self.0.iter_mut().find(|(n, _)| n == name) {
            Some((_, v)) => *v = value,
            None => self.0.push((name.into(), value)),
        }
    }
    pub fn remove(&mut self, name: &str) {
        self.0.retain(|(n, _)| n != name);
    }
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
    pub fn iter(&self) -> impl Iterator<Item = (&Name, &T)> {
        self.0.iter().map(|(n, v)| (n, v))
    }
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(n, _)| n.as_str())
    }
}
impl<'de, T: Deserialize<'de>> Deserialize<'de> for Table<T> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        struct Entries<T>(std::marker::PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for Entries<T> {
            type Value = Table<T>;
            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str("a table {\"name\": value, ...}")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Table<T>, A::Error> {
                let mut table = Table(Vec::new());
                let mut seen = std::collections::BTreeSet::new();
                while let Some(name) = map.next_key::<Name>()? {
                    let value = map.next_value::<&RawValue>()?;
                    if seen.contains(&name.text) {
                        note(name.spot, format!("{name:?} is given twice in this table"), None);
                    } else if let Some(value) = part(value.trim().get_ron()) {
                        seen.insert(name.text.clone());
                        table.0.push((name, value));
                    }
                }
                Ok(table)
            }
        }
        d.deserialize_map(Entries(std::marker::PhantomData))
    }
}
impl<T: Serialize> Serialize for Table<T> {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        let mut map = s.serialize_map(Some(self.0.len()))?;
        for (name, value) in &self.0 {
            map.serialize_entry(name, value)?;
        }
        map.end()
    }
}
