//! What a job may go on saying after its bay or its procedures have changed: names nobody knows any more go.

use std::sync::Arc;

use crate::model::figure::Value;
use crate::model::job::Support;
use crate::model::{Bundle, Procedure};

/// Drops from the job what names things its bay and procedures do not have.
pub(super) fn known(bundle: &mut Bundle) {
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
    let names = names(bundle);
    job.accepted.0.retain(|a| a.items.iter().all(|item| names.iter().any(|n| n == item.as_str())));
    job.measured.0.retain(|(n, _)| bundle.procedures.iter().any(|p| p.measured.get(n.as_str()).is_some()));
    job.choose.0.retain(|(n, v)| {
        let mut free = free_values(bundle, n.as_str()).peekable();
        free.peek().is_some()
            && free.all(|value| match value {
                Value::Between(lo, hi) => *lo <= v.0 && v.0 <= *hi,
                Value::OneOf(list) => list.contains(&v.0),
                _ => true,
            })
    });
    job.figures.0.retain(|(n, _)| values(bundle, n.as_str()).any(|v| matches!(v, Value::Missing(_))));
    bundle.job = Arc::new(job);
}

/// The values under this name that the job may choose.
pub(super) fn free_values<'a>(bundle: &'a Bundle, name: &'a str) -> impl Iterator<Item = &'a Value> {
    values(bundle, name).filter(|v| matches!(v, Value::OneOf(_) | Value::Between(..)))
}

/// Every value of this name, of the procedures and of all their variants.
fn values<'a>(bundle: &'a Bundle, name: &'a str) -> impl Iterator<Item = &'a Value> {
    bundle.procedures.iter().flat_map(move |p: &Arc<Procedure>| {
        let own = p.values.get(name);
        let varied = p.variants.iter().filter_map(move |(_, table)| table.get(name));
        own.into_iter().chain(varied)
    })
}

/// Every name a finding of this bundle can have among its items.
fn names(bundle: &Bundle) -> Vec<String> {
    let bay = &bundle.bay;
    let mut names: Vec<String> = ["vehicle", "mirrors", "tyres", "ceiling"].map(String::from).to_vec();
    for side in 0..bay.floor.points.len() {
        let given = bay.walls.iter().find(|w| w.side.index == side).and_then(|w| w.name.as_ref());
        names.push(given.map_or_else(|| format!("wall {side}"), ToString::to_string));
    }
    for door in &bay.doorways {
        names.push(door.name.to_string());
        names.push(format!("{} apron", door.name));
    }
    names.extend(bay.fixtures.iter().map(|f| f.name.to_string()));
    names.extend(bay.keep_clear.iter().map(|k| k.name.to_string()));
    for lift in &bay.lifts {
        names.extend((1..=lift.posts.len()).map(|n| format!("{} post {n}", lift.name)));
    }
    for procedure in &bundle.procedures {
        names.extend(procedure.zones.iter().map(|z| z.name.to_string()));
        for setup in &procedure.setups {
            names.extend(setup.stations.iter().map(|s| s.name.to_string()));
            names.extend(setup.zones.iter().map(|z| z.name.to_string()));
        }
    }
    names
}
