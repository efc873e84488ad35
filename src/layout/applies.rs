//! What of a procedure is laid out on this vehicle: both sides of its setups, conditions, sensors it lacks.

use super::mirror;
use super::rig::WhyLeftOut;
use super::solid::{Known, Missing, both};
use super::values::Values;
use crate::geometry::NOISE_MM;
use crate::model::faults::BUILT_IN_MARKS;
use crate::model::further::{OnlyIf, Sits};
use crate::model::language::{Construction, Feature, HeightRef, Looks, Zone};
use crate::model::uses::{Use, Uses};
use crate::model::{Name, Procedure, Vehicle, procedure};

/// Every setup with the marks and zones it shares with the others, each followed by its other side.
pub(super) fn both_sides(procedure: &Procedure) -> Vec<procedure::Setup> {
    let mut all = Vec::new();
    for setup in &procedure.setups {
        let whole = procedure::Setup {
            marks: procedure.marks.iter().chain(&setup.marks).cloned().collect(),
            zones: procedure
                .zones
                .iter()
                .filter(|z| can_have(procedure, setup, z))
                .chain(&setup.zones)
                .cloned()
                .collect(),
            ..setup.clone()
        };
        let other = whole.mirrored.as_ref().map(|m| mirror::other_side(procedure, &whole, m));
        all.push(whole);
        all.extend(other);
    }
    all
}

/// Whether a setup has every mark and station a shared zone speaks of.
fn can_have(procedure: &Procedure, setup: &procedure::Setup, zone: &Zone) -> bool {
    let marks = || procedure.marks.iter().chain(&setup.marks).map(|m| &m.0);
    zone.used().into_iter().all(|used| match used {
        Use::Mark(name) => BUILT_IN_MARKS.contains(&name.as_str()) || marks().any(|m| m == name),
        Use::Station(name) => setup.stations.iter().any(|s| s.name == *name),
        _ => true,
    })
}

/// Whether a setup or station applies: `None`, or why not.
pub(super) fn applies(
    values: &Values,
    vehicle: &Vehicle,
    only: &[Name],
    only_if: &Option<OnlyIf>,
) -> Known<Option<WhyLeftOut>> {
    if !only.is_empty() {
        let mut met = Ok(false);
        for variant in only {
            met = both(met, values.has_variant(variant)).map(|(a, b)| a || b);
        }
        if !met? {
            return Ok(Some(WhyLeftOut::OnlyWith(only.iter().map(|v| v.text.clone()).collect())));
        }
    }
    let Some(OnlyIf::SensorOn(name, sits)) = only_if else { return Ok(None) };
    let sensor = vehicle.sensors.get(name.as_str()).ok_or_else(|| Missing::one(name.text.clone()))?;
    let there = match sits {
        Sits::Left => sensor.at.y > NOISE_MM,
        Sits::Middle => sensor.at.y.abs() <= NOISE_MM,
        Sits::Right => sensor.at.y < -NOISE_MM,
    };
    Ok((!there).then(|| WhyLeftOut::OnlyWhere(name.text.clone(), *sits)))
}

/// The first sensor this procedure rests on that the vehicle is known to lack.
pub(super) fn lacking(procedure: &Procedure, without: &[Name]) -> Option<Name> {
    let lacks = |name: &Name| without.contains(name).then(|| name.clone());
    let of_feature = |f: &Feature| match f {
        Feature::Sensor(name) | Feature::Point(name) => lacks(name),
        _ => None,
    };
    for setup in &both_sides(procedure) {
        for mark in &setup.marks {
            if let Construction::Under(f) = &mark.1
                && let Some(name) = of_feature(f)
            {
                return Some(name);
            }
        }
        for station in &setup.stations {
            let by_height = match &station.height {
                Some(HeightRef::Level(f, _)) => of_feature(f),
                _ => None,
            };
            let by_look = match &station.looks {
                Some(Looks::AtSensor(name)) => lacks(name),
                _ => None,
            };
            if let Some(name) = by_height.or(by_look) {
                return Some(name);
            }
        }
        for sight in &setup.sights {
            if let Some(name) = lacks(&sight.from) {
                return Some(name);
            }
        }
    }
    None
}
