//! Sentences of the rules about floor, sight, view and lift.

use super::figures::{Figures, Show};
use super::titles::the;
use crate::checks::rules::{BETWEEN_AXLES, TURNED};
use crate::checks::{Finding, Outcome, RuleId};
use crate::geometry::NOISE_MM;

/// Items as words; absent ones are empty.
fn item(finding: &Finding, i: usize) -> String {
    finding.items.get(i).map_or_else(String::new, |s| s.to_string())
}

pub(super) fn sight_line(finding: &Finding, show: Show) -> String {
    let (from, to, thing) = (item(finding, 0), item(finding, 1), item(finding, 2));
    if finding.margin.is_none() && !thing.is_empty() {
        let then = finding.note.as_deref().map_or(String::new(), |n| format!(", {n}"));
        return format!("the sight from {} to {to} is blocked by {}{then}", the(&from), the(&thing));
    }
    if thing.is_empty() {
        return format!("the sight from {} to {to} is free", the(&from));
    }
    match finding.have.unwrap_or(0.0) {
        have if have <= NOISE_MM => {
            format!("the sight from {} to {to} just touches {}", the(&from), the(&thing))
        }
        _ => {
            let have = Figures::of(finding, show).have();
            format!("the sight from {} to {to} passes {} at {have}", the(&from), the(&thing))
        }
    }
}

pub(super) fn in_view(finding: &Finding, show: Show) -> String {
    let (sensor, seen) = (item(finding, 0), item(finding, 1));
    let figures = Figures::of(finding, show);
    let front = finding.note.as_deref() == Some(TURNED);
    match finding.margin {
        Some(left) if front && left < 0.0 => {
            format!("{seen} shows its back to {}, by {}", the(&sensor), figures.short())
        }
        Some(_) if front && finding.outcome == Outcome::Fail => {
            format!("{seen} stands edge-on to {}", the(&sensor))
        }
        Some(_) if front => {
            format!("{seen} shows its front to {}, {} from edge-on", the(&sensor), figures.left())
        }
        Some(left) if left < 0.0 => {
            format!("{seen} reaches {} out of the view of {}", figures.short(), the(&sensor))
        }
        Some(_) => {
            format!("{seen} lies inside the view of {} with {} to spare", the(&sensor), figures.left())
        }
        None => format!("{seen} in the view of {}", the(&sensor)),
    }
}

pub(super) fn level(finding: &Finding, show: Show) -> String {
    let have = Figures::of(finding, show).have();
    let note = finding.note.as_deref().unwrap_or("off the plane of the wheels");
    format!("the floor at {} lies {have} {note}", item(finding, 0))
}

pub(super) fn floor_line(finding: &Finding, show: Show) -> String {
    let (mark, line) = (item(finding, 0), item(finding, 1));
    let ends = finding.note.as_deref().map_or(String::new(), |n| format!(": {n}"));
    let figures = Figures::of(finding, show);
    match finding.margin {
        Some(margin) if margin < 0.0 => {
            format!("the string line {line} from {mark} is {} short of floor{ends}", figures.short())
        }
        _ => format!("the string line {line} from {mark} finds {} of floor{ends}", figures.have()),
    }
}

pub(super) fn on_lift(finding: &Finding, show: Show) -> String {
    debug_assert_eq!(finding.rule, RuleId::OnLift);
    let (what, lift) = (item(finding, 0), item(finding, 1));
    let figures = Figures::of(finding, show);
    if what == "tyres" {
        return match finding.outcome {
            Outcome::Fail => format!("the tyres reach {} past the runways of {lift}", figures.depth()),
            _ => format!("the tyres stand {} inside the runways of {lift}", figures.have()),
        };
    }
    if finding.note.as_deref() == Some(BETWEEN_AXLES) {
        return match finding.outcome {
            Outcome::Fail => {
                format!("{lift} is {} too far from the middle between the axles", figures.short())
            }
            _ => format!("{lift} stands between the axles with {} to spare", figures.left()),
        };
    }
    format!("the {what} is {} off the middle line of {lift}", figures.have())
}
