//! Everything that moves with the vehicle, in vehicle axes: it does not change when the vehicle is driven.

use std::sync::Arc;

use super::body::Body;
use super::marks::Marks;
use super::setup::Setup;
use super::stations;
use super::values::Values;
use crate::model::language::{Construction, Feature, HeightRef, Looks};
use crate::model::{Bundle, Fault, FileOf, Name, Procedure, Spot, procedure};

#[derive(Clone, Debug, PartialEq)]
pub struct Rig {
    pub body: Body,
    pub setups: Vec<Setup>,
    /// Procedures that do not apply because the vehicle is known to lack a sensor: (procedure, sensor).
    pub without: Vec<(usize, Name)>,
}

impl Rig {
    pub fn new(bundle: &Bundle) -> Result<Rig, Vec<Fault>> {
        let vehicle = &*bundle.vehicle;
        let body = Body::new(vehicle).map_err(|fault| {
            vec![Fault {
                file: FileOf::Vehicle,
                spot: Spot::default(),
                text: format!("the vehicle cannot be drawn: {fault}"),
                hint: None,
            }]
        })?;
        let mut rig = Rig {
            body,
            setups: Vec::new(),
            without: Vec::new(),
        };
        let mut faults = Vec::new();
        for (p, procedure) in bundle.procedures.iter().enumerate() {
            if let Some(sensor) = lacking(procedure, &vehicle.without) {
                rig.without.push((p, sensor));
                continue;
            }
            let Some(chosen) = bundle.job.procedures.get(p) else { continue };
            let values = Values::new(procedure, chosen, &bundle.job);
            for def in &procedure.setups {
                let def = Arc::new(def.clone());
                let laid = lay(bundle, &rig.body, &values, p, def, &mut faults);
                rig.setups.push(laid);
            }
        }
        if faults.is_empty() { Ok(rig) } else { Err(faults) }
    }
}

/// Lays out one setup; what has no solution becomes a fault and is left out.
fn lay(bundle: &Bundle, body: &Body, values: &Values, p: usize, def: Arc<procedure::Setup>, faults: &mut Vec<Fault>) -> Setup {
    let procedure = &*bundle.procedures[p];
    let mut refuse = |(spot, text): (Spot, String)| {
        faults.push(Fault {
            file: FileOf::Procedure(p),
            spot,
            text,
            hint: None,
        });
    };
    let mut known = Marks::new(&bundle.vehicle, body, &bundle.job, values);
    let mut setup = Setup {
        procedure: p,
        name: def.name.text.clone(),
        def: def.clone(),
        marks: Vec::new(),
        stations: Vec::new(),
        zones: Vec::new(),
    };
    for mark in procedure.marks.iter().chain(&*def.marks) {
        match known.make(mark) {
            Ok(mark) => setup.marks.push(mark),
            Err(fault) => refuse(fault),
        }
    }
    for station in &def.stations {
        match stations::station(&known, &bundle.equipment, station) {
            Ok(station) => setup.stations.push(station),
            Err(fault) => refuse(fault),
        }
    }
    for zone in procedure.zones.iter().chain(&*def.zones) {
        match stations::zone(&known, &setup.stations, zone) {
            Ok(zone) => setup.zones.push(zone),
            Err(fault) => refuse(fault),
        }
    }
    setup
}

/// The first sensor this procedure rests on that the vehicle is known to lack.
fn lacking(procedure: &Procedure, without: &[Name]) -> Option<Name> {
    let lacks = |name: &Name| without.contains(name).then(|| name.clone());
    let of_feature = |f: &Feature| match f {
        Feature::Sensor(name) | Feature::Point(name) => lacks(name),
        _ => None,
    };
    for setup in &procedure.setups {
        for mark in procedure.marks.iter().chain(&*setup.marks) {
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
