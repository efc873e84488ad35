//! What a procedure file says that cannot be used.

use crate::model::figure::Figure;
use crate::model::language::{HeightRef, LevelAsk, Looks, Over, Reach, Zone, ZoneShape};
use crate::model::procedure::{Procedure, Setup, Station};
use crate::model::spot::{Name, Spot};
use crate::model::uses::{Use, Uses};
use crate::model::words;

use super::marks::{Scope, line};
use super::{Defect, Defects, figures, further};

/// Names given twice or not there, marks used before they are made, values in a circle, parts that contradict each
/// other or have no extent. `whole`: nothing of the file was left out, so a name not found is truly not there.
pub fn procedure(p: &Procedure, whole: bool) -> Vec<Defect> {
    let mut out = Defects::default();
    if p.setups.is_empty() && whole {
        out.field(
            p.name.spot,
            "setups",
            "a procedure needs at least one setup",
        );
    }
    figures::values(p, &mut out);
    let mirrored = p.setups.iter().filter_map(|s| s.mirrored.as_ref());
    out.unique(
        "setup",
        p.setups
            .iter()
            .map(|s| &s.name)
            .chain(mirrored.map(|m| &m.name)),
    );
    let mut known = Scope::default();
    known.make(&p.marks, whole, &mut out);
    for z in &p.zones {
        zone(z, &mut out);
    }
    for s in &p.setups {
        setup(p, s, known.clone(), whole, &mut out);
    }
    if whole {
        shared_zones(p, &known, &mut out);
        let names = figures::known(p);
        every_figure(p, &mut |f| figures::figure(f, &names, &mut out));
        further::procedure(p, &mut out);
    }
    out.0
}

/// Shows every figure of the procedure's marks, zones, stations, levels and string lines.
pub(super) fn every_figure<'a>(p: &'a Procedure, see: &mut dyn FnMut(&'a Figure)) {
    every_use(p, &mut |used| {
        if let Use::Figure(figure) = used {
            see(figure);
        }
    });
}

/// Shows everything the procedure's parts refer to.
pub(super) fn every_use<'a>(p: &'a Procedure, see: &mut dyn FnMut(Use<'a>)) {
    let marks = p
        .marks
        .iter()
        .chain(p.setups.iter().flat_map(|s| s.marks.iter()));
    marks.for_each(|m| m.1.uses(see));
    p.zones.iter().for_each(|z| z.uses(see));
    p.setups.iter().for_each(|s| s.uses(see));
}

fn setup<'a>(p: &'a Procedure, s: &'a Setup, mut marks: Scope<'a>, whole: bool, out: &mut Defects) {
    marks.make(&s.marks, whole, out);
    out.unique("station of this setup", s.stations.iter().map(|x| &x.name));
    out.unique(
        "zone of this setup",
        p.zones.iter().chain(s.zones.iter()).map(|x| &x.name),
    );
    s.stations.iter().for_each(|x| station(x, out));
    s.zones.iter().for_each(|z| zone(z, out));
    if let Some(level) = &s.level {
        ask(level, s.name.spot, out);
    }
    for string in &s.lines {
        line(&string.line, out);
        match &string.reach {
            Reach::Forward(reach) => positive(reach, "the reach of a string line", out),
            Reach::Both(back, forward) => rising(back, forward, "the reach", out),
        }
    }
    if whole {
        let stations: Vec<&str> = s.stations.iter().map(|x| x.name.as_str()).collect();
        let zones: Vec<&str> = p
            .zones
            .iter()
            .chain(s.zones.iter())
            .map(|z| z.name.as_str())
            .collect();
        s.uses(&mut |used| match used {
            Use::Station(name) if !stations.contains(&name.as_str()) => {
                out.unknown(name, "station in this setup", stations.iter().copied());
            }
            // it may be a point of the bay or the vehicle, but a slip of the pen is told
            Use::Seen(name)
                if !stations.contains(&name.as_str())
                    && !zones.contains(&name.as_str())
                    && !marks.has(name.as_str())
                    && words::nearest(name.as_str(), stations.iter().copied()).is_some() =>
            {
                out.unknown(name, "station in this setup", stations.iter().copied());
            }
            Use::Zone(name) if !zones.contains(&name.as_str()) => {
                out.unknown(name, "zone in this setup", zones.iter().copied());
            }
            _ => {}
        });
        marks.check(s, out);
        further::setup(p, s, &marks, out);
    }
}

/// Zones known to every setup may use a setup's own marks and stations: some setup must have them.
fn shared_zones(p: &Procedure, known: &Scope, out: &mut Defects) {
    let setups = p.setups.iter();
    let marks: Vec<&str> = setups
        .clone()
        .flat_map(|s| s.marks.iter())
        .map(|m| m.0.as_str())
        .collect();
    let stations: Vec<&str> = setups
        .flat_map(|s| s.stations.iter())
        .map(|s| s.name.as_str())
        .collect();
    for zone in &p.zones {
        for used in zone.used() {
            match used {
                Use::Mark(m) if !known.has(m.as_str()) && !marks.contains(&m.as_str()) => {
                    out.unknown(m, "mark", marks.iter().copied());
                }
                Use::Station(s) if !stations.contains(&s.as_str()) => {
                    out.unknown(s, "station", stations.iter().copied());
                }
                _ => {}
            }
        }
    }
}

fn station(s: &Station, out: &mut Defects) {
    if s.looks.is_some() && s.faces.is_some() {
        let text = format!(
            "the station {:?} gives `looks` and `faces`, which say the same thing",
            s.name
        );
        out.field(s.name.spot, "faces", text);
    }
    if s.anchor.is_some() && s.stands_by.is_some() {
        let text = format!(
            "the station {:?} gives `anchor` and `stands_by`; only one can hold",
            s.name
        );
        out.field(s.name.spot, "stands_by", text);
    }
    if let Some(Looks::Along(l) | Looks::Against(l)) = &s.looks {
        line(l, out);
    }
    if let Some(l) = &s.faces {
        line(l, out);
    }
    if let Some(HeightRef::Floor(height)) = &s.height {
        not_negative(height, "a height above the floor", out);
    }
    let t = &s.tolerance;
    let parts = [&t.along, &t.across, &t.turn, &t.roll, &t.tilt, &t.up];
    for figure in parts.into_iter().flatten() {
        not_negative(figure, "a tolerance", out);
    }
}

fn zone(z: &Zone, out: &mut Defects) {
    if let Some((lo, hi)) = &z.z
        && above(lo, hi, |lo, hi| lo > hi)
    {
        out.at(
            lo.spot,
            format!("the zone {:?} ends below where it starts", z.name),
            None,
        );
    }
    match &z.shape {
        ZoneShape::Strip {
            line: l,
            along,
            left,
            across,
            ..
        } => {
            line(l, out);
            rising(&along.0, &along.1, "`along`", out);
            if let Some((right, left)) = left {
                rising(right, left, "`left` (right edge first)", out);
            }
            if let Some(width) = across {
                positive(width, "`across`", out);
            }
            if left.is_some() == across.is_some() {
                let which = if left.is_some() {
                    "both; only one can hold"
                } else {
                    "neither"
                };
                let text = format!(
                    "the strip of zone {:?} needs `left` or `across` and gives {which}",
                    z.name
                );
                out.field(z.name.spot, "shape", text);
            }
        }
        ZoneShape::Fan {
            line: l,
            angles,
            reach,
            ..
        } => {
            line(l, out);
            rising(&angles.0, &angles.1, "`angles`", out);
            if above(&angles.0, &angles.1, |a, b| b - a > 360.0) {
                out.at(angles.0.spot, "a fan opens at most 360 degrees", None);
            }
            positive(reach, "`reach`", out);
        }
        ZoneShape::Around {
            stations,
            station,
            beside,
            above,
            below,
            behind,
            ahead,
        } => {
            if stations.is_empty() && station.is_none() {
                let text = format!(
                    "the zone {:?} is around nothing: it needs `stations` or `station`",
                    z.name
                );
                out.field(z.name.spot, "shape", text);
            }
            for figure in [beside, above, below, behind, ahead].into_iter().flatten() {
                not_negative(figure, "a distance around a station", out);
            }
        }
        ZoneShape::AroundVehicle {
            ahead,
            behind,
            left,
            right,
        } => {
            for figure in [ahead, behind, left, right] {
                not_negative(figure, "a distance around the vehicle", out);
            }
        }
        ZoneShape::Corners(marks) => {
            if marks.len() < 3 {
                let text = format!(
                    "the zone {:?} has {} corners and needs at least 3",
                    z.name,
                    marks.len()
                );
                out.field(z.name.spot, "shape", text);
            }
            repeated(marks, "corner", out);
        }
        ZoneShape::Lane { from, to, width } => {
            if from == to && !from.as_str().is_empty() {
                out.at(
                    to.spot,
                    format!("a lane from {from:?} to {to:?} leads nowhere"),
                    None,
                );
            }
            positive(width, "`width`", out);
        }
        ZoneShape::Fresnel { frequency_ghz, part, .. } => {
            positive(frequency_ghz, "a frequency", out);
            part.iter().for_each(|f| positive(f, "the part of a Fresnel zone", out));
        }
        ZoneShape::NotRead(_) => {}
    }
}

fn ask(level: &LevelAsk, setup: Spot, out: &mut Defects) {
    if let Some(within) = &level.within {
        not_negative(within, "`within`", out);
    }
    if let Over::Marks(marks) = &level.over {
        if marks.is_empty() {
            out.field(setup, "level", "`over: Marks` needs at least one mark");
        }
        repeated(marks, "mark", out);
    }
}

fn repeated(names: &[Name], what: &str, out: &mut Defects) {
    for (i, name) in names.iter().enumerate() {
        if names[..i].contains(name) && !name.as_str().is_empty() {
            out.at(
                name.spot,
                format!("{name:?} is listed twice as a {what}"),
                None,
            );
        }
    }
}

fn positive(figure: &Figure, what: &str, out: &mut Defects) {
    if let Some(v) = figure.plain().filter(|v| *v <= 0.0) {
        out.at(
            figure.spot,
            format!("{what} must be above zero, found {}", super::plain(v)),
            None,
        );
    }
}

fn not_negative(figure: &Figure, what: &str, out: &mut Defects) {
    if let Some(v) = figure.plain().filter(|v| *v < 0.0) {
        out.at(
            figure.spot,
            format!("{what} cannot be below zero, found {}", super::plain(v)),
            None,
        );
    }
}

fn rising(from: &Figure, to: &Figure, what: &str, out: &mut Defects) {
    if above(from, to, |a, b| a >= b) {
        out.at(
            from.spot,
            format!("the first figure of {what} must be below the second"),
            None,
        );
    }
}

/// Whether the rule is broken by two plain figures; what rests on names is known only in a job.
fn above(a: &Figure, b: &Figure, broken: impl Fn(f64, f64) -> bool) -> bool {
    matches!((a.plain(), b.plain()), (Some(a), Some(b)) if broken(a, b))
}
