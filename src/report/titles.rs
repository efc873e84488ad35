//! The titles of findings, rule by rule: subject, verb, object, amount.

use super::figures::{Figures, Show};
use super::words::capital;
use crate::checks::{Finding, Outcome, RuleId, Unit};
use crate::geometry::NOISE_MM;
use crate::layout::{Area, Layout};
use crate::model::{Surface, called, called_all};

pub(super) fn note_or(finding: &Finding, other: &str) -> String {
    finding.note.as_deref().unwrap_or(other).to_string()
}

pub(super) fn pair_name(finding: &Finding) -> String {
    finding.items.join(" and ")
}

pub(super) fn unknown(finding: &Finding, _layout: &Layout) -> String {
    let what = pair_name(finding);
    if finding.rule == RuleId::Equipment {
        return format!("how many of {what} the shop owns is not known");
    }
    match (&finding.note, finding.missing.as_slice()) {
        (Some(note), []) => format!("{what}: {note}"),
        (_, []) => format!("{what} is not known"),
        (_, [only]) if finding.items.len() == 1 && *only == finding.items[0] => match finding.rule {
            RuleId::Measured => format!("{only} is not measured"),
            _ => format!("{} is not known", called(only)),
        },
        (_, [only]) => format!("{what} cannot be judged: {} is not known", called(only)),
        (_, many) => format!("{what} cannot be judged: {} are not known", called_all(many)),
    }
}

pub(super) fn measured(finding: &Finding, show: Show) -> String {
    let figures = Figures::of(finding, show);
    let (name, have) = (pair_name(finding), figures.have());
    match (finding.outcome, finding.margin, &finding.note) {
        (Outcome::Fail, Some(_), _) => {
            let by = figures.short();
            format!("{name} of {have} is outside the maker's band by {by}: the work may not be done")
        }
        (_, _, Some(note)) => format!("{name} of {have} {note}"),
        (_, Some(_), _) => format!("{name} of {have} is inside the maker's band"),
        _ => format!("{name} is {have}"),
    }
}

pub(super) fn equipment(finding: &Finding, show: Show) -> String {
    let figures = Figures::of(finding, show);
    let (have, need) = (figures.have(), figures.need());
    let name = finding.items.join(", for which stands ");
    if finding.unit == Unit::Mm {
        let word = note_or(finding, "size");
        return match (finding.outcome, finding.have) {
            (Outcome::Fail, None) => format!("{name}: {word}"),
            (Outcome::Fail, _) => format!("{name} has the wrong {word}: {have} against {need}"),
            _ => format!("{name} has the {word} asked for: {have} against {need}"),
        };
    }
    match (finding.outcome, &finding.note) {
        (Outcome::Fail, Some(note)) => format!("{name} is not there: {note}"),
        (Outcome::Fail, None) => {
            format!("the shop owns {have} of the {need} pieces of {name} that stand at once")
        }
        _ => format!("the shop owns {have} of {name}, {need} needed at once"),
    }
}

pub(super) fn check_length(finding: &Finding, show: Show) -> String {
    let marks = finding.items.join("-");
    let figures = Figures::of(finding, show);
    let have = figures.have();
    if finding.note.as_deref() == Some("off the right angle") {
        return match finding.outcome {
            Outcome::Fail => format!("the corner {marks} is {} off a right angle", figures.apart()),
            _ => format!("the corner {marks} is a right angle"),
        };
    }
    if let [a, b, c, d] = finding.items.as_slice()
        && finding.note.as_deref() == Some("equal lengths")
    {
        return match finding.outcome {
            Outcome::Fail => {
                format!("{a}-{b} and {c}-{d} come out {} apart and should be equal", figures.apart())
            }
            _ => format!("{a}-{b} and {c}-{d} are equal at {have}"),
        };
    }
    match finding.outcome {
        Outcome::Fail => format!("check length {marks} comes out as {have}, printed is {}", figures.need()),
        _ => format!("check length {marks} comes out as {have}"),
    }
}

pub(super) fn fixed_place(finding: &Finding, show: Show) -> String {
    let (station, to) = two(finding);
    let have = finding.have.unwrap_or(0.0);
    let figures = Figures::of(finding, show);
    let bad = finding.outcome == Outcome::Fail;
    if finding.items.len() == 1 {
        return format!("{station} has no wall behind it to hang on");
    }
    match finding.items.get(2).map(|a| &**a) {
        Some("along") if bad => {
            let way = if have < 0.0 { "near" } else { "far" };
            format!("{} is {} too {way} for {station}", the(&to), figures.have())
        }
        Some("across") if bad => format!("{station} comes to lie {} beside {}", figures.have(), the(&to)),
        Some("turn") if bad => format!("{station} stands {} out of square to {}", figures.have(), the(&to)),
        Some("line") if bad => format!("mark {station} lies {} beside {}", figures.have(), the(&to)),
        Some("turn") => format!("{station} is square to {} within {}", the(&to), figures.have()),
        Some(axis) => format!("{station} is where {} wants it, {axis}", the(&to)),
        None if have < 0.0 => format!("{to} takes {} of the bare wall {station} hangs on", figures.depth()),
        None => format!("{station} hangs on bare wall, {} from {}", figures.have(), the(&to)),
    }
}

pub(super) fn headroom(finding: &Finding, show: Show) -> String {
    let (subject, above) = two(finding);
    let figures = Figures::of(finding, show);
    match finding.margin {
        Some(margin) if margin < 0.0 && finding.have.is_some_and(|h| h < 0.0) => {
            format!("{subject} reaches {} above {}", figures.depth(), the(&above))
        }
        Some(margin) if margin < 0.0 => {
            format!("{subject} is {} too high under {}", figures.short(), the(&above))
        }
        _ => format!("{subject} ends {} below {}", figures.have(), the(&above)),
    }
}

pub(super) fn doorway(finding: &Finding, show: Show) -> String {
    let (subject, door) = two(finding);
    let figures = Figures::of(finding, show);
    let high = finding.note.as_deref() == Some("in height");
    if finding.margin.is_some_and(|m| m < 0.0) {
        let too = if high { "high" } else { "wide" };
        format!("the {subject} is {} too {too} for {}", figures.short(), the(&door))
    } else {
        format!("the {subject} passes {} with {} to spare", the(&door), figures.left())
    }
}

pub(super) fn drive_in(finding: &Finding, show: Show) -> String {
    let (_, still) = two(finding);
    let figures = Figures::of(finding, show);
    match finding.outcome {
        Outcome::Movable => format!("{still} stands in the way in"),
        Outcome::Fail | Outcome::Accepted if finding.margin.is_some() => {
            let short = figures.short();
            format!("the vehicle cannot be driven in: {} is {short} in the way", the(&still))
        }
        Outcome::Fail | Outcome::Accepted => {
            format!("the vehicle cannot be driven in: {}", note_or(finding, "no way was found"))
        }
        _ => {
            let left = figures.left();
            format!("the vehicle can be driven in, {left} from {} at the nearest", the(&still))
        }
    }
}

pub(super) fn zone(finding: &Finding, layout: &Layout, show: Show) -> String {
    let (zone, thing) = two(finding);
    let inside = finding.have.is_some_and(|h| h < 0.0);
    let figures = Figures::of(finding, show);
    let is_wall = layout.stage.walls.iter().any(|w| *w.name == *thing);
    if is_halo(finding, layout) {
        return match inside {
            true => format!("{thing} is {} too near for {zone}", figures.depth()),
            false => format!("{thing} is {} farther than {zone} asks", figures.have()),
        };
    }
    match (inside, is_wall) {
        (true, true) => format!("{zone} reaches {} past {}", figures.depth(), the(&thing)),
        (true, false) => format!("{thing} stands {} inside {zone}", figures.depth()),
        (false, true) => format!("{zone} ends {} before {}", figures.have(), the(&thing)),
        (false, false) => format!("{thing} stands {} outside {zone}", figures.have()),
    }
}

pub(super) fn apart(finding: &Finding, show: Show) -> String {
    let (moving, still) = two(finding);
    let subject = match (finding.rule, moving.as_str()) {
        (RuleId::RoomBehind, name) => format!("room behind {name}"),
        (_, "vehicle" | "mirrors" | "tyres") => format!("the {moving}"),
        _ => moving.clone(),
    };
    let plural = matches!(moving.as_str(), "mirrors" | "tyres") && finding.rule != RuleId::RoomBehind;
    let (is, stands) = if plural { ("are", "stand") } else { ("is", "stands") };
    let have = finding.have.unwrap_or(0.0);
    let need = finding.need.unwrap_or(0.0);
    let figures = Figures::of(finding, show);
    if finding.margin.unwrap_or(0.0) >= 0.0 {
        if have <= NOISE_MM {
            return format!("{subject} just {} {}", if plural { "touch" } else { "touches" }, the(&still));
        }
        return format!("{subject} {is} {} from {}", figures.have(), the(&still));
    }
    if have < -NOISE_MM {
        let verb = match (need > 0.0, plural) {
            (true, _) => stands,
            (false, true) => "reach",
            (false, false) => "reaches",
        };
        return format!("{subject} {verb} {} into {}", figures.depth(), the(&still));
    }
    format!("{subject} {is} {} too close to {}", figures.short(), the(&still))
}

/// Whether the finding is about a box round a face.
pub(super) fn is_halo(finding: &Finding, layout: &Layout) -> bool {
    finding.rule == RuleId::ClearZone
        && finding.setup.and_then(|s| layout.setups.get(s)).is_some_and(|setup| {
            setup
                .zones
                .iter()
                .any(|z| Some(&z.name) == finding.items.first() && matches!(z.place, Ok(Area::Around(_))))
        })
}

/// What helps against something too near a face where it is put out of sight rather than driven away from.
pub(super) fn halo_remedy(finding: &Finding, layout: &Layout) -> Option<String> {
    let name = finding.items.get(1).map_or("it", |n| n);
    let thing = layout.stage.things.iter().find(|t| *t.name == *name);
    let has = |s: Surface| thing.is_some_and(|t| t.surface.contains(&s));
    Some(match &thing.and_then(|t| t.clear_by.clone()) {
        Some(words) => format!("{}: {words}", capital(name)),
        None if has(Surface::Light) && has(Surface::Glass) => format!("Close a blind over {name}"),
        None if has(Surface::Light) => format!("Switch {name} off"),
        None if has(Surface::Pattern) || has(Surface::Shine) => format!("Cover {name}"),
        None => return None,
    })
}

pub(super) fn two(finding: &Finding) -> (String, String) {
    let item = |i: usize| finding.items.get(i).map_or_else(String::new, |s| s.to_string());
    (item(0), item(1))
}

/// "the east wall", but names that carry their own article, a number or a capital stand alone.
pub(super) fn the(name: &str) -> String {
    let plain = name.chars().next().is_some_and(char::is_lowercase);
    let numbered = name.chars().last().is_some_and(|c| c.is_ascii_digit());
    if plain && !numbered && !name.starts_with("the ") { format!("the {name}") } else { name.to_string() }
}
