//! Straights and arcs of a vehicle that steers with its front wheels, told by the middle of its rear axle.

use crate::geometry::{Frame, P2, V2, rotate};
use crate::layout::Stance;

/// The rear axle's middle and the direction the vehicle looks in, radians from the bay's x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    pub at: P2,
    pub angle: f64,
}

impl Pose {
    /// Of a vehicle standing at `stance`.
    pub fn of(stance: &Stance, wheelbase: f64) -> Pose {
        let angle = stance.heading.to_radians() + std::f64::consts::FRAC_PI_2;
        let frame = stance.frame();
        Pose { at: frame.to_world(P2::new(-wheelbase, 0.0)), angle }
    }

    /// The stance of the vehicle with its rear axle here; heading in [0, 360).
    pub fn stance(&self, wheelbase: f64) -> Stance {
        let front = self.frame().to_world(P2::new(wheelbase, 0.0));
        Stance { x: front.x, y: front.y, heading: crate::units::norm_deg(self.angle.to_degrees() - 90.0) }
    }

    pub fn frame(&self) -> Frame {
        Frame::new(self.at, self.angle)
    }

    /// After rolling `length` (negative: backward) at this curvature (1/mm, left positive): exact, no small steps.
    pub fn moved(&self, curvature: f64, length: f64) -> Pose {
        let turn = curvature * length;
        let chord = if turn.abs() < 1e-9 { length } else { 2.0 * (turn / 2.0).sin() / curvature };
        Pose { at: self.at + rotate(V2::new(chord, 0.0), self.angle + turn / 2.0), angle: self.angle + turn }
    }
}

/// One stretch driven without touching the steering wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    pub from: Pose,
    /// 1/mm, positive to the left, 0 straight.
    pub curvature: f64,
    /// mm, negative when driven backward.
    pub length: f64,
}

impl Segment {
    /// After `along` mm of way, from 0 to the length without its sign.
    pub fn at(&self, along: f64) -> Pose {
        self.from.moved(self.curvature, along.copysign(self.length))
    }

    pub fn to(&self) -> Pose {
        self.from.moved(self.curvature, self.length)
    }

    pub fn is_straight(&self) -> bool {
        self.curvature == 0.0
    }

    pub fn is_backward(&self) -> bool {
        self.length < 0.0
    }

    /// The same way driven from its end to its start.
    pub fn reversed(&self) -> Segment {
        Segment { from: self.to(), curvature: self.curvature, length: -self.length }
    }
}

/// The way driven from its end: what leaves a place also reaches it.
pub fn reversed(way: &[Segment]) -> Vec<Segment> {
    way.iter().rev().map(Segment::reversed).collect()
}

/// Neighbours of one curvature and one direction become one.
pub fn joined(way: &[Segment]) -> Vec<Segment> {
    let mut out: Vec<Segment> = Vec::with_capacity(way.len());
    for s in way.iter().filter(|s| s.length.abs() > crate::geometry::NOISE_MM) {
        match out.last_mut() {
            Some(last) if last.curvature == s.curvature && last.is_backward() == s.is_backward() => {
                last.length += s.length
            }
            _ => out.push(*s),
        }
    }
    out
}
