//! What a bay file says that cannot be used.

use crate::geometry::P2;
use crate::model::bay::{Bay, Doorway, Side};
use crate::model::taped::{Taped, TapedPoint};
use crate::model::words::suggest;

use super::{Defect, Defects, plain};

/// How far a doorway may run over its side, or an apron stay off its door, mm: room for a rounded figure.
const ROUNDING: f64 = 1.0;

/// Names given twice, sides the floor has not, doorways that do not fit their side or each other, aprons that do not
/// reach their door, heights below the floor, survey spots given twice.
pub fn bay(bay: &Bay) -> Vec<Defect> {
    let mut out = Defects::default();
    names(bay, &mut out);
    walls(bay, &mut out);
    for door in &bay.doorways {
        doorway(bay, door, &mut out);
    }
    overlaps(bay, &mut out);
    for lift in &bay.lifts {
        for (i, height) in lift.heights.iter().enumerate() {
            if *height < 0.0 {
                let text = format!("a lift height of {} is below the floor", plain(*height));
                out.field(lift.name.spot, format!("heights[{i}]"), text);
            }
        }
    }
    out.unique("installed target", bay.installed.iter().map(|i| &i.name));
    out.unique("floor line", bay.floor_lines.iter().map(|l| &l.name));
    for line in bay.floor_lines.iter().filter(|l| l.points.len() < 2) {
        out.field(
            line.name.spot,
            "points",
            format!("the floor line {:?} needs at least 2 points", line.name),
        );
    }
    survey(bay, &mut out);
    taped(bay, &mut out);
    out.0
}

/// Tapes from corners or doorways that are not there, and from a point to itself.
fn taped(bay: &Bay, out: &mut Defects) {
    let corners = bay.floor.points.len();
    for (i, Taped(from, to, _)) in bay.taped.iter().enumerate() {
        let mut stand = true;
        for point in [from, to] {
            match point {
                TapedPoint::Corner(n, spot) if corners > 0 && *n >= corners => {
                    let hint = format!("its {corners} corners are numbered 0 to {}", corners - 1);
                    out.at(*spot, format!("the floor has no corner {n}"), Some(hint));
                    stand = false;
                }
                TapedPoint::Jamb(door, _) if bay.doorways.iter().all(|d| d.name != *door) => {
                    let hint = suggest(&door.text, "doorway", bay.doorways.iter().map(|d| &*d.name.text));
                    out.at(door.spot, format!("the bay has no doorway {door:?}"), hint);
                    stand = false;
                }
                TapedPoint::Corner(..) | TapedPoint::Jamb(..) => {}
            }
        }
        if !stand {
            continue;
        }
        let (a, b) = (from.to_string(), to.to_string());
        if a == b {
            out.field(bay.name.spot, format!("taped[{i}]"), format!("a tape runs from {a} to itself"));
        }
    }
}

fn names(bay: &Bay, out: &mut Defects) {
    let walls = bay.walls.iter().filter_map(|w| w.name.as_ref());
    let doors = bay.doorways.iter().map(|d| &d.name);
    let fixtures = bay.fixtures.iter().map(|f| &f.name);
    let lifts = bay.lifts.iter().map(|l| &l.name);
    let standing = walls.chain(doors).chain(fixtures).chain(lifts);
    out.unique("wall, doorway, fixture or lift", standing);
    out.unique("keep-clear area", bay.keep_clear.iter().map(|k| &k.name));
}

fn walls(bay: &Bay, out: &mut Defects) {
    for (i, wall) in bay.walls.iter().enumerate() {
        if in_range(bay, wall.side, out) && bay.walls[..i].iter().any(|w| w.side.index == wall.side.index) {
            out.at(wall.side.spot, format!("side {} is listed twice", wall.side.index), None);
        }
    }
}

fn in_range(bay: &Bay, side: Side, out: &mut Defects) -> bool {
    let sides = bay.floor.points.len();
    if sides == 0 || side.index < sides {
        return sides > 0;
    }
    let text = format!("the floor has no side {}", side.index);
    let hint = format!("its {sides} sides are numbered 0 to {}", sides - 1);
    out.at(side.spot, text, Some(hint));
    false
}

fn doorway(bay: &Bay, door: &Doorway, out: &mut Defects) {
    if !in_range(bay, door.side, out) {
        return;
    }
    let Some((a, b)) = bay.floor.side(door.side.index) else {
        return;
    };
    let (a, b) = (P2::new(a.0, a.1), P2::new(b.0, b.1));
    let long = (b - a).norm();
    let end = door.from + door.width;
    if end > long + ROUNDING {
        let text = format!(
            "the doorway {:?} reaches to {} along side {}, which is only {} long",
            door.name,
            plain(end),
            door.side.index,
            plain(long)
        );
        out.field(door.name.spot, "width", text);
        return;
    }
    let Some(apron) = &door.apron else { return };
    let step = |i: i32| a + (b - a) * ((door.from + door.width * f64::from(i) / 100.0) / long);
    let reached = (1..100).any(|i| {
        let p = step(i);
        apron.0.contains(p) || apron.0.edges().any(|(c, d)| off(p, c, d) <= ROUNDING)
    });
    if !reached && end.is_finite() && long.is_finite() && !apron.is_stand_in() {
        let text = format!(
            "the apron of {:?} does not touch the doorway's stretch of side {}",
            door.name, door.side.index
        );
        out.field(door.name.spot, "apron", text);
    }
}

/// Distance of a point from a segment, mm.
fn off(p: P2, a: P2, b: P2) -> f64 {
    let along = b - a;
    let t = ((p - a).dot(&along) / along.norm_squared()).clamp(0.0, 1.0);
    (p - (a + along * t)).norm()
}

fn overlaps(bay: &Bay, out: &mut Defects) {
    for (i, door) in bay.doorways.iter().enumerate() {
        let over = bay.doorways[..i].iter().find(|d| {
            d.side.index == door.side.index
                && d.from + ROUNDING < door.from + door.width
                && door.from + ROUNDING < d.from + d.width
        });
        if let Some(other) = over {
            let text = format!(
                "the doorways {:?} and {:?} overlap on side {}",
                other.name, door.name, door.side.index
            );
            out.field(door.name.spot, "from", text);
        }
    }
}

fn survey(bay: &Bay, out: &mut Defects) {
    let mut seen = std::collections::BTreeMap::new();
    for (i, spot) in bay.heights.iter().enumerate() {
        let key = ((spot.0 + 0.0).to_bits(), (spot.1 + 0.0).to_bits());
        if let Some(first) = seen.insert(key, i) {
            let text = format!(
                "the floor at ({}, {}) is surveyed twice, as spot {} and spot {}",
                plain(spot.0),
                plain(spot.1),
                first + 1,
                i + 1
            );
            out.field(bay.name.spot, format!("heights[{i}]"), text);
        }
    }
}
