//! The floor in bands of height: a scale of round steps, and the area each band takes.

use crate::geometry::{P2, P3, Patch, union_within};

use super::FloorField;

/// How many bands lie on either side of a scale's middle.
pub(super) const BANDS: i32 = 4;

/// Eight bands of one round step about a middle, four below and four above.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Height of one band, mm: 1, 2, 2.5 or 5 times a power of ten of the unit asked for.
    pub step: f64,
    /// mm above the survey's datum: the datum itself where the floor lies about it, else a whole multiple of the step.
    pub middle: f64,
}

impl Scale {
    /// The heights between bands, lowest first; the first and the last are the scale's ends.
    pub fn edges(&self) -> impl Iterator<Item = f64> + use<> {
        let Scale { step, middle } = *self;
        (-BANDS..=BANDS).map(move |n| middle + f64::from(n) * step)
    }
}

impl FloorField {
    /// The finest scale that holds every spot, in steps of at least `finest` units of `unit` mm; `None` without spots.
    pub fn scale(&self, unit: f64, finest: f64) -> Option<Scale> {
        let (lo, hi) = self.range()?;
        let half = f64::from(BANDS);
        let about_datum = lo <= 0.0 && hi >= 0.0;
        let most = if about_datum { hi.max(-lo) } else { (hi - lo) / 2.0 };
        let mut power = 10f64.powf((most / half / unit).max(finest).log10().floor());
        loop {
            for step in [1.0, 2.0, 2.5, 5.0].map(|n| n * power * unit) {
                let middle = if about_datum { 0.0 } else { ((lo + hi) / 2.0 / step).round() * step };
                let holds = (hi - middle).max(middle - lo) <= half * step * (1.0 + 1e-9);
                if holds && step >= finest * unit * (1.0 - 1e-9) {
                    return Some(Scale { step, middle });
                }
            }
            power *= 10.0;
        }
    }

    /// The area of each of a scale's bands inside an outline, lowest band first. What is exactly as high as an edge
    /// belongs to the band above it.
    pub fn bands(&self, scale: &Scale, inside: &[P2]) -> Vec<Vec<Patch>> {
        let edges: Vec<f64> = scale.edges().collect();
        let last = edges.len() - 2;
        let band = |i: usize| {
            let lo = if i == 0 { f64::NEG_INFINITY } else { edges[i] };
            let hi = if i == last { f64::INFINITY } else { edges[i + 1] };
            let pieces: Vec<Vec<P2>> = self.triangles().map(|t| slice(&t, lo, hi)).collect();
            union_within(&pieces, inside)
        };
        (0..=last).map(band).collect()
    }
}

/// The part of a triangle from height `lo` up to `hi`, in plan; empty where it has no area.
pub fn slice(triangle: &[P3; 3], lo: f64, hi: f64) -> Vec<P2> {
    let flat = triangle[0].z == triangle[1].z && triangle[1].z == triangle[2].z;
    if flat && !(lo <= triangle[0].z && triangle[0].z < hi) {
        return Vec::new();
    }
    let above = half(triangle, |p| p.z - lo);
    let between = half(&above, |p| hi - p.z);
    let lowest = between.iter().map(|p| p.z).fold(f64::INFINITY, f64::min);
    // one that only touches the upper edge has no area
    if between.len() < 3 || lowest >= hi { Vec::new() } else { between.iter().map(|p| p.xy()).collect() }
}

/// The part of a convex ring where `off`, linear over it, is not below 0.
fn half(ring: &[P3], off: impl Fn(&P3) -> f64) -> Vec<P3> {
    let mut kept = Vec::with_capacity(ring.len() + 2);
    for (p, q) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        let (a, b) = (off(p), off(q));
        if a >= 0.0 {
            kept.push(*p);
        }
        if (a > 0.0 && b < 0.0) || (a < 0.0 && b > 0.0) {
            kept.push(p + (q - p) * (a / (a - b)));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::twice_area;

    fn field(spots: &[(f64, f64, f64)]) -> FloorField {
        FloorField::new(spots.iter().map(|s| P3::new(s.0, s.1, s.2)), None)
    }

    fn rect(x: f64, y: f64) -> Vec<P2> {
        vec![P2::origin(), P2::new(x, 0.0), P2::new(x, y), P2::new(0.0, y)]
    }

    fn area(patches: &[Patch]) -> f64 {
        let rings = patches.iter().flat_map(|p| std::iter::once(&p.outline).chain(&p.holes));
        rings.map(|r| twice_area(r) / 2.0).sum()
    }

    #[test]
    fn scales_have_round_steps_and_hold_every_spot() {
        // lowest, highest, unit, finest, step, middle; worked out by hand
        for (lo, hi, unit, finest, step, middle) in [
            (-9.0, 2.5, 1.0, 0.5, 2.5, 0.0),
            (-12.0, 2.5, 1.0, 0.5, 5.0, 0.0),
            (-8.0, 3.0, 1.0, 0.5, 2.0, 0.0),
            (-2.0, 2.0, 1.0, 0.5, 0.5, 0.0),
            (0.0, 0.0, 1.0, 0.5, 0.5, 0.0),
            (0.0, 41.0, 1.0, 0.5, 20.0, 0.0),
            // above the datum: 1003 to 1010 is 7 about 1006; with a step of 1 it needs 1003 to 1011
            (1003.0, 1010.0, 1.0, 0.5, 1.0, 1007.0),
            // hundredths of an inch
            (-9.0, 2.5, 25.4, 0.02, 25.4 * 0.1, 0.0),
        ] {
            let found = field(&[(0.0, 0.0, lo), (1.0, 0.0, hi)]).scale(unit, finest).unwrap();
            assert!((found.step - step).abs() < 1e-9, "{lo} {hi}: {found:?}");
            assert!((found.middle - middle).abs() < 1e-9, "{lo} {hi}: {found:?}");
        }
        assert_eq!(field(&[]).scale(1.0, 0.5), None);
    }

    #[test]
    fn bands_of_a_slope_are_equal_strips_and_cover_the_surveyed_floor() {
        // 8000 long, rising from -4 to 4: a strip of 1000 by 3000 for each of eight bands
        let slope =
            field(&[(0.0, 0.0, -4.0), (8000.0, 0.0, 4.0), (8000.0, 3000.0, 4.0), (0.0, 3000.0, -4.0)]);
        let scale = slope.scale(1.0, 0.5).unwrap();
        assert_eq!(scale, Scale { step: 1.0, middle: 0.0 });
        for (i, band) in slope.bands(&scale, &rect(8000.0, 3000.0)).iter().enumerate() {
            assert!((area(band) - 3.0e6).abs() < 1.0, "band {i}: {}", area(band));
            let x: Vec<f64> = band[0].outline.iter().map(|p| p.x).collect();
            let lo = x.iter().copied().fold(f64::INFINITY, f64::min);
            assert!((lo - i as f64 * 1000.0).abs() < 1e-3, "band {i} from {lo}");
        }
        // only what lies on the floor
        let half: f64 = slope.bands(&scale, &rect(4000.0, 3000.0)).iter().map(|b| area(b)).sum();
        assert!((half - 12.0e6).abs() < 4.0, "{half}");
    }

    #[test]
    fn a_flat_floor_lies_in_one_band() {
        for (z, at) in [(0.0, 4), (1.0, 4)] {
            let flat = field(&[(0.0, 0.0, z), (1000.0, 0.0, z), (0.0, 1000.0, z)]);
            let scale = flat.scale(1.0, 0.5).unwrap();
            let bands = flat.bands(&scale, &rect(1000.0, 1000.0));
            for (i, band) in bands.iter().enumerate() {
                assert_eq!(area(band) > 0.0, i == at, "height {z} band {i} {scale:?}");
            }
        }
    }
}
