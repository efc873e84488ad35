//! Marks, stations and setups whose name says left or right while they lie on the vehicle's other side.

use std::sync::Arc;

use super::rig::Rig;
use super::setup::Setup;
use crate::geometry::P2;
use crate::model::{Procedure, Spot};

/// How far on the other side something must lie to be told, mm.
const BESIDE: f64 = 1.0;

/// What lies on the other side than its name says: the procedure, the name's place in its file, and a sentence.
pub fn mistaken(rig: &Rig, procedures: &[Arc<Procedure>]) -> Vec<(usize, Spot, String)> {
    let mut told: Vec<(usize, Spot, String)> = Vec::new();
    for setup in &rig.setups {
        let Some(procedure) = procedures.get(setup.procedure) else { continue };
        // a setup built again for the other side has its name elsewhere in the file
        let listed = procedure.setups.iter().any(|s| s.name == *setup.name);
        let whose = if listed { String::new() } else { format!(" in the setup {:?}", setup.name) };
        let mut tell = |spot: Spot, what: &str, name: &str, places: &[f64]| {
            let Some(said) = side_of(name) else { return };
            if !places.is_empty() && places.iter().all(|y| y * said.sign() < -BESIDE) {
                let (word, other) = (said.word(), said.other());
                let text =
                    format!("the {what} {name:?}{whose} says {word}, but lies to the {other} of the vehicle");
                if !told.iter().any(|(p, s, t)| (*p, s.0, t) == (setup.procedure, spot.0, &text)) {
                    told.push((setup.procedure, spot, text));
                }
            }
        };
        for def in &setup.def.marks {
            let made = setup.marks.iter().find(|m| def.0 == *m.name);
            if let Some(Ok(at)) = made.map(|m| &m.at) {
                tell(def.0.spot, "mark", def.0.as_str(), &[beside(setup, *at)]);
            }
        }
        let mut places = Vec::new();
        for station in &setup.stations {
            if let Ok(stand) = &station.place {
                let y = beside(setup, stand.mark);
                tell(station.def.name.spot, "station", &station.name, &[y]);
                places.push(y);
            }
        }
        if places.len() == setup.stations.len() {
            tell(setup.def.name.spot, "setup", &setup.name, &places);
        }
    }
    told
}

/// How far a point lies to the left of the vehicle's centreline while the setup is worked on.
fn beside(setup: &Setup, at: P2) -> f64 {
    setup.moved.as_ref().map_or(at, |m| m.frame.to_local(at)).y
}

#[derive(Clone, Copy, PartialEq)]
enum Side {
    Left,
    Right,
}

impl Side {
    fn sign(self) -> f64 {
        if self == Side::Left { 1.0 } else { -1.0 }
    }

    fn word(self) -> &'static str {
        if self == Side::Left { "left" } else { "right" }
    }

    fn other(self) -> &'static str {
        if self == Side::Left { "right" } else { "left" }
    }
}

/// The side a name says; none where it says neither, both, or speaks of a right angle.
fn side_of(name: &str) -> Option<Side> {
    let words: Vec<String> =
        name.split(|c: char| !c.is_alphanumeric()).map(str::to_lowercase).filter(|w| !w.is_empty()).collect();
    let has = |word: &str| words.iter().any(|w| w == word);
    match (has("left"), has("right") && !has("angle")) {
        (true, false) => Some(Side::Left),
        (false, true) => Some(Side::Right),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_say_a_side_or_none() {
        for (name, side) in [
            ("Left side", Some(Side::Left)),
            ("front-right board", Some(Side::Right)),
            ("left and right", None),
            ("leftover", None),
            ("right angle", None),
            ("X", None),
        ] {
            assert!(side_of(name) == side, "{name}");
        }
    }
}
