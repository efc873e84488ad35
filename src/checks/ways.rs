//! Which way of doing a procedure is taken: the one the job names, else the first that fits.

use std::sync::Arc;

use super::finding::{Finding, Outcome, WayTaken};
use crate::layout::{Layout, Way};

/// The ways taken, given what the rules found about all setups.
pub fn taken(layout: &Layout, findings: &[Finding]) -> Vec<WayTaken> {
    let ways = &layout.rig.ways;
    let mut procedures: Vec<usize> = ways.iter().map(|w| w.procedure).collect();
    procedures.dedup();
    procedures.into_iter().filter_map(|p| one(layout, p, findings)).collect()
}

fn one(layout: &Layout, procedure: usize, findings: &[Finding]) -> Option<WayTaken> {
    let ways: Vec<&Way> = layout.rig.ways.iter().filter(|w| w.procedure == procedure).collect();
    let mut others: Vec<(Arc<str>, String)> = Vec::new();
    let mut chosen = ways.iter().find(|w| w.named).copied();
    let named = chosen.is_some();
    if !named {
        for way in &ways {
            match against(layout, way, findings) {
                None => {
                    chosen = Some(way);
                    break;
                }
                Some(why) => others.push((way.name.clone(), why)),
            }
        }
    }
    let way = chosen.or(ways.first().copied())?;
    others.retain(|(name, _)| *name != way.name);
    let idle = ways
        .iter()
        .flat_map(|w| w.setups.iter().copied())
        .filter(|s| !way.setups.contains(s))
        .collect();
    Some(WayTaken { procedure, way: way.name.clone(), named, others, idle })
}

/// What stands against a way: its worst failure, or the first thing not known; nothing if it fits.
fn against(layout: &Layout, way: &Way, findings: &[Finding]) -> Option<String> {
    let of_way = || findings.iter().filter(|f| f.setup.is_some_and(|s| way.setups.contains(&s)));
    let worst = of_way()
        .filter(|f| f.outcome == Outcome::Fail)
        .min_by(|a, b| a.margin.unwrap_or(0.0).total_cmp(&b.margin.unwrap_or(0.0)));
    let unknown = || of_way().find(|f| f.outcome == Outcome::Unknown);
    if let Some(f) = worst {
        let setup = f.setup.map_or("", |s| &layout.setups[s].name);
        let by = f.margin.map_or_else(String::new, |m| format!(" by {:.0} mm", -m));
        return Some(format!("{setup}: {} fails for {}{by}", f.rule.word(), f.items.join(" and ")));
    }
    unknown().map(|f| {
        let lacks = if f.missing.is_empty() { f.items.join(" and ") } else { f.missing.join(", ") };
        format!("{} is not known: {lacks}", f.rule.word())
    })
}
