//! Names in the further parts of the language: ways, bands, averages, the other side, conditions, targets that stay.

use crate::model::further::{Derived, FixedTo};
use crate::model::procedure::{Procedure, Setup};
use crate::model::spot::Name;
use crate::model::words;

use super::marks::Scope;
use super::{Defects, bands};

/// What the procedure as a whole says of its setups, variants and readings.
pub(super) fn procedure(p: &Procedure, out: &mut Defects) {
    let setups = setup_names(p);
    for (way, list) in p.ways.iter() {
        if list.is_empty() {
            out.at(way.spot, format!("the way {way:?} has no setups"), None);
        }
        known(list.iter(), "setup", &setups, out);
    }
    let read: Vec<&str> = p.measured.names().collect();
    for (name, Derived::Mean(readings)) in p.derived.iter() {
        if readings.is_empty() {
            out.at(name.spot, format!("{name:?} is an average of nothing"), None);
        }
        if p.measured.get(name.as_str()).is_some() {
            out.at(name.spot, format!("{name:?} is measured already and cannot be an average"), None);
        }
        known(readings.iter(), "measured figure", &read, out);
    }
    bands::pick(p, out);
    let variants = chosen_names(p);
    let stations = p.setups.iter().flat_map(|s| s.stations.iter()).flat_map(|s| s.only.iter());
    known(p.setups.iter().flat_map(|s| s.only.iter()).chain(stations), "variant", &variants, out);
}

/// What one setup says of itself and of those before it.
pub(super) fn setup(p: &Procedure, s: &Setup, marks: &Scope, out: &mut Defects) {
    let own = |name: &Name| marks.has(name.as_str()) || s.stations.iter().any(|x| x.name == *name);
    for pair in s.mirrored.iter().flat_map(|m| m.swap.iter()) {
        // the second may be what the other side calls the first, though this side has no such thing
        let name = &pair.0;
        if !own(name) && !name.as_str().is_empty() {
            let text = format!("{name:?} is no mark or station of this setup, so it cannot be swapped");
            let names = marks.names().chain(s.stations.iter().map(|x| x.name.as_str()));
            out.at(name.spot, text, words::suggest(name.as_str(), "mark or station", names));
        }
    }
    for station in &s.stations {
        if let Some(FixedTo::Earlier(name)) = &station.fixed_to {
            earlier(p, s, name, out);
        }
    }
}

fn earlier(p: &Procedure, s: &Setup, name: &Name, out: &mut Defects) {
    let at = p.setups.iter().position(|x| x.name == s.name).unwrap_or(0);
    let before: Vec<&str> = p.setups[..at].iter().flat_map(names_of).collect();
    if !before.contains(&name.as_str()) {
        let later = setup_names(p).contains(&name.as_str());
        out.unknown(name, "earlier setup", before);
        if let Some(last) = out.0.last_mut().filter(|d| later && d.spot.0 == name.spot.0) {
            last.text = format!("the setup {name:?} does not come before this one");
            last.hint = None;
        }
    }
}

/// What a job may list among the variants of a procedure: its variants, what its bands pick, the markets it knows.
pub(super) fn chosen_names(p: &Procedure) -> Vec<&str> {
    let picked = p.pick.iter().flat_map(|pick| pick.from.iter().map(|b| b.2.as_str()));
    p.variants.names().chain(picked).chain(p.vehicle_state_in.names()).collect()
}

fn names_of(s: &Setup) -> impl Iterator<Item = &str> {
    std::iter::once(s.name.as_str()).chain(s.mirrored.iter().map(|m| m.name.as_str()))
}

fn setup_names(p: &Procedure) -> Vec<&str> {
    p.setups.iter().flat_map(names_of).collect()
}

fn known<'a>(names: impl IntoIterator<Item = &'a Name>, what: &str, known: &[&str], out: &mut Defects) {
    for name in names {
        if !known.contains(&name.as_str()) {
            out.unknown(name, what, known.iter().copied());
        }
    }
}
