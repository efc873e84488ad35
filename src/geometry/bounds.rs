//! Axis-parallel bounding boxes, for quick tests.

use std::borrow::Borrow;

use super::{P2, V2};

/// The smallest axis-parallel box about some points. The box of no points is empty: its `min` is
/// above its `max`, it contains nothing and leaves a union unchanged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    pub min: P2,
    pub max: P2,
}

impl Bounds {
    /// The box about `points`.
    pub fn of<P: Borrow<P2>>(points: impl IntoIterator<Item = P>) -> Bounds {
        let empty = Bounds {
            min: P2::new(f64::INFINITY, f64::INFINITY),
            max: P2::new(f64::NEG_INFINITY, f64::NEG_INFINITY),
        };
        points.into_iter().fold(empty, |b, p| {
            let p = p.borrow();
            Bounds {
                min: P2::new(b.min.x.min(p.x), b.min.y.min(p.y)),
                max: P2::new(b.max.x.max(p.x), b.max.y.max(p.y)),
            }
        })
    }

    /// The box about both.
    pub fn union(&self, o: &Bounds) -> Bounds {
        Bounds {
            min: P2::new(self.min.x.min(o.min.x), self.min.y.min(o.min.y)),
            max: P2::new(self.max.x.max(o.max.x), self.max.y.max(o.max.y)),
        }
    }

    /// The box moved outward by `mm` on every side (inward when negative).
    pub fn grow(&self, mm: f64) -> Bounds {
        let d = V2::new(mm, mm);
        Bounds { min: self.min - d, max: self.max + d }
    }

    /// Distance between the boxes, 0 where they meet: never more than the distance of what they hold.
    pub fn distance(&self, o: &Bounds) -> f64 {
        let dx = (o.min.x - self.max.x).max(self.min.x - o.max.x).max(0.0);
        let dy = (o.min.y - self.max.y).max(self.min.y - o.max.y).max(0.0);
        if dx == 0.0 {
            dy
        } else if dy == 0.0 {
            dx
        } else {
            (dx * dx + dy * dy).sqrt()
        }
    }

    /// Is the point in the box or on its edge?
    pub fn contains(&self, p: P2) -> bool {
        self.min.x <= p.x && p.x <= self.max.x && self.min.y <= p.y && p.y <= self.max.y
    }

    /// Width and height.
    pub fn size(&self) -> V2 {
        self.max - self.min
    }

    /// The middle of the box.
    pub fn centre(&self) -> P2 {
        nalgebra::center(&self.min, &self.max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes() {
        let a = Bounds::of([P2::new(0.0, 2.0), P2::new(4.0, 0.0)]);
        let b = Bounds::of([P2::new(7.0, 6.0), P2::new(8.0, 9.0)].iter());
        assert_eq!(a.distance(&b), 5.0);
        assert_eq!(b.distance(&a), 5.0);
        assert_eq!(a.union(&b), Bounds { min: P2::new(0.0, 0.0), max: P2::new(8.0, 9.0) });
        assert_eq!(a.grow(1.0).size(), V2::new(6.0, 4.0));
        assert_eq!(a.centre(), P2::new(2.0, 1.0));
        assert!(a.contains(P2::new(4.0, 2.0)) && !a.contains(P2::new(4.1, 2.0)));
        let none = Bounds::of(Vec::<P2>::new());
        assert!(!none.contains(P2::origin()));
        assert_eq!(none.union(&a), a);
    }
}
