//! A finding as a person reads it: a title that speaks, the two figures, and the move that helps.

use super::figures::Show;
use super::floor_words;
use crate::checks::{Finding, Judgement, Outcome, RuleId, Unit, Verdict};
use crate::geometry::{NOISE_MM, V2};
use crate::layout::{Area, Layout, Thing};
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
        // the title says all where nothing to spare is asked, or a size is told
        Unit::Mm if finding.rule == RuleId::Level || finding.rule == RuleId::OnLift => {
            let tenths = (show.tenth(have), show.tenth(need));
            let (have, need) = if tenths.0 == tenths.1 { show.two(have, need) } else { tenths };
            format!("allows {need}, has {have}")
        }
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
    let spare = judgement.margin.map(|m| show.one(m.abs()));
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

fn note_or(finding: &Finding, other: &str) -> String {
    finding.note.as_deref().unwrap_or(other).to_string()
}

fn pair_name(finding: &Finding) -> String {
    finding.items.join(" and ")
}

fn unknown(finding: &Finding, _layout: &Layout) -> String {
    let what = pair_name(finding);
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

fn measured(finding: &Finding) -> String {
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
fn figure(v: f64) -> String {
    let text = format!("{v:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

fn equipment(finding: &Finding, show: Show) -> String {
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

fn check_length(finding: &Finding, show: Show) -> String {
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

fn fixed_place(finding: &Finding, show: Show) -> String {
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

fn headroom(finding: &Finding, show: Show) -> String {
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

fn doorway(finding: &Finding, show: Show) -> String {
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

fn drive_in(finding: &Finding, show: Show) -> String {
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
            format!("the vehicle can be driven in, {} from {} at the nearest", show.one(margin), the(&still))
        }
    }
}

fn zone(finding: &Finding, layout: &Layout, show: Show) -> String {
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

fn apart(finding: &Finding, show: Show) -> String {
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
fn is_halo(finding: &Finding, layout: &Layout) -> bool {
    finding.rule == RuleId::ClearZone
        && finding.setup.and_then(|s| layout.setups.get(s)).is_some_and(|setup| {
            setup
                .zones
                .iter()
                .any(|z| Some(&z.name) == finding.items.first() && matches!(z.place, Ok(Area::Around(_))))
        })
}

fn two(finding: &Finding) -> (String, String) {
    let item = |i: usize| finding.items.get(i).map_or_else(String::new, |s| s.to_string());
    (item(0), item(1))
}

/// "the east wall", but names that carry their own article, a number or a capital stand alone.
pub(super) fn the(name: &str) -> String {
    let plain = name.chars().next().is_some_and(char::is_lowercase);
    let numbered = name.chars().last().is_some_and(|c| c.is_ascii_digit());
    if plain && !numbered && !name.starts_with("the ") { format!("the {name}") } else { name.to_string() }
}
