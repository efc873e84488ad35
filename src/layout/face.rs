//! The face of a target in space: what a sensor looks at.

use super::setup::Stand;
use crate::geometry::{P2, P3};

impl Stand {
    /// The middle of the face: of its front, or of the upper side of what lies on the floor.
    pub fn middle(&self) -> P3 {
        self.on_face(0.0, 0.5)
    }

    /// The four corners of the face: lower right, lower left, upper left, upper right as the target itself has right and
    /// left; of what lies on the floor, back right, back left, front left, front right.
    pub fn corners(&self) -> [P3; 4] {
        [(-1.0, 0.0), (1.0, 0.0), (1.0, 1.0), (-1.0, 1.0)].map(|(left, up)| self.on_face(left, up))
    }

    /// `left` from -1 to 1, `up` from 0 (lower edge, or back) to 1.
    fn on_face(&self, left: f64, up: f64) -> P3 {
        let s = &self.size;
        let (x, z) = if s.flat {
            (s.back + (s.front - s.back) * up, self.lower + s.height)
        } else {
            (s.front, self.lower + s.height * up)
        };
        let p = self.frame.to_world(P2::new(x, left * s.half_width));
        P3::new(p.x, p.y, z)
    }
}
