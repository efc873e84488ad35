//! Plane geometry: frames, polygons, convex pieces, distances, Minkowski differences, the usable floor.
//!
//! Lengths are millimetres, angles radians, anticlockwise positive. This is the only room that names
//! the polygon crate; everyone else sees the types re-exported here.
//!
//! Regions are closed: a shape that touches another has gap 0 and does not overlap it.

pub mod adjust;
mod bounds;
mod clip;
mod convex;
mod depth;
mod frame;
mod gap;
mod minkowski;
mod outline;
mod polygon;
mod pyramid;
mod rays;
mod region;
mod shape;
mod stretch;
mod union;
mod within;

pub use bounds::Bounds;
pub use clip::{convex_meet, cut};
pub(crate) use convex::convex_gap;
pub use convex::segment_gap;
pub use frame::{Frame, Line, meet_of_circles, rotate};
pub use gap::{Gap, gap, gap_at_least, point_gap};
pub use minkowski::minkowski_difference;
pub use outline::OutlineFault;
pub use polygon::{Polygon, triangles_around};
pub use pyramid::{Pyramid, Upright};
pub use rays::{Ray, RayGap};
pub use region::{Edge, Region, RegionGap, Skips};
pub use shape::{Shape, polygon_about};
pub use stretch::stretch_gap;
pub use union::union_outlines;
pub use within::{Patch, lines_within, union_within};

/// A point of the plane, mm.
pub type P2 = nalgebra::Point2<f64>;
/// A vector of the plane, mm, or a direction of length 1.
pub type V2 = nalgebra::Vector2<f64>;

/// A point in space, mm.
pub type P3 = nalgebra::Point3<f64>;
/// A vector in space, mm, or a direction of length 1.
pub type V3 = nalgebra::Vector3<f64>;

/// The one numeric-noise constant, mm: lengths that differ by no more than this are equal.
pub const NOISE_MM: f64 = 1e-6;

/// z component of the cross product: positive when `b` points to the left of `a`.
pub(crate) fn cross(a: V2, b: V2) -> f64 {
    a.x * b.y - a.y * b.x
}

/// Twice the signed area of the ring; positive when it runs anticlockwise.
pub(crate) fn twice_area(ring: &[P2]) -> f64 {
    let Some(&o) = ring.first() else { return 0.0 };
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| cross(a - o, b - o)).sum()
}
