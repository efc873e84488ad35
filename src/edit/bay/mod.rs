//! Changes of what stands in a bay and of the bay itself, each giving the bay as it then is. None looks at the job: what a
//! changed bay would refuse is refused when the change is made.

mod floor;
mod put_down;
pub mod several;
pub mod snap;
mod tapes;
mod words;

pub use floor::{begun, corner_added, door_at, rectangle, sized, to_walls};
pub use put_down::{PutDown, put_down};
pub use tapes::{Jambs, corners_taken, tape_read, tape_reread};
pub use words::place_in_words;

use crate::geometry::{Bounds, P2, V2};
use crate::model::Bay;
use crate::model::shape::{Outline, PlanShape, ShapeDef};
use floor::{floor, side};

/// A thing of a bay that can be chosen and moved, by its place in the bay's lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BayThing {
    Fixture(usize),
    KeepClear(usize),
    Post {
        lift: usize,
        post: usize,
    },
    /// Moves along its side only.
    Doorway(usize),
    /// A corner of the floor.
    Corner(usize),
    /// A line painted on the floor.
    FloorLine(usize),
    /// A named point.
    Point(usize),
    /// A target that is in the bay for good.
    Installed(usize),
}

impl BayThing {
    /// Whether the bay has it.
    pub fn is_in(self, bay: &Bay) -> bool {
        match self {
            BayThing::Fixture(i) => i < bay.fixtures.len(),
            BayThing::KeepClear(i) => i < bay.keep_clear.len(),
            BayThing::Post { lift, post } => bay.lifts.get(lift).is_some_and(|l| post < l.posts.len()),
            BayThing::Doorway(i) => i < bay.doorways.len(),
            BayThing::Corner(i) => i < bay.floor.points.len(),
            BayThing::FloorLine(i) => i < bay.floor_lines.len(),
            BayThing::Point(i) => i < bay.points.0.len(),
            BayThing::Installed(i) => i < bay.installed.len(),
        }
    }

    /// What it is called.
    pub fn name(self, bay: &Bay) -> String {
        match self {
            BayThing::Fixture(i) => bay.fixtures[i].name.to_string(),
            BayThing::KeepClear(i) => bay.keep_clear[i].name.to_string(),
            BayThing::Post { lift, post } => format!("{} post {}", bay.lifts[lift].name, post + 1),
            BayThing::Doorway(i) => bay.doorways[i].name.to_string(),
            BayThing::Corner(i) => format!("corner {i}"),
            BayThing::FloorLine(i) => bay.floor_lines[i].name.to_string(),
            BayThing::Point(i) => bay.points.0[i].0.to_string(),
            BayThing::Installed(i) => bay.installed[i].name.to_string(),
        }
    }

    /// Its shape on the plan, where it has one.
    pub fn shape(self, bay: &Bay) -> Option<&PlanShape> {
        match self {
            BayThing::Fixture(i) => bay.fixtures.get(i).map(|f| &f.shape),
            BayThing::KeepClear(i) => bay.keep_clear.get(i).map(|k| &k.shape),
            BayThing::Post { lift, post } => bay.lifts.get(lift).and_then(|l| l.posts.get(post)),
            BayThing::Doorway(_)
            | BayThing::Corner(_)
            | BayThing::FloorLine(_)
            | BayThing::Point(_)
            | BayThing::Installed(_) => None,
        }
    }

    fn shape_mut(self, bay: &mut Bay) -> Option<&mut PlanShape> {
        match self {
            BayThing::Fixture(i) => bay.fixtures.get_mut(i).map(|f| &mut f.shape),
            BayThing::KeepClear(i) => bay.keep_clear.get_mut(i).map(|k| &mut k.shape),
            BayThing::Post { lift, post } => bay.lifts.get_mut(lift).and_then(|l| l.posts.get_mut(post)),
            BayThing::Doorway(_)
            | BayThing::Corner(_)
            | BayThing::FloorLine(_)
            | BayThing::Point(_)
            | BayThing::Installed(_) => None,
        }
    }

    /// Where it is: the middle of its box or circle, of the box about its outline, of a doorway's opening.
    pub fn place(self, bay: &Bay) -> Option<P2> {
        match self {
            BayThing::Corner(i) => bay.floor.points.get(i).map(|p| P2::new(p.0, p.1)),
            BayThing::Doorway(i) => {
                let door = bay.doorways.get(i)?;
                let (a, way, _) = side(bay, door.side.index)?;
                Some(a + way * (door.from + door.width / 2.0))
            }
            BayThing::FloorLine(i) => {
                let points = bay.floor_lines.get(i)?.points.iter().map(|p| P2::new(p.0, p.1));
                Some(Bounds::of(points.collect::<Vec<_>>()).centre())
            }
            BayThing::Point(i) => bay.points.0.get(i).map(|(_, p)| P2::new(p.x, p.y)),
            BayThing::Installed(i) => bay.installed.get(i).map(|t| P2::new(t.at.0, t.at.1)),
            BayThing::Fixture(_) | BayThing::KeepClear(_) | BayThing::Post { .. } => {
                Some(match self.shape(bay)?.def() {
                    ShapeDef::Box { at, .. } | ShapeDef::Round { at, .. } => P2::new(at.0, at.1),
                    ShapeDef::Outline(outline) => outline.0.bounds().centre(),
                })
            }
        }
    }

    /// The bay with it moved; a doorway along its side, as far as that goes.
    pub fn moved(self, bay: &Bay, by: V2) -> Result<Bay, String> {
        let mut next = bay.clone();
        let to = |p: (f64, f64)| (tidy(p.0, by.x), tidy(p.1, by.y));
        match self {
            BayThing::Corner(i) => {
                let mut points = bay.floor.points.clone();
                let point = points.get_mut(i).ok_or("the floor has no such corner")?;
                *point = to(*point);
                next.floor = floor(points)?;
                floor::carry_aprons(bay, &mut next);
            }
            BayThing::Doorway(i) => {
                let door = bay.doorways.get(i).ok_or("the bay has no such doorway")?;
                let (_, way, long) = side(bay, door.side.index).ok_or("the doorway's side has no length")?;
                let along = way.dot(&by);
                if along != 0.0 {
                    let from = tidy(door.from, along).clamp(0.0, (long - door.width).max(0.0));
                    next = door_at(bay, i, from)?;
                }
            }
            BayThing::FloorLine(i) => {
                let line = next.floor_lines.get_mut(i).ok_or("the bay has no such line")?;
                for point in line.points.iter_mut() {
                    (point.0, point.1) = to((point.0, point.1));
                }
            }
            BayThing::Point(i) => {
                let (_, point) = next.points.0.get_mut(i).ok_or("the bay has no such point")?;
                (point.x, point.y) = to((point.x, point.y));
            }
            BayThing::Installed(i) => {
                let target = next.installed.get_mut(i).ok_or("the bay has no such target")?;
                target.at = to(target.at);
            }
            BayThing::Fixture(_) | BayThing::KeepClear(_) | BayThing::Post { .. } => {
                let shape = self.shape_mut(&mut next).ok_or("the bay has no such thing")?;
                let def = match shape.def().clone() {
                    ShapeDef::Box { at, size, turn } => ShapeDef::Box { at: to(at), size, turn },
                    ShapeDef::Round { at, diameter } => ShapeDef::Round { at: to(at), diameter },
                    ShapeDef::Outline(outline) => {
                        let points = outline.written().iter().map(|p| to(*p)).collect();
                        ShapeDef::Outline(Outline::new(points).map_err(|e| e.to_string())?)
                    }
                };
                *shape = PlanShape::new(def).map_err(|e| e.to_string())?;
            }
        }
        Ok(next)
    }

    /// The bay with it shaped otherwise.
    pub fn reshaped(self, bay: &Bay, def: ShapeDef) -> Result<Bay, String> {
        let mut next = bay.clone();
        let shape = self.shape_mut(&mut next).ok_or("the bay has no such thing")?;
        *shape = PlanShape::new(def).map_err(|e| e.to_string())?;
        Ok(next)
    }

    /// The bay without it. Of a floor's corner what is left must still be a floor; doorways and walls of later sides keep
    /// their sides.
    pub fn taken_away(self, bay: &Bay) -> Result<Bay, String> {
        if !self.is_in(bay) {
            return Err("the bay has no such thing".into());
        }
        let mut next = bay.clone();
        match self {
            BayThing::Fixture(i) => drop(next.fixtures.remove(i)),
            BayThing::KeepClear(i) => drop(next.keep_clear.remove(i)),
            BayThing::Doorway(i) => drop(next.doorways.remove(i)),
            BayThing::FloorLine(i) => drop(next.floor_lines.remove(i)),
            BayThing::Point(i) => drop(next.points.0.remove(i)),
            BayThing::Installed(i) => drop(next.installed.remove(i)),
            BayThing::Post { lift, post } => {
                next.lifts[lift].posts.remove(post);
                // without posts and runways there is no lift
                if next.lifts[lift].posts.is_empty() && next.lifts[lift].runways.is_empty() {
                    next.lifts.remove(lift);
                }
            }
            BayThing::Corner(i) => {
                let mut points = bay.floor.points.clone();
                points.remove(i);
                next.floor = floor(points)?;
                let on = |side: usize| bay.doorways.iter().find(|d| d.side.index == side);
                if let Some(door) = on(i) {
                    return Err(format!("{} is on a side that would go: take it away first", door.name));
                }
                next.walls.retain(|w| w.side.index != i);
                let sides = next.walls.iter_mut().map(|w| &mut w.side);
                for side in sides.chain(next.doorways.iter_mut().map(|d| &mut d.side)) {
                    side.index -= usize::from(side.index > i);
                }
                next.taped.clear();
            }
        }
        Ok(next)
    }
}

/// A sum without the last noise of the arithmetic.
fn tidy(v: f64, by: f64) -> f64 {
    if by == 0.0 { v } else { ((v + by) * 1000.0).round() / 1000.0 }
}

#[cfg(test)]
mod tests;
