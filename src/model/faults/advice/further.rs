//! Doubts about the further parts of the language.

use crate::model::equipment::Equipment;
use crate::model::job::FileOf;
use crate::model::language::ZoneShape;
use crate::model::procedure::Procedure;
use crate::model::spot::Name;
use crate::model::words;

use super::super::bundle::Parts;
use super::super::procedure::every_figure;
use super::super::{BUILT_IN_MARKS, Defect, Defects, figures};

/// Needs of targets nobody sets, printed figures nobody has, zones without area, ways that leave a setup to every way.
pub(super) fn procedure(p: &Procedure, out: &mut Defects) {
    let targets = || p.setups.iter().flat_map(|s| s.stations.iter()).map(|s| s.target.as_str());
    for (name, _) in p.needs.iter() {
        needed(name, targets(), out);
    }
    for setup in &p.setups {
        for (name, _) in setup.needs.iter() {
            needed(name, setup.stations.iter().map(|s| s.target.as_str()), out);
        }
    }
    let known = figures::known(p);
    for (name, _) in p.printed.iter().filter(|(n, _)| !known.contains(&n.as_str())) {
        let hint = words::suggest(name.as_str(), "figure", known.iter().copied());
        out.at(name.spot, format!("{name:?} is printed some way but is no figure of this procedure"), hint);
    }
    let mut used: Vec<&str> = p.pick.iter().map(|pick| pick.by.as_str()).collect();
    every_figure(p, &mut |figure| used.extend(figure.names()));
    for (name, _) in p.derived.iter().filter(|(n, _)| !used.contains(&n.as_str())) {
        out.at(name.spot, format!("nothing uses the average {name:?}"), None);
    }
    if let Some(pair) = p.pairs.first().filter(|_| p.setups.iter().all(|s| s.mirrored.is_none())) {
        out.at(pair.0.spot, "`pairs` are named, but no setup is `mirrored`", None);
    }
    for setup in &p.setups {
        let marks =
            p.marks.iter().chain(&setup.marks).map(|m| m.0.as_str()).chain(BUILT_IN_MARKS.iter().copied());
        let own: Vec<&str> = marks.chain(setup.stations.iter().map(|s| s.name.as_str())).collect();
        for pair in setup.mirrored.iter().flat_map(|m| m.swap.iter()) {
            if own.contains(&pair.0.as_str()) && !own.contains(&pair.1.as_str()) {
                let text = format!("{:?} is called {:?} on the other side only", pair.0, pair.1);
                let hint = "this side has no mark or station of that name: is it spelt as it should be?";
                out.at(pair.1.spot, text, Some(hint.into()));
            }
        }
    }
    let zones = p.zones.iter().chain(p.setups.iter().flat_map(|s| s.zones.iter()));
    for zone in zones.filter(|z| no_area(&z.shape)) {
        out.at(zone.name.spot, format!("the zone {:?} has no area", zone.name), None);
    }
    overlaps(p, out);
}

/// Installed targets the shop has not, and a market no procedure speaks of.
pub(super) fn bundle(parts: &Parts, equipment: &Equipment) -> Vec<(FileOf, Defect)> {
    let mut bay = Defects::default();
    for thing in parts.bay.iter().flat_map(|b| b.installed.iter()) {
        if !owned(equipment, thing.target.as_str()) {
            let hint = words::suggest(thing.target.as_str(), "target", equipment.targets.names());
            let text = format!("the equipment {:?} has no target {:?}", equipment.name, thing.target);
            bay.at(thing.target.spot, text, hint);
        }
    }
    let mut job = Defects::default();
    let markets: Vec<&str> =
        parts.procedures.iter().flatten().flat_map(|p| p.vehicle_state_in.names()).collect();
    if let Some(market) = parts.job.market.as_ref().filter(|m| !markets.contains(&m.as_str())) {
        let text = format!("no procedure of this job speaks of the market {market:?}");
        job.at(market.spot, text, words::suggest(market.as_str(), "market", markets));
    }
    let of = |file, defects: Defects| defects.0.into_iter().map(move |d| (file, d));
    of(FileOf::Bay, bay).chain(of(FileOf::Job, job)).collect()
}

/// Whether the shop has a target of this name, or one that serves for it.
pub(super) fn owned(equipment: &Equipment, name: &str) -> bool {
    equipment.targets.iter().any(|(n, t)| n == name || t.serves.iter().any(|s| s == name))
}

/// Whether a variant decides what is set up or what a person is told.
pub(super) fn decides(p: &Procedure, variant: &Name) -> bool {
    let setups = p.setups.iter().flat_map(|s| s.only.iter());
    let stations = p.setups.iter().flat_map(|s| s.stations.iter()).flat_map(|s| s.only.iter());
    setups.chain(stations).any(|n| n == variant) || p.vehicle_state_in.get(variant.as_str()).is_some()
}

fn needed<'a>(name: &Name, targets: impl Iterator<Item = &'a str>, out: &mut Defects) {
    let targets: Vec<&str> = targets.collect();
    if !targets.contains(&name.as_str()) {
        let hint = words::suggest(name.as_str(), "target set up here", targets);
        out.at(
            name.spot,
            format!("nothing that is set up is a {name:?}, so what it needs is not asked"),
            hint,
        );
    }
}

/// Shapes of plain figures that cover nothing; others are faults already or rest on names.
fn no_area(shape: &ZoneShape) -> bool {
    match shape {
        ZoneShape::AroundVehicle { ahead, behind, left, right } => {
            [ahead, behind, left, right].iter().all(|f| f.plain() == Some(0.0))
        }
        ZoneShape::Around { beside: Some(beside), above: Some(above), below: Some(below), .. } => {
            [beside, above, below].iter().all(|f| f.plain() == Some(0.0))
        }
        _ => false,
    }
}

/// Bands that share more than an edge: the first listed counts, which may not be meant.
fn overlaps(p: &Procedure, out: &mut Defects) {
    let Some(pick) = &p.pick else { return };
    if pick.from.is_empty() {
        out.at(pick.by.spot, format!("{:?} picks from no bands", pick.by), None);
    }
    for (i, band) in pick.from.iter().enumerate() {
        if let Some(other) = pick.from[..i].iter().find(|o| o.0 < band.1 && band.0 < o.1) {
            let text = format!("the bands of {:?} and {:?} overlap", other.2, band.2);
            out.at(band.2.spot, text, Some("where they do, the first listed counts".into()));
        }
    }
}
