//! Everything that moves with the vehicle, in vehicle axes: it does not change when the vehicle is driven.

use std::sync::Arc;

use super::body::Body;
use super::marks::Marks;
use super::setup::{Moved, Setup};
use super::solid::{Known, Missing, both};
use super::strings::StringRun;
use super::values::Values;
use super::{earlier, mirror, pieces, stations};
use crate::model::further::OnlyIf;
use crate::model::language::{Construction, Feature, Hand, HeightRef, Looks};
use crate::model::{Bundle, Fault, FileOf, Name, Procedure, Spot, Vehicle, procedure};

#[derive(Clone, Debug, PartialEq)]
pub struct Rig {
    pub body: Body,
    pub setups: Vec<Setup>,
    /// Procedures that do not apply because the vehicle is known to lack a sensor: (procedure, sensor).
    pub without: Vec<(usize, Name)>,
    /// Setups and stations left out because their condition is not met, or cannot be told.
    pub left_out: Vec<LeftOut>,
    pub ways: Vec<Way>,
}

/// A setup or station that is not laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    pub procedure: usize,
    pub name: Arc<str>,
    /// Why it does not apply; or what would have to be known to tell.
    pub why: Result<String, Missing>,
}

/// One of the ways of doing a procedure: any one of them is enough.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    pub procedure: usize,
    pub name: Arc<str>,
    /// Indices into the rig's setups.
    pub setups: Vec<usize>,
    /// The job names it.
    pub named: bool,
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
        let mut build = Build {
            bundle,
            rig: Rig {
                body,
                setups: Vec::new(),
                without: Vec::new(),
                left_out: Vec::new(),
                ways: Vec::new(),
            },
            faults: Vec::new(),
        };
        for p in 0..bundle.procedures.len() {
            build.procedure(p);
        }
        if build.faults.is_empty() { Ok(build.rig) } else { Err(build.faults) }
    }
}

struct Build<'a> {
    bundle: &'a Bundle,
    rig: Rig,
    faults: Vec<Fault>,
}

impl Build<'_> {
    fn procedure(&mut self, p: usize) {
        let bundle = self.bundle;
        let procedure = &*bundle.procedures[p];
        if let Some(sensor) = lacking(procedure, &bundle.vehicle.without) {
            self.rig.without.push((p, sensor));
            return;
        }
        let Some(chosen) = bundle.job.procedures.get(p) else { return };
        let values = Values::new(procedure, chosen, &bundle.job);
        if let Some(d) = values.disagreement() {
            let text = format!("variants {:?} and {:?} give {:?} different values", d.first, d.second, d.value);
            self.refuse(FileOf::Job, (d.second.spot, text));
            return;
        }
        let first = self.rig.setups.len();
        for def in &procedure.setups {
            self.setup(p, &values, def.clone());
            if let Some(mirrored) = &def.mirrored {
                let other = mirror::other_side(def, mirrored, &procedure.pairs);
                self.setup(p, &values, other);
            }
        }
        for (name, names) in procedure.ways.iter() {
            let of_way = |s: &Setup| names.iter().any(|n| *n == *s.name);
            let laid = self.rig.setups.iter().enumerate().skip(first);
            self.rig.ways.push(Way {
                procedure: p,
                name: name.text.clone(),
                setups: laid.filter(|(_, s)| of_way(s)).map(|(i, _)| i).collect(),
                named: chosen.way.as_ref() == Some(name),
            });
        }
    }

    /// Lays out one setup where it applies; what has no solution becomes a fault and is left out.
    fn setup(&mut self, p: usize, values: &Values, def: procedure::Setup) {
        match applies(values, &self.bundle.vehicle, &def.only, &def.only_if) {
            Ok(None) => {}
            Ok(Some(why)) => {
                self.rig.left_out.push(LeftOut { procedure: p, name: def.name.text.clone(), why: Ok(why) });
                return;
            }
            Err(missing) => {
                self.rig.left_out.push(LeftOut { procedure: p, name: def.name.text, why: Err(missing) });
                return;
            }
        }
        let bundle = self.bundle;
        let procedure = &*bundle.procedures[p];
        let def = Arc::new(def);
        let body = self.rig.body.clone();
        let mut known = Marks::new(&bundle.vehicle, &body, &bundle.job, values);
        let mut setup = Setup {
            procedure: p,
            name: def.name.text.clone(),
            def: def.clone(),
            marks: Vec::new(),
            stations: Vec::new(),
            zones: Vec::new(),
            strings: Vec::new(),
            moved: None,
        };
        for mark in procedure.marks.iter().chain(&*def.marks) {
            match known.make(mark) {
                Ok(mark) => setup.marks.push(mark),
                Err(fault) => self.refuse(FileOf::Procedure(p), fault),
            }
        }
        for station in &def.stations {
            match applies(values, &bundle.vehicle, &station.only, &station.only_if) {
                Ok(None) => {}
                Ok(Some(why)) => {
                    let name = format!("{}: {}", def.name, station.name).into();
                    self.rig.left_out.push(LeftOut { procedure: p, name, why: Ok(why) });
                    continue;
                }
                Err(missing) => {
                    let name = format!("{}: {}", def.name, station.name).into();
                    self.rig.left_out.push(LeftOut { procedure: p, name, why: Err(missing) });
                    continue;
                }
            }
            let need = pieces::need(procedure, &def, station.target.as_str());
            let piece = pieces::find(&bundle.equipment, need, station.target.as_str());
            match stations::station(&known, piece, station) {
                Ok(station) => setup.stations.push(station),
                Err(fault) => self.refuse(FileOf::Procedure(p), fault),
            }
        }
        for zone in procedure.zones.iter().chain(&*def.zones) {
            match stations::zone(&known, &setup.stations, zone) {
                Ok(zone) => setup.zones.push(zone),
                Err(fault) => self.refuse(FileOf::Procedure(p), fault),
            }
        }
        for line in &def.lines {
            match StringRun::new(&known, line) {
                Ok(run) => setup.strings.push(run),
                Err(fault) => self.refuse(FileOf::Procedure(p), fault),
            }
        }
        match earlier::moved(&self.rig.setups, &setup) {
            Ok(None) => {}
            Ok(Some(moved)) => {
                setup = setup.place(&moved.frame, 0.0);
                setup.moved = Some(Moved { body: body.place(&moved.frame, 0.0), ..moved });
            }
            Err(fault) => self.refuse(FileOf::Procedure(p), fault),
        }
        self.rig.setups.push(setup);
    }

    fn refuse(&mut self, file: FileOf, (spot, text): (Spot, String)) {
        self.faults.push(Fault { file, spot, text, hint: None });
    }
}

/// Whether a setup or station applies: `None`, or why not.
fn applies(
    values: &Values,
    vehicle: &Vehicle,
    only: &[Name],
    only_if: &Option<OnlyIf>,
) -> Known<Option<String>> {
    if !only.is_empty() {
        let mut met = Ok(false);
        for variant in only {
            met = both(met, values.has_variant(variant)).map(|(a, b)| a || b);
        }
        if !met? {
            let names: Vec<String> = only.iter().map(|v| v.to_string()).collect();
            return Ok(Some(format!("only with {}", names.join(" or "))));
        }
    }
    let Some(OnlyIf::SensorOn(name, hand)) = only_if else { return Ok(None) };
    let sensor = vehicle.sensors.get(name.as_str()).ok_or_else(|| Missing::one(name.text.clone()))?;
    let (there, word) = match hand {
        Hand::Left => (sensor.at.y > 0.0, "left"),
        Hand::Right => (sensor.at.y < 0.0, "right"),
    };
    Ok((!there).then(|| format!("only where {name} sits on the {word}")))
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
