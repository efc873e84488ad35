//! Stations, zones and level demands that contradict themselves or have no extent.

use crate::model::figure::Figure;
use crate::model::language::{HeightRef, LevelAsk, Looks, Over, Zone, ZoneShape};
use crate::model::procedure::Station;
use crate::model::spot::{Name, Spot};

use super::Defects;
use super::marks::line;

pub(super) fn station(s: &Station, out: &mut Defects) {
    if s.looks.is_some() && s.faces.is_some() {
        let text = format!("the station {:?} gives `looks` and `faces`, which say the same thing", s.name);
        out.field(s.name.spot, "faces", text);
    }
    if s.anchor.is_some() && s.stands_by.is_some() {
        let text = format!("the station {:?} gives `anchor` and `stands_by`; only one can hold", s.name);
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

pub(super) fn zone(z: &Zone, out: &mut Defects) {
    if let Some((lo, hi)) = &z.z
        && above(lo, hi, out, |lo, hi| lo > hi)
    {
        out.at(lo.spot, format!("the zone {:?} ends below where it starts", z.name), None);
    }
    match &z.shape {
        ZoneShape::Strip { line: l, along, left, across, .. } => {
            line(l, out);
            rising(&along.0, &along.1, "`along`", out);
            if let Some((right, left)) = left {
                rising(right, left, "`left` (right edge first)", out);
            }
            if let Some(width) = across {
                positive(width, "`across`", out);
            }
            if left.is_some() == across.is_some() {
                let which = if left.is_some() { "both; only one can hold" } else { "neither" };
                let text =
                    format!("the strip of zone {:?} needs `left` or `across` and gives {which}", z.name);
                out.field(z.name.spot, "shape", text);
            }
        }
        ZoneShape::Fan { line: l, angles, reach, .. } => {
            line(l, out);
            rising(&angles.0, &angles.1, "`angles`", out);
            if above(&angles.0, &angles.1, out, |a, b| b - a > 360.0) {
                out.at(angles.0.spot, "a fan opens at most 360 degrees", None);
            }
            positive(reach, "`reach`", out);
        }
        ZoneShape::Fresnel { frequency_ghz, part, .. } => {
            positive(frequency_ghz, "`frequency_ghz`", out);
            if let Some(part) = part {
                positive(part, "`part`", out);
            }
        }
        ZoneShape::Around { stations, station, beside, above, below, behind, ahead } => {
            if stations.is_empty() && station.is_none() {
                let text =
                    format!("the zone {:?} is around nothing: it needs `stations` or `station`", z.name);
                out.field(z.name.spot, "shape", text);
            }
            for figure in [beside, above, below, behind, ahead].into_iter().flatten() {
                not_negative(figure, "a distance around a station", out);
            }
        }
        ZoneShape::AroundVehicle { ahead, behind, left, right } => {
            for figure in [ahead, behind, left, right] {
                not_negative(figure, "a distance around the vehicle", out);
            }
        }
        ZoneShape::Corners(marks) => {
            if marks.len() < 3 {
                let text = format!("the zone {:?} has {} corners and needs at least 3", z.name, marks.len());
                out.field(z.name.spot, "shape", text);
            }
            repeated(marks, "corner", out);
        }
        ZoneShape::Lane { from, to, width } => {
            if from == to && !from.as_str().is_empty() {
                out.at(to.spot, format!("a lane from {from:?} to {to:?} leads nowhere"), None);
            }
            positive(width, "`width`", out);
        }
        ZoneShape::NotRead(_) => {}
    }
}

pub(super) fn ask(level: &LevelAsk, setup: Spot, out: &mut Defects) {
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
            out.at(name.spot, format!("{name:?} is listed twice as a {what}"), None);
        }
    }
}

pub(super) fn positive(figure: &Figure, what: &str, out: &mut Defects) {
    if let Some(v) = out.plain(figure).filter(|v| *v <= 0.0) {
        out.at(figure.spot, format!("{what} must be above zero, found {}", super::plain(v)), None);
    }
}

fn not_negative(figure: &Figure, what: &str, out: &mut Defects) {
    if let Some(v) = out.plain(figure).filter(|v| *v < 0.0) {
        out.at(figure.spot, format!("{what} cannot be below zero, found {}", super::plain(v)), None);
    }
}

pub(super) fn rising(from: &Figure, to: &Figure, what: &str, out: &mut Defects) {
    if above(from, to, out, |a, b| a >= b) {
        out.at(from.spot, format!("the first figure of {what} must be below the second"), None);
    }
}

/// Whether the rule is broken by two plain figures; what rests on names is known only in a job.
fn above(a: &Figure, b: &Figure, out: &Defects, broken: impl Fn(f64, f64) -> bool) -> bool {
    matches!((out.plain(a), out.plain(b)), (Some(a), Some(b)) if broken(a, b))
}
