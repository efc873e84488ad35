//! Lines of equal height.

use std::collections::BTreeMap;

use crate::geometry::P2;

use super::FloorField;

/// The lines at one height.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    /// Above the survey's datum, mm.
    pub height: f64,
    /// A closed line repeats its first point at its end.
    pub lines: Vec<Vec<P2>>,
}

/// More lines than this are no help to anyone.
const MOST: f64 = 400.0;

type Edge = (usize, usize);

impl FloorField {
    /// Lines at whole multiples of `step` mm, lowest first. A step that is not above 0, or so small that more than
    /// 400 heights would be drawn, is replaced by the least that is not.
    pub fn contours(&self, step: f64) -> Vec<Contour> {
        let Some((lo, hi)) = self.range() else { return Vec::new() };
        let least = (hi - lo) / MOST;
        let step = if step.is_finite() && step > least { step } else { least };
        if step <= 0.0 {
            return Vec::new();
        }
        let (first, last) = ((lo / step).ceil() as i64, (hi / step).floor() as i64);
        let levels = (first..=last).map(|n| n as f64 * step);
        levels
            .map(|height| Contour { height, lines: self.lines_at(height) })
            .filter(|c| !c.lines.is_empty())
            .collect()
    }

    /// A spot exactly at the height counts as above it, so each triangle is crossed by two of its sides or by none.
    fn lines_at(&self, height: f64) -> Vec<Vec<P2>> {
        let above = |i: usize| self.spots[i].z >= height;
        let mut ends: BTreeMap<Edge, Vec<Edge>> = BTreeMap::new();
        for t in &self.triangles {
            let crossed: Vec<Edge> = [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])]
                .into_iter()
                .filter(|(a, b)| above(*a) != above(*b))
                .map(|(a, b)| (a.min(b), a.max(b)))
                .collect();
            if let [p, q] = crossed[..] {
                ends.entry(p).or_default().push(q);
                ends.entry(q).or_default().push(p);
            }
        }
        let mut lines = Vec::new();
        // lines that run out at the hull first, then the closed ones
        for closed in [false, true] {
            let starts: Vec<Edge> = ends.keys().copied().collect();
            for start in starts {
                while ends.get(&start).is_some_and(|e| !e.is_empty() && (closed || e.len() == 1)) {
                    lines.push(self.follow(&mut ends, start, height));
                }
            }
        }
        lines
    }

    fn follow(&self, ends: &mut BTreeMap<Edge, Vec<Edge>>, start: Edge, height: f64) -> Vec<P2> {
        let mut line = vec![self.crossing(start, height)];
        let mut at = start;
        while let Some(next) = ends.get_mut(&at).and_then(Vec::pop) {
            if let Some(back) = ends.get_mut(&next) {
                back.retain(|e| *e != at);
            }
            line.push(self.crossing(next, height));
            at = next;
        }
        line
    }

    fn crossing(&self, (a, b): Edge, height: f64) -> P2 {
        let (a, b) = (self.spots[a], self.spots[b]);
        a.xy() + (b.xy() - a.xy()) * ((height - a.z) / (b.z - a.z))
    }
}
