//! The first Fresnel zone of a radar's line to a reflector: the room the wave needs round the straight line.
//!
//! Radius at distances d1 and d2 from the two ends: r = sqrt(n * wavelength * d1 * d2 / (d1 + d2)), all in one unit
//! (Rec. ITU-R P.526, annex 1). In plan this is an ellipse between the ends, as wide as sqrt(wavelength * d).

use std::f64::consts::TAU;

use super::body;
use super::marks::{Found, Marks};
use super::setup::{Area, Station};
use super::solid::{Band, Solid, both};
use crate::geometry::{Line, P2, Polygon, Shape};
use crate::model::language::{Feature, Zone, ZoneShape};

/// Speed of light, mm per ns: a wavelength in mm is this over the frequency in GHz.
const LIGHT: f64 = 299.792458;
/// Corners of the polygon drawn about the ellipse.
const CORNERS: usize = 64;

/// mm, for a frequency in GHz.
pub fn wavelength(ghz: f64) -> f64 {
    LIGHT / ghz
}

/// Radius of the n-th zone, mm, at these distances from the two ends, mm.
pub fn radius(n: u32, wavelength: f64, from: f64, to: f64) -> f64 {
    (f64::from(n) * wavelength * from * to / (from + to)).sqrt()
}

/// The zone of a procedure in vehicle axes: the ellipse in plan, drawn from outside, in the heights the zone reaches
/// over its whole length (a little more than it fills, never less), unless heights are printed.
pub fn area(marks: &Marks, stations: &[Station], def: &Zone, printed: Option<(f64, f64)>) -> Found<Area> {
    let ZoneShape::Fresnel { from, to, frequency_ghz, part } = &def.shape else {
        return Err((def.name.spot, format!("zone {:?} is no Fresnel zone", def.name)));
    };
    let Some(station) = stations.iter().find(|s| *to == *s.name) else {
        return Err((to.spot, super::stations::no_station(to, stations)));
    };
    let sensor = body::feature(marks.vehicle, &Feature::Sensor(from.clone()));
    let figures = both(marks.values.of(frequency_ghz), marks.values.maybe(part));
    let ((eye, stand), (ghz, part)) = match both(both(sensor, station.place.clone()), figures) {
        Ok(known) => known,
        Err(missing) => return Ok(Err(missing)),
    };
    let part = part.unwrap_or(1.0);
    if !(ghz > 0.0 && part > 0.0) {
        return Err((def.name.spot, format!("zone {:?} needs a frequency and a part above 0", def.name)));
    }
    let middle = stand.middle();
    let (p, low) = (eye.0, eye.1.unwrap_or(0.0));
    let Some(line) = Line::through(p, middle.xy()) else {
        return Err((
            def.name.spot,
            format!("zone {:?} runs from a sensor to a target right above or below it", def.name),
        ));
    };
    let long = line.along(middle.xy());
    let half = long.hypot(middle.z - low) / 2.0;
    let wide = part * radius(1, wavelength(ghz), half, half);
    let out = 1.0 / (TAU / CORNERS as f64 / 2.0).cos();
    let corner = |i: usize| {
        let at = (i as f64 + 0.5) * TAU / CORNERS as f64;
        let (along, left) = (long / 2.0 * (1.0 + out * at.cos()), wide * out * at.sin());
        line.at + line.dir * along + line.left() * left
    };
    let ring: Vec<P2> = (0..CORNERS).map(corner).collect();
    let polygon = Polygon::new(ring)
        .map_err(|f| (def.name.spot, format!("zone {:?} cannot be drawn: {f}", def.name)))?;
    let z = match printed {
        Some((lo, hi)) => Band::new(lo.min(hi), hi.max(lo)),
        None => Band::new((low.min(middle.z) - wide).max(0.0), low.max(middle.z) + wide),
    };
    Ok(Ok(Area::Plan { solid: Solid::new(Shape::polygon(polygon), z), printed: true }))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rec. ITU-R P.526-8 annex 1, equations 2 and 3; examples as noted.
    #[test]
    fn radii() {
        // wavelengths: computed from the exact speed of light; a calculator page prints 3.90 mm for 77 GHz
        for (ghz, mm) in [
            (76.5, 3.91886),
            (77.0, 3.89341),
            (79.0, 3.79484),
            (24.125, 12.42663),
            (10.0, 29.97925),
            (5.405, 55.46576),
        ] {
            assert!((wavelength(ghz) - mm).abs() < 5e-6, "{ghz}");
        }
        let m = 1000.0;
        // hicelltek.com/en/fresnel-zone-calculator: middle of 1 km at 5 GHz, 3.87 m
        assert!((radius(1, wavelength(5.0), 500.0 * m, 500.0 * m) / m - 3.87164).abs() < 5e-6);
        // US Army subcourse SS0121: 16 and 24 km at 4 GHz, printed 27 m with an older constant (1.1 % apart)
        let army = radius(1, wavelength(4.0), 16e3 * m, 24e3 * m) / m;
        assert!((army - 26.824).abs() < 5e-4 && (army / 27.0 - 1.0).abs() < 0.011);
        // computed: 76.5 GHz, middle of paths of 1, 2, 3, 4, 6, 8 m
        for (path, mm) in [(1.0, 31.30), (2.0, 44.27), (3.0, 54.21), (4.0, 62.60), (6.0, 76.67), (8.0, 88.53)]
        {
            let r = radius(1, wavelength(76.5), path * m / 2.0, path * m / 2.0);
            assert!((r - mm).abs() < 5e-3, "{path}: {r}");
        }
        assert!((0.6 * radius(1, wavelength(76.5), 1500.0, 1500.0) - 32.53).abs() < 5e-3);
        // the second zone is wider by the root of two
        assert!((radius(2, 3.9, 900.0, 700.0) / radius(1, 3.9, 900.0, 700.0) - 2f64.sqrt()).abs() < 1e-12);
    }
}
