//! The obstacles of one heading, made from the pairs of the checks.

mod held;
mod surfaces;

use std::sync::Arc;

use super::accepted::Relaxed;
use super::fixed::Fixing;
use super::obstacle::Sides;
use super::space::{Hold, Space, UNBOUNDED, meet};
use super::still::{Item, Piece, Stills};
use crate::checks::RuleId;
use crate::checks::pairs::{Cx, Pair, Still};
use crate::checks::rules::{HaloPair, halo_pairs, lift_pairs, plan_pairs};
use crate::geometry::{Bounds, P2, V2, minkowski_difference};
use crate::layout::{Layout, Solid, Stage, Thing};

impl Space {
    /// Lists what the rig of `turned` must keep off, the vehicle standing at the bay's origin. `idle` setups are left
    /// out. `only`: make obstacles for these holds alone; their numbers are the same at every heading.
    pub fn new(
        turned: &Layout,
        stills: &Stills,
        relaxed: &Relaxed,
        fixings: &[Fixing],
        idle: &[usize],
        only: Option<&[bool]>,
    ) -> Space {
        let cx = Cx::new(turned);
        let mut maker = Maker {
            layout: turned,
            stage: &turned.stage,
            stills,
            relaxed,
            fixings,
            idle,
            only,
            floor: turned
                .stage
                .floor
                .cells()
                .iter()
                .fold(Bounds::of(Vec::<P2>::new()), |b, c| b.union(&c.bounds())),
            space: Space {
                heading: turned.stance.heading,
                sides: Sides::default(),
                obstacles: Vec::new(),
                holds: Vec::new(),
                domain: UNBOUNDED,
                domains: Vec::new(),
            },
        };
        let counts = |setup: Option<usize>| setup.is_none_or(|s| !idle.contains(&s));
        plan_pairs(&cx, &mut |pair| {
            if counts(pair.setup) {
                maker.pair(&pair);
            }
        });
        halo_pairs(&cx, &mut |pair| {
            if counts(Some(pair.setup)) {
                maker.halos(&pair);
            }
        });
        lift_pairs(&cx, &mut |pair| {
            if counts(pair.setup) {
                maker.lift(&cx, &pair);
            }
        });
        for fixing in fixings.iter().filter(|f| counts(Some(f.setup))) {
            maker.fixed(fixing);
        }
        maker.space
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
    floor: Bounds,
    space: Space,
}

impl Maker<'_> {
    fn pair(&mut self, pair: &Pair) {
        match &pair.still {
            Still::Thing(thing) => {
                let i = self.thing(thing);
                self.shapes(
                    pair,
                    &thing.name,
                    Item::Thing(i),
                    |p| p.z.overlaps(&thing.solid.z),
                    self.stills.thing(i),
                );
            }
            Still::InZone(thing) => {
                let i = self.thing(thing);
                self.shapes(pair, &thing.name, Item::Thing(i), |_| true, self.stills.thing(i));
            }
            Still::Kept(kept) => {
                let i = place_of(*kept, &self.stage.keep_clear);
                let meets = |p: &Solid| kept.any_height || p.z.overlaps(&kept.solid.z);
                self.shapes(pair, &kept.name, Item::Kept(i), meets, self.stills.kept(i));
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
        still: &Arc<str>,
        item: Item,
        meets: impl Fn(&Solid) -> bool,
        range: std::ops::Range<usize>,
    ) {
        if !pair.parts.iter().any(&meets) {
            return;
        }
        let need = self.relaxed.need(pair.rule, pair.setup, [pair.name, still], pair.need);
        let hold = self.hold(pair, still, item, need);
        let stills = self.stills;
        for part in pair.parts.iter().filter(|p| meets(p)) {
            for ring in part.shape.pieces() {
                for i in range.clone() {
                    self.keep_off(ring, part.shape.radius(), i, &stills.pieces[i], need, hold);
                }
            }
        }
    }

    /// The edge of the usable floor: every stretch by its own need, and where there is no floor.
    fn walls(&mut self, pair: &Pair) {
        let stills = self.stills;
        let hangs = |f: &&Fixing| {
            pair.rule == RuleId::TargetClear && Some(f.setup) == pair.setup && f.moving == *pair.name
        };
        let but = self.fixings.iter().find(hangs).and_then(|f| f.label);
        let near = if pair.rule == RuleId::VehicleClear { self.driven_up_to(pair.setup) } else { Vec::new() };
        let bounds = (0..).zip(&self.stage.walls);
        let holds: Vec<(u32, f64)> = bounds
            .map(|(label, bound)| {
                let need = if near.contains(&label) { 0.0 } else { pair.need };
                let need = self.relaxed.need(pair.rule, pair.setup, [pair.name, &bound.name], need);
                (self.hold(pair, &bound.name, Item::Outside, need), need)
            })
            .collect();
        for (label, (hold, _)) in (0..).zip(&holds) {
            self.space.holds[*hold as usize].item = Item::Edge(label);
        }
        // Past a wall accepted to be overlapped there is no telling floor from no floor.
        let open = but.is_some() || holds.iter().any(|(_, need)| *need < 0.0);
        let outside_need = holds.iter().map(|(_, need)| *need).fold(pair.need, f64::min);
        let outside = self.hold(pair, &"the floor's edge".into(), Item::Outside, outside_need);
        for part in pair.parts {
            let (b, r) = (part.shape.bounds(), part.shape.radius());
            if !open {
                let own = Bounds { min: self.floor.min - b.min.coords, max: self.floor.max - b.max.coords };
                self.space.domain = meet(&self.space.domain, &own);
                self.space.domains.push((pair.setup, own));
            }
            for ring in part.shape.pieces() {
                for i in stills.edges.clone() {
                    let Item::Edge(label) = stills.pieces[i].item else { continue };
                    if but == Some(label) {
                        continue;
                    }
                    let (hold, need) = holds[label as usize];
                    if need >= 0.0 {
                        self.keep_off(ring, r, i, &stills.pieces[i], need, hold);
                    } else {
                        let out = self.stage.bound(label).inward * need;
                        let moved = Piece {
                            ring: stills.pieces[i].ring.iter().map(|p| p + out).collect(),
                            ..stills.pieces[i].clone()
                        };
                        self.keep_off(ring, r, i, &moved, 0.0, hold);
                    }
                }
                for i in stills.outside.clone().filter(|_| !open) {
                    self.keep_off(ring, r, i, &stills.pieces[i], outside_need, outside);
                }
            }
        }
    }

    fn hold(&mut self, pair: &Pair, still: &Arc<str>, item: Item, need: f64) -> u32 {
        self.push(Hold {
            rule: pair.rule,
            procedure: pair.procedure,
            setup: pair.setup,
            moving: pair.name.clone(),
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
        let mut difference = minkowski_difference(&piece.ring, ring);
        let mut grow = need + radius + piece.radius;
        if grow < 0.0 {
            difference = shrunk(difference, -grow);
            grow = 0.0;
        }
        self.forbid(&difference, grow, i, hold);
    }

    /// The origins in a convex ring grown by `grow`: made by the still piece `i`.
    fn forbid(&mut self, ring: &[P2], grow: f64, i: usize, hold: u32) {
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
