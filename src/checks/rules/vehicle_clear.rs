//! Room to walk round the vehicle.

use super::{Page, Rule, RuleId};
use crate::checks::finding::Finding;
use crate::checks::pairs::{Cx, Pair, Still};

pub const RULE: Rule = Rule {
    id: RuleId::VehicleClear,
    page: Page {
        title: "Room round the vehicle",
        checks: "The body keeps the shop's walk-round distance to every wall, fixture and lift post at its height; the tyres do not stand on anything too low for the body to meet.",
        matters: "People carry targets, tapes and plumb bobs round the vehicle. A gap nobody fits through means a door knocked, a string leaned on, or a target set from one side only.",
        measured: "The shortest plan distance between the outline of the body and the thing, where their heights overlap. Overlapping counts below zero, by the shortest shift that parts them. For walls: the distance to the edge of the usable floor, or, past it, minus how far the farthest part sticks out.",
        remedy: "Drive or turn the vehicle away from the thing named, clear the thing, open a door, or accept the finding with a reason.",
        source: "`walk_around` of the bay or the job, 600 mm unless the shop says otherwise: the shop's own figure, no standard's.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    pairs(cx, &mut |pair| cx.judge(&pair, out));
}

pub fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    let layout = cx.layout;
    for (procedure, setup, body) in layout.bodies() {
        let hull = &body.hull;
        let pair = |name, parts, still, need| Pair {
            rule: RuleId::VehicleClear,
            procedure,
            setup,
            name,
            parts,
            still,
            need,
        };
        for thing in &layout.stage.things {
            if hull.iter().any(|b| b.z.overlaps(&thing.solid.z)) {
                each(pair(&cx.vehicle, hull, Still::Thing(thing), layout.needs.walk_around));
            } else {
                each(pair(&cx.tyres, &body.tyres, Still::Thing(thing), 0.0));
            }
        }
        each(pair(&cx.vehicle, hull, Still::Walls, layout.needs.walk_around));
    }
}
