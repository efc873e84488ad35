//! What a person must see to on the day.

use std::borrow::Cow;

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::model::language::FreeOf;

pub const RULE: Rule = Rule {
    id: RuleId::Readiness,
    page: Page {
        title: "To confirm on the day",
        checks: "Lists what the maker wants of the vehicle, the light, the floor and the people, and what this plan cannot see.",
        matters: "Tyre pressures, a full boot, a person in the beam: none of it is in a plan, and any of it ends in a wrong 'completed'.",
        measured: "Nothing is measured. It never changes the verdict and is always printed.",
        remedy: "Confirm each line at the vehicle, before the first target is set.",
        source: "The procedure file's own lists and notes.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let mut confirm = |procedure: Option<usize>, setup: Option<usize>, item: &str, note: Cow<'static, str>| {
        out.push(Finding {
            procedure,
            setup,
            items: vec![item.into()],
            note: Some(note),
            ..Finding::new(RuleId::Readiness, Outcome::Confirm)
        });
    };
    if layout.bundle.vehicle.mirrors.is_none() {
        confirm(None, None, "mirrors", "the vehicle file gives no mirrors: measure over them before driving in".into());
    }
    for (p, procedure) in layout.bundle.procedures.iter().enumerate() {
        if layout.rig.without.iter().any(|(w, _)| *w == p) {
            continue;
        }
        for line in &procedure.vehicle_state {
            confirm(Some(p), None, line, line.clone().into());
        }
        let notes = [
            ("light", &procedure.light_note),
            ("floor", &procedure.floor_note),
            ("surroundings", &procedure.ambient_note),
        ];
        for (word, note) in notes {
            if let Some(note) = note {
                confirm(Some(p), None, word, format!("{word}: {note}").into());
            }
        }
    }
    for (s, setup) in layout.setups.iter().enumerate() {
        let def = &*setup.def;
        for line in &def.vehicle_state {
            confirm(Some(setup.procedure), Some(s), line, line.clone().into());
        }
        for zone in setup.zones.iter().filter(|z| z.free_of.contains(&FreeOf::People)) {
            let note = format!("nobody stands in {} while the sensor works", zone.name);
            confirm(Some(setup.procedure), Some(s), &zone.name, note.into());
        }
    }
    for (p, sensor) in &layout.rig.without {
        out.push(Finding {
            procedure: Some(*p),
            items: vec![sensor.text.clone()],
            note: Some(format!("the vehicle has no {sensor}").into()),
            ..Finding::new(RuleId::Readiness, Outcome::NotApplicable)
        });
    }
}
