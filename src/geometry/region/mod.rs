//! The usable floor: cells that hang together, and the labelled edges that bound them.

use super::clip::outside_all;
use super::convex::{convex_gap, foot};
use super::depth::depth;
use super::stretch::passes_through;
use super::{Bounds, Gap, NOISE_MM, P2, Polygon, Shape, V2, twice_area};

mod beyond;
mod farthest;
mod near;
mod search;

pub use beyond::Skips;

/// A side of the floor, or a stretch of one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    pub a: P2,
    pub b: P2,
    pub label: u32,
}

/// The union of some cells (the floor, the aprons of open doors) with the edges that bound it. Every stretch of
/// the union's outline must be listed as an edge. A line between two cells that is not listed is open; one that is
/// listed is a thin wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    cells: Vec<Polygon>,
    edges: Vec<Edge>,
    /// Convex pieces of all cells.
    pieces: Vec<Vec<P2>>,
    /// The places of the edges, by label.
    by_label: Vec<usize>,
}

/// How far a shape is inside or outside a region, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RegionGap {
    /// Inside: distance to the nearest edge. Outside: minus the distance of the farthest part from the region.
    /// Across a thin wall: minus the shortest shift off it.
    pub mm: f64,
    /// The edge's label, the lowest of edges equally near.
    pub label: u32,
    pub on_shape: P2,
    pub on_edge: P2,
}

impl Region {
    /// A region of these cells, bounded by these edges.
    pub fn new(cells: Vec<Polygon>, edges: Vec<Edge>) -> Region {
        let pieces = cells.iter().flat_map(Polygon::convex_pieces).collect();
        let mut by_label: Vec<usize> = (0..edges.len()).collect();
        by_label.sort_by_key(|i| edges[*i].label);
        Region { cells, edges, pieces, by_label }
    }

    pub fn cells(&self) -> &[Polygon] {
        &self.cells
    }

    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// The edges with this label, in the order they were listed.
    pub fn edges_of(&self, label: u32) -> impl Iterator<Item = &Edge> {
        let first = self.by_label.partition_point(|i| self.edges[*i].label < label);
        self.by_label[first..].iter().map(|i| &self.edges[*i]).take_while(move |e| e.label == label)
    }

    /// Is the point in a cell or on its outline?
    pub fn contains(&self, p: P2) -> bool {
        self.cells.iter().any(|c| c.contains(p))
    }

    /// Area of the union of the cells, mm².
    pub fn area(&self) -> f64 {
        let new_parts = |i: usize| outside_all(self.pieces[i].clone(), &self.pieces[..i]);
        let parts = (0..self.pieces.len()).flat_map(new_parts);
        parts.map(|p| twice_area(&p) / 2.0).sum()
    }

    /// Convex pieces, without area in common, that cover everything outside the cells as far as `reach` from them.
    pub fn outside(&self, reach: f64) -> Vec<Vec<P2>> {
        let empty = Bounds::of(Vec::<P2>::new());
        let all = self.cells.iter().fold(empty, |b, c| b.union(&c.bounds()));
        let b = all.grow(reach);
        let corners = [(b.min.x, b.min.y), (b.max.x, b.min.y), (b.max.x, b.max.y), (b.min.x, b.max.y)];
        outside_all(corners.map(|(x, y)| P2::new(x, y)).to_vec(), &self.pieces)
    }

    /// The signed distance of a shape to the region's edges, leaving out the labels that `skip` names.
    ///
    /// Where the whole shape lies in the cells and no edge passes through its inside: the least distance to an
    /// edge. Where a part lies outside: minus the greatest distance of any part to the region (within 0.01 mm),
    /// with the label of the edge nearest to that part; parts as near to a skipped edge do not count. Where
    /// only an edge between cells passes through it: minus the shortest shift that takes the shape off that edge.
    /// None when no edge is left.
    pub fn signed(&self, s: &Shape, skip: &dyn Fn(u32) -> bool) -> Option<RegionGap> {
        let mut nearest: Option<RegionGap> = None;
        let (mut crossed, mut skipped) = (false, false);
        let bounds = s.bounds();
        for e in &self.edges {
            // what is farther than the nearest so far says nothing, whether skipped or not
            if nearest
                .is_some_and(|n| bounds.distance(&Bounds::of([e.a, e.b])) > n.mm.max(0.0) + 2.0 * NOISE_MM)
            {
                skipped |= skip(e.label);
                continue;
            }
            let g = edge_gap(s, e);
            crossed |= passes_through(s, e.a, e.b, g.mm);
            if skip(e.label) {
                skipped = true;
            } else {
                take_nearer(&mut nearest, g, e.label);
            }
        }
        let nearest = nearest?;
        if !crossed && self.contains(inner_point(s)) {
            return Some(nearest);
        }
        let skip = skipped.then_some(skip);
        if let Some(far) = self.farthest(s, skip).filter(|f| f.mm < -NOISE_MM) {
            return Some(far);
        }
        if !crossed || s.pieces().len() == 1 {
            return Some(nearest);
        }
        // Across a thin wall, with a shape in several pieces: the shift must take all of them off.
        let mut off: Option<RegionGap> = None;
        for e in self.edges.iter().filter(|e| skip.is_none_or(|skip| !skip(e.label))) {
            let mut g = edge_gap(s, e);
            if passes_through(s, e.a, e.b, g.mm) {
                g = depth(s.pieces(), &[thin_wall(e)], s.radius(), 0.0);
            }
            take_nearer(&mut off, g, e.label);
        }
        off
    }
}

/// The gap of the shape's nearest, or most deeply cut, piece to the edge.
fn edge_gap(s: &Shape, e: &Edge) -> Gap {
    let mut best = convex_gap(&s.pieces()[0], &[e.a, e.b], s.radius(), 0.0);
    for piece in &s.pieces()[1..] {
        let g = convex_gap(piece, &[e.a, e.b], s.radius(), 0.0);
        if g.mm < best.mm {
            best = g;
        }
    }
    best
}

fn take_nearer(best: &mut Option<RegionGap>, g: Gap, label: u32) {
    let nearer = match best {
        None => true,
        Some(b) if g.mm < b.mm - NOISE_MM => true,
        Some(b) => g.mm <= b.mm + NOISE_MM && label < b.label,
    };
    if nearer {
        *best = Some(RegionGap { mm: g.mm, label, on_shape: g.a, on_edge: g.b });
    }
}

/// A point well inside the shape's first piece.
fn inner_point(s: &Shape) -> P2 {
    let piece = &s.pieces()[0];
    let sum = piece.iter().fold(V2::zeros(), |sum, p| sum + p.coords);
    P2::from(sum / piece.len() as f64)
}

/// The edge as a wall a ten-thousandth of a millimetre thick: pieces that meet in a line then overlap it together.
fn thin_wall(e: &Edge) -> Vec<P2> {
    let n = V2::new(e.b.y - e.a.y, e.a.x - e.b.x).try_normalize(0.0).unwrap_or(V2::x()) * (50.0 * NOISE_MM);
    vec![e.a + n, e.b + n, e.b - n, e.a - n]
}

/// Distance of a point to an edge, and the edge's nearest point.
fn point_edge(p: P2, e: &Edge) -> Gap {
    #[cfg(test)]
    tests::LOOKS.with(|n| n.set(n.get() + 1));
    let b = foot(p, e.a, e.b);
    Gap { mm: (b - p).norm(), a: p, b }
}

#[cfg(test)]
mod tests;
