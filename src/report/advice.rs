//! Advice in words: what to do, and what it gives. Only moves that were tried are told, see [`crate::advice`].

use super::figures::Show;
use super::siting::place;
use super::words::{capital, sentence, way};
use crate::advice::{Advice, Own, Standing, Tried};
use crate::checks::{Finding, Judgement, Outcome, Verdict};
use crate::edit::Edit;
use crate::geometry::V2;
use crate::layout::{Layout, Stance};
use crate::model::called_all;
use crate::units::printable;

/// What helps the job, in one line: the step that was tried, else what the finding that decides asks for.
pub fn whole(judgement: &Judgement, advice: &Advice, layout: &Layout, show: Show) -> Option<String> {
    best(judgement, advice, layout, show).map(|words| printable(&words).into_owned())
}

fn best(judgement: &Judgement, advice: &Advice, layout: &Layout, show: Show) -> Option<String> {
    if let Some(tried) = &advice.whole {
        return Some(offer(tried, layout, show));
    }
    let (at, decides) = decisive(judgement)?;
    match advice.of(at) {
        Some(own) => Some(of_own(own, layout, show)),
        None if decides.outcome == Outcome::Fail && decides.shift().is_some() => Some(NOTHING.into()),
        None => remedy(decides, layout),
    }
}

/// Where no move is better than to stay.
pub const NOTHING: &str =
    "No move helps: no other place, nothing cleared and no door opened, each tried alone, is better";

/// What helps one finding.
pub fn of(
    at: usize,
    judgement: &Judgement,
    advice: Option<&Advice>,
    layout: &Layout,
    show: Show,
) -> Option<String> {
    told(at, judgement, advice, layout, show).map(|words| printable(&words).into_owned())
}

fn told(
    at: usize,
    judgement: &Judgement,
    advice: Option<&Advice>,
    layout: &Layout,
    show: Show,
) -> Option<String> {
    let finding = judgement.findings.get(at)?;
    if let Some(instead) = (finding.rule.rule().wording.instead)(finding, layout) {
        return Some(instead);
    }
    match advice.and_then(|a| a.of(at)) {
        Some(own) => Some(of_own(own, layout, show)),
        // its move is being tried
        None if advice.is_none() && finding.shift().is_some() => None,
        None => remedy(finding, layout),
    }
}

/// What to do about a finding for which no move of the job was tried, or none cures it.
pub fn remedy(finding: &Finding, layout: &Layout) -> Option<String> {
    let rule = finding.rule.rule();
    if let Some(own) = (rule.wording.remedy)(finding, layout) {
        return Some(own);
    }
    match finding.outcome {
        Outcome::Unknown if !finding.missing.is_empty() => {
            Some(format!("Find out: {}", called_all(&finding.missing)))
        }
        Outcome::Fail => Some(rule.page.remedy.to_string()),
        _ => None,
    }
}

fn decisive(judgement: &Judgement) -> Option<(usize, &Finding)> {
    let decides = judgement.decisive()?;
    judgement.findings.iter().enumerate().find(|(_, f)| std::ptr::eq(*f, decides))
}

fn of_own(own: &Own, layout: &Layout, show: Show) -> String {
    match &own.spoils {
        None => offer(&own.tried, layout, show),
        Some(spoilt) if own.offered => {
            format!("{}; then {}", offer(&own.tried, layout, show), sentence(spoilt, layout, show))
        }
        Some(spoilt) => format!(
            "{} cures this, but then {}",
            capital(&doing(&own.tried, layout, show)),
            sentence(spoilt, layout, show)
        ),
    }
}

/// "Move the vehicle 60 mm to the left: 115 mm short now, 12 mm to spare there".
pub fn offer(tried: &Tried, layout: &Layout, show: Show) -> String {
    let now = now(&tried.now, show).map_or_else(String::new, |now| format!("{now}, "));
    format!("{}: {now}{}", capital(&to_do(tried, layout, show)), gain(tried, show))
}

/// "12 mm to spare there", with what whole figures cost.
pub fn gain(tried: &Tried, show: Show) -> String {
    let place = if tried.stays() { "then" } else { "there" };
    let (now, then) = (&tried.now, &tried.then);
    let spare = then.margin.filter(|m| *m >= 0.0 && !then.limit);
    let spare = spare.map(|m| format!("{} to spare", show.down(m)));
    let mut words = match then.verdict {
        Verdict::Fits => format!("{} {place}", spare.unwrap_or_else(|| "it fits".into())),
        Verdict::FitsIf => {
            let n = then.conditions;
            let spare = spare.map_or_else(String::new, |s| format!(" with {s}"));
            format!(
                "it fits {place}{spare} if {n} {}",
                if n == 1 { "condition is met" } else { "conditions are met" }
            )
        }
        Verdict::NotKnown => {
            let spare = spare.unwrap_or_else(|| "nothing fails".into());
            format!("{spare} {place}, but not everything is known")
        }
        Verdict::DoesNotFit if then.lengths => format!("check lengths still disagree {place}"),
        Verdict::DoesNotFit => match then.margin.filter(|m| *m < 0.0) {
            Some(margin) => format!("{} {place}", lack(then, margin, show)),
            None => format!("{} {place}", count(then.failing)),
        },
    };
    let short = |s: &Standing| s.verdict == Verdict::DoesNotFit && s.margin.is_some_and(|m| m < 0.0);
    if short(then) && then.failing != now.failing {
        words += &format!(", {} instead of {}", count(then.failing), now.failing);
    }
    if tried.given_up >= 1.0 {
        words += &format!(" ({} of it given up for a place in whole figures)", show.up(tried.given_up));
    }
    words
}

fn count(n: usize) -> String {
    format!("{n} {}", if n == 1 { "thing fails" } else { "things fail" })
}

fn now(now: &Standing, show: Show) -> Option<String> {
    let margin = now.margin.filter(|m| *m < 0.0 && !now.lengths)?;
    Some(format!("{} now", lack(now, margin, show)))
}

/// "60 mm short"; of the floor's limit, by how much it is passed.
fn lack(standing: &Standing, margin: f64, show: Show) -> String {
    let lack = show.up(-margin);
    if standing.limit { format!("the floor is {lack} past its limit") } else { format!("{lack} short") }
}

/// The step as a request: "clear tool cart, then move the vehicle 300 mm into the bay".
pub fn to_do(tried: &Tried, layout: &Layout, show: Show) -> String {
    phrases(tried, layout, show, |doing| match doing {
        Doing::Verb("clear", name) => format!("move {name} out of the way"),
        Doing::Verb(verb, rest) => format!("{verb} {rest}"),
        Doing::By(words) => words,
    })
    .join(", then ")
}

/// The same as a subject: "moving the vehicle 300 mm into the bay".
fn doing(tried: &Tried, layout: &Layout, show: Show) -> String {
    phrases(tried, layout, show, |doing| match doing {
        Doing::Verb("clear", name) => format!("moving {name} out of the way"),
        Doing::Verb(verb, rest) => format!("{}ing {rest}", verb.strip_suffix('e').unwrap_or(verb)),
        Doing::By(words) => words,
    })
    .join(", then ")
}

enum Doing {
    Verb(&'static str, String),
    /// A thing's own words for clearing it.
    By(String),
}

fn phrases(tried: &Tried, layout: &Layout, show: Show, say: impl Fn(Doing) -> String) -> Vec<String> {
    let step = |edit: &Edit| match edit {
        Edit::Clear { name, .. } => {
            let thing = layout.stage.things.iter().find(|t| *t.name == *name.as_str());
            match thing.and_then(|t| t.clear_by.as_ref()) {
                Some(how) => Doing::By(format!("{name}: {how}")),
                None => Doing::Verb("clear", name.to_string()),
            }
        }
        Edit::ChooseBay { bay, .. } => Doing::Verb("use", bay.name.to_string()),
        Edit::Door { name, .. } => Doing::Verb("open", name.to_string()),
        Edit::Stand { .. } => stand(tried, show),
        other => Doing::By(other.title()),
    };
    tried.edits.iter().map(|e| say(step(e))).collect()
}

fn stand(tried: &Tried, show: Show) -> Doing {
    let (from, to): (&Stance, &Stance) = (&tried.from, &tried.to);
    let elsewhere = tried.edits.iter().any(|e| matches!(e, Edit::ChooseBay { .. }));
    if elsewhere {
        return Doing::Verb("place", format!("the vehicle with {}", place(to, show)));
    }
    if tried.turns() {
        let by = (to.heading - from.heading).rem_euclid(360.0);
        if (to.x - from.x).hypot(to.y - from.y) < 0.5 {
            let (deg, side) = if by > 180.0 { (360.0 - by, "clockwise") } else { (by, "anticlockwise") };
            return Doing::Verb("turn", format!("the vehicle {deg:.2}° {side}, seen from above"));
        }
        let round = if by == 180.0 { "round" } else { "" };
        let head = format!("the vehicle {round}").trim_end().to_owned();
        return Doing::Verb("turn", format!("{head}, to stand with {}", place(to, show)));
    }
    Doing::Verb("move", format!("the vehicle {}", way(V2::new(to.x - from.x, to.y - from.y), show)))
}
