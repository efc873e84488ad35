//! Upright targets show one face: a station must say where it looks.

use crate::model::equipment::{Equipment, TargetKind};
use crate::model::procedure::{Procedure, Setup, Station};

use super::Defects;

/// Stations of which the procedure itself says that their target stands upright.
pub(super) fn by_need(p: &Procedure, out: &mut Defects) {
    stations(p, out, |setup, station| needed(p, setup, station));
}

/// Stations whose target stands upright by the shop's equipment, where the procedure does not say what it is.
pub(super) fn by_piece(p: &Procedure, equipment: &Equipment, out: &mut Defects) {
    stations(p, out, |setup, station| match needed(p, setup, station) {
        Some(_) => None,
        None => owned(equipment, station.target.as_str()),
    });
}

fn stations(p: &Procedure, out: &mut Defects, kind: impl Fn(&Setup, &Station) -> Option<TargetKind>) {
    for setup in &p.setups {
        for s in &setup.stations {
            let said = s.looks.is_some() || s.faces.is_some() || s.fixed_to.is_some();
            if !said && kind(setup, s).is_some_and(TargetKind::has_front) {
                let text = format!("the station {:?} does not say where its target looks", s.name);
                let hint = "an upright target shows one face: give `looks`, such as Backward, or `faces`";
                out.at(s.name.spot, text, Some(hint.into()));
            }
        }
    }
}

/// What the procedure says the target is; the setup's own word first.
fn needed(p: &Procedure, setup: &Setup, station: &Station) -> Option<TargetKind> {
    let name = station.target.as_str();
    setup.needs.get(name).or_else(|| p.needs.get(name)).and_then(|need| need.kind)
}

/// What the shop's piece of that name is, or the first that serves for it.
fn owned(equipment: &Equipment, name: &str) -> Option<TargetKind> {
    let serves = || equipment.targets.iter().find(|(_, t)| t.serves.iter().any(|s| s == name));
    equipment.targets.get(name).or_else(|| serves().map(|(_, t)| t)).map(|t| t.kind)
}
