//! A finding as a person reads it: a title that speaks, the two figures, and the move that helps.

use super::figures::{self, Show};
use super::floor_words;
use super::label;
use super::titles::{
    apart, check_length, doorway, drive_in, equipment, fixed_place, headroom, is_halo, measured, note_or,
    pair_name, unknown, zone,
};
use crate::checks::{Finding, Judgement, Outcome, RuleId, Unit, Verdict};
use crate::geometry::{NOISE_MM, V2};
use crate::layout::{Layout, Thing};
use crate::model::further::FixedTo;
use crate::model::{Surface, called_all};
use crate::units::printable;

/// Subject, verb, object, amount.
pub fn title(finding: &Finding, layout: &Layout, show: Show) -> String {
    let text = match finding.rule {
        RuleId::Readiness => note_or(finding, "nothing to confirm"),
        _ if finding.items.is_empty() => format!("{}: nothing to judge", finding.rule.rule().page.title),
        _ if finding.outcome == Outcome::NotApplicable => {
            format!("{}: {}", pair_name(finding), note_or(finding, "does not apply"))
        }
        _ if finding.outcome == Outcome::Unknown => unknown(finding, layout),
        RuleId::Measured => measured(finding, show),
        RuleId::Equipment => equipment(finding, show),
        RuleId::CheckLength => check_length(finding, show),
        RuleId::FixedPlace => fixed_place(finding, show),
        RuleId::Headroom => headroom(finding, show),
        RuleId::Doorway => doorway(finding, show),
        RuleId::DriveIn => drive_in(finding, show),
        RuleId::ClearZone => zone(finding, layout, show),
        RuleId::SightLine => floor_words::sight_line(finding, show),
        RuleId::InView => floor_words::in_view(finding, show),
        RuleId::Level => floor_words::level(finding, show),
        RuleId::FloorLine => floor_words::floor_line(finding, show),
        RuleId::OnLift => floor_words::on_lift(finding, show),
        _ => apart(finding, show),
    };
    capital(&text)
}

/// "needs 100 mm, has 12 mm"; nothing where no length is judged.
pub fn figures(finding: &Finding, show: Show) -> Option<String> {
    label::line(finding, show)
}

/// The one move that helps this finding; other rules may then bind.
pub fn help(finding: &Finding, layout: &Layout, show: Show) -> Option<String> {
    helping(finding, layout, show).map(|help| printable(&help).into_owned())
}

fn helping(finding: &Finding, layout: &Layout, show: Show) -> Option<String> {
    match finding.outcome {
        Outcome::Unknown if !finding.missing.is_empty() => {
            Some(format!("Find out: {}", called_all(&finding.missing)))
        }
        Outcome::Movable => {
            let named =
                |t: &Thing| t.movable && (finding.items.contains(&t.name) || finding.moves.contains(&t.name));
            let thing = layout.stage.things.iter().find(|t| named(t))?;
            Some(match &thing.clear_by {
                Some(words) => format!("{}: {words}", capital(&thing.name)),
                None => format!("Move {} out of the way", thing.name),
            })
        }
        Outcome::Fail if finding.rule == RuleId::FixedPlace => Some(drive(finding, layout, show)),
        Outcome::Fail if is_halo(finding, layout) => Some(halo_help(finding, layout, show)),
        Outcome::Fail if moves_help(finding.rule) => {
            let shift = shift(finding)?;
            Some(format!("Move the vehicle {}", way(shift, show)))
        }
        Outcome::Fail => Some(finding.rule.rule().page.remedy.to_string()),
        _ => None,
    }
}

/// The verdict in words with its number.
pub fn headline(judgement: &Judgement, show: Show) -> String {
    let least = figures::least(judgement, show);
    match judgement.verdict {
        Verdict::Fits => match least {
            Some(least) => format!("Fits: {least}"),
            None => "Fits".into(),
        },
        Verdict::FitsIf => {
            let n = judgement.conditions.len();
            format!("Fits if {n} {}", if n == 1 { "condition is met" } else { "conditions are met" })
        }
        Verdict::DoesNotFit => match least {
            Some(least) if judgement.margin.is_some_and(|m| m < 0.0) => format!("Does not fit: {least}"),
            _ => "Does not fit".into(),
        },
        Verdict::NotKnown => {
            let n = judgement.missing.len();
            match n {
                0 => "Not known".into(),
                1 => "Not known: 1 figure is missing".into(),
                _ => format!("Not known: {n} figures are missing"),
            }
        }
    }
}

/// The drive or turn that brings a target, or a mark, where the bay wants it.
fn drive(finding: &Finding, layout: &Layout, show: Show) -> String {
    let remedy = || finding.rule.rule().page.remedy.to_string();
    if finding.unit == Unit::Deg {
        let turn = finding.have.unwrap_or(0.0);
        let way = if turn < 0.0 { "clockwise" } else { "anticlockwise" };
        return format!("Turn the vehicle {:.2}° {way}, seen from above", turn.abs());
    }
    let (Some((at, wanted)), Some(setup)) =
        (finding.witness, finding.setup.and_then(|s| layout.setups.get(s)))
    else {
        return remedy();
    };
    let frame = layout.frame_of(setup);
    let shift = wanted - at;
    let (forward, left) = (shift.dot(&frame.x), shift.dot(&frame.y()));
    let mut words = Vec::new();
    if forward.abs() >= 0.5 {
        words.push(format!(
            "Drive {} {}",
            show.up(forward.abs()),
            if forward < 0.0 { "back" } else { "forward" }
        ));
    }
    if left.abs() >= 0.5 {
        let side = if left < 0.0 { "right" } else { "left" };
        let start = if words.is_empty() { "Bring the vehicle" } else { "and" };
        words.push(format!("{start} {} to its {side}", show.up(left.abs())));
    }
    if words.is_empty() { remedy() } else { words.join(" ") }
}

/// The shift of the vehicle, bay axes, that just clears this finding by itself.
pub fn shift(finding: &Finding) -> Option<V2> {
    if finding.escape.is_some() {
        return finding.escape;
    }
    let (moving, still) = finding.witness?;
    let margin = finding.margin.filter(|m| *m < 0.0)?;
    let have = finding.have?;
    let away = if have > NOISE_MM { moving - still } else { still - moving };
    let length = away.norm();
    (length > NOISE_MM).then(|| away * (-margin / length))
}

/// A shift in the words of someone standing in the main doorway looking in.
pub fn way(shift: V2, show: Show) -> String {
    let across = (shift.x.abs() >= 0.5).then(|| {
        let side = if shift.x > 0.0 { "right" } else { "left" };
        format!("{} to the {side}", show.up(shift.x.abs()))
    });
    let along = (shift.y.abs() >= 0.5).then(|| {
        let end = if shift.y > 0.0 { "into the bay" } else { "toward the door" };
        format!("{} {end}", show.up(shift.y.abs()))
    });
    match (across, along) {
        (Some(a), Some(b)) => format!("{a} and {b}"),
        (Some(a), None) | (None, Some(a)) => a,
        (None, None) => "by less than a millimetre".into(),
    }
}

/// What fixes where a target is.
pub fn fixed_to(fixed: &FixedTo) -> String {
    match fixed {
        FixedTo::Wall => "hangs on the wall".into(),
        FixedTo::Bay(name) => format!("is where {name} is installed"),
        FixedTo::Earlier(setup) => format!("stays where {setup} put it"),
    }
}

/// On one line, with a capital first; what a file's text holds besides plain text is spelt out.
pub fn capital(text: &str) -> String {
    let text = printable(text);
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => String::new(),
    }
}

fn moves_help(rule: RuleId) -> bool {
    matches!(
        rule,
        RuleId::VehicleClear
            | RuleId::MirrorClear
            | RuleId::TargetClear
            | RuleId::RoomBehind
            | RuleId::ClearZone
            | RuleId::KeepClear
    )
}

/// What helps against something too near a face: it is put out of sight rather than driven away from; a wall stays.
fn halo_help(finding: &Finding, layout: &Layout, show: Show) -> String {
    let name = finding.items.get(1).map_or("it", |n| n);
    let thing = layout.stage.things.iter().find(|t| *t.name == *name);
    let has = |s: Surface| thing.is_some_and(|t| t.surface.contains(&s));
    match &thing.and_then(|t| t.clear_by.clone()) {
        Some(words) => format!("{}: {words}", capital(name)),
        None if has(Surface::Light) && has(Surface::Glass) => format!("Close a blind over {name}"),
        None if has(Surface::Light) => format!("Switch {name} off"),
        None if has(Surface::Pattern) || has(Surface::Shine) => format!("Cover {name}"),
        None => {
            let drive = finding.escape.map(|by| format!("move the vehicle {}", way(by, show)));
            let drive = drive.unwrap_or_else(|| "drive the vehicle away from it".into());
            if thing.is_some() { format!("Clear {name}, or {drive}") } else { capital(&drive) }
        }
    }
}
