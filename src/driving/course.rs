//! What stays put while the vehicle is driven in, cut into convex pieces, and how near the vehicle comes to it.
//!
//! The stretch of the doorway it enters by counts as open, whether or not the job has it shut afterwards. Targets are
//! set up later and keep-clear areas may be driven over: neither is here. Beams, lamps and things on the floor count
//! where their heights meet the body's, the mirrors' or, for what is too low for the body, the tyres'.

use std::sync::Arc;

use super::car::{Car, Part, PartOf};
use super::gate::Gate;
use super::mirror::Mirrored;
use super::motion::Pose;
use crate::geometry::{Bounds, Frame, NOISE_MM, P2, V2, segment_gap};
use crate::layout::{BoundKind, Layout};
use crate::model::ItemKind;

/// Something named that stays put.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    pub kind: ItemKind,
    pub name: Arc<str>,
    pub movable: bool,
}

/// A convex piece of it: one point (with a radius: a circle), two (a wall), or more.
#[derive(Clone, Debug)]
struct Piece {
    item: usize,
    /// Parts of the vehicle it meets.
    mask: u8,
    points: Vec<P2>,
    radius: f64,
    bounds: Bounds,
}

#[derive(Clone, Debug)]
pub struct Course {
    pub gate: Gate,
    pub items: Vec<Item>,
    pieces: Vec<Piece>,
    /// About floor, apron and strip.
    pub bounds: Bounds,
}

/// The nearest the vehicle comes to something, or how deep it is in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// mm; below zero: the shortest shift that parts them.
    pub mm: f64,
    pub part: PartOf,
    pub item: usize,
    /// On the vehicle, and on the thing; bay axes.
    pub at: (P2, P2),
}

impl Course {
    /// `movables`: whether things that can be moved are in the way.
    pub fn new(layout: &Layout, gate: Gate, car: &Car, movables: bool) -> Course {
        let stage = &layout.stage;
        let far = 2.0 * car.bounds.size().x + 2.0 * car.radius;
        let floor = layout.bundle.bay.floor.outline.0.bounds();
        let strip = Bounds::of([gate.a, gate.b, gate.point(far, 0.0)]).grow(gate.width / 2.0);
        let apron = gate.apron.as_ref().map_or(strip, |a| a.bounds());
        let mut course = Course {
            bounds: floor.union(&strip).union(&apron).union(&stage_bounds(layout)),
            items: Vec::new(),
            pieces: Vec::new(),
            gate,
        };
        let gate = course.gate.clone();
        let jamb = course.item(ItemKind::Jamb, format!("{} jamb", gate.name).into(), false);
        course.push(jamb, u8::MAX, vec![gate.a], 0.0);
        course.push(jamb, u8::MAX, vec![gate.b], 0.0);
        for edge in stage.floor.edges() {
            let bound = stage.bound(edge.label);
            let entered = matches!(bound.kind, BoundKind::Door(d) | BoundKind::Apron(d) if d == gate.door);
            if !entered {
                let item = course.item(bound.item().kind, bound.name.clone(), false);
                // another door's apron is no wall across this door's ground
                let parts = match bound.kind {
                    BoundKind::Apron(_) => gate.beside_strip((edge.a, edge.b), far),
                    _ => vec![(edge.a, edge.b)],
                };
                for (a, b) in parts {
                    course.push(item, u8::MAX, vec![a, b], 0.0);
                }
            }
        }
        let ground = gate.edges(far);
        let ground =
            [(ground.of_apron, ItemKind::Apron, "apron"), (ground.of_strip, ItemKind::Strip, "strip")];
        for (edges, kind, name) in ground {
            let item = course.item(kind, format!("{} {name}", gate.name).into(), false);
            for (a, b) in edges {
                course.push(item, u8::MAX, vec![a, b], 0.0);
            }
        }
        for thing in &stage.things {
            let mask = car.meets(&thing.solid.z);
            if mask != 0 && (movables || !thing.movable) {
                let item = course.item(thing.item().kind, thing.name.clone(), thing.movable);
                for piece in thing.solid.shape.pieces() {
                    course.push(item, mask, piece.clone(), thing.solid.shape.radius());
                }
            }
        }
        course
    }

    /// Mirrored in the bay's y axis.
    pub fn mirrored(&self) -> Course {
        let pieces = self.pieces.iter().map(|p| Piece {
            points: p.points.iter().rev().map(Mirrored::mirrored).collect(),
            bounds: p.bounds.mirrored(),
            ..p.clone()
        });
        Course {
            gate: self.gate.mirrored(),
            items: self.items.clone(),
            pieces: pieces.collect(),
            bounds: self.bounds.mirrored(),
        }
    }

    /// Whether the whole vehicle is outside the doorway's wall.
    pub fn is_outside(&self, car: &Car, pose: &Pose) -> bool {
        let frame = pose.frame();
        let out = V2::new(frame.x.dot(&self.gate.out), frame.y().dot(&self.gate.out));
        let base = self.gate.outside(pose.at);
        car.parts.iter().flat_map(|p| &p.points).all(|p| base + out.dot(&p.coords) >= -NOISE_MM)
    }

    /// A distance the vehicle keeps from everything here, never more than the true one, at most `cap`; below zero the
    /// depth it stands in something.
    pub fn clearance(&self, car: &Car, pose: &Pose, cap: f64) -> f64 {
        let frame = pose.frame();
        let middle = frame.to_world(car.middle);
        let mut least = cap;
        let mut local: Vec<P2> = Vec::with_capacity(16);
        for piece in &self.pieces {
            if away(&piece.bounds, middle) - car.radius >= least {
                continue;
            }
            local.clear();
            local.extend(piece.points.iter().map(|p| frame.to_local(*p)));
            let bounds = Bounds::of(&local);
            for part in car.parts.iter().filter(|p| piece.mask & p.of.bit() != 0) {
                if apart(&bounds, &part.bounds) - piece.radius < least {
                    least = least.min(separation(part, &local, piece.radius, least));
                }
            }
        }
        least
    }

    /// The nearest contact of these parts (in the frame's coordinates), exact; of equals the first listed.
    pub fn nearest(&self, parts: &[Part], frame: &Frame) -> Option<Contact> {
        self.nearer(parts, frame, f64::INFINITY)
    }

    /// The nearest contact, where it is nearer than `far`, mm.
    pub fn nearer(&self, parts: &[Part], frame: &Frame, far: f64) -> Option<Contact> {
        let mut best: Option<Contact> = None;
        let mut local: Vec<P2> = Vec::with_capacity(16);
        let about = parts.iter().map(|p| p.bounds).reduce(|a, b| a.union(&b))?;
        let middle = frame.to_world(about.centre());
        let radius = about.size().norm() / 2.0;
        for piece in &self.pieces {
            if away(&piece.bounds, middle) - radius >= best.map_or(far, |b| b.mm - NOISE_MM) {
                continue;
            }
            local.clear();
            local.extend(piece.points.iter().map(|p| frame.to_local(*p)));
            let bounds = Bounds::of(&local);
            for part in parts.iter().filter(|p| piece.mask & p.of.bit() != 0) {
                let limit = best.map_or(far, |b| b.mm - NOISE_MM);
                if apart(&bounds, &part.bounds) - piece.radius >= limit {
                    continue;
                }
                if let Some((mm, a, b)) = exact(part, &local, piece.radius, limit) {
                    best = Some(Contact {
                        mm,
                        part: part.of,
                        item: piece.item,
                        at: (frame.to_world(a), frame.to_world(b)),
                    });
                }
            }
        }
        best
    }

    /// The same course with these fixtures gone.
    pub fn without(&self, names: &[Arc<str>]) -> Course {
        let mut course = self.clone();
        let gone = |i: &Item| i.kind == ItemKind::Fixture && names.contains(&i.name);
        course.pieces.retain(|p| !gone(&self.items[p.item]));
        course
    }

    /// The same course with nothing in it but the fixture of this name.
    pub fn only(&self, name: &str) -> Course {
        let mut course = self.clone();
        let stays = |i: &Item| i.kind == ItemKind::Fixture && *i.name == *name;
        course.pieces.retain(|p| stays(&self.items[p.item]));
        course
    }

    /// Whether a disc about `p` meets something the body meets.
    pub fn disc_blocked(&self, p: P2, radius: f64) -> bool {
        self.pieces.iter().filter(|i| i.mask & PartOf::Body.bit() != 0).any(|i| {
            let reach = radius + i.radius;
            away(&i.bounds, p) < radius
                && (inside(&i.points, p) || edges(&i.points).any(|(a, b)| segment_gap(p, p, a, b).mm < reach))
        })
    }

    fn item(&mut self, kind: ItemKind, name: Arc<str>, movable: bool) -> usize {
        if let Some(at) = self.items.iter().position(|i| i.kind == kind && i.name == name) {
            return at;
        }
        self.items.push(Item { kind, name, movable });
        self.items.len() - 1
    }

    fn push(&mut self, item: usize, mask: u8, points: Vec<P2>, radius: f64) {
        let bounds = Bounds::of(&points).grow(radius);
        self.pieces.push(Piece { item, mask, points, radius, bounds });
    }
}

fn stage_bounds(layout: &Layout) -> Bounds {
    Bounds::of(layout.stage.floor.cells().iter().flat_map(|c| c.points()))
}

/// Distance of a point from a box.
fn away(b: &Bounds, p: P2) -> f64 {
    let dx = (b.min.x - p.x).max(p.x - b.max.x).max(0.0);
    let dy = (b.min.y - p.y).max(p.y - b.max.y).max(0.0);
    (dx * dx + dy * dy).sqrt()
}

/// Signed distance of two boxes along the axis that parts them best.
fn apart(a: &Bounds, b: &Bounds) -> f64 {
    let x = (a.min.x - b.max.x).max(b.min.x - a.max.x);
    let y = (a.min.y - b.max.y).max(b.min.y - a.max.y);
    x.max(y)
}

fn edges(points: &[P2]) -> impl Iterator<Item = (P2, P2)> + '_ {
    let n = points.len();
    let sides = if n == 2 { 1 } else { n };
    (0..sides).map(move |i| (points[i], points[(i + 1) % n]))
}

fn inside(points: &[P2], p: P2) -> bool {
    points.len() > 2 && edges(points).all(|(a, b)| crate::geometry::cross(b - a, p - a) >= 0.0)
}

/// Lower bound of the distance (exact where they overlap): the best of the separating axes. Gives up above `limit`.
fn separation(part: &Part, piece: &[P2], radius: f64, limit: f64) -> f64 {
    let (best, _) = best_axis(part, piece, limit + radius);
    if let [p] = piece
        && best > 0.0
    {
        let way = |(a, b)| segment_gap(*p, *p, a, b).mm;
        return edges(&part.points).map(way).fold(f64::INFINITY, f64::min) - radius;
    }
    best - radius
}

/// The widest separation of the two along a normal of either, and the direction from part to piece.
fn best_axis(part: &Part, piece: &[P2], enough: f64) -> (f64, V2) {
    let mut best = (f64::NEG_INFINITY, V2::x());
    for (n, q) in part.normals.iter().zip(&part.points) {
        let off = n.dot(&q.coords);
        let gap = piece.iter().map(|p| n.dot(&p.coords)).fold(f64::INFINITY, f64::min) - off;
        if gap > best.0 {
            best = (gap, *n);
            if gap >= enough {
                return best;
            }
        }
    }
    if piece.len() > 1 {
        for i in 0..piece.len() {
            let d = piece[(i + 1) % piece.len()] - piece[i];
            let Some(n) = V2::new(d.y, -d.x).try_normalize(0.0) else { continue };
            let off = n.dot(&piece[i].coords);
            let gap = part.points.iter().map(|p| n.dot(&p.coords)).fold(f64::INFINITY, f64::min) - off;
            if gap > best.0 {
                best = (gap, -n);
                if gap >= enough {
                    return best;
                }
            }
        }
    }
    best
}

/// Whether any of these points lies on the outer side of a side that is told anticlockwise, or on its line.
fn faces((a, b): (P2, P2), points: &[P2]) -> bool {
    points.iter().any(|p| crate::geometry::cross(b - a, p - a) <= NOISE_MM)
}

/// Distance or minus depth, with the two points; none where it is not below `limit`.
fn exact(part: &Part, piece: &[P2], radius: f64, limit: f64) -> Option<(f64, P2, P2)> {
    let (axis, n) = best_axis(part, piece, limit + radius);
    if axis >= limit + radius {
        return None;
    }
    if axis > 0.0 {
        let mut best = (f64::INFINITY, P2::origin(), P2::origin());
        // of two convex shapes that are apart, the sides nearest to each other face each other
        for (a, b) in edges(&part.points).filter(|side| faces(*side, piece)) {
            for (c, d) in edges(piece).filter(|side| piece.len() < 3 || faces(*side, &part.points)) {
                let g = segment_gap(a, b, c, d);
                if g.mm < best.0 {
                    best = (g.mm, g.a, g.b);
                }
            }
        }
        let way = (best.1 - best.2).try_normalize(0.0).unwrap_or(-n);
        let near = (best.0 - radius, best.1, best.2 + way * radius);
        return (near.0 < limit).then_some(near);
    }
    // the point of the piece deepest in the part, and where the part's side must go
    let deepest = piece.iter().min_by(|p, q| n.dot(&p.coords).total_cmp(&n.dot(&q.coords))).copied();
    let reach = part.points.iter().map(|p| n.dot(&p.coords)).fold(f64::NEG_INFINITY, f64::max);
    let still = deepest.unwrap_or(P2::origin()) - n * radius;
    let moving = still + n * (reach - n.dot(&still.coords));
    Some((axis - radius, moving, still))
}
