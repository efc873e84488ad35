//! Overlap depth of shapes made of several convex pieces.
//!
//! The shifts of A that overlap B are, turned round, the inside of the union of the Minkowski differences of
//! their pieces, grown by both radii. The shortest shift that parts them leads from the origin to the nearest
//! point of the union's edge. That point is either the foot of the origin on a side (or on the round corner) of
//! one piece, or a crossing of the edges of two pieces, and lies strictly inside none.

use super::convex::{convex_gap, foot};
use super::minkowski::minkowski_difference;
use super::{Gap, NOISE_MM, P2, V2, cross, union_outlines};

/// Above so many sides the union is made by the geometry crate, on its grid.
const MANY: usize = 4000;

/// The gap of two overlapping sets of convex pieces grown by `ra` and `rb`.
pub(super) fn depth(a: &[Vec<P2>], b: &[Vec<P2>], ra: f64, rb: f64) -> Gap {
    let pairs: Vec<(&[P2], &[P2])> = a.iter().flat_map(|p| b.iter().map(move |q| (&p[..], &q[..]))).collect();
    let union =
        Union { pieces: pairs.iter().map(|(p, q)| minkowski_difference(p, q)).collect(), radius: ra + rb };
    let nearest = union.nearest_edge_point();
    let shift = -nearest.coords;
    // Of the pairs that touch after the shift, the first tells where.
    let touching = pairs
        .iter()
        .map(|(p, q)| {
            let shifted: Vec<P2> = p.iter().map(|v| v + shift).collect();
            convex_gap(&shifted, q, ra, rb)
        })
        .min_by(|g, h| g.mm.abs().total_cmp(&h.mm.abs()));
    let a = touching.map_or(P2::origin(), |g| g.a) - shift;
    Gap { mm: -shift.norm(), a, b: a + shift }
}

/// Convex pieces grown by `radius`.
struct Union {
    pieces: Vec<Vec<P2>>,
    radius: f64,
}

/// Part of a piece's edge: a side moved outward, or the circle about a corner.
#[derive(Clone, Copy)]
enum Part {
    Side(P2, P2),
    Corner(P2),
}

impl Union {
    /// The point of the union's edge nearest to the origin.
    fn nearest_edge_point(&self) -> P2 {
        let mut parts: Vec<(f64, P2, Part)> = Vec::new();
        for piece in &self.pieces {
            for part in self.parts(piece) {
                let f = self.foot(part);
                parts.push((f.coords.norm(), f, part));
            }
        }
        parts.sort_by(|p, q| p.0.total_cmp(&q.0));
        let mut best: Option<(f64, P2)> = parts.iter().find(|p| !self.covers(p.1)).map(|p| (p.0, p.1));
        if let Some((mm, _)) = best {
            parts.retain(|p| p.0 < mm);
        }
        if parts.len() > MANY && self.radius == 0.0 {
            return self.nearest_on_grid();
        }
        let mut offer = |p: P2| {
            let mm = p.coords.norm();
            if best.is_none_or(|b| mm < b.0) && !self.covers(p) {
                best = Some((mm, p));
            }
        };
        for (i, (_, _, p)) in parts.iter().enumerate() {
            if let Part::Side(a, b) = p {
                offer(*a);
                offer(*b);
            }
            for (_, _, q) in &parts[..i] {
                self.crossings(*p, *q).into_iter().flatten().for_each(&mut offer);
            }
        }
        // Pieces have no holes all round, so some foot or crossing is always free.
        best.map_or(P2::origin(), |b| b.1)
    }

    fn parts(&self, piece: &[P2]) -> Vec<Part> {
        let r = self.radius;
        let next = piece.iter().cycle().skip(1);
        let sides = piece.iter().zip(next).filter_map(|(a, b)| {
            let n = V2::new(b.y - a.y, a.x - b.x).try_normalize(0.0)? * r;
            Some(Part::Side(a + n, b + n))
        });
        let corners = piece.iter().filter(|_| r > 0.0).map(|p| Part::Corner(*p));
        sides.chain(corners).collect()
    }

    /// The point of the part nearest to the origin.
    fn foot(&self, part: Part) -> P2 {
        match part {
            Part::Side(a, b) => foot(P2::origin(), a, b),
            Part::Corner(c) => c + (-c.coords).try_normalize(0.0).unwrap_or(V2::x()) * self.radius,
        }
    }

    /// Does the point lie inside a piece, deeper than noise?
    fn covers(&self, p: P2) -> bool {
        self.pieces.iter().any(|piece| {
            let next = piece.iter().cycle().skip(1);
            let mut depth = f64::INFINITY;
            for (a, b) in piece.iter().zip(next) {
                let side = b - a;
                let length = side.norm();
                if length > 0.0 {
                    depth = depth.min(cross(side, p - a) / length);
                }
            }
            if piece.len() > 2 && depth >= 0.0 {
                return depth + self.radius > NOISE_MM;
            }
            if self.radius == 0.0 {
                return false;
            }
            let next = piece.iter().cycle().skip(1);
            let nearest = piece.iter().zip(next).map(|(a, b)| (p - foot(p, *a, *b)).norm());
            nearest.fold(f64::INFINITY, f64::min) < self.radius - NOISE_MM
        })
    }

    fn crossings(&self, p: Part, q: Part) -> [Option<P2>; 2] {
        match (p, q) {
            (Part::Side(a, b), Part::Side(c, d)) => [side_side(a, b, c, d), None],
            (Part::Side(a, b), Part::Corner(c)) | (Part::Corner(c), Part::Side(a, b)) => {
                side_circle(a, b, c, self.radius)
            }
            (Part::Corner(c), Part::Corner(d)) => {
                [true, false].map(|left| super::meet_of_circles(c, self.radius, d, self.radius, left))
            }
        }
    }

    fn nearest_on_grid(&self) -> P2 {
        let rings = union_outlines(&self.pieces);
        let feet = rings
            .iter()
            .flat_map(|r| r.iter().zip(r.iter().cycle().skip(1)).map(|(a, b)| foot(P2::origin(), *a, *b)));
        feet.min_by(|p, q| p.coords.norm().total_cmp(&q.coords.norm())).unwrap_or(P2::origin())
    }
}

/// Where two sides cross, ends included.
fn side_side(a: P2, b: P2, c: P2, d: P2) -> Option<P2> {
    const END: f64 = 1e-9;
    let (u, v) = (b - a, d - c);
    let area = cross(u, v);
    if area.abs() <= 1e-12 * u.norm() * v.norm() {
        return None;
    }
    let s = cross(c - a, v) / area;
    let t = cross(c - a, u) / area;
    let on = |x: f64| (-END..=1.0 + END).contains(&x);
    (on(s) && on(t)).then(|| a + u * s)
}

/// Where a side crosses a circle, ends included.
fn side_circle(a: P2, b: P2, c: P2, r: f64) -> [Option<P2>; 2] {
    let Some(line) = super::Line::through(a, b) else {
        return [None, None];
    };
    let (length, mid, off) = (line.along(b), line.along(c), line.offset(c));
    if off.abs() > r {
        return [None, None];
    }
    let half = ((r - off) * (r + off)).sqrt();
    [mid - half, mid + half]
        .map(|t| (-NOISE_MM <= t && t <= length + NOISE_MM).then(|| line.at + line.dir * t))
}
