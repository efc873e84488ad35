//! What a face is looked at through: the space from a point to a flat convex face, against upright prisms and sheets.
//!
//! The face may be a single point: then the space is a line of sight. All are closed: what only touches has gap 0 and
//! does not reach in. Bands may be endless.

use super::convex::convex_gap;
use super::{Bounds, NOISE_MM, P2, P3, Ray, RayGap, Shape, V3};

/// From a point to a flat convex face.
#[derive(Clone, Debug, PartialEq)]
pub struct Pyramid {
    apex: P3,
    /// Its corners in order round it; a single one for a line of sight.
    face: Vec<P3>,
    /// The face, and the triangles from the apex to its sides; none for a line of sight.
    flats: Vec<Flat>,
    bounds: Bounds,
    z: (f64, f64),
}

/// A flat convex part of the surface.
#[derive(Clone, Debug, PartialEq)]
struct Flat {
    corners: Vec<P3>,
    /// Square to it, length 1.
    normal: V3,
    /// How far the whole pyramid reaches along the normal: from, to.
    reach: (f64, f64),
}

/// What stands upright: a plan shape or a plan segment, with its heights from and to, mm.
#[derive(Clone, Copy, Debug)]
pub enum Upright<'a> {
    Prism(&'a Shape, (f64, f64)),
    Sheet(P2, P2, (f64, f64)),
}

impl Pyramid {
    /// `face`: the corners in order, or one point.
    pub fn new(apex: P3, face: Vec<P3>) -> Pyramid {
        let all = || std::iter::once(apex).chain(face.iter().copied());
        let n = face.len();
        let sides = (0..n).map(|i| vec![apex, face[i], face[(i + 1) % n]]);
        let flats = std::iter::once(face.clone()).chain(sides).filter_map(|corners| {
            let normal = normal(&corners)?;
            let along = all().map(|p| normal.dot(&p.coords));
            let reach = along.fold((f64::INFINITY, f64::NEG_INFINITY), |r, l| (r.0.min(l), r.1.max(l)));
            Some(Flat { corners, normal, reach })
        });
        let heights = all().map(|p| p.z);
        Pyramid {
            flats: flats.collect(),
            bounds: Bounds::of(all().map(|p| p.xy())),
            z: heights.fold((f64::INFINITY, f64::NEG_INFINITY), |z, h| (z.0.min(h), z.1.max(h))),
            apex,
            face,
        }
    }

    /// From the apex to the middle of the face, mm.
    pub fn length(&self) -> f64 {
        let sum = self.face.iter().fold(V3::zeros(), |sum, p| sum + (p - self.apex));
        sum.norm() / self.face.len().max(1) as f64
    }

    /// Never more than the distance of the thing; above 0 only where they are apart.
    pub fn at_least(&self, thing: &Upright) -> f64 {
        let (bounds, z) = (thing.bounds(), thing.z());
        let up = (z.0 - self.z.1).max(self.z.0 - z.1).max(0.0);
        let far = self.bounds.distance(&bounds).hypot(up);
        let (middle, half) = (bounds.centre(), bounds.size() / 2.0);
        self.flats.iter().fold(far, |far, f| {
            let n = f.normal;
            let at = n.x * middle.x + n.y * middle.y;
            let wide = n.x.abs() * half.x + n.y.abs() * half.y;
            let (a, b) = if n.z == 0.0 { (0.0, 0.0) } else { (n.z * z.0, n.z * z.1) };
            far.max(at - wide + a.min(b) - f.reach.1).max(f.reach.0 - (at + wide + a.max(b)))
        })
    }

    /// Does the thing reach into the inside of the pyramid, a line of sight into the inside of the thing?
    pub fn is_entered(&self, thing: &Upright) -> bool {
        if self.at_least(thing) > 0.0 {
            return false;
        }
        match (self.shadow(thing.z()), thing) {
            (Some(shadow), Upright::Prism(shape, _)) => {
                let piece = |p: &Vec<P2>| convex_gap(&shadow, p, 0.0, shape.radius()).mm < -NOISE_MM;
                shape.pieces().iter().any(piece)
            }
            (Some(shadow), Upright::Sheet(a, b, _)) => {
                convex_gap(&shadow, &[*a, *b], 0.0, 0.0).mm < -NOISE_MM
            }
            // upright, or no more than a line
            (None, _) => self.edges().any(|ray| match thing {
                Upright::Prism(shape, z) => ray.through(shape, *z).is_some(),
                Upright::Sheet(a, b, z) => ray.through_sheet(*a, *b, *z).is_some(),
            }),
        }
    }

    /// Where the thing first reaches in, seen from the apex: the part of the way to the face, 0 to 1, and the place in
    /// plan. `None` where it does not.
    pub fn entered_at(&self, thing: &Upright) -> Option<(f64, P2)> {
        const HALVINGS: usize = 24;
        if !self.is_entered(thing) {
            return None;
        }
        // the part of the pyramid before a share of the way lies within all longer parts
        let (mut clear, mut entered) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let middle = (clear + entered) / 2.0;
            if self.first(middle).is_entered(thing) { entered = middle } else { clear = middle }
        }
        Some((entered, self.first(clear).gap(thing).on_thing.xy()))
    }

    /// The least distance of the thing, and where. 0 where it reaches in or touches.
    pub fn gap(&self, thing: &Upright) -> RayGap {
        let mut best = RayGap { mm: f64::INFINITY, on_ray: self.apex, on_thing: self.apex };
        for ray in self.edges() {
            if ray.box_gap(&thing.bounds(), thing.z()) < best.mm {
                let gap = match thing {
                    Upright::Prism(shape, z) => ray.gap(shape, *z),
                    Upright::Sheet(a, b, z) => ray.sheet_gap(*a, *b, *z),
                };
                best = if gap.mm < best.mm { gap } else { best };
            }
        }
        // what is nearest to the inside of a flat part is a corner
        for flat in &self.flats {
            for corner in thing.corners_toward(&flat.normal) {
                let off = flat.normal.dot(&(corner - flat.corners[0]));
                let foot = corner - flat.normal * off;
                if off.abs() < best.mm && flat.holds(foot) {
                    best = RayGap { mm: off.abs(), on_ray: foot, on_thing: corner };
                }
            }
        }
        if best.mm > 0.0 && self.is_entered(thing) {
            return RayGap { mm: 0.0, ..best };
        }
        best
    }

    /// The part before this share of the way.
    fn first(&self, share: f64) -> Pyramid {
        let near = |p: &P3| self.apex + (p - self.apex) * share;
        Pyramid::new(self.apex, self.face.iter().map(near).collect())
    }

    fn edges(&self) -> impl Iterator<Item = Ray> + '_ {
        let n = self.face.len();
        let sides = (0..if n > 1 { n } else { 0 }).map(move |i| (self.face[i], self.face[(i + 1) % n]));
        self.face.iter().map(|p| (self.apex, *p)).chain(sides).map(|(a, b)| Ray { a, b })
    }

    /// What lies inside the band, in plan; `None` where that has no area.
    fn shadow(&self, (low, high): (f64, f64)) -> Option<Vec<P2>> {
        let (low, high) = (low + NOISE_MM, high - NOISE_MM);
        let mut points: Vec<P2> = Vec::new();
        for ray in self.edges() {
            let inside = |p: &P3| low <= p.z && p.z <= high;
            points.extend([ray.a, ray.b].iter().filter(|p| inside(p)).map(|p| p.xy()));
            for level in [low, high] {
                if (ray.a.z < level) != (ray.b.z < level) {
                    points.push(ray.at((level - ray.a.z) / (ray.b.z - ray.a.z)).xy());
                }
            }
        }
        Shape::hull(&points).ok().map(|s| s.outline().points().to_vec())
    }
}

impl Flat {
    /// Whether a point of its plane lies in it.
    fn holds(&self, p: P3) -> bool {
        let n = self.corners.len();
        let beside = (0..n).map(|i| {
            let (a, b) = (self.corners[i], self.corners[(i + 1) % n]);
            self.normal.dot(&(b - a).cross(&(p - a)))
        });
        let (least, most) = beside.fold((f64::INFINITY, f64::NEG_INFINITY), |r, s| (r.0.min(s), r.1.max(s)));
        least >= 0.0 || most <= 0.0
    }
}

impl Upright<'_> {
    pub fn bounds(&self) -> Bounds {
        match self {
            Upright::Prism(shape, _) => shape.bounds(),
            Upright::Sheet(a, b, _) => Bounds::of([a, b]),
        }
    }

    pub fn z(&self) -> (f64, f64) {
        match self {
            Upright::Prism(_, z) | Upright::Sheet(_, _, z) => *z,
        }
    }

    /// The corners; of a round thing the two points of its rims that come nearest to a plane with this normal, one from
    /// either side.
    fn corners_toward(&self, normal: &V3) -> Vec<P3> {
        let plan: Vec<P2> = match self {
            Upright::Sheet(a, b, _) => vec![*a, *b],
            Upright::Prism(shape, _) if shape.radius() > 0.0 => {
                let centre = shape.pieces()[0][0];
                let out = normal.xy().try_normalize(NOISE_MM).unwrap_or_default() * shape.radius();
                vec![centre - out, centre + out]
            }
            Upright::Prism(shape, _) => shape.outline().points().to_vec(),
        };
        let (low, high) = self.z();
        let heights = [low, high].into_iter().filter(|z| z.is_finite());
        heights.flat_map(|z| plan.iter().map(move |p| P3::new(p.x, p.y, z))).collect()
    }
}

/// Square to a flat ring, length 1; `None` for one without area.
fn normal(ring: &[P3]) -> Option<V3> {
    let n = ring.len();
    let sum = (1..n.saturating_sub(1))
        .fold(V3::zeros(), |sum, i| sum + (ring[i] - ring[0]).cross(&(ring[i + 1] - ring[0])));
    sum.try_normalize(NOISE_MM)
}

#[cfg(test)]
mod tests;
