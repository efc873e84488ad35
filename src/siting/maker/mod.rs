//! The obstacles of one heading, made from the pairs of the checks.

mod couples;
mod domain;
mod edge;
mod held;
mod surfaces;

use std::sync::Arc;

pub(super) use couples::{Couple, Couples, Turn};

use super::accepted::Relaxed;
use super::fixed::Fixing;
use super::obstacle::Sides;
use super::space::{Hold, Space, UNBOUNDED};
use super::still::{Item, Piece, Stills};
use crate::checks::RuleId;
use crate::checks::pairs::{Cx, Pair, Still};
use crate::checks::rules::{HaloPair, halo_pairs, lift_pairs, plan_pairs};
use crate::geometry::{Bounds, P2, V2, minkowski_difference};
use crate::layout::{Layout, Solid, Stage, Thing};
use crate::model::ItemRef;

/// A rig turned to a heading, and what it is held off.
#[derive(Clone, Copy)]
pub struct Turned<'a> {
    pub layout: &'a Layout,
    pub stills: &'a Stills,
    pub relaxed: &'a Relaxed,
    /// Setups that are left out.
    pub idle: &'a [usize],
}

impl Space {
    /// Lists what the rig must keep off, the vehicle standing at the bay's origin. `only`: make obstacles
    /// for these holds alone; their numbers are the same at every heading. `near`: leave out the obstacles that no pose
    /// serving their setup can meet; where no pose serves every setup, none is left out.
    pub fn new(rig: Turned, fixings: &[Fixing], only: Option<&[bool]>, near: bool) -> Space {
        let mut maker = Maker::new(rig, fixings, Form::Obstacles);
        maker.only = only;
        maker.near = near;
        maker.make(rig);
        maker.space
    }
}

impl Couples {
    /// The same as what moves and what it is held off, where the bay decides no places.
    pub(super) fn new(rig: Turned) -> (Couples, Space) {
        let mut maker = Maker::new(rig, &[], Form::Couples(Couples::default()));
        maker.make(rig);
        match maker.form {
            Form::Couples(couples) => (couples, maker.space),
            Form::Obstacles => (Couples::default(), maker.space),
        }
    }
}

struct Maker<'a> {
    layout: &'a Layout,
    stage: &'a Stage,
    stills: &'a Stills,
    relaxed: &'a Relaxed,
    fixings: &'a [Fixing],
    idle: &'a [usize],
    only: Option<&'a [bool]>,
    near: bool,
    floor: Bounds,
    /// By setup, the vehicle's own first: outside this box nothing of it counts.
    reach: Vec<Bounds>,
    form: Form,
    space: Space,
}

/// What pairs are turned into.
enum Form {
    Obstacles,
    Couples(Couples),
}

impl<'a> Maker<'a> {
    fn new(rig: Turned<'a>, fixings: &'a [Fixing], form: Form) -> Maker<'a> {
        let stage = &*rig.layout.stage;
        let empty = Bounds::of(Vec::<P2>::new());
        Maker {
            layout: rig.layout,
            stage,
            stills: rig.stills,
            relaxed: rig.relaxed,
            fixings,
            idle: rig.idle,
            only: None,
            near: false,
            floor: stage.floor.cells().iter().fold(empty, |b, c| b.union(&c.bounds())),
            reach: Vec::new(),
            form,
            space: Space {
                heading: rig.layout.stance.heading,
                sides: Sides::default(),
                obstacles: Vec::new(),
                holds: Vec::new(),
                domain: UNBOUNDED,
                domains: Vec::new(),
            },
        }
    }

    fn make(&mut self, rig: Turned) {
        let cx = Cx::new(rig.layout);
        let counts = |setup: Option<usize>| setup.is_none_or(|s| !rig.idle.contains(&s));
        let mut pairs = Vec::new();
        plan_pairs(&cx, &mut |pair| {
            if counts(pair.setup) {
                pairs.push(pair);
            }
        });
        for pair in &pairs {
            self.hold_in(pair);
        }
        if self.near {
            self.reach = self.space.reach(rig.layout.setups.len());
        }
        for pair in &pairs {
            self.pair(pair);
        }
        halo_pairs(&cx, &mut |pair| {
            if counts(Some(pair.setup)) {
                self.halos(&pair);
            }
        });
        lift_pairs(&cx, &mut |pair| {
            if counts(pair.setup) {
                self.lift(&cx, &pair);
            }
        });
        for fixing in self.fixings.iter().filter(|f| counts(Some(f.setup))) {
            self.fixed(fixing);
        }
    }
}

impl Maker<'_> {
    fn pair(&mut self, pair: &Pair) {
        match &pair.still {
            Still::Thing(thing) => {
                let i = self.thing(thing);
                self.shapes(
                    pair,
                    thing.item(),
                    Item::Thing(i),
                    |p| p.z.overlaps(&thing.solid.z),
                    self.stills.thing(i),
                );
            }
            Still::InZone(thing) => {
                let i = self.thing(thing);
                self.shapes(pair, thing.item(), Item::Thing(i), |_| true, self.stills.thing(i));
            }
            Still::Kept(kept) => {
                let i = place_of(*kept, &self.stage.keep_clear);
                let meets = |p: &Solid| kept.any_height || p.z.overlaps(&kept.solid.z);
                self.shapes(pair, kept.item(), Item::Kept(i), meets, self.stills.kept(i));
            }
            // which wall a target hangs on and the vehicle is driven up to is told by the fixings
            Still::Walls | Still::WallsBut(_) => self.walls(pair),
            Still::Wall(_) => {}
            Still::Side(label) => self.through_side(pair, *label),
        }
    }

    fn thing(&self, thing: &Thing) -> usize {
        place_of(thing, &self.stage.things)
    }

    /// A pair of things, piece by piece.
    fn shapes(
        &mut self,
        pair: &Pair,
        still: ItemRef,
        item: Item,
        meets: impl Fn(&Solid) -> bool,
        range: std::ops::Range<usize>,
    ) {
        if !pair.parts.iter().any(&meets) {
            return;
        }
        let need = self.relaxed.need(pair.rule, pair.setup, [pair.moving, still], pair.need);
        let hold = self.hold(pair, still.name, item, need);
        let stills = self.stills;
        for part in pair.parts.iter().filter(|p| meets(p)) {
            for ring in part.shape.pieces() {
                for i in range.clone() {
                    self.keep_off(ring, part.shape.radius(), i, &stills.pieces[i], need, hold);
                }
            }
        }
    }

    fn hold(&mut self, pair: &Pair, still: &Arc<str>, item: Item, need: f64) -> u32 {
        self.push(Hold {
            rule: pair.rule,
            procedure: pair.procedure,
            setup: pair.setup,
            moving: pair.moving.name.clone(),
            still: still.clone(),
            item,
            need,
        })
    }

    fn halo_hold(&mut self, pair: &HaloPair, still: &Arc<str>, item: Item, need: f64) -> u32 {
        self.push(Hold {
            rule: RuleId::ClearZone,
            procedure: Some(pair.procedure),
            setup: Some(pair.setup),
            moving: pair.name.clone(),
            still: still.clone(),
            item,
            need,
        })
    }

    fn push(&mut self, hold: Hold) -> u32 {
        self.space.holds.push(hold);
        self.space.holds.len() as u32 - 1
    }

    /// The origins that bring the moving ring nearer than `need` to the still piece.
    fn keep_off(&mut self, ring: &[P2], radius: f64, i: usize, piece: &Piece, need: f64, hold: u32) {
        if self.left_out(hold) {
            return;
        }
        let mut grow = need + radius + piece.radius;
        if let Form::Couples(couples) = &mut self.form {
            couples.push(ring, &piece.ring, grow);
            return;
        }
        if self.is_far(ring, piece, grow, hold) {
            return;
        }
        let mut difference = minkowski_difference(&piece.ring, ring);
        if grow < 0.0 {
            difference = shrunk(difference, -grow);
            grow = 0.0;
        }
        self.forbid(&difference, grow, i, hold);
    }

    /// The origins in a convex ring grown by `grow`: made by the still piece `i`.
    fn forbid(&mut self, ring: &[P2], grow: f64, i: usize, hold: u32) {
        if let Form::Couples(couples) = &mut self.form {
            // of no two pieces: looked at afresh at every heading
            if !couples.loose.contains(&hold) {
                couples.loose.push(hold);
            }
            return;
        }
        if self.left_out(hold) || ring.is_empty() || (grow == 0.0 && ring.len() < 3) {
            return;
        }
        let obstacle = self.space.sides.obstacle(ring, grow, hold, i as u32);
        self.space.obstacles.push(obstacle);
    }

    /// Whether obstacles of this hold are not asked for.
    fn left_out(&self, hold: u32) -> bool {
        self.only.is_some_and(|only| only.get(hold as usize) == Some(&false))
    }
}

/// The points of a convex ring at least `by` inside it.
fn shrunk(ring: Vec<P2>, by: f64) -> Vec<P2> {
    let mut rest = ring.clone();
    for i in 0..ring.len() {
        let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
        let Some(out) = V2::new(b.y - a.y, a.x - b.x).try_normalize(0.0) else { continue };
        let height: Vec<f64> = rest.iter().map(|p| out.dot(&(p - a)) + by).collect();
        let mut kept = Vec::with_capacity(rest.len() + 1);
        for (j, p) in rest.iter().enumerate() {
            let k = (j + 1) % rest.len();
            if height[j] <= 0.0 {
                kept.push(*p);
            }
            if height[j] * height[k] < 0.0 {
                kept.push(p + (rest[k] - p) * (height[j] / (height[j] - height[k])));
            }
        }
        rest = kept;
    }
    rest
}

/// The place of an element in the slice it stands in.
fn place_of<T>(element: &T, slice: &[T]) -> usize {
    (std::ptr::from_ref(element) as usize - slice.as_ptr() as usize) / size_of::<T>()
}
