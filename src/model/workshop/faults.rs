//! What a workshop's file says that cannot be used, and what it probably did not mean to say.

use super::file::Workshop;
use crate::model::faults::{Defect, Defects};
use crate::model::procedure::SYSTEMS;
use crate::model::spot::Name;
use crate::model::words;

/// Folders that are not relative, patterns that nothing can agree with, names given twice, figures below zero.
pub fn faults(shop: &Workshop) -> Vec<Defect> {
    let mut out = Defects::default();
    if shop.name.as_str().trim().is_empty() {
        out.at(shop.name.spot, "a workshop needs a name", None);
    }
    for (field, folder) in shop.folders.all() {
        path(folder, &format!("the folder of {field}"), &mut out);
    }
    tape(shop, &mut out);
    out.unique("person", shop.people.iter());
    for one in shop.identify.iter() {
        pattern(&one.pattern, &mut out);
        path(&one.vehicle, "the vehicle's file", &mut out);
    }
    for (name, touched) in shop.touches.iter() {
        if name.as_str().trim().is_empty() {
            out.at(name.spot, "what a repair touches needs a name", None);
        }
        for (i, system) in touched.systems.iter().enumerate() {
            if touched.systems[..i].contains(system) {
                out.at(system.0.spot, format!("`{}` is listed twice", system.0), Some("list it once".into()));
            }
        }
    }
    for (vehicle, number) in shop.coming_in.iter() {
        path(vehicle, "the vehicle's file", &mut out);
        if *number < 0.0 {
            out.at(vehicle.spot, format!("fewer than no vehicles a month come in of {vehicle:?}"), None);
        }
    }
    out.unique("check of the gear", shop.gear.iter().map(|g| &g.name));
    for check in shop.gear.iter().filter(|g| g.every_days == 0) {
        out.field(
            check.name.spot,
            "every_days",
            format!("{:?} falls due every 1 day at the most", check.name),
        );
    }
    out.unique("least workplace", shop.legal.iter().map(|l| &l.name));
    out.0
}

/// Systems by another name than the agreed ones.
pub fn doubts(shop: &Workshop) -> Vec<Defect> {
    let mut out = Defects::default();
    let touched = shop.touches.iter().flat_map(|(_, t)| t.systems.iter());
    let money = shop.money.iter();
    let paid = money.flat_map(|m| m.in_house.0.iter().map(|e| &e.0).chain(m.sent_out.0.iter().map(|e| &e.0)));
    for system in touched.chain(paid).map(|w| &w.0) {
        if !SYSTEMS.contains(&system.as_str()) {
            let text = format!("{system:?} is not among the agreed names of a system");
            out.at(system.spot, text, words::suggest(system.as_str(), "system", SYSTEMS.iter().copied()));
        }
    }
    out.0
}

/// A path of a file or folder of the workshop: relative to its folder, with forward slashes.
fn path(name: &Name, what: &str, out: &mut Defects) {
    let text = name.as_str();
    let drive = text.chars().nth(1) == Some(':');
    if text.trim().is_empty() {
        out.at(name.spot, format!("{what} needs a name"), None);
    } else if text.contains('\\') {
        out.at(name.spot, format!("{what} is {name:?}"), Some("write / between folders".into()));
    } else if text.starts_with('/') || drive {
        let text = format!("{what} is {name:?}, which is not relative to the workshop's folder");
        out.at(name.spot, text, Some("a folder beside it begins with ../".into()));
    }
}

/// Letters, digits, `?` for one of them, and one `*` at the end for the rest.
fn pattern(name: &Name, out: &mut Defects) {
    let text = name.as_str();
    let body = text.strip_suffix('*').unwrap_or(text);
    if text.trim().is_empty() {
        out.at(name.spot, "a kind of identification number needs a pattern", None);
    } else if let Some(bad) = body.chars().find(|c| !c.is_ascii_alphanumeric() && *c != '?') {
        let text = format!("the pattern {name:?} holds {bad:?}");
        let hint = "letters and digits, ? for any one of them, * at the end for the rest";
        out.at(name.spot, text, Some(hint.into()));
    }
}

fn tape(shop: &Workshop, out: &mut Defects) {
    // no number at all was told of where it stands
    let wrong = |mm: f64| !mm.is_nan() && !(0.0..=1000.0).contains(&mm);
    for (field, mm) in [("error", shop.tape.error), ("per_metre", shop.tape.per_metre)] {
        if wrong(mm) {
            out.field(shop.name.spot, "tape", format!("the tape's {field} is from 0 to 1000 mm"));
        }
    }
    if shop.tape.error == 0.0 && shop.tape.per_metre == 0.0 {
        out.field(shop.name.spot, "tape", "the tape's error is 0 altogether, which no tape has");
    }
}
