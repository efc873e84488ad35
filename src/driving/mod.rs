//! Driving in: from outside the doorway to the place, by straights and arcs no tighter than the vehicle can turn.
//!
//! [`drive_in`] looks for a way and measures it; rule `drive-in` reads its answer. It takes tens to hundreds of
//! milliseconds, so it runs beside the window and never inside a drag: the answer carries the stance it was found for.
//!
//! The way is searched from the place outward and driven the other way round: without slip, a vehicle that can leave
//! can come. Which way round it comes follows from the doorway and the heading: nose in forward, backed in backward.
//! See [`turning`] for the vehicle, [`gate`] for what is assumed outside, [`course`] for what counts as in the way.

pub mod car;
pub mod connect;
pub mod course;
pub mod gate;
pub mod guide;
pub mod lists;
pub mod margin;
mod mirror;
pub mod motion;
pub mod roomier;
pub mod roomiest;
pub mod search;
pub mod swept;
pub mod turning;
mod ways;
mod why;

#[cfg(test)]
mod tests;

use std::sync::Arc;

pub use motion::{Pose, Segment};
pub use turning::Turning;
pub use why::{InTheWay, WhyNot};

use crate::geometry::{NOISE_MM, P2, Polygon};
use crate::layout::{Layout, Missing, Stance};
use crate::model::ItemKind;
use car::Car;
use course::Course;
use gate::Gate;
use margin::{Nearest, nearest};
use mirror::Mirrored;
use search::{Ask, Found, search};
use swept::swept;

/// Straight run before the stop where the job gives none, mm.
pub const STRAIGHT_RUN: f64 = 500.0;

/// Looks at the surroundings allowed to one search: some 100 ms.
const LOOKS: usize = 150_000;
/// Allowed where nothing was found with so many.
const LOOKS_LONG: usize = 400_000;
/// Allowed to the search for the least bad way.
const LOOKS_BLOCKED: usize = 60_000;
/// What stands deeper in the least bad way than this stands across it: no depth is told, mm.
pub const DEEPEST: f64 = 600.0;

/// The answer, and the stance it was found for.
#[derive(Clone, Debug, PartialEq)]
pub struct DriveIn {
    pub stance: Stance,
    /// The doorway entered by.
    pub door: Option<Arc<str>>,
    pub answer: Answer,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    Path(Path),
    NoPath(NoPath),
    /// A figure is missing.
    Unknown(Missing),
    /// The bay lists no doorway: there is nothing to look for.
    NoDoorway,
}

/// A way in.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// In the order driven, from outside to the place.
    pub segments: Vec<Segment>,
    /// Ground swept by body and mirrors: outlines, and holes left in them.
    pub swept: Vec<Polygon>,
    pub holes: Vec<Polygon>,
    /// The nearest it comes to anything that stays put; movable things in `move_first` left out.
    pub tightest: Tightest,
    /// Movable things that stand in it, by name.
    pub move_first: Vec<Arc<str>>,
    wheelbase: f64,
}

/// Where there is least room.
#[derive(Clone, Debug, PartialEq)]
pub struct Tightest {
    /// mm; below zero: how deep.
    pub margin: f64,
    /// vehicle, mirrors or tyres.
    pub moving: &'static str,
    pub still: Arc<str>,
    pub still_is: ItemKind,
    /// On the vehicle, and on the thing; bay axes.
    pub at: (P2, P2),
    /// Where the vehicle then is.
    pub stance: Stance,
}

/// No way in was found.
#[derive(Clone, Debug, PartialEq)]
pub struct NoPath {
    pub why: WhyNot,
    /// What is in the way on the least bad way found; none where only the straight run is.
    pub tightest: Option<Tightest>,
    /// That way, for drawing; it runs through things.
    pub least_bad: Option<Path>,
}

impl Answer {
    /// This, unless the other leaves more room, by more than noise.
    fn or_better(self, other: Answer) -> Answer {
        const GAIN: f64 = 0.4;
        let worth = |answer: &Answer| match answer {
            Answer::Path(path) => (true, path.tightest.margin),
            Answer::NoPath(none) => (false, none.tightest.as_ref().map_or(0.0, |t| t.margin)),
            Answer::Unknown(_) | Answer::NoDoorway => (false, f64::NEG_INFINITY),
        };
        let (one, two) = (worth(&self), worth(&other));
        if (two.0, two.1) > (one.0, if two.0 == one.0 { one.1 + GAIN } else { one.1 }) { other } else { self }
    }
}

impl DriveIn {
    pub fn path(&self) -> Option<&Path> {
        match &self.answer {
            Answer::Path(path) => Some(path),
            _ => None,
        }
    }
}

impl Path {
    /// Way of the rear axle's middle, mm.
    pub fn length(&self) -> f64 {
        self.segments.iter().map(|s| s.length.abs()).sum()
    }

    /// Times the driver changes between forward and backward.
    pub fn changes(&self) -> usize {
        self.segments.windows(2).filter(|w| w[0].is_backward() != w[1].is_backward()).count()
    }

    /// Stances at most `step` mm of way apart (at least 1), each segment's ends among them.
    pub fn stances(&self, step: f64) -> Vec<Stance> {
        self.poses(step).iter().map(|p| p.stance(self.wheelbase)).collect()
    }

    /// The way of the rear axle's middle as points at most `step` mm of way apart.
    pub fn line(&self, step: f64) -> Vec<P2> {
        self.poses(step).iter().map(|p| p.at).collect()
    }

    /// The vehicle at a segment's start and end.
    pub fn ends(&self, segment: &Segment) -> (Stance, Stance) {
        (segment.from.stance(self.wheelbase), segment.to().stance(self.wheelbase))
    }

    fn poses(&self, step: f64) -> Vec<Pose> {
        let mut out: Vec<Pose> = self.segments.first().map(|s| s.from).into_iter().collect();
        for s in &self.segments {
            let total = s.length.abs();
            let n = (total / step.max(1.0)).ceil().max(1.0) as usize;
            out.extend((1..=n).map(|i| s.at(total * i as f64 / n as f64)));
        }
        out
    }
}

/// Looks for a way from outside the doorway to where the layout has the vehicle. `stop` is asked now and then; once it
/// says true the answer is `None`.
pub fn drive_in(layout: &Layout, stop: &dyn Fn() -> bool) -> Option<DriveIn> {
    let gate = Gate::of(&layout.bundle);
    let door = gate.as_ref().map(|g| g.name.clone());
    let answer = match (gate, Turning::of(&layout.bundle.vehicle)) {
        (None, _) => Answer::NoDoorway,
        (_, Err(missing)) => Answer::Unknown(missing),
        (Some(gate), Ok(turning)) => {
            let mut best: Option<Answer> = None;
            for mirrored in sides(&gate, &Pose::of(&layout.stance, turning.wheelbase)) {
                let answer = Drive::new(layout, gate.clone(), turning, mirrored, stop).answer()?;
                best = Some(best.map_or(answer.clone(), |best| best.or_better(answer)));
            }
            best?
        }
    };
    Some(DriveIn { stance: layout.stance, door, answer })
}

/// In which of its two mirror images a place is dealt with (true: mirrored): so that it lies or else looks to the right of
/// someone looking in. Where it does neither, both.
fn sides(gate: &Gate, place: &Pose) -> Vec<bool> {
    let beside = gate.beside(place.at);
    let looks = gate.beside(place.at + place.frame().x * 1000.0) - beside;
    let lies = if beside.abs() > NOISE_MM { beside } else { looks };
    if lies.abs() <= NOISE_MM { vec![false, true] } else { vec![lies < 0.0] }
}

struct Drive<'a> {
    layout: &'a Layout,
    gate: Gate,
    turning: Turning,
    car: Car,
    place: Pose,
    /// All but the layout is mirrored.
    mirrored: bool,
    stop: &'a dyn Fn() -> bool,
}

impl<'a> Drive<'a> {
    fn new(
        layout: &'a Layout,
        gate: Gate,
        turning: Turning,
        mirrored: bool,
        stop: &'a dyn Fn() -> bool,
    ) -> Drive<'a> {
        let car = Car::new(&layout.rig.body, turning.wheelbase);
        let place = Pose::of(&layout.stance, turning.wheelbase);
        let (car, place) = if mirrored { (car.mirrored(), place.mirrored()) } else { (car, place) };
        Drive { layout, gate, car, place, mirrored, turning, stop }
    }

    /// The answer, in bay axes. `None`: stopped.
    fn answer(&self) -> Option<Answer> {
        let answer = self.found()?;
        Some(if self.mirrored { answer.mirrored() } else { answer })
    }

    fn course(&self, movables: bool) -> Course {
        let course = Course::new(self.layout, self.gate.clone(), &self.car, movables);
        if self.mirrored { course.mirrored() } else { course }
    }

    fn found(&self) -> Option<Answer> {
        let vehicle = &self.layout.bundle.vehicle;
        let name = &self.gate.name;
        if vehicle.height > self.gate.height + NOISE_MM {
            let over = vehicle.height - self.gate.height;
            return Some(no_path(WhyNot::TooHigh(over, name.clone()), None));
        }
        let all = self.course(true);
        let fixed = self.course(false);
        if let Some(taken) = self.place_taken(&fixed) {
            return Some(taken);
        }
        let has_movables = all.items.iter().any(|i| i.movable);
        for course in [Some(&all), has_movables.then_some(&fixed)].into_iter().flatten() {
            match self.way(course, self.straight())? {
                Some(way) => return Some(Answer::Path(self.path(&way, &all))),
                None => continue,
            }
        }
        self.blocked(&fixed)
    }

    /// The place itself is off the floor or not free.
    fn place_taken(&self, course: &Course) -> Option<Answer> {
        let contact = course.nearest(&self.car.parts, &self.place.frame())?;
        let middle = self.place.frame().to_world(self.car.middle);
        let middle = if self.mirrored { middle.mirrored() } else { middle };
        let on_floor = self.layout.stage.floor.contains(middle) || self.gate.outside(middle) >= 0.0;
        if contact.mm < -NOISE_MM {
            let tightest = self.tightest(course, &Nearest { contact, pose: self.place });
            let why = WhyNot::PlaceTaken(InTheWay::of(&tightest));
            return Some(no_path(why, Some(tightest)));
        }
        (!on_floor).then(|| no_path(WhyNot::PlaceOffFloor, None))
    }

    fn ask(&self, least: f64, looks: usize) -> Ask {
        Ask { radius: self.turning.radius, straight: self.straight(), least, looks }
    }

    /// The last stretch before the stop, mm.
    fn straight(&self) -> f64 {
        self.layout.bundle.job.straight_run.unwrap_or(STRAIGHT_RUN)
    }

    /// The least bad way through what is in the way: found with ever less depth allowed.
    fn blocked(&self, course: &Course) -> Option<Answer> {
        let mut best: Option<(Vec<Segment>, Nearest)> = None;
        let mut depth = f64::INFINITY;
        for _ in 0..3 {
            match search(course, &self.car, self.place, self.ask(-depth, LOOKS_BLOCKED), self.stop) {
                Found::Stopped => return None,
                Found::Exhausted | Found::TooLong => break,
                Found::Way(way) => {
                    let way = motion::joined(&motion::reversed(&way));
                    let Some(n) = nearest(course, &self.car, &way) else { break };
                    depth = (-n.contact.mm / 2.0).min(DEEPEST);
                    if best.as_ref().is_none_or(|(_, b)| n.contact.mm > b.contact.mm) {
                        best = Some((way, n));
                    }
                    if depth < 5.0 {
                        break;
                    }
                }
            }
        }
        if let Some((way, n)) = best.take() {
            best = Some(self.less_bad(course, way, n)?);
        }
        if best.as_ref().is_none_or(|(_, n)| n.contact.mm < -NOISE_MM)
            && self.straight() > 0.0
            && self.way(course, 0.0)?.is_some()
        {
            let why = WhyNot::NoStraightRun(self.straight());
            let least_bad = best.map(|(way, _)| self.path(&way, course));
            return Some(Answer::NoPath(NoPath { why, tightest: None, least_bad }));
        }
        let Some((way, n)) = best else {
            return Some(no_path(WhyNot::NotEvenBad, None));
        };
        if n.contact.mm >= -NOISE_MM {
            return Some(Answer::Path(self.path(&way, course)));
        }
        let tightest = self.tightest(course, &n);
        let why = WhyNot::Blocked(InTheWay::of(&tightest));
        let path = self.path(&way, course);
        Some(Answer::NoPath(NoPath { why, tightest: Some(tightest), least_bad: Some(path) }))
    }

    /// The way, or one like it that stands less deep in what is in the way.
    fn less_bad(&self, course: &Course, way: Vec<Segment>, n: Nearest) -> Option<(Vec<Segment>, Nearest)> {
        if n.contact.mm < -DEEPEST {
            return Some((way, n));
        }
        let Some(first) = self.best(course, motion::reversed(&way)) else { return Some((way, n)) };
        let found = self.roomiest(course, self.straight(), Some(first), n.contact.mm)?;
        let found = found.and_then(|b| nearest(course, &self.car, &b.way).map(|n| (b.way, n)));
        Some(found.filter(|(_, f)| f.contact.mm > n.contact.mm).unwrap_or((way, n)))
    }

    fn path(&self, way: &[Segment], all: &Course) -> Path {
        let move_first = self.hit_movables(way, all);
        let left = all.without(&move_first);
        let found = nearest(&left, &self.car, way).map(|n| self.tightest(&left, &n));
        let (swept, holes) = swept(&self.car, way);
        Path {
            segments: way.to_vec(),
            swept,
            holes,
            tightest: found.unwrap_or_else(|| self.nothing()),
            move_first,
            wheelbase: self.turning.wheelbase,
        }
    }

    fn hit_movables(&self, way: &[Segment], all: &Course) -> Vec<Arc<str>> {
        let mut names = Vec::new();
        for item in all.items.iter().filter(|i| i.movable) {
            let only = all.only(&item.name);
            if nearest(&only, &self.car, way).is_some_and(|n| n.contact.mm < -NOISE_MM) {
                names.push(item.name.clone());
            }
        }
        names.sort();
        names
    }

    fn tightest(&self, course: &Course, n: &Nearest) -> Tightest {
        Tightest {
            margin: if n.contact.mm.abs() <= NOISE_MM { 0.0 } else { n.contact.mm },
            moving: n.contact.part.word(),
            still: course.items[n.contact.item].name.clone(),
            still_is: course.items[n.contact.item].kind,
            at: n.contact.at,
            stance: n.pose.stance(self.turning.wheelbase),
        }
    }

    /// For a course without anything in it, which a doorway's jambs rule out.
    fn nothing(&self) -> Tightest {
        let middle = if self.mirrored { self.gate.middle.mirrored() } else { self.gate.middle };
        Tightest {
            margin: f64::INFINITY,
            moving: "vehicle",
            still: self.gate.name.clone(),
            still_is: ItemKind::Doorway,
            at: (middle, middle),
            stance: self.place.stance(self.turning.wheelbase),
        }
    }
}

fn no_path(why: WhyNot, tightest: Option<Tightest>) -> Answer {
    Answer::NoPath(NoPath { why, tightest, least_bad: None })
}
