//! What a finding is about: things of every kind, each known by its kind and its name. A fixture called "tyres" is not the
//! tyres.

// a new variant is met wherever it could matter
#![cfg_attr(not(test), warn(clippy::wildcard_enum_match_arm))]

use std::fmt;
use std::sync::Arc;

use super::rule_id::RuleId;

macro_rules! kinds {
    ($($(#[$doc:meta])* $kind:ident $word:literal,)*) => {
        /// The kind of a thing. The vehicle's parts, the ceiling and the floor are the only ones of their kind.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum ItemKind {
            $($(#[$doc])* $kind,)*
        }

        impl ItemKind {
            pub const ALL: &[ItemKind] = &[$(ItemKind::$kind,)*];

            /// The word a file puts before a name that could mean two things: `fixture: tyres`.
            pub fn word(self) -> &'static str {
                match self {
                    $(ItemKind::$kind => $word,)*
                }
            }
        }
    };
}

kinds! {
    Vehicle "vehicle part",
    Mirrors "vehicle part",
    Tyres "vehicle part",
    Ceiling "bay part",
    Floor "bay part",
    Fixture "fixture",
    /// A post of a lift.
    Post "post",
    Lift "lift",
    KeepClear "keep-clear",
    /// A side of the floor.
    Wall "wall",
    Doorway "doorway",
    /// The outer edge of a doorway's apron, and the apron.
    Apron "apron",
    /// The edge of a doorway's opening, for who drives through.
    Jamb "jamb",
    /// The ground before a doorway without an apron.
    Strip "strip",
    /// What is installed in the bay.
    Installed "installed",
    /// A line painted on the floor.
    FloorLine "floor line",
    Station "station",
    Zone "zone",
    Mark "mark",
    Sensor "sensor",
    /// A point of the vehicle or of the bay, a wheel's among them.
    Point "point",
    Target "target",
    /// A figure to be measured.
    Figure "figure",
    /// A line of the set-out, as it is spelt.
    Line "line",
    /// A string pulled from a mark.
    String "string",
    /// The direction in which a place is missed.
    Axis "axis",
    /// A line of a list, in its own words.
    Words "words",
}

impl ItemKind {
    /// What the only one of its kind is called.
    fn only(self) -> Option<&'static str> {
        match self {
            ItemKind::Vehicle => Some("vehicle"),
            ItemKind::Mirrors => Some("mirrors"),
            ItemKind::Tyres => Some("tyres"),
            ItemKind::Ceiling => Some("ceiling"),
            ItemKind::Floor => Some("floor"),
            ItemKind::KeepClear
            | ItemKind::Wall
            | ItemKind::Doorway
            | ItemKind::Apron
            | ItemKind::Jamb
            | ItemKind::Strip
            | ItemKind::Installed
            | ItemKind::FloorLine
            | ItemKind::Station
            | ItemKind::Zone
            | ItemKind::Mark
            | ItemKind::Sensor
            | ItemKind::Point
            | ItemKind::Target
            | ItemKind::Figure
            | ItemKind::Line
            | ItemKind::String
            | ItemKind::Axis
            | ItemKind::Words
            | ItemKind::Fixture
            | ItemKind::Post
            | ItemKind::Lift => None,
        }
    }

    /// Whether any name may be one of its kind: what is said, not what stands somewhere.
    pub fn is_free(self) -> bool {
        matches!(self, ItemKind::Line | ItemKind::String | ItemKind::Axis | ItemKind::Words)
    }

    /// Whether these kinds are told apart where a file names one. The places of a procedure are not: the rule that speaks
    /// of one says which it is.
    pub fn is_apart(self, other: ItemKind) -> bool {
        let place = |kind| {
            matches!(
                kind,
                ItemKind::Station | ItemKind::Zone | ItemKind::Mark | ItemKind::Sensor | ItemKind::Point
            )
        };
        self != other && !(place(self) && place(other))
    }
}

/// What a thing is called: by a name of its own, or by what it is and is part of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Called<'a> {
    Name(&'a str),
    /// The only one of its kind.
    Only(ItemKind),
    /// A side of the floor without a name, by its place in the file.
    Side(usize),
    /// A post of this lift, counted from 1.
    Post(&'a str, usize),
    /// Of this doorway.
    Apron(&'a str),
    Jamb(&'a str),
    Strip(&'a str),
    /// From this mark.
    String(&'a str),
    /// The direction in which a place is missed.
    Axis(&'a str),
}

/// One thing a finding is about. Ordered by name, then by kind.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Item {
    name: Arc<str>,
    kind: ItemKind,
}

impl Item {
    pub fn new(kind: ItemKind, name: impl Into<Arc<str>>) -> Item {
        Item { name: name.into(), kind }
    }

    /// The only one of its kind: a part of the vehicle, the ceiling, the floor.
    pub fn only(kind: ItemKind) -> Item {
        Item::new(kind, kind.only().unwrap_or_default())
    }

    pub fn kind(&self) -> ItemKind {
        self.kind
    }

    /// As people call it.
    pub fn name(&self) -> &Arc<str> {
        &self.name
    }

    /// Its name told from what it is made of, for words: identity stays with the name.
    pub fn called(&self) -> Called<'_> {
        let name = &*self.name;
        let known = match self.kind {
            kind if kind.only() == Some(name) => Some(Called::Only(kind)),
            ItemKind::Wall => name.strip_prefix("wall ").and_then(|n| n.parse().ok()).map(Called::Side),
            ItemKind::Post => {
                name.rsplit_once(" post ").and_then(|(lift, n)| Some(Called::Post(lift, n.parse().ok()?)))
            }
            ItemKind::Apron => name.strip_suffix(" apron").map(Called::Apron),
            ItemKind::Jamb => name.strip_suffix(" jamb").map(Called::Jamb),
            ItemKind::Strip => name.strip_suffix(" strip").map(Called::Strip),
            ItemKind::String => name.strip_prefix("string from ").map(Called::String),
            ItemKind::Axis => Some(Called::Axis(name)),
            ItemKind::Vehicle
            | ItemKind::Mirrors
            | ItemKind::Tyres
            | ItemKind::Ceiling
            | ItemKind::Floor
            | ItemKind::KeepClear
            | ItemKind::Doorway
            | ItemKind::Installed
            | ItemKind::FloorLine
            | ItemKind::Station
            | ItemKind::Zone
            | ItemKind::Mark
            | ItemKind::Sensor
            | ItemKind::Point
            | ItemKind::Target
            | ItemKind::Figure
            | ItemKind::Line
            | ItemKind::Words
            | ItemKind::Fixture
            | ItemKind::Lift => None,
        };
        known.unwrap_or(Called::Name(name))
    }

    pub fn by_ref(&self) -> ItemRef<'_> {
        ItemRef { kind: self.kind, name: &self.name }
    }

    /// As a file spells it where its name alone could mean something else.
    pub fn spelt(&self) -> String {
        format!("{}: {}", self.kind.word(), self.name)
    }

    /// Whether a file's word names it: its name, or its kind before it.
    pub fn is_called(&self, word: &str) -> bool {
        *self.name == *word || self.is_spelt(word)
    }

    /// Whether a file's word names it with its kind.
    pub fn is_spelt(&self, word: &str) -> bool {
        let rest = word.strip_prefix(self.kind.word()).and_then(|rest| rest.strip_prefix(": "));
        rest.is_some_and(|name| *self.name == *name)
    }
}

impl fmt::Display for Item {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(&self.name)
    }
}

/// An item that is looked at, not kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ItemRef<'a> {
    pub kind: ItemKind,
    pub name: &'a Arc<str>,
}

impl ItemRef<'_> {
    pub fn item(self) -> Item {
        Item { name: self.name.clone(), kind: self.kind }
    }
}

/// "board and north wall".
pub fn names(items: &[Item], between: &str) -> String {
    let names: Vec<&str> = items.iter().map(|i| &*i.name).collect();
    names.join(between)
}

/// Which finding: its rule, its setup and what it is about in whatever order. What a person accepts, chooses or presses is
/// found again by it, whatever place it has in a later answer.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FindingKey {
    pub rule: RuleId,
    /// Index into the layout's setups.
    pub setup: Option<usize>,
    /// Sorted.
    items: Vec<Item>,
}

impl FindingKey {
    pub fn new(rule: RuleId, setup: Option<usize>, items: impl IntoIterator<Item = Item>) -> FindingKey {
        let mut items: Vec<Item> = items.into_iter().collect();
        items.sort_unstable();
        FindingKey { rule, setup, items }
    }

    pub fn items(&self) -> &[Item] {
        &self.items
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thing_is_known_by_kind_and_name() {
        let (tyres, fixture) = (Item::only(ItemKind::Tyres), Item::new(ItemKind::Fixture, "tyres"));
        assert_ne!(tyres, fixture);
        assert_eq!((tyres.to_string(), fixture.to_string()), ("tyres".into(), "tyres".into()));
        assert_eq!((tyres.spelt(), fixture.spelt()), ("vehicle part: tyres".into(), "fixture: tyres".into()));
        for item in [&tyres, &fixture] {
            assert!(item.is_called("tyres") && item.is_called(&item.spelt()));
        }
        assert!(!tyres.is_called("fixture: tyres") && !fixture.is_called("vehicle part: tyres"));
        // a name may look like a spelling
        let odd = Item::new(ItemKind::Fixture, "fixture: tyres");
        assert!(odd.is_called("fixture: tyres") && odd.is_called("fixture: fixture: tyres"));
    }

    #[test]
    fn a_key_forgets_the_order() {
        let (a, b) = (Item::only(ItemKind::Vehicle), Item::new(ItemKind::Wall, "north wall"));
        let key = |items: [&Item; 2]| FindingKey::new(RuleId::VehicleClear, None, items.map(Item::clone));
        assert_eq!(key([&a, &b]), key([&b, &a]));
        let other = Item::new(ItemKind::Fixture, "north wall");
        assert_ne!(key([&a, &b]), key([&a, &other]));
    }

    #[test]
    fn only_the_places_of_a_procedure_are_not_told_apart() {
        assert!(!ItemKind::Station.is_apart(ItemKind::Mark) && !ItemKind::Wall.is_apart(ItemKind::Wall));
        assert!(ItemKind::Fixture.is_apart(ItemKind::Tyres) && ItemKind::Station.is_apart(ItemKind::Fixture));
    }
}
