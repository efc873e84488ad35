//! The vehicle as the search sees it: convex parts about the rear axle's middle, x forward, y left.

use crate::geometry::{Bounds, P2, V2};
use crate::layout::{Band, Body, Solid};

/// What a part belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartOf {
    Body,
    Mirrors,
    Tyres,
}

impl PartOf {
    /// As findings name it.
    pub fn word(self) -> &'static str {
        match self {
            PartOf::Body => "vehicle",
            PartOf::Mirrors => "mirrors",
            PartOf::Tyres => "tyres",
        }
    }

    pub fn bit(self) -> u8 {
        match self {
            PartOf::Body => 1,
            PartOf::Mirrors => 2,
            PartOf::Tyres => 4,
        }
    }
}

/// A convex part.
#[derive(Clone, Debug)]
pub struct Part {
    pub of: PartOf,
    /// Anticlockwise.
    pub points: Vec<P2>,
    /// Outward unit normals of the sides.
    pub normals: Vec<V2>,
    pub bounds: Bounds,
}

impl Part {
    pub fn new(of: PartOf, points: Vec<P2>) -> Part {
        let normals = (0..points.len())
            .filter_map(|i| {
                let d = points[(i + 1) % points.len()] - points[i];
                V2::new(d.y, -d.x).try_normalize(0.0)
            })
            .collect();
        let bounds = Bounds::of(&points);
        Part { of, points, normals, bounds }
    }
}

#[derive(Clone, Debug)]
pub struct Car {
    pub parts: Vec<Part>,
    /// Box about all parts.
    pub bounds: Bounds,
    /// Middle of the box, and the distance of the farthest corner from it.
    pub middle: P2,
    pub radius: f64,
    /// Distance from the rear axle's middle to the nearest side of the body.
    pub core: f64,
    body: Band,
    mirrors: Option<Band>,
    tyres: Band,
}

impl Car {
    /// From the solids in vehicle axes; the vehicle stands with its tyres on the floor.
    pub fn new(body: &Body, wheelbase: f64) -> Car {
        let back = V2::new(wheelbase, 0.0);
        let mut parts = Vec::new();
        let kinds: [(PartOf, &[Solid]); 3] =
            [(PartOf::Body, &body.hull), (PartOf::Mirrors, &body.mirrors), (PartOf::Tyres, &body.tyres)];
        for (of, solids) in kinds {
            for piece in solids.iter().flat_map(|s| s.shape.pieces()) {
                parts.push(Part::new(of, piece.iter().map(|p| p + back).collect()));
            }
        }
        let bounds = Bounds::of(parts.iter().flat_map(|p| &p.points));
        let middle = bounds.centre();
        let radius = parts.iter().flat_map(|p| &p.points).map(|p| (p - middle).norm()).fold(0.0, f64::max);
        let band = |s: &[Solid]| s.first().map(|s| s.z);
        Car {
            core: core(&parts),
            parts,
            bounds,
            middle,
            radius,
            body: band(&body.hull).unwrap_or(Band::ALL),
            mirrors: band(&body.mirrors),
            tyres: band(&body.tyres).unwrap_or(Band::ALL),
        }
    }

    /// Mirrored in its own axes: left and right changed over.
    pub fn mirrored(&self) -> Car {
        let across = |p: &P2| P2::new(p.x, -p.y);
        let mirrored = |p: &Part| Part::new(p.of, p.points.iter().rev().map(across).collect());
        let parts: Vec<Part> = self.parts.iter().map(mirrored).collect();
        let bounds = Bounds::of(parts.iter().flat_map(|p| &p.points));
        Car { bounds, middle: bounds.centre(), parts, ..self.clone() }
    }

    /// Which parts meet something standing in these heights. As when the vehicle stands: the tyres only meet what is
    /// too low for the body.
    pub fn meets(&self, z: &Band) -> u8 {
        let mut mask = 0;
        if self.body.overlaps(z) {
            mask |= PartOf::Body.bit();
        } else if self.tyres.overlaps(z) {
            mask |= PartOf::Tyres.bit();
        }
        if self.mirrors.is_some_and(|m| m.overlaps(z)) {
            mask |= PartOf::Mirrors.bit();
        }
        mask
    }

    /// Way of the fastest point for 1 mm of way of the rear axle.
    pub fn speed(&self, curvature: f64) -> f64 {
        let way = |p: &P2| (curvature * p.x).hypot(1.0 - curvature * p.y);
        self.parts.iter().flat_map(|p| &p.points).map(way).fold(1.0, f64::max)
    }

    /// Body and mirrors, without the tyres under them.
    pub fn outer_parts(&self) -> impl Iterator<Item = &Part> {
        self.parts.iter().filter(|p| p.of != PartOf::Tyres)
    }
}

/// How far a disc about the rear axle's middle may grow inside the body.
fn core(parts: &[Part]) -> f64 {
    let inside = |p: &Part| {
        p.normals.iter().zip(&p.points).map(|(n, q)| n.dot(&q.coords)).fold(f64::INFINITY, f64::min)
    };
    parts.iter().filter(|p| p.of == PartOf::Body).map(inside).fold(0.0, f64::max)
}
