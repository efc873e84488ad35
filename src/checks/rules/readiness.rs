//! What a person must see to on the day.

use std::borrow::Cow;

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::geometry::Frame;
use crate::layout::Layout;
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
        for (market, lines) in procedure.vehicle_state_in.iter() {
            match &layout.bundle.job.market {
                Some(chosen) if chosen == market => {
                    for line in lines {
                        confirm(Some(p), None, line, line.clone().into());
                    }
                }
                Some(_) => {}
                None => confirm(Some(p), None, market.as_str(), format!("if made for {market}: {}", lines.join("; ")).into()),
            }
        }
        if let Some(valid) = &procedure.valid {
            let from = valid.from.as_ref().map_or(String::new(), |f| format!(" from {f}"));
            let until = valid.until.as_ref().map_or(String::new(), |u| format!(" until {u}"));
            confirm(Some(p), None, "validity", format!("this text applies{from}{until}: check the vehicle's date").into());
        }
        for line in &procedure.readings {
            confirm(Some(p), None, line, format!("write down: {line}").into());
        }
        for (figure, printed) in procedure.printed.iter() {
            confirm(Some(p), None, figure.as_str(), format!("{figure} is printed as {printed}").into());
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
        for line in &def.readings {
            confirm(Some(setup.procedure), Some(s), line, format!("write down: {line}").into());
        }
        if let Some(moved) = &setup.moved {
            let note = drive_words(layout, &moved.after, moved.frame);
            confirm(Some(setup.procedure), Some(s), &moved.after, note.into());
        }
        for zone in setup.zones.iter().filter(|z| z.free_of.contains(&FreeOf::People)) {
            let note = format!("nobody stands in {} while the sensor works", zone.name);
            confirm(Some(setup.procedure), Some(s), &zone.name, note.into());
        }
    }
    super::sunlight::notes(layout, out);
    for left in &layout.rig.left_out {
        if let Ok(why) = &left.why {
            out.push(Finding {
                procedure: Some(left.procedure),
                items: vec![left.name.clone()],
                note: Some(format!("{} is left out: {why}", left.name).into()),
                ..Finding::new(RuleId::Readiness, Outcome::NotApplicable)
            });
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

/// How far to drive between a setup and the one after, whose targets stay.
fn drive_words(layout: &Layout, after: &str, to: Frame) -> String {
    let from = layout.frame();
    let shift = from.to_local(to.origin);
    let along = if shift.x < 0.0 { "back" } else { "forward" };
    let side = if shift.y < 0.0 { "right" } else { "left" };
    let turn = from.x.perp(&to.x).atan2(from.x.dot(&to.x)).to_degrees();
    let mut words = format!("after {after}: leave the targets and drive {:.0} mm {along}", shift.x.abs());
    if shift.y.abs() >= 0.5 {
        words += &format!(", {:.0} mm to the {side}", shift.y.abs());
    }
    if turn.abs() >= 0.05 {
        words += &format!(", turned {turn:.1} degrees anticlockwise");
    }
    words
}
