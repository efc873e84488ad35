//! Room round each target.

use super::fixed_place::{held_by_bay, own_wall};
use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::{Cx, Pair, Still};

pub const RULE: Rule = Rule {
    id: RuleId::TargetClear,
    page: Page {
        title: "Room round each target",
        checks: "Every target, face and stand together, keeps the shop's clearance to every wall, fixture and lift post at its height. A target that cannot be placed is reported here, with the figure it lacks.",
        matters: "A board that touches the wall cannot be squared, and a stand that does not fit its place moves every later mark.",
        measured: "The shortest plan distance between the outline of face and stand and the thing, where their heights overlap; to walls as for the vehicle.",
        remedy: "Move the vehicle, and the targets with it, away from the thing named; clear the thing; use a target with a smaller stand.",
        source: "`clearance` of the bay or the job, 100 mm unless the shop says otherwise: the shop's own figure.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    pairs(cx, &mut |pair| cx.judge(&pair, out));
    let layout = cx.layout;
    for (s, setup) in layout.setups.iter().enumerate() {
        let unknown = |items, missing| Finding {
            procedure: Some(setup.procedure),
            setup: Some(s),
            items,
            missing,
            ..Finding::new(RuleId::TargetClear, Outcome::Unknown)
        };
        for station in &setup.stations {
            if let Err(missing) = &station.place {
                out.push(unknown(vec![station.name.clone()], missing.0.clone()));
            }
        }
        let def = &*setup.def;
        for line in &def.missing {
            out.push(unknown(vec![line.as_str().into()], vec![line.as_str().into()]));
        }
    }
}

pub fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    let layout = cx.layout;
    for (s, setup) in layout.setups.iter().enumerate() {
        for station in &setup.stations {
            let Ok(stand) = &station.place else { continue };
            if held_by_bay(station) {
                continue;
            }
            let walls = own_wall(cx, station).map_or(Still::Walls, Still::WallsBut);
            let things = layout.stage.things.iter().map(Still::Thing);
            for still in things.chain([walls]) {
                each(Pair {
                    rule: RuleId::TargetClear,
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    name: &station.name,
                    parts: &stand.parts,
                    still,
                    need: layout.needs.clearance,
                });
            }
        }
    }
}
