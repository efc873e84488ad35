//! The vehicle can be driven to where it is to stand.

use std::sync::Arc;

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::driving::{Answer, NoPath, Path};

pub const RULE: Rule = Rule {
    id: RuleId::DriveIn,
    page: Page {
        title: "Driving in",
        checks: "A way leads from outside the doorway to where the vehicle is to stand, no tighter than it can turn, with a straight run before the stop; body and mirrors touch nothing on it. Judged where the job says `drive_in: true`.",
        matters: "A vehicle that cannot come straight to its place is shunted until it stands askew, its front wheels turned; a post or a door jamb then takes the mirror.",
        measured: "Straights and arcs, forward and backward, on the turning circle of the vehicle file; the least gap of body and mirrors (of the tyres, to what is too low for the body) to walls, jambs, posts and fixtures over the whole way, within half a millimetre. The doorway entered by counts as open. Outside it, the apron and a strip as wide as the doorway are taken to be free, nothing else; walls are taken to be thin. Targets are set up later, and keep-clear areas may be driven over. A better driver may find more room than is told.",
        remedy: "Clear the thing named, let the vehicle stand nearer to the doorway's middle line, turn it round, or bring it in by another doorway.",
        source: "`turning_circle` of the vehicle; `straight_run` of the job, 500 mm unless it says otherwise: the shop's own figure. No standard asks for room to spare, so none is needed here.",
    },
    run,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let vehicle = |outcome| Finding {
        items: vec![cx.vehicle.clone()],
        ..Finding::new(RuleId::DriveIn, outcome)
    };
    if !layout.bundle.job.drive_in {
        out.push(Finding {
            note: Some("the job does not ask for the way in (`drive_in: true`)".into()),
            ..vehicle(Outcome::NotApplicable)
        });
        return;
    }
    let Some(driven) = cx.driven.filter(|d| d.stance == layout.stance) else {
        out.push(Finding {
            note: Some("the way in is not looked at yet".into()),
            ..vehicle(Outcome::Unknown)
        });
        return;
    };
    match &driven.answer {
        Answer::NotApplicable(why) => out.push(Finding {
            note: Some((*why).into()),
            ..vehicle(Outcome::NotApplicable)
        }),
        Answer::Unknown(missing) => out.push(Finding {
            missing: missing.0.clone(),
            ..vehicle(Outcome::Unknown)
        }),
        Answer::Path(path) => found(cx, path, out),
        Answer::NoPath(none) => out.push(not_found(cx, none, driven.door.as_ref())),
    }
}

fn found(cx: &Cx, path: &Path, out: &mut Vec<Finding>) {
    for name in &path.move_first {
        out.push(Finding {
            items: vec![cx.vehicle.clone(), name.clone()],
            ..Finding::new(RuleId::DriveIn, Outcome::Movable)
        });
    }
    let t = &path.tightest;
    let mut finding = cx.measured(RuleId::DriveIn, t.margin, 0.0);
    finding.items = vec![t.moving.into(), t.still.clone()];
    finding.witness = Some(t.at);
    out.push(finding);
}

fn not_found(cx: &Cx, none: &NoPath, door: Option<&Arc<str>>) -> Finding {
    let mut finding = Finding::new(RuleId::DriveIn, Outcome::Fail);
    match &none.tightest {
        Some(t) => {
            finding.items = vec![t.moving.into(), t.still.clone()];
            finding.have = Some(t.margin);
            finding.need = Some(0.0);
            finding.margin = Some(t.margin);
            finding.witness = Some(t.at);
        }
        None => finding.items = std::iter::once(cx.vehicle.clone()).chain(door.cloned()).collect(),
    }
    finding.note = Some(none.why.clone().into());
    finding
}
