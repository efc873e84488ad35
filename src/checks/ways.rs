//! Which way of doing a procedure is taken: the one the job names, else the first that fits.

use super::finding::{Finding, Outcome, Unit, WayTaken};
use super::note::{Against, By, Lacks};
use super::pairs::Cx;
use super::rules::equipment;
use crate::layout::{Layout, Missing, Way};

/// The ways taken, given what the rules found about all setups.
pub(super) fn taken(cx: &Cx, findings: &[Finding]) -> Vec<WayTaken> {
    let ways = &cx.layout.rig.ways;
    let mut procedures: Vec<usize> = ways.iter().map(|w| w.procedure).collect();
    procedures.dedup();
    procedures.into_iter().filter_map(|p| one(cx, p, findings)).collect()
}

/// The way the job names; else the first that fits, else the first of which only something is not known, else the first.
fn one(cx: &Cx, procedure: usize, findings: &[Finding]) -> Option<WayTaken> {
    let ways: Vec<&Way> = cx.layout.rig.ways.iter().filter(|w| w.procedure == procedure).collect();
    let named = ways.iter().position(|w| w.named);
    let judged: Vec<Option<Against>> = ways.iter().map(|w| against(cx, w, findings)).collect();
    let fits = judged.iter().position(Option::is_none);
    let open = || judged.iter().position(|a| a.as_ref().is_some_and(|a| !a.fails()));
    let chosen = named.or(fits).or_else(open).unwrap_or(0);
    let way = *ways.get(chosen)?;
    let others = ways.iter().zip(judged).enumerate().filter(|(i, _)| *i != chosen && named.is_none());
    Some(WayTaken {
        procedure,
        way: way.name.clone(),
        named: named.is_some(),
        others: others.filter_map(|(_, (w, a))| a.map(|a| (w.name.clone(), a))).collect(),
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
        return Some(Against::NoneApplies);
    }
    let of_way = || findings.iter().filter(|f| f.setup.is_some_and(|s| way.setups.contains(&s)));
    let worst = of_way()
        .filter(|f| f.outcome == Outcome::Fail && !cx.is_accepted(f.rule, &f.items))
        .min_by(|a, b| a.margin.unwrap_or(0.0).total_cmp(&b.margin.unwrap_or(0.0)));
    let lacking = equipment::lacking(cx, &way.setups);
    if let Some(f) = worst.or(lacking.iter().find(|f| f.outcome == Outcome::Fail)) {
        return Some(failure(layout, f));
    }
    let unknown = of_way().chain(&lacking).find(|f| f.outcome == Outcome::Unknown).map(|f| {
        let lacks = match f.missing.as_slice() {
            [] => Lacks::Items(f.items.clone()),
            missing => Lacks::Figures(Missing(missing.to_vec())),
        };
        Against::NotKnown(f.rule, lacks)
    });
    let nothing = (way.missing.0.is_empty() && way.setups.iter().all(|s| layout.setups[*s].places_nothing()))
        .then_some(Against::NothingSetUp);
    let undecided = (!way.missing.0.is_empty()).then(|| Against::Undecided(way.missing.clone()));
    unknown.or(undecided).or(nothing)
}

fn failure(layout: &Layout, f: &Finding) -> Against {
    let by = match (f.margin, f.unit) {
        (Some(m), Unit::Mm) => By::Mm(-m),
        (Some(m), Unit::Deg) => By::Deg(-m),
        (Some(m), Unit::Count) => By::Pieces(-m),
        _ => By::Untold,
    };
    let setup = f.setup.map(|s| layout.setups[s].name.clone());
    Against::Fails { setup, rule: f.rule, items: f.items.clone(), by }
}
