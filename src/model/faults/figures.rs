//! Values, variants and figures of a procedure.

use std::collections::BTreeMap;

use crate::model::figure::{Figure, Term, Value};
use crate::model::num;
use crate::model::procedure::Procedure;
use crate::model::spot::{Name, Table};

use super::Defects;

/// Names of values, measured figures and averages of them, which a figure may use.
pub(super) fn known(p: &Procedure) -> Vec<&str> {
    let given = p.values.names().chain(p.measured.names());
    given.chain(p.derived.names()).collect()
}

/// Names a figure uses that nothing has, and numbers in quotes that no file may hold.
pub(super) fn figure(figure: &Figure, known: &[&str], out: &mut Defects) {
    for (_, term) in &figure.terms {
        if let Term::Either(written, v) = term
            && !known.contains(&&**written)
            && let Some(why) = num::wrong(*v, written)
        {
            out.at(figure.spot, why, None);
        }
    }
    for name in figure.unknown(known) {
        let name = Name { text: name.into(), spot: figure.spot };
        out.unknown(&name, "value or measured figure", known.iter().copied());
        let run_together = name.as_str().contains(['-', '+']);
        if let Some(last) = out.0.last_mut().filter(|_| run_together) {
            last.hint = Some("terms are joined by \" + \" or \" - \", with blanks".into());
        }
    }
}

/// Values with unknown names, values in a circle, variants of values that are not there, one name for two things.
pub(super) fn values(p: &Procedure, out: &mut Defects) {
    let names = known(p);
    let not_values = p.measured.iter().map(|(n, _)| n).chain(p.derived.iter().map(|(n, _)| n));
    for name in not_values {
        if p.values.get(name.as_str()).is_some() {
            out.at(name.spot, format!("{name:?} is a value already and cannot be measured too"), None);
        }
    }
    let variants = p.variants.iter().map(|(_, t)| t);
    for table in std::iter::once(&p.values).chain(variants) {
        for (name, value) in table.iter() {
            if name.as_str().trim().is_empty() {
                out.at(name.spot, "a value needs a name", None);
            }
            if let Value::Is(f) = value {
                figure(f, &names, out);
            }
        }
    }
    circle(&p.values, &Table::default(), out);
    for (variant, table) in p.variants.iter() {
        for (name, _) in table.iter() {
            if p.measured.get(name.as_str()).is_some() {
                let text = format!("the variant {variant:?} cannot change {name:?}, which is measured");
                out.at(name.spot, text, None);
            } else if p.values.get(name.as_str()).is_none() {
                let hint = crate::model::words::suggest(name.as_str(), "value", p.values.names());
                let text = format!("the variant {variant:?} changes {name:?}, which is not among the values");
                out.at(name.spot, text, hint);
            }
        }
        circle(&p.values, table, out);
    }
}

/// Finds values that rest on themselves, the values of `over` in place of those of `base`. Each circle is reported
/// once, where a value of `over` closes it, or when `over` is empty at its first value.
fn circle(base: &Table<Value>, over: &Table<Value>, out: &mut Defects) {
    let mut all: BTreeMap<&str, (&Name, &Value)> = BTreeMap::new();
    for (name, value) in base.iter().chain(over.iter()) {
        all.insert(name.as_str(), (name, value));
    }
    let mut told: Vec<&str> = Vec::new();
    for start in all.keys().copied() {
        let Some(round) = closes(&all, start) else {
            continue;
        };
        let changed = round.iter().find(|n| over.get(n).is_some());
        if !round.iter().any(|n| told.contains(n))
            && let Some(first) = changed.or(round.first().filter(|_| over.is_empty()))
        {
            let chain = round.iter().chain(round.first()).map(|n| format!("{n:?}"));
            let chain = chain.collect::<Vec<_>>().join(", ");
            let text = format!("these values rest on each other in a circle: {chain}");
            let hint = "give one of them a figure".into();
            out.at(all[first].0.spot, text, Some(hint));
        }
        told.extend(round);
    }
}

/// The way from `start` by the names its values rest on back to itself, if there is one.
fn closes<'a>(all: &BTreeMap<&'a str, (&'a Name, &'a Value)>, start: &'a str) -> Option<Vec<&'a str>> {
    let mut open = vec![vec![start]];
    let mut seen: Vec<&str> = Vec::new();
    while let Some(way) = open.pop() {
        let Some((_, Value::Is(figure))) = way.last().and_then(|last| all.get(last)) else {
            continue;
        };
        for next in figure.names() {
            if next == start {
                return Some(way);
            }
            if let Some((&next, _)) = all.get_key_value(next)
                && !seen.contains(&next)
            {
                seen.push(next);
                open.push(way.iter().copied().chain([next]).collect());
            }
        }
    }
    None
}
