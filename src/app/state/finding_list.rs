//! Which findings are listed, in which order and groups.

use crate::app::state::panel_context::PanelContext;
use crate::app::state::view_state::Grouping;
use crate::app::widgets::style;
use crate::checks::{Finding, Outcome};
use crate::report::{text::whose, words};

/// Findings under one heading, by their places in the judgement.
pub(crate) struct Group {
    pub words: Option<String>,
    pub findings: Vec<usize>,
}

/// What a person has to look at, worst first.
pub(crate) fn groups(cx: PanelContext) -> Vec<Group> {
    let mut listed = listed(cx, |f| !is_quiet(f.outcome) && !cx.view_state.hidden.contains(&f.outcome));
    let findings = cx.findings();
    listed.sort_by(|a, b| {
        let key = |i: &usize| (weight(findings[*i].outcome), *i);
        let margin = |i: &usize| findings[*i].margin.unwrap_or(f64::INFINITY);
        weight(findings[*a].outcome)
            .cmp(&weight(findings[*b].outcome))
            .then(margin(a).total_cmp(&margin(b)))
            .then(key(a).cmp(&key(b)))
    });
    let chosen = cx.derived.chosen();
    let mut told: Vec<usize> = Vec::new();
    for at in listed {
        // a missing figure is one card: the chosen finding's, else the first one's that rests on it
        match told.iter_mut().find(|first| rests_on_the_same(&findings[**first], &findings[at])) {
            Some(first) if chosen == Some(at) => *first = at,
            Some(_) => {}
            None => told.push(at),
        }
    }
    let mut groups: Vec<Group> = Vec::new();
    for at in told {
        let words = heading(cx, &findings[at]);
        match groups.iter_mut().find(|g| g.words.as_ref() == Some(&words)) {
            Some(group) => group.findings.push(at),
            None => groups.push(Group { words: Some(words), findings: vec![at] }),
        }
    }
    groups
}

/// Whether both are not known for want of the same figures.
fn rests_on_the_same(a: &Finding, b: &Finding) -> bool {
    let unknown = |f: &Finding| f.outcome == Outcome::Unknown && !f.missing.is_empty();
    unknown(a) && unknown(b) && a.missing == b.missing
}

/// How many other findings the card of this one stands for.
pub(crate) fn resting_too(cx: PanelContext, at: usize) -> usize {
    let findings = cx.findings();
    let with_it = findings.iter().filter(|f| rests_on_the_same(&findings[at], f));
    with_it.count().saturating_sub(1)
}

/// How many cards the findings of an outcome make.
pub(crate) fn cards(cx: PanelContext, outcome: Outcome) -> usize {
    let findings = cx.findings();
    let of_it = findings.iter().enumerate().filter(|(_, f)| f.outcome == outcome);
    of_it.filter(|(i, f)| !findings[..*i].iter().any(|g| rests_on_the_same(g, f))).count()
}

/// What asks for nothing: passed, to confirm by a person, not applicable.
pub(crate) fn quiet(cx: PanelContext) -> Vec<usize> {
    listed(cx, |f| is_quiet(f.outcome))
}

/// Every finding in the order of the list, for stepping from one to the next.
pub(crate) fn order(cx: PanelContext) -> Vec<usize> {
    let mut all: Vec<usize> = groups(cx).into_iter().flat_map(|g| g.findings).collect();
    if cx.view_state.passed {
        all.extend(quiet(cx));
    }
    all
}

/// What to say where nothing is listed.
pub(crate) fn nothing(cx: PanelContext) -> String {
    let any = cx.findings().iter().any(|f| !is_quiet(f.outcome));
    if !any {
        "Nothing stands in the way.".into()
    } else {
        "None of the findings is listed: the filter leaves all of them out.".into()
    }
}

pub(crate) fn is_quiet(outcome: Outcome) -> bool {
    matches!(outcome, Outcome::Pass | Outcome::Confirm | Outcome::NotApplicable)
}

fn listed(cx: PanelContext, take: impl Fn(&Finding) -> bool) -> Vec<usize> {
    let filter = cx.view_state.filter.trim().to_lowercase();
    let setup = cx.derived.setup();
    let fits = |f: &Finding| {
        let here = setup.is_none() || f.setup.is_none() || f.setup == setup;
        here && take(f) && (filter.is_empty() || says(cx, f, &filter))
    };
    cx.findings().iter().enumerate().filter(|(_, f)| fits(f)).map(|(i, _)| i).collect()
}

/// Whether anything a card shows holds the text.
fn says(cx: PanelContext, finding: &Finding, filter: &str) -> bool {
    let holds = |text: &str| text.to_lowercase().contains(filter);
    holds(&words::title(finding, cx.layout(), cx.show()))
        || holds(finding.rule.word())
        || holds(&whose(finding, cx.layout(), cx.show()))
        || holds(style::word_of(finding.outcome))
        || finding.names().any(holds)
}

fn weight(outcome: Outcome) -> u8 {
    match outcome {
        Outcome::Fail => 0,
        Outcome::Movable => 1,
        Outcome::Unknown => 2,
        Outcome::Tight => 3,
        _ => 4,
    }
}

fn heading(cx: PanelContext, finding: &Finding) -> String {
    match cx.view_state.grouping {
        Grouping::Outcome => words::capital(style::word_of(finding.outcome)),
        Grouping::Setup => whose(finding, cx.layout(), cx.show()),
        Grouping::Rule => finding.rule.rule().page.title.to_owned(),
    }
}
