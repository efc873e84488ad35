//! Names in the further parts of the language: ways, bands, averages, the other side, conditions, targets that stay.

use crate::model::further::{Derived, FixedTo};
use crate::model::procedure::{Procedure, Setup};
use crate::model::spot::Name;

use super::marks::Scope;
use super::{Defects, figures};

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
            out.at(
                name.spot,
                format!("{name:?} is an average of nothing"),
                None,
            );
        }
        if p.measured.get(name.as_str()).is_some() {
            out.at(
                name.spot,
                format!("{name:?} is measured already and cannot be an average"),
                None,
            );
        }
        known(readings.iter(), "measured figure", &read, out);
    }
    let variants: Vec<&str> = p.variants.names().collect();
    if let Some(pick) = &p.pick {
        known(
            [&pick.by],
            "value or measured figure",
            &figures::known(p),
            out,
        );
        known(pick.from.iter().map(|b| &b.2), "variant", &variants, out);
        for band in pick.from.iter().filter(|b| b.0 > b.1) {
            let text = format!("the band of {:?} ends below where it starts", band.2);
            out.at(band.2.spot, text, None);
        }
    }
    let stations = p
        .setups
        .iter()
        .flat_map(|s| s.stations.iter())
        .flat_map(|s| s.only.iter());
    known(
        p.setups.iter().flat_map(|s| s.only.iter()).chain(stations),
        "variant",
        &variants,
        out,
    );
}

/// What one setup says of itself and of those before it.
pub(super) fn setup(p: &Procedure, s: &Setup, marks: &Scope, out: &mut Defects) {
    let own = |name: &Name| marks.has(name.as_str()) || s.stations.iter().any(|x| x.name == *name);
    for pair in s.mirrored.iter().flat_map(|m| m.swap.iter()) {
        if !own(&pair.0)
            && !own(&pair.1)
            && !pair.0.as_str().is_empty()
            && !pair.1.as_str().is_empty()
        {
            let text = format!(
                "neither {:?} nor {:?} is a mark or station of this setup",
                pair.0, pair.1
            );
            out.at(pair.0.spot, text, None);
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
        if let Some(last) = out
            .0
            .last_mut()
            .filter(|d| later && d.spot.0 == name.spot.0)
        {
            last.text = format!("the setup {name:?} does not come before this one");
            last.hint = None;
        }
    }
}

fn names_of(s: &Setup) -> impl Iterator<Item = &str> {
    std::iter::once(s.name.as_str()).chain(s.mirrored.iter().map(|m| m.name.as_str()))
}

fn setup_names(p: &Procedure) -> Vec<&str> {
    p.setups.iter().flat_map(names_of).collect()
}

fn known<'a>(
    names: impl IntoIterator<Item = &'a Name>,
    what: &str,
    known: &[&str],
    out: &mut Defects,
) {
    for name in names {
        if !known.contains(&name.as_str()) {
            out.unknown(name, what, known.iter().copied());
        }
    }
}
