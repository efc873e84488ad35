//! The search for a way out of the place, which driven the other way round is the way in.
//!
//! Best-first over position and heading (Dolgov and others, "Practical Search Techniques in Path Planning for
//! Autonomous Driving", 2008, as the class of method): short straights and arcs both ways, each spot of a coarse grid
//! entered once, and from time to time a way out without search. It prefers short ways, room to spare and few changes
//! of direction. The same job gives the same way; the work is bounded by a count, not by a clock.

use std::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;

use super::DEEPEST;
use super::car::Car;
use super::connect::exits;
use super::course::Course;
use super::guide::Guide;
use super::motion::{Pose, Segment};
use crate::geometry::{Bounds, P2};

/// Room beside the vehicle beyond which more is worth nothing, mm.
const ROOMY: f64 = 250.0;
/// Least way between two looks at the surroundings, mm of the fastest point.
const FINEST: f64 = 20.0;
/// Rear axle's way of one step, mm.
const STEP: f64 = 450.0;
/// Extra way one would drive to save a change of direction, mm.
const CHANGE: f64 = 2500.0;
/// Extra way for turning the wheel, mm.
const STEER: f64 = 60.0;
/// Cells of the grid, mm, and parts of a full turn.
const CELL: f64 = 200.0;
const TURNS: f64 = 72.0;
/// Ways out looked at from one spot.
const TRIES: usize = 10;
/// Once a way is found, a better one is looked for with this part of the looks allowed.
const BETTER: usize = 6;

/// What is asked of the search.
#[derive(Clone, Copy, Debug)]
pub struct Ask {
    /// Least radius of the rear axle's middle.
    pub radius: f64,
    /// The last stretch before the stop is straight, mm.
    pub straight: f64,
    /// Least room beside the vehicle; below zero: how deep it may stand in things, without end: through all of them.
    pub least: f64,
    /// Looks at the surroundings allowed.
    pub looks: usize,
}

/// How the search ended.
#[derive(Clone, Debug, PartialEq)]
pub enum Found {
    /// From the place outward.
    Way(Vec<Segment>),
    /// Every spot the grid holds was tried.
    Exhausted,
    /// The work allowed was used up.
    TooLong,
    Stopped,
}

struct Node {
    pose: Pose,
    parent: usize,
    /// What led here.
    way: Vec<Segment>,
    cost: f64,
    /// 1 forward, -1 backward.
    direction: f64,
    curvature: f64,
    done: bool,
}

/// The order nodes are taken in: least cost first, then first made.
#[derive(PartialEq)]
struct Rank(f64, usize);

impl Eq for Rank {}
impl PartialOrd for Rank {
    fn partial_cmp(&self, other: &Rank) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Rank {
    fn cmp(&self, other: &Rank) -> Ordering {
        self.0.total_cmp(&other.0).then(self.1.cmp(&other.1))
    }
}

struct Search<'a> {
    course: &'a Course,
    car: &'a Car,
    ask: Ask,
    guide: Guide,
    curvatures: [f64; 5],
    nodes: Vec<Node>,
    open: BinaryHeap<Reverse<Rank>>,
    taken: Taken,
    looks: usize,
    /// The cheapest way out so far.
    best: Option<(f64, usize)>,
}

/// Looks for a way from `place` to the ground outside.
pub fn search(course: &Course, car: &Car, place: Pose, ask: Ask, stop: &dyn Fn() -> bool) -> Found {
    let clear = car.bounds.max.x.min(-car.bounds.min.x);
    let mut search = Search {
        course,
        car,
        ask,
        guide: Guide::new(course, car.core + ask.least.min(0.0), clear),
        curvatures: [0.0, 0.5 / ask.radius, -0.5 / ask.radius, 1.0 / ask.radius, -1.0 / ask.radius],
        nodes: Vec::new(),
        open: BinaryHeap::new(),
        taken: Taken::new(&course.bounds),
        looks: 0,
        best: None,
    };
    search.begin(place);
    search.run(stop)
}

impl Search<'_> {
    /// The straight run before the stop, either way round.
    fn begin(&mut self, place: Pose) {
        for direction in [-1.0, 1.0] {
            let first = Segment { from: place, curvature: 0.0, length: direction * self.ask.straight };
            if let Some(cost) = self.drive(&first) {
                let way = if self.ask.straight > 0.0 { vec![first] } else { Vec::new() };
                self.add(Node {
                    pose: first.to(),
                    parent: usize::MAX,
                    way,
                    cost,
                    direction,
                    curvature: 0.0,
                    done: false,
                });
            }
        }
    }

    fn run(&mut self, stop: &dyn Fn() -> bool) -> Found {
        let mut taken = 0usize;
        while let Some(Reverse(Rank(_, at))) = self.open.pop() {
            if self.nodes[at].done || self.course.is_outside(self.car, &self.nodes[at].pose) {
                return Found::Way(self.way_to(at));
            }
            if !self.taken.take(&self.nodes[at].pose, self.nodes[at].direction) {
                continue;
            }
            if self.looks >= self.ask.looks {
                return self.best_or(Found::TooLong);
            }
            if taken.is_multiple_of(64) && stop() {
                return Found::Stopped;
            }
            if taken < 16 || taken.is_multiple_of(4) {
                self.leave(at);
            }
            taken += 1;
            self.spread(at);
        }
        self.best_or(Found::Exhausted)
    }

    fn best_or(&self, none: Found) -> Found {
        self.best.map_or(none, |(_, at)| Found::Way(self.way_to(at)))
    }

    /// One step every way from a node.
    fn spread(&mut self, at: usize) {
        for direction in [-1.0, 1.0] {
            for curvature in self.curvatures {
                let node = &self.nodes[at];
                let segment = Segment { from: node.pose, curvature, length: direction * STEP };
                let extra = self.extra(node, direction, curvature);
                let pose = segment.to();
                if self.taken.is_taken(&pose, direction) {
                    continue;
                }
                let cost = node.cost + extra;
                if let Some(driven) = self.drive(&segment) {
                    self.add(Node {
                        pose,
                        parent: at,
                        way: vec![segment],
                        cost: cost + driven,
                        direction,
                        curvature,
                        done: false,
                    });
                }
            }
        }
    }

    /// The first way out without search that can be driven, put among the nodes with its cost.
    fn leave(&mut self, at: usize) {
        let pose = self.nodes[at].pose;
        let radii = [2.0 * self.ask.radius, self.ask.radius];
        for exit in exits(self.course, self.car, &pose, &radii).into_iter().take(TRIES) {
            let mut cost = self.nodes[at].cost;
            let (mut direction, mut curvature) = (self.nodes[at].direction, self.nodes[at].curvature);
            let driven = exit.segments.iter().all(|s| {
                cost += turned(direction, curvature, s.length.signum(), s.curvature);
                (direction, curvature) = (s.length.signum(), s.curvature);
                match self.drive(s) {
                    Some(c) => {
                        cost += c;
                        true
                    }
                    None => false,
                }
            });
            if !driven {
                continue;
            }
            let pose = exit.segments.last().map_or(pose, Segment::to);
            self.nodes.push(Node {
                pose,
                parent: at,
                way: exit.segments,
                cost,
                direction,
                curvature,
                done: true,
            });
            let made = self.nodes.len() - 1;
            self.open.push(Reverse(Rank(cost, made)));
            if self.best.is_none_or(|(least, _)| cost < least) {
                self.best = Some((cost, made));
                self.ask.looks = self.ask.looks.min(self.looks + self.ask.looks / BETTER);
            }
            return;
        }
    }

    fn add(&mut self, node: Node) {
        let Some(ahead) = self.guide.from(node.pose.at) else { return };
        let rank = node.cost + ahead;
        self.nodes.push(node);
        self.open.push(Reverse(Rank(rank, self.nodes.len() - 1)));
    }

    fn extra(&self, node: &Node, direction: f64, curvature: f64) -> f64 {
        turned(node.direction, node.curvature, direction, curvature)
    }

    /// What a stretch costs: its length, more where it is narrow; `None` where it cannot be driven.
    fn drive(&mut self, segment: &Segment) -> Option<f64> {
        let speed = self.car.speed(segment.curvature);
        let total = segment.length.abs();
        let least = self.ask.least;
        let (mut along, mut cost) = (0.0, 0.0);
        loop {
            self.looks += 1;
            let room = self.course.clearance(self.car, &segment.at(along), ROOMY);
            if room < least - 1e-6 {
                return None;
            }
            if along >= total {
                return Some(cost);
            }
            let step = (room.abs().min(ROOMY) - least.max(0.0)).max(FINEST) / speed;
            let step = step.min(total - along);
            cost += step * (1.0 + narrow(room));
            along += step;
            if total - along < 1e-9 {
                along = total;
            }
        }
    }

    fn way_to(&self, at: usize) -> Vec<Segment> {
        let mut ways: Vec<&[Segment]> = Vec::new();
        let mut at = at;
        while let Some(node) = self.nodes.get(at) {
            ways.push(&node.way);
            at = node.parent;
        }
        ways.into_iter().rev().flatten().copied().collect()
    }
}

/// What turning the wheel and changing direction costs.
fn turned(direction: f64, curvature: f64, then: f64, next: f64) -> f64 {
    let change = if direction != then { CHANGE } else { 0.0 };
    let steer = if curvature != next { STEER } else { 0.0 };
    change + steer
}

/// Extra cost per mm of way with this room beside the vehicle.
fn narrow(room: f64) -> f64 {
    if room < 0.0 {
        return 2.0 - 0.05 * room.max(-DEEPEST);
    }
    let short = ((ROOMY - room) / ROOMY).max(0.0);
    2.0 * short * short
}

/// The spots already entered: a cell of the floor, a part of the turn, and the direction driven.
struct Taken {
    min: P2,
    nx: usize,
    ny: usize,
    bits: Vec<bool>,
}

impl Taken {
    fn new(bounds: &Bounds) -> Taken {
        let size = bounds.size();
        let count = |mm: f64| (mm / CELL).ceil().max(1.0) as usize + 1;
        let (nx, ny) = (count(size.x), count(size.y));
        Taken { min: bounds.min, nx, ny, bits: vec![false; nx * ny * TURNS as usize * 2] }
    }

    /// Enters a spot; false where it was entered before or lies off the grid.
    fn take(&mut self, pose: &Pose, direction: f64) -> bool {
        match self.index(pose, direction) {
            Some(i) if !self.bits[i] => {
                self.bits[i] = true;
                true
            }
            _ => false,
        }
    }

    fn is_taken(&self, pose: &Pose, direction: f64) -> bool {
        self.index(pose, direction).is_none_or(|i| self.bits[i])
    }

    fn index(&self, pose: &Pose, direction: f64) -> Option<usize> {
        let cell = (pose.at - self.min) / CELL;
        let (x, y) = (cell.x.floor(), cell.y.floor());
        if x < 0.0 || y < 0.0 || x >= self.nx as f64 || y >= self.ny as f64 {
            return None;
        }
        let part = (pose.angle / std::f64::consts::TAU * TURNS).round().rem_euclid(TURNS);
        let spot = (y as usize * self.nx + x as usize) * TURNS as usize + part as usize;
        Some(spot * 2 + usize::from(direction > 0.0))
    }
}
