//! A finding as a person reads it: a title that speaks, the two figures, and the move that helps.

use super::figures::{self, Show};
use super::label;
pub use crate::checks::wording::capital;
use crate::checks::wording::{note_or, pair_name};
use crate::checks::{Finding, Judgement, Outcome, RuleId, Title, Verdict};
use crate::geometry::V2;
use crate::layout::Layout;
use crate::model::further::FixedTo;
use crate::model::{called, called_all};

/// Subject, verb, object, amount.
pub fn title(finding: &Finding, layout: &Layout, show: Show) -> String {
    capital(&sentence(finding, layout, show))
}

/// The title as part of a longer sentence.
pub fn sentence(finding: &Finding, layout: &Layout, show: Show) -> String {
    let rule = finding.rule.rule();
    match &rule.wording.title {
        Title::Note(or) => note_or(finding, or),
        _ if finding.items.is_empty() => format!("{}: nothing to judge", rule.page.title),
        _ if finding.outcome == Outcome::NotApplicable => {
            format!("{}: {}", pair_name(finding), note_or(finding, "does not apply"))
        }
        _ if finding.outcome == Outcome::Unknown => {
            (rule.wording.unknown)(finding).unwrap_or_else(|| unknown(finding))
        }
        Title::Says(says) => says(finding, layout, show),
    }
}

fn unknown(finding: &Finding) -> String {
    let what = pair_name(finding);
    match (&finding.note, finding.missing.as_slice()) {
        (Some(note), []) => format!("{what}: {note}"),
        (_, []) => format!("{what} is not known"),
        (_, [only]) if finding.items.len() == 1 && only == finding.items[0].name() => {
            format!("{} is not known", called(only))
        }
        (_, [only]) => format!("{what} cannot be judged: {} is not known", called(only)),
        (_, many) => format!("{what} cannot be judged: {} are not known", called_all(many)),
    }
}

/// "needs 100 mm, has 12 mm"; nothing where no length is judged.
pub fn figures(finding: &Finding, show: Show) -> Option<String> {
    label::line(finding, show)
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
        Verdict::DoesNotFit => does_not_fit(judgement, show),
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

/// By how much there is no room. Lengths of the procedure that disagree are no lack of room, and told by themselves.
fn does_not_fit(judgement: &Judgement, show: Show) -> String {
    let fails = || judgement.findings.iter().filter(|f| f.outcome == Outcome::Fail);
    let is_length = |f: &&Finding| f.rule == RuleId::CheckLength;
    let off = |f: &Finding| Some((f.have? - f.need?).abs());
    let lengths = fails().filter(is_length).filter_map(|f| Some((f, off(f)?)));
    let lengths = lengths.max_by(|a, b| a.1.total_cmp(&b.1));
    let lengths = lengths.map(|(_, mm)| format!("check lengths disagree: {}", show.up(mm)));
    // a lack may be that of a movable thing too: what is least over all that competes
    let lacks = judgement.findings.iter().filter(|f| f.competes() && !is_length(f));
    let lacks = lacks.filter_map(|f| Some((f, f.margin.filter(|m| *m < 0.0)?)));
    let room = lacks.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(f, _)| figures::amount(f, show));
    let only = fails().all(|f| is_length(&f));
    match (lengths, room) {
        (Some(lengths), _) if only => capital(&lengths),
        (Some(lengths), Some(short)) => format!("Does not fit: {short}, and {lengths}"),
        (Some(lengths), None) => format!("Does not fit, and {lengths}"),
        (None, Some(short)) => format!("Does not fit: {short}"),
        (None, None) => "Does not fit".into(),
    }
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
