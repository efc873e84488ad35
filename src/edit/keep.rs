//! What a job may go on saying after its bay or its procedures have changed: names nobody knows any more go.

use std::sync::Arc;

use crate::model::figure::Value;
use crate::model::job::Support;
use crate::model::{Bundle, Items, Name, Procedure};

/// Drops from the job what names things its bay and procedures do not have. An accepted finding goes only with a thing
/// it is about: one that was there `before` and is not any more.
pub(super) fn known(before: &Bundle, bundle: &mut Bundle) {
    let mut job = (*bundle.job).clone();
    let bay = &bundle.bay;
    job.doors_open.0.retain(|n| bay.doorways.iter().any(|d| d.name == *n));
    job.cleared.0.retain(|n| bay.fixtures.iter().any(|f| f.name == *n));
    if job.enter_by.as_ref().is_some_and(|n| !bay.doorways.iter().any(|d| d.name == *n)) {
        job.enter_by = None;
    }
    if let Support::Lift { name, .. } = &job.support
        && !bay.lifts.iter().any(|l| l.name == *name)
    {
        job.support = Support::Floor;
    }
    let (were, are) = (Items::of(before), Items::of(bundle));
    // what a word meant and what is gone with all its meanings
    let is_gone = |word: &str| {
        let mut meant = were.called(word).peekable();
        meant.peek().is_some() && !meant.any(|item| are.has(item))
    };
    job.accepted.0.retain(|a| !a.items.iter().any(|i| is_gone(i.as_str())));
    job.measured.0.retain(|(n, _)| bundle.procedures.iter().any(|p| p.measured.get(n.as_str()).is_some()));
    job.choose.0.retain(|(n, v)| {
        let mut free = free_values(bundle, n.as_str()).peekable();
        free.peek().is_some() && free.all(|value| value.offers(v.0))
    });
    job.figures.0.retain(|(n, _)| values(bundle, n.as_str()).any(|v| matches!(v, Value::Missing(_))));
    bundle.job = Arc::new(job);
}

/// The values under this name that the job may choose.
pub(super) fn free_values<'a>(bundle: &'a Bundle, name: &'a str) -> impl Iterator<Item = &'a Value> {
    values(bundle, name).filter(|v| v.is_free())
}

/// Every value of this name, of the procedures and of all their variants.
fn values<'a>(bundle: &'a Bundle, name: &'a str) -> impl Iterator<Item = &'a Value> {
    bundle.procedures.iter().flat_map(move |p: &Arc<Procedure>| {
        let own = p.values.get(name);
        let varied = p.variants.iter().filter_map(move |(_, table)| table.get(name));
        own.into_iter().chain(varied)
    })
}

/// What a person had entered and a change has dropped because what it was about is gone; a few words for each.
pub fn dropped(before: &Bundle, after: &Bundle) -> Vec<String> {
    let (was, is) = (&before.job, &after.job);
    let mut gone = Vec::new();
    for a in was.accepted.iter().filter(|a| !is.accepted.contains(a)) {
        let about: Vec<&str> = a.items.iter().map(Name::as_str).collect();
        let by = if a.by.is_empty() { String::new() } else { format!(", signed {}", a.by) };
        gone.push(format!("the accepted finding {} of {}{by}", a.rule, about.join(" and ")));
    }
    let lost = |was: &[Name], is: &[Name]| -> Vec<Name> {
        was.iter().filter(|n| !is.contains(n)).cloned().collect()
    };
    gone.extend(lost(&was.doors_open, &is.doors_open).iter().map(|n| format!("{n} open")));
    gone.extend(lost(&was.cleared, &is.cleared).iter().map(|n| format!("{n} cleared")));
    if let (Support::Lift { name, .. }, Support::Floor) = (&was.support, &is.support) {
        gone.push(format!("standing on {name}"));
    }
    if let (Some(door), None) = (&was.enter_by, &is.enter_by) {
        gone.push(format!("coming in by {door}"));
    }
    let figures = was.measured.iter().filter(|(n, _)| is.measured.get(n.as_str()).is_none()).map(|(n, _)| n);
    let chosen = was.choose.iter().filter(|(n, _)| is.choose.get(n.as_str()).is_none()).map(|(n, _)| n);
    let found = was.figures.iter().filter(|(n, _)| is.figures.get(n.as_str()).is_none()).map(|(n, _)| n);
    gone.extend(figures.chain(chosen).chain(found).map(|n| format!("the figure {n}")));
    gone
}
