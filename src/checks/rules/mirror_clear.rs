//! Room beside the mirrors.

use super::{Page, Rule, RuleId};
use crate::checks::finding::Finding;
use crate::checks::pairs::{Cx, Pair, Still};

pub const RULE: Rule = Rule {
    id: RuleId::MirrorClear,
    page: Page {
        title: "Room beside the mirrors",
        checks: "Both mirrors keep the shop's clearance to every wall, fixture and lift post at their height.",
        matters: "Mirrors are the widest part of the vehicle and are the first thing a lift post or a rack takes off.",
        measured: "As for the body, with the two mirror boxes counted as one item.",
        remedy: "Drive the vehicle away from the thing named, fold the mirrors only where the maker's procedure allows it, or clear the thing.",
        source: "`clearance` of the bay or the job, 100 mm unless the shop says otherwise: the shop's own figure.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    pairs(cx, &mut |pair| cx.judge(&pair, out));
}

pub fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    let layout = cx.layout;
    for (procedure, setup, body) in layout.bodies() {
        let parts = &body.mirrors;
        if parts.is_empty() {
            continue;
        }
        let things = layout.stage.things.iter().map(Still::Thing);
        for still in things.chain([Still::Walls]) {
            each(Pair {
                rule: RuleId::MirrorClear,
                procedure,
                setup,
                name: &cx.mirrors,
                parts,
                still,
                need: layout.needs.clearance,
            });
        }
    }
}
