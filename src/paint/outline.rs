//! Small helpers on page outlines.

use super::labels::PageBox;

/// The part of a segment inside the box, as fractions of its length.
pub(super) fn clip(a: [f32; 2], b: [f32; 2], within: &PageBox) -> Option<(f32, f32)> {
    let (mut from, mut to) = (0.0f32, 1.0f32);
    for k in 0..2 {
        let d = b[k] - a[k];
        let (lo, hi) = (within.min[k] - a[k], within.max[k] - a[k]);
        if d.abs() < 1e-9 {
            if lo > 0.0 || hi < 0.0 {
                return None;
            }
            continue;
        }
        let (s, t) = if d > 0.0 { (lo / d, hi / d) } else { (hi / d, lo / d) };
        from = from.max(s);
        to = to.min(t);
    }
    (from < to).then_some((from, to))
}

/// The point at this fraction of the way.
pub(super) fn between(a: [f32; 2], b: [f32; 2], at: f32) -> [f32; 2] {
    [a[0] + (b[0] - a[0]) * at, a[1] + (b[1] - a[1]) * at]
}

/// Distance of a point from a segment.
pub(super) fn to_segment(p: [f32; 2], a: [f32; 2], b: [f32; 2]) -> f32 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let square = dx * dx + dy * dy;
    let along =
        if square > 0.0 { (((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square).clamp(0.0, 1.0) } else { 0.0 };
    let near = between(a, b, along);
    (p[0] - near[0]).hypot(p[1] - near[1])
}

/// Is the point inside the ring, even-odd?
pub(super) fn inside(p: [f32; 2], ring: &[[f32; 2]]) -> bool {
    let mut inside = false;
    for (i, b) in ring.iter().enumerate() {
        let a = ring[(i + ring.len() - 1) % ring.len()];
        if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) {
            inside = !inside;
        }
    }
    inside
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clipping_and_distance() {
        let square = [[0.0, 0.0], [9.0, 0.0], [9.0, 9.0], [0.0, 9.0]];
        let page = PageBox::new([0.0, 0.0], [10.0, 10.0]);
        assert_eq!(clip([-10.0, 5.0], [10.0, 5.0], &page), Some((0.5, 1.0)));
        assert_eq!(clip([-10.0, 15.0], [10.0, 15.0], &page), None);
        assert_eq!(to_segment([3.0, 4.0], [0.0, 0.0], [0.0, 0.0]), 5.0);
        assert_eq!(to_segment([3.0, 4.0], [0.0, 0.0], [9.0, 0.0]), 4.0);
        assert!(inside([1.0, 1.0], &square) && !inside([10.0, 1.0], &square));
    }
}
