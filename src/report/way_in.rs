//! The way in as JSON: its legs in the order driven, and where there is least room.

use serde::Serialize;

use super::json::{point, tidy};
use crate::driving::{DriveIn, Path, Segment};
use crate::layout::Stance;

#[derive(Serialize)]
pub(super) struct WayIn {
    legs: Vec<Leg>,
    /// Least room on the way.
    least_mm: Option<f64>,
    /// Where that is: the middle between the two nearest points.
    at_mm: [f64; 2],
}

/// One stretch driven without touching the steering wheel. Poses as the job's: the front axle's middle and the heading.
#[derive(Serialize)]
struct Leg {
    from: [f64; 3],
    to: [f64; 3],
    /// Of the rear axle's middle; `null` straight.
    radius_mm: Option<f64>,
    reverse: bool,
}

/// `None`: no way was found.
pub(super) fn way_in(driven: Option<&DriveIn>) -> Option<WayIn> {
    let path = driven?.path()?;
    let (least, at) = (path.tightest.margin, path.tightest.at);
    Some(WayIn {
        legs: path.segments.iter().map(|s| leg(path, s)).collect(),
        least_mm: least.is_finite().then(|| tidy(least)),
        at_mm: point(&nalgebra::center(&at.0, &at.1)),
    })
}

fn leg(path: &Path, segment: &Segment) -> Leg {
    let (from, to) = path.ends(segment);
    Leg {
        from: figures(&from),
        to: figures(&to),
        radius_mm: (!segment.is_straight()).then(|| tidy(1.0 / segment.curvature.abs())),
        reverse: segment.is_backward(),
    }
}

fn figures(stance: &Stance) -> [f64; 3] {
    [tidy(stance.x), tidy(stance.y), tidy(stance.heading)]
}
