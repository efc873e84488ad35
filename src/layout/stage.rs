//! The bay with the job's doors and things: everything that stays put while the vehicle is driven.

use std::sync::{Arc, OnceLock};

use super::apron;
use super::floor::FloorField;
use super::floor::flatness::Flatness;
use super::lift::post_name;
use super::sheets::{self, Sheet};
use super::sides;
use super::solid::{Band, Solid};
use crate::geometry::{Edge, NOISE_MM, P2, P3, Region, V2};
use crate::model::bay::{Bay, Doorway};
use crate::model::{Bundle, ItemKind, ItemRef, Job, Name, Surface};

#[derive(Clone, Debug)]
pub struct Stage {
    /// The usable floor: the floor polygon and the aprons of open doors.
    pub floor: Region,
    /// What bounds it, by label.
    pub walls: Vec<Bound>,
    /// By label: the stretches of the side by its surface.
    pub(super) sides: Vec<Vec<(P2, P2)>>,
    /// Fixtures that stand and lift posts, sorted by name.
    pub things: Vec<Thing>,
    /// Fixtures the job lists as cleared, sorted by name.
    pub cleared: Vec<Thing>,
    /// Sorted by name.
    pub keep_clear: Vec<Kept>,
    pub ceiling: Option<f64>,
    /// The floor as surveyed.
    pub survey: Arc<FloorField>,
    /// How flat it is, once that was asked for: the vehicle's place has no part in it.
    flatness: OnceLock<Flatness>,
    /// Walls and shut doors, as what stops a line of sight.
    pub sheets: Vec<Sheet>,
    /// The walls alone with one open door shut, for each open door; made once, when first asked for.
    doors_shut: OnceLock<Vec<Arc<Stage>>>,
}

/// Something that bounds the usable floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Bound {
    pub name: Arc<str>,
    pub kind: BoundKind,
    /// The ends of the side it belongs to, as written.
    pub side: (P2, P2),
    /// From the side toward the floor, unit.
    pub inward: V2,
    pub surface: Vec<Surface>,
    /// A shut door with a surface of its own is judged apart from its side.
    pub own_surface: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoundKind {
    /// The side's number.
    Wall(usize),
    /// A doorway's stretch that is no floor: shut, or open without an apron. The doorway's number.
    Door(usize),
    /// The outer edge of an open door's apron. The doorway's number.
    Apron(usize),
}

impl Bound {
    /// As findings are about it.
    pub fn item(&self) -> ItemRef<'_> {
        let kind = match self.kind {
            BoundKind::Wall(_) => ItemKind::Wall,
            BoundKind::Door(_) => ItemKind::Doorway,
            BoundKind::Apron(_) => ItemKind::Apron,
        };
        ItemRef { kind, name: &self.name }
    }
}

/// Anything standing, hanging or lying in the bay.
#[derive(Clone, Debug, PartialEq)]
pub struct Thing {
    pub name: Arc<str>,
    pub solid: Solid,
    pub surface: Vec<Surface>,
    pub origin: Origin,
    pub movable: bool,
    pub overhead: bool,
    /// No `z` was given.
    pub endless: bool,
    /// Its top as the bay's file gives it: what a zone may let stay is told by it.
    pub top: f64,
    pub clear_by: Option<Arc<str>>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    Fixture(usize),
    Post { lift: usize, post: usize },
}

/// An area the workplace must keep free.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    pub name: Arc<str>,
    pub solid: Solid,
    /// No `z`: whatever lies in it is in it, a thing without thickness too.
    pub any_height: bool,
    pub because: Option<Arc<str>>,
}

impl Thing {
    /// As findings are about it.
    pub fn item(&self) -> ItemRef<'_> {
        let kind = match self.origin {
            Origin::Fixture(_) => ItemKind::Fixture,
            Origin::Post { .. } => ItemKind::Post,
        };
        ItemRef { kind, name: &self.name }
    }
}

impl Kept {
    /// As findings are about it.
    pub fn item(&self) -> ItemRef<'_> {
        ItemRef { kind: ItemKind::KeepClear, name: &self.name }
    }
}

impl Stage {
    /// How flat the surveyed floor is; worked out once.
    pub fn flatness(&self) -> &Flatness {
        self.flatness.get_or_init(|| self.survey.flatness())
    }

    pub fn new(bundle: &Bundle) -> Stage {
        Stage::on_survey(bundle, None)
    }

    /// With the surface of this bay's survey already made.
    pub fn on_survey(bundle: &Bundle, survey: Option<Arc<FloorField>>) -> Stage {
        let (bay, job) = (&*bundle.bay, &*bundle.job);
        let survey = survey.unwrap_or_else(|| {
            let spots = bay.heights.iter().map(|h| P3::new(h.0, h.1, h.2));
            Arc::new(FloorField::new(spots, bay.reading_error))
        });
        let mut things = Vec::new();
        let mut cleared = Vec::new();
        for (i, f) in bay.fixtures.iter().enumerate() {
            let z = f.z.map_or(Band::new(0.0, f64::INFINITY), |(lo, hi)| Band::of_thing(lo, hi));
            let thing = Thing {
                name: f.name.text.clone(),
                solid: Solid::new(f.shape.0.clone(), z),
                surface: f.surface.clone(),
                origin: Origin::Fixture(i),
                movable: f.movable,
                overhead: f.overhead,
                endless: f.z.is_none(),
                top: f.z.map_or(f64::INFINITY, |(_, hi)| hi),
                clear_by: f.clear_by.as_deref().map(Arc::from),
            };
            if job.cleared.contains(&f.name) {
                cleared.push(thing);
            } else {
                things.push(thing);
            }
        }
        for (l, lift) in bay.lifts.iter().enumerate() {
            for (n, post) in lift.posts.iter().enumerate() {
                things.push(Thing {
                    name: post_name(lift, n),
                    solid: Solid::new(
                        post.0.clone(),
                        Band::new(0.0, lift.post_height.unwrap_or(f64::INFINITY)),
                    ),
                    surface: lift.surface.clone().unwrap_or(vec![Surface::Metal]),
                    origin: Origin::Post { lift: l, post: n },
                    movable: false,
                    overhead: false,
                    endless: lift.post_height.is_none(),
                    top: lift.post_height.unwrap_or(f64::INFINITY),
                    clear_by: None,
                });
            }
        }
        things.sort_by(|a, b| a.name.cmp(&b.name));
        cleared.sort_by(|a, b| a.name.cmp(&b.name));
        let mut keep_clear: Vec<Kept> = bay
            .keep_clear
            .iter()
            .map(|k| Kept {
                name: k.name.text.clone(),
                // an area painted on the floor is in the way of what stands there
                solid: Solid::new(
                    k.shape.0.clone(),
                    k.z.map_or(Band::ALL, |(lo, hi)| Band::new(lo, hi.max(lo + 1.0))),
                ),
                any_height: k.z.is_none(),
                because: k.because.as_deref().map(Arc::from),
            })
            .collect();
        keep_clear.sort_by(|a, b| a.name.cmp(&b.name));
        Stage { things, cleared, keep_clear, ..Stage::bare(bay, job, survey) }
    }

    /// Walls and ceiling, and nothing between them.
    fn bare(bay: &Bay, job: &Job, survey: Arc<FloorField>) -> Stage {
        let (floor, walls) = floor(bay, job);
        Stage {
            survey,
            flatness: OnceLock::new(),
            sheets: sheets::sheets(bay, job, &floor, &walls),
            sides: sides::stretches(&floor, &walls),
            floor,
            walls,
            things: Vec::new(),
            cleared: Vec::new(),
            keep_clear: Vec::new(),
            ceiling: bay.ceiling,
            doors_shut: OnceLock::new(),
        }
    }

    /// For each open door of the job, in its order: the walls alone with that door shut. `bundle`: the one this was
    /// made of.
    pub(super) fn with_doors_shut(&self, bundle: &Bundle) -> &[Arc<Stage>] {
        let shut = |door| Stage::bare(&bundle.bay, &shutting(&bundle.job, door), self.survey.clone());
        self.doors_shut
            .get_or_init(|| bundle.job.doors_open.iter().map(|door| Arc::new(shut(door))).collect())
    }

    /// The bound under a label of the floor's edges.
    pub fn bound(&self, label: u32) -> &Bound {
        &self.walls[label as usize]
    }

    /// The label of the bound with this name.
    pub fn label(&self, name: &str) -> Option<u32> {
        let at = self.walls.iter().position(|w| &*w.name == name)?;
        u32::try_from(at).ok()
    }
}

/// The job with one of its open doors shut.
pub(super) fn shutting(job: &Job, door: &Name) -> Job {
    let mut shut = job.clone();
    shut.doors_open.0.retain(|open| open != door);
    shut
}

/// The usable floor and what bounds it. An apron joins the floor only through its door's stretch.
fn floor(bay: &Bay, job: &Job) -> (Region, Vec<Bound>) {
    let mut cells = vec![bay.floor.outline.0.clone()];
    let mut edges = Vec::new();
    let mut bounds: Vec<Bound> = Vec::new();
    let n = bay.floor.points.len();
    let turn = turn_sense(&bay.floor.points);
    for i in 0..n {
        let Some((a, b)) = bay.floor.side(i) else { continue };
        let side = (P2::new(a.0, a.1), P2::new(b.0, b.1));
        let way = (side.1 - side.0).normalize();
        let inward = V2::new(-way.y, way.x) * turn;
        let listed = bay.walls.iter().find(|w| w.side.index == i);
        let name = match listed.and_then(|w| w.name.as_ref()) {
            Some(name) => name.text.clone(),
            None => format!("wall {i}").into(),
        };
        let surface = listed.map(|w| w.surface.clone()).unwrap_or_default();
        let mut doors: Vec<(usize, &Doorway)> =
            bay.doorways.iter().enumerate().filter(|(_, d)| d.side.index == i).collect();
        doors.sort_by(|x, y| x.1.from.total_cmp(&y.1.from));
        let wall = push(
            &mut bounds,
            Bound {
                name,
                kind: BoundKind::Wall(i),
                side,
                inward,
                surface: surface.clone(),
                own_surface: false,
            },
        );
        let length = (side.1 - side.0).norm();
        let at = |along: f64| side.0 + (side.1 - side.0) * (along / length);
        let mut done = 0.0;
        for (d, door) in doors {
            let (from, to) = (door.from.clamp(done, length), (door.from + door.width).clamp(done, length));
            add_edge(&mut edges, at(done), at(from), wall);
            done = to;
            let open = job.doors_open.contains(&door.name);
            match &door.apron {
                Some(apron) if open => {
                    let label = push(
                        &mut bounds,
                        Bound {
                            name: format!("{} apron", door.name).into(),
                            kind: BoundKind::Apron(d),
                            side,
                            inward,
                            surface: Vec::new(),
                            own_surface: false,
                        },
                    );
                    let apron = apron::snapped(&apron.0, (at(from), at(to)));
                    for (a, b) in apron::edges(&apron, &bay.floor.outline.0, (at(from), at(to))) {
                        add_edge(&mut edges, a, b, label);
                    }
                    cells.push(apron);
                }
                _ => {
                    let shares = open || door.surface.is_none();
                    let label = push(
                        &mut bounds,
                        Bound {
                            name: door.name.text.clone(),
                            kind: BoundKind::Door(d),
                            side,
                            inward,
                            surface: match &door.surface {
                                _ if open => Vec::new(),
                                Some(own) => own.clone(),
                                None => surface.clone(),
                            },
                            own_surface: !shares,
                        },
                    );
                    add_edge(&mut edges, at(from), at(to), label);
                }
            }
        }
        add_edge(&mut edges, at(done), at(length), wall);
    }
    (Region::new(cells, edges), bounds)
}

/// 1 when the points run anticlockwise, -1 when clockwise.
fn turn_sense(points: &[(f64, f64)]) -> f64 {
    let n = points.len();
    let doubled: f64 = (0..n)
        .map(|i| {
            let ((ax, ay), (bx, by)) = (points[i], points[(i + 1) % n]);
            ax * by - bx * ay
        })
        .sum();
    doubled.signum()
}

fn push(bounds: &mut Vec<Bound>, bound: Bound) -> u32 {
    bounds.push(bound);
    u32::try_from(bounds.len() - 1).unwrap_or(u32::MAX)
}

fn add_edge(edges: &mut Vec<Edge>, a: P2, b: P2, label: u32) {
    if (b - a).norm() > NOISE_MM {
        edges.push(Edge { a, b, label });
    }
}
