//! A finding as a person reads it: a title that speaks, the two figures, and the move that helps.

use super::figures::Show;
use super::floor_words;
use super::titles::{
    apart, check_length, doorway, drive_in, equipment, fixed_place, headroom, is_halo, measured, note_or,
    pair_name, unknown, zone,
};
use crate::checks::{Finding, Judgement, Outcome, RuleId, Unit, Verdict};
use crate::geometry::{NOISE_MM, V2};
use crate::layout::{Layout, Thing};
use crate::model::Surface;
use crate::model::further::FixedTo;

/// Subject, verb, object, amount.
pub fn title(finding: &Finding, layout: &Layout, show: Show) -> String {
    let text = match finding.rule {
        RuleId::Readiness => note_or(finding, "nothing to confirm"),
        _ if finding.items.is_empty() => format!("{}: nothing to judge", finding.rule.rule().page.title),
        _ if finding.outcome == Outcome::NotApplicable => {
            format!("{}: {}", pair_name(finding), note_or(finding, "does not apply"))
        }
        _ if finding.outcome == Outcome::Unknown => unknown(finding, layout),
        RuleId::Measured => measured(finding),
        RuleId::Equipment => equipment(finding, show),
        RuleId::CheckLength => check_length(finding, show),
        RuleId::FixedPlace => fixed_place(finding, show),
        RuleId::Headroom => headroom(finding, show),
        RuleId::Doorway => doorway(finding, show),
        RuleId::DriveIn => drive_in(finding, show),
        RuleId::ClearZone => zone(finding, layout, show),
        RuleId::SightLine => floor_words::sight_line(finding, show),
        RuleId::InView => floor_words::in_view(finding),
        RuleId::Level => floor_words::level(finding, show),
        RuleId::FloorLine => floor_words::floor_line(finding, show),
        RuleId::OnLift => floor_words::on_lift(finding, show),
        _ => apart(finding, show),
    };
    capital(&text)
}

/// "needs 100 mm, has 12 mm"; nothing where no length is judged.
pub fn figures(finding: &Finding, show: Show) -> Option<String> {
    let (have, need) = (finding.have?, finding.need?);
    Some(match finding.unit {
        Unit::Mm if finding.rule == RuleId::Measured => {
            let (have, need) = show.two(have, need);
            format!("measured {have}, nearer end of the band {need}")
        }
        // what may not be exceeded; of the tyres on their runways nothing but touching is asked
        Unit::Mm if finding.rule == RuleId::Level || (finding.rule == RuleId::OnLift && need > 0.0) => {
            let tenths = (show.tenth(have), show.tenth(need));
            let (have, need) = if tenths.0 == tenths.1 { show.two(have, need) } else { tenths };
            format!("allows {need}, has {have}")
        }
        // the title says all where nothing to spare is asked, or a size is told
        Unit::Mm if need == 0.0 || matches!(finding.rule, RuleId::Equipment | RuleId::CheckLength) => {
            return None;
        }
        Unit::Mm => {
            let (have, need) = show.two(have, need);
            format!("needs {need}, has {have}")
        }
        Unit::Count => format!("needs {need}, has {have}"),
        Unit::Deg => format!("has {have:.2}°, limit {need:.2}°"),
        Unit::Other(word) => format!("measured {have} {word}, nearer end of the band {need} {word}"),
    })
}

/// The one move that helps this finding; other rules may then bind.
pub fn help(finding: &Finding, layout: &Layout, show: Show) -> Option<String> {
    match finding.outcome {
        Outcome::Unknown if finding.rule == RuleId::Readiness => Some(match finding.procedure {
            None => "Choose a procedure for this vehicle".into(),
            Some(_) => {
                "Choose another variant, way or procedure, or look up the sensors it depends on".into()
            }
        }),
        Outcome::Unknown if finding.rule == RuleId::Equipment => {
            Some("Say in the equipment file how many are `owned`".into())
        }
        Outcome::Unknown if !finding.missing.is_empty() => {
            Some(format!("Find out: {}", finding.missing.join(", ")))
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
        Outcome::Fail if below_floor(finding) => {
            Some("Look up the height of this target again, and which edge of its face it is of".into())
        }
        Outcome::Fail if is_halo(finding, layout) => Some(halo_help(finding, layout)),
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
    // what is left is never made more by rounding
    let spare = judgement.margin.map(|m| show.one((m + NOISE_MM).floor().max(0.0)));
    match judgement.verdict {
        Verdict::Fits => match spare {
            Some(spare) => format!("Fits: {spare} to spare"),
            None => "Fits".into(),
        },
        Verdict::FitsIf => {
            let n = judgement.conditions.len();
            format!("Fits if {n} {}", if n == 1 { "condition is met" } else { "conditions are met" })
        }
        Verdict::DoesNotFit => match judgement.margin {
            Some(margin) if margin < 0.0 => format!("Does not fit: {} short", show.up(-margin)),
            _ => "Does not fit".into(),
        },
        Verdict::NotKnown => match missing_words(judgement) {
            Some(words) => format!("Not known: {words} missing"),
            None => "Not known".into(),
        },
    }
}

/// "a procedure is", "2 figures are", "a procedure and 1 figure are"; nothing where no name is missing.
fn missing_words(judgement: &Judgement) -> Option<String> {
    let things: Vec<&str> = judgement.nothing_placed().flat_map(|f| &f.missing).map(|name| &**name).collect();
    let figures = judgement.missing.iter().filter(|m| !things.contains(&&***m)).count();
    let mut words: Vec<String> = things.iter().map(|t| t.to_string()).collect();
    match figures {
        0 => {}
        1 => words.push("1 figure".into()),
        n => words.push(format!("{n} figures")),
    }
    let one = things.len() + figures == 1;
    (!words.is_empty()).then(|| format!("{} {}", words.join(" and "), if one { "is" } else { "are" }))
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

/// The first letter as a capital.
pub fn capital(text: &str) -> String {
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

/// Whether a target reaches below the floor: no drive helps that.
fn below_floor(finding: &Finding) -> bool {
    finding.rule == RuleId::TargetClear && finding.witness.is_none()
}

/// What helps against something too near a face: it is put out of sight rather than driven away from.
fn halo_help(finding: &Finding, layout: &Layout) -> String {
    let name = finding.items.get(1).map_or("it", |n| n);
    let thing = layout.stage.things.iter().find(|t| *t.name == *name);
    let has = |s: Surface| thing.is_some_and(|t| t.surface.contains(&s));
    match &thing.and_then(|t| t.clear_by.clone()) {
        Some(words) => format!("{}: {words}", capital(name)),
        None if has(Surface::Light) && has(Surface::Glass) => format!("Close a blind over {name}"),
        None if has(Surface::Light) => format!("Switch {name} off"),
        None if has(Surface::Pattern) || has(Surface::Shine) => format!("Cover {name}"),
        None => format!("Clear {name}, or drive the vehicle away from it"),
    }
}
