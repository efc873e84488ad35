//! What a job says about the files it names that they do not bear out.

use crate::model::bay::Bay;
use crate::model::equipment::Equipment;
use crate::model::figure::Value;
use crate::model::job::{Accepted, Chosen, FileOf, Job, Support};
use crate::model::procedure::Procedure;
use crate::model::spot::{Name, Table};
use crate::model::vehicle::Vehicle;
use crate::model::words;

use super::{Defect, Defects, plain};

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
        if let (Some(bay), Some(vehicle), Some(equipment)) =
            (parts.bay, parts.vehicle, parts.equipment)
        {
            let known = items(bay, vehicle, equipment, &procedures);
            parts
                .job
                .accepted
                .iter()
                .for_each(|a| accepted(a, &known, &mut out));
        }
    }
    out.0.into_iter().map(|d| (FileOf::Job, d)).collect()
}

fn variants(parts: &Parts, out: &mut Defects) {
    for (chosen, procedure) in parts.job.procedures.iter().zip(&parts.procedures) {
        let Some(procedure) = procedure else { continue };
        for variant in chosen.all_variants() {
            if procedure.variants.get(variant.as_str()).is_none() {
                missing(
                    procedure,
                    "variant",
                    variant,
                    procedure.variants.names(),
                    out,
                );
            }
        }
        if let Some(way) = chosen
            .way
            .as_ref()
            .filter(|w| procedure.ways.get(w.as_str()).is_none())
        {
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
    out.at(
        name.spot,
        text,
        hint.or(Some(format!("it has no {what}s at all"))),
    );
}

/// Two variants that give one value two figures cannot be chosen together.
fn disagreement(chosen: &Chosen, p: &Procedure, out: &mut Defects) {
    let mut given: Vec<(&Name, &str, &Value)> = Vec::new();
    for variant in chosen.all_variants() {
        let table = p.variants.get(variant.as_str());
        for (name, value) in table.iter().flat_map(|t| t.iter()) {
            let other = given
                .iter()
                .find(|(_, n, v)| *n == name.as_str() && *v != value);
            if let Some((first, ..)) = other {
                let text = format!(
                    "the variants {first:?} and {variant:?} give {name:?} two different figures"
                );
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
            false => lift.heights.iter().map(|h| h.0).collect(),
        };
        if height.is_finite() && !heights.contains(height) {
            let text = format!(
                "the lift {name:?} cannot hold a vehicle at {}",
                plain(*height)
            );
            out.field(name.spot, "height", text);
            if let Some(last) = out.0.last_mut() {
                last.hint = Some(format!(
                    "its heights are {}",
                    words::list(&heights, |h| plain(*h))
                ));
            }
        }
    }
}

/// The value of a procedure with the job's variant in force, and every other form it can take.
struct Forms<'a> {
    now: Option<&'a Value>,
    all: Vec<&'a Value>,
}

fn forms<'a>(job: &Job, procedures: &[&'a Procedure], name: &str) -> Vec<Forms<'a>> {
    let chosen = job.procedures.iter().zip(procedures);
    let of = chosen.map(|(chosen, p)| {
        let mut variants = chosen
            .all_variants()
            .filter_map(|v| p.variants.get(v.as_str()));
        let base = p.values.get(name);
        let others = p
            .variants
            .iter()
            .filter_map(|(_, t): (_, &Table<Value>)| t.get(name));
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

fn choices(job: &Job, procedures: &[&Procedure], out: &mut Defects) {
    for (name, choice) in job.choose.iter() {
        let forms = forms(job, procedures, name.as_str());
        let offered = |v: &&Value| matches!(v, Value::OneOf(_) | Value::Between(..));
        if forms.is_empty() {
            let hint = words::suggest(name.as_str(), "value", value_names(procedures));
            out.at(
                name.spot,
                format!("no procedure of this job has a value {name:?} to choose"),
                hint,
            );
        } else if !forms.iter().any(|f| f.all.iter().any(|v| offered(v))) {
            let missing = forms
                .iter()
                .any(|f| f.all.iter().any(|v| matches!(v, Value::Missing(_))));
            let text = format!("the value {name:?} leaves no choice");
            let hint =
                missing.then(|| "it is missing: give it in `figures`, and who says so".into());
            out.at(name.spot, text, hint);
        }
        for now in forms.iter().filter_map(|f| f.now) {
            let offers = match now {
                Value::OneOf(list) if !list.contains(&choice.0) => {
                    format!("one of {}", words::list(list, |v| plain(*v)))
                }
                Value::Between(lo, hi) if !(*lo <= choice.0 && choice.0 <= *hi) => {
                    format!("anything from {} to {}", plain(*lo), plain(*hi))
                }
                _ => continue,
            };
            if choice.0.is_finite() {
                let text = format!("{} is not a choice for {name:?}", plain(choice.0));
                out.at(
                    name.spot,
                    text,
                    Some(format!("the procedure allows {offers}")),
                );
            }
        }
    }
}

fn figures(job: &Job, procedures: &[&Procedure], out: &mut Defects) {
    for (name, _) in job.figures.iter() {
        let forms = forms(job, procedures, name.as_str());
        if forms.is_empty() {
            let hint = words::suggest(name.as_str(), "value", value_names(procedures));
            out.at(
                name.spot,
                format!("no procedure of this job has a value {name:?} that is missing"),
                hint,
            );
        } else if !forms
            .iter()
            .any(|f| f.all.iter().any(|v| matches!(v, Value::Missing(_))))
        {
            let offered = forms.iter().any(|f| {
                f.all
                    .iter()
                    .any(|v| matches!(v, Value::OneOf(_) | Value::Between(..)))
            });
            let text = format!("the value {name:?} is not missing: the procedure gives it");
            out.at(
                name.spot,
                text,
                offered.then(|| "choose it in `choose`".into()),
            );
        }
    }
}

fn measured(job: &Job, procedures: &[&Procedure], out: &mut Defects) {
    let asked: Vec<&str> = procedures.iter().flat_map(|p| p.measured.names()).collect();
    for (name, _) in job
        .measured
        .iter()
        .filter(|(n, _)| !asked.contains(&n.as_str()))
    {
        let hint = words::suggest(name.as_str(), "measured figure", asked.iter().copied());
        out.at(
            name.spot,
            format!("no procedure of this job asks for {name:?} to be measured"),
            hint,
        );
    }
}

/// Items of accepted findings must exist. String lines name their line's word, and level and readiness speak of more
/// than things, so their items are left alone.
fn accepted(accepted: &Accepted, known: &[String], out: &mut Defects) {
    if matches!(accepted.rule.as_str(), "floor-line" | "level" | "readiness") {
        return;
    }
    for item in &accepted.items {
        if !known.iter().any(|k| item == k.as_str()) {
            let item = Name {
                text: item.text.clone(),
                spot: item.spot,
            };
            out.unknown(&item, "thing", known.iter().map(String::as_str));
        }
    }
}

/// Everything a finding can be about.
fn items(
    bay: &Bay,
    vehicle: &Vehicle,
    equipment: &Equipment,
    procedures: &[&Procedure],
) -> Vec<String> {
    let mut all: Vec<String> = ["vehicle", "mirrors", "tyres", "ceiling"]
        .map(String::from)
        .to_vec();
    let mut add = |name: &str| all.push(name.to_owned());
    bay.fixtures.iter().for_each(|f| add(f.name.as_str()));
    bay.keep_clear.iter().for_each(|k| add(k.name.as_str()));
    bay.walls
        .iter()
        .filter_map(|w| w.name.as_ref())
        .for_each(|n| add(n.as_str()));
    (0..bay.floor.points.len()).for_each(|i| add(&format!("wall {i}")));
    for door in &bay.doorways {
        add(door.name.as_str());
        add(&format!("{} apron", door.name));
    }
    for lift in &bay.lifts {
        add(lift.name.as_str());
        (1..=lift.posts.len()).for_each(|i| add(&format!("{} post {i}", lift.name)));
    }
    bay.installed.iter().for_each(|i| add(i.name.as_str()));
    bay.floor_lines.iter().for_each(|l| add(l.name.as_str()));
    vehicle.sensors.names().for_each(&mut add);
    equipment.targets.names().for_each(&mut add);
    for p in procedures {
        p.measured
            .names()
            .chain(p.derived.names())
            .for_each(&mut add);
        p.needs.names().for_each(&mut add);
        p.marks.iter().for_each(|m| add(m.0.as_str()));
        p.zones.iter().for_each(|z| add(z.name.as_str()));
        for s in &p.setups {
            s.marks.iter().for_each(|m| add(m.0.as_str()));
            s.zones.iter().for_each(|z| add(z.name.as_str()));
            s.stations.iter().for_each(|x| {
                add(x.name.as_str());
                add(x.target.as_str());
            });
            s.sights.iter().for_each(|x| add(x.from.as_str()));
            s.needs.names().for_each(&mut add);
            for pair in s.mirrored.iter().flat_map(|m| m.swap.iter()) {
                add(pair.0.as_str());
                add(pair.1.as_str());
            }
        }
    }
    all.sort();
    all.dedup();
    all
}
