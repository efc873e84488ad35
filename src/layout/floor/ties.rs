//! Spots on one circle can be joined in more than one way: the rule that makes it one.

use std::collections::BTreeMap;

use crate::geometry::{NOISE_MM, P2, P3};

use super::twice_area;

/// The same triangles, but with the diagonal from the first spot wherever four lie on one circle. The spots are
/// sorted by x, then y, so the first of four is the one with the lowest index. Every exchange gives the lowest spots
/// more sides, so it comes to an end, and for spots on one circle the end is the fan from the lowest.
pub(super) fn settle(spots: &[P3], mut triangles: Vec<[usize; 3]>) -> Vec<[usize; 3]> {
    let mut owner: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for (t, c) in triangles.iter().enumerate() {
        sides(*c).for_each(|side| {
            owner.insert(side, t);
        });
    }
    let mut open: Vec<(usize, usize)> = owner.keys().copied().filter(|(a, b)| a < b).collect();
    while let Some((a, b)) = open.pop() {
        let (Some(&left), Some(&right)) = (owner.get(&(a, b)), owner.get(&(b, a))) else { continue };
        let (c, d) = (apex(triangles[left], a, b), apex(triangles[right], a, b));
        if a.min(b) < c.min(d) || !on_one_circle(spots, [a, d, b, c], NOISE_MM) {
            continue;
        }
        // a-d-b-c runs anticlockwise: the diagonal a-b becomes d-c
        owner.remove(&(a, b));
        owner.remove(&(b, a));
        triangles[left] = [a, d, c];
        triangles[right] = [d, b, c];
        for t in [left, right] {
            sides(triangles[t]).for_each(|side| {
                owner.insert(side, t);
            });
        }
        open.extend([(a, d), (d, b), (b, c), (c, a)].map(|(p, q)| (p.min(q), p.max(q))));
    }
    for t in &mut triangles {
        let first = (0..3).min_by_key(|i| t[*i]).unwrap_or(0);
        t.rotate_left(first);
    }
    triangles.sort_unstable();
    triangles
}

fn sides(t: [usize; 3]) -> impl Iterator<Item = (usize, usize)> {
    (0..3).map(move |i| (t[i], t[(i + 1) % 3]))
}

/// The corner that is neither `a` nor `b`.
pub(super) fn apex(t: [usize; 3], a: usize, b: usize) -> usize {
    t.into_iter().find(|i| *i != a && *i != b).unwrap_or(a)
}

/// Four spots, anticlockwise, on one circle within so many mm, with a corner at each.
pub(super) fn on_one_circle(spots: &[P3], ring: [usize; 4], within: f64) -> bool {
    let p = ring.map(|i| spots[i].xy());
    let turns = |i: usize| {
        let (a, b, c) = (p[i], p[(i + 1) % 4], p[(i + 2) % 4]);
        twice_area(a, b, c) > NOISE_MM * (c - a).norm()
    };
    let Some((centre, radius)) = circle(p[0], p[1], p[2]).filter(|_| (0..4).all(turns)) else {
        return false;
    };
    ((p[3] - centre).norm() - radius).abs() <= within
}

fn circle(a: P2, b: P2, c: P2) -> Option<(P2, f64)> {
    let (u, v) = (b - a, c - a);
    let cross = 2.0 * u.perp(&v);
    if cross == 0.0 {
        return None;
    }
    let (uu, vv) = (u.norm_squared(), v.norm_squared());
    let to = nalgebra::Vector2::new(v.y * uu - u.y * vv, u.x * vv - v.x * uu) / cross;
    Some((a + to, to.norm()))
}
