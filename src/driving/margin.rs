//! How near the vehicle comes to anything on a way.

use super::car::{Car, Part};
use super::course::{Contact, Course};
use super::motion::{Pose, Segment};
use super::swept::hull;
use crate::geometry::P2;

/// The least margin is found within this, mm.
const WITHIN: f64 = 0.1;
/// While ways are compared, within this, mm.
const NEAR: f64 = 0.2;

/// The nearest contact on a way, and where the vehicle then is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    pub contact: Contact,
    pub pose: Pose,
}

/// The least gap on the way. A straight is measured exactly, by the hull of its two ends; an arc is halved until no
/// point between two looks can be nearer by more than a tenth of a millimetre (no point moves further than the fastest).
pub fn nearest(course: &Course, car: &Car, way: &[Segment]) -> Option<Nearest> {
    let mut best: Option<Nearest> = None;
    for segment in way {
        if segment.is_straight() {
            straight(course, car, segment, &mut best);
        } else {
            arc(course, car, segment, &mut best);
        }
    }
    best
}

/// The least room on a way, within a millimetre and at most `far`; `None` as soon as it is known to be below `floor`.
pub fn room_above(course: &Course, car: &Car, way: &[Segment], floor: f64, far: f64) -> Option<f64> {
    let mut least = far;
    // where a way out is narrow is mostly its end
    for segment in way.iter().rev() {
        if segment.is_straight() {
            let parts: Vec<Part> = car.parts.iter().map(|p| swept_part(p, segment.length)).collect();
            least = least.min(course.nearer(&parts, &segment.from.frame(), far).map_or(far, |c| c.mm));
        } else {
            least = least.min(arc_above(course, car, segment, floor, far)?);
        }
        if least < floor {
            return None;
        }
    }
    Some(least)
}

fn arc_above(course: &Course, car: &Car, segment: &Segment, floor: f64, far: f64) -> Option<f64> {
    /// Looked farther than `far`, so that wide room is crossed in wide steps, mm.
    const BEYOND: f64 = 1500.0;
    let speed = car.speed(segment.curvature);
    let at = |along: f64| {
        let frame = segment.at(along).frame();
        let gap = course.nearer(&car.parts, &frame, far + BEYOND).map_or(far + BEYOND, |c| c.mm);
        (gap >= floor).then_some(gap)
    };
    let end = segment.length.abs();
    let (from, to) = (at(0.0)?, at(end)?);
    let mut least = from.min(to).min(far);
    let mut open = vec![(0.0, from, end, to)];
    while let Some((s, gap_s, t, gap_t)) = open.pop() {
        if (gap_s + gap_t - speed * (t - s)) / 2.0 >= least - 1.0 {
            continue;
        }
        let middle = (s + t) / 2.0;
        let gap = at(middle)?;
        least = least.min(gap);
        open.push((s, gap_s, middle, gap));
        open.push((middle, gap, t, gap_t));
    }
    Some(least)
}

/// Where a way has least room.
#[derive(Clone, Copy, Debug)]
pub struct Least {
    /// mm, at most what was looked for.
    pub room: f64,
    /// What limits it; none where nothing is nearer than what was looked for.
    pub by: Option<Limit>,
}

/// A contact, told so that it can be followed when the way is changed a little.
#[derive(Clone, Copy, Debug)]
pub struct Limit {
    /// Number of the segment, and how far along it the vehicle is; 0 for a straight, which is taken as a whole.
    pub segment: usize,
    pub along: f64,
    /// Vehicle and thing, bay axes.
    pub at: (P2, P2),
    /// The two overlap.
    pub is_in: bool,
}

/// The least room on a way, within a fifth of a millimetre and at most `far`. Left at the first contact found with less than `floor`.
pub fn least_room(course: &Course, car: &Car, way: &[Segment], floor: f64, far: f64) -> Least {
    let mut least = Least { room: far, by: None };
    let order = (0..way.len()).rev();
    // where a way is narrow is mostly where its pieces meet, and its end
    for segment in order.clone().filter(|i| !way[*i].is_straight()) {
        look_at(course, car, way, segment, way[segment].length.abs(), 0.0, &mut least);
        if least.room < floor {
            return least;
        }
    }
    for segment in order {
        if way[segment].is_straight() {
            let parts: Vec<Part> = car.parts.iter().map(|p| swept_part(p, way[segment].length)).collect();
            let found = course.nearer(&parts, &way[segment].from.frame(), least.room);
            note(found, segment, 0.0, &mut least);
        } else {
            along_arc(course, car, way, segment, floor, &mut least);
        }
        if least.room < floor {
            return least;
        }
    }
    least
}

/// Measures at one spot of an arc; what it has, up to `beyond` more than the least so far.
fn look_at(
    course: &Course,
    car: &Car,
    way: &[Segment],
    segment: usize,
    along: f64,
    beyond: f64,
    least: &mut Least,
) -> f64 {
    let far = least.room + beyond;
    let found = course.nearer(&car.parts, &way[segment].at(along).frame(), far);
    note(found, segment, along, least);
    found.map_or(far, |c| c.mm)
}

fn note(found: Option<Contact>, segment: usize, along: f64, least: &mut Least) {
    if let Some(c) = found
        && c.mm < least.room
    {
        *least = Least { room: c.mm, by: Some(Limit { segment, along, at: c.at, is_in: c.mm < 0.0 }) };
    }
}

fn along_arc(course: &Course, car: &Car, way: &[Segment], segment: usize, floor: f64, least: &mut Least) {
    let speed = car.speed(way[segment].curvature);
    let end = way[segment].length.abs();
    let mut at = |along: f64, ahead: f64| look_at(course, car, way, segment, along, speed * ahead, least);
    let mut open = vec![(0.0, at(0.0, end), end, at(end, end))];
    while let Some((s, gap_s, t, gap_t)) = open.pop() {
        if least.room < floor {
            return;
        }
        if (gap_s + gap_t - speed * (t - s)) / 2.0 >= least.room - NEAR {
            continue;
        }
        let middle = (s + t) / 2.0;
        let gap = look_at(course, car, way, segment, middle, speed * (t - s) / 2.0, least);
        open.push((s, gap_s, middle, gap));
        open.push((middle, gap, t, gap_t));
    }
}

fn straight(course: &Course, car: &Car, segment: &Segment, best: &mut Option<Nearest>) {
    let parts: Vec<Part> = car.parts.iter().map(|p| swept_part(p, segment.length)).collect();
    let frame = segment.from.frame();
    if let Some(contact) = course.nearest(&parts, &frame)
        && best.is_none_or(|b| contact.mm < b.contact.mm)
    {
        // the first spot of the straight as near as that
        let pose = (0..=200)
            .map(|i| segment.from.moved(0.0, segment.length * f64::from(i) / 200.0))
            .min_by(|a, b| look(course, car, a).total_cmp(&look(course, car, b)));
        *best = Some(Nearest { contact, pose: pose.unwrap_or(segment.from) });
    }
}

fn look(course: &Course, car: &Car, pose: &Pose) -> f64 {
    course.nearest(&car.parts, &pose.frame()).map_or(f64::INFINITY, |c| c.mm)
}

fn arc(course: &Course, car: &Car, segment: &Segment, best: &mut Option<Nearest>) {
    let speed = car.speed(segment.curvature);
    let mut at = |along: f64| {
        let pose = segment.at(along);
        let contact = course.nearest(&car.parts, &pose.frame());
        if let Some(contact) = contact
            && best.is_none_or(|b| contact.mm < b.contact.mm)
        {
            *best = Some(Nearest { contact, pose });
        }
        let least = best.map_or(f64::INFINITY, |b| b.contact.mm);
        (contact.map_or(f64::INFINITY, |c| c.mm), least)
    };
    let end = segment.length.abs();
    let mut open = vec![(0.0, at(0.0).0, end, at(end).0)];
    let mut least = f64::INFINITY;
    while let Some((s, gap_s, t, gap_t)) = open.pop() {
        let bound = (gap_s + gap_t - speed * (t - s)) / 2.0;
        if bound >= least - WITHIN {
            continue;
        }
        let middle = (s + t) / 2.0;
        let (gap, so_far) = at(middle);
        least = so_far;
        open.push((s, gap_s, middle, gap));
        open.push((middle, gap, t, gap_t));
    }
}

/// A part drawn out along a straight, in the axes of its start.
fn swept_part(part: &Part, length: f64) -> Part {
    let by = crate::geometry::V2::new(length, 0.0);
    let points: Vec<P2> = part.points.iter().flat_map(|p| [*p, p + by]).collect();
    Part::new(part.of, hull(&points).unwrap_or_else(|| part.points.clone()))
}
