//! What a vehicle file says that cannot be used.

use crate::model::vehicle::Vehicle;

use super::{Defect, Defects, plain};

/// How far an outline may differ from the printed length and width, mm.
const AGREES: f64 = 1.0;

/// Lengths that contradict each other, an outline that disagrees with them, a sensor both present and absent.
pub fn vehicle(v: &Vehicle) -> Vec<Defect> {
    let mut out = Defects::default();
    let at = v.name.spot;
    if v.rear_overhang() < 0.0 {
        let text = format!(
            "the length of {} is less than front_overhang and wheelbase together, {}",
            plain(v.length),
            plain(v.front_overhang + v.wheelbase)
        );
        out.field(at, "length", text);
    }
    if v.ground_clearance >= v.height {
        let text = format!(
            "the ground clearance of {} is not below the height of {}",
            plain(v.ground_clearance),
            plain(v.height)
        );
        out.field(at, "ground_clearance", text);
    }
    if let Some(mirrors) = v.mirrors.filter(|m| m.width < v.width) {
        let text = format!(
            "the width over the mirrors, {}, is less than the body's, {}",
            plain(mirrors.width),
            plain(v.width)
        );
        out.field(at, "mirrors", text);
    }
    outline(v, &mut out);
    out.unique("sensor it has not", &v.without);
    for name in &v.without {
        if v.sensors.get(name.as_str()).is_some() {
            out.at(name.spot, format!("{name:?} is listed in `sensors` and in `without`"), None);
        }
    }
    let empty = v.sensors.iter().map(|(n, _)| n).chain(v.points.iter().map(|(n, _)| n));
    for name in empty.filter(|n| n.as_str().trim().is_empty()) {
        out.at(name.spot, "a sensor or point needs a name", None);
    }
    out.0
}

fn outline(v: &Vehicle, out: &mut Defects) {
    let Some(outline) = v.outline.as_ref().filter(|o| !o.is_stand_in()) else {
        return;
    };
    let b = outline.0.bounds();
    let half = v.width / 2.0;
    for (reach, wanted, where_to) in [
        (b.max.x, v.front_overhang, "ahead of the front axle, where front_overhang says"),
        (-b.min.x, v.length - v.front_overhang, "behind the front axle, where length and front_overhang say"),
        (b.max.y, half, "to the left, where half the width is"),
        (-b.min.y, half, "to the right, where half the width is"),
    ] {
        if (reach - wanted).abs() > AGREES {
            let text = format!("the outline reaches {} {where_to} {}", plain(reach), plain(wanted));
            out.field(v.name.spot, "outline", text);
        }
    }
}
