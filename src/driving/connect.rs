//! Ways without search: straight out, or by two arcs and a straight (Dubins) to a spot square before the doorway and
//! then straight out.

use dubins_paths::f64::{Intermediate, PosRot};
use dubins_paths::{PathType, SegmentType};

use super::car::Car;
use super::course::Course;
use super::motion::{Pose, Segment};
use crate::geometry::P2;

/// Spots on the way out: how far the rear axle then is inside the doorway, mm.
pub const DEPTHS: [f64; 9] = [-2500.0, -1500.0, -500.0, 500.0, 1500.0, 2500.0, 3500.0, 5000.0, 7000.0];

/// A way out, not yet tried against what stands there.
#[derive(Clone, Debug)]
pub struct Exit {
    pub segments: Vec<Segment>,
    pub length: f64,
}

/// Ways out from here, shortest first. `radii`: of the arcs to try.
pub fn exits(course: &Course, car: &Car, from: &Pose, radii: &[f64]) -> Vec<Exit> {
    let gate = &course.gate;
    let mut out = Vec::new();
    let depth = -gate.outside(from.at);
    for backward in [true, false] {
        if let Some(way) = straight_out(course, car, from, backward) {
            out.push(way);
        }
        // looking in when it leaves backward
        let look = if backward { -gate.out } else { gate.out };
        let square = look.y.atan2(look.x);
        let width = 2.0 * car.bounds.max.y.max(-car.bounds.min.y);
        let spare = (gate.width - width).max(0.0) / 4.0;
        let offsets: &[f64] = if spare > 20.0 { &[0.0, -1.0, 1.0] } else { &[0.0] };
        for inside in DEPTHS.into_iter().filter(|d| *d < depth) {
            for offset in offsets {
                let goal = Pose { at: gate.point(-inside, offset * spare), angle: square };
                let straight = leaving(car, backward) + inside;
                for radius in radii {
                    dubins(from, &goal, *radius, backward, straight.max(0.0), &mut out);
                }
            }
        }
    }
    out.sort_by(|a, b| a.length.total_cmp(&b.length));
    out
}

/// How far outside the rear axle is when the whole vehicle is, square to the wall.
pub fn leaving(car: &Car, backward: bool) -> f64 {
    if backward { car.bounds.max.x } else { -car.bounds.min.x }
}

/// Straight on until the whole vehicle is outside; `None` where it does not look that way.
pub fn straight_out(course: &Course, car: &Car, from: &Pose, backward: bool) -> Option<Exit> {
    let frame = from.frame();
    let heading = if backward { -frame.x } else { frame.x };
    let rate = heading.dot(&course.gate.out);
    if rate < 0.2 {
        return None;
    }
    // the last corner to leave
    let inmost =
        car.bounds.corners().into_iter().map(|c| course.gate.outside(frame.to_world(c))).fold(0.0, f64::min);
    let length = -inmost / rate;
    let signed = if backward { -length } else { length };
    Some(Exit { segments: vec![Segment { from: *from, curvature: 0.0, length: signed }], length })
}

fn dubins(from: &Pose, goal: &Pose, radius: f64, backward: bool, then: f64, out: &mut Vec<Exit>) {
    for kind in PathType::CSC {
        let Some(mut segments) = curve(from, goal, radius, backward, kind) else { continue };
        if then > 0.0 {
            segments.push(onward(goal, backward, then));
        }
        // a straight all the way is tried once, not from every spot
        if segments.iter().all(Segment::is_straight) {
            continue;
        }
        let length = segments.iter().map(|s| s.length.abs()).sum();
        out.push(Exit { segments, length });
    }
}

/// A straight from exactly here: curves leave a last digit of noise.
pub fn onward(from: &Pose, backward: bool, length: f64) -> Segment {
    Segment { from: *from, curvature: 0.0, length: if backward { -length } else { length } }
}

/// Two arcs and a straight between them, of one kind; `None` where that kind does not lead there.
pub fn curve(from: &Pose, goal: &Pose, radius: f64, backward: bool, kind: PathType) -> Option<Vec<Segment>> {
    // backward driving is forward driving of a vehicle that looks the other way
    let turn = if backward { std::f64::consts::PI } else { 0.0 };
    let spot = |p: &Pose| PosRot::from_floats(p.at.x, p.at.y, p.angle + turn);
    let params = Intermediate::new(spot(from), spot(goal), radius).word(kind).ok()?;
    let way = if backward { -1.0 } else { 1.0 };
    let mut segments = Vec::with_capacity(4);
    let mut at = *from;
    for (param, segment) in params.into_iter().zip(kind.to_segment_types()) {
        // a full turn is no turn with a last digit missing
        let whole = segment != SegmentType::S && std::f64::consts::TAU - param < 1e-7;
        let param = if whole { 0.0 } else { param };
        let left = match segment {
            SegmentType::L => 1.0,
            SegmentType::S => 0.0,
            SegmentType::R => -1.0,
        };
        let s = Segment { from: at, curvature: way * left / radius, length: way * param * radius };
        if param * radius > 1e-6 {
            at = s.to();
            segments.push(s);
        }
    }
    Some(segments)
}

/// The corners of a box.
trait Corners {
    fn corners(&self) -> [P2; 4];
}

impl Corners for crate::geometry::Bounds {
    fn corners(&self) -> [P2; 4] {
        [self.min, P2::new(self.max.x, self.min.y), self.max, P2::new(self.min.x, self.max.y)]
    }
}
