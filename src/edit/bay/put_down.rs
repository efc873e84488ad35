//! What can be put down in a bay, and the size it then has.

use super::BayThing;
use super::floor::side;
use crate::geometry::{Bounds, P2, V2};
use crate::model::bay::{Doorway, Fixture, KeepClear, Leaf, Side};
use crate::model::shape::{PlanShape, ShapeDef};
use crate::model::{Bay, Spot};

/// What can be put down, with the size it then has, mm: usual sizes, to be changed to the real ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PutDown {
    Cabinet,
    Bench,
    Drum,
    Pillar,
    Overhead,
    KeepClear,
    Doorway,
}

impl PutDown {
    pub const ALL: [PutDown; 7] = [
        PutDown::Cabinet,
        PutDown::Bench,
        PutDown::Drum,
        PutDown::Pillar,
        PutDown::Overhead,
        PutDown::KeepClear,
        PutDown::Doorway,
    ];

    /// What it is called, also in the file until a person names it.
    pub fn words(self) -> &'static str {
        match self {
            PutDown::Cabinet => "cabinet",
            PutDown::Bench => "workbench",
            PutDown::Drum => "drum",
            PutDown::Pillar => "pillar",
            PutDown::Overhead => "beam",
            PutDown::KeepClear => "keep-clear area",
            PutDown::Doorway => "doorway",
        }
    }

    /// Its size in words.
    pub fn size(self) -> &'static str {
        match self {
            PutDown::Cabinet => "600 by 900, 1 100 high, can be moved",
            PutDown::Bench => "700 by 2 000, 900 high",
            PutDown::Drum => "600 across, 900 high, can be moved",
            PutDown::Pillar => "400 by 400, up to the ceiling",
            PutDown::Overhead => "300 wide across the bay, from 2 500 up",
            PutDown::KeepClear => "1 000 by 1 000",
            PutDown::Doorway => "3 000 wide, 3 000 high",
        }
    }
}

/// The bay with something more in it, its middle at `at`: a doorway on the side nearest to there. Gives the thing too.
pub fn put_down(bay: &Bay, what: PutDown, at: P2) -> Result<(Bay, BayThing), String> {
    let mut next = bay.clone();
    let at = (at.x.round(), at.y.round());
    let fixture = |size: (f64, f64), z: Option<(f64, f64)>, movable: bool, overhead: bool| {
        let shape = PlanShape::new(ShapeDef::Box { at, size, turn: 0.0 }).map_err(|e| e.to_string());
        shape.map(|shape| Fixture {
            name: free_name(bay, what.words()).as_str().into(),
            shape,
            z,
            surface: Vec::new(),
            movable,
            overhead,
            clear_by: None,
            candela: None,
        })
    };
    let put = match what {
        PutDown::Cabinet => fixture((600.0, 900.0), Some((0.0, 1100.0)), true, false)?,
        PutDown::Bench => fixture((700.0, 2000.0), Some((0.0, 900.0)), false, false)?,
        PutDown::Pillar => fixture((400.0, 400.0), None, false, false)?,
        PutDown::Overhead => {
            let across = Bounds::of(bay.floor.points.iter().map(|p| P2::new(p.0, p.1)).collect::<Vec<_>>());
            let mut beam = fixture((across.size().x, 300.0), Some((2500.0, 2800.0)), false, true)?;
            let def =
                ShapeDef::Box { at: (across.centre().x, at.1), size: (across.size().x, 300.0), turn: 0.0 };
            beam.shape = PlanShape::new(def).map_err(|e| e.to_string())?;
            beam
        }
        PutDown::Drum => {
            let mut drum = fixture((600.0, 600.0), Some((0.0, 900.0)), true, false)?;
            drum.shape =
                PlanShape::new(ShapeDef::Round { at, diameter: 600.0 }).map_err(|e| e.to_string())?;
            drum
        }
        PutDown::KeepClear => {
            let def = ShapeDef::Box { at, size: (1000.0, 1000.0), turn: 0.0 };
            next.keep_clear.push(KeepClear {
                name: free_name(bay, what.words()).as_str().into(),
                shape: PlanShape::new(def).map_err(|e| e.to_string())?,
                z: None,
                because: None,
            });
            let at = next.keep_clear.len() - 1;
            return Ok((next, BayThing::KeepClear(at)));
        }
        PutDown::Doorway => return doorway(next, P2::new(at.0, at.1)),
    };
    next.fixtures.push(put);
    let at = next.fixtures.len() - 1;
    Ok((next, BayThing::Fixture(at)))
}

/// A doorway on the side nearest to a point: 3 m wide where there is room, else as wide as the side.
pub(super) fn doorway(mut bay: Bay, at: P2) -> Result<(Bay, BayThing), String> {
    let sides = (0..bay.floor.points.len()).filter_map(|i| Some((i, side(&bay, i)?)));
    let off = |(a, way, long): &(P2, V2, f64)| {
        let along = way.dot(&(at - a)).clamp(0.0, *long);
        (at - (a + way * along)).norm()
    };
    let (index, (a, way, long)) =
        sides.min_by(|x, y| off(&x.1).total_cmp(&off(&y.1))).ok_or("the floor has no side with a length")?;
    let width = long.min(3000.0);
    let from = (way.dot(&(at - a)) - width / 2.0).clamp(0.0, long - width).round();
    let name = free_name(&bay, "doorway");
    bay.doorways.push(Doorway {
        name: name.as_str().into(),
        side: Side { index, spot: Spot::default() },
        from: from.min(long - width),
        width,
        height: 3000.0,
        apron: None,
        surface: None,
        leaf: Leaf::default(),
    });
    let at = bay.doorways.len() - 1;
    Ok((bay, BayThing::Doorway(at)))
}

/// A name nothing in the bay bears: the words, else with the next number; a number they end in already is counted on.
pub(super) fn free_name(bay: &Bay, words: &str) -> String {
    let walls = bay.walls.iter().filter_map(|w| w.name.as_ref());
    let named = walls
        .chain(bay.doorways.iter().map(|d| &d.name))
        .chain(bay.fixtures.iter().map(|f| &f.name))
        .chain(bay.lifts.iter().map(|l| &l.name))
        .chain(bay.keep_clear.iter().map(|k| &k.name));
    let taken: Vec<&str> = named.map(|n| n.as_str()).collect();
    let stem = words.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
    let stem = if stem.is_empty() { words } else { stem };
    let numbered = (2..).map(|n| format!("{stem} {n}"));
    let names = std::iter::once(words.to_owned()).chain(numbered);
    names.take(taken.len() + 1).find(|n| !taken.contains(&n.as_str())).unwrap_or_else(|| words.to_owned())
}
