//! Names, lists and tables as the files hold them, and where in its file a value stood.

use std::fmt;
use std::hash::{Hash, Hasher};
use std::sync::Arc;

use serde::ser::{Serialize, SerializeMap, Serializer};

/// Byte offset of a value in the file it was read from (0 when it was made in the program). Never part of equality.
#[derive(Clone, Copy, Debug, Default)]
pub struct Spot(pub usize);

impl Spot {
    /// Of what stands in no file: the stand-in for something that could not be read.
    pub const NOWHERE: Spot = Spot(usize::MAX);
}

impl PartialEq for Spot {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}
impl Eq for Spot {}

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

impl Serialize for Name {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(&self.text)
    }
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
impl<T: Serialize> Serialize for Table<T> {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        let mut map = s.serialize_map(Some(self.0.len()))?;
        for (name, value) in &self.0 {
            map.serialize_entry(name, value)?;
        }
        map.end()
    }
}
