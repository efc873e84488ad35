//! A finding as a person reads it: a title that speaks, the two figures, and the move that helps.

use super::figures;
use super::label;
use crate::checks::wording::{lack, lacks_all, notes, pair_name, things};
use crate::checks::{Finding, Judgement, Outcome, RuleId, Title, Verdict};
use crate::geometry::V2;
use crate::layout::Layout;
use crate::model::further::FixedTo;
pub use crate::phrases::capital;
use crate::phrases::{Say, phrases, say};

phrases! { pub in "finding";
    NOTHING_TO_JUDGE = "{rule}: nothing to judge";
    NOT_APPLICABLE = "{what}: {why}";
    DOES_NOT_APPLY = "does not apply";
    UNKNOWN_NOTED = "{what}: {why}";
    UNKNOWN = "{what} is not known";
    UNJUDGED = "{what} cannot be judged: {lacks} is not known";
    UNJUDGED_MANY = "{what} cannot be judged: {lacks} are not known";
    FITS = "Fits";
    FITS_WITH = "Fits: {least}";
    FITS_IF = "Fits if {n} {n|condition is|conditions are} met";
    NOT_KNOWN = "Not known";
    MISSING = "Not known: {missing} {n|is|are} missing";
    FIGURES = "{n} {n|figure|figures}";
    LENGTHS = "check lengths disagree: {off}";
    DOES_NOT_FIT = "Does not fit";
    SHORT = "Does not fit: {short}";
    AND_LENGTHS = "Does not fit, and {lengths}";
    SHORT_AND_LENGTHS = "Does not fit: {short}, and {lengths}";
    RIGHT = "{mm} to the right";
    LEFT = "{mm} to the left";
    INTO_BAY = "{mm} into the bay";
    TOWARD_DOOR = "{mm} toward the door";
    HARDLY = "by less than a millimetre";
    ON_WALL = "hangs on the wall";
    INSTALLED = "is where {name} is installed";
    STAYS = "stays where {setup} put it";
}

/// Subject, verb, object, amount.
pub fn title(finding: &Finding, layout: &Layout, say: Say) -> String {
    capital(&sentence(finding, layout, say))
}

/// The title as part of a longer sentence.
pub fn sentence(finding: &Finding, layout: &Layout, say: Say) -> String {
    let rule = finding.rule.rule();
    let note_or = |or| finding.note.as_ref().map_or_else(|| say.word(or), |n| notes::note(n, say));
    match &rule.wording.title {
        Title::Note(or) => note_or(*or),
        _ if finding.items.is_empty() => say!(say, NOTHING_TO_JUDGE, rule = rule.title(say)),
        _ if finding.outcome == Outcome::NotApplicable => {
            say!(say, NOT_APPLICABLE, what = pair_name(finding, say), why = note_or(DOES_NOT_APPLY))
        }
        _ if finding.outcome == Outcome::Unknown => {
            (rule.wording.unknown)(finding, say).unwrap_or_else(|| unknown(finding, say))
        }
        Title::Says(says) => says(finding, layout, say),
    }
}

fn unknown(finding: &Finding, say: Say) -> String {
    let what = pair_name(finding, say);
    match (&finding.note, finding.missing.as_slice()) {
        (Some(note), []) => say!(say, UNKNOWN_NOTED, what, why = notes::note(note, say)),
        (_, []) => say!(say, UNKNOWN, what),
        (_, [only]) if finding.items.len() == 1 && *only.word() == **finding.items[0].name() => {
            say!(say, UNKNOWN, what = lack(only, say))
        }
        (_, [only]) => say!(say, UNJUDGED, what, lacks = lack(only, say)),
        (_, many) => say!(say, UNJUDGED_MANY, what, lacks = lacks_all(many, say)),
    }
}

/// "needs 100 mm, has 12 mm"; nothing where no length is judged.
pub fn figures(finding: &Finding, say: Say) -> Option<String> {
    label::line(finding, say)
}

/// The verdict in words with its number.
pub fn headline(judgement: &Judgement, say: Say) -> String {
    let least = figures::least(judgement, say);
    match judgement.verdict {
        Verdict::Fits => match least {
            Some(least) => say!(say, FITS_WITH, least),
            None => say.word(FITS),
        },
        Verdict::FitsIf => say!(say, FITS_IF, n = judgement.conditions.len()),
        Verdict::DoesNotFit => does_not_fit(judgement, say),
        Verdict::NotKnown => missing(judgement, say),
    }
}

/// "a procedure is missing", "2 figures are missing", "a procedure and 1 figure are missing".
fn missing(judgement: &Judgement, say: Say) -> String {
    let placed: Vec<_> = judgement.nothing_placed().flat_map(|f| &f.missing).collect();
    let figures = judgement.missing.iter().filter(|m| !placed.contains(m)).count();
    let mut words: Vec<String> = placed.iter().map(|t| lack(t, say)).collect();
    if figures > 0 {
        words.push(say!(say, FIGURES, n = figures));
    }
    if words.is_empty() {
        return say.word(NOT_KNOWN);
    }
    say!(say, MISSING, missing = say.list(words, things::AND), n = placed.len() + figures)
}

/// By how much there is no room. Lengths of the procedure that disagree are no lack of room, and told by themselves.
fn does_not_fit(judgement: &Judgement, say: Say) -> String {
    let fails = || judgement.findings.iter().filter(|f| f.outcome == Outcome::Fail);
    let is_length = |f: &&Finding| f.rule == RuleId::CheckLength;
    let off = |f: &Finding| Some((f.have? - f.need?).abs());
    let lengths = fails().filter(is_length).filter_map(|f| Some((f, off(f)?)));
    let lengths = lengths.max_by(|a, b| a.1.total_cmp(&b.1));
    let lengths = lengths.map(|(_, mm)| say!(say, LENGTHS, off = say.up(mm)));
    // a lack may be that of a movable thing too: what is least over all that competes
    let lacks = judgement.findings.iter().filter(|f| f.competes() && !is_length(f));
    let lacks = lacks.filter_map(|f| Some((f, f.margin.filter(|m| *m < 0.0)?)));
    let room = lacks.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(f, _)| figures::amount(f, say));
    let only = fails().all(|f| is_length(&f));
    match (lengths, room) {
        (Some(lengths), _) if only => capital(&lengths),
        (Some(lengths), Some(short)) => say!(say, SHORT_AND_LENGTHS, short, lengths),
        (Some(lengths), None) => say!(say, AND_LENGTHS, lengths),
        (None, Some(short)) => say!(say, SHORT, short),
        (None, None) => say.word(DOES_NOT_FIT),
    }
}

/// A shift in the words of someone standing in the main doorway looking in.
pub fn way(shift: V2, say: Say) -> String {
    let across = (shift.x.abs() >= 0.5)
        .then(|| say!(say, if shift.x > 0.0 { RIGHT } else { LEFT }, mm = say.up(shift.x.abs())));
    let along = (shift.y.abs() >= 0.5)
        .then(|| say!(say, if shift.y > 0.0 { INTO_BAY } else { TOWARD_DOOR }, mm = say.up(shift.y.abs())));
    if across.is_none() && along.is_none() {
        return say.word(HARDLY);
    }
    say.list(across.into_iter().chain(along), things::AND)
}

/// What fixes where a target is.
pub fn fixed_to(fixed: &FixedTo, say: Say) -> String {
    match fixed {
        FixedTo::Wall => say.word(ON_WALL),
        FixedTo::Bay(name) => say!(say, INSTALLED, name),
        FixedTo::Earlier(setup) => say!(say, STAYS, setup),
    }
}
