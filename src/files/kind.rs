//! The six kinds of file, and telling them apart by their fields.

use crate::model::faults::{self, Defect};
use crate::model::reading::Record;
use crate::model::writing::ToFile;
use crate::model::{Bay, Equipment, Job, Procedure, Vehicle, Workshop, words, workshop};
use crate::syntax::{Kind as Part, Tree};

/// What a file describes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    Bay,
    Vehicle,
    Equipment,
    Procedure,
    Job,
    Workshop,
}

impl Kind {
    pub const ALL: [Kind; 6] =
        [Kind::Bay, Kind::Vehicle, Kind::Equipment, Kind::Procedure, Kind::Job, Kind::Workshop];

    /// "a bay", for a sentence.
    pub fn article(self) -> &'static str {
        match self {
            Kind::Bay => "a bay",
            Kind::Vehicle => "a vehicle",
            Kind::Equipment => "equipment",
            Kind::Procedure => "a procedure",
            Kind::Job => "a job",
            Kind::Workshop => "a workshop",
        }
    }

    /// "bay", as a label.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Bay => "bay",
            Kind::Vehicle => "vehicle",
            Kind::Equipment => "equipment",
            Kind::Procedure => "procedure",
            Kind::Job => "job",
            Kind::Workshop => "workshop",
        }
    }

    /// The folder such files are kept in where a workshop says nothing else; a workshop's own file stands in none.
    pub fn folder(self) -> Option<&'static str> {
        match self {
            Kind::Bay => Some("bays"),
            Kind::Vehicle => Some("vehicles"),
            Kind::Equipment => Some("equipment"),
            Kind::Procedure => Some("procedures"),
            Kind::Job => Some("jobs"),
            Kind::Workshop => None,
        }
    }

    fn fields(self) -> &'static [&'static str] {
        match self {
            Kind::Bay => Bay::FIELDS,
            Kind::Vehicle => Vehicle::FIELDS,
            Kind::Equipment => Equipment::FIELDS,
            Kind::Procedure => Procedure::FIELDS,
            Kind::Job => Job::FIELDS,
            Kind::Workshop => Workshop::FIELDS,
        }
    }
}

/// A type that is a whole file, with the checks that need the file read whole.
pub trait FileKind: Record + ToFile {
    const KIND: Kind;
    /// What the file says that cannot be used. `whole`: nothing was left out, so a name not found is a fault.
    fn defects(&self, whole: bool) -> Vec<Defect>;
}

impl FileKind for Bay {
    const KIND: Kind = Kind::Bay;
    fn defects(&self, _: bool) -> Vec<Defect> {
        faults::bay(self)
    }
}
impl FileKind for Vehicle {
    const KIND: Kind = Kind::Vehicle;
    fn defects(&self, _: bool) -> Vec<Defect> {
        faults::vehicle(self)
    }
}
impl FileKind for Equipment {
    const KIND: Kind = Kind::Equipment;
    fn defects(&self, _: bool) -> Vec<Defect> {
        faults::equipment(self)
    }
}
impl FileKind for Procedure {
    const KIND: Kind = Kind::Procedure;
    fn defects(&self, whole: bool) -> Vec<Defect> {
        faults::procedure(self, whole)
    }
}
impl FileKind for Job {
    const KIND: Kind = Kind::Job;
    fn defects(&self, _: bool) -> Vec<Defect> {
        faults::job(self)
    }
}
impl FileKind for Workshop {
    const KIND: Kind = Kind::Workshop;
    fn defects(&self, _: bool) -> Vec<Defect> {
        workshop::faults(self)
    }
}

/// What the text describes, judged by its field names; misspelt ones count for less. `None` when no field tells.
pub fn kind_of(source: &str) -> Option<Kind> {
    kind_in(&Tree::new(source))
}

pub(super) fn kind_in(tree: &Tree) -> Option<Kind> {
    let root = tree.root().filter(|root| tree.kind(*root) == Part::Fields)?;
    let given: Vec<&str> = tree.entries(root).iter().map(|e| tree.key(e)).take(MOST).collect();
    let basic = given.iter().filter(|f| matches!(**f, "name" | "format")).count();
    let mut tallies =
        Kind::ALL.map(|kind| Tally { kind, fields: kind.fields(), score: 0, strange: Vec::new() });
    for field in given {
        let known = tallies.each_ref().map(|t| t.fields.contains(&field));
        let own = known.iter().filter(|k| **k).count() == 1;
        for (tally, known) in tallies.iter_mut().zip(known) {
            match known {
                true => tally.score += if own { OWN } else { 1 },
                false => tally.strange.push(field),
            }
        }
    }
    // the first of those with the most points; the search for what may be misspelt is dear, and seldom decides
    let best = |all: &[Tally]| all.iter().rev().max_by_key(|t| t.score).map(|t| (t.score, t.kind));
    let (score, kind) = best(&tallies)?;
    let rival = tallies.iter().any(|t| t.kind != kind && t.score + t.strange.len() >= score);
    if score > basic && !rival {
        return Some(kind);
    }
    for tally in &mut tallies {
        let near = |f: &&&str| words::nearest(f, tally.fields.iter().copied()).is_some();
        tally.score += tally.strange.iter().filter(near).count();
    }
    best(&tallies).filter(|(score, _)| *score > basic).map(|(_, kind)| kind)
}

/// Most fields that are looked at; no file has so many of its own.
const MOST: usize = 200;

/// What a field counts that only one kind has; one that several have, or that is misspelt, counts 1.
const OWN: usize = 4;

/// How much speaks for one kind.
struct Tally<'a> {
    kind: Kind,
    fields: &'static [&'static str],
    score: usize,
    /// Fields that this kind has not.
    strange: Vec<&'a str>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_are_told_by_their_fields() {
        for (source, kind) in [
            ("(name: \"B\", floor: [(0, 0), (1, 0), (0, 1)])", Some(Kind::Bay)),
            ("(name: \"B\", flor: [], fixtures: [])", Some(Kind::Bay)),
            ("(name: \"V\", wheelbase: 2690, lenght: 4000)", Some(Kind::Vehicle)),
            ("(name: \"E\", targets: {})", Some(Kind::Equipment)),
            ("(name: \"P\", setups: [])", Some(Kind::Procedure)),
            ("(name: \"J\", bay: \"b\", vehicle: \"v\", pose: Anywhere)", Some(Kind::Job)),
            ("(name: \"W\", folders: (bays: \"../bays\"))", Some(Kind::Workshop)),
            ("(name: \"W\", coming_in: {}, taep: (error: 1))", Some(Kind::Workshop)),
            ("(name: \"J\")", None),
            ("(format: 1, name: \"J\")", None),
            ("", None),
            ("(", None),
        ] {
            assert_eq!(kind_of(source), kind, "{source}");
        }
    }
}
