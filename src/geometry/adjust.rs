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
/// Of a reading's standard error: less of it left in the residual than this, and no other reading checks it.
const UNCHECKED: f64 = 1e-4;
/// A pivot this small beside the largest leaves an unknown open.
const OPEN: f64 = 1e-9;
/// Steps taken before the readings count as contradicting each other.
const STEPS: usize = 100;

/// What a reading should be for given unknowns, and the derivative by each unknown it depends on, with its place in the list.
pub type Model<'a> = Box<dyn Fn(&[f64]) -> (f64, Vec<(usize, f64)>) + 'a>;

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
    /// |residual| by its own standard deviation; none where no other reading checks it.
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
    /// The readings leave these unknowns open, and so many readings are missing.
    Open { unknowns: Vec<usize>, missing: usize },
    /// No unknowns come near to all readings.
    Contradicting,
}

/// Adjusts the readings, beginning at `start`. Readings that are not finite are the caller's to refuse.
pub fn adjust(start: &[f64], readings: &[Reading]) -> Result<Adjusted, NotAdjusted> {
    let mut at = start.to_vec();
    let mut cost = weighed(&at, readings).norm_squared();
    for _ in 0..STEPS {
        let design = design(&at, readings);
        open(&design)?;
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

/// The derivatives by the unknowns, in standard errors; rows of zeros where there are fewer readings than unknowns.
fn design(at: &[f64], readings: &[Reading]) -> DMatrix<f64> {
    let mut design = DMatrix::zeros(readings.len(), at.len());
    for (row, reading) in readings.iter().enumerate() {
        for (column, slope) in (reading.model)(at).1 {
            design[(row, column)] += slope / reading.error;
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
    Err(NotAdjusted::Open { unknowns: (0..columns).filter(is_open).collect(), missing: columns - rank })
}

fn told(at: Vec<f64>, readings: &[Reading]) -> Result<Adjusted, NotAdjusted> {
    let design = design(&at, readings);
    let normal = design.transpose() * &design;
    let covariance = normal.cholesky().ok_or(NotAdjusted::Contradicting)?.inverse();
    let residuals: Vec<f64> = readings.iter().map(|r| (r.model)(&at).0 - r.read).collect();
    let tests: Vec<Option<f64>> = (0..readings.len())
        .map(|i| {
            let row = design.row(i);
            let left = (1.0 - (row * &covariance * row.transpose())[(0, 0)]).max(0.0).sqrt();
            (left > UNCHECKED).then(|| residuals[i].abs() / (readings[i].error * left))
        })
        .collect();
    let redundant = readings.len() - at.len();
    let square: f64 = residuals.iter().zip(readings).map(|(v, r)| (v / r.error).powi(2)).sum();
    let sigma0 = (redundant > 0).then(|| (square / redundant as f64).sqrt());
    Ok(Adjusted {
        doubt: doubt(&tests, redundant),
        unknowns: at,
        covariance,
        residuals,
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
