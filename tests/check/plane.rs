//! Just enough plane geometry to compare outlines, written apart from the program's own.

use serde_json::Value;

pub(crate) type Point = (f64, f64);
type Ring = Vec<Point>;

/// Greatest distance of a corner of one set of outlines from the other set, both ways; slivers are left out.
pub(crate) fn outlines_apart(a: &Value, b: &Value) -> f64 {
    let (a, b) = (rings(a), rings(b));
    if a.is_empty() || b.is_empty() {
        return if a.is_empty() && b.is_empty() { 0.0 } else { f64::INFINITY };
    }
    one_way(&a, &b).max(one_way(&b, &a))
}

/// How deep a point lies inside the outlines; below zero outside.
pub(crate) fn depth_in(p: Point, outlines: &Value) -> f64 {
    let rings = rings(outlines);
    let depth = to_rings(p, &rings);
    if rings.iter().filter(|r| surrounds(p, r)).count() % 2 == 1 { depth } else { -depth }
}

/// Distance of a point to the nearest of some outlines.
pub(crate) fn to_rings(p: Point, rings: &[Ring]) -> f64 {
    rings.iter().flat_map(sides).map(|(a, b)| to_side(p, a, b)).fold(f64::INFINITY, f64::min)
}

/// One outline, or a list of them.
pub(crate) fn rings(value: &Value) -> Vec<Ring> {
    let point = |v: &Value| Some((v.get(0)?.as_f64()?, v.get(1)?.as_f64()?));
    let ring = |v: &Value| {
        v.as_array().map(|all| all.iter().filter_map(point).collect::<Ring>()).unwrap_or_default()
    };
    let single = value.get(0).is_some_and(|first| point(first).is_some());
    let all =
        if single { vec![ring(value)] } else { value.as_array().into_iter().flatten().map(ring).collect() };
    all.into_iter().filter(|r| r.len() >= 3 && area(r) > 1.0).collect()
}

fn one_way(from: &[Ring], to: &[Ring]) -> f64 {
    from.iter().flatten().map(|p| to_rings(*p, to)).fold(0.0, f64::max)
}

fn sides(ring: &Ring) -> impl Iterator<Item = (Point, Point)> {
    (0..ring.len()).map(|i| (ring[i], ring[(i + 1) % ring.len()]))
}

fn to_side(p: Point, a: Point, b: Point) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let square = dx * dx + dy * dy;
    let along =
        if square > 0.0 { (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / square).clamp(0.0, 1.0) } else { 0.0 };
    (p.0 - a.0 - along * dx).hypot(p.1 - a.1 - along * dy)
}

fn surrounds(p: Point, ring: &Ring) -> bool {
    let crosses = |(a, b): &(Point, Point)| {
        (a.1 > p.1) != (b.1 > p.1) && p.0 < a.0 + (p.1 - a.1) / (b.1 - a.1) * (b.0 - a.0)
    };
    sides(ring).filter(crosses).count() % 2 == 1
}

fn area(ring: &Ring) -> f64 {
    sides(ring).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>().abs() / 2.0
}
