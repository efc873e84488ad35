//! Straight lines of sight in space against upright prisms and upright sheets.
//!
//! A prism is a plan shape with a height band; a sheet is a plan segment with one. Both are closed: a ray that only
//! touches one has gap 0 and is not blocked. Bands may be endless.

use super::{Bounds, NOISE_MM, P2, P3, Shape, V2, V3, point_gap, segment_gap};

/// A straight line of sight from `a` to `b`, mm. The two may be one point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ray {
    pub a: P3,
    pub b: P3,
}

/// The least distance of a ray from something, and where. 0 where they meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RayGap {
    pub mm: f64,
    pub on_ray: P3,
    pub on_thing: P3,
}

impl Ray {
    /// The point at `t`: 0 at `a`, 1 at `b`.
    pub fn at(&self, t: f64) -> P3 {
        self.a + (self.b - self.a) * t
    }

    pub fn length(&self) -> f64 {
        (self.b - self.a).norm()
    }

    /// The first stretch from `t` to `t` on which the ray runs through the inside of the prism; `None` when it
    /// passes clear of it or only touches it.
    pub fn through(&self, shape: &Shape, z: (f64, f64)) -> Option<(f64, f64)> {
        if self.box_gap(&shape.bounds(), z) > 0.0 {
            return None;
        }
        let mut stops = vec![0.0, 1.0];
        self.plan_stops(shape, &mut stops);
        self.height_stops(z, &mut stops);
        let mut found: Option<(f64, f64)> = None;
        for (from, to) in spans(&mut stops) {
            let middle = self.at((from + to) / 2.0);
            let long = (to - from) * self.length() > NOISE_MM || self.length() <= NOISE_MM;
            let in_band = z.0 + NOISE_MM < middle.z && middle.z < z.1 - NOISE_MM;
            if long && in_band && point_gap(middle.xy(), shape).mm < -NOISE_MM {
                found = Some((found.map_or(from, |f| f.0), to));
            } else if found.is_some() {
                break;
            }
        }
        found
    }

    /// The least distance of the ray from the prism.
    pub fn gap(&self, shape: &Shape, z: (f64, f64)) -> RayGap {
        if let Some((t, _)) = self.through(shape, z) {
            return self.touching(t);
        }
        if shape.radius() > 0.0 {
            return self.gap_to_round(shape, z);
        }
        let edges = shape.outline().edges().map(|(a, b)| self.sheet_gap(a, b, z));
        let beside = edges.min_by(|a, b| a.mm.total_cmp(&b.mm));
        let mut best = beside.unwrap_or(self.touching(0.0));
        // above or below: where the ray is over the shape
        let mut stops = vec![0.0, 1.0];
        self.plan_stops(shape, &mut stops);
        self.height_stops(z, &mut stops);
        for (from, to) in spans(&mut stops) {
            if shape.outline().contains(self.at((from + to) / 2.0).xy()) {
                let off = |t: f64| V3::new(0.0, 0.0, outside(self.at(t).z, z));
                best = nearer(best, self.least(from, to, &off));
            }
        }
        best
    }

    /// Where the ray passes through the inside of an upright sheet; `None` when it only touches it.
    pub fn through_sheet(&self, a: P2, b: P2, z: (f64, f64)) -> Option<f64> {
        let (p, q, way) = (self.a.xy(), self.b.xy(), b - a);
        let length = way.norm();
        let side = |c: P2| (way.x * (c.y - a.y) - way.y * (c.x - a.x)) / length;
        let (first, last) = (side(p), side(q));
        if !(first.min(last) < -NOISE_MM && first.max(last) > NOISE_MM) {
            return None;
        }
        let t = first / (first - last);
        let at = self.at(t);
        let along = way.dot(&(at.xy() - a)) / length;
        let inside =
            NOISE_MM < along && along < length - NOISE_MM && z.0 + NOISE_MM < at.z && at.z < z.1 - NOISE_MM;
        inside.then_some(t)
    }

    /// The least distance of the ray from an upright sheet.
    pub fn sheet_gap(&self, a: P2, b: P2, z: (f64, f64)) -> RayGap {
        let way = b - a;
        let length2 = way.norm_squared();
        let share = |p: P2| if length2 > 0.0 { way.dot(&(p - a)) / length2 } else { 0.0 };
        let mut stops = vec![0.0, 1.0];
        let (s, e) = (share(self.a.xy()), share(self.b.xy()));
        stops.extend([0.0, 1.0].map(|at| (at - s) / (e - s)));
        self.height_stops(z, &mut stops);
        // between two stops the way from the sheet's nearest point to the ray is linear in t
        let off = |t: f64| {
            let p = self.at(t);
            let plan = p.xy() - (a + way * share(p.xy()).clamp(0.0, 1.0));
            V3::new(plan.x, plan.y, outside(p.z, z))
        };
        let parts = spans(&mut stops).map(|(from, to)| self.least(from, to, &off));
        parts.min_by(|a, b| a.mm.total_cmp(&b.mm)).unwrap_or(self.touching(0.0))
    }

    /// Never more than the ray's distance from anything inside these bounds.
    pub fn box_gap(&self, bounds: &Bounds, z: (f64, f64)) -> f64 {
        let plan = Bounds::of([self.a.xy(), self.b.xy()]).distance(bounds);
        let (lo, hi) = (self.a.z.min(self.b.z), self.a.z.max(self.b.z));
        let up = (z.0 - hi).max(lo - z.1).max(0.0);
        plan.hypot(up)
    }

    /// The distance from a convex thing falls, then rises: the turn is where the way to it stands square to the ray.
    fn gap_to_round(&self, shape: &Shape, z: (f64, f64)) -> RayGap {
        let (centre, radius) = (shape.pieces()[0][0], shape.radius());
        let off = |t: f64| {
            let p = self.at(t);
            let from = p.xy() - centre;
            let plan = match from.try_normalize(radius) {
                Some(way) => from - way * radius,
                None => V2::zeros(),
            };
            V3::new(plan.x, plan.y, outside(p.z, z))
        };
        let way = self.b - self.a;
        let (mut from, mut to) = (0.0, 1.0);
        for _ in 0..60 {
            let middle = (from + to) / 2.0;
            if off(middle).dot(&way) > 0.0 { to = middle } else { from = middle }
        }
        let gap = |t: f64| {
            let v = off(t);
            RayGap { mm: v.norm(), on_ray: self.at(t), on_thing: self.at(t) - v }
        };
        nearer(nearer(gap(0.0), gap(1.0)), gap((from + to) / 2.0))
    }

    /// The shortest of the vectors `off`, which is linear from `from` to `to`.
    fn least(&self, from: f64, to: f64, off: &dyn Fn(f64) -> V3) -> RayGap {
        let (start, end) = (off(from), off(to));
        let run = end - start;
        let share = match run.norm_squared() {
            0.0 => 0.0,
            length2 => (-start.dot(&run) / length2).clamp(0.0, 1.0),
        };
        let v = start + run * share;
        let on_ray = self.at(from + (to - from) * share);
        RayGap { mm: v.norm(), on_ray, on_thing: on_ray - v }
    }

    fn touching(&self, t: f64) -> RayGap {
        RayGap { mm: 0.0, on_ray: self.at(t), on_thing: self.at(t) }
    }

    /// Where the ray crosses the plan outline.
    fn plan_stops(&self, shape: &Shape, stops: &mut Vec<f64>) {
        let (p, way) = (self.a.xy(), self.b.xy() - self.a.xy());
        let length2 = way.norm_squared();
        if length2 == 0.0 {
            return;
        }
        if shape.radius() > 0.0 {
            let centre = shape.pieces()[0][0];
            let middle = way.dot(&(centre - p)) / length2;
            let aside = (centre - (p + way * middle)).norm();
            let half = (shape.radius().powi(2) - aside * aside).max(0.0).sqrt() / length2.sqrt();
            stops.extend([middle - half, middle + half]);
            return;
        }
        for (a, b) in shape.outline().edges() {
            let edge = b - a;
            let cross = way.x * edge.y - way.y * edge.x;
            if cross != 0.0 && segment_gap(p, p + way, a, b).mm <= NOISE_MM {
                stops.push(((a.x - p.x) * edge.y - (a.y - p.y) * edge.x) / cross);
            }
        }
    }

    /// Where the ray crosses the band's ends.
    fn height_stops(&self, z: (f64, f64), stops: &mut Vec<f64>) {
        let rise = self.b.z - self.a.z;
        stops.extend([z.0, z.1].map(|level| (level - self.a.z) / rise));
    }
}

/// How far a height is above the band (positive) or below it (negative); 0 inside.
fn outside(height: f64, z: (f64, f64)) -> f64 {
    (height - z.1).max(0.0) + (height - z.0).min(0.0)
}

fn nearer(a: RayGap, b: RayGap) -> RayGap {
    if b.mm < a.mm { b } else { a }
}

/// The stretches between the stops that lie from 0 to 1.
fn spans(stops: &mut Vec<f64>) -> impl Iterator<Item = (f64, f64)> {
    stops.retain(|t| (0.0..=1.0).contains(t));
    stops.sort_by(f64::total_cmp);
    stops.windows(2).map(|w| (w[0], w[1])).filter(|(a, b)| a < b)
}

#[cfg(test)]
mod tests;
