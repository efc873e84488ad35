//! What a person must see to on the day.

use std::borrow::Cow;

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::geometry::Frame;
use crate::model::Name;
use crate::model::further::FixedTo;
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
        let job = &layout.bundle.job;
        let variants = job.procedures.get(p).into_iter().flat_map(|c| c.all_variants());
        let markets: Vec<&Name> = variants.filter(|v| procedure.vehicle_state_in.get(v.as_str()).is_some()).chain(&job.market).collect();
        for (market, lines) in procedure.vehicle_state_in.iter() {
            if markets.contains(&market) {
                for line in lines {
                    confirm(Some(p), None, line, line.clone().into());
                }
            } else if markets.is_empty() {
                confirm(Some(p), None, market.as_str(), format!("if made for {market}: {}", lines.join("; ")).into());
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
    for (s, setup) in layout.setups.iter().enumerate().filter(|(s, _)| !cx.is_idle(*s)) {
        let def = &*setup.def;
        for line in &def.vehicle_state {
            confirm(Some(setup.procedure), Some(s), line, line.clone().into());
        }
        for line in &def.readings {
            confirm(Some(setup.procedure), Some(s), line, format!("write down: {line}").into());
        }
        for zone in setup.zones.iter().filter(|z| z.free_of.contains(&FreeOf::People)) {
            let note = format!("nobody stands in {} while the sensor works", zone.name);
            confirm(Some(setup.procedure), Some(s), &zone.name, note.into());
        }
    }
    drives(cx, &mut |s, after, note| confirm(Some(layout.setups[s].procedure), Some(s), after, note.into()));
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

/// Where the vehicle is driven between one setup and the next of the same procedure, and which targets stay.
fn drives(cx: &Cx, each: &mut dyn FnMut(usize, &str, String)) {
    let layout = cx.layout;
    let mut before: Option<usize> = None;
    for (s, setup) in layout.setups.iter().enumerate().filter(|(s, _)| !cx.is_idle(*s)) {
        let last = before.replace(s).filter(|b| layout.setups[*b].procedure == setup.procedure);
        let stays: Vec<&str> = setup
            .stations
            .iter()
            .filter(|x| matches!(x.def.fixed_to, Some(FixedTo::Earlier(_))))
            .map(|x| &*x.name)
            .collect();
        let frame_of = |s: usize| layout.setups[s].moved.as_ref().map_or(layout.frame(), |m| m.frame);
        let way = drive_words(&last.map_or(layout.frame(), frame_of), &frame_of(s));
        let after = last.map_or("before the first", |b| &layout.setups[b].name);
        match (stays.is_empty(), way) {
            (true, None) => {}
            (true, Some(way)) => each(s, after, format!("after {after}, for {}: {way}", setup.name)),
            (false, None) => each(s, after, format!("after {after}, for {}: leave {} standing; the vehicle stays", setup.name, stays.join(", "))),
            (false, Some(way)) => each(s, after, format!("after {after}, for {}: leave {} standing and {way}", setup.name, stays.join(", "))),
        }
    }
}

/// "drive 300 mm back"; nothing where the vehicle stays.
fn drive_words(from: &Frame, to: &Frame) -> Option<String> {
    let shift = from.to_local(to.origin);
    let mut words: Vec<String> = Vec::new();
    if shift.x.abs() >= 0.5 {
        words.push(format!("drive {:.0} mm {}", shift.x.abs(), if shift.x < 0.0 { "back" } else { "forward" }));
    }
    if shift.y.abs() >= 0.5 {
        words.push(format!("bring it {:.0} mm to its {}", shift.y.abs(), if shift.y < 0.0 { "right" } else { "left" }));
    }
    let turn = from.x.perp(&to.x).atan2(from.x.dot(&to.x)).to_degrees();
    if turn.abs() >= 0.05 {
        words.push(format!("turn it {:.1} degrees {}", turn.abs(), if turn < 0.0 { "clockwise" } else { "anticlockwise" }));
    }
    (!words.is_empty()).then(|| words.join(", "))
}
