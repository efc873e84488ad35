//! By how much the bay is short: the least growth with which some pose is allowed.
//!
//! Growing by g in one direction moves what lies that way by g. For poses in one line along that direction this is
//! a question of intervals: the vehicle at l keeps off what stays, and at l - g off what moves. The best line is
//! found by branch and bound: over a strip of lines an obstacle is sure to forbid what it forbids on both of the
//! strip's edges, because it is convex; that bounds the strip from below, its middle line from above.
//!
//! The lift the vehicle is put on lies about its middle: it stays or moves, whichever needs less.

mod gaps;

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use gaps::{free, pair};

use super::between::Between;
use super::progress::{Progress, Stopped};
use super::space::Space;
use super::still::{Item, Stills};
use crate::geometry::{NOISE_MM, V2};
use crate::layout::Stage;

/// The least growth, and what binds there.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Growth {
    /// mm
    pub mm: f64,
    /// Holds that keep the vehicle from moving back, then those that keep it from moving on: indices.
    pub binding: Vec<u32>,
}

/// A growth beyond this is none, mm.
const MOST_MM: f64 = 100_000.0;
/// How far the answer may lie above the least, mm.
const CLOSE_MM: f64 = 0.05;
/// A strip this narrow is one line, mm.
const LINE_MM: f64 = 2.0 * NOISE_MM;
/// Strips looked at before the answer so far must do.
const ENOUGH: usize = 20_000;

/// Growth along `way` (a unit vector). `middle`: how far the vehicle's middle lies from its origin along `way`.
pub(super) fn growth(
    space: &Space,
    stills: &Stills,
    way: V2,
    middle: f64,
    progress: &Progress,
) -> Result<Option<Growth>, Stopped> {
    let left = V2::new(-way.y, way.x);
    let (mut from, mut to) = (f64::INFINITY, f64::NEG_INFINITY);
    for (x, y) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
        let b = &space.domain;
        let corner = V2::new([b.min.x, b.max.x][x], [b.min.y, b.max.y][y]);
        from = from.min(left.dot(&corner));
        to = to.max(left.dot(&corner));
    }
    if !(from + to).is_finite() {
        return Ok(None);
    }
    let cast = Cast::new(space, stills, way, middle);
    let all: Vec<u32> = space.all();
    let mut best: Option<(f64, f64, Pinch)> = None;
    let mut heap: BinaryHeap<Reverse<Strip>> = BinaryHeap::new();
    let offer = |best: &mut Option<(f64, f64, Pinch)>, t: f64, pinch: Option<Pinch>| {
        if let Some(p) = pinch
            && best.as_ref().is_none_or(|b| p.growth < b.0)
        {
            *best = Some((p.growth, t, p));
        }
    };
    for t in [from, (from + to) / 2.0, to] {
        offer(&mut best, t, cast.least(&cast.lines(&all, t, t).1));
    }
    let (near, lines) = cast.lines(&all, from, to);
    if let Some(p) = cast.least(&lines) {
        heap.push(Reverse(Strip { least: p.growth, from, to, near }));
    }
    let mut looked_at = 0;
    while let Some(Reverse(strip)) = heap.pop() {
        looked_at += 1;
        progress.go_on()?;
        if looked_at > ENOUGH || best.as_ref().is_some_and(|b| strip.least >= b.0 - CLOSE_MM) {
            break;
        }
        let t = (strip.from + strip.to) / 2.0;
        let (_, lines) = if strip.to - strip.from <= LINE_MM {
            cast.lines(&strip.near, strip.from, strip.to)
        } else {
            cast.lines(&strip.near, t, t)
        };
        offer(&mut best, t, cast.least(&lines));
        if strip.to - strip.from <= LINE_MM {
            continue;
        }
        for (from, to) in [(strip.from, t), (t, strip.to)] {
            let (near, lines) = cast.lines(&strip.near, from, to);
            if let Some(p) = cast.least(&lines)
                && p.growth <= MOST_MM
            {
                heap.push(Reverse(Strip { least: p.growth, from, to, near }));
            }
        }
    }
    Ok(best
        .filter(|b| b.0 <= MOST_MM)
        .map(|(mm, t, pinch)| Growth { mm, binding: cast.binding(&all, t, &pinch) }))
}

struct Strip {
    least: f64,
    from: f64,
    to: f64,
    near: Vec<u32>,
}

impl PartialEq for Strip {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}
impl Eq for Strip {}
impl PartialOrd for Strip {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Strip {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.least.total_cmp(&other.least).then(self.from.total_cmp(&other.from))
    }
}

/// Where the vehicle ends up between what stays and what moves.
#[derive(Clone, Debug)]
struct Pinch {
    growth: f64,
    /// Where it stands, and where it would have stood against what moves.
    at: f64,
    before: f64,
    class: usize,
    moving: Moving,
}

/// Which things move.
#[derive(Clone, Copy, Debug)]
struct Moving {
    /// Those from this place on, but for the lift.
    from: f64,
    /// The lift the vehicle is put on, wherever it lies; else it stays.
    lift: bool,
}

/// What a line of poses meets.
#[derive(Clone, Copy)]
struct Met {
    from: f64,
    to: f64,
    obstacle: u32,
}

struct Lines {
    walls: Vec<Met>,
    things: Vec<Met>,
}

/// How walls take part when the floor is cut at one place: the cut lies between two places where a wall begins or
/// ends.
struct Class {
    cut: (f64, f64),
}

struct Cast<'a> {
    space: &'a Space,
    way: V2,
    middle: f64,
    /// By still piece: from, to along the way.
    extents: Vec<(f64, f64)>,
    is_wall: Vec<bool>,
    is_lift: Vec<bool>,
    classes: Vec<Class>,
    /// Where things begin, sorted, ending with infinity.
    begins: Vec<f64>,
}

impl<'a> Cast<'a> {
    fn new(space: &'a Space, stills: &Stills, way: V2, middle: f64) -> Cast<'a> {
        let extents: Vec<(f64, f64)> = (0..stills.pieces.len()).map(|i| stills.extent(i, way)).collect();
        let is_wall: Vec<bool> = stills
            .pieces
            .iter()
            .map(|p| matches!(p.item, Item::Edge(_) | Item::Side(_) | Item::Outside))
            .collect();
        let is_lift: Vec<bool> = (0..stills.pieces.len()).map(|i| stills.is_of_lift(i)).collect();
        let sorted = |mut v: Vec<f64>| {
            v.sort_by(f64::total_cmp);
            v.dedup_by(|a, b| (*a - *b).abs() <= NOISE_MM);
            v
        };
        let cuts = sorted(stills.edges.clone().flat_map(|i| [extents[i].0, extents[i].1]).collect());
        let classes = cuts.windows(2).map(|w| Class { cut: (w[0], w[1]) }).collect();
        let mut begins = sorted((0..is_wall.len()).filter(|i| !is_wall[*i]).map(|i| extents[i].0).collect());
        begins.push(f64::INFINITY);
        Cast { space, way, middle, extents, is_wall, is_lift, classes, begins }
    }

    /// What is sure to be met on all lines from `from` to `to`, and the obstacles met on any.
    fn lines(&self, among: &[u32], from: f64, to: f64) -> (Vec<u32>, Lines) {
        let mut near = Vec::new();
        let mut lines = Lines { walls: Vec::new(), things: Vec::new() };
        let left = V2::new(-self.way.y, self.way.x);
        for &i in among {
            let o = &self.space.obstacles[i as usize];
            let sides = self.space.sides.of(o);
            let reach = sides
                .iter()
                .map(|s| left.dot(&s.at.coords))
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)));
            if reach.0 - o.radius >= to - NOISE_MM || reach.1 + o.radius <= from + NOISE_MM {
                continue;
            }
            near.push(i);
            let first = self.space.sides.chord(o, self.way, from);
            let last = if to > from { self.space.sides.chord(o, self.way, to) } else { first };
            if let (Some(a), Some(b)) = (first, last) {
                let met = Met { from: a.0.max(b.0), to: a.1.min(b.1), obstacle: i };
                if met.from + NOISE_MM < met.to {
                    let list =
                        if self.is_wall[o.still as usize] { &mut lines.walls } else { &mut lines.things };
                    list.push(met);
                }
            }
        }
        for list in [&mut lines.walls, &mut lines.things] {
            list.sort_by(|a, b| a.from.total_cmp(&b.from));
        }
        (near, lines)
    }

    /// The least growth on these lines.
    fn least(&self, lines: &Lines) -> Option<Pinch> {
        let mut best: Option<Pinch> = None;
        for (c, class) in self.classes.iter().enumerate() {
            let (mut stay, mut go, mut swept) = (Vec::new(), Vec::new(), Vec::new());
            for m in &lines.walls {
                let (from, to) = self.extents[self.space.obstacles[m.obstacle as usize].still as usize];
                if from >= class.cut.1 - NOISE_MM {
                    go.push(*m);
                } else if to <= class.cut.0 + NOISE_MM {
                    stay.push(*m);
                } else {
                    swept.push(*m);
                }
            }
            // Against the walls alone: nothing in this class can do better.
            let all = (f64::NEG_INFINITY, f64::INFINITY);
            let (back, on) = ((class.cut.0 - self.middle, all.1), (all.0, class.cut.1 - self.middle));
            let walls = pair(&free(&stay, &[], back), &free(&go, &[], on), &swept);
            if walls.is_none_or(|w| best.as_ref().is_some_and(|b| w.0 >= b.growth)) {
                continue;
            }
            let mut begin = f64::NEG_INFINITY;
            for &end in &self.begins {
                let range = (back.0.max(begin - self.middle), end - self.middle);
                begin = end;
                if range.0 > range.1 {
                    continue;
                }
                let staying = free(&stay, &[], range);
                // the pinch against the walls tells what this cut of the things can give at best
                let bound = pair(&staying, &free(&go, &[], on), &swept);
                if bound.is_none_or(|w| best.as_ref().is_some_and(|b| w.0 >= b.growth)) {
                    continue;
                }
                for moving in self.moving(lines, end) {
                    let (behind, ahead): (Vec<Met>, Vec<Met>) =
                        lines.things.iter().partition(|m| self.stays(m.obstacle, moving));
                    let found = pair(&free(&stay, &behind, range), &free(&go, &ahead, on), &swept);
                    if let Some((growth, at, before)) = found
                        && best.as_ref().is_none_or(|b| growth < b.growth)
                    {
                        best = Some(Pinch { growth, at, before, class: c, moving });
                    }
                }
            }
        }
        best
    }

    /// The choices of what moves where things from `from` on do: the lift with either end, wherever it lies.
    fn moving(&self, lines: &Lines, from: f64) -> impl Iterator<Item = Moving> {
        let is_lift = |m: &Met| self.is_lift[self.space.obstacles[m.obstacle as usize].still as usize];
        let either = lines.things.iter().any(is_lift);
        std::iter::once(Moving { from, lift: false }).chain(either.then_some(Moving { from, lift: true }))
    }

    fn stays(&self, obstacle: u32, moving: Moving) -> bool {
        let still = self.space.obstacles[obstacle as usize].still as usize;
        match self.is_lift[still] {
            true => !moving.lift,
            false => self.extents[still].0 < moving.from - NOISE_MM,
        }
    }

    /// The holds that touch the vehicle at the two ends, those with a name first.
    fn binding(&self, all: &[u32], t: f64, pinch: &Pinch) -> Vec<u32> {
        const TOUCH_MM: f64 = 1e-3;
        let (_, lines) = self.lines(all, t, t);
        let class = &self.classes[pinch.class];
        let mut ends: [Vec<u32>; 2] = [Vec::new(), Vec::new()];
        for m in lines.walls.iter().chain(&lines.things) {
            let o = &self.space.obstacles[m.obstacle as usize];
            let still = o.still as usize;
            let (from, to) = self.extents[still];
            let (stays, goes) = if self.is_wall[still] {
                (from < class.cut.1 - NOISE_MM, to > class.cut.0 + NOISE_MM)
            } else {
                let stays = self.stays(m.obstacle, pinch.moving);
                (stays, !stays)
            };
            if stays && (m.to - pinch.at).abs() <= TOUCH_MM {
                ends[0].push(o.hold);
            }
            if goes && (m.from - pinch.before).abs() <= TOUCH_MM {
                ends[1].push(o.hold);
            }
        }
        let named = |h: &u32| self.space.holds[*h as usize].item != Item::Outside;
        for end in &mut ends {
            end.sort_unstable();
            end.dedup();
            if end.iter().any(named) {
                end.retain(named);
            }
        }
        ends.concat()
    }
}

/// What binds.
pub(super) fn between(space: &Space, stage: &Stage, holds: &[u32]) -> Vec<Between> {
    let mut all: Vec<Between> = Vec::new();
    for h in holds {
        let one = space.holds[*h as usize].between(stage);
        if !all.contains(&one) {
            all.push(one);
        }
    }
    all
}
