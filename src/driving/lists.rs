//! The figures a way out is put together from, mm: the same for every bay.

/// How a stage of the search is put together; a later one is tried for what the earlier ones leave to be wished for.
#[derive(Clone, Copy, Debug)]
pub struct Stage {
    /// Whether the direction changes: before each stretch between the straight run and the last curves, and before those.
    /// Empty: there is no such stretch, and the last curves are driven either way.
    pub changes: &'static [bool],
    /// Their lengths.
    pub lengths: &'static [f64],
    /// Straight runs.
    pub runs: &'static [f64],
    /// How far inside the doorway the last curves end.
    pub depths: &'static [f64],
    /// Radii of the last curves, in least radii.
    pub radii: &'static [f64],
}

const RUNS: &[f64] = &[
    0.0, 100.0, 200.0, 300.0, 400.0, 500.0, 600.0, 700.0, 800.0, 900.0, 1000.0, 1200.0, 1400.0, 1600.0,
    1800.0, 2000.0, 2250.0, 2500.0, 2750.0, 3000.0, 3500.0, 4000.0, 5000.0, 6000.0, 8000.0, 10000.0, 15000.0,
];
const FEW_RUNS: &[f64] = &[0.0, 500.0, 1000.0, 2000.0, 3000.0, 5000.0, 8000.0, 15000.0];
const DEPTHS: &[f64] =
    &[3500.0, 2500.0, 1500.0, 500.0, -500.0, -1500.0, -2500.0, 5000.0, 7000.0, 3000.0, 2000.0, 1000.0, 0.0];
const FEW_DEPTHS: &[f64] = &[3500.0, 2000.0, 500.0, -1000.0, -2500.0, 5000.0];
const LENGTHS: &[f64] = &[600.0, 1200.0, 1800.0, 2600.0, 3600.0];
const FINER_LENGTHS: &[f64] = &[600.0, 1200.0, 1800.0, 2700.0];
const FEW_LENGTHS: &[f64] = &[900.0, 1800.0, 3000.0];

/// Straight runs a search is made with where no way of these stages is free.
pub const SEARCHED_RUNS: &[f64] = &[0.0, 500.0, 1000.0, 2000.0, 3000.0];

const STAY: bool = false;
const TURN: bool = true;

pub const STAGES: [Stage; 13] = [
    Stage { changes: &[], lengths: &[], runs: FEW_RUNS, depths: FEW_DEPTHS, radii: &[1.0, 2.0] },
    Stage { changes: &[], lengths: &[], runs: RUNS, depths: DEPTHS, radii: &[1.0, 1.5, 2.5] },
    Stage { changes: &[STAY, TURN], lengths: LENGTHS, runs: FEW_RUNS, depths: DEPTHS, radii: &[1.0, 2.0] },
    bends(&[STAY, STAY]),
    bends(&[TURN, STAY]),
    bends(&[STAY, TURN, TURN]),
    bends(&[STAY, STAY, STAY]),
    bends(&[TURN, STAY, TURN]),
    bends(&[STAY, TURN, STAY]),
    bends(&[TURN, TURN, STAY]),
    bends(&[TURN, STAY, STAY]),
    finer_bends(&[STAY, STAY, STAY], &[3.0]),
    finer_bends(&[TURN, STAY, TURN], &[1.0]),
];

const fn bends(changes: &'static [bool]) -> Stage {
    Stage { changes, lengths: FEW_LENGTHS, runs: FEW_RUNS, depths: FEW_DEPTHS, radii: &[1.0] }
}

const fn finer_bends(changes: &'static [bool], radii: &'static [f64]) -> Stage {
    Stage { lengths: FINER_LENGTHS, radii, ..bends(changes) }
}

/// Straight runs of a list not shorter than asked, shortest first, so that a shorter one asked only adds to them. Where
/// the list ends, what is asked.
pub fn runs(asked: f64, list: &'static [f64]) -> impl Iterator<Item = f64> {
    let longer = list.last().is_none_or(|l| *l < asked).then_some(asked);
    list.iter().copied().filter(move |l| *l >= asked).chain(longer)
}
