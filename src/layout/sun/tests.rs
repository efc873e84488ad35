//! Cases of sun.

use super::*;
use crate::model::When;

fn sun(when: &str, latitude: f64, longitude: f64) -> Sun {
    Sun::at(&When::parse(when).unwrap(), Earth { latitude, longitude }).unwrap()
}

/// The worked example of NREL's solar position algorithm (Reda and Andreas; figures from memory): Golden, Colorado,
/// zenith 50.11162 and azimuth 194.34024 degrees. Its air is thinner than the standard air taken here.
#[test]
fn the_published_example() {
    let s = sun("2003-10-17 12:30:30 -07:00", 39.742476, -105.1786);
    assert!((s.azimuth - 194.34024).abs() < 0.002, "{s:?}");
    assert!((90.0 - s.elevation - 50.11162).abs() < 0.01, "{s:?}");
}

/// Common knowledge, no source: at noon of the sun it stands in the south, at 90 - latitude + declination.
#[test]
fn noon() {
    let summer = sun("2026-06-21 12:02 +00:00", 51.5, 0.0);
    assert!(
        (summer.azimuth - 180.0).abs() < 0.5 && (summer.elevation - (90.0 - 51.5 + 23.44)).abs() < 0.05,
        "{summer:?}"
    );
    let winter = sun("2026-12-21 11:58 +00:00", 51.5, 0.0);
    assert!(
        (winter.azimuth - 180.0).abs() < 0.5 && (winter.elevation - (90.0 - 51.5 - 23.44)).abs() < 0.1,
        "{winter:?}"
    );
    assert!(sun("2026-12-21 00:00 +00:00", 51.5, 0.0).elevation < -50.0);
}

#[test]
fn directions_in_the_bay() {
    let near =
        |v: V3, w: (f64, f64, f64)| assert!((v - V3::new(w.0, w.1, w.2)).norm() < 1e-12, "{v:?} {w:?}");
    let half = 0.5f64.sqrt();
    let level = |azimuth| Sun { azimuth, elevation: 0.0 };
    // a bay entered northward: east is right, south is behind
    near(level(0.0).toward(0.0), (0.0, 1.0, 0.0));
    near(level(90.0).toward(0.0), (1.0, 0.0, 0.0));
    near(level(225.0).toward(0.0), (-half, -half, 0.0));
    // a bay entered eastward: south is right
    near(level(180.0).toward(90.0), (1.0, 0.0, 0.0));
    near(Sun { azimuth: 180.0, elevation: 45.0 }.toward(180.0), (0.0, half, half));
}

#[test]
fn what_an_opening_lets_through() {
    // a door 3000 wide and 2500 high in the wall y = 0, the bay on the side of larger y
    let door = Opening {
        name: "door".into(),
        a: P2::new(1000.0, 0.0),
        b: P2::new(4000.0, 0.0),
        z: (0.0, 2500.0),
        outward: -V3::y(),
    };
    let from_behind = Sun { azimuth: 180.0, elevation: 26.565_051_177_077_99 }.toward(0.0); // 1 in 2
    assert!(door.lets_in(from_behind));
    assert!(!door.lets_in(Sun { azimuth: 0.0, elevation: 30.0 }.toward(0.0)));
    assert!(!door.lets_in(Sun { azimuth: 180.0, elevation: -1.0 }.toward(0.0)));
    for (case, p, lit) in [
        ("on the floor, 5 m in", (2000.0, 4999.0, 0.0), true),
        ("past the light's edge", (2000.0, 5001.0, 0.0), false),
        ("1 m up the light ends sooner", (2000.0, 2999.0, 1000.0), true),
        ("1 m up", (2000.0, 3001.0, 1000.0), false),
        ("beside the door", (990.0, 1000.0, 0.0), false),
        ("outside", (2000.0, -100.0, 0.0), false),
    ] {
        assert_eq!(door.passes(P3::new(p.0, p.1, p.2), from_behind).is_some(), lit, "{case}");
    }
    let patch = door.patch(from_behind).unwrap();
    let far = patch.iter().map(|p| p.y).fold(0.0, f64::max);
    assert!((far - 5000.0).abs() < 1e-6, "{patch:?}");
}
