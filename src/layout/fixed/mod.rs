//! Targets and marks whose place the bay decides: on a wall, on an installed thing, on a painted line. How far the
//! present pose misses them.

use super::setup::{Setup, Stand, Station};
use super::solid::{Band, Known, Missing, both};
use super::stage::{Bound, BoundKind};
use super::{Layout, lengths};
use crate::geometry::{Frame, NOISE_MM, P2, Shape, V2};
use crate::model::further::FixedTo;
use crate::model::{Figure, Item, ItemKind, Name};

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

    /// The axis of this word.
    pub fn read(word: &str) -> Option<Axis> {
        [Axis::Along, Axis::Across, Axis::Turn, Axis::Line].into_iter().find(|a| a.word() == word)
    }
}

/// How far something of the vehicle is from where the bay wants it.
///
/// A shift of the vehicle by d mm along `way` adds d to `by`: the pose is right where |`by`| is at most `allowed`.
#[derive(Clone, Debug, PartialEq)]
pub struct Miss {
    /// The station, or for a painted line the mark.
    pub station: Item,
    /// The wall, the installed thing or the painted line.
    pub to: Item,
    pub axis: Axis,
    /// mm; for `Turn` the degrees the vehicle is to be turned anticlockwise. Along: positive where the bay's thing lies
    /// farther off than the target should. Across: positive where the target lies to its own left of the bay's thing. Off a line: positive to the left of its points' order.
    pub by: f64,
    pub allowed: f64,
    /// No tolerance is printed: the shop's measuring figure stands in.
    pub shops: bool,
    /// Where the mark or target is, and where a shift along `way` alone would bring it; bay axes.
    pub between: (P2, P2),
    /// The direction a shift of the vehicle counts in, unit, bay axes; `None` for `Turn`.
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

/// A wall faces the way a direction looks where the cosine between its inward normal and that direction is greater: less
/// than 45 degrees off.
pub const FACES: f64 = std::f64::consts::FRAC_1_SQRT_2 + 1e-9;

/// The wall a target hangs on: of the walls facing the way its front looks, the nearest to its mark, the lowest label of
/// walls equally near. Its label.
pub fn wall_behind(layout: &Layout, stand: &Stand) -> Option<u32> {
    let off = |b: &Bound| (stand.mark - b.side.0).dot(&b.inward).abs();
    let faces = |b: &Bound| {
        let way = b.side.1 - b.side.0;
        let along = (stand.mark - b.side.0).dot(&way) / way.norm();
        matches!(b.kind, BoundKind::Wall(_))
            && b.inward.dot(&stand.frame.x) > FACES
            && (-NOISE_MM..=way.norm() + NOISE_MM).contains(&along)
    };
    let walls = || (0..).zip(&layout.stage.walls).filter(|(_, b)| faces(b));
    let nearest = walls().map(|(_, b)| off(b)).fold(f64::INFINITY, f64::min);
    walls().find(|(_, b)| off(b) <= nearest + NOISE_MM).map(|(label, _)| label)
}

/// The station that decides where a target is, with its setup: the target's own, or where it stays from an earlier
/// setup, the one there.
pub fn hung_by<'a>(layout: &'a Layout, setup: usize, station: &'a Station) -> (usize, &'a Station) {
    let mut decides = (setup, station);
    while let Some(FixedTo::Earlier(name)) = &decides.1.def.fixed_to {
        let procedure = layout.setups[decides.0].procedure;
        let mut before = layout.setups.iter().enumerate().take(decides.0);
        let earlier = before.find(|(_, s)| s.procedure == procedure && *name == *s.name);
        let there =
            earlier.and_then(|(i, s)| Some((i, s.stations.iter().find(|o| o.name == decides.1.name)?)));
        match there {
            Some(there) => decides = there,
            None => break,
        }
    }
    decides
}

/// The walls the vehicle is driven up to for a setup, by label: those its targets hang on, from this setup on or from
/// an earlier one.
pub fn driven_up_to(layout: &Layout, setup: usize) -> impl Iterator<Item = u32> + '_ {
    let stations = layout.setups[setup].stations.iter();
    stations.filter_map(move |station| {
        let (_, decides) = hung_by(layout, setup, station);
        let stand = decides.place.as_ref().ok()?;
        (decides.def.fixed_to == Some(FixedTo::Wall)).then(|| wall_behind(layout, stand)).flatten()
    })
}

/// A stretch of a wall that is not bare where a target hangs.
#[derive(Clone, Debug, PartialEq)]
pub struct NotBare {
    /// Along the wall from the first point of its side, mm.
    pub from: f64,
    pub to: f64,
    pub of: Item,
    pub what: Covers,
}

/// What makes a wall not bare.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Covers {
    /// A doorway, by the label of its bound.
    Door(u32),
    /// A thing before it, by its place among the stage's.
    Thing(usize),
}

/// The doorways of a wall at the height of the target's face, and the things at its height that stand before the wall,
/// nearer than the shop walks round a vehicle.
pub fn not_bare(layout: &Layout, stand: &Stand, label: u32) -> Vec<NotBare> {
    let stage = &layout.stage;
    let bound = stage.bound(label);
    let way = (bound.side.1 - bound.side.0).normalize();
    // of a round thing the circle, not the chords it is drawn with
    let reach = |shape: &Shape, v: V2| {
        let lengths = shape.pieces().iter().flatten().map(|p| v.dot(&(p - bound.side.0)));
        let (lo, hi) = lengths.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), l| (lo.min(l), hi.max(l)));
        (lo - shape.radius(), hi + shape.radius())
    };
    let mut all = Vec::new();
    for (other, b) in (0..).zip(&stage.walls) {
        let (BoundKind::Door(door) | BoundKind::Apron(door)) = b.kind else { continue };
        let Some(door) = layout.bundle.bay.doorways.get(door) else { continue };
        if b.side == bound.side && Band::new(0.0, door.height).overlaps(&stand.face.z) {
            all.push(NotBare {
                from: door.from,
                to: door.from + door.width,
                of: Item::new(ItemKind::Doorway, door.name.text.clone()),
                what: Covers::Door(other),
            });
        }
    }
    let before = stand.size.front - stand.size.back + layout.needs.walk_around;
    for (t, thing) in stage.things.iter().enumerate() {
        let shape = &thing.solid.shape;
        let (near, far) = reach(shape, bound.inward);
        if thing.solid.z.overlaps(&stand.face.z) && near < before && far > NOISE_MM {
            let (from, to) = reach(shape, way);
            all.push(NotBare { from, to, of: thing.item().item(), what: Covers::Thing(t) });
        }
    }
    all
}

/// Stations that should hang on a wall and have none behind them.
pub fn without_wall<'a>(layout: &Layout, setup: &'a Setup) -> impl Iterator<Item = (&'a Station, &'a Stand)> {
    setup.stations.iter().filter_map(|station| {
        let stand = station.place.as_ref().ok()?;
        let hung = station.def.fixed_to == Some(FixedTo::Wall);
        (hung && wall_behind(layout, stand).is_none()).then_some((station, stand))
    })
}

fn wall(layout: &Layout, setup: &Setup, station: &Station, stand: &Stand) -> Vec<Known<Miss>> {
    let Some(label) = wall_behind(layout, stand) else { return Vec::new() };
    let bound = layout.stage.bound(label);
    let (mark, x) = (stand.mark, stand.frame.x);
    // how far behind the mark, along the target's facing, the wall lies
    let to_wall = (mark - bound.side.0).dot(&bound.inward) / x.dot(&bound.inward);
    let tolerance = &station.def.tolerance;
    [
        (Axis::Along, &tolerance.along, to_wall, Some(x)),
        (Axis::Turn, &tolerance.turn, angle(x, bound.inward), None),
    ]
    .into_iter()
    .map(|(axis, figure, by, way)| {
        with(layout, setup, figure, axis, stand).map(|(allowed, shops)| Miss {
            station: station.item().item(),
            to: bound.item().item(),
            axis,
            by,
            allowed,
            shops,
            between: (mark, mark - way.map_or(V2::zeros(), |w| w * by)),
            way,
        })
    })
    .collect()
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
    let off = stand.frame.origin - want.origin;
    let (x, y) = (stand.frame.x, stand.frame.y());
    let tolerance = &station.def.tolerance;
    [
        (Axis::Along, &tolerance.along, off.dot(&x), Some(x)),
        (Axis::Across, &tolerance.across, off.dot(&y), Some(y)),
        (Axis::Turn, &tolerance.turn, angle(x, want.x), None),
    ]
    .into_iter()
    .map(|(axis, figure, by, way)| {
        with(layout, setup, figure, axis, stand).map(|(allowed, shops)| Miss {
            station: station.item().item(),
            to: Item::new(ItemKind::Installed, name.text.clone()),
            axis,
            by,
            allowed,
            shops,
            between: (stand.frame.origin, stand.frame.origin - way.map_or(V2::zeros(), |w| w * by)),
            way,
        })
    })
    .collect()
}

/// Degrees anticlockwise from one direction to another.
fn angle(from: V2, to: V2) -> f64 {
    from.perp(&to).atan2(from.dot(&to)).to_degrees()
}

fn on_line(layout: &Layout, setup: &Setup, mark: &Name, line: &Name, within: &Option<Figure>) -> Known<Miss> {
    let Some(painted) = layout.bundle.bay.floor_lines.iter().find(|l| l.name == *line) else {
        return Err(Missing::one(line.text.clone()));
    };
    let (at, (allowed, shops)) =
        both(lengths::at(setup, mark), value(layout, setup, within, layout.needs.measuring))?;
    let points: Vec<P2> = painted.points.iter().map(|p| P2::new(p.0, p.1)).collect();
    let stretches = points.windows(2).filter(|w| (w[1] - w[0]).norm() > NOISE_MM);
    let (by, nearest, way) = stretches
        .map(|w| off_stretch(at, w[0], w[1]))
        .min_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))
        .ok_or_else(|| Missing::one(line.text.clone()))?;
    Ok(Miss {
        station: Item::new(ItemKind::Mark, mark.text.clone()),
        to: Item::new(ItemKind::FloorLine, line.text.clone()),
        axis: Axis::Line,
        by,
        allowed,
        shops,
        between: (at, nearest),
        way: Some(way),
    })
}

/// How far a point lies off a stretch of a line, the nearest point of it, and the direction that adds to the first:
/// to the left beside it, straight away beyond its ends.
fn off_stretch(at: P2, a: P2, b: P2) -> (f64, P2, V2) {
    let way = b - a;
    let t = (at - a).dot(&way) / way.norm_squared();
    let nearest = a + way * t.clamp(0.0, 1.0);
    if (0.0..=1.0).contains(&t) {
        let left = V2::new(-way.y, way.x).normalize();
        return ((at - nearest).dot(&left), nearest, left);
    }
    let off = at - nearest;
    (off.norm(), nearest, off.normalize())
}

/// The printed tolerance, else the shop's measuring figure: for a turn, what shifts the edge of the face by as much.
pub fn with(
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

/// A figure of a setup, or the shop's own where none is printed (then true).
pub fn value(layout: &Layout, setup: &Setup, printed: &Option<Figure>, shop: f64) -> Known<(f64, bool)> {
    match printed {
        Some(figure) => layout.values(setup.procedure).of(figure).map(|v| (v.abs(), false)),
        None => Ok((shop, true)),
    }
}

#[cfg(test)]
mod tests;
