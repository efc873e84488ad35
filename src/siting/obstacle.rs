//! What the vehicle's origin must keep off at one heading: a convex polygon grown by a radius.

use crate::geometry::{Bounds, P2, V2};

/// One side of an obstacle's polygon, anticlockwise: where it starts, its outward normal (length 1) and its length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    pub at: P2,
    pub out: V2,
    pub length: f64,
}

impl Side {
    /// The way along the side.
    fn way(&self) -> V2 {
        V2::new(-self.out.y, self.out.x)
    }
}

/// A convex polygon grown by `radius`, without its edge: a pose on the edge is allowed. The polygon may be a point
/// or a segment; where it is and the radius is 0, nothing is forbidden.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    /// Its sides stand at this place in the list of all sides.
    first: u32,
    count: u32,
    pub radius: f64,
    /// The box about the grown polygon.
    pub bounds: Bounds,
    /// Which pair of things forbids it: an index into the space's holds.
    pub hold: u32,
    /// Which still piece makes it: an index into the stage's pieces.
    pub still: u32,
}

/// The sides of all obstacles of one heading, in one list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sides(Vec<Side>);

impl Sides {
    /// Adds a convex ring (anticlockwise, a point or a segment too) as an obstacle.
    pub fn obstacle(&mut self, ring: &[P2], radius: f64, hold: u32, still: u32) -> Obstacle {
        let first = self.0.len();
        for (i, at) in ring.iter().enumerate() {
            let to = ring[(i + 1) % ring.len()];
            let length = (to - at).norm();
            if length > 0.0 {
                self.0.push(Side { at: *at, out: V2::new(to.y - at.y, at.x - to.x) / length, length });
            }
        }
        if self.0.len() == first {
            self.0.extend(ring.first().map(|at| Side { at: *at, out: V2::zeros(), length: 0.0 }));
        }
        Obstacle {
            first: first as u32,
            count: (self.0.len() - first) as u32,
            radius,
            bounds: Bounds::of(ring).grow(radius),
            hold,
            still,
        }
    }

    /// The corners of the obstacle's polygon, each with the side that starts there.
    pub fn of(&self, o: &Obstacle) -> &[Side] {
        let first = o.first as usize;
        &self.0[first..first + o.count as usize]
    }

    /// The signed distance of `p` to the obstacle, negative inside, and the way out. A convex function of `p`.
    pub fn signed(&self, o: &Obstacle, p: P2) -> (f64, V2) {
        let sides = self.of(o);
        let mut top = f64::NEG_INFINITY;
        let mut k = 0;
        for (i, s) in sides.iter().enumerate() {
            let h = s.out.dot(&(p - s.at));
            if h > top {
                top = h;
                k = i;
            }
        }
        let n = sides.len();
        if n > 1 && top <= 0.0 {
            return (top - o.radius, sides[k].out);
        }
        // The farthest side either faces the point, or the nearest point is a corner.
        let along = sides[k].way().dot(&(p - sides[k].at));
        let corner = if n == 1 {
            sides[0].at
        } else if along < 0.0 {
            let mut j = k;
            for _ in 0..n {
                let before = (j + n - 1) % n;
                let s = &sides[before];
                let along = s.way().dot(&(p - s.at));
                if along >= s.length {
                    break;
                }
                if along >= 0.0 {
                    // goes on from side k in the same line
                    return (s.out.dot(&(p - s.at)) - o.radius, s.out);
                }
                j = before;
            }
            sides[j].at
        } else if along > sides[k].length {
            let mut j = (k + 1) % n;
            for _ in 0..n {
                let s = &sides[j];
                let along = s.way().dot(&(p - s.at));
                if along <= 0.0 {
                    break;
                }
                if along <= s.length {
                    return (s.out.dot(&(p - s.at)) - o.radius, s.out);
                }
                j = (j + 1) % n;
            }
            sides[j].at
        } else {
            return (top - o.radius, sides[k].out);
        };
        let away = p - corner;
        let mm = away.norm();
        (mm - o.radius, if mm > 0.0 { away / mm } else { V2::x() })
    }

    /// Where the line of points at `aside` (measured along the left of `along`) runs inside the closed obstacle:
    /// from, to, measured along `along`.
    pub fn chord(&self, o: &Obstacle, along: V2, aside: f64) -> Option<(f64, f64)> {
        let left = V2::new(-along.y, along.x);
        let r = o.radius;
        let (mut from, mut to) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut take = |l: f64| {
            from = from.min(l);
            to = to.max(l);
        };
        let sides = self.of(o);
        for (i, s) in sides.iter().enumerate() {
            let (l, t) = (along.dot(&s.at.coords), left.dot(&s.at.coords));
            let off = aside - t;
            if off.abs() <= r {
                let half = ((r - off) * (r + off)).sqrt();
                take(l - half);
                take(l + half);
            }
            if sides.len() == 1 {
                break;
            }
            let next = sides[(i + 1) % sides.len()].at;
            let a = s.at + s.out * r;
            let b = next + s.out * r;
            let (ta, tb) = (left.dot(&a.coords) - aside, left.dot(&b.coords) - aside);
            if ta * tb <= 0.0 {
                let (la, lb) = (along.dot(&a.coords), along.dot(&b.coords));
                if ta == tb {
                    take(la);
                    take(lb);
                } else {
                    take(la + (lb - la) * (ta / (ta - tb)));
                }
            }
        }
        (from <= to).then_some((from, to))
    }

    /// The grown polygon, its arcs replaced by chords about them that reach no more than `tolerance` too far. Arcs
    /// that do not come near `within` get one chord each.
    pub fn outline(&self, o: &Obstacle, tolerance: f64, within: &Bounds) -> Vec<P2> {
        let sides = self.of(o);
        let r = o.radius;
        if r <= 0.0 {
            return sides.iter().map(|s| s.at).collect();
        }
        let widest = 2.0 * (r / (r + tolerance)).acos();
        let mut ring = Vec::new();
        for (i, s) in sides.iter().enumerate() {
            let (from, turn) = if sides.len() == 1 {
                (V2::x(), std::f64::consts::TAU)
            } else {
                let before = sides[(i + sides.len() - 1) % sides.len()].out;
                let turn = (before.x * s.out.y - before.y * s.out.x).atan2(before.dot(&s.out));
                (before, if turn < -1e-9 { turn + std::f64::consts::TAU } else { turn.max(0.0) })
            };
            ring.push(s.at + from * r);
            let disc = Bounds::of([s.at]).grow(r + tolerance);
            let steps = if disc.distance(within) > 0.0 { 1.0 } else { (turn / widest).ceil() };
            if steps > 0.0 && turn > 1e-9 {
                let steps = steps.max((turn / 2.0).ceil());
                let step = turn / steps;
                let far = r / (step / 2.0).cos();
                for k in 0..steps as usize {
                    ring.push(s.at + crate::geometry::rotate(from, (k as f64 + 0.5) * step) * far);
                }
            }
            if sides.len() > 1 {
                ring.push(s.at + s.out * r);
            }
        }
        ring.dedup_by(|a, b| (*a - *b).norm() <= 1e-9);
        ring
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::rotate;

    #[test]
    fn a_side_in_two_pieces_is_one_side() {
        // a strip of 1000 by 10 turned by any angle, one of its long sides in pieces of 7 and 993: the foot of a point
        // beside it, 1 to 500 away, is on it
        for turn in (1..90).map(|deg| f64::from(deg).to_radians()) {
            for split in [7.0, 993.0] {
                let ring = [(0.0, 0.0), (split, 0.0), (1000.0, 0.0), (1000.0, 10.0), (0.0, 10.0)]
                    .map(|(x, y)| P2::from(rotate(V2::new(x, y), turn)));
                let mut sides = Sides::default();
                let o = sides.obstacle(&ring, 0.0, 0, 0);
                for (x, off) in [(3.0, 1.0), (500.0, 500.0), (500.0, 20.0), (996.0, 1.0)] {
                    let p = P2::from(rotate(V2::new(x, -off), turn));
                    let (mm, _) = sides.signed(&o, p);
                    assert!((mm - off).abs() < 1e-9, "{turn} {split} {x} {off}: {mm}");
                }
            }
        }
    }
}
