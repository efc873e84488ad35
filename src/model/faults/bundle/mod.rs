//! What a job says about the files it names that they do not bear out.

mod choices;
mod items;

use crate::model::bay::Bay;
use crate::model::equipment::Equipment;
use crate::model::figure::Value;
use crate::model::job::{Chosen, FileOf, Job, Support};
use crate::model::procedure::Procedure;
use crate::model::spot::Name;
use crate::model::vehicle::Vehicle;
use crate::model::{Items, words};

use super::{Defect, Defects, fixed, further, plain, sights, upright};
use choices::{choices, figures, measured};
use items::accepted;

/// A job and what it names, as far as each could be read whole.
pub struct Parts<'a> {
    pub job: &'a Job,
    pub bay: Option<&'a Bay>,
    pub vehicle: Option<&'a Vehicle>,
    pub equipment: Option<&'a Equipment>,
    /// In the order of the job.
    pub procedures: Vec<Option<&'a Procedure>>,
}

/// Variants, doors, fixtures, lifts, values and accepted items that are not there, and choices that are not offered.
pub fn bundle(parts: &Parts) -> Vec<(FileOf, Defect)> {
    let mut out = Defects::default();
    variants(parts, &mut out);
    if let Some(bay) = parts.bay {
        bay_names(parts.job, bay, &mut out);
    }
    let procedures: Option<Vec<&Procedure>> = parts.procedures.iter().copied().collect();
    if let Some(procedures) = procedures {
        choices(parts.job, &procedures, &mut out);
        figures(parts.job, &procedures, &mut out);
        measured(parts.job, &procedures, &mut out);
        if let (Some(bay), Some(vehicle), Some(equipment)) = (parts.bay, parts.vehicle, parts.equipment) {
            let known = Items::of_files(bay, vehicle, equipment, &procedures);
            parts.job.accepted.iter().for_each(|a| accepted(a, &known, &mut out));
        }
    }
    let mut all: Vec<(FileOf, Defect)> = out.0.into_iter().map(|d| (FileOf::Job, d)).collect();
    for (i, procedure) in parts.procedures.iter().enumerate() {
        let Some(procedure) = procedure else { continue };
        let mut out = Defects::default();
        if let Some(bay) = parts.bay {
            fixed::in_bay(procedure, bay, &mut out);
        }
        if let (Some(bay), Some(vehicle)) = (parts.bay, parts.vehicle) {
            sights::in_job(procedure, vehicle, bay, &mut out);
        }
        if let Some(equipment) = parts.equipment {
            upright::by_piece(procedure, equipment, &mut out);
        }
        all.extend(out.0.into_iter().map(|d| (FileOf::Procedure(i), d)));
    }
    all
}

fn variants(parts: &Parts, out: &mut Defects) {
    for (chosen, procedure) in parts.job.procedures.iter().zip(&parts.procedures) {
        let Some(procedure) = procedure else { continue };
        for variant in chosen.all_variants() {
            let known = further::chosen_names(procedure);
            if !known.contains(&variant.as_str()) {
                missing(procedure, "variant", variant, known.into_iter(), out);
            }
        }
        if let Some(way) = chosen.way.as_ref().filter(|w| procedure.ways.get(w.as_str()).is_none()) {
            missing(procedure, "way", way, procedure.ways.names(), out);
        }
        disagreement(chosen, procedure, out);
    }
}

fn missing<'a>(
    p: &Procedure,
    what: &str,
    name: &Name,
    known: impl Iterator<Item = &'a str>,
    out: &mut Defects,
) {
    let hint = words::suggest(name.as_str(), what, known);
    let text = format!("{:?} has no {what} {name:?}", p.name);
    out.at(name.spot, text, hint.or(Some(format!("it has no {what}s at all"))));
}

/// Two variants that give one value two figures cannot be chosen together.
fn disagreement(chosen: &Chosen, p: &Procedure, out: &mut Defects) {
    let mut given: Vec<(&Name, &str, &Value)> = Vec::new();
    for variant in chosen.all_variants() {
        let table = p.variants.get(variant.as_str());
        for (name, value) in table.iter().flat_map(|t| t.iter()) {
            let other = given.iter().find(|(_, n, v)| *n == name.as_str() && *v != value);
            if let Some((first, ..)) = other {
                let text =
                    format!("the variants {first:?} and {variant:?} give {name:?} two different figures");
                out.at(variant.spot, text, Some("choose one of them".into()));
            }
            given.push((variant, name.as_str(), value));
        }
    }
}

fn bay_names(job: &Job, bay: &Bay, out: &mut Defects) {
    let doors = || bay.doorways.iter().map(|d| d.name.as_str());
    let fixtures = || bay.fixtures.iter().map(|f| f.name.as_str());
    for name in job.doors_open.iter().chain(&job.enter_by) {
        if !doors().any(|d| name == d) {
            out.unknown(name, "doorway", doors());
        }
    }
    for name in &job.cleared {
        if doors().any(|d| name == d) {
            let text = format!("{name:?} is a doorway and cannot be cleared away");
            out.at(name.spot, text, Some("list it in `doors_open`".into()));
        } else if !fixtures().any(|f| name == f) {
            out.unknown(name, "fixture", fixtures());
        }
    }
    if let Support::Lift { name, height } = &job.support {
        let Some(lift) = bay.lifts.iter().find(|l| l.name == *name) else {
            out.unknown(name, "lift", bay.lifts.iter().map(|l| l.name.as_str()));
            return;
        };
        let heights: Vec<f64> = match lift.heights.is_empty() {
            true => vec![0.0],
            false => lift.heights.to_vec(),
        };
        if height.is_finite() && !heights.contains(height) {
            let text = format!("the lift {name:?} cannot hold a vehicle at {}", plain(*height));
            out.field(name.spot, "height", text);
            if let Some(last) = out.0.last_mut() {
                last.hint = Some(format!("its heights are {}", words::list(&heights, |h| plain(*h))));
            }
        }
    }
}
