//! The vehicle in its own axes: solids, features a plumb bob can hang from, and lines.

use super::solid::{Band, Known, Missing, Solid};
use crate::geometry::{Line, OutlineFault, P2, Polygon, Shape, V2, rotate};
use crate::model::job::Toe;
use crate::model::language::{Corner, End, Feature, Hand};
use crate::model::{Job, Lack, Vehicle};

/// The vehicle's solids, z counted from the tyre plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    pub hull: Vec<Solid>,
    /// Both mirrors, or none.
    pub mirrors: Vec<Solid>,
    /// Front left, front right, rear left, rear right.
    pub tyres: Vec<Solid>,
}

impl Body {
    pub fn new(v: &Vehicle) -> Result<Body, OutlineFault> {
        let outline = match &v.outline {
            Some(o) => Shape::polygon(o.0.clone()),
            None => Shape::polygon(rectangle(v)?),
        };
        let hull = Solid::new(outline, Band::new(v.ground_clearance, v.height));
        let mut tyres = Vec::new();
        for corner in [Corner::FrontLeft, Corner::FrontRight, Corner::RearLeft, Corner::RearRight] {
            let at = wheel_middle(v, corner);
            let shape = Shape::rect(at, V2::new(v.tyre.diameter, v.tyre.width), 0.0)?;
            tyres.push(Solid::new(shape, Band::new(0.0, v.tyre.diameter)));
        }
        let mut mirrors = Vec::new();
        if let Some(m) = &v.mirrors {
            let depth = (m.width - v.width) / 2.0;
            for side in [1.0, -1.0] {
                let at = P2::new(-m.behind_front_axle, side * (v.width / 2.0 + depth / 2.0));
                if depth > 0.0 {
                    let shape = Shape::rect(at, V2::new(m.depth, depth), 0.0)?;
                    mirrors.push(Solid::new(shape, Band::new(m.z.0, m.z.1)));
                }
            }
        }
        Ok(Body { hull: vec![hull], mirrors, tyres })
    }

    pub fn place(&self, frame: &crate::geometry::Frame, raise: f64) -> Body {
        let all = |s: &Vec<Solid>| s.iter().map(|s| s.place(frame, raise)).collect();
        Body { hull: all(&self.hull), mirrors: all(&self.mirrors), tyres: all(&self.tyres) }
    }
}

/// Height of the highest point of the body above the tyre plane.
fn rectangle(v: &Vehicle) -> Result<Polygon, OutlineFault> {
    let (nose, tail, half) = (nose(v), tail(v), v.width / 2.0);
    Polygon::new(vec![P2::new(tail, -half), P2::new(nose, -half), P2::new(nose, half), P2::new(tail, half)])
}

/// X of the foremost plane of the body.
pub fn nose(v: &Vehicle) -> f64 {
    v.front_overhang
}

/// X of the rearmost plane of the body.
pub fn tail(v: &Vehicle) -> f64 {
    v.front_overhang - v.length
}

fn axle_x(v: &Vehicle, end: End) -> f64 {
    match end {
        End::Front => 0.0,
        End::Rear => -v.wheelbase,
    }
}

fn split(corner: Corner) -> (End, f64) {
    match corner {
        Corner::FrontLeft => (End::Front, 1.0),
        Corner::FrontRight => (End::Front, -1.0),
        Corner::RearLeft => (End::Rear, 1.0),
        Corner::RearRight => (End::Rear, -1.0),
    }
}

/// Middle of a wheel in plan.
pub fn wheel_middle(v: &Vehicle, corner: Corner) -> P2 {
    let (end, side) = split(corner);
    let track = match end {
        End::Front => v.track.front,
        End::Rear => v.track.rear,
    };
    P2::new(axle_x(v, end), side * track / 2.0)
}

/// Centre of a wheel's outer face in plan: half the track and half the tyre's width from the middle.
pub fn wheel_face(v: &Vehicle, corner: Corner) -> P2 {
    let (_, side) = split(corner);
    wheel_middle(v, corner) + V2::new(0.0, side * v.tyre.width / 2.0)
}

/// A feature in plan and its height above the tyre plane (`None`: the nose and the tail are planes, not points).
pub fn feature(v: &Vehicle, f: &Feature) -> Known<(P2, Option<f64>)> {
    let hub = Some(v.tyre.diameter / 2.0);
    match f {
        Feature::Wheel(c) => Ok((wheel_face(v, *c), hub)),
        Feature::Axle(end) => Ok((P2::new(axle_x(v, *end), 0.0), hub)),
        Feature::Nose => Ok((P2::new(nose(v), 0.0), None)),
        Feature::Tail => Ok((P2::new(tail(v), 0.0), None)),
        Feature::Sensor(name) => match v.sensors.get(name.as_str()) {
            Some(s) => Ok((P2::new(s.at.x, s.at.y), Some(s.at.z))),
            None => Err(Missing::one(name.text.clone())),
        },
        Feature::Point(name) => match v.points.get(name.as_str()) {
            Some(p) => Ok((P2::new(p.x, p.y), Some(p.z))),
            None => Err(Missing::one(name.text.clone())),
        },
    }
}

pub fn centre_line(v: &Vehicle) -> Line {
    Line { at: P2::new(-v.wheelbase, 0.0), dir: V2::new(1.0, 0.0) }
}

/// Through the rear axle's middle, turned by the thrust angle (positive to the right, so clockwise).
pub fn thrust_line(v: &Vehicle, job: &Job) -> Known<Line> {
    let toe = job.rear_toe.ok_or_else(|| Missing::one(Lack::RearToe))?;
    Ok(centre_line(v).turned(-toe.thrust_angle().to_radians()))
}

/// Through the outer faces of one side's wheels, forward.
pub fn wheel_side(v: &Vehicle, hand: Hand) -> Option<Line> {
    let (rear, front) = match hand {
        Hand::Left => (Corner::RearLeft, Corner::FrontLeft),
        Hand::Right => (Corner::RearRight, Corner::FrontRight),
    };
    Line::through(wheel_face(v, rear), wheel_face(v, front))
}

/// The tangent plane of one side of the body, forward.
pub fn body_side(v: &Vehicle, body: &Body, hand: Hand) -> Line {
    let bounds = body.hull[0].shape.bounds();
    let y = match hand {
        Hand::Left => bounds.max.y,
        Hand::Right => bounds.min.y,
    };
    Line { at: P2::new(-v.wheelbase, y), dir: V2::new(1.0, 0.0) }
}

/// One wheel's own plane through its outer face centre, turned by its toe (toe-in positive: the front edge inward).
pub fn wheel_plane(v: &Vehicle, job: &Job, corner: Corner) -> Known<Line> {
    let (end, side) = split(corner);
    let toe: Option<Toe> = match end {
        End::Front => job.front_toe,
        End::Rear => job.rear_toe,
    };
    let toe = toe.ok_or_else(|| {
        Missing::one(match end {
            End::Front => Lack::FrontToe,
            End::Rear => Lack::RearToe,
        })
    })?;
    let angle = if side > 0.0 { -toe.left } else { toe.right };
    Ok(Line { at: wheel_face(v, corner), dir: rotate(V2::new(1.0, 0.0), angle.to_radians()) })
}
