//! The roomiest way out of the place, of a family of ways that is the same for every bay.
//!
//! A way out is a straight run, up to two stretches (bends, straights, changes of direction), and two curves with a
//! straight between them (Dubins) to a line square through the doorway. All but that line's place is taken from fixed lists
//! (see [`lists`]), whatever stands in the bay; where the line runs is moved for as long as the least room
//! grows, within cells that hang on the place and not on the doorway. So whoever asks less, with a shorter straight run, a
//! fixture fewer or a wider door, has all the ways of one who asks more, each with as much room at least; and the mirror
//! image of a bay has the mirrored ways. Nothing is given up because it costs too much work: the lists are short, and a way
//! is left as soon as it is known to have less room than the best one.

use dubins_paths::PathType;

use super::car::Car;
use super::connect::{curve, leaving, onward, straight_out};
use super::course::Course;
use super::lists::{self, Stage};
use super::margin::{Limit, least_room};
use super::motion::{Pose, Segment};

/// Less gain is none: the simpler way, tried earlier, is kept, mm.
const GAIN: f64 = 0.4;
/// With so much room nobody changes the direction for more, mm.
pub const ROOMY: f64 = 250.0;
/// The line through the doorway is placed within this, mm.
const WITHIN: f64 = 0.25;
/// How far beside the middle of the doorway the line is looked for, beyond what a square passage leaves, mm.
const BESIDE: f64 = 300.0;
/// The line is looked for in cells so wide, mm.
const CELL: f64 = 300.0;
/// Where curves of a kind lead to the middle of no stretch as wide as this, they lead to none of its lines, mm.
const WIDE: f64 = 100.0;
/// Room grows by at most so much for each mm that the line is moved.
const SLOPE: f64 = 2.0;
/// Both curves together turn no further than this, radians.
const MOST_TURN: f64 = 4.0;

/// What is asked of the way.
#[derive(Clone, Copy, Debug)]
pub struct Ask {
    pub place: Pose,
    /// Least radius of the rear axle's middle, mm.
    pub radius: f64,
    /// The last stretch before the stop is straight, mm.
    pub straight: f64,
    /// Least room, mm; below zero: how deep it may stand in things.
    pub least: f64,
}

/// Looks for the way out with the most room; none where all have less than is asked. The outer `None`: stopped.
pub fn roomiest(
    course: &Course,
    car: &Car,
    ask: Ask,
    stop: &dyn Fn() -> bool,
) -> Option<Option<Vec<Segment>>> {
    let mut looking = Looking { course, car, ask, most: most(course, car, &ask), stop, best: None };
    looking.straight();
    for stage in &lists::STAGES {
        looking.stage(stage)?;
    }
    Some(looking.best.map(|b| b.0))
}

/// What leads to the last curves.
#[derive(Clone)]
struct Lead {
    segments: Vec<Segment>,
    at: Pose,
    /// Least room on it, mm.
    room: f64,
}

/// The last two curves but for the place of the line they lead to.
#[derive(Clone, Copy)]
struct Curves {
    kind: PathType,
    radius: f64,
    /// How far inside the doorway the rear axle comes to the line, mm.
    depth: f64,
    backward: bool,
}

struct Looking<'a> {
    course: &'a Course,
    car: &'a Car,
    ask: Ask,
    /// No way has more room, mm.
    most: f64,
    stop: &'a dyn Fn() -> bool,
    best: Option<(Vec<Segment>, f64)>,
}

impl Looking<'_> {
    /// What a way must have to be better than the best one.
    fn floor(&self) -> f64 {
        self.best.as_ref().map_or(self.ask.least, |b| b.1 + GAIN)
    }

    fn is_enough(&self) -> bool {
        self.floor() > self.most
    }

    /// Whether a way so driven is of no use: it changes its direction, and what is known has room enough without.
    fn is_idle(&self, lead: &[Segment], backward: bool) -> bool {
        self.floor() > ROOMY && changes(lead, backward)
    }

    /// Of a way that changes its direction more room than [`ROOMY`] is worth nothing.
    fn keep(&mut self, way: Vec<Segment>, room: f64) {
        let changes = way.first().is_some_and(|first| changes(&way, first.is_backward()));
        let worth = if changes { room.min(ROOMY) } else { room };
        if worth >= self.floor() {
            self.best = Some((way, worth));
        }
    }

    /// Straight all the way.
    fn straight(&mut self) {
        for backward in [true, false] {
            let exit = straight_out(self.course, self.car, &self.ask.place, backward);
            let Some(mut run) = exit.and_then(|e| e.segments.first().copied()) else { continue };
            run.length = run.length.abs().max(self.ask.straight).copysign(run.length);
            if let Some(room) = self.room(&[run], self.floor()) {
                self.keep(vec![run], room);
            }
        }
    }

    fn stage(&mut self, stage: &Stage) -> Option<()> {
        for backward in [true, false] {
            for run in lists::runs(self.ask.straight, stage.runs) {
                let start = Lead { segments: Vec::new(), at: self.ask.place, room: self.most };
                // a longer one is no roomier
                let Some(lead) = self.longer(&start, 0.0, run, backward) else { break };
                if stage.changes.is_empty() {
                    self.leave(&lead, stage, backward)?;
                    // with no run at all the other way round is the same
                    if run > 0.0 {
                        self.leave(&lead, stage, !backward)?;
                    }
                } else {
                    self.stretch(&lead, stage, 0, backward)?;
                }
                if self.is_enough() {
                    return Some(());
                }
            }
        }
        Some(())
    }

    /// One more stretch of those that lead to the last curves, and what follows it. `backward`: how the one before it is
    /// driven.
    fn stretch(&mut self, lead: &Lead, stage: &Stage, nth: usize, backward: bool) -> Option<()> {
        let changes = stage.changes[nth];
        let backward = backward != changes;
        if self.is_idle(&lead.segments, backward) {
            return Some(());
        }
        let is_last = nth + 2 == stage.changes.len();
        let curvatures = [1.0, -1.0, 0.0].map(|s| s / self.ask.radius);
        for curvature in curvatures {
            // a bend that goes on is only a longer bend, a straight a longer straight
            let goes_on = lead.segments.last().map_or(0.0, |s| s.curvature) == curvature;
            if goes_on && !changes {
                continue;
            }
            for length in stage.lengths {
                let Some(next) = self.longer(lead, curvature, *length, backward) else { break };
                match is_last {
                    true => self.leave(&next, stage, backward != stage.changes[nth + 1])?,
                    false => self.stretch(&next, stage, nth + 1, backward)?,
                }
                if self.is_enough() {
                    return Some(());
                }
            }
        }
        Some(())
    }

    /// The lead with one stretch more; `None`: it has no more room than the best way.
    fn longer(&self, lead: &Lead, curvature: f64, length: f64, backward: bool) -> Option<Lead> {
        let length = if backward { -length } else { length };
        let segment = Segment { from: lead.at, curvature, length };
        let room = self.room(&[segment], self.floor())?.min(lead.room);
        let mut segments = lead.segments.clone();
        if length != 0.0 {
            segments.push(segment);
        }
        Some(Lead { segments, at: segment.to(), room })
    }

    /// All the last curves from here.
    fn leave(&mut self, lead: &Lead, stage: &Stage, backward: bool) -> Option<()> {
        if (self.stop)() {
            return None;
        }
        if self.is_idle(&lead.segments, backward) {
            return Some(());
        }
        let kinds = [PathType::LSR, PathType::RSL, PathType::LSL, PathType::RSR];
        let inside = -self.course.gate.outside(lead.at.at);
        for depth in stage.depths.iter().filter(|d| **d < inside) {
            for radius in stage.radii {
                for kind in kinds {
                    self.place_line(
                        lead,
                        Curves { kind, radius: radius * self.ask.radius, depth: *depth, backward },
                    );
                    if self.is_enough() || lead.room < self.floor() {
                        return Some(());
                    }
                }
            }
        }
        Some(())
    }

    /// Moves the line through the doorway to where it leaves most room. Whatever limits the room of a way says to which
    /// side the line must go; so what is left of the lines is halved until none is left that is better than the best.
    fn place_line(&mut self, lead: &Lead, curves: Curves) {
        let spare = (self.course.gate.width - self.car.bounds.size().y) / 2.0;
        let reach = spare.max(0.0) + BESIDE;
        // cells that hang on the place, not on the doorway: a wider one only adds to them
        let foot = self.course.gate.beside(self.ask.place.at);
        let cells = ((-reach - foot) / CELL).floor() as i64..=((reach - foot) / CELL).floor() as i64;
        let mut open: Vec<(f64, f64)> =
            cells.map(|k| (foot + k as f64 * CELL, foot + (k + 1) as f64 * CELL)).collect();
        // from the middle of the doorway outward, the last first
        let far = |c: &(f64, f64)| (c.0 + c.1).abs();
        open.sort_by(|a, b| far(b).total_cmp(&far(a)).then(a.0.total_cmp(&b.0)));
        let mut ruled_out: Vec<(f64, f64)> = Vec::new();
        while let Some((mut low, mut high)) = open.pop() {
            if ruled_out.iter().any(|r| r.0 <= low && high <= r.1) {
                continue;
            }
            while high - low > WITHIN {
                let line = (low + high) / 2.0;
                let floor = self.floor();
                let Some(way) = self.way(lead, curves, line) else {
                    if high - low > WIDE {
                        open.extend([(low, line), (line, high)]);
                    }
                    break;
                };
                let least = least_room(self.course, self.car, &way, floor, self.most.min(lead.room));
                if self.is_idle(&lead.segments, curves.backward) {
                    return;
                }
                if least.room >= floor {
                    self.keep([lead.segments.clone(), way.clone()].concat(), least.room);
                }
                let Some(limit) = least.by else { return };
                let gain = self.gain(lead, curves, line, &way, &limit);
                // no line is better by more than its way moves it
                let short = (self.floor() - least.room) / SLOPE;
                ruled_out.push((line - short, line + short));
                if gain > 0.0 { low = line + short } else { high = line - short }
            }
        }
    }

    /// How the room at what limits it grows with the line.
    fn gain(&self, lead: &Lead, curves: Curves, line: f64, way: &[Segment], limit: &Limit) -> f64 {
        const BIT: f64 = 0.1;
        let Some(next) = self.way(lead, curves, line + BIT) else { return -1.0 };
        let (Some(a), Some(b)) = (way.get(limit.segment), next.get(limit.segment)) else { return -1.0 };
        let part = if a.length == 0.0 { 0.0 } else { limit.along / a.length.abs() };
        let local = a.at(limit.along).frame().to_local(limit.at.0);
        let moved = b.at(part * b.length.abs()).frame().to_world(local) - limit.at.0;
        let away = if limit.is_in { limit.at.1 - limit.at.0 } else { limit.at.0 - limit.at.1 };
        let gain = away.dot(&moved);
        if gain == 0.0 { -1.0 } else { gain }
    }

    fn room(&self, way: &[Segment], floor: f64) -> Option<f64> {
        let least = least_room(self.course, self.car, way, floor, self.most);
        (least.room >= floor).then_some(least.room)
    }

    /// The last curves and what follows them; `None`: they do not lead there.
    fn way(&self, lead: &Lead, curves: Curves, line: f64) -> Option<Vec<Segment>> {
        let Curves { kind, radius, depth, backward } = curves;
        let gate = &self.course.gate;
        let look = if backward { -gate.out } else { gate.out };
        let goal = Pose { at: gate.point(-depth, line), angle: look.y.atan2(look.x) };
        let mut way = curve(&lead.at, &goal, radius, backward, kind)?;
        let turned: f64 = way.iter().map(|s| (s.curvature * s.length).abs()).sum();
        if turned > MOST_TURN {
            return None;
        }
        let then = leaving(self.car, backward) + depth;
        if then > 0.0 {
            way.push(onward(&goal, backward, then));
        }
        Some(way)
    }
}

fn changes(way: &[Segment], backward: bool) -> bool {
    way.iter().any(|s| s.is_backward() != backward)
}

/// No way has more room than the place itself, or than a square passage of the doorway.
fn most(course: &Course, car: &Car, ask: &Ask) -> f64 {
    let spare = (course.gate.width - car.bounds.size().y) / 2.0;
    course.nearer(&car.parts, &ask.place.frame(), spare).map_or(spare, |c| c.mm)
}
