//! What a file probably did not mean to say: doubts, not faults. The file can be used as it stands.

mod further;
mod lines;

use std::collections::BTreeSet;

use crate::geometry::P2;
use crate::model::bay::{Bay, SpotHeight, Surface};
use crate::model::figure::Value;
use crate::model::further::Derived;
use crate::model::job::{FileOf, Job};
use crate::model::language::Construction;
use crate::model::procedure::{MarkDef, Procedure, SYSTEMS};
use crate::model::spot::Name;
use crate::model::uses::{Use, every_use};
use crate::model::vehicle::Vehicle;
use crate::model::words;

use super::bundle::Parts;
use super::procedure::every_figure;
use super::{Defect, Defects, POINTS, SENSORS, plain};

/// Fixtures without heights, that say they hang and stand at once, or have no thickness; a bay without a
/// ceiling.
pub fn bay(bay: &Bay) -> Vec<Defect> {
    let mut out = Defects::default();
    for f in &bay.fixtures {
        let name = &f.name;
        match f.z {
            None if f.overhead => {
                let text =
                    format!("{name:?} hangs overhead but has no `z`, so it stands on the floor without end");
                out.at(name.spot, text, Some("give its lower and upper edge".into()));
            }
            None => {
                let text = format!("{name:?} has no `z`, so it stands on the floor without end");
                let flush = f.surface.contains(&Surface::Drain);
                let hint =
                    if flush { "what lies flush has z: (0, 0)" } else { "give its lower and upper edge" };
                out.at(name.spot, text, Some(hint.into()));
            }
            Some((lo, hi)) if f.overhead && lo <= 0.0 => {
                let text = format!("{name:?} hangs overhead but reaches down to {}", plain(lo));
                out.field(name.spot, "z", text + if hi <= 0.0 { ", into the floor" } else { "" });
            }
            Some((lo, hi)) if lo == hi && lo > 0.0 => {
                let text = format!(
                    "{name:?} has no thickness: it starts and ends at {}, and is judged as 1 mm thick",
                    plain(lo)
                );
                out.field(name.spot, "z", text);
            }
            _ => {}
        }
    }
    if bay.ceiling.is_none() {
        let text = "the bay gives no `ceiling`, so what is left above the vehicle stays unknown";
        out.at(bay.name.spot, text, None);
    }
    let off = |s: &&SpotHeight| !bay.has_floor_at(P2::new(s.0, s.1));
    let mut off = bay.heights.iter().filter(off);
    if let Some(first) = off.next() {
        let more = off.count();
        let and = if more == 0 { String::new() } else { format!(", and {more} more") };
        let text = format!(
            "the floor at ({}, {}) is surveyed{and}, but lies neither on the floor nor on an apron",
            plain(first.0),
            plain(first.1)
        );
        out.field(bay.name.spot, "heights", text);
    }
    out.0
}

/// Tracks wider than the body, tyres that meet, names off the agreed lists.
pub fn vehicle(v: &Vehicle) -> Vec<Defect> {
    let mut out = Defects::default();
    for (track, which) in [(v.track.front, "front"), (v.track.rear, "rear")] {
        let over = track + v.tyre.width;
        if over > v.width + 100.0 {
            let text = format!(
                "the {which} wheels are {} wide over their outer faces, the body {}",
                plain(over),
                plain(v.width)
            );
            out.field(v.name.spot, "track", text);
        }
        if v.tyre.width >= track {
            out.field(v.name.spot, "tyre", format!("the {which} tyres are wider than their track"));
        }
    }
    if v.tyre.diameter >= v.wheelbase {
        out.field(v.name.spot, "tyre", "the front and rear tyres overlap");
    }
    v.sensors.iter().for_each(|(name, _)| sensor(name, &mut out));
    v.without.iter().for_each(|name| sensor(name, &mut out));
    v.points.iter().for_each(|(name, _)| point(name, &mut out));
    out.0
}

/// Steps sideways from a mark that is not on the line, names off the agreed lists, what nobody uses or changes.
pub fn procedure(p: &Procedure) -> Vec<Defect> {
    let mut out = Defects::default();
    if let Some(system) = p.system.as_ref().map(|w| &w.0)
        && !SYSTEMS.contains(&system.as_str())
    {
        let text = format!("{system:?} is not among the agreed names of a system");
        out.at(system.spot, text, words::suggest(system.as_str(), "system", SYSTEMS.iter().copied()));
    }
    steps(p, &mut out);
    every_use(p, &mut |used| match used {
        Use::Sensor(name) => sensor(name, &mut out),
        Use::Point(name) => point(name, &mut out),
        _ => {}
    });
    out.0.dedup();
    unused_values(p, &mut out);
    unused_marks(p, &mut out);
    further::procedure(p, &mut out);
    for (name, table) in p.variants.iter() {
        let changes =
            further::decides(p, name) || table.iter().any(|(n, v)| p.values.get(n.as_str()) != Some(v));
        if !changes {
            out.at(name.spot, format!("the variant {name:?} changes nothing"), None);
        }
    }
    out.0
}

/// A job without procedures, findings accepted or figures given without saying why or from where.
pub fn job(job: &Job) -> Vec<Defect> {
    let mut out = Defects::default();
    if job.procedures.is_empty() {
        out.field(job.name.spot, "procedures", "this job has no procedure: only the vehicle is judged");
    }
    for a in &job.accepted {
        if a.reason.trim().is_empty() {
            out.at(a.rule.spot, format!("a finding of {} is accepted without a reason", a.rule), None);
        }
    }
    for (name, found) in job.figures.iter() {
        if found.from.trim().is_empty() {
            let hint = Some("say in `from` who read it where".into());
            out.at(name.spot, format!("the figure {name:?} has no source"), hint);
        }
    }
    out.0
}

/// Targets the equipment file has not.
pub fn bundle(parts: &Parts) -> Vec<(FileOf, Defect)> {
    let Some(equipment) = parts.equipment else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for (i, p) in parts.procedures.iter().enumerate() {
        let mut out = Defects::default();
        for s in p.iter().flat_map(|p| p.setups.iter()).flat_map(|s| s.stations.iter()) {
            if !further::owned(equipment, s.target.as_str()) {
                let hint = words::suggest(s.target.as_str(), "target", equipment.targets.names());
                let text = format!("the equipment {:?} has no target {:?}", equipment.name, s.target);
                out.at(s.target.spot, text, hint);
            }
        }
        all.extend(out.0.into_iter().map(|d| (FileOf::Procedure(i), d)));
    }
    all.extend(further::bundle(parts, equipment));
    all
}

fn sensor(name: &Name, out: &mut Defects) {
    if !SENSORS.contains(&name.as_str()) {
        unlisted(name, "sensor", SENSORS, out);
    }
}

fn point(name: &Name, out: &mut Defects) {
    if !POINTS.contains(&name.as_str()) {
        unlisted(name, "point", POINTS, out);
    }
}

fn unlisted(name: &Name, what: &str, known: &[&str], out: &mut Defects) {
    if !name.as_str().is_empty() {
        let text = format!("{name:?} is not among the agreed names of a {what}");
        let near = words::nearest(name.as_str(), known.iter().copied());
        let hint = near.map(|n| format!("did you mean {n:?}?"));
        out.at(name.spot, text, hint.or(Some("vehicle and procedure must spell it alike".into())));
    }
}

fn steps(p: &Procedure, out: &mut Defects) {
    let setups = p.setups.iter().map(|s| s.marks.as_slice());
    for (i, marks) in std::iter::once(&[] as &[MarkDef]).chain(setups).enumerate() {
        let known: Vec<&MarkDef> = p.marks.iter().chain(marks).collect();
        let own = if i == 0 { 0 } else { p.marks.len() };
        for (at, MarkDef(name, how)) in known.iter().enumerate().skip(own) {
            if let Construction::Off { line, from, .. } = how
                && !lines::holds(line, from.as_str(), &known[..at])
            {
                let text = format!("{name:?} steps off from {from:?}, which need not be on that line");
                let hint = "`Off` starts at the mark itself; `Place` starts at its foot on the line";
                out.at(from.spot, text, Some(hint.into()));
            }
        }
    }
}

fn unused_values(p: &Procedure, out: &mut Defects) {
    let mut used: BTreeSet<&str> = BTreeSet::new();
    every_figure(p, &mut |figure| used.extend(figure.names()));
    for (_, Derived::Mean(readings)) in p.derived.iter() {
        used.extend(readings.iter().map(Name::as_str));
    }
    used.extend(p.pick.iter().map(|pick| pick.by.as_str()));
    let variants = p.variants.iter().map(|(_, t)| t);
    for (_, value) in std::iter::once(&p.values).chain(variants).flat_map(|t| t.iter()) {
        if let Value::Is(figure) = value {
            used.extend(figure.names());
        }
    }
    for (name, _) in p.values.iter().filter(|(n, _)| !used.contains(n.as_str())) {
        out.at(name.spot, format!("nothing uses the value {name:?}"), None);
    }
    for (name, ask) in p.measured.iter() {
        if ask.between.is_none() && ask.is.is_none() && !used.contains(name.as_str()) {
            let text = format!("nothing uses the measured figure {name:?}, and it has no band to be in");
            out.at(name.spot, text, None);
        }
    }
}

fn unused_marks(p: &Procedure, out: &mut Defects) {
    let mut used: BTreeSet<&str> = BTreeSet::new();
    every_use(p, &mut |u| {
        if let Use::Mark(name) = u {
            used.insert(name.as_str());
        }
    });
    let marks = p.marks.iter().chain(p.setups.iter().flat_map(|s| s.marks.iter()));
    for MarkDef(name, _) in marks.filter(|m| !used.contains(m.0.as_str())) {
        out.at(name.spot, format!("nothing uses the mark {name:?}"), None);
    }
}
