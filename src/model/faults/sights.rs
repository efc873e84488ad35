//! The ends of sights: a name that nothing has is asked for as a missing figure, but one that is misspelt is told.

use crate::model::bay::Bay;
use crate::model::procedure::{Procedure, Setup};
use crate::model::spot::Name;
use crate::model::vehicle::Vehicle;
use crate::model::words;

use super::marks::Scope;
use super::{BUILT_IN_MARKS, Defects, POINTS, SENSORS};

/// Wheels by name: the middles of their outer faces.
const WHEELS: [&str; 4] = ["front left wheel", "front right wheel", "rear left wheel", "rear right wheel"];

/// Names of a setup itself. What it may want of the vehicle or the bay is known only in a job.
pub(super) fn in_setup(p: &Procedure, s: &Setup, marks: &Scope, out: &mut Defects) {
    let own: Vec<&str> = own_names(p, s).chain(marks.names()).chain(WHEELS).collect();
    for name in s.sights.iter().flat_map(|sight| [&sight.from, &sight.to]) {
        if !agreed(name) {
            misspelt(name, &own, out);
        }
    }
}

/// Names of the vehicle and the bay, once they are known.
pub(super) fn in_job(p: &Procedure, vehicle: &Vehicle, bay: &Bay, out: &mut Defects) {
    let sensors = vehicle.sensors.names().chain(vehicle.without.iter().map(Name::as_str));
    let there: Vec<&str> = sensors.chain(vehicle.points.names()).chain(bay.points.names()).collect();
    for s in &p.setups {
        let marks =
            p.marks.iter().chain(&s.marks).map(|m| m.0.as_str()).chain(BUILT_IN_MARKS.iter().copied());
        let own: Vec<&str> = own_names(p, s).chain(marks).chain(WHEELS).collect();
        for name in s.sights.iter().flat_map(|sight| [&sight.from, &sight.to]) {
            if !agreed(name) && !own.contains(&name.as_str()) {
                misspelt(name, &there, out);
            }
        }
    }
}

fn own_names<'a>(p: &'a Procedure, s: &'a Setup) -> impl Iterator<Item = &'a str> {
    let zones = p.zones.iter().chain(s.zones.iter()).map(|z| z.name.as_str());
    s.stations.iter().map(|x| x.name.as_str()).chain(zones)
}

fn agreed(name: &Name) -> bool {
    SENSORS.contains(&name.as_str()) || POINTS.contains(&name.as_str())
}

fn misspelt(name: &Name, known: &[&str], out: &mut Defects) {
    if known.contains(&name.as_str()) {
        return;
    }
    if let Some(near) = words::slip(name.as_str(), known.iter().copied()) {
        let told = out.0.iter().any(|d| d.spot.0 == name.spot.0);
        if !told {
            let text = format!("this sight ends at nothing: there is no {name:?}");
            out.at(name.spot, text, Some(format!("did you mean {near:?}?")));
        }
    }
}
