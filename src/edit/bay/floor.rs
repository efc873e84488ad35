//! The floor of a bay: its corners, its size, a new one, and how far its walls are.

use super::BayThing;
use super::put_down::doorway;
use crate::geometry::{Bounds, OutlineFault, P2, V2};
use crate::model::Bay;
use crate::model::bay::Floor;
use crate::model::shape::Outline;

/// A new corner in the middle of a side, where it changes nothing until it is moved. Doorways on the side keep their place on
/// it where they lie on one half of it.
pub fn corner_added(bay: &Bay, at: usize) -> Result<(Bay, BayThing), String> {
    let (a, way, long) = side(bay, at).ok_or("the floor has no such side")?;
    let half = (long / 2.0).round();
    if half <= 0.0 || half >= long {
        return Err("the side is too short for another corner".into());
    }
    let middle = a + way * half;
    let mut next = bay.clone();
    let mut points = bay.floor.points.clone();
    points.insert(at + 1, ((middle.x * 1000.0).round() / 1000.0, (middle.y * 1000.0).round() / 1000.0));
    next.floor = floor(points)?;
    for door in next.doorways.iter_mut() {
        if door.side.index > at {
            door.side.index += 1;
        } else if door.side.index == at && door.from >= half {
            door.side.index += 1;
            door.from -= half;
        } else if door.side.index == at && door.from + door.width > half {
            return Err(format!("{} is in the middle of that side: move it first", door.name));
        }
    }
    let mut halves = Vec::new();
    for wall in next.walls.iter_mut() {
        if wall.side.index > at {
            wall.side.index += 1;
        } else if wall.side.index == at {
            let mut other = wall.clone();
            other.side.index += 1;
            other.name = None;
            halves.push(other);
        }
    }
    next.walls.extend(halves);
    next.taped.clear();
    Ok((next, BayThing::Corner(at + 1)))
}

/// Width and length of a floor that is a rectangle along the bay's axes.
pub fn rectangle(bay: &Bay) -> Option<(f64, f64)> {
    let points = &bay.floor.points;
    let bounds = Bounds::of(points.iter().map(|p| P2::new(p.0, p.1)).collect::<Vec<_>>());
    let on = |p: &(f64, f64)| {
        (p.0 == bounds.min.x || p.0 == bounds.max.x) && (p.1 == bounds.min.y || p.1 == bounds.max.y)
    };
    (points.len() == 4 && points.iter().all(on)).then(|| (bounds.size().x, bounds.size().y))
}

/// The rectangle with another width and length: the corner nearest to the origin of both stays.
pub fn sized(bay: &Bay, width: f64, length: f64) -> Result<Bay, String> {
    rectangle(bay).ok_or("the floor is no rectangle: move its corners")?;
    if !(width > 0.0 && length > 0.0) {
        return Err("a bay is wider and longer than nothing".into());
    }
    let low = Bounds::of(bay.floor.points.iter().map(|p| P2::new(p.0, p.1)).collect::<Vec<_>>()).min;
    let to = |v: f64, low: f64, size: f64| if v == low { low } else { low + size };
    let points = bay.floor.points.iter().map(|p| (to(p.0, low.x, width), to(p.1, low.y, length))).collect();
    let mut next = bay.clone();
    next.floor = floor(points)?;
    carry_aprons(bay, &mut next);
    // a doorway that no longer fits its side is moved along it, and made narrower where that is not enough
    for at in 0..next.doorways.len() {
        let Some((_, _, long)) = side(&next, next.doorways[at].side.index) else { continue };
        let door = &mut next.doorways[at];
        door.width = door.width.min(long);
        let from = door.from.min(long - door.width);
        if from != door.from {
            next = door_at(&next, at, from)?;
        }
    }
    next.taped.clear();
    Ok(next)
}

/// A doorway so far along its side; its apron goes with it.
pub fn door_at(bay: &Bay, at: usize, from: f64) -> Result<Bay, String> {
    let mut next = bay.clone();
    next.doorways.get_mut(at).ok_or("the bay has no such doorway")?.from = from;
    carry_aprons(bay, &mut next);
    Ok(next)
}

/// Aprons go with their doorways wherever those were moved and turned: each lies before its first jamb as it lay before.
pub(super) fn carry_aprons(before: &Bay, next: &mut Bay) {
    let jamb = |bay: &Bay, at: usize| {
        let door = bay.doorways.get(at)?;
        let (a, way, _) = side(bay, door.side.index)?;
        Some((a + way * door.from, way))
    };
    for at in 0..next.doorways.len() {
        let (Some((was, way)), Some((is, now))) = (jamb(before, at), jamb(next, at)) else { continue };
        let Some(apron) = next.doorways[at].apron.as_mut().filter(|_| was != is || way != now) else {
            continue;
        };
        let turned = way != now;
        let points = apron.written().iter().map(|p| {
            let off = P2::new(p.0, p.1) - was;
            let (along, across) = (way.dot(&off), way.perp(&off));
            let to = match turned {
                true => is + now * along + V2::new(-now.y, now.x) * across,
                false => is + off,
            };
            let tidy = |v: f64| (v * 1000.0).round() / 1000.0;
            (tidy(to.x), tidy(to.y))
        });
        // moved and turned as a whole, an outline stays one
        if let Ok(carried) = Outline::new(points.collect()) {
            *apron = carried;
        }
    }
}

/// A bay to begin with: a rectangle with a doorway in the middle of its front, nothing in it, its ceiling not known.
pub fn begun(name: &str) -> Result<Bay, String> {
    let (width, length) = (6000.0, 12_000.0);
    let floor = floor(vec![(0.0, 0.0), (width, 0.0), (width, length), (0.0, length)])?;
    let bay = Bay {
        format: 1,
        name: name.into(),
        surveyed: None,
        floor,
        taped: Default::default(),
        ceiling: None,
        walls: Default::default(),
        doorways: Default::default(),
        fixtures: Default::default(),
        lifts: Default::default(),
        keep_clear: Default::default(),
        heights: Default::default(),
        reading_error: None,
        points: Default::default(),
        bearing: None,
        place: None,
        installed: Default::default(),
        floor_lines: Default::default(),
        rules: Default::default(),
    };
    Ok(doorway(bay, P2::new(width / 2.0, 0.0))?.0)
}

pub(super) fn floor(points: Vec<(f64, f64)>) -> Result<Floor, String> {
    let outline = Outline::new(points.clone()).map_err(|fault| match fault {
        OutlineFault::Crosses(..) => "the walls would cross".to_owned(),
        other @ (OutlineFault::TooFew(_)
        | OutlineFault::NotFinite(_)
        | OutlineFault::Repeated(_)
        | OutlineFault::NoArea) => other.to_string(),
    })?;
    Ok(Floor { outline, points })
}

/// A side's first point, its direction and its length.
pub(super) fn side(bay: &Bay, index: usize) -> Option<(P2, V2, f64)> {
    let (a, b) = bay.floor.side(index)?;
    let (a, b) = (P2::new(a.0, a.1), P2::new(b.0, b.1));
    Some((a, (b - a).try_normalize(0.0)?, (b - a).norm()))
}

/// How far a thing stands from the wall nearest to it across the bay and the one nearest along it: mm, the number of the
/// side, and which way it lies. Measured from its box, square to the bay's axes; a wall is met where it lies beside the box.
pub fn to_walls(bay: &Bay, of: &Bounds) -> [Option<(f64, usize, V2)>; 2] {
    let middle = of.centre();
    let reach = |way: V2| {
        let half = way.x.abs() * of.size().x / 2.0 + way.y.abs() * of.size().y / 2.0;
        (0..bay.floor.points.len())
            .filter_map(|i| {
                let (a, along, long) = side(bay, i)?;
                let across = way.perp(&along);
                if across.abs() < 1e-9 {
                    return None;
                }
                let far = (a - middle).perp(&along) / across;
                let at = (a - middle).perp(&way) / across;
                (far >= 0.0 && (0.0..=long).contains(&at)).then_some((far - half, i, way))
            })
            .min_by(|a, b| a.0.total_cmp(&b.0))
    };
    let nearer = |a: V2| {
        let both = [reach(a), reach(-a)];
        both.into_iter().flatten().min_by(|a, b| a.0.total_cmp(&b.0))
    };
    [nearer(V2::x()), nearer(V2::y())]
}
