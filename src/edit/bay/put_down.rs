//! What can be put down in a bay, and the size it then has.

use super::BayThing;
use super::floor::side;
use crate::geometry::{Bounds, P2, V2};
use crate::model::bay::{
    Doorway, Fixture, FloorLine, FloorPoint, Installed, KeepClear, Leaf, Lift, Side, Surface,
};
use crate::model::shape::{PlanShape, ShapeDef};
use crate::model::spot::List;
use crate::model::vehicle::Place3;
use crate::model::{Bay, Spot};

/// What can be put down, with the size it then has, mm: usual sizes, to be changed to the real ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PutDown {
    Cabinet,
    Bench,
    Shelf,
    Drum,
    Pillar,
    Beam,
    Lamp,
    Window,
    Drain,
    NeighboursCar,
    KeepClear,
    Doorway,
    Lift,
    PaintedLine,
    Point,
    Installed,
}

/// A fixture as it is put down.
struct Usual {
    /// Across and along; of a drum its diameter twice.
    size: (f64, f64),
    z: Option<(f64, f64)>,
    surface: &'static [Surface],
    movable: bool,
    overhead: bool,
}

const USUAL: Usual = Usual { size: (0.0, 0.0), z: None, surface: &[], movable: false, overhead: false };

impl PutDown {
    pub const ALL: [PutDown; 16] = [
        PutDown::Cabinet,
        PutDown::Bench,
        PutDown::Shelf,
        PutDown::Drum,
        PutDown::Pillar,
        PutDown::Beam,
        PutDown::Lamp,
        PutDown::Window,
        PutDown::Drain,
        PutDown::NeighboursCar,
        PutDown::KeepClear,
        PutDown::Doorway,
        PutDown::Lift,
        PutDown::PaintedLine,
        PutDown::Point,
        PutDown::Installed,
    ];

    /// What it is called, also in the file until a person names it.
    pub fn words(self) -> &'static str {
        match self {
            PutDown::Cabinet => "cabinet",
            PutDown::Bench => "workbench",
            PutDown::Shelf => "shelf",
            PutDown::Drum => "drum",
            PutDown::Pillar => "pillar",
            PutDown::Beam => "beam",
            PutDown::Lamp => "lamp",
            PutDown::Window => "window",
            PutDown::Drain => "drain",
            PutDown::NeighboursCar => "neighbour's car",
            PutDown::KeepClear => "keep-clear area",
            PutDown::Doorway => "doorway",
            PutDown::Lift => "lift",
            PutDown::PaintedLine => "painted line",
            PutDown::Point => "point",
            PutDown::Installed => "installed target",
        }
    }

    /// Its size in words.
    pub fn size(self) -> &'static str {
        match self {
            PutDown::Cabinet => "600 by 900, 1 100 high, metal, can be moved",
            PutDown::Bench => "700 by 2 000, 900 high",
            PutDown::Shelf => "500 by 2 400, 2 000 high, metal",
            PutDown::Drum => "600 across, 900 high, metal, can be moved",
            PutDown::Pillar => "400 by 400, up to the ceiling",
            PutDown::Beam => "300 wide across the bay, from 2 500 to 2 800 up",
            PutDown::Lamp => "1 500 by 150, from 3 000 to 3 080 up, gives light",
            PutDown::Window => "1 200 wide in the nearest wall, from 1 000 to 2 100 up, light and glass",
            PutDown::Drain => "300 by 300, level with the floor, metal",
            PutDown::NeighboursCar => "1 850 by 4 500, 1 500 high, metal, can be moved",
            PutDown::KeepClear => "1 000 by 1 000, at any height",
            PutDown::Doorway => "3 000 wide, 3 000 high, in the nearest wall",
            PutDown::Lift => "two posts of 350 by 350, 3 350 between them; no heights yet",
            PutDown::PaintedLine => "4 000 long into the bay",
            PutDown::Point => "a named point on the floor, to measure from",
            PutDown::Installed => "of the first target of the job's equipment, looking into the bay",
        }
    }

    /// What it is as a fixture, where it is one.
    fn usual(self, bay: &Bay) -> Option<Usual> {
        use Surface::{Drain, Glass, Light, Metal};
        Some(match self {
            PutDown::Cabinet => Usual {
                size: (600.0, 900.0),
                z: Some((0.0, 1100.0)),
                surface: &[Metal],
                movable: true,
                ..USUAL
            },
            PutDown::Bench => Usual { size: (700.0, 2000.0), z: Some((0.0, 900.0)), ..USUAL },
            PutDown::Shelf => {
                Usual { size: (500.0, 2400.0), z: Some((0.0, 2000.0)), surface: &[Metal], ..USUAL }
            }
            PutDown::Drum => Usual {
                size: (600.0, 600.0),
                z: Some((0.0, 900.0)),
                surface: &[Metal],
                movable: true,
                ..USUAL
            },
            PutDown::Pillar => Usual { size: (400.0, 400.0), ..USUAL },
            PutDown::Beam => {
                let across =
                    Bounds::of(bay.floor.points.iter().map(|p| P2::new(p.0, p.1)).collect::<Vec<_>>());
                Usual { size: (across.size().x, 300.0), z: Some((2500.0, 2800.0)), overhead: true, ..USUAL }
            }
            PutDown::Lamp => Usual {
                size: (1500.0, 150.0),
                z: Some((3000.0, 3080.0)),
                surface: &[Light],
                overhead: true,
                ..USUAL
            },
            PutDown::Window => {
                Usual { size: (1200.0, 40.0), z: Some((1000.0, 2100.0)), surface: &[Light, Glass], ..USUAL }
            }
            PutDown::Drain => {
                Usual { size: (300.0, 300.0), z: Some((0.0, 0.0)), surface: &[Metal, Drain], ..USUAL }
            }
            PutDown::NeighboursCar => Usual {
                size: (1850.0, 4500.0),
                z: Some((0.0, 1500.0)),
                surface: &[Metal],
                movable: true,
                ..USUAL
            },
            PutDown::KeepClear
            | PutDown::Doorway
            | PutDown::Lift
            | PutDown::PaintedLine
            | PutDown::Point
            | PutDown::Installed => return None,
        })
    }
}

/// The bay with something more in it, its middle at `at`: a doorway or a window in the side nearest to there, a beam across
/// the whole bay. `target`: what an installed target is of. Gives the thing too.
pub fn put_down(bay: &Bay, what: PutDown, at: P2, target: Option<&str>) -> Result<(Bay, BayThing), String> {
    let mut next = bay.clone();
    let at = (at.x.round(), at.y.round());
    let name = || free_name(bay, what.words()).as_str().into();
    let square = |at: (f64, f64), size: (f64, f64), turn: f64| {
        PlanShape::new(ShapeDef::Box { at, size, turn }).map_err(|e| e.to_string())
    };
    if let Some(usual) = what.usual(bay) {
        let shape = match what {
            PutDown::Window => {
                let (at, turn) = in_wall(bay, P2::new(at.0, at.1), &usual)?;
                square(at, usual.size, turn)?
            }
            PutDown::Beam => {
                let across =
                    Bounds::of(bay.floor.points.iter().map(|p| P2::new(p.0, p.1)).collect::<Vec<_>>());
                square((across.centre().x, at.1), usual.size, 0.0)?
            }
            PutDown::Drum => {
                let def = ShapeDef::Round { at, diameter: usual.size.0 };
                PlanShape::new(def).map_err(|e| e.to_string())?
            }
            PutDown::Cabinet
            | PutDown::Bench
            | PutDown::Shelf
            | PutDown::Pillar
            | PutDown::Lamp
            | PutDown::Drain
            | PutDown::NeighboursCar
            | PutDown::KeepClear
            | PutDown::Doorway
            | PutDown::Lift
            | PutDown::PaintedLine
            | PutDown::Point
            | PutDown::Installed => square(at, usual.size, 0.0)?,
        };
        next.fixtures.push(Fixture {
            name: name(),
            shape,
            z: usual.z,
            surface: usual.surface.to_vec(),
            movable: usual.movable,
            overhead: usual.overhead,
            clear_by: None,
            candela: None,
        });
        let at = next.fixtures.len() - 1;
        return Ok((next, BayThing::Fixture(at)));
    }
    let thing = match what {
        PutDown::Doorway => return doorway(next, P2::new(at.0, at.1)),
        PutDown::Lift => {
            // 3350 between the posts, as of a car lift of common size; no source
            let post = |x: f64| square((at.0 + x, at.1), (350.0, 350.0), 0.0);
            next.lifts.push(Lift {
                name: name(),
                posts: List(vec![post(-1850.0)?, post(1850.0)?]),
                post_height: None,
                runways: Default::default(),
                heights: Vec::new(),
                surface: None,
                tolerance: None,
            });
            BayThing::Post { lift: next.lifts.len() - 1, post: 0 }
        }
        PutDown::PaintedLine => {
            let points = List(vec![FloorPoint(at.0, at.1 - 2000.0), FloorPoint(at.0, at.1 + 2000.0)]);
            next.floor_lines.push(FloorLine { name: name(), points });
            BayThing::FloorLine(next.floor_lines.len() - 1)
        }
        PutDown::Point => {
            next.points.0.push((name(), Place3 { x: at.0, y: at.1, z: 0.0 }));
            BayThing::Point(next.points.0.len() - 1)
        }
        PutDown::Installed => {
            let target = target.ok_or("the job's equipment lists no target")?.into();
            next.installed.push(Installed { name: name(), target, at, turn: 0.0 });
            BayThing::Installed(next.installed.len() - 1)
        }
        PutDown::KeepClear
        | PutDown::Cabinet
        | PutDown::Bench
        | PutDown::Shelf
        | PutDown::Drum
        | PutDown::Pillar
        | PutDown::Beam
        | PutDown::Lamp
        | PutDown::Window
        | PutDown::Drain
        | PutDown::NeighboursCar => {
            next.keep_clear.push(KeepClear {
                name: name(),
                shape: square(at, (1000.0, 1000.0), 0.0)?,
                z: None,
                because: None,
            });
            BayThing::KeepClear(next.keep_clear.len() - 1)
        }
    };
    Ok((next, thing))
}

/// In the thickness of the side nearest to a point, outside the floor: where and how turned.
fn in_wall(bay: &Bay, at: P2, usual: &Usual) -> Result<((f64, f64), f64), String> {
    let (_, (a, way, long)) = nearest_side(bay, at)?;
    let half = usual.size.0 / 2.0;
    let along = way.dot(&(at - a)).clamp(half.min(long / 2.0), (long - half).max(long / 2.0));
    let on = a + way * along;
    let beside = V2::new(way.y, -way.x) * (usual.size.1 / 2.0);
    let out = if bay.floor.outline.0.contains(on + beside) { on - beside } else { on + beside };
    let tidy = |v: f64| (v * 10.0).round() / 10.0;
    let turn = way.y.atan2(way.x).to_degrees().rem_euclid(180.0);
    Ok(((tidy(out.x), tidy(out.y)), (turn * 1e4).round() / 1e4))
}

/// The side of the floor nearest to a point.
fn nearest_side(bay: &Bay, at: P2) -> Result<(usize, (P2, V2, f64)), String> {
    let sides = (0..bay.floor.points.len()).filter_map(|i| Some((i, side(bay, i)?)));
    let off = |(a, way, long): &(P2, V2, f64)| {
        let along = way.dot(&(at - a)).clamp(0.0, *long);
        (at - (a + way * along)).norm()
    };
    sides
        .min_by(|x, y| off(&x.1).total_cmp(&off(&y.1)))
        .ok_or_else(|| "the floor has no side with a length".into())
}

/// A doorway on the side nearest to a point: 3 m wide where there is room, else as wide as the side.
pub(super) fn doorway(mut bay: Bay, at: P2) -> Result<(Bay, BayThing), String> {
    let (index, (a, way, long)) = nearest_side(&bay, at)?;
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
        .chain(bay.keep_clear.iter().map(|k| &k.name))
        .chain(bay.floor_lines.iter().map(|l| &l.name))
        .chain(bay.installed.iter().map(|i| &i.name))
        .chain(bay.points.iter().map(|p| p.0));
    let taken: Vec<&str> = named.map(|n| n.as_str()).collect();
    let stem = words.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
    let stem = if stem.is_empty() { words } else { stem };
    let numbered = (2..).map(|n| format!("{stem} {n}"));
    let names = std::iter::once(words.to_owned()).chain(numbered);
    names.take(taken.len() + 1).find(|n| !taken.contains(&n.as_str())).unwrap_or_else(|| words.to_owned())
}
