//! The vehicle passes the doorway it comes in by.

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;

pub const RULE: Rule = Rule {
    id: RuleId::Doorway,
    page: Page {
        title: "The way in",
        checks: "The vehicle, over its mirrors and at its height, passes the doorway it comes in by.",
        matters: "A bay that fits once the vehicle is inside is no use to a van that does not pass the door.",
        measured: "The doorway's width less the width over the mirrors, and its height less the vehicle's; the smaller of the two is told. Straight in; the path is not judged here.",
        remedy: "Bring the vehicle in by another doorway, or book another bay.",
        source: "Geometry; nothing to spare is asked.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let bundle = &cx.layout.bundle;
    let doorways = &bundle.bay.doorways;
    let door = match &bundle.job.enter_by {
        Some(name) => doorways.iter().find(|d| d.name == *name),
        None => doorways.first(),
    };
    let Some(door) = door else {
        out.push(Finding {
            items: vec![cx.vehicle.clone()],
            note: Some("the bay lists no doorway".into()),
            ..Finding::new(RuleId::Doorway, Outcome::NotApplicable)
        });
        return;
    };
    let vehicle = &*bundle.vehicle;
    let over_mirrors = vehicle.mirrors.map_or(vehicle.width, |m| m.width.max(vehicle.width));
    let across = door.width - over_mirrors;
    let up = door.height - vehicle.height;
    let mut finding = cx.measured(RuleId::Doorway, across.min(up), 0.0);
    finding.items = vec![cx.vehicle.clone(), door.name.text.clone()];
    finding.note = Some(if up < across { "in height".into() } else { "in width".into() });
    out.push(finding);
}
