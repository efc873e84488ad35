//! Convex polygons: signed distance with its two nearest points, and distances of segments.
//!
//! A piece is a convex ring, anticlockwise; one point, or two for a segment, are pieces too.
//! Overlap is found along the normals of the sides (separating axes); the least overlap along any of them
//! is the shortest shift that parts two convex pieces, since those normals are the normals of their
//! Minkowski difference.

use super::{Gap, P2, V2, cross};

/// What is nearer than this is measured as touching: the direction between the two nearest points would be noise.
const TOUCH_MM: f64 = 1e-9;

/// The gap between segments a-b and c-d: their distance and nearest points, 0 where they cross.
/// A segment may be a single point.
pub fn segment_gap(a: P2, b: P2, c: P2, d: P2) -> Gap {
    let (u, v) = (b - a, d - c);
    let (c_side, d_side) = (cross(u, c - a), cross(u, d - a));
    let (a_side, b_side) = (cross(v, a - c), cross(v, b - c));
    if c_side * d_side < 0.0 && a_side * b_side < 0.0 {
        let p = c + v * (c_side / (c_side - d_side));
        return Gap { mm: 0.0, a: p, b: p };
    }
    let pairs = [(a, foot(a, c, d)), (b, foot(b, c, d)), (foot(c, a, b), c), (foot(d, a, b), d)];
    let mut best = pairs[0];
    for p in pairs {
        if (p.1 - p.0).norm_squared() < (best.1 - best.0).norm_squared() {
            best = p;
        }
    }
    Gap { mm: (best.1 - best.0).norm(), a: best.0, b: best.1 }
}

/// The gap between two convex pieces grown by the radii `ra` and `rb`.
pub(crate) fn convex_gap(a: &[P2], b: &[P2], ra: f64, rb: f64) -> Gap {
    grown(contact(a, b, false), ra, rb)
}

/// The same of pieces known to be apart by more than a thousandth of a millimetre.
pub(super) fn apart_gap(a: &[P2], b: &[P2], ra: f64, rb: f64) -> Gap {
    grown(contact(a, b, true), ra, rb)
}

fn grown(c: Contact, ra: f64, rb: f64) -> Gap {
    Gap { mm: c.mm - ra - rb, a: c.a + c.toward * ra, b: c.b - c.toward * rb }
}

/// The point of the segment a-b nearest to `p`.
pub(super) fn foot(p: P2, a: P2, b: P2) -> P2 {
    let d = b - a;
    let along = d.dot(&(p - a));
    let length2 = d.norm_squared();
    if along <= 0.0 {
        a
    } else if along >= length2 {
        b
    } else {
        a + d * (along / length2)
    }
}

/// Signed distance of two pieces without radius, the points where they touch when brought together, and the
/// direction from A to B. Always b = a + toward * mm.
struct Contact {
    mm: f64,
    a: P2,
    b: P2,
    toward: V2,
}

fn contact(a: &[P2], b: &[P2], apart: bool) -> Contact {
    let flat = a.len() < 3 && b.len() < 3;
    if flat || apart || parted(a, b) || parted(b, a) {
        let (p, q) = nearest(a, b, flat);
        let mm = (q - p).norm();
        if mm > TOUCH_MM {
            return Contact { mm, a: p, b: q, toward: (q - p) / mm };
        }
        if flat && a.len() + b.len() < 4 {
            // A point on a point or on a segment: any way that leaves the segment at once will do.
            let along = if a.len() == 2 { a[1] - a[0] } else { b[b.len() - 1] - b[0] };
            let toward = V2::new(-along.y, along.x).try_normalize(0.0).unwrap_or(V2::x());
            return Contact { mm: 0.0, a: p, b: p, toward };
        }
    }
    overlap(a, b)
}

/// Does a side of `a` have all of `b` beyond it?
fn parted(a: &[P2], b: &[P2]) -> bool {
    sides(a).any(|(p, q)| {
        let n = outward(p, q);
        let least = b.iter().map(|v| n.dot(&(v - p))).fold(f64::INFINITY, f64::min);
        least > 0.0 && least * least > TOUCH_MM * TOUCH_MM * n.norm_squared()
    })
}

/// The nearest points of two pieces that do not overlap. Of the sides only those facing the other piece count.
fn nearest(a: &[P2], b: &[P2], flat: bool) -> (P2, P2) {
    if flat {
        let g = segment_gap(a[0], a[a.len() - 1], b[0], b[b.len() - 1]);
        return (g.a, g.b);
    }
    let mut best = (f64::INFINITY, a[0], b[0]);
    for (p, q) in sides(a) {
        let n = outward(p, q);
        for v in b.iter().filter(|v| n.dot(&(*v - p)) > 0.0) {
            let f = foot(*v, p, q);
            let d2 = (v - f).norm_squared();
            if d2 < best.0 {
                best = (d2, f, *v);
            }
        }
    }
    for (p, q) in sides(b) {
        let n = outward(p, q);
        for v in a.iter().filter(|v| n.dot(&(*v - p)) > 0.0) {
            let f = foot(*v, p, q);
            let d2 = (v - f).norm_squared();
            if d2 < best.0 {
                best = (d2, *v, f);
            }
        }
    }
    (best.1, best.2)
}

/// The shortest shift that parts two overlapping pieces, as a contact with negative distance.
fn overlap(a: &[P2], b: &[P2]) -> Contact {
    let mut mm = f64::NEG_INFINITY;
    let mut toward = V2::x();
    for (ring, other, sign) in [(a, b, 1.0), (b, a, -1.0)] {
        for (p, q) in sides(ring) {
            let n = outward(p, q);
            let length = n.norm();
            if length == 0.0 {
                continue;
            }
            let least = other.iter().map(|v| n.dot(&(v - p))).fold(f64::INFINITY, f64::min) / length;
            if least > mm {
                mm = least;
                toward = n * (sign / length);
            }
        }
    }
    // The two faces that meet after the shift, as intervals along it; they meet in the middle of what they share.
    let (front_a, low_a, high_a) = face(a, toward);
    let (front_b, low_b, high_b) = face(b, -toward);
    let (low_b, high_b) = (-high_b, -low_b);
    let aside = (low_a.max(low_b) + high_a.min(high_b)) / 2.0;
    let left = V2::new(-toward.y, toward.x);
    let point = |front: f64| P2::from(toward * front + left * aside);
    Contact { mm: -front_b - front_a, a: point(front_a), b: point(-front_b), toward }
}

/// How far the piece reaches along `n`, and the interval, measured to the left of `n`, of its foremost points.
fn face(piece: &[P2], n: V2) -> (f64, f64, f64) {
    let front = piece.iter().map(|p| n.dot(&p.coords)).fold(f64::NEG_INFINITY, f64::max);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for p in piece.iter().filter(|p| n.dot(&p.coords) >= front - super::NOISE_MM) {
        let aside = cross(n, p.coords);
        low = low.min(aside);
        high = high.max(aside);
    }
    (front, low, high)
}

/// The sides of a piece; a point has none, a segment has one each way.
fn sides(ring: &[P2]) -> impl Iterator<Item = (P2, P2)> + '_ {
    let n = ring.len();
    let last = if n > 1 { ring[n - 1] } else { P2::origin() };
    ring[..if n > 1 { n } else { 0 }].iter().scan(last, |before, p| {
        let side = (*before, *p);
        *before = *p;
        Some(side)
    })
}

/// The normal of a side of an anticlockwise ring, as long as the side.
fn outward(p: P2, q: P2) -> V2 {
    V2::new(q.y - p.y, p.x - q.x)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn segments() {
        let p = P2::new;
        assert_eq!(segment_gap(p(0.0, 0.0), p(4.0, 0.0), p(2.0, -1.0), p(2.0, 1.0)).mm, 0.0);
        assert_eq!(segment_gap(p(0.0, 0.0), p(4.0, 0.0), p(7.0, 4.0), p(9.0, 9.0)).mm, 5.0);
        assert_eq!(segment_gap(p(0.0, 0.0), p(4.0, 0.0), p(5.0, 0.0), p(9.0, 0.0)).mm, 1.0);
        assert_eq!(segment_gap(p(0.0, 0.0), p(4.0, 0.0), p(1.0, 0.0), p(2.0, 0.0)).mm, 0.0);
        assert_eq!(segment_gap(p(0.0, 0.0), p(0.0, 0.0), p(3.0, 4.0), p(3.0, 4.0)).mm, 5.0);
        let g = segment_gap(p(0.0, 0.0), p(4.0, 0.0), p(3.0, 2.0), p(3.0, 5.0));
        assert_eq!((g.a, g.b), (p(3.0, 0.0), p(3.0, 2.0)));
    }
}
