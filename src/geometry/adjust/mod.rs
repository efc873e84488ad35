//! Least-squares adjustment of readings (Gauss-Markov model): the unknowns that fit all readings best, how sure each is, and
//! which reading does not fit.
//!
//! With the readings' standard errors given, the unknowns minimise the sum of the squared residuals, each divided by its
//! standard error. Covariance of the unknowns: the inverse of the normal matrix (a priori, from the given errors). A
//! residual's own variance is that of its reading less that of the adjusted value; a reading is in doubt where its residual is
//! more than 3.29 times its own standard deviation (W. Baarda, A testing procedure for use in geodetic networks, 1968: a
//! significance of 0.1 %).

use nalgebra::{DMatrix, DVector};

/// A residual larger than so many of its own standard deviations puts its reading in doubt.
pub const DOUBTFUL: f64 = 3.29;
/// Two tests within this of each other do not tell which of the readings is wrong.
const ALIKE: f64 = 0.01;
/// A redundancy number below this, and a mistake of ten standard errors would hardly show: the reading is not checked.
const UNCHECKED: f64 = 0.01;
/// A redundancy number below this is nothing but rounding.
const NOTHING: f64 = 1e-8;
/// A pivot this small beside the largest leaves an unknown open: a millimetre read wrong would move it by a hundred metres.
const OPEN: f64 = 1e-5;
/// Steps taken before the readings count as contradicting each other.
const STEPS: usize = 100;

/// What a reading should be for given unknowns, and the derivative by each unknown it depends on, with its place in the list.
pub type Model<'a> = Box<dyn Fn(&[f64]) -> (f64, Vec<(usize, f64)>) + 'a>;

/// Derivatives of one reading by the unknowns, with their places; a place may be named twice and counts as the sum.
pub type Row = Vec<(usize, f64)>;

/// One reading: what was read, its standard error, and what it should read. All in one unit.
pub struct Reading<'a> {
    pub read: f64,
    pub error: f64,
    pub model: Model<'a>,
}

/// The unknowns that fit best.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjusted {
    pub unknowns: Vec<f64>,
    /// Covariance of the unknowns from the readings' given errors.
    pub covariance: DMatrix<f64>,
    /// Adjusted minus read, by reading.
    pub residuals: Vec<f64>,
    /// By reading, 0 to 1: how much of a mistake in it shows in its own residual (its redundancy number).
    pub shows: Vec<f64>,
    /// |residual| by its own standard deviation; none where a mistake would not show at all.
    pub tests: Vec<Option<f64>>,
    /// Readings beyond what is needed.
    pub redundant: usize,
    /// Standard error of a reading with the given error 1, from the residuals; none without a redundant reading.
    pub sigma0: Option<f64>,
    pub doubt: Doubt,
}

/// What the residuals say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    None,
    /// This reading does not fit the others.
    Reading(usize),
    /// Something does not fit, and it cannot be told which reading it is.
    Undecided,
}

/// Why nothing was adjusted.
#[derive(Clone, Debug, PartialEq)]
pub enum NotAdjusted {
    /// The readings leave these unknowns open; the columns of `free` are what can still move, one a missing reading.
    Open { unknowns: Vec<usize>, free: DMatrix<f64> },
    /// No unknowns come near to all readings.
    Contradicting,
}

impl Adjusted {
    /// Readings that no other reading checks: a mistake in one of them would not be seen.
    pub fn unchecked(&self) -> Vec<usize> {
        (0..self.shows.len()).filter(|i| self.redundant == 0 || self.shows[*i] < UNCHECKED).collect()
    }

    /// Readings that do not fit, and of which none fits worse than the others.
    pub fn alike(&self) -> Vec<usize> {
        let worst = self.tests.iter().flatten().fold(0.0f64, |m, t| m.max(*t));
        let is_alike = |i: &usize| self.tests[*i].is_some_and(|t| t > DOUBTFUL && t >= worst * (1.0 - ALIKE));
        (0..self.tests.len()).filter(is_alike).collect()
    }

    /// Which further readings would check those that nothing checks: of `candidates` at most `most`, each time the one that
    /// checks the most of them, the earlier one of two alike. `unchecked` are the readings' own rows.
    pub fn checking(&self, unchecked: &[Row], candidates: &[Row], most: usize) -> Vec<usize> {
        let mut left: Vec<&Row> = unchecked.iter().collect();
        let mut covariance = self.covariance.clone();
        let mut taken = Vec::new();
        while !left.is_empty() && taken.len() < most {
            // with a further reading a, that of row u shows (u Q a)² / (1 + a Q a) of itself
            let own: Vec<f64> = candidates.iter().map(|a| 1.0 + across(a, &covariance, a)).collect();
            let shows =
                |i: usize, u: &Row| across(u, &covariance, &candidates[i]).powi(2) / own[i] >= UNCHECKED;
            let checks = |i: &usize| left.iter().filter(|u| shows(*i, u)).count();
            let best = (0..candidates.len())
                .map(|i| (checks(&i), i))
                .fold((0, 0), |best, next| if next.0 > best.0 { next } else { best });
            if best.0 == 0 {
                break;
            }
            left.retain(|u| !shows(best.1, u));
            let moved = candidates[best.1]
                .iter()
                .fold(DVector::zeros(covariance.nrows()), |sum, (k, d)| sum + covariance.column(*k) * *d);
            covariance -= &moved * moved.transpose() / own[best.1];
            taken.push(best.1);
        }
        taken
    }
}

/// Of `candidates` at most `most` that settle something `free` (see [`NotAdjusted::Open`]) leaves open; the first that serve.
pub fn settling(mut free: DMatrix<f64>, candidates: &[Row], most: usize) -> Vec<usize> {
    let mut taken = Vec::new();
    for (i, row) in candidates.iter().enumerate() {
        if free.ncols() == 0 || taken.len() == most {
            break;
        }
        let seen =
            row.iter().fold(DVector::zeros(free.ncols()), |sum, (k, d)| sum + free.row(*k).transpose() * *d);
        let largest = seen.icamax();
        let size = row.iter().map(|(_, d)| d.abs()).fold(0.0, f64::max) * free.amax();
        if seen[largest].abs() <= 1e-6 * size {
            continue;
        }
        // what is left free moves nothing that the new reading sees
        let settled = free.column(largest).into_owned();
        for k in 0..free.ncols() {
            let share = seen[k] / seen[largest];
            free.column_mut(k).axpy(-share, &settled, 1.0);
        }
        free = free.remove_column(largest);
        taken.push(i);
    }
    taken
}

/// A reading's derivatives at these unknowns, in standard errors.
pub fn row(at: &[f64], reading: &Reading) -> Row {
    (reading.model)(at).1.into_iter().map(|(column, slope)| (column, slope / reading.error)).collect()
}

fn across(a: &Row, covariance: &DMatrix<f64>, b: &Row) -> f64 {
    a.iter().flat_map(|(i, x)| b.iter().map(move |(j, y)| x * y * covariance[(*i, *j)])).sum()
}

/// Adjusts the readings, beginning at `start`. Readings that are not finite are the caller's to refuse.
pub fn adjust(start: &[f64], readings: &[Reading]) -> Result<Adjusted, NotAdjusted> {
    let mut at = start.to_vec();
    let mut cost = weighed(&at, readings).norm_squared();
    open(&design(&at, readings))?;
    for _ in 0..STEPS {
        let design = design(&at, readings);
        let towards = design.transpose() * -weighed(&at, readings);
        let normal = (design.transpose() * &design).cholesky().ok_or(NotAdjusted::Contradicting)?;
        let step = normal.solve(&towards);
        // half the step for as long as it makes the fit worse
        let mut share = 1.0;
        let (next, fit) = loop {
            let next: Vec<f64> = at.iter().zip(step.iter()).map(|(x, d)| x + share * d).collect();
            let fit = weighed(&next, readings).norm_squared();
            if fit <= cost || share < 1e-6 {
                break (next, fit);
            }
            share /= 2.0;
        };
        if !fit.is_finite() {
            return Err(NotAdjusted::Contradicting);
        }
        let moved = share * step.amax();
        (at, cost) = (next, fit);
        if moved < 1e-9 * (1.0 + at.iter().fold(0.0f64, |m, x| m.max(x.abs()))) {
            return told(at, readings);
        }
    }
    Err(NotAdjusted::Contradicting)
}

/// How far the adjusted values lie from the readings, in standard errors.
fn weighed(at: &[f64], readings: &[Reading]) -> DVector<f64> {
    DVector::from_iterator(readings.len(), readings.iter().map(|r| ((r.model)(at).0 - r.read) / r.error))
}

/// The derivatives by the unknowns, in standard errors.
fn design(at: &[f64], readings: &[Reading]) -> DMatrix<f64> {
    let mut design = DMatrix::zeros(readings.len(), at.len());
    for (i, reading) in readings.iter().enumerate() {
        for (column, slope) in row(at, reading) {
            design[(i, column)] += slope;
        }
    }
    design
}

/// Which unknowns the readings leave open.
fn open(design: &DMatrix<f64>) -> Result<(), NotAdjusted> {
    let (rows, columns) = design.shape();
    let padded = design.clone().resize(rows.max(columns), columns, 0.0);
    let qr = padded.col_piv_qr();
    let r = qr.r();
    let largest = (0..columns).map(|k| r[(k, k)].abs()).fold(0.0, f64::max);
    let rank = (0..columns).take_while(|k| r[(*k, *k)].abs() > OPEN * largest).count();
    if rank == columns {
        return Ok(());
    }
    // the combinations of unknowns that no reading sees: R11 x1 = -R12 x2, for each of the last ones
    let first = r.view((0, 0), (rank, rank)).into_owned();
    let others = r.view((0, rank), (rank, columns - rank)).into_owned();
    let seen = first.solve_upper_triangular(&-others).unwrap_or_else(|| DMatrix::zeros(rank, columns - rank));
    let mut free = DMatrix::identity(columns, columns - rank);
    free.view_mut((0, 0), (rank, columns - rank)).copy_from(&seen);
    for k in 0..columns - rank {
        for row in rank..columns {
            free[(row, k)] = if row - rank == k { 1.0 } else { 0.0 };
        }
    }
    qr.p().inv_permute_rows(&mut free);
    let is_open = |k: &usize| free.row(*k).amax() > 1e-6;
    let unknowns = (0..columns).filter(is_open).collect();
    Err(NotAdjusted::Open { unknowns, free })
}

fn told(at: Vec<f64>, readings: &[Reading]) -> Result<Adjusted, NotAdjusted> {
    let design = design(&at, readings);
    open(&design)?;
    let normal = design.transpose() * &design;
    let covariance = normal.cholesky().ok_or(NotAdjusted::Contradicting)?.inverse();
    let residuals: Vec<f64> = readings.iter().map(|r| (r.model)(&at).0 - r.read).collect();
    let shows: Vec<f64> = readings
        .iter()
        .map(|r| row(&at, r))
        .map(|row| (1.0 - across(&row, &covariance, &row)).clamp(0.0, 1.0))
        .collect();
    let own = |i: usize| readings[i].error * shows[i].sqrt();
    let tests: Vec<Option<f64>> =
        (0..readings.len()).map(|i| (shows[i] > NOTHING).then(|| residuals[i].abs() / own(i))).collect();
    let redundant = readings.len() - at.len();
    let square: f64 = residuals.iter().zip(readings).map(|(v, r)| (v / r.error).powi(2)).sum();
    let sigma0 = (redundant > 0).then(|| (square / redundant as f64).sqrt());
    Ok(Adjusted {
        doubt: doubt(&tests, redundant),
        unknowns: at,
        covariance,
        residuals,
        shows,
        tests,
        redundant,
        sigma0,
    })
}

fn doubt(tests: &[Option<f64>], redundant: usize) -> Doubt {
    let mut order: Vec<(usize, f64)> =
        tests.iter().enumerate().filter_map(|(i, t)| Some((i, (*t)?))).collect();
    order.sort_by(|a, b| b.1.total_cmp(&a.1));
    match order[..] {
        [] => Doubt::None,
        [(_, worst), ..] if worst <= DOUBTFUL => Doubt::None,
        [(_, worst), (_, next), ..] if next >= worst * (1.0 - ALIKE) => Doubt::Undecided,
        _ if redundant < 2 => Doubt::Undecided,
        [(at, _), ..] => Doubt::Reading(at),
    }
}

#[cfg(test)]
mod tests;
