//! Values a job chooses, fills in or reads off.

// a new variant is met wherever it could matter
#![cfg_attr(not(test), warn(clippy::wildcard_enum_match_arm))]

use crate::model::figure::Value;
use crate::model::job::Job;
use crate::model::procedure::Procedure;
use crate::model::spot::Table;
use crate::model::words;

use super::super::{Defects, plain};

/// The value of a procedure with the job's variant in force, and every other form it can take.
struct Forms<'a> {
    now: Option<&'a Value>,
    all: Vec<&'a Value>,
}

fn forms<'a>(job: &Job, procedures: &[&'a Procedure], name: &str) -> Vec<Forms<'a>> {
    let chosen = job.procedures.iter().zip(procedures);
    let of = chosen.map(|(chosen, p)| {
        let mut variants = chosen.all_variants().filter_map(|v| p.variants.get(v.as_str()));
        let base = p.values.get(name);
        let others = p.variants.iter().filter_map(|(_, t): (_, &Table<Value>)| t.get(name));
        Forms {
            now: variants.find_map(|t| t.get(name)).or(base),
            all: base.into_iter().chain(others).collect(),
        }
    });
    of.filter(|f| !f.all.is_empty()).collect()
}

fn value_names<'a>(procedures: &[&'a Procedure]) -> Vec<&'a str> {
    procedures.iter().flat_map(|p| p.values.names()).collect()
}

pub(super) fn choices(job: &Job, procedures: &[&Procedure], out: &mut Defects) {
    for (name, choice) in job.choose.iter() {
        let forms = forms(job, procedures, name.as_str());
        let offered = |v: &&Value| v.is_free();
        if forms.is_empty() {
            let hint = words::suggest(name.as_str(), "value", value_names(procedures));
            out.at(name.spot, format!("no procedure of this job has a value {name:?} to choose"), hint);
        } else if !forms.iter().any(|f| f.all.iter().any(offered)) {
            let missing = forms.iter().any(|f| f.all.iter().any(|v| matches!(v, Value::Missing(_))));
            let text = format!("the value {name:?} leaves no choice");
            let hint = missing.then(|| "it is missing: give it in `figures`, and who says so".into());
            out.at(name.spot, text, hint);
        }
        for now in forms.iter().filter_map(|f| f.now).filter(|v| !v.offers(choice.0)) {
            let offers = match now {
                Value::OneOf(list) => {
                    format!("one of {}", words::list(list, |v| plain(*v)))
                }
                Value::Between(lo, hi) => {
                    format!("anything from {} to {}", plain(*lo), plain(*hi))
                }
                Value::Is(_) | Value::Missing(_) => continue,
            };
            if choice.0.is_finite() {
                let text = format!("{} is not a choice for {name:?}", plain(choice.0));
                out.at(name.spot, text, Some(format!("the procedure allows {offers}")));
            }
        }
    }
}

pub(super) fn figures(job: &Job, procedures: &[&Procedure], out: &mut Defects) {
    for (name, _) in job.figures.iter() {
        let forms = forms(job, procedures, name.as_str());
        if forms.is_empty() {
            let hint = words::suggest(name.as_str(), "value", value_names(procedures));
            out.at(name.spot, format!("no procedure of this job has a value {name:?} that is missing"), hint);
        } else if !forms.iter().any(|f| f.all.iter().any(|v| matches!(v, Value::Missing(_)))) {
            let offered = forms.iter().any(|f| f.all.iter().any(|v| v.is_free()));
            let text = format!("the value {name:?} is not missing: the procedure gives it");
            out.at(name.spot, text, offered.then(|| "choose it in `choose`".into()));
        }
    }
}

pub(super) fn measured(job: &Job, procedures: &[&Procedure], out: &mut Defects) {
    let asked: Vec<&str> = procedures.iter().flat_map(|p| p.measured.names()).collect();
    for (name, _) in job.measured.iter().filter(|(n, _)| !asked.contains(&n.as_str())) {
        let hint = words::suggest(name.as_str(), "measured figure", asked.iter().copied());
        out.at(name.spot, format!("no procedure of this job asks for {name:?} to be measured"), hint);
    }
}
