//! Advice in words: what to do, and what it gives. Only moves that were tried are told, see [`crate::advice`].

use super::siting::place;
use super::words::{capital, sentence, way};
use crate::advice::{Advice, Own, Standing, Tried};
use crate::checks::wording::{lacks_all, outcome};
use crate::checks::{Finding, Judgement, Outcome, Verdict};
use crate::edit::Edit;
use crate::geometry::V2;
use crate::layout::{Layout, Stance};
use crate::phrases::{Phrase, Say, phrases, say};
use crate::units::printable;

phrases! { pub in "advice";
    NOTHING = "No move helps: no other place, nothing cleared and no door opened, each tried alone, is better";
    FIND_OUT = "Find out: {missing}";
    THEN = "{step}; then {spoilt}";
    BUT_THEN = "{step} cures this, but then {spoilt}";
    OFFER = "{step}: {gain}";
    OFFER_NOW = "{step}: {now}, {gain}";
    THERE = "there";
    IF_DONE = "then";
    TO_SPARE = "{mm} to spare";
    FITS_WITH = "{spare} {place}";
    FITS = "it fits {place}";
    FITS_IF = "it fits {place} if {n} {n|condition is|conditions are} met";
    FITS_IF_WITH = "it fits {place} with {spare} if {n} {n|condition is|conditions are} met";
    NOTHING_FAILS = "nothing fails";
    NOT_ALL_KNOWN = "{spare} {place}, but not everything is known";
    LENGTHS_DISAGREE = "check lengths still disagree {place}";
    LACK_THERE = "{lack} {place}";
    INSTEAD_OF = "{gain}, {fails} instead of {now}";
    GIVEN_UP = "{gain} ({mm} of it given up for a place in whole figures)";
    FAILS = "{n} {n|thing fails|things fail}";
    NOW = "{lack} now";
    FLOOR_PAST = "the floor is {mm} past its limit";
    SHORT = "{mm} short";
    AND_THEN = ", then ";
    BY = "{thing}: {how}";
    CLEAR = "move {thing} out of the way";
    CLEARING = "moving {thing} out of the way";
    USE = "use {bay}";
    USING = "using {bay}";
    OPEN = "open {door}";
    OPENING = "opening {door}";
    PLACE = "place the vehicle with {place}";
    PLACING = "placing the vehicle with {place}";
    TURN_CLOCKWISE = "turn the vehicle {deg} clockwise, seen from above";
    TURNING_CLOCKWISE = "turning the vehicle {deg} clockwise, seen from above";
    TURN_ANTICLOCKWISE = "turn the vehicle {deg} anticlockwise, seen from above";
    TURNING_ANTICLOCKWISE = "turning the vehicle {deg} anticlockwise, seen from above";
    TURN_ROUND = "turn the vehicle round, to stand with {place}";
    TURNING_ROUND = "turning the vehicle round, to stand with {place}";
    TURN = "turn the vehicle, to stand with {place}";
    TURNING = "turning the vehicle, to stand with {place}";
    MOVE = "move the vehicle {way}";
    MOVING = "moving the vehicle {way}";
}

/// What helps the job, in one line: the step that was tried, else what the finding that decides asks for.
pub fn whole(judgement: &Judgement, advice: &Advice, layout: &Layout, say: Say) -> Option<String> {
    best(judgement, advice, layout, say).map(|words| printable(&words).into_owned())
}

fn best(judgement: &Judgement, advice: &Advice, layout: &Layout, say: Say) -> Option<String> {
    if let Some(tried) = &advice.whole {
        return Some(offer(tried, layout, say));
    }
    let (at, decides) = decisive(judgement)?;
    match advice.of(at) {
        Some(own) => Some(of_own(own, layout, say)),
        None if decides.outcome == Outcome::Fail && decides.shift().is_some() => Some(say.word(NOTHING)),
        None => remedy(decides, layout, say),
    }
}

/// What helps one finding.
pub fn of(
    at: usize,
    judgement: &Judgement,
    advice: Option<&Advice>,
    layout: &Layout,
    say: Say,
) -> Option<String> {
    told(at, judgement, advice, layout, say).map(|words| printable(&words).into_owned())
}

fn told(
    at: usize,
    judgement: &Judgement,
    advice: Option<&Advice>,
    layout: &Layout,
    say: Say,
) -> Option<String> {
    let finding = judgement.findings.get(at)?;
    if let Some(instead) = (finding.rule.rule().wording.instead)(finding, layout) {
        return Some(outcome::remedy(&instead, say));
    }
    match advice.and_then(|a| a.of(at)) {
        Some(own) => Some(of_own(own, layout, say)),
        // its move is being tried
        None if advice.is_none() && finding.shift().is_some() => None,
        None => remedy(finding, layout, say),
    }
}

/// What to do about a finding for which no move of the job was tried, or none cures it.
pub fn remedy(finding: &Finding, layout: &Layout, say: Say) -> Option<String> {
    let rule = finding.rule.rule();
    if let Some(own) = (rule.wording.remedy)(finding, layout) {
        return Some(outcome::remedy(&own, say));
    }
    match finding.outcome {
        Outcome::Unknown if !finding.missing.is_empty() => {
            Some(say!(say, FIND_OUT, missing = lacks_all(&finding.missing, say)))
        }
        Outcome::Fail => Some(rule.remedy(say)),
        _ => None,
    }
}

fn decisive(judgement: &Judgement) -> Option<(usize, &Finding)> {
    let decides = judgement.decisive()?;
    judgement.findings.iter().enumerate().find(|(_, f)| std::ptr::eq(*f, decides))
}

fn of_own(own: &Own, layout: &Layout, say: Say) -> String {
    let spoilt = |finding| sentence(finding, layout, say);
    match &own.spoils {
        None => offer(&own.tried, layout, say),
        Some(finding) if own.offered => {
            say!(say, THEN, step = offer(&own.tried, layout, say), spoilt = spoilt(finding))
        }
        Some(finding) => {
            let doing = capital(&doing(&own.tried, layout, say));
            say!(say, BUT_THEN, step = doing, spoilt = spoilt(finding))
        }
    }
}

/// "Move the vehicle 60 mm to the left: 115 mm short now, 12 mm to spare there".
pub fn offer(tried: &Tried, layout: &Layout, say: Say) -> String {
    let (to_do, gain) = (capital(&to_do(tried, layout, say)), gain(tried, say));
    match now(&tried.now, say) {
        Some(now) => say!(say, OFFER_NOW, step = to_do, now, gain),
        None => say!(say, OFFER, step = to_do, gain),
    }
}

/// "12 mm to spare there", with what whole figures cost.
pub fn gain(tried: &Tried, say: Say) -> String {
    let place = say.word(if tried.stays() { IF_DONE } else { THERE });
    let (now, then) = (&tried.now, &tried.then);
    let spare = then.margin.filter(|m| *m >= 0.0 && !then.limit);
    let spare = spare.map(|m| say!(say, TO_SPARE, mm = say.down(m)));
    let n = then.conditions;
    let lack = then.margin.filter(|m| *m < 0.0).map(|margin| lack(then, margin, say));
    let mut words = match (then.verdict, spare) {
        (Verdict::Fits, Some(spare)) => say!(say, FITS_WITH, spare, place),
        (Verdict::Fits, None) => say!(say, FITS, place),
        (Verdict::FitsIf, Some(spare)) => say!(say, FITS_IF_WITH, place, spare, n),
        (Verdict::FitsIf, None) => say!(say, FITS_IF, place, n),
        (Verdict::NotKnown, spare) => {
            let spare = spare.unwrap_or_else(|| say.word(NOTHING_FAILS));
            say!(say, NOT_ALL_KNOWN, spare, place)
        }
        (Verdict::DoesNotFit, _) if then.lengths => say!(say, LENGTHS_DISAGREE, place),
        (Verdict::DoesNotFit, _) => {
            let lack = lack.unwrap_or_else(|| say!(say, FAILS, n = then.failing));
            say!(say, LACK_THERE, lack, place)
        }
    };
    let short = |s: &Standing| s.verdict == Verdict::DoesNotFit && s.margin.is_some_and(|m| m < 0.0);
    if short(then) && then.failing != now.failing {
        let fails = say!(say, FAILS, n = then.failing);
        words = say!(say, INSTEAD_OF, gain = words, fails, now = now.failing);
    }
    if tried.given_up >= 1.0 {
        words = say!(say, GIVEN_UP, gain = words, mm = say.up(tried.given_up));
    }
    words
}

fn now(now: &Standing, say: Say) -> Option<String> {
    let margin = now.margin.filter(|m| *m < 0.0 && !now.lengths)?;
    Some(say!(say, NOW, lack = lack(now, margin, say)))
}

/// "60 mm short"; of the floor's limit, by how much it is passed.
fn lack(standing: &Standing, margin: f64, say: Say) -> String {
    say!(say, if standing.limit { FLOOR_PAST } else { SHORT }, mm = say.up(-margin))
}

/// The step as a request: "clear tool cart, then move the vehicle 300 mm into the bay".
pub fn to_do(tried: &Tried, layout: &Layout, say: Say) -> String {
    steps(tried, layout, say, |asked, _| asked)
}

/// The same as a subject: "moving the vehicle 300 mm into the bay".
fn doing(tried: &Tried, layout: &Layout, say: Say) -> String {
    steps(tried, layout, say, |_, doing| doing)
}

/// Step by step, as a request or as a subject.
fn steps(tried: &Tried, layout: &Layout, say: Say, pick: impl Fn(Phrase, Phrase) -> Phrase) -> String {
    let step = |edit: &Edit| match edit {
        Edit::Clear { name, .. } => {
            let thing = layout.stage.things.iter().find(|t| *t.name == *name.as_str());
            match thing.and_then(|t| t.clear_by.as_ref()) {
                Some(how) => say!(say, BY, thing = name, how),
                None => say!(say, pick(CLEAR, CLEARING), thing = name),
            }
        }
        Edit::ChooseBay { bay, .. } => say!(say, pick(USE, USING), bay = bay.name),
        Edit::Door { name, .. } => say!(say, pick(OPEN, OPENING), door = name),
        Edit::Stand { .. } => stand(tried, say, &pick),
        other => other.title(),
    };
    say.list(tried.edits.iter().map(step), AND_THEN)
}

fn stand(tried: &Tried, say: Say, pick: &impl Fn(Phrase, Phrase) -> Phrase) -> String {
    let (from, to): (&Stance, &Stance) = (&tried.from, &tried.to);
    let elsewhere = tried.edits.iter().any(|e| matches!(e, Edit::ChooseBay { .. }));
    if elsewhere {
        return say!(say, pick(PLACE, PLACING), place = place(to, say));
    }
    if tried.turns() {
        let by = (to.heading - from.heading).rem_euclid(360.0);
        if (to.x - from.x).hypot(to.y - from.y) < 0.5 {
            let clockwise = by > 180.0;
            let deg = format!("{:.2}°", if clockwise { 360.0 - by } else { by });
            return match clockwise {
                true => say!(say, pick(TURN_CLOCKWISE, TURNING_CLOCKWISE), deg),
                false => say!(say, pick(TURN_ANTICLOCKWISE, TURNING_ANTICLOCKWISE), deg),
            };
        }
        let phrase = if by == 180.0 { pick(TURN_ROUND, TURNING_ROUND) } else { pick(TURN, TURNING) };
        return say!(say, phrase, place = place(to, say));
    }
    say!(say, pick(MOVE, MOVING), way = way(V2::new(to.x - from.x, to.y - from.y), say))
}
