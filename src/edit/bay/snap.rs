//! What a thing that is moved by hand is drawn to, in a fixed order: corners, middles of walls, edges of walls and things,
//! lines of the vehicle and of lifts, the grid.

use super::BayThing;
use super::floor::side;
use super::several::{bounds, shaped};
use crate::geometry::{Bounds, P2, V2};
use crate::model::Bay;

/// Lines of the grid, mm apart.
const GRID: f64 = 100.0;
/// The grid draws from no further than this, mm.
const GRID_REACH: f64 = 12.0;

/// What draws, in the order in which it wins.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SnapTo {
    Corner(usize),
    MiddleOfWall(usize),
    Wall(usize),
    Thing(String),
    /// The middle of the vehicle's front axle or its centre line.
    Vehicle,
    /// The middle of a lift's posts.
    Lift(String),
    Grid,
}

impl SnapTo {
    /// As it is told beside the pointer; `wall` names a side of the floor.
    pub fn words(&self, wall: impl Fn(usize) -> String) -> String {
        match self {
            SnapTo::Corner(i) => format!("corner {i}"),
            SnapTo::MiddleOfWall(i) => format!("the middle of {}", wall(*i)),
            SnapTo::Wall(i) => wall(*i),
            SnapTo::Thing(name) => name.clone(),
            SnapTo::Vehicle => "the vehicle's axle or centre line".into(),
            SnapTo::Lift(name) => format!("the middle of {name}"),
            SnapTo::Grid => "the grid".into(),
        }
    }

    /// Drawn to a thing's middle, not to its edges.
    fn is_for_middles(&self) -> bool {
        match self {
            SnapTo::MiddleOfWall(_) | SnapTo::Vehicle | SnapTo::Lift(_) | SnapTo::Grid => true,
            SnapTo::Corner(_) | SnapTo::Wall(_) | SnapTo::Thing(_) => false,
        }
    }

    fn order(&self) -> usize {
        match self {
            SnapTo::Corner(_) => 0,
            SnapTo::MiddleOfWall(_) => 1,
            SnapTo::Wall(_) | SnapTo::Thing(_) => 2,
            SnapTo::Vehicle | SnapTo::Lift(_) => 3,
            SnapTo::Grid => 4,
        }
    }
}

/// The lines that draw, across (x) and along (y) the bay, mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Guides {
    x: Vec<(f64, SnapTo)>,
    y: Vec<(f64, SnapTo)>,
}

/// A move as it was drawn, and what drew it, across and along.
#[derive(Clone, Debug, PartialEq)]
pub struct Snapped {
    pub by: V2,
    pub to: [Option<SnapTo>; 2],
}

impl Guides {
    /// The lines of a bay but for those of what is moved. `axle`: the middle of the front axle of a vehicle that stands along
    /// one of the bay's axes.
    pub fn new(bay: &Bay, moving: &[BayThing], axle: Option<P2>) -> Guides {
        let mut all = Guides::default();
        for (i, p) in bay.floor.points.iter().enumerate() {
            if !moving.contains(&BayThing::Corner(i)) {
                all.point(P2::new(p.0, p.1), SnapTo::Corner(i));
            }
            let Some((a, way, long)) = side(bay, i) else { continue };
            let middle = a + way * (long / 2.0);
            // a wall along an axis draws what stands at it; its middle draws along it
            if way.x.abs() < 1e-9 {
                all.x.push((a.x, SnapTo::Wall(i)));
                all.y.push((middle.y, SnapTo::MiddleOfWall(i)));
            } else if way.y.abs() < 1e-9 {
                all.y.push((a.y, SnapTo::Wall(i)));
                all.x.push((middle.x, SnapTo::MiddleOfWall(i)));
            }
        }
        for thing in shaped(bay).filter(|t| !moving.contains(t)) {
            let Some(own) = bounds(bay, &[thing]) else { continue };
            all.point(own.min, SnapTo::Thing(thing.name(bay)));
            all.point(own.max, SnapTo::Thing(thing.name(bay)));
        }
        for (i, lift) in bay.lifts.iter().enumerate() {
            let posts: Vec<BayThing> =
                (0..lift.posts.len()).map(|post| BayThing::Post { lift: i, post }).collect();
            if let Some(about) =
                bounds(bay, &posts).filter(|_| posts.len() > 1 && !moving.iter().any(|t| posts.contains(t)))
            {
                all.point(about.centre(), SnapTo::Lift(lift.name.to_string()));
            }
        }
        if let Some(axle) = axle {
            all.point(axle, SnapTo::Vehicle);
        }
        all
    }

    fn point(&mut self, p: P2, to: SnapTo) {
        self.x.push((p.x, to.clone()));
        self.y.push((p.y, to));
    }

    /// The move drawn to what lies within `reach` mm of where it leads; `own` is the box before the move.
    pub fn snapped(&self, own: &Bounds, by: V2, reach: f64) -> Snapped {
        let one = |guides: &[(f64, SnapTo)], low: f64, high: f64, by: f64| {
            let middle = (low + high) / 2.0;
            let drawn = guides.iter().flat_map(|(at, to)| {
                let from = if to.is_for_middles() { vec![middle] } else { vec![low, high] };
                from.into_iter().map(move |from| (at - from, to))
            });
            let near = drawn.filter(|(new, _)| (new - by).abs() <= reach);
            let best = near.min_by(|a, b| {
                let off = |new: f64| (new - by).abs();
                a.1.order().cmp(&b.1.order()).then(off(a.0).total_cmp(&off(b.0)))
            });
            let grid = ((middle + by) / GRID).round() * GRID - middle;
            match best {
                Some((new, to)) => (new, Some(to.clone())),
                None if (grid - by).abs() <= reach.min(GRID_REACH) => (grid, Some(SnapTo::Grid)),
                None => (by, None),
            }
        };
        let (x, to_x) = one(&self.x, own.min.x, own.max.x, by.x);
        let (y, to_y) = one(&self.y, own.min.y, own.max.y, by.y);
        Snapped { by: V2::new(x, y), to: [to_x, to_y] }
    }
}
