//! Cutting convex polygons by lines and by each other.

use super::{Bounds, NOISE_MM, P2, V2};

/// The parts of the convex `ring` outside all of the convex `holes`, each convex, without area in common. Parts that
/// reach no further than noise beyond a hole are left out; what a hole does not reach stays whole.
pub(super) fn outside_all(ring: Vec<P2>, holes: &[Vec<P2>]) -> Vec<Vec<P2>> {
    let mut parts = vec![(Bounds::of(&ring), ring)];
    for hole in holes {
        let about = Bounds::of(hole);
        let meets = |(bounds, part): &(Bounds, Vec<P2>)| {
            bounds.distance(&about) <= 0.0 && !beyond_a_side(part, hole) && !beyond_a_side(hole, part)
        };
        let Some(first) = parts.iter().position(meets) else { continue };
        let rest = parts.split_off(first);
        for part in rest {
            if meets(&part) {
                parts.extend(outside(part.1, hole).into_iter().map(|p| (Bounds::of(&p), p)));
            } else {
                parts.push(part);
            }
        }
    }
    parts.into_iter().map(|(_, part)| part).collect()
}

/// The parts of a convex ring outside a hole that reaches into it.
fn outside(ring: Vec<P2>, hole: &[P2]) -> Vec<Vec<P2>> {
    let mut parts = Vec::new();
    let mut rest = ring;
    for (a, b) in hole.iter().zip(hole.iter().cycle().skip(1)) {
        let Some(n) = V2::new(b.y - a.y, a.x - b.x).try_normalize(0.0) else { continue };
        if rest.iter().all(|p| n.dot(&(p - a)) <= NOISE_MM) {
            continue;
        }
        let (inner, outer) = cut(&rest, *a, n);
        parts.extend(outer);
        match inner {
            Some(r) => rest = r,
            None => break,
        }
    }
    parts
}

/// Does the anticlockwise `ring` lie within noise beyond a side of `of`?
fn beyond_a_side(ring: &[P2], of: &[P2]) -> bool {
    of.iter().zip(of.iter().cycle().skip(1)).any(|(a, b)| {
        let out = V2::new(b.y - a.y, a.x - b.x);
        let noise = -NOISE_MM * out.norm();
        noise < 0.0 && ring.iter().all(|p| out.dot(&(p - a)) >= noise)
    })
}

/// The part that two convex rings, anticlockwise, have in common; empty where it has no area.
pub fn convex_meet(a: &[P2], b: &[P2]) -> Vec<P2> {
    let ends = b.iter().zip(b.iter().cycle().skip(1));
    let sides = ends.filter_map(|(p, q)| Some((*p, V2::new(q.y - p.y, p.x - q.x).try_normalize(0.0)?)));
    let start = if a.len() < 3 || b.len() < 3 { Vec::new() } else { a.to_vec() };
    sides.fold(
        start,
        |rest, (at, out)| if rest.is_empty() { rest } else { cut(&rest, at, out).0.unwrap_or_default() },
    )
}

/// The part of the convex ring behind the line through `at` with normal `n` (length 1), and the part beyond it.
/// A part within noise of the line is no part.
pub fn cut(ring: &[P2], at: P2, n: V2) -> (Option<Vec<P2>>, Option<Vec<P2>>) {
    let height: Vec<f64> = ring.iter().map(|p| n.dot(&(p - at))).collect();
    if height.iter().all(|h| *h <= NOISE_MM) {
        return (Some(ring.to_vec()), None);
    }
    if height.iter().all(|h| *h >= -NOISE_MM) {
        return (None, Some(ring.to_vec()));
    }
    let (mut inner, mut outer) = (Vec::new(), Vec::new());
    for i in 0..ring.len() {
        let j = (i + 1) % ring.len();
        let (p, q, hp, hq) = (ring[i], ring[j], height[i], height[j]);
        if hp <= 0.0 {
            inner.push(p);
        }
        if hp >= 0.0 {
            outer.push(p);
        }
        if hp * hq < 0.0 {
            let crossing = p + (q - p) * (hp / (hp - hq));
            inner.push(crossing);
            outer.push(crossing);
        }
    }
    (Some(inner), Some(outer))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::twice_area;

    fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<P2> {
        vec![P2::new(x0, y0), P2::new(x1, y0), P2::new(x1, y1), P2::new(x0, y1)]
    }

    fn area(parts: &[Vec<P2>]) -> f64 {
        parts.iter().map(|p| twice_area(p) / 2.0).sum()
    }

    #[test]
    fn what_two_squares_share() {
        let square = rect(0.0, 0.0, 10.0, 10.0);
        assert_eq!(area(&[convex_meet(&square, &rect(4.0, -3.0, 16.0, 6.0))]), 36.0);
        assert_eq!(area(&[convex_meet(&rect(2.0, 3.0, 4.0, 6.0), &square)]), 6.0);
        assert!(convex_meet(&square, &rect(10.0, 0.0, 12.0, 5.0)).is_empty());
        assert!(convex_meet(&square, &rect(11.0, 0.0, 12.0, 5.0)).is_empty());
    }

    #[test]
    fn what_is_left_of_a_square() {
        let square = rect(0.0, 0.0, 10.0, 10.0);
        let outside = |hole: Vec<P2>| outside_all(square.clone(), &[hole]);
        assert_eq!(area(&outside(rect(4.0, 4.0, 6.0, 6.0))), 96.0);
        assert_eq!(area(&outside(rect(5.0, -1.0, 12.0, 5.0))), 75.0);
        assert_eq!(outside(rect(10.0, 0.0, 12.0, 5.0)), vec![square.clone()]);
        assert!(outside(rect(0.0, 0.0, 10.0, 10.0)).is_empty());
        assert!(outside(rect(-1.0, -1.0, 10.0 - 1e-7, 11.0)).is_empty());
        // aslant beside a corner: the boxes meet, the areas do not
        let aslant = vec![P2::new(9.0, 13.0), P2::new(13.0, 9.0), P2::new(13.0, 13.0)];
        assert_eq!(outside(aslant), vec![square.clone()]);
        let halves = [rect(0.0, 0.0, 5.0, 10.0), rect(5.0, 0.0, 10.0, 9.0)];
        assert_eq!(area(&outside_all(square, &halves)), 5.0);
    }
}
