//! Marks: which are known where, and what refers to one that is not.

use std::collections::BTreeSet;

use crate::model::language::{Construction, LineRef};
use crate::model::procedure::MarkDef;
use crate::model::spot::Name;
use crate::model::uses::{Use, Uses};

use super::{BUILT_IN_MARKS, Defects};

/// The marks known at some place of a procedure.
#[derive(Clone, Default)]
pub(super) struct Scope<'a> {
    made: Vec<&'a str>,
    /// The same, to look names up in.
    names: BTreeSet<&'a str>,
    /// Marks made further down.
    later: Vec<&'a str>,
}

impl<'a> Scope<'a> {
    /// Adds marks in the order they are made, and checks each against those made before it.
    pub(super) fn make(&mut self, marks: &'a [MarkDef], whole: bool, out: &mut Defects) {
        self.later = marks.iter().map(|m| m.0.as_str()).collect();
        for MarkDef(name, how) in marks {
            if out.is_full() {
                break; // nobody is told more
            }
            if name.as_str().trim().is_empty() {
                out.at(name.spot, "a mark needs a name", None);
            } else if self.names.contains(name.as_str()) {
                let text = format!("the mark {name:?} is made twice");
                out.at(name.spot, text, Some("give each mark its own name".into()));
            }
            if whole {
                self.check(how, out);
            }
            construction(name, how, out);
            self.made.push(name.as_str());
            self.names.insert(name.as_str());
        }
        self.later.clear();
    }

    /// Checks every mark something refers to.
    pub(super) fn check(&self, user: &impl Uses, out: &mut Defects) {
        user.uses(&mut |used| {
            if let Use::Mark(mark) = used {
                self.known(mark, out);
            }
        });
    }

    /// The marks made, and those every setup knows.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.made.iter().chain(BUILT_IN_MARKS).copied()
    }

    /// Whether a mark of this name has been made or is built in.
    pub(super) fn has(&self, name: &str) -> bool {
        self.names.contains(name) || BUILT_IN_MARKS.contains(&name)
    }

    fn known(&self, mark: &Name, out: &mut Defects) {
        if self.has(mark.as_str()) {
            return;
        }
        if self.later.contains(&mark.as_str()) {
            let text = format!("the mark {mark:?} is used before it is made");
            out.at(mark.spot, text, Some("list it further up".into()));
        } else {
            let made = self.made.iter().chain(BUILT_IN_MARKS).copied();
            out.unknown(mark, "mark", made);
        }
    }
}

/// Constructions that can have no solution whatever the vehicle.
fn construction(name: &Name, how: &Construction, out: &mut Defects) {
    match how {
        Construction::Lengths { a, b, .. } => {
            if same(&a.0, &b.0) {
                let text = format!("both tapes of the mark {name:?} start at {:?}", a.0);
                out.at(b.0.spot, text, Some("two tapes need two different marks".into()));
            }
            for (_, length) in [a, b] {
                if out.plain(length).is_some_and(|l| l <= 0.0) {
                    out.at(length.spot, "a tape needs a length above zero", None);
                }
            }
        }
        Construction::Crossing(a, b) if a == b => {
            out.at(name.spot, format!("the mark {name:?} crosses a line with itself"), None);
        }
        _ => {}
    }
    lines_of(how).into_iter().for_each(|l| line(l, out));
}

/// A line through one mark only has no direction.
pub(super) fn line(line: &LineRef, out: &mut Defects) {
    match line {
        LineRef::Through(a, b) if same(a, b) => {
            let text = format!("a line through {a:?} and {b:?} has no direction");
            out.at(b.spot, text, Some("name two different marks".into()));
        }
        LineRef::Square { line: inner, .. } | LineRef::Reversed(inner) => self::line(inner, out),
        _ => {}
    }
}

fn same(a: &Name, b: &Name) -> bool {
    a == b && !a.as_str().is_empty()
}

fn lines_of(how: &Construction) -> Vec<&LineRef> {
    match how {
        Construction::Along { line, .. }
        | Construction::Foot { line, .. }
        | Construction::Place { line, .. }
        | Construction::Off { line, .. }
        | Construction::Bearing { line, .. } => vec![line],
        Construction::Crossing(a, b) => vec![a, b],
        Construction::Under(_) | Construction::Midway(..) | Construction::Lengths { .. } => vec![],
    }
}
