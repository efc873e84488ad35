//! Everything the findings of a bundle can be about.

// a new variant is met wherever it could matter
#![cfg_attr(not(test), warn(clippy::wildcard_enum_match_arm))]

use super::bay::Bay;
use super::equipment::Equipment;
use super::item::{Item, ItemKind};
use super::job::Bundle;
use super::procedure::{Procedure, Setup};
use super::vehicle::Vehicle;

/// The things of a bundle, sorted by name, each once.
#[derive(Clone, Debug)]
pub struct Items(Vec<Item>);

impl Items {
    pub fn of(bundle: &Bundle) -> Items {
        let procedures: Vec<&Procedure> = bundle.procedures.iter().map(|p| &**p).collect();
        Items::of_files(&bundle.bay, &bundle.vehicle, &bundle.equipment, &procedures)
    }

    pub fn of_files(bay: &Bay, vehicle: &Vehicle, equipment: &Equipment, procedures: &[&Procedure]) -> Items {
        use ItemKind::{Ceiling, Figure, Floor, Mirrors, Sensor, Target, Tyres, Vehicle};
        let mut all: Vec<Item> = [Vehicle, Mirrors, Tyres, Ceiling, Floor].map(Item::only).to_vec();
        of_bay(bay, &mut |kind, name| all.push(Item::new(kind, name)));
        let mut add = |kind, name: &str| all.push(Item::new(kind, name));
        vehicle.sensors.names().for_each(|n| add(Sensor, n));
        equipment.targets.names().for_each(|n| add(Target, n));
        for p in procedures {
            p.measured.names().chain(p.derived.names()).for_each(|n| add(Figure, n));
            p.needs.names().for_each(|n| add(Target, n));
            p.marks.iter().for_each(|m| add(ItemKind::Mark, m.0.as_str()));
            p.zones.iter().for_each(|z| add(ItemKind::Zone, z.name.as_str()));
            p.setups.iter().for_each(|s| of_setup(s, p, vehicle, &mut add));
        }
        all.sort_unstable();
        all.dedup();
        Items(all)
    }

    pub fn has(&self, item: &Item) -> bool {
        self.0.binary_search(item).is_ok()
    }

    /// What a file's word can mean: by its name, or by kind and name.
    pub fn called<'a>(&'a self, word: &'a str) -> impl Iterator<Item = &'a Item> {
        let of = |name: &str| {
            let first = self.0.partition_point(|i| **i.name() < *name);
            let end = self.0.partition_point(|i| **i.name() <= *name);
            &self.0[first..end]
        };
        let spelt = word.split_once(": ").map_or(&[][..], |(_, name)| of(name));
        of(word).iter().chain(spelt.iter().filter(|i| i.is_spelt(word)))
    }

    /// Their names, sorted; a name may come twice.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|i| &**i.name())
    }
}

fn of_bay(bay: &Bay, add: &mut dyn FnMut(ItemKind, &str)) {
    bay.fixtures.iter().for_each(|f| add(ItemKind::Fixture, f.name.as_str()));
    bay.keep_clear.iter().for_each(|k| add(ItemKind::KeepClear, k.name.as_str()));
    bay.walls.iter().filter_map(|w| w.name.as_ref()).for_each(|n| add(ItemKind::Wall, n.as_str()));
    (0..bay.floor.points.len()).for_each(|i| add(ItemKind::Wall, &format!("wall {i}")));
    for door in &bay.doorways {
        add(ItemKind::Doorway, door.name.as_str());
        add(ItemKind::Apron, &format!("{} apron", door.name));
        add(ItemKind::Jamb, &format!("{} jamb", door.name));
        add(ItemKind::Strip, &format!("{} strip", door.name));
    }
    for lift in &bay.lifts {
        add(ItemKind::Lift, lift.name.as_str());
        (1..=lift.posts.len()).for_each(|i| add(ItemKind::Post, &format!("{} post {i}", lift.name)));
    }
    bay.installed.iter().for_each(|i| add(ItemKind::Installed, i.name.as_str()));
    bay.floor_lines.iter().for_each(|l| add(ItemKind::FloorLine, l.name.as_str()));
}

fn of_setup(s: &Setup, p: &Procedure, vehicle: &Vehicle, add: &mut impl FnMut(ItemKind, &str)) {
    use ItemKind::{Mark, Station, Target, Zone};
    s.marks.iter().for_each(|m| add(Mark, m.0.as_str()));
    s.zones.iter().for_each(|z| add(Zone, z.name.as_str()));
    for station in &s.stations {
        add(Station, station.name.as_str());
        add(Target, station.target.as_str());
    }
    for name in s.sights.iter().flat_map(|x| [&x.from, &x.to]) {
        let known = [
            (ItemKind::Sensor, vehicle.sensors.get(name.as_str()).is_some()),
            (Station, s.stations.iter().any(|x| x.name == *name)),
            (Zone, s.zones.iter().chain(&p.zones).any(|z| z.name == *name)),
            (Mark, s.marks.iter().chain(&p.marks).any(|m| m.0 == *name)),
        ];
        let first = known.into_iter().find(|(_, is)| *is);
        add(first.map_or(ItemKind::Point, |(kind, _)| kind), name.as_str());
    }
    s.needs.names().for_each(|n| add(Target, n));
    s.missing.iter().for_each(|line| add(ItemKind::Words, line.as_str()));
    if let Some(other) = &s.mirrored {
        for name in other.swap.iter().flat_map(|pair| [&pair.0, &pair.1]) {
            add(Mark, name.as_str());
            add(Station, name.as_str());
        }
    }
}
