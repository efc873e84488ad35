//! Room for a person behind a target.

use super::{Page, Rule, RuleId};
use crate::checks::finding::Finding;
use crate::checks::pairs::{Cx, Pair, Still};

pub const RULE: Rule = Rule {
    id: RuleId::RoomBehind,
    page: Page {
        title: "Room to work behind a target",
        checks: "The depth a person needs behind a target is free of walls, fixtures and lift posts.",
        matters: "Height, square and level are set from behind. Without that room the target is set by eye from the front.",
        measured: "An area as deep as the target's `room_behind` and as wide as face and stand together, from the floor to 2000 mm, measured like the target itself, with nothing to spare needed.",
        remedy: "Move the vehicle back, clear what stands there, or use a target that is set from the front.",
        source: "`room_behind` of the equipment file: what the shop found it needs.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    pairs(cx, &mut |pair| cx.judge(&pair, out));
}

pub fn pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(Pair<'a>)) {
    let layout = cx.layout;
    for (s, setup) in layout.setups.iter().enumerate() {
        for station in &setup.stations {
            let Some(room) = station.place.as_ref().ok().and_then(|p| p.room.as_ref()) else { continue };
            if station.def.fixed_to.is_some() {
                continue; // nobody works behind what the bay holds
            }
            let things = layout.stage.things.iter().map(Still::Thing);
            for still in things.chain([Still::Walls]) {
                each(Pair {
                    rule: RuleId::RoomBehind,
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    name: &station.name,
                    parts: std::slice::from_ref(room),
                    still,
                    need: 0.0,
                });
            }
        }
    }
}
