//! Everything about driving in mirrored in the bay's y axis, so that a place to the right of its doorway is dealt with as
//! the mirror image of one to the left, and both are told the same way.

use super::gate::Gate;
use super::motion::{Pose, Segment};
use super::{Answer, NoPath, Path, Tightest};
use crate::geometry::{Bounds, P2, Polygon, V2};
use crate::layout::Stance;
use crate::units::norm_deg;

/// What has a mirror image: left and right changed over, x negative. Exact but for a direction's rounding.
pub(super) trait Mirrored {
    fn mirrored(&self) -> Self;
}

impl Mirrored for P2 {
    fn mirrored(&self) -> P2 {
        P2::new(-self.x, self.y)
    }
}

impl Mirrored for V2 {
    fn mirrored(&self) -> V2 {
        V2::new(-self.x, self.y)
    }
}

impl Mirrored for Bounds {
    fn mirrored(&self) -> Bounds {
        Bounds { min: P2::new(-self.max.x, self.min.y), max: P2::new(-self.min.x, self.max.y) }
    }
}

impl Mirrored for Pose {
    fn mirrored(&self) -> Pose {
        Pose { at: self.at.mirrored(), angle: std::f64::consts::PI - self.angle }
    }
}

impl Mirrored for Stance {
    fn mirrored(&self) -> Stance {
        Stance { x: -self.x, y: self.y, heading: norm_deg(-self.heading) }
    }
}

impl Mirrored for Segment {
    fn mirrored(&self) -> Segment {
        Segment { from: self.from.mirrored(), curvature: -self.curvature, length: self.length }
    }
}

impl Mirrored for Gate {
    fn mirrored(&self) -> Gate {
        Gate {
            a: self.b.mirrored(),
            b: self.a.mirrored(),
            middle: self.middle.mirrored(),
            out: self.out.mirrored(),
            apron: self.apron.as_ref().map(Polygon::mirrored),
            ..self.clone()
        }
    }
}

impl Mirrored for Tightest {
    fn mirrored(&self) -> Tightest {
        let at = (self.at.0.mirrored(), self.at.1.mirrored());
        Tightest { at, stance: self.stance.mirrored(), ..self.clone() }
    }
}

impl Mirrored for Path {
    fn mirrored(&self) -> Path {
        let all = |polygons: &[Polygon]| polygons.iter().map(Polygon::mirrored).collect();
        Path {
            segments: self.segments.iter().map(Mirrored::mirrored).collect(),
            swept: all(&self.swept),
            holes: all(&self.holes),
            tightest: self.tightest.mirrored(),
            ..self.clone()
        }
    }
}

impl Mirrored for Answer {
    fn mirrored(&self) -> Answer {
        match self {
            Answer::Path(path) => Answer::Path(path.mirrored()),
            Answer::NoPath(none) => Answer::NoPath(NoPath {
                tightest: none.tightest.as_ref().map(Mirrored::mirrored),
                least_bad: none.least_bad.as_ref().map(Mirrored::mirrored),
                ..none.clone()
            }),
            Answer::Unknown(_) | Answer::NoDoorway => self.clone(),
        }
    }
}
