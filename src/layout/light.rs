//! Light from lamps as points: inverse square with the cosine law. Good from about five lamp lengths away; daylight and
//! what walls throw back are not counted. An estimate for information: a meter decides.

use super::{Layout, Stand};
use crate::geometry::{P3, V3};

/// Illuminance, lx, that a point source of so many candela gives a surface with this normal (length 1): E = I cos / d².
/// 0 from behind, and at the lamp itself.
pub fn illuminance(candela: f64, lamp: P3, at: P3, normal: V3) -> f64 {
    let way = (lamp - at) / 1000.0;
    let metres = way.norm();
    if metres == 0.0 {
        return 0.0;
    }
    candela * (normal.dot(&way) / metres).max(0.0) / (metres * metres)
}

impl Layout {
    /// Illuminance at the middle of a face from all lamps whose `candela` the bay gives and that are not cleared away,
    /// each taken as a point in the middle of its underside; `None` when it gives none.
    pub fn lamp_light(&self, stand: &Stand) -> Option<f64> {
        let (bay, job) = (&self.bundle.bay, &self.bundle.job);
        let normal = if stand.size.flat { V3::z() } else { V3::new(stand.frame.x.x, stand.frame.x.y, 0.0) };
        let lamps = bay.fixtures.iter().filter(|f| !job.cleared.contains(&f.name));
        let mut lamps = lamps
            .filter_map(|f| {
                let p = f.shape.0.bounds().centre();
                Some(illuminance(f.candela?, P3::new(p.x, p.y, f.z?.0), stand.middle(), normal))
            })
            .peekable();
        lamps.peek()?;
        Some(lamps.sum())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(candela: f64, aside: f64, height: f64, normal: V3) -> f64 {
        illuminance(candela, P3::new(0.0, 0.0, height * 1000.0), P3::new(aside * 1000.0, 0.0, 0.0), normal)
    }

    /// Cosine law: IES definition 9.1.2 "cosine law".
    #[test]
    fn worked_examples() {
        let floor = V3::z();
        // jee.eduinfy.com (NSEP): 20 cd, 0.40 m high, 0.30 m aside: 64 lx
        assert!((at(20.0, 0.3, 0.4, floor) - 64.0).abs() < 1e-9);
        // byjus.com: 628 lm all round (50 cd), 1 m off, 37 degrees: 40 lx (39.93 with the exact cosine)
        let tilted = V3::new(-37f64.to_radians().sin(), 0.0, 37f64.to_radians().cos());
        let lm = 628.0 / (4.0 * std::f64::consts::PI);
        assert!((at(lm, 0.0, 1.0, tilted) - 40.0).abs() < 0.1);
        assert!((at(50.0, 0.0, 1.0, tilted) - 39.93).abs() < 5e-3);
        // shaalaa.com question 67959: 40 lx straight below at 1 m; 1 m to the side 14 lx
        assert!((at(40.0, 0.0, 1.0, floor) - 40.0).abs() < 1e-9);
        assert!((at(40.0, 1.0, 1.0, floor) - 14.142).abs() < 5e-4);
        // computed: 5000 cd 4 m up: 312.5 lx below; 3 m aside 160 lx on the floor, 120 lx on an upright surface facing the
        // lamp's foot (vertical form I sin / d²: are5community.ncarb.org)
        assert!((at(5000.0, 0.0, 4.0, floor) - 312.5).abs() < 1e-9);
        assert!((at(5000.0, 3.0, 4.0, floor) - 160.0).abs() < 1e-9);
        assert!((at(5000.0, 3.0, 4.0, -V3::x()) - 120.0).abs() < 1e-9);
        assert_eq!(at(5000.0, 3.0, 4.0, V3::x()), 0.0, "from behind");
        assert_eq!(at(5000.0, 0.0, 0.0, floor), 0.0);
    }
}
