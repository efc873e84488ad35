//! Areas the workplace must keep free.

use std::sync::Arc;

use super::fixed_place::held_by_bay;
use super::{Page, Rule, RuleId};
use crate::checks::finding::Finding;
use crate::checks::pairs::{Cx, Pair, Still};
use crate::layout::Solid;

pub const RULE: Rule = Rule {
    id: RuleId::KeepClear,
    page: Page {
        title: "Areas that must stay free",
        checks: "Neither the vehicle nor any target stands in an area the workplace must keep free: electrical working space, an exit route, an extinguisher.",
        matters: "These areas are for emergencies. They may not be used, not even for the few minutes a target stands.",
        measured: "The shortest plan distance between the outline and the area, where their heights overlap; an area without heights counts at any height, and a mat in it is a failure too.",
        remedy: "Stand the vehicle elsewhere. These areas are not moved and not accepted away: local codes rule.",
        source: "`keep_clear` of the bay file, with the reason the shop wrote there; local codes are the authority.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    pairs(cx, &mut |pair| cx.judge(&pair, out));
}

pub fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    let layout = cx.layout;
    let mut against_all = |procedure, setup, name: &'a Arc<str>, parts: &'a [Solid]| {
        for kept in &layout.stage.keep_clear {
            each(Pair {
                rule: RuleId::KeepClear,
                procedure,
                setup,
                name,
                parts,
                still: Still::Kept(kept),
                need: 0.0,
            });
        }
    };
    for (procedure, setup, body) in layout.bodies() {
        against_all(procedure, setup, &cx.vehicle, &body.hull);
        against_all(procedure, setup, &cx.mirrors, &body.mirrors);
        against_all(procedure, setup, &cx.tyres, &body.tyres);
    }
    for (s, setup) in layout.setups.iter().enumerate() {
        for station in &setup.stations {
            if let Ok(stand) = &station.place
                && !held_by_bay(station)
            {
                against_all(Some(setup.procedure), Some(s), &station.name, &stand.parts);
            }
        }
    }
}
