//! The roomiest of the ways like one another: a way out told by a few numbers, and the numbers tried.
//!
//! What a search finds first may scrape past a jamb it could have passed well clear of. Here the lengths before the
//! last curves, their radius, and the spot before the doorway are moved about for as long as the least room grows: a
//! pattern search (Hooke and Jeeves, "Direct Search", 1961, as the class of method) from the best of a table of starts.

use dubins_paths::PathType;

use super::car::Car;
use super::connect::{DEPTHS, curve, leaving, onward};
use super::course::Course;
use super::margin::room_above;
use super::motion::{Pose, Segment};

/// Room is measured up to this where nothing less will do, mm.
pub const FAR: f64 = 600.0;
/// Starts followed up of those in the table.
const STARTS: usize = 6;
/// A start deeper in things than this is not followed up, mm.
const HOPELESS: f64 = -150.0;
/// Ways tried from one start.
const TRIES: usize = 300;
/// Steps are halved this often.
const HALVINGS: usize = 6;
/// Less gain is none, mm.
const GAIN: f64 = 0.5;
/// Both curves together turn no further than this, radians.
const MOST_TURN: f64 = 4.0;

/// What leads to the last two curves, from the place outward, and which way round they are driven.
#[derive(Clone, Debug)]
pub struct Lead {
    pub segments: Vec<Segment>,
    /// The first straight may not be shorter, mm.
    pub straight: f64,
    pub backward: bool,
    /// Room is measured up to this, mm.
    pub far: f64,
}

/// A way out in numbers.
#[derive(Clone)]
struct Shape {
    kind: PathType,
    /// Lengths of the lead's segments, then radius, depth and offset of the spot square before the doorway, mm.
    numbers: Vec<f64>,
}

struct Looking<'a> {
    course: &'a Course,
    car: &'a Car,
    place: Pose,
    /// Least radius.
    radius: f64,
    lead: &'a Lead,
    stop: &'a dyn Fn() -> bool,
}

/// The roomiest way out found that begins like the lead, if any has more than `floor` mm of room. The outer `None`:
/// stopped.
pub fn roomier(
    course: &Course,
    car: &Car,
    place: Pose,
    radius: f64,
    lead: &Lead,
    floor: f64,
    stop: &dyn Fn() -> bool,
) -> Option<Option<Vec<Segment>>> {
    let looking = Looking { course, car, place, radius, lead, stop };
    let mut best: Option<(Vec<Segment>, f64)> = None;
    for (shape, room) in looking.starts()?.into_iter().take(STARTS) {
        let found = looking.follow(shape, room)?;
        if found.1 > best.as_ref().map_or(floor, |b| b.1) {
            best = Some(found);
        }
    }
    Some(best.map(|b| b.0))
}

impl Looking<'_> {
    /// The best of the table for each kind of curves and each length before them, best first.
    fn starts(&self) -> Option<Vec<(Shape, f64)>> {
        let lengths: Vec<f64> = self.lead.segments.iter().map(|s| s.length.abs()).collect();
        let mut out: Vec<(Shape, f64)> = Vec::new();
        for kind in PathType::CSC {
            for longer in [0.0, 1000.0, 2500.0] {
                let mut best: Option<(Shape, f64)> = None;
                if (self.stop)() {
                    return None;
                }
                for radius in [1.0, 2.0, 4.0] {
                    for depth in DEPTHS {
                        let mut numbers = lengths.clone();
                        if let Some(last) = numbers.last_mut() {
                            *last += longer;
                        }
                        numbers.extend([radius * self.radius, depth, 0.0]);
                        let shape = Shape { kind, numbers };
                        let floor = best.as_ref().map_or(-FAR, |b| b.1 + GAIN);
                        if let Some(room) = self.room(&shape, floor) {
                            best = Some((shape, room));
                        }
                    }
                }
                out.extend(best.filter(|(_, room)| *room > HOPELESS));
            }
        }
        out.sort_by(|a, b| b.1.total_cmp(&a.1));
        Some(out)
    }

    /// Moves the numbers, one and two at a time, while there is more room for it.
    fn follow(&self, start: Shape, room: f64) -> Option<(Vec<Segment>, f64)> {
        let (mut shape, mut room) = (start, room);
        let n = shape.numbers.len();
        let mut steps = vec![400.0; n];
        steps[n - 3..].copy_from_slice(&[0.6 * self.radius, 800.0, 150.0]);
        let mut tries = 0;
        for _ in 0..HALVINGS {
            let mut again = true;
            while again && tries < TRIES {
                again = false;
                if (self.stop)() {
                    return None;
                }
                for turn in moves(n) {
                    // a step that helps is taken again
                    while tries < TRIES {
                        tries += 1;
                        let mut next = shape.clone();
                        turn.iter().for_each(|(i, sign)| next.numbers[*i] += sign * steps[*i]);
                        let Some(found) = self.room(&next, room + GAIN) else { break };
                        (shape, room, again) = (next, found, true);
                        if room >= self.lead.far {
                            break;
                        }
                    }
                }
            }
            steps.iter_mut().for_each(|s| *s /= 2.0);
        }
        let way = self.way(&shape).unwrap_or_default();
        Some((way, room))
    }

    fn room(&self, shape: &Shape, floor: f64) -> Option<f64> {
        room_above(self.course, self.car, &self.way(shape)?, floor, self.lead.far)
    }

    /// The way these numbers tell; `None`: they tell none.
    fn way(&self, shape: &Shape) -> Option<Vec<Segment>> {
        let lead = &self.lead.segments;
        let (lengths, spot) = shape.numbers.split_at(lead.len());
        let &[radius, depth, offset] = spot else { return None };
        if radius < self.radius || lengths.first().is_some_and(|l| *l < self.lead.straight) {
            return None;
        }
        let mut way = Vec::with_capacity(lead.len() + 4);
        let mut at = self.place;
        for (s, length) in lead.iter().zip(lengths) {
            if *length < 0.0 {
                return None;
            }
            let s = Segment { from: at, curvature: s.curvature, length: length.copysign(s.length) };
            at = s.to();
            way.push(s);
        }
        let gate = &self.course.gate;
        let look = if self.lead.backward { -gate.out } else { gate.out };
        let goal = Pose { at: gate.point(-depth, offset), angle: look.y.atan2(look.x) };
        let curves = curve(&at, &goal, radius, self.lead.backward, shape.kind)?;
        let turned: f64 = curves.iter().map(|s| (s.curvature * s.length).abs()).sum();
        if turned > MOST_TURN {
            return None;
        }
        way.extend(curves);
        let then = leaving(self.car, self.lead.backward) + depth;
        if then > 0.0 {
            way.push(onward(&goal, self.lead.backward, then));
        }
        Some(way)
    }
}

/// One number up or down, then two of them.
fn moves(n: usize) -> Vec<Vec<(usize, f64)>> {
    const SIGNS: [f64; 2] = [1.0, -1.0];
    let mut out: Vec<Vec<(usize, f64)>> = Vec::new();
    for i in 0..n {
        out.extend(SIGNS.map(|a| vec![(i, a)]));
    }
    for i in 0..n {
        for j in i + 1..n {
            out.extend(SIGNS.iter().flat_map(|a| SIGNS.map(|b| vec![(i, *a), (j, b)])));
        }
    }
    out
}
