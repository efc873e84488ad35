//! The face of a target in space: what a sensor looks at.

use super::setup::Stand;
use crate::geometry::{Frame, P2, P3};

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

    /// How far the front is turned toward a point: 90 degrees less the angle between the face's normal and the way from
    /// its middle to the point, at the worst of its places. 90 straight before it, 0 edge-on, below 0 where it shows its
    /// back; `None` for what has no front.
    pub fn turned_to(&self, p: P3) -> Option<f64> {
        let toward = |frame: &Frame| {
            let foot = frame.to_world(P2::new(self.size.front, 0.0));
            let way = p - P3::new(foot.x, foot.y, self.lower + self.size.height / 2.0);
            let ahead = frame.x.dot(&way.xy());
            (way.norm() > 0.0).then(|| (ahead / way.norm()).clamp(-1.0, 1.0).asin().to_degrees())
        };
        self.path.iter().filter(|_| self.size.has_front).filter_map(toward).reduce(f64::min)
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
