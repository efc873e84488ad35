//! Targets and marks whose place the bay decides: on a wall, on an installed thing, on a painted line. How far the
//! present pose misses them.

use std::sync::Arc;

use super::setup::{Setup, Stand, Station};
use super::solid::{Known, Missing, both};
use super::stage::BoundKind;
use super::{Layout, lengths};
use crate::geometry::{Frame, NOISE_MM, P2, V2};
use crate::model::further::FixedTo;
use crate::model::{Figure, Name};

/// One way in which the pose may miss.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Along the target's facing.
    Along,
    /// Across it.
    Across,
    /// In direction.
    Turn,
    /// Off a painted line, sideways.
    Line,
}

impl Axis {
    pub fn word(self) -> &'static str {
        match self {
            Axis::Along => "along",
            Axis::Across => "across",
            Axis::Turn => "turn",
            Axis::Line => "line",
        }
    }
}

/// How far something of the vehicle is from where the bay wants it.
#[derive(Clone, Debug, PartialEq)]
pub struct Miss {
    pub station: Arc<str>,
    /// The wall, the installed thing or the painted line.
    pub to: Arc<str>,
    pub axis: Axis,
    /// mm, or degrees for `Turn`; signed: along positive means the bay's thing lies farther off than the target.
    pub by: f64,
    pub allowed: f64,
    /// No tolerance is printed: the shop's measuring figure stands in.
    pub shops: bool,
    /// Where the target is, and where the bay wants it.
    pub between: (P2, P2),
    /// The direction a shift of the vehicle counts in (unit); none for `Turn`.
    pub way: Option<V2>,
}

/// Every miss of one setup at the layout's pose; what is missing or not there at all is told by name.
pub fn misses(layout: &Layout, setup: &Setup) -> Vec<Known<Miss>> {
    let mut all = Vec::new();
    for station in &setup.stations {
        let Ok(stand) = &station.place else { continue };
        match &station.def.fixed_to {
            Some(FixedTo::Wall) => all.extend(wall(layout, setup, station, stand)),
            Some(FixedTo::Bay(name)) => all.extend(installed(layout, setup, station, stand, name)),
            Some(FixedTo::Earlier(_)) | None => {}
        }
    }
    if let Some(on) = &setup.def.stand_on {
        all.push(on_line(layout, setup, &on.mark, &on.floor_line, &on.within));
    }
    all
}

/// The wall a target hangs on: of the walls facing the way its front looks, the nearest to its back. Its label.
pub fn wall_behind(layout: &Layout, stand: &Stand) -> Option<u32> {
    let back = stand.frame.to_world(P2::new(stand.size.back, 0.0));
    let cos_45 = std::f64::consts::FRAC_1_SQRT_2;
    (0..)
        .zip(&layout.stage.walls)
        .filter(|(_, b)| matches!(b.kind, BoundKind::Wall(_)) && b.inward.dot(&stand.frame.x) > cos_45)
        .filter(|(_, b)| {
            let way = b.side.1 - b.side.0;
            let along = (back - b.side.0).dot(&way) / way.norm();
            (0.0..=way.norm()).contains(&along)
        })
        .min_by(|(_, a), (_, b)| {
            let off = |side: P2, inward: V2| (back - side).dot(&inward).abs();
            off(a.side.0, a.inward).total_cmp(&off(b.side.0, b.inward))
        })
        .map(|(label, _)| label)
}

fn wall(layout: &Layout, setup: &Setup, station: &Station, stand: &Stand) -> Vec<Known<Miss>> {
    let Some(label) = wall_behind(layout, stand) else {
        return vec![Err(Missing::one(format!("a wall for {} to hang on", station.name)))];
    };
    let bound = layout.stage.bound(label);
    let back = stand.frame.to_world(P2::new(stand.size.back, 0.0));
    let x = stand.frame.x;
    // how far behind the back, along the target's facing, the wall lies
    let by = (back - bound.side.0).dot(&bound.inward) / x.dot(&bound.inward);
    let turn = x.perp(&bound.inward).atan2(x.dot(&bound.inward)).to_degrees();
    let named = (station.name.clone(), bound.name.clone());
    let tolerance = &station.def.tolerance;
    vec![
        with(layout, setup, &tolerance.along, Axis::Along, stand).map(|(allowed, shops)| Miss {
            station: named.0.clone(),
            to: named.1.clone(),
            axis: Axis::Along,
            by,
            allowed,
            shops,
            between: (back, back - x * by),
            way: Some(bound.inward),
        }),
        with(layout, setup, &tolerance.turn, Axis::Turn, stand).map(|(allowed, shops)| Miss {
            station: named.0.clone(),
            to: named.1.clone(),
            axis: Axis::Turn,
            by: turn,
            allowed,
            shops,
            between: (back, back - x * by),
            way: None,
        }),
    ]
}

fn installed(
    layout: &Layout,
    setup: &Setup,
    station: &Station,
    stand: &Stand,
    name: &Name,
) -> Vec<Known<Miss>> {
    let Some(thing) = layout.bundle.bay.installed.iter().find(|i| i.name == *name) else {
        return vec![Err(Missing::one(name.text.clone()))];
    };
    let want = Frame::heading(P2::new(thing.at.0, thing.at.1), thing.turn.to_radians());
    let off = want.origin - stand.frame.origin;
    let (x, y) = (stand.frame.x, stand.frame.y());
    let turn = x.perp(&want.x).atan2(x.dot(&want.x)).to_degrees();
    let tolerance = &station.def.tolerance;
    [
        (Axis::Along, &tolerance.along, -off.dot(&x), Some(x)),
        (Axis::Across, &tolerance.across, off.dot(&y), Some(y)),
        (Axis::Turn, &tolerance.turn, turn, None),
    ]
    .into_iter()
    .map(|(axis, figure, by, way)| {
        with(layout, setup, figure, axis, stand).map(|(allowed, shops)| Miss {
            station: station.name.clone(),
            to: name.text.clone(),
            axis,
            by,
            allowed,
            shops,
            between: (stand.frame.origin, want.origin),
            way,
        })
    })
    .collect()
}

fn on_line(
    layout: &Layout,
    setup: &Setup,
    mark: &Name,
    line: &Name,
    within: &Option<Figure>,
) -> Known<Miss> {
    let Some(painted) = layout.bundle.bay.floor_lines.iter().find(|l| l.name == *line) else {
        return Err(Missing::one(line.text.clone()));
    };
    let (at, (allowed, shops)) = both(lengths::at(setup, mark), value(layout, setup, within, layout.needs.measuring))?;
    let points: Vec<P2> = painted.points.iter().map(|p| P2::new(p.0, p.1)).collect();
    let nearest = points
        .windows(2)
        .map(|w| {
            let way = w[1] - w[0];
            let t = ((at - w[0]).dot(&way) / way.norm_squared().max(NOISE_MM)).clamp(0.0, 1.0);
            w[0] + way * t
        })
        .min_by(|a, b| (a - at).norm().total_cmp(&(b - at).norm()))
        .ok_or_else(|| Missing::one(line.text.clone()))?;
    let off = at - nearest;
    Ok(Miss {
        station: mark.text.clone(),
        to: line.text.clone(),
        axis: Axis::Line,
        by: off.norm(),
        allowed,
        shops,
        between: (at, nearest),
        way: (off.norm() > NOISE_MM).then(|| off.normalize()),
    })
}

/// The printed tolerance, else the shop's measuring figure: for a turn, what shifts the edge of the face by as much.
fn with(
    layout: &Layout,
    setup: &Setup,
    printed: &Option<Figure>,
    axis: Axis,
    stand: &Stand,
) -> Known<(f64, bool)> {
    let shop = match axis {
        Axis::Turn => (layout.needs.measuring / stand.size.half_width.max(1.0)).atan().to_degrees(),
        _ => layout.needs.measuring,
    };
    value(layout, setup, printed, shop)
}

fn value(layout: &Layout, setup: &Setup, printed: &Option<Figure>, shop: f64) -> Known<(f64, bool)> {
    match printed {
        Some(figure) => layout.values(setup.procedure).of(figure).map(|v| (v.abs(), false)),
        None => Ok((shop, true)),
    }
}
