//! Flatness as the building trade measures it, for information. Flat is not level: a plane slope is perfectly flat.
//!
//! Both figures are taken from the surface through the spot heights; a straightedge on the real floor may find more.

use crate::geometry::{NOISE_MM, P2};

use super::FloorField;

/// A straightedge on two high points of a line: the gap under it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// Between the two high points, mm.
    pub over: f64,
    pub gap: f64,
    /// Where it rests first, and where the gap is widest, mm along the line; the same where there is none.
    pub from: f64,
    pub widest: f64,
}

/// The rows of DIN 18202 table 3.
pub const DIN_ROWS: [&str; 4] = [
    "row 1, unfinished slabs",
    "row 2, industrial floors and unfinished with raised demand",
    "row 3, finished floors",
    "row 4, finished with raised demand",
];

/// Distances of the table, mm, and the gap each row allows there.
const OVER: [f64; 5] = [100.0, 1000.0, 4000.0, 10_000.0, 15_000.0];
const ALLOWED: [[f64; 5]; 4] = [
    [10.0, 15.0, 20.0, 25.0, 30.0],
    [5.0, 8.0, 12.0, 15.0, 20.0],
    [2.0, 4.0, 10.0, 12.0, 15.0],
    // copies of the table differ at 1 m in this row: 3 here, 2 in another
    [1.0, 3.0, 9.0, 12.0, 15.0],
];

/// The gap a row (0 to 3) allows between two high points: linear between the distances of the table and rounded to whole mm, as the
/// table asks; below and beyond it the end figures.
pub fn din_allows(row: usize, over: f64) -> f64 {
    let allowed = ALLOWED[row.min(3)];
    let after = OVER.iter().position(|o| *o >= over).unwrap_or(4).max(1);
    let share = ((over - OVER[after - 1]) / (OVER[after] - OVER[after - 1])).clamp(0.0, 1.0);
    (allowed[after - 1] + (allowed[after] - allowed[after - 1]) * share).round()
}

/// What the table says of one row: the gap that comes nearest to its limit, or passes it by most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DinRow {
    pub row: &'static str,
    pub worst: Gap,
    pub allowed: f64,
    /// Standard error of the gap from the survey's reading error, mm; not known where there is no gap to read.
    pub error: Option<f64>,
}

impl DinRow {
    pub fn met(&self) -> bool {
        self.worst.gap <= self.allowed
    }
}

/// Lays a straightedge on a line of (mm along, height): one gap for each pair of neighbouring high points.
pub fn straightedge(line: &[(f64, f64)]) -> Vec<Gap> {
    // the upper hull: what a straightedge rests on
    let mut high: Vec<(f64, f64)> = Vec::new();
    for p in line {
        while let [.., a, b] = high[..] {
            // a point on the way between its neighbours holds the straightedge too
            let turn = (b.0 - a.0) * (p.1 - a.1) - (b.1 - a.1) * (p.0 - a.0);
            if turn <= NOISE_MM * (p.0 - a.0) {
                break;
            }
            high.pop();
        }
        high.push(*p);
    }
    let gap = |w: &[(f64, f64)]| {
        let (a, b) = (w[0], w[1]);
        let edge = |s: f64| a.1 + (b.1 - a.1) * (s - a.0) / (b.0 - a.0);
        let under = line.iter().filter(|p| a.0 < p.0 && p.0 < b.0).map(|p| (p.0, edge(p.0) - p.1));
        let (widest, gap) = under.fold((a.0, 0.0), |most, p| if p.1 > most.1 { p } else { most });
        Gap { over: b.0 - a.0, gap, from: a.0, widest }
    };
    high.windows(2).map(gap).collect()
}

/// F-numbers of a floor (ASTM E1155): flatness and levelness. Larger is better; endless for a perfect floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FNumbers {
    pub flatness: f64,
    pub levelness: f64,
}

const INCH: f64 = 25.4;
/// Between readings: one foot, mm.
pub const F_PITCH: f64 = 304.8;
/// F-numbers are told only of a survey with a spot for every square of this side, mm: farther apart the heights a foot
/// apart would be mostly made up.
pub const F_SPOTS: f64 = 1.5 * F_PITCH;

/// F-numbers of lines of heights (mm) read every foot: FF = 4.57 / (3 S + |mean|) of the curvatures over two feet,
/// FL = 12.5 / (3 S + |mean|) of the differences over ten feet, inches, S with n - 1. All lines' figures are taken
/// together. `None` when there are fewer than two curvatures or differences.
pub fn f_numbers(lines: &[Vec<f64>]) -> Option<FNumbers> {
    let inches = |mm: f64| mm / INCH;
    let bends = |l: &Vec<f64>| l.windows(3).map(|w| inches(w[2] - 2.0 * w[1] + w[0])).collect::<Vec<_>>();
    let falls = |l: &Vec<f64>| l.windows(11).map(|w| inches(w[10] - w[0])).collect::<Vec<_>>();
    let bends: Vec<f64> = lines.iter().flat_map(bends).collect();
    let falls: Vec<f64> = lines.iter().flat_map(falls).collect();
    Some(FNumbers { flatness: 4.57 / spread(&bends)?, levelness: 12.5 / spread(&falls)? })
}

/// Three standard deviations and the size of the mean.
fn spread(values: &[f64]) -> Option<f64> {
    if values.len() < 2 {
        return None;
    }
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|v| (v - mean).powi(2)).sum();
    Some(3.0 * (squares / (n - 1.0)).sqrt() + mean.abs())
}

/// Lines along and across the bay are this far apart, mm.
const LINES_APART: f64 = 500.0;
/// Lines each way at most.
const MOST_LINES: f64 = 60.0;

/// Both figures of a surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Flatness {
    pub din_18202: Vec<DinRow>,
    pub f_numbers: Option<FNumbers>,
}

impl FloorField {
    /// Both figures: some work on a large survey.
    pub fn flatness(&self) -> Flatness {
        Flatness { din_18202: self.din_18202(), f_numbers: self.f_numbers() }
    }

    /// Each row of DIN 18202 table 3 against the surface, with a straightedge laid along and across the bay every
    /// 500 mm. Empty without a surface.
    pub fn din_18202(&self) -> Vec<DinRow> {
        let on_line = |line: (P2, P2)| {
            let runs = self.profile(line.0, line.1).into_iter();
            runs.flat_map(|run| straightedge(&run)).map(move |gap| (line, gap))
        };
        let gaps: Vec<((P2, P2), Gap)> = self.lines().into_iter().flat_map(on_line).collect();
        let rows = DIN_ROWS.iter().enumerate();
        rows.filter_map(|(row, name)| {
            let used = |g: &Gap| g.gap / din_allows(row, g.over);
            let (line, worst) = *gaps.iter().max_by(|a, b| used(&a.1).total_cmp(&used(&b.1)))?;
            Some(DinRow {
                row: name,
                worst,
                allowed: din_allows(row, worst.over),
                error: self.gap_error(line, &worst),
            })
        })
        .collect()
    }

    /// The error of a gap: the straightedge's height over the widest place, which rests on two heights, less the
    /// floor's there.
    fn gap_error(&self, (a, b): (P2, P2), gap: &Gap) -> Option<f64> {
        if gap.widest == gap.from {
            return None;
        }
        let way = (b - a).normalize();
        let share = (gap.widest - gap.from) / gap.over;
        let heights = [(gap.from, 1.0 - share), (gap.from + gap.over, share), (gap.widest, -1.0)];
        let mut terms = Vec::new();
        for (along, factor) in heights {
            terms.extend(self.shares(a + way * along)?.map(|(spot, part)| (spot, factor * part)));
        }
        self.error_of(terms)
    }

    /// F-numbers of the surface, read every foot along the same lines; `None` where the spots are too far apart for it.
    pub fn f_numbers(&self) -> Option<FNumbers> {
        let area = self.triangles().map(|[a, b, c]| (b - a).xy().perp(&(c - a).xy()) / 2.0).sum::<f64>();
        if area > F_SPOTS * F_SPOTS * self.spots.len() as f64 {
            return None;
        }
        let lines = self.lines();
        let read: Vec<Vec<f64>> = lines
            .iter()
            .flat_map(|(a, b)| {
                let way = (b - a).normalize();
                self.profile(*a, *b).into_iter().map(move |run| {
                    let (first, last) = (run[0].0, run[run.len() - 1].0);
                    let count = ((last - first) / F_PITCH + 1e-9) as usize + 1;
                    (0..count).filter_map(|i| self.height(a + way * (first + i as f64 * F_PITCH))).collect()
                })
            })
            .collect();
        f_numbers(&read)
    }

    /// The lines a straightedge is laid on: through the middle of the surveyed box and every 500 mm beside it.
    fn lines(&self) -> Vec<(P2, P2)> {
        if self.triangles.is_empty() {
            return Vec::new();
        }
        let b = self.bounds();
        let middle = b.centre();
        let offsets = |half: f64| {
            let apart = LINES_APART.max(2.0 * half / MOST_LINES);
            let n = (half / apart) as i64;
            (-n..=n).map(move |i| i as f64 * apart)
        };
        let half = (b.max - b.min) / 2.0;
        let along = offsets(half.x).map(|o| (P2::new(middle.x + o, b.min.y), P2::new(middle.x + o, b.max.y)));
        let across =
            offsets(half.y).map(|o| (P2::new(b.min.x, middle.y + o), P2::new(b.max.x, middle.y + o)));
        along.chain(across).collect()
    }
}

#[cfg(test)]
mod tests;
