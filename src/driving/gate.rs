//! The doorway a vehicle is driven in by, and the ground before it.
//!
//! Assumed outside: the apron, where one is drawn, and a strip as wide as the doorway, square to its wall and as long
//! as it takes. Nothing beside them is taken to be free. The side of an apron that lies across the strip is open: the
//! vehicle comes over it. Walls are thin: they stand at the inside faces the bay file gives.

use std::sync::Arc;

use crate::geometry::{P2, Polygon, V2, cross, rotate};
use crate::model::Bundle;
use crate::model::bay::Doorway;

/// A straight edge between two points.
type Stretch = (P2, P2);

#[derive(Clone, Debug)]
pub struct Gate {
    /// The doorway's number.
    pub door: usize,
    pub name: Arc<str>,
    /// Ends of the opening, left and right for someone looking in.
    pub a: P2,
    pub b: P2,
    pub width: f64,
    pub height: f64,
    pub middle: P2,
    /// Unit, out of the bay.
    pub out: V2,
    pub apron: Option<Polygon>,
}

impl Gate {
    /// The doorway the job enters by: the one it names, else the first listed. `None`: the bay lists none, or its side
    /// has no length.
    pub fn of(bundle: &Bundle) -> Option<Gate> {
        let doorways = &bundle.bay.doorways;
        let at = match &bundle.job.enter_by {
            Some(name) => doorways.iter().position(|d| d.name == *name)?,
            None => 0,
        };
        let door: &Doorway = doorways.get(at)?;
        let (p, q) = bundle.bay.floor.side(door.side.index)?;
        let (p, q) = (P2::new(p.0, p.1), P2::new(q.0, q.1));
        let way = (q - p).try_normalize(0.0)?;
        let length = (q - p).norm();
        let (from, to) = (door.from.clamp(0.0, length), (door.from + door.width).clamp(0.0, length));
        let anticlockwise = crate::geometry::twice_area(
            &bundle.bay.floor.points.iter().map(|p| P2::new(p.0, p.1)).collect::<Vec<_>>(),
        ) > 0.0;
        let out = if anticlockwise { V2::new(way.y, -way.x) } else { V2::new(-way.y, way.x) };
        let (mut a, mut b) = (p + way * from, p + way * to);
        if cross(b - a, out) > 0.0 {
            (a, b) = (b, a);
        }
        Some(Gate {
            door: at,
            name: door.name.text.clone(),
            a,
            b,
            width: to - from,
            height: door.height,
            middle: nalgebra::center(&a, &b),
            out,
            apron: door.apron.as_ref().map(|o| o.0.clone()),
        })
    }

    /// How far outside the wall's line, mm; negative inside.
    pub fn outside(&self, p: P2) -> f64 {
        self.out.dot(&(p - self.middle))
    }

    /// From the opening's middle line, positive to the right of someone looking in.
    pub fn beside(&self, p: P2) -> f64 {
        rotate(self.out, std::f64::consts::FRAC_PI_2).dot(&(p - self.middle))
    }

    /// The point so far outside and beside.
    pub fn point(&self, outside: f64, beside: f64) -> P2 {
        self.middle + self.out * outside + rotate(self.out, std::f64::consts::FRAC_PI_2) * beside
    }

    /// Whether the point lies in the strip before the doorway.
    pub fn in_strip(&self, p: P2) -> bool {
        self.outside(p) > -1.0 && self.beside(p).abs() < self.width / 2.0 - 1e-3
    }

    /// The parts of an edge that do not run through the strip, `far` long.
    pub fn beside_strip(&self, edge: (P2, P2), far: f64) -> Vec<(P2, P2)> {
        outside_parts(edge, &self.sides(far), &|p| self.in_strip(p))
    }

    fn sides(&self, far: f64) -> [(P2, P2); 2] {
        [(self.a, self.a + self.out * far), (self.b, self.b + self.out * far)]
    }

    /// The edges of the ground before the door, of a strip `far` long: of the apron and of the strip.
    pub fn edges(&self, far: f64) -> (Vec<Stretch>, Vec<Stretch>) {
        let sides = self.sides(far);
        let Some(apron) = &self.apron else {
            return (Vec::new(), sides.to_vec());
        };
        // of an apron only what lies outside the wall counts
        let in_strip = |p: P2| self.outside(p) < -1.0 || self.in_strip(p);
        let on_outline =
            |p: P2| apron.edges().any(|(a, b)| crate::geometry::segment_gap(p, p, a, b).mm < 1e-3);
        let in_apron = |p: P2| apron.contains(p) && !on_outline(p);
        let of_apron = apron.edges().flat_map(|e| outside_parts(e, &sides, &in_strip)).collect();
        let outline: Vec<(P2, P2)> = apron.edges().collect();
        let of_strip = sides.iter().flat_map(|e| outside_parts(*e, &outline, &in_apron)).collect();
        (of_apron, of_strip)
    }
}

/// The parts of an edge that do not run inside an area, cut where it meets the area's edges.
fn outside_parts(edge: (P2, P2), area: &[(P2, P2)], inside: &dyn Fn(P2) -> bool) -> Vec<(P2, P2)> {
    let (p, q) = edge;
    let d = q - p;
    let mut cuts = vec![0.0, 1.0];
    for (a, b) in area {
        let e = b - a;
        let sine = cross(d, e);
        if sine.abs() > 1e-9 * d.norm() * e.norm() {
            let t = cross(a - p, e) / sine;
            let u = cross(a - p, d) / sine;
            if t > 0.0 && t < 1.0 && (-1e-9..=1.0 + 1e-9).contains(&u) {
                cuts.push(t);
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    let at = |t: f64| p + d * t;
    cuts.windows(2)
        .filter(|w| (w[1] - w[0]) * d.norm() > 1e-3 && !inside(at((w[0] + w[1]) / 2.0)))
        .map(|w| (at(w[0]), at(w[1])))
        .collect()
}
