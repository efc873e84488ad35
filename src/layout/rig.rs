//! Everything that moves with the vehicle, in vehicle axes: it does not change when the vehicle is driven.

use std::sync::Arc;

use super::applies::{applies, both_sides, lacking};
use super::body::Body;
use super::marks::Marks;
use super::setup::{Moved, Setup};
use super::solid::Missing;
use super::strings::StringRun;
use super::values::Values;
use super::{earlier, pieces, stations};
use crate::model::further::{FixedTo, Sits};
use crate::model::language::ZoneShape;
use crate::model::{Bundle, Fault, FileOf, Name, Spot, procedure};

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
    pub why: Result<WhyLeftOut, Missing>,
}

/// Why a setup or station does not apply.
#[derive(Clone, Debug, PartialEq)]
pub enum WhyLeftOut {
    /// It is for these variants.
    OnlyWith(Vec<Arc<str>>),
    /// It is for vehicles whose sensor sits there.
    OnlyWhere(Arc<str>, Sits),
    /// Its targets stay from a setup that is left out.
    StaysFrom(Arc<str>),
}

/// One of the ways of doing a procedure: any one of them is enough.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    pub procedure: usize,
    pub name: Arc<str>,
    /// Indices into the rig's setups; those that do not apply are left out.
    pub setups: Vec<usize>,
    /// What would have to be known to tell whether others of its setups apply.
    pub missing: Missing,
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
            let text =
                format!("variants {:?} and {:?} give {:?} different values", d.first, d.second, d.value);
            self.refuse(FileOf::Job, (d.second.spot, text));
            return;
        }
        let first = self.rig.setups.len();
        for def in both_sides(procedure) {
            self.setup(p, &values, def);
        }
        for (name, names) in procedure.ways.iter() {
            let of_way = |s: &str| names.iter().any(|n| n == s);
            let laid = self.rig.setups.iter().enumerate().skip(first);
            let missing = self.rig.left_out.iter().filter(|l| l.procedure == p && of_way(&l.name));
            let unknown = missing.filter_map(|l| l.why.as_ref().err());
            self.rig.ways.push(Way {
                procedure: p,
                name: name.text.clone(),
                setups: laid.filter(|(_, s)| of_way(&s.name)).map(|(i, _)| i).collect(),
                missing: unknown.fold(Missing::default(), Missing::and),
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
        if let Some(why) = self.after_left_out(p, &def) {
            self.rig.left_out.push(LeftOut { procedure: p, name: def.name.text, why });
            return;
        }
        let bundle = self.bundle;
        let procedure = &*bundle.procedures[p];
        let def = Arc::new(self.applying(p, values, def));
        let body = self.rig.body.clone();
        let mut known = Marks::new(&bundle.vehicle, &body, &bundle.job, values);
        let mut setup = Setup {
            procedure: p,
            name: def.name.text.clone(),
            def: def.clone(),
            marks: Vec::new(),
            given: known.given(),
            stations: Vec::new(),
            zones: Vec::new(),
            strings: Vec::new(),
            moved: None,
        };
        for mark in &def.marks {
            match known.make(mark) {
                Ok(mark) => setup.marks.push(mark),
                Err(fault) => self.refuse(FileOf::Procedure(p), fault),
            }
        }
        for station in &def.stations {
            let need = pieces::need(procedure, &def, station.target.as_str());
            let piece = pieces::find(&bundle.equipment, need, station.target.as_str());
            match stations::station(&known, piece, station) {
                Ok(station) => setup.stations.push(station),
                Err(fault) => self.refuse(FileOf::Procedure(p), fault),
            }
        }
        for zone in &def.zones {
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
                setup = setup.moved_by(&moved.frame);
                setup.moved = Some(Moved { body: body.place(&moved.frame, 0.0), ..moved });
            }
            Err(fault) => self.refuse(FileOf::Procedure(p), fault),
        }
        self.rig.setups.push(setup);
    }

    /// Why a setup whose targets stay from a setup that is left out is left out too.
    fn after_left_out(&self, p: usize, def: &procedure::Setup) -> Option<Result<WhyLeftOut, Missing>> {
        let earlier = def.stations.iter().filter_map(|s| match &s.fixed_to {
            Some(FixedTo::Earlier(name)) => Some(name),
            _ => None,
        });
        let of = |name: &Name| self.rig.left_out.iter().find(|l| l.procedure == p && *name == *l.name);
        earlier.filter_map(of).next().map(|left| match &left.why {
            Ok(_) => Ok(WhyLeftOut::StaysFrom(left.name.clone())),
            Err(missing) => Err(missing.clone()),
        })
    }

    /// The setup without the stations that do not apply, and without what speaks of them alone.
    fn applying(&mut self, p: usize, values: &Values, mut def: procedure::Setup) -> procedure::Setup {
        let mut gone: Vec<Name> = Vec::new();
        for station in &def.stations {
            let why = match applies(values, &self.bundle.vehicle, &station.only, &station.only_if) {
                Ok(None) => continue,
                Ok(Some(why)) => Ok(why),
                Err(missing) => Err(missing),
            };
            let name = format!("{}: {}", def.name, station.name).into();
            self.rig.left_out.push(LeftOut { procedure: p, name, why });
            gone.push(station.name.clone());
        }
        def.stations.retain(|s| !gone.contains(&s.name));
        def.sights.retain(|s| !gone.contains(&s.to));
        def.zones.retain_mut(|zone| match &mut zone.shape {
            ZoneShape::Around { stations, station, .. } => {
                let some = !stations.is_empty() || station.is_some();
                stations.retain(|s| !gone.contains(s));
                *station = station.take().filter(|s| !gone.contains(s));
                !some || !stations.is_empty() || station.is_some()
            }
            ZoneShape::Fresnel { to, .. } => !gone.contains(to),
            _ => true,
        });
        def
    }

    fn refuse(&mut self, file: FileOf, (spot, text): (Spot, String)) {
        self.faults.push(Fault { file, spot, text, hint: None });
    }
}
