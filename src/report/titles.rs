//! The titles of findings, rule by rule: subject, verb, object, amount.

use super::figures::Show;
use crate::checks::{Finding, Outcome, RuleId, Unit};
use crate::geometry::NOISE_MM;
use crate::layout::{Area, Layout};

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
            _ => format!("{only} is not known"),
        },
        (_, [only]) => format!("{what} cannot be judged: {only} is not known"),
        (_, many) => format!("{what} cannot be judged: {} are not known", many.join(", ")),
    }
}

pub(super) fn measured(finding: &Finding) -> String {
    let name = pair_name(finding);
    let have = figure(finding.have.unwrap_or(0.0));
    let unit = match finding.unit {
        Unit::Deg => "°",
        other => other.word(),
    };
    match (finding.outcome, finding.margin, &finding.note) {
        (Outcome::Fail, Some(margin), _) => {
            let by = figure(-margin);
            format!(
                "{name} of {have} {unit} is outside the maker's band by {by} {unit}: the work may not be done"
            )
        }
        (_, _, Some(note)) => format!("{name} of {have} {unit} {note}"),
        (_, Some(_), _) => format!("{name} of {have} {unit} is inside the maker's band"),
        _ => format!("{name} is {have} {unit}"),
    }
}

/// A reading with as many digits as it needs, four at most.
pub(super) fn figure(v: f64) -> String {
    let text = format!("{v:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

pub(super) fn equipment(finding: &Finding, show: Show) -> String {
    let (have, need) = (finding.have.unwrap_or(0.0), finding.need.unwrap_or(0.0));
    let name = finding.items.join(", for which stands ");
    if finding.unit == Unit::Mm {
        let word = note_or(finding, "size");
        let (have_text, need_text) = show.two(have, need);
        return match (finding.outcome, finding.have) {
            (Outcome::Fail, None) => format!("{name}: {word}"),
            (Outcome::Fail, _) => format!("{name} has the wrong {word}: {have_text} against {need_text}"),
            _ => format!("{name} has the {word} asked for: {have_text} against {need_text}"),
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
    let (have, need) = (finding.have.unwrap_or(0.0), finding.need.unwrap_or(0.0));
    if finding.note.as_deref() == Some("off the right angle") {
        return match finding.outcome {
            Outcome::Fail => format!("the corner {marks} is {} off a right angle", show.tenth(have)),
            _ => format!("the corner {marks} is a right angle"),
        };
    }
    if let [a, b, c, d] = finding.items.as_slice()
        && finding.note.as_deref() == Some("equal lengths")
    {
        return match finding.outcome {
            Outcome::Fail => format!(
                "{a}-{b} and {c}-{d} come out {} apart and should be equal",
                show.tenth((have - need).abs())
            ),
            _ => format!("{a}-{b} and {c}-{d} are equal at {}", show.tenth(have)),
        };
    }
    match finding.outcome {
        Outcome::Fail => {
            format!("check length {marks} comes out as {}, printed is {}", show.tenth(have), show.tenth(need))
        }
        _ => format!("check length {marks} comes out as {}", show.tenth(have)),
    }
}

pub(super) fn fixed_place(finding: &Finding, show: Show) -> String {
    let (station, to) = two(finding);
    let have = finding.have.unwrap_or(0.0);
    let bad = finding.outcome == Outcome::Fail;
    if finding.items.len() == 1 {
        return format!("{station} has no wall behind it to hang on");
    }
    match finding.items.get(2).map(|a| &**a) {
        Some("along") if bad => {
            format!(
                "{} is {} too {} for {station}",
                the(&to),
                show.up(have.abs()),
                if have < 0.0 { "near" } else { "far" }
            )
        }
        Some("across") if bad => {
            format!("{station} comes to lie {} beside {}", show.up(have.abs()), the(&to))
        }
        Some("turn") if bad => format!("{station} stands {:.2}° out of square to {}", have.abs(), the(&to)),
        Some("line") if bad => format!("mark {station} lies {} beside {}", show.up(have.abs()), the(&to)),
        Some("turn") => format!("{station} is square to {} within {:.2}°", the(&to), have.abs()),
        Some(axis) => format!("{station} is where {} wants it, {axis}", the(&to)),
        None if have < 0.0 => format!("{to} takes {} of the bare wall {station} hangs on", show.up(-have)),
        None => format!("{station} hangs on bare wall, {} from {}", show.one(have), the(&to)),
    }
}

pub(super) fn headroom(finding: &Finding, show: Show) -> String {
    let (subject, above) = two(finding);
    match finding.margin {
        Some(margin) if margin < 0.0 && finding.have.is_some_and(|h| h < 0.0) => {
            format!("{subject} reaches {} above {}", show.up(-finding.have.unwrap_or(margin)), the(&above))
        }
        Some(margin) if margin < 0.0 => {
            format!("{subject} is {} too high under {}", show.up(-margin), the(&above))
        }
        _ => format!("{subject} ends {} below {}", show.one(finding.have.unwrap_or(0.0)), the(&above)),
    }
}

pub(super) fn doorway(finding: &Finding, show: Show) -> String {
    let (subject, door) = two(finding);
    let margin = finding.margin.unwrap_or(0.0);
    let high = finding.note.as_deref() == Some("in height");
    if margin < 0.0 {
        format!(
            "the {subject} is {} too {} for {}",
            show.up(-margin),
            if high { "high" } else { "wide" },
            the(&door)
        )
    } else {
        format!("the {subject} passes {} with {} to spare", the(&door), show.one(margin))
    }
}

pub(super) fn drive_in(finding: &Finding, show: Show) -> String {
    let (_, still) = two(finding);
    let margin = finding.margin.unwrap_or(0.0);
    match finding.outcome {
        Outcome::Movable => format!("{still} stands in the way in"),
        Outcome::Fail | Outcome::Accepted if finding.margin.is_some() => {
            format!("the vehicle cannot be driven in: {} is {} in the way", the(&still), show.up(-margin))
        }
        Outcome::Fail | Outcome::Accepted => {
            format!("the vehicle cannot be driven in: {}", note_or(finding, "no way was found"))
        }
        _ => {
            let left = show.one(margin.floor());
            format!("the vehicle can be driven in, {left} from {} at the nearest", the(&still))
        }
    }
}

pub(super) fn zone(finding: &Finding, layout: &Layout, show: Show) -> String {
    let (zone, thing) = two(finding);
    let have = finding.have.unwrap_or(0.0);
    let is_wall = layout.stage.walls.iter().any(|w| *w.name == *thing);
    if is_halo(finding, layout) {
        return if have < 0.0 {
            format!("{thing} is {} too near for {zone}", show.up(-have))
        } else {
            format!("{thing} is {} farther than {zone} asks", show.one(have))
        };
    }
    match (have < 0.0, is_wall) {
        (true, true) => format!("{zone} reaches {} past {}", show.up(-have), the(&thing)),
        (true, false) => format!("{thing} stands {} inside {zone}", show.up(-have)),
        (false, true) => format!("{zone} ends {} before {}", show.one(have), the(&thing)),
        (false, false) => format!("{thing} stands {} outside {zone}", show.one(have)),
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
    let margin = finding.margin.unwrap_or(0.0);
    let need = finding.need.unwrap_or(0.0);
    if margin >= 0.0 {
        if have <= NOISE_MM {
            return format!("{subject} just {} {}", if plural { "touch" } else { "touches" }, the(&still));
        }
        return format!("{subject} {is} {} from {}", show.one(have), the(&still));
    }
    if have < 0.0 {
        return match need > 0.0 {
            true => format!("{subject} {stands} {} into {}", show.up(-have), the(&still)),
            false => format!(
                "{subject} {} {} into {}",
                if plural { "reach" } else { "reaches" },
                show.up(-have),
                the(&still)
            ),
        };
    }
    format!("{subject} {is} {} too close to {}", show.up(-margin), the(&still))
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
