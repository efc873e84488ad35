//! Several things of a bay changed at once: moved, taken away, put in again, mirrored, aligned.

use super::floor::floor;
use super::put_down::free_name;
use super::{BayThing, tidy};
use crate::geometry::{Bounds, P2, V2};
use crate::model::Bay;
use crate::model::bay::{Fixture, KeepClear};
use crate::model::shape::{Outline, ShapeDef};

/// What was copied: things that stand for themselves. Doorways, posts, corners, lines, points and installed targets are
/// known by where they are.
#[derive(Clone, Debug, PartialEq)]
pub enum Copied {
    Fixture(Fixture),
    KeepClear(KeepClear),
}

/// Which edge of the first thing the others are brought to, or its middle; as the bay's axes run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    Left,
    Right,
    Front,
    Back,
    MiddleAcross,
    MiddleAlong,
}

impl Align {
    pub const ALL: [Align; 6] =
        [Align::Left, Align::Right, Align::Front, Align::Back, Align::MiddleAcross, Align::MiddleAlong];

    /// Seen from the bay's origin, looking in.
    pub fn words(self) -> &'static str {
        match self {
            Align::Left => "left edges",
            Align::Right => "right edges",
            Align::Front => "near edges",
            Align::Back => "far edges",
            Align::MiddleAcross => "middles across",
            Align::MiddleAlong => "middles along",
        }
    }
}

/// One by its name, more by their number.
pub fn names(bay: &Bay, things: &[BayThing]) -> String {
    match things {
        [thing] if thing.is_in(bay) => thing.name(bay),
        _ => format!("{} things", things.len()),
    }
}

/// The box about all of them that have a place.
pub fn bounds(bay: &Bay, things: &[BayThing]) -> Option<Bounds> {
    things.iter().filter_map(|t| box_of(bay, *t)).reduce(|a, b| a.union(&b))
}

fn box_of(bay: &Bay, thing: BayThing) -> Option<Bounds> {
    match thing.shape(bay) {
        Some(shape) => Some(shape.0.bounds()),
        None => thing.place(bay).map(|p| Bounds::of([p])),
    }
}

/// The box about what was copied.
pub fn bounds_of(copies: &[Copied]) -> Option<Bounds> {
    let own = copies.iter().map(|copy| match copy {
        Copied::Fixture(f) => f.shape.0.bounds(),
        Copied::KeepClear(k) => k.shape.0.bounds(),
    });
    own.reduce(|a, b| a.union(&b))
}

/// The bay with all of them moved; corners together, so that only where they end up has to be a floor.
pub fn moved(bay: &Bay, things: &[BayThing], by: V2) -> Result<Bay, String> {
    let corner = |t: &BayThing| matches!(t, BayThing::Corner(_));
    let mut next = bay.clone();
    if things.iter().any(corner) {
        let mut points = bay.floor.points.clone();
        for at in things.iter().filter_map(|t| if let BayThing::Corner(i) = t { Some(*i) } else { None }) {
            let point = points.get_mut(at).ok_or("the floor has no such corner")?;
            *point = (tidy(point.0, by.x), tidy(point.1, by.y));
        }
        next.floor = floor(points)?;
        super::floor::carry_aprons(bay, &mut next);
    }
    for thing in things.iter().filter(|t| !corner(t)) {
        next = thing.moved(&next, by)?;
    }
    Ok(next)
}

/// The bay without them.
pub fn taken_away(bay: &Bay, things: &[BayThing]) -> Result<Bay, String> {
    // the later ones of a list first, so that the places of the others stay
    let mut order = things.to_vec();
    order.sort_by_key(|t| match t {
        BayThing::Fixture(i)
        | BayThing::KeepClear(i)
        | BayThing::Doorway(i)
        | BayThing::Corner(i)
        | BayThing::FloorLine(i)
        | BayThing::Point(i)
        | BayThing::Installed(i) => (usize::MAX, *i),
        BayThing::Post { lift, post } => (*lift, *post),
    });
    order.dedup();
    order.iter().rev().try_fold(bay.clone(), |bay, thing| thing.taken_away(&bay))
}

/// Those of them that can be copied, and how many cannot.
pub fn copied(bay: &Bay, things: &[BayThing]) -> (Vec<Copied>, usize) {
    let copies: Vec<Copied> = things
        .iter()
        .filter_map(|t| match t {
            BayThing::Fixture(i) => bay.fixtures.get(*i).cloned().map(Copied::Fixture),
            BayThing::KeepClear(i) => bay.keep_clear.get(*i).cloned().map(Copied::KeepClear),
            BayThing::Post { .. }
            | BayThing::Doorway(_)
            | BayThing::Corner(_)
            | BayThing::FloorLine(_)
            | BayThing::Point(_)
            | BayThing::Installed(_) => None,
        })
        .collect();
    let others = things.len() - copies.len();
    (copies, others)
}

/// The bay with what was copied put in, moved by so much, under names that nothing bears yet; and the new things.
pub fn put_in(bay: &Bay, copies: &[Copied], by: V2) -> Result<(Bay, Vec<BayThing>), String> {
    let (mut next, mut things) = (bay.clone(), Vec::new());
    for copy in copies {
        let name = match copy {
            Copied::Fixture(f) => free_name(&next, f.name.as_str()),
            Copied::KeepClear(k) => free_name(&next, k.name.as_str()),
        };
        let thing = match copy {
            Copied::Fixture(fixture) => {
                next.fixtures.push(Fixture { name: name.as_str().into(), ..fixture.clone() });
                BayThing::Fixture(next.fixtures.len() - 1)
            }
            Copied::KeepClear(area) => {
                next.keep_clear.push(KeepClear { name: name.as_str().into(), ..area.clone() });
                BayThing::KeepClear(next.keep_clear.len() - 1)
            }
        };
        next = thing.moved(&next, by)?;
        things.push(thing);
    }
    Ok((next, things))
}

/// The bay with them mirrored where they stand: left and right changed over, or front and back. Corners and doorways stay.
pub fn mirrored(bay: &Bay, things: &[BayThing], across: bool) -> Result<Bay, String> {
    let shaped: Vec<BayThing> = things.iter().copied().filter(|t| t.shape(bay).is_some()).collect();
    let middle = bounds(bay, &shaped).ok_or("nothing chosen can be mirrored")?.centre();
    let flip = |p: (f64, f64)| match across {
        true => (tidy(2.0 * middle.x, -p.0), p.1),
        false => (p.0, tidy(2.0 * middle.y, -p.1)),
    };
    let mut next = bay.clone();
    for thing in shaped {
        let Some(shape) = thing.shape(&next) else { continue };
        let def = match shape.def().clone() {
            ShapeDef::Box { at, size, turn } => {
                ShapeDef::Box { at: flip(at), size, turn: if turn == 0.0 { turn } else { -turn } }
            }
            ShapeDef::Round { at, diameter } => ShapeDef::Round { at: flip(at), diameter },
            ShapeDef::Outline(outline) => {
                let points = outline.written().iter().rev().map(|p| flip(*p)).collect();
                ShapeDef::Outline(Outline::new(points).map_err(|e| e.to_string())?)
            }
        };
        next = thing.reshaped(&next, def)?;
    }
    Ok(next)
}

/// The bay with all of them brought to an edge of the first, or to its middle.
pub fn aligned(bay: &Bay, things: &[BayThing], to: Align) -> Result<Bay, String> {
    let [first, others @ ..] = things else { return Err("nothing is chosen".into()) };
    if others.is_empty() {
        return Err("choose two things or more".into());
    }
    let with = box_of(bay, *first).ok_or("the first thing chosen has no place")?;
    let mut next = bay.clone();
    for thing in others {
        let Some(own) = box_of(bay, *thing) else { continue };
        let by = match to {
            Align::Left => V2::new(with.min.x - own.min.x, 0.0),
            Align::Right => V2::new(with.max.x - own.max.x, 0.0),
            Align::Front => V2::new(0.0, with.min.y - own.min.y),
            Align::Back => V2::new(0.0, with.max.y - own.max.y),
            Align::MiddleAcross => V2::new(with.centre().x - own.centre().x, 0.0),
            Align::MiddleAlong => V2::new(0.0, with.centre().y - own.centre().y),
        };
        next = thing.moved(&next, by)?;
    }
    Ok(next)
}

/// What of the bay lies wholly within a box: fixtures, areas, posts.
pub fn within(bay: &Bay, area: &Bounds) -> Vec<BayThing> {
    let inside = |thing: &BayThing| {
        thing.shape(bay).is_some_and(|shape| {
            let own = shape.0.bounds();
            let holds =
                |p: P2| p.x >= area.min.x && p.y >= area.min.y && p.x <= area.max.x && p.y <= area.max.y;
            holds(own.min) && holds(own.max)
        })
    };
    shaped(bay).filter(inside).collect()
}

/// Everything of the bay that has a shape of its own.
pub fn shaped(bay: &Bay) -> impl Iterator<Item = BayThing> + '_ {
    let posts = bay.lifts.iter().enumerate();
    let posts = posts.flat_map(|(lift, l)| (0..l.posts.len()).map(move |post| BayThing::Post { lift, post }));
    (0..bay.fixtures.len())
        .map(BayThing::Fixture)
        .chain(posts)
        .chain((0..bay.keep_clear.len()).map(BayThing::KeepClear))
}
