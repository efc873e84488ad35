//! The things an accepted finding can be about.

use crate::model::bay::Bay;
use crate::model::equipment::Equipment;
use crate::model::job::Accepted;
use crate::model::procedure::Procedure;
use crate::model::spot::Name;
use crate::model::vehicle::Vehicle;

use super::super::Defects;

/// Items of accepted findings must exist. Some rules speak of more than things: of lines, lengths and lists; their
/// items are left alone.
pub(super) fn accepted(accepted: &Accepted, known: &[String], out: &mut Defects) {
    if matches!(
        accepted.rule.as_str(),
        "floor-line" | "check-length" | "fixed-place" | "headroom" | "level" | "readiness"
    ) {
        return;
    }
    for item in &accepted.items {
        if !known.iter().any(|k| item == k.as_str()) {
            let item = Name { text: item.text.clone(), spot: item.spot };
            out.unknown(&item, "thing", known.iter().map(String::as_str));
        }
    }
}

/// Everything a finding can be about, by name; sorted, each once.
pub fn items(bay: &Bay, vehicle: &Vehicle, equipment: &Equipment, procedures: &[&Procedure]) -> Vec<String> {
    let mut all: Vec<String> = ["vehicle", "mirrors", "tyres", "ceiling", "floor"].map(String::from).to_vec();
    let mut add = |name: &str| all.push(name.to_owned());
    bay.fixtures.iter().for_each(|f| add(f.name.as_str()));
    bay.keep_clear.iter().for_each(|k| add(k.name.as_str()));
    bay.walls.iter().filter_map(|w| w.name.as_ref()).for_each(|n| add(n.as_str()));
    (0..bay.floor.points.len()).for_each(|i| add(&format!("wall {i}")));
    for door in &bay.doorways {
        add(door.name.as_str());
        add(&format!("{} apron", door.name));
    }
    for lift in &bay.lifts {
        add(lift.name.as_str());
        (1..=lift.posts.len()).for_each(|i| add(&format!("{} post {i}", lift.name)));
    }
    bay.installed.iter().for_each(|i| add(i.name.as_str()));
    bay.floor_lines.iter().for_each(|l| add(l.name.as_str()));
    vehicle.sensors.names().for_each(&mut add);
    equipment.targets.names().for_each(&mut add);
    for p in procedures {
        p.measured.names().chain(p.derived.names()).for_each(&mut add);
        p.needs.names().for_each(&mut add);
        p.marks.iter().for_each(|m| add(m.0.as_str()));
        p.zones.iter().for_each(|z| add(z.name.as_str()));
        for s in &p.setups {
            s.marks.iter().for_each(|m| add(m.0.as_str()));
            s.zones.iter().for_each(|z| add(z.name.as_str()));
            s.stations.iter().for_each(|x| {
                add(x.name.as_str());
                add(x.target.as_str());
            });
            s.sights.iter().for_each(|x| {
                add(x.from.as_str());
                add(x.to.as_str());
            });
            s.needs.names().for_each(&mut add);
            for pair in s.mirrored.iter().flat_map(|m| m.swap.iter()) {
                add(pair.0.as_str());
                add(pair.1.as_str());
            }
        }
    }
    all.sort();
    all.dedup();
    all
}
