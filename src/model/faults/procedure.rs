//! What a procedure file says that cannot be used.

use crate::model::figure::Figure;
use crate::model::language::Reach;
use crate::model::procedure::{Procedure, Setup};
use crate::model::uses::{Use, Uses, every_use};
use crate::model::words;

use super::marks::{Scope, line};
use super::parts::{ask, positive, rising, station, zone};
use super::{Defect, Defects, figures, further, sights, upright};

/// Names given twice or not there, marks used before they are made, values in a circle, parts that contradict each
/// other or have no extent. `whole`: nothing of the file was left out, so a name not found is truly not there.
pub fn procedure(p: &Procedure, whole: bool) -> Vec<Defect> {
    let values = figures::known(p).into_iter().filter(|n| n.parse::<f64>().is_ok());
    let mut out = Defects(Vec::new(), values.map(String::from).collect());
    if p.setups.is_empty() && whole {
        out.field(p.name.spot, "setups", "a procedure needs at least one setup");
    }
    figures::values(p, &mut out);
    let mirrored = p.setups.iter().filter_map(|s| s.mirrored.as_ref());
    out.unique("setup", p.setups.iter().map(|s| &s.name).chain(mirrored.map(|m| &m.name)));
    let mut known = Scope::default();
    known.make(&p.marks, whole, &mut out);
    for z in &p.zones {
        zone(z, &mut out);
    }
    for s in &p.setups {
        setup(p, s, known.clone(), whole, &mut out);
    }
    upright::by_need(p, &mut out);
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

fn setup<'a>(p: &'a Procedure, s: &'a Setup, mut marks: Scope<'a>, whole: bool, out: &mut Defects) {
    marks.make(&s.marks, whole, out);
    out.unique("station of this setup", s.stations.iter().map(|x| &x.name));
    out.unique("zone of this setup", p.zones.iter().chain(s.zones.iter()).map(|x| &x.name));
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
        let zones: Vec<&str> = p.zones.iter().chain(s.zones.iter()).map(|z| z.name.as_str()).collect();
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
        sights::in_setup(p, s, &marks, out);
        further::setup(p, s, &marks, out);
    }
}

/// Zones known to every setup may use a setup's own marks and stations: some setup must have them.
fn shared_zones(p: &Procedure, known: &Scope, out: &mut Defects) {
    let setups = p.setups.iter();
    let marks: Vec<&str> = setups.clone().flat_map(|s| s.marks.iter()).map(|m| m.0.as_str()).collect();
    let stations: Vec<&str> = setups.flat_map(|s| s.stations.iter()).map(|s| s.name.as_str()).collect();
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
