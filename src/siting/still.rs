//! The still things of a bay as convex pieces, once for all headings.

use std::ops::Range;

use crate::geometry::{Bounds, P2, Shape, V2};
use crate::layout::lift::{lift_of, runways};
use crate::layout::{Origin, Stage};
use crate::model::Bundle;

/// How far outside the floor is filled in, mm: farther than anything that moves with a vehicle reaches.
pub(super) const REACH: f64 = 1e6;

/// What a piece is part of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Item {
    /// A fixture or a lift post, by its place in the stage.
    Thing(usize),
    /// A keep-clear area, by its place in the stage.
    Kept(usize),
    /// A stretch of the floor's edge, by the label of its bound.
    Edge(u32),
    /// A stretch of a side of the floor by its surface, by the label of the side's bound.
    Side(u32),
    /// Where there is no floor.
    Outside,
    /// The lift the vehicle is put on: its runways and what is not runway.
    Lift,
    /// A place the bay decides: an installed thing, a painted line, the wall a target hangs on.
    Fixed,
}

/// A convex piece grown by a radius.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    pub item: Item,
    pub ring: Vec<P2>,
    pub radius: f64,
    /// The box about the ring.
    pub bounds: Bounds,
}

impl Piece {
    pub fn new(item: Item, ring: Vec<P2>, radius: f64) -> Piece {
        Piece { item, bounds: Bounds::of(&ring), ring, radius }
    }
}

/// Every still thing of a stage in pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct Stills {
    pub pieces: Vec<Piece>,
    things: Vec<Range<usize>>,
    kept: Vec<Range<usize>>,
    pub edges: Range<usize>,
    pub outside: Range<usize>,
    /// By label: the stretches of a side by its surface.
    sides: Vec<Range<usize>>,
    installed: Range<usize>,
    lines: Range<usize>,
    /// The edges of the runways the vehicle must stand on.
    pub runway_edges: Range<usize>,
    /// Where a tyre is off them.
    pub off_runways: Range<usize>,
    /// The pieces of the lift the vehicle is put on: runways' edges and posts. They stay or move together.
    lift: Vec<usize>,
    /// Its posts in their order, by their places in the stage.
    lift_posts: Vec<usize>,
}

impl Stills {
    pub fn new(stage: &Stage, bundle: &Bundle) -> Stills {
        let bay = &bundle.bay;
        let mut all = Stills {
            pieces: Vec::new(),
            things: Vec::new(),
            kept: Vec::new(),
            edges: 0..0,
            outside: 0..0,
            sides: Vec::new(),
            installed: 0..0,
            lines: 0..0,
            runway_edges: 0..0,
            off_runways: 0..0,
            lift: Vec::new(),
            lift_posts: Vec::new(),
        };
        for (i, thing) in stage.things.iter().enumerate() {
            let range = all.shape(Item::Thing(i), &thing.solid.shape);
            all.things.push(range);
        }
        for (i, kept) in stage.keep_clear.iter().enumerate() {
            let range = all.shape(Item::Kept(i), &kept.solid.shape);
            all.kept.push(range);
        }
        let first = all.pieces.len();
        for e in stage.floor.edges() {
            all.push(Item::Edge(e.label), vec![e.a, e.b], 0.0);
        }
        all.edges = first..all.pieces.len();
        for ring in stage.floor.outside(REACH) {
            all.push(Item::Outside, ring, 0.0);
        }
        all.outside = all.edges.end..all.pieces.len();
        for label in (0..).take(stage.walls.len()) {
            let first = all.pieces.len();
            for (a, b) in stage.side_stretches(label) {
                all.push(Item::Side(label), vec![*a, *b], 0.0);
            }
            all.sides.push(first..all.pieces.len());
        }
        let first = all.pieces.len();
        for thing in &bay.installed {
            all.push(Item::Fixed, vec![P2::new(thing.at.0, thing.at.1)], 0.0);
        }
        all.installed = first..all.pieces.len();
        for line in &bay.floor_lines {
            all.push(Item::Fixed, line.points.iter().map(|p| P2::new(p.0, p.1)).collect(), 0.0);
        }
        all.lines = all.installed.end..all.pieces.len();
        all.put_on_lift(stage, bundle);
        all
    }

    /// The n-th installed thing of the bay, as a point.
    pub fn installed(&self, n: usize) -> usize {
        self.installed.start + n
    }

    /// The n-th painted line of the bay, as its points.
    pub fn line(&self, n: usize) -> usize {
        self.lines.start + n
    }

    /// A piece of the lift the vehicle is put on; `None` where it has neither runways nor posts.
    pub fn lift(&self) -> Option<usize> {
        self.lift.first().copied()
    }

    /// A piece of each of its posts, in their order.
    pub fn posts(&self) -> impl Iterator<Item = usize> + '_ {
        self.lift_posts.iter().map(|t| self.things[*t].start)
    }

    /// Whether a piece belongs to the lift the vehicle is put on.
    pub fn is_of_lift(&self, i: usize) -> bool {
        match self.pieces[i].item {
            Item::Lift => true,
            Item::Thing(t) => self.lift_posts.contains(&t),
            _ => false,
        }
    }

    /// The stretches of a side by its surface.
    pub fn side(&self, label: u32) -> Range<usize> {
        self.sides[label as usize].clone()
    }

    pub fn thing(&self, i: usize) -> Range<usize> {
        self.things[i].clone()
    }

    pub fn kept(&self, i: usize) -> Range<usize> {
        self.kept[i].clone()
    }

    /// The stretches of one bound.
    pub fn stretches(&self, label: u32) -> impl Iterator<Item = usize> + '_ {
        self.edges.clone().filter(move |i| self.pieces[*i].item == Item::Edge(label))
    }

    /// How far the item of piece `i` reaches along `way`: from, to. A thing counts whole, the lift the vehicle is put on
    /// with its posts, a wall by its stretch.
    pub fn extent(&self, i: usize, way: V2) -> (f64, f64) {
        match self.pieces[i].item {
            Item::Lift => self.reach(self.lift.iter().copied(), way),
            Item::Thing(t) if self.lift_posts.contains(&t) => self.reach(self.lift.iter().copied(), way),
            Item::Thing(t) => self.reach(self.thing(t), way),
            Item::Kept(k) => self.reach(self.kept(k), way),
            Item::Edge(_) | Item::Side(_) | Item::Outside | Item::Fixed => self.reach(i..i + 1, way),
        }
    }

    pub fn push(&mut self, item: Item, ring: Vec<P2>, radius: f64) -> usize {
        self.pieces.push(Piece::new(item, ring, radius));
        self.pieces.len() - 1
    }

    fn put_on_lift(&mut self, stage: &Stage, bundle: &Bundle) {
        let Some(lift) = lift_of(bundle) else { return };
        let first = self.pieces.len();
        self.runway_edges = first..first;
        self.off_runways = first..first;
        if let Some(region) = runways(lift) {
            for e in region.edges() {
                self.push(Item::Lift, vec![e.a, e.b], 0.0);
            }
            self.runway_edges = first..self.pieces.len();
            for ring in region.outside(REACH) {
                self.push(Item::Lift, ring, 0.0);
            }
            self.off_runways = self.runway_edges.end..self.pieces.len();
        }
        let mut posts: Vec<(usize, usize)> = Vec::new();
        for (t, thing) in stage.things.iter().enumerate() {
            match thing.origin {
                Origin::Post { lift: l, post } if bundle.bay.lifts[l].name == lift.name => {
                    posts.push((post, t))
                }
                _ => {}
            }
        }
        posts.sort_unstable();
        self.lift_posts = posts.into_iter().map(|(_, t)| t).collect();
        let posts = self.lift_posts.iter().flat_map(|t| self.things[*t].clone());
        self.lift = self.runway_edges.clone().chain(posts).collect();
    }

    fn reach(&self, pieces: impl Iterator<Item = usize>, way: V2) -> (f64, f64) {
        let mut extent = (f64::INFINITY, f64::NEG_INFINITY);
        for piece in pieces.map(|i| &self.pieces[i]) {
            for p in &piece.ring {
                let l = way.dot(&p.coords);
                extent = (extent.0.min(l - piece.radius), extent.1.max(l + piece.radius));
            }
        }
        extent
    }

    fn shape(&mut self, item: Item, shape: &Shape) -> Range<usize> {
        let first = self.pieces.len();
        for ring in shape.pieces() {
            self.push(item, ring.clone(), shape.radius());
        }
        first..self.pieces.len()
    }
}
