//! Frames, directed lines, rotations and the meeting point of two tapes.

use std::f64::consts::FRAC_PI_2;

use super::{NOISE_MM, P2, V2, cross};

/// A right-handed plane frame. `x` has length 1; y is x turned 90 degrees anticlockwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    pub origin: P2,
    pub x: V2,
}

impl Frame {
    /// The world's own frame.
    pub const IDENTITY: Frame = Frame { origin: P2::new(0.0, 0.0), x: V2::new(1.0, 0.0) };

    /// A frame whose x axis stands at this angle from the world's x axis.
    pub fn new(origin: P2, angle_from_world_x: f64) -> Frame {
        Frame { origin, x: unit(angle_from_world_x) }
    }

    /// The frame of something heading `heading` from world +y: its x axis is (-sin h, cos h).
    pub fn heading(origin: P2, heading: f64) -> Frame {
        let u = unit(heading);
        Frame { origin, x: V2::new(-u.y, u.x) }
    }

    /// The y axis.
    pub fn y(&self) -> V2 {
        V2::new(-self.x.y, self.x.x)
    }

    /// A point given in this frame, in world coordinates.
    pub fn to_world(&self, p: P2) -> P2 {
        self.origin + self.dir(p.coords)
    }

    /// A world point, in coordinates of this frame.
    pub fn to_local(&self, p: P2) -> P2 {
        let d = p - self.origin;
        P2::new(self.x.dot(&d), self.y().dot(&d))
    }

    /// A direction given in this frame, in world coordinates.
    pub fn dir(&self, v: V2) -> V2 {
        self.x * v.x + self.y() * v.y
    }

    /// Angle of the x axis from world x, in (-pi, pi].
    pub fn angle(&self) -> f64 {
        self.x.y.atan2(self.x.x)
    }

    /// The frame that `inner`, given in this frame, is in world coordinates.
    pub fn compose(&self, inner: &Frame) -> Frame {
        let x = self.dir(inner.x);
        Frame { origin: self.to_world(inner.origin), x: x.try_normalize(0.0).unwrap_or(x) }
    }
}

/// A directed line. `dir` has length 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    pub at: P2,
    pub dir: V2,
}

impl Line {
    /// The line from `a` towards `b`; none when they are no further apart than noise.
    pub fn through(a: P2, b: P2) -> Option<Line> {
        (b - a).try_normalize(NOISE_MM).map(|dir| Line { at: a, dir })
    }

    /// The point of the line nearest to `p`.
    pub fn foot(&self, p: P2) -> P2 {
        self.at + self.dir * self.along(p)
    }

    /// The direction to the left of the line.
    pub fn left(&self) -> V2 {
        V2::new(-self.dir.y, self.dir.x)
    }

    /// How far `p` lies along the line from `at`, mm.
    pub fn along(&self, p: P2) -> f64 {
        self.dir.dot(&(p - self.at))
    }

    /// Distance of `p` from the line, mm, positive to its left.
    pub fn offset(&self, p: P2) -> f64 {
        cross(self.dir, p - self.at)
    }

    /// Where the lines cross; none when they are parallel (within 1e-9 rad).
    pub fn crossing(&self, o: &Line) -> Option<P2> {
        let sine = cross(self.dir, o.dir);
        if sine.abs() <= 1e-9 || !sine.is_finite() {
            return None;
        }
        Some(self.at + self.dir * (cross(o.at - self.at, o.dir) / sine))
    }

    /// The line turned about `at`.
    pub fn turned(&self, angle: f64) -> Line {
        Line { at: self.at, dir: rotate(self.dir, angle) }
    }
}

/// The vector turned anticlockwise by `angle`.
pub fn rotate(v: V2, angle: f64) -> V2 {
    let u = unit(angle);
    V2::new(u.x * v.x - u.y * v.y, u.y * v.x + u.x * v.y)
}

/// The point at `ra` from `a` and `rb` from `b`, on the left or right of the way from `a` to `b`:
/// two tapes pulled tight. Tapes that are too short by no more than noise meet on the line between.
/// None where they do not meet, where `a` and `b` are one point, or a tape is negative.
pub fn meet_of_circles(a: P2, ra: f64, b: P2, rb: f64, left_of_ab: bool) -> Option<P2> {
    let line = Line::through(a, b)?;
    let d = line.along(b);
    let meets = ra >= 0.0 && rb >= 0.0 && (ra - rb).abs() - NOISE_MM <= d && d <= ra + rb + NOISE_MM;
    if !meets {
        return None;
    }
    let along = (d + (ra - rb) * (ra + rb) / d) / 2.0;
    let aside = ((ra - along) * (ra + along)).max(0.0).sqrt();
    let aside = if left_of_ab { aside } else { -aside };
    Some(line.at + line.dir * along + line.left() * aside)
}

/// The unit vector at `angle`, with whole quarter turns exact.
fn unit(angle: f64) -> V2 {
    let quarters = (angle / FRAC_PI_2).round();
    if (angle - quarters * FRAC_PI_2).abs() <= 1e-15 * quarters.abs().max(1.0) {
        return match quarters.rem_euclid(4.0) as u8 {
            0 => V2::new(1.0, 0.0),
            1 => V2::new(0.0, 1.0),
            2 => V2::new(-1.0, 0.0),
            _ => V2::new(0.0, -1.0),
        };
    }
    let (s, c) = angle.sin_cos();
    V2::new(c, s)
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    fn near(a: P2, b: P2) -> bool {
        (a - b).norm() < 1e-9
    }

    #[test]
    fn heading_follows_the_bay_rule() {
        let f = Frame::heading(P2::new(100.0, 200.0), 0.0);
        assert_eq!(f.to_world(P2::new(10.0, 1.0)), P2::new(99.0, 210.0));
        let back = Frame::heading(P2::new(100.0, 200.0), PI);
        assert_eq!(back.to_world(P2::new(10.0, 1.0)), P2::new(101.0, 190.0));
        let h: f64 = 0.3;
        let f = Frame::heading(P2::origin(), h);
        assert!((f.x - V2::new(-h.sin(), h.cos())).norm() < 1e-15);
        assert!((f.y() - V2::new(-h.cos(), -h.sin())).norm() < 1e-15);
    }

    #[test]
    fn there_and_back() {
        let f = Frame::new(P2::new(3.0, -4.0), 0.7);
        let g = Frame::new(P2::new(-1.0, 2.0), -2.1);
        let p = P2::new(11.0, 5.0);
        assert!(near(f.to_local(f.to_world(p)), p));
        assert!(near(f.compose(&g).to_world(p), f.to_world(g.to_world(p))));
        assert!((f.compose(&g).angle() - (0.7 - 2.1)).abs() < 1e-12);
        assert_eq!(Frame::IDENTITY.to_world(p), p);
    }

    #[test]
    fn lines() {
        let l = Line::through(P2::new(0.0, 0.0), P2::new(10.0, 0.0)).unwrap();
        assert_eq!(l.offset(P2::new(4.0, 3.0)), 3.0);
        assert_eq!(l.along(P2::new(4.0, 3.0)), 4.0);
        assert_eq!(l.foot(P2::new(4.0, 3.0)), P2::new(4.0, 0.0));
        let up = Line { at: P2::new(7.0, -2.0), dir: V2::new(0.0, 1.0) };
        assert_eq!(l.crossing(&up), Some(P2::new(7.0, 0.0)));
        assert_eq!(l.crossing(&Line { at: P2::new(0.0, 5.0), dir: -l.dir }), None);
        assert_eq!(l.turned(PI / 2.0).dir, V2::new(0.0, 1.0));
        assert!(Line::through(P2::origin(), P2::new(1e-7, 0.0)).is_none());
    }

    #[test]
    fn tapes() {
        // 3-4-5 triangle.
        let (a, b) = (P2::new(0.0, 0.0), P2::new(5.0, 0.0));
        assert!(near(meet_of_circles(a, 3.0, b, 4.0, true).unwrap(), P2::new(1.8, 2.4)));
        assert!(near(meet_of_circles(a, 3.0, b, 4.0, false).unwrap(), P2::new(1.8, -2.4)));
        assert!(near(meet_of_circles(a, 2.0, b, 3.0, true).unwrap(), P2::new(2.0, 0.0)));
        assert!(meet_of_circles(a, 2.0, b, 3.0 - 0.9e-6, true).is_some());
        assert!(meet_of_circles(a, 2.0, b, 2.99, true).is_none());
        assert!(meet_of_circles(a, 9.0, b, 3.0, true).is_none());
        assert!(meet_of_circles(a, 9.0, b, 4.0, true).is_some());
        assert!(meet_of_circles(a, 3.0, a, 3.0, true).is_none());
        assert!(meet_of_circles(a, f64::NAN, b, 3.0, true).is_none());
    }
}
