//! Where the floor lets the vehicle stand: the places at its heading from which everything the procedures ask of the
//! floor's plane is kept, and the one with most to spare. Read off a grid, and
//! refined to the millimetre about its best.

use crate::checks::{level_map, level_margin};
use crate::geometry::{Bounds, P2, P3, Patch, V2, segment_gap, union_within};
use crate::layout::{Layout, Stance, slice};

/// Places of the grid, about.
const PLACES: f64 = 2500.0;
/// The finest grid of the map, mm.
const FINEST: f64 = 50.0;
/// Margins that differ by no more are alike, mm: no level or laser in a shop tells floors apart by less.
const ALIKE: f64 = 0.2;

/// What the floor says of every place at one heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Even {
    /// Where the front axle's middle keeps everything, to within the grid; linear between its places.
    pub patches: Vec<Patch>,
    /// Between neighbours of the grid, mm.
    pub pitch: f64,
    /// The place with the largest least margin of rule `level`, and that margin, mm; of places alike the one deepest
    /// inside; below 0 where the floor is nowhere even enough. `None` where nothing is known of any place.
    pub best: Option<(Stance, f64)>,
    /// The best place was looked for only where everything else fits.
    pub within: bool,
}

/// Looks over the floor at the layout's heading. `region`: where everything else fits, outlines with holes clockwise; the
/// best place lies in it, or anywhere on the floor where it is empty. `None` where no procedure asks for a level floor,
/// where none was surveyed, or once `stop` says so.
pub fn even(layout: &Layout, region: &[Vec<P2>], stop: &dyn Fn() -> bool) -> Option<Even> {
    let asked = layout.setups.iter().any(|s| s.def.level.is_some());
    if !asked || layout.stage.survey.is_empty() {
        return None;
    }
    let floor = &layout.bundle.bay.floor.outline.0;
    let bounds = floor.bounds();
    let size = bounds.size();
    let pitch = (size.x * size.y / PLACES).sqrt().max(FINEST);
    let (columns, rows) = ((size.x / pitch) as usize + 1, (size.y / pitch) as usize + 1);
    let place = |column: usize, row: usize| bounds.min + V2::new(column as f64, row as f64) * pitch;
    let stance = |p: P2| Stance { x: p.x, y: p.y, ..layout.stance };
    let mut margins = Vec::with_capacity(columns * rows);
    for row in 0..rows {
        if stop() {
            return None;
        }
        let stances: Vec<Stance> = (0..columns).map(|column| stance(place(column, row))).collect();
        margins.extend(level_map(layout, &stances));
    }
    let spot = |column: usize, row: usize| {
        let (p, margin) = (place(column, row), margins[row * columns + column]?);
        Some(P3::new(p.x, p.y, margin))
    };
    let mut pieces = Vec::new();
    for (column, row) in (1..rows).flat_map(|row| (1..columns).map(move |column| (column, row))) {
        let corners = [(1, 1), (0, 1), (0, 0), (1, 0)].map(|(x, y)| spot(column - x, row - y));
        if let [Some(a), Some(b), Some(c), Some(d)] = corners {
            pieces.extend([[a, b, c], [a, c, d]].map(|t| slice(&t, 0.0, f64::INFINITY)));
        }
    }
    let whole = [floor.points().to_vec()];
    let rings = if region.is_empty() { &whole[..] } else { region };
    let margin = |p: P2| level_margin(&layout.at(stance(p)));
    let best = best(rings, &margin).map(|(p, margin)| (stance(p), margin));
    let patches = union_within(&pieces, floor.points());
    Some(Even { patches, pitch, best, within: !region.is_empty() })
}

/// The place inside outlines with the largest margin; of those that have no less than it by more than [`ALIKE`], the one
/// farthest from the outlines.
fn best(rings: &[Vec<P2>], margin: &dyn Fn(P2) -> Option<f64>) -> Option<(P2, f64)> {
    let bounds = Bounds::of(rings.iter().flatten().copied());
    let size = bounds.size();
    let pitch = (size.x * size.y / PLACES).sqrt().max(1.0);
    let (columns, rows) = ((size.x / pitch) as usize + 1, (size.y / pitch) as usize + 1);
    let whole = |p: P2| P2::new(p.x.round(), p.y.round());
    let grid = (0..rows).flat_map(|row| (0..columns).map(move |column| V2::new(column as f64, row as f64)));
    let grid = grid.map(|at| whole(bounds.min + at * pitch));
    // an outline may lie between the places of the grid
    let between = rings.iter().filter_map(|ring| within(rings, ring)).flat_map(|p| [whole(p), p]);
    let may = |p: P2| inside(rings, p);
    let known: Vec<(P2, f64)> =
        grid.chain(between).filter(|p| may(*p)).filter_map(|p| Some((p, margin(p)?))).collect();
    let highest = |all: &mut dyn Iterator<Item = (P2, f64)>| all.max_by(|a, b| a.1.total_cmp(&b.1));
    let step = (pitch / 2.0).ceil();
    let most = climbed(highest(&mut known.iter().copied())?, step, &|p| margin(p).filter(|_| may(p)));
    let enough = if most.1 >= 0.0 { (most.1 - ALIKE).max(0.0) } else { most.1 - ALIKE };
    let alike = known.into_iter().chain([most]).filter(|(_, m)| *m >= enough);
    let from = highest(&mut alike.map(|(p, _)| (p, depth(rings, p))))?;
    let deep = |p: P2| margin(p).filter(|m| may(p) && *m >= enough).map(|_| depth(rings, p));
    let (at, _) = climbed(from, step, &deep);
    Some((at, margin(at)?))
}

/// Climbs from a place to a better one in steps that are halved down to 1 mm.
fn climbed(start: (P2, f64), step: f64, worth: &dyn Fn(P2) -> Option<f64>) -> (P2, f64) {
    const WAYS: [(f64, f64); 8] = [
        (1.0, 0.0),
        (-1.0, 0.0),
        (0.0, 1.0),
        (0.0, -1.0),
        (1.0, 1.0),
        (1.0, -1.0),
        (-1.0, 1.0),
        (-1.0, -1.0),
    ];
    let (mut at, mut best) = start;
    let mut step = step.max(1.0);
    loop {
        let tried = WAYS.iter().map(|(x, y)| at + V2::new(*x, *y) * step);
        let next = tried.filter_map(|p| Some((p, worth(p)?))).max_by(|a, b| a.1.total_cmp(&b.1));
        match next {
            Some((p, worth)) if worth > best + 1e-9 => (at, best) = (p, worth),
            _ if step > 1.0 => step = (step / 2.0).ceil().min(step - 1.0),
            _ => return (at, best),
        }
    }
}

/// How far a place is from the outlines, mm.
fn depth(rings: &[Vec<P2>], p: P2) -> f64 {
    let edges = rings.iter().flat_map(|r| r.iter().zip(r.iter().cycle().skip(1)));
    edges.map(|(a, b)| segment_gap(*a, *b, p, p).mm).fold(f64::INFINITY, f64::min)
}

/// A place inside outlines and outside their holes, half way up one of them: the middle of the widest piece of the line
/// across.
fn within(rings: &[Vec<P2>], ring: &[P2]) -> Option<P2> {
    let y = Bounds::of(ring).centre().y;
    let edges = rings.iter().flat_map(|r| r.iter().zip(r.iter().cycle().skip(1)));
    let cut = edges.filter(|(a, b)| (a.y > y) != (b.y > y));
    let mut xs: Vec<f64> = cut.map(|(a, b)| a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y))).collect();
    xs.sort_by(f64::total_cmp);
    let pieces = xs.chunks_exact(2).max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])));
    pieces.map(|x| P2::new((x[0] + x[1]) / 2.0, y)).filter(|p| inside(rings, *p))
}

/// Whether a place lies inside outlines and outside their holes.
fn inside(rings: &[Vec<P2>], p: P2) -> bool {
    let crosses = |(a, b): (&P2, &P2)| {
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * ((p.y - a.y) / (b.y - a.y))
    };
    let cuts = rings.iter().flat_map(|r| r.iter().zip(r.iter().cycle().skip(1))).filter(|e| crosses(*e));
    cuts.count() % 2 == 1
}
