//! Which way of doing a procedure is taken: the one the job names, else the first that fits.

use std::sync::Arc;

use super::finding::{Finding, Outcome, WayTaken};
use super::pairs::Cx;
use super::rules::equipment;
use crate::layout::{Layout, Way};
use crate::model::{called_all, item};
use crate::units::{Round, Show, format_fixed};

/// The ways taken, given what the rules found about all setups.
pub fn taken(cx: &Cx, findings: &[Finding]) -> Vec<WayTaken> {
    let ways = &cx.layout.rig.ways;
    let mut procedures: Vec<usize> = ways.iter().map(|w| w.procedure).collect();
    procedures.dedup();
    procedures.into_iter().filter_map(|p| one(cx, p, findings)).collect()
}

/// What speaks against a way.
struct Against {
    /// Fails; otherwise something is not known.
    fails: bool,
    why: String,
}

/// The way the job names; else the first that fits, else the first of which only something is not known, else the first.
fn one(cx: &Cx, procedure: usize, findings: &[Finding]) -> Option<WayTaken> {
    let ways: Vec<&Way> = cx.layout.rig.ways.iter().filter(|w| w.procedure == procedure).collect();
    let named = ways.iter().position(|w| w.named);
    let judged: Vec<Option<Against>> = ways.iter().map(|w| against(cx, w, findings)).collect();
    let fits = judged.iter().position(Option::is_none);
    let open = || judged.iter().position(|a| a.as_ref().is_some_and(|a| !a.fails));
    let chosen = named.or(fits).or_else(open).unwrap_or(0);
    let way = *ways.get(chosen)?;
    let others = ways.iter().zip(judged).enumerate().filter(|(i, _)| *i != chosen && named.is_none());
    Some(WayTaken {
        procedure,
        way: way.name.clone(),
        named: named.is_some(),
        others: others.filter_map(|(_, (w, a))| a.map(|a| (w.name.clone(), a.why))).collect(),
        idle: ways
            .iter()
            .flat_map(|w| w.setups.iter().copied())
            .filter(|s| !way.setups.contains(s))
            .collect(),
    })
}

/// What stands against a way: its worst failure, or what the shop lacks for it, or the first thing not known; nothing
/// if it fits.
fn against(cx: &Cx, way: &Way, findings: &[Finding]) -> Option<Against> {
    let layout = cx.layout;
    if way.setups.is_empty() && way.missing.0.is_empty() {
        return Some(Against {
            fails: true,
            why: "none of its setups applies to this vehicle and variant".into(),
        });
    }
    let of_way = || findings.iter().filter(|f| f.setup.is_some_and(|s| way.setups.contains(&s)));
    let worst = of_way()
        .filter(|f| f.outcome == Outcome::Fail && !cx.is_accepted(f.rule, &f.items))
        .min_by(|a, b| a.margin.unwrap_or(0.0).total_cmp(&b.margin.unwrap_or(0.0)));
    let lacking = equipment::lacking(cx, &way.setups);
    if let Some(f) = worst.or(lacking.iter().find(|f| f.outcome == Outcome::Fail)) {
        return Some(Against { fails: true, why: failure(layout, f) });
    }
    let unknown = of_way().chain(&lacking).find(|f| f.outcome == Outcome::Unknown).map(|f| {
        let lacks: Vec<Arc<str>> = match f.missing.as_slice() {
            [] => f.items.iter().map(|i| i.name().clone()).collect(),
            missing => missing.to_vec(),
        };
        format!("{} is not known: {}", f.rule.word(), called_all(&lacks))
    });
    let nothing = (way.missing.0.is_empty() && way.setups.iter().all(|s| layout.setups[*s].places_nothing()))
        .then(|| "nothing is set up in it".to_owned());
    let undecided = (!way.missing.0.is_empty())
        .then(|| format!("whether it applies is not known: {}", called_all(&way.missing.0)));
    unknown.or(undecided).or(nothing).map(|why| Against { fails: false, why })
}

fn failure(layout: &Layout, f: &Finding) -> String {
    let setup = f.setup.map_or_else(String::new, |s| format!("{}: ", layout.setups[s].name));
    let by = match (f.margin, f.unit) {
        (Some(m), super::finding::Unit::Mm) => format!(" by {}", Show::Mm.up(-m)),
        (Some(m), super::finding::Unit::Deg) => format!(" by {} degrees", format_fixed(-m, 2, Round::Up)),
        (Some(m), super::finding::Unit::Count) => format!(", {} short", format_fixed(-m, 0, Round::Up)),
        _ => String::new(),
    };
    format!("{setup}{} fails for {}{by}", f.rule.word(), item::names(&f.items, " and "))
}
