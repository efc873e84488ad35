//! Solids: a plan shape with a height band, and things made of several.

use crate::geometry::{Frame, Gap, NOISE_MM, Shape, gap};
use crate::model::Lack;

/// Heights from `lo` to `hi` above the bay's floor datum (or the tyre plane, in vehicle axes), mm. `hi` may be infinite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    pub lo: f64,
    pub hi: f64,
}

impl Band {
    /// Any height whatever.
    pub const ALL: Band = Band { lo: f64::NEG_INFINITY, hi: f64::INFINITY };

    pub fn new(lo: f64, hi: f64) -> Band {
        Band { lo, hi }
    }

    /// The band of something that stands, hangs or lies in the bay. Above the floor what has no thickness is taken as
    /// 1 mm thick: it is in the way like any other.
    pub fn of_thing(lo: f64, hi: f64) -> Band {
        let thin = hi - lo <= NOISE_MM && lo > 0.0;
        Band::new(lo, if thin { lo + 1.0 } else { hi })
    }

    /// Bands that only touch do not overlap.
    pub fn overlaps(&self, other: &Band) -> bool {
        self.lo.max(other.lo) + NOISE_MM < self.hi.min(other.hi)
    }

    /// Without thickness, or with its top at or below the floor.
    pub fn is_flush(&self) -> bool {
        self.hi - self.lo <= NOISE_MM || self.hi <= 0.0
    }

    pub fn raised(&self, by: f64) -> Band {
        Band::new(self.lo + by, self.hi + by)
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    pub shape: Shape,
    pub z: Band,
}

impl Solid {
    pub fn new(shape: Shape, z: Band) -> Solid {
        Solid { shape, z }
    }

    /// Brought from inner axes to outer ones, and raised.
    pub fn place(&self, frame: &Frame, raise: f64) -> Solid {
        Solid { shape: self.shape.place(frame), z: self.z.raised(raise) }
    }
}

/// The least signed gap between two things made of solids, over the pairs whose bands overlap; `None` when none do.
pub fn gap_of(a: &[Solid], b: &[Solid]) -> Option<Gap> {
    let mut least: Option<Gap> = None;
    for p in a {
        for q in b {
            if p.z.overlaps(&q.z) {
                let g = gap(&p.shape, &q.shape);
                if least.is_none_or(|l| g.mm < l.mm) {
                    least = Some(g);
                }
            }
        }
    }
    least
}

/// What is missing, in the order met, each once.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Missing(pub Vec<Lack>);

impl Missing {
    pub fn one(lack: impl Into<Lack>) -> Missing {
        Missing(vec![lack.into()])
    }

    pub fn and(mut self, other: &Missing) -> Missing {
        for name in &other.0 {
            if !self.0.contains(name) {
                self.0.push(name.clone());
            }
        }
        self
    }
}

/// A value, or the names of the figures it lacks.
pub type Known<T> = Result<T, Missing>;

/// Both, or everything that either lacks.
pub fn both<A, B>(a: Known<A>, b: Known<B>) -> Known<(A, B)> {
    match (a, b) {
        (Ok(a), Ok(b)) => Ok((a, b)),
        (Err(m), Ok(_)) | (Ok(_), Err(m)) => Err(m),
        (Err(m), Err(n)) => Err(m.and(&n)),
    }
}
