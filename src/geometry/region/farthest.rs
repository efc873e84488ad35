//! The part of a shape farthest outside a region.
//!
//! The distance to one edge is convex over a convex part, so its greatest value there is at a corner; the distance
//! to the region is the least of them. A part is split until that bound shows that nothing in it is farther than
//! what was found.

use std::f64::consts::TAU;

use super::{Edge, Region, RegionGap, outside_all, point_edge};
use crate::geometry::clip::cut;
use crate::geometry::{Gap, NOISE_MM, P2, Shape, V2};

/// How much farther a part may be than the answer, mm.
const CLOSE_MM: f64 = 1e-3;
/// Corners of the polygon that stands for a circle across a floor that is not convex: at 1 m diameter it reaches
/// 0.005 mm too far.
const CIRCLE_CORNERS: usize = 720;
/// Parts looked at before the answer so far must do.
const ENOUGH: usize = 100_000;

type Skip<'a> = Option<&'a dyn Fn(u32) -> bool>;

impl Region {
    /// The farthest part outside with `mm` negative; none when no part that counts is outside.
    pub(super) fn farthest(&self, s: &Shape, skip: Skip) -> Option<RegionGap> {
        let search = Search {
            edges: &self.edges,
            skip,
            best: None,
        };
        if self.pieces.len() == 1 && skip.is_none() {
            self.beyond_convex(s, search)
        } else {
            self.beyond_any(s, search)
        }
    }

    /// From one convex cell the distance is convex: only corners can be farthest, and a circle reaches its radius
    /// beyond its centre.
    fn beyond_convex(&self, s: &Shape, mut search: Search) -> Option<RegionGap> {
        for p in s.pieces().iter().flatten() {
            let outside = !self.contains(*p);
            if s.radius() == 0.0 {
                if outside {
                    search.offer(*p);
                }
                continue;
            }
            let (mm, e, foot) = search.nearest(*p)?;
            let mm = if outside {
                mm + s.radius()
            } else {
                s.radius() - mm
            };
            let away = if outside { p - foot } else { foot - p };
            let away = away
                .try_normalize(NOISE_MM)
                .unwrap_or(V2::new(e.b.y - e.a.y, e.a.x - e.b.x).normalize());
            search.best = Some(RegionGap {
                mm: -mm,
                label: e.label,
                on_shape: p + away * s.radius(),
                on_edge: foot,
            });
        }
        search.best
    }

    fn beyond_any(&self, s: &Shape, mut search: Search) -> Option<RegionGap> {
        let pieces = if s.radius() > 0.0 {
            vec![about(s.pieces()[0][0], s.radius())]
        } else {
            s.pieces().to_vec()
        };
        let parts: Vec<Vec<P2>> = pieces
            .iter()
            .flat_map(|p| outside_all(p.clone(), &self.pieces))
            .collect();
        let parts = search.cut_at_corners(parts);
        // Of parts equally far the shape's own corners come first.
        for p in pieces
            .iter()
            .chain(&parts)
            .flatten()
            .filter(|p| !self.contains(**p))
        {
            search.offer(*p);
        }
        let mut open: Vec<[P2; 3]> = Vec::new();
        for part in &parts {
            open.extend((1..part.len() - 1).map(|i| [part[0], part[i], part[i + 1]]));
        }
        let mut looked_at = 0;
        while let Some(t) = open.pop() {
            looked_at += 1;
            if looked_at > ENOUGH || search.bound(&t) <= search.reached() + CLOSE_MM {
                continue;
            }
            let i = (0..3)
                .max_by(|i, j| side(&t, *i).total_cmp(&side(&t, *j)))
                .unwrap_or(0);
            let (a, b, c) = (t[i], t[(i + 1) % 3], t[(i + 2) % 3]);
            let middle = nalgebra::center(&a, &b);
            if !self.contains(middle) {
                search.offer(middle);
            }
            open.extend([[a, middle, c], [middle, b, c]]);
        }
        search.best
    }
}

struct Search<'a> {
    edges: &'a [Edge],
    skip: Skip<'a>,
    best: Option<RegionGap>,
}

impl Search<'_> {
    /// How far outside the farthest point so far is.
    fn reached(&self) -> f64 {
        self.best.map_or(0.0, |b| -b.mm)
    }

    fn skipped(&self, e: &Edge) -> bool {
        self.skip.is_some_and(|skip| skip(e.label))
    }

    /// The parts cut square to the edges at the ends of skipped ones. What counts ends there, and the distances on
    /// both sides differ so little that splitting alone would not find the line.
    fn cut_at_corners(&self, mut parts: Vec<Vec<P2>>) -> Vec<Vec<P2>> {
        let skipped = self.edges.iter().filter(|e| self.skipped(e));
        for corner in skipped.flat_map(|e| [e.a, e.b]) {
            let meets = |e: &&Edge| (e.a - corner).norm().min((e.b - corner).norm()) <= NOISE_MM;
            for along in self
                .edges
                .iter()
                .filter(meets)
                .filter_map(|e| (e.b - e.a).try_normalize(0.0))
            {
                let halves = parts.iter().map(|p| cut(p, corner, along));
                parts = halves
                    .flat_map(|(behind, beyond)| behind.into_iter().chain(beyond))
                    .collect();
            }
        }
        parts
    }

    /// Takes a point outside the region when it is farther than the best and counts.
    fn offer(&mut self, p: P2) {
        let Some((mm, e, foot)) = self.nearest(p) else {
            return;
        };
        if mm > self.reached() + NOISE_MM {
            self.best = Some(RegionGap {
                mm: -mm,
                label: e.label,
                on_shape: p,
                on_edge: foot,
            });
        }
    }

    /// The nearest edge, the one with the lowest label of equals; none when a skipped one is as near.
    fn nearest(&self, p: P2) -> Option<(f64, Edge, P2)> {
        let mut best: Option<(f64, Edge, P2)> = None;
        let mut skipped: Option<Gap> = None;
        for e in self.edges {
            let g = point_edge(p, e);
            if self.skipped(e) {
                skipped = Some(skipped.filter(|s| s.mm <= g.mm).unwrap_or(g));
                continue;
            }
            let nearer = best.is_none_or(|(mm, b, _)| {
                g.mm < mm - NOISE_MM || (g.mm <= mm + NOISE_MM && e.label < b.label)
            });
            if nearer {
                best = Some((g.mm, *e, g.b));
            }
        }
        // At a corner of both the nearest point is the same.
        let counts =
            |foot: P2, mm: f64| skipped.is_none_or(|s| mm < s.mm && (foot - s.b).norm() > NOISE_MM);
        best.filter(|b| counts(b.2, b.0))
    }

    /// No point of the triangle that counts is farther from the region than this.
    fn bound(&self, t: &[P2; 3]) -> f64 {
        let far = |e: &Edge| t.map(|p| point_edge(p, e).mm);
        let most = |d: [f64; 3]| d[0].max(d[1]).max(d[2]);
        if self
            .edges
            .iter()
            .any(|e| self.skipped(e) && self.always_nearer(t, e, most(far(e))))
        {
            return 0.0;
        }
        let all: Vec<[f64; 3]> = self.edges.iter().map(far).collect();
        let mut bound = all.iter().map(|d| most(*d)).fold(f64::INFINITY, f64::min);
        // Between two edges the mean of their distances is convex too, and even between parallel ones.
        let nearest = [0, 1, 2].map(|k| all.iter().min_by(|d, e| d[k].total_cmp(&e[k])));
        for (i, j) in [(0, 1), (0, 2), (1, 2)] {
            if let (Some(d), Some(e)) = (nearest[i], nearest[j]) {
                bound = bound.min(most([d[0] + e[0], d[1] + e[1], d[2] + e[2]]) / 2.0);
            }
        }
        bound
    }

    /// Is the skipped edge, at most `most` away, as near to every point of the triangle as any edge that counts?
    fn always_nearer(&self, t: &[P2; 3], skipped: &Edge, most: f64) -> bool {
        let centre = nalgebra::center(&nalgebra::center(&t[0], &t[1]), &t[2]);
        let reach = t.iter().map(|p| (p - centre).norm()).fold(0.0, f64::max);
        let counted = self.edges.iter().filter(|e| !self.skipped(e));
        counted.into_iter().all(|e| {
            if point_edge(centre, e).mm - reach > most {
                return true;
            }
            // Where the nearest point is throughout an end that lies on the skipped edge too.
            let ends = [e.a, e.b]
                .into_iter()
                .filter(|v| point_edge(*v, skipped).mm <= NOISE_MM);
            ends.into_iter().any(|v| {
                t.iter()
                    .all(|p| (point_edge(*p, e).b - v).norm() <= NOISE_MM)
            })
        })
    }
}

fn side(t: &[P2; 3], i: usize) -> f64 {
    (t[(i + 1) % 3] - t[i]).norm_squared()
}

/// The polygon about a circle.
fn about(centre: P2, radius: f64) -> Vec<P2> {
    let step = TAU / CIRCLE_CORNERS as f64;
    let far = radius / (step / 2.0).cos();
    (0..CIRCLE_CORNERS)
        .map(|i| i as f64 * step)
        .map(|a| centre + V2::new(a.cos(), a.sin()) * far)
        .collect()
}
