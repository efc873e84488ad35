//! Free values of the procedures (`Between`, `OneOf` without a choice): chosen so that slack is largest.

use std::sync::Arc;

use super::find::Halted;
use super::progress::Progress;
use super::site::Site;
use crate::model::job::Reading;
use crate::model::{Bundle, Value};

/// A job with every free value chosen.
#[derive(Clone, Debug)]
pub(super) struct Choice {
    pub bundle: Bundle,
    pub chosen: Vec<(Arc<str>, f64)>,
}

/// A value the maker leaves to the workshop.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Free {
    pub name: Arc<str>,
    pub among: Among,
}

/// What a free value may be.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Among {
    These(Vec<f64>),
    Band(f64, f64),
}

/// Choices that differ by less slack than this are as good; the first, or the rounder, is taken, mm.
const ALIKE_MM: f64 = 0.5;
/// Samples of a band before the best is closed in on.
const SAMPLES: usize = 9;
/// Bands are closed in on to this, mm.
const FINE_MM: f64 = 0.25;
/// Rounds over all free values.
const ROUNDS: usize = 3;

/// Chooses every free value of the bundle, its procedures done in the n-th combination of ways.
pub(super) fn choose(
    bundle: &Bundle,
    way: usize,
    headings: &[f64],
    progress: &Progress,
) -> Result<Choice, Halted> {
    let free = free(bundle);
    let mut search = Search { bundle, way, headings, progress, free: &free, tried: Vec::new() };
    let best = search.run()?;
    Ok(Choice {
        bundle: with(bundle, &free, &best),
        chosen: free.iter().map(|f| f.name.clone()).zip(best).collect(),
    })
}

/// The free values of a job's procedures, each name once; of two bands for one name, what they share.
pub(super) fn free(bundle: &Bundle) -> Vec<Free> {
    let mut free: Vec<Free> = Vec::new();
    for (procedure, chosen) in bundle.procedures.iter().zip(bundle.job.procedures.iter()) {
        let variant = chosen.variant.as_ref().and_then(|v| procedure.variants.get(v.as_str()));
        for (name, value) in procedure.values.iter() {
            let value = variant.and_then(|v| v.get(name.as_str())).unwrap_or(value);
            let among = match value {
                Value::OneOf(these) if !these.is_empty() => Among::These(these.clone()),
                Value::Between(from, to) if from <= to => Among::Band(*from, *to),
                _ => continue,
            };
            if bundle.job.choose.get(name.as_str()).is_some() {
                continue;
            }
            match free.iter_mut().find(|f| *f.name == *name.text) {
                Some(known) => known.among = shared(&known.among, &among),
                None => free.push(Free { name: name.text.clone(), among }),
            }
        }
    }
    free
}

fn shared(a: &Among, b: &Among) -> Among {
    match (a, b) {
        (Among::Band(a0, a1), Among::Band(b0, b1)) if a0.max(*b0) <= a1.min(*b1) => {
            Among::Band(a0.max(*b0), a1.min(*b1))
        }
        (Among::These(these), Among::Band(from, to)) | (Among::Band(from, to), Among::These(these)) => {
            let within: Vec<f64> = these.iter().copied().filter(|v| from <= v && v <= to).collect();
            if within.is_empty() { a.clone() } else { Among::These(within) }
        }
        (Among::These(x), Among::These(y)) => {
            let both: Vec<f64> = x.iter().copied().filter(|v| y.contains(v)).collect();
            if both.is_empty() { a.clone() } else { Among::These(both) }
        }
        _ => a.clone(),
    }
}

/// The bundle with values chosen.
fn with(bundle: &Bundle, free: &[Free], values: &[f64]) -> Bundle {
    if free.is_empty() {
        return bundle.clone();
    }
    let mut job = (*bundle.job).clone();
    for (f, v) in free.iter().zip(values) {
        job.choose.set(&f.name, Reading(*v));
    }
    Bundle { job: Arc::new(job), ..bundle.clone() }
}

struct Search<'a> {
    bundle: &'a Bundle,
    way: usize,
    headings: &'a [f64],
    progress: &'a Progress,
    free: &'a [Free],
    tried: Vec<(Vec<f64>, f64)>,
}

impl Search<'_> {
    fn run(&mut self) -> Result<Vec<f64>, Halted> {
        let mut at: Vec<f64> = self.free.iter().map(|f| f.samples(3)[f.samples(3).len() / 2]).collect();
        if self.free.is_empty() {
            return Ok(at);
        }
        let mut best = self.depth(&at)?;
        if (2..=3).contains(&self.free.len()) {
            for corner in grid(self.free, 4) {
                let depth = self.depth(&corner)?;
                if depth > best + ALIKE_MM {
                    (at, best) = (corner, depth);
                }
            }
        }
        for _ in 0..ROUNDS {
            let before = best;
            for i in 0..self.free.len() {
                (at, best) = self.one(i, at, best)?;
            }
            if best <= before + ALIKE_MM || self.free.len() == 1 {
                break;
            }
        }
        Ok(at)
    }

    /// The best of one value, the others held.
    fn one(&mut self, i: usize, at: Vec<f64>, best: f64) -> Result<(Vec<f64>, f64), Halted> {
        let samples = self.free[i].samples(SAMPLES);
        let put = |v: f64| {
            let mut values = at.clone();
            values[i] = v;
            values
        };
        let depths = samples.iter().map(|v| self.depth(&put(*v))).collect::<Result<Vec<f64>, Halted>>()?;
        let most = depths.iter().copied().fold(best, f64::max);
        let Some(k) = depths.iter().position(|d| *d >= most - ALIKE_MM) else { return Ok((at, best)) };
        let (mut value, mut depth) = (samples[k], depths[k]);
        if let Among::Band(..) = self.free[i].among {
            let (mut low, mut high) = (samples[k.saturating_sub(1)], samples[(k + 1).min(samples.len() - 1)]);
            // golden section: the depth is the least of many margins and has one top near a good sample
            const GOLD: f64 = 0.618_033_988_749_895;
            while high - low > FINE_MM {
                let (a, b) = (high - (high - low) * GOLD, low + (high - low) * GOLD);
                let (da, db) = (self.depth(&put(a))?, self.depth(&put(b))?);
                if da >= db {
                    high = b
                } else {
                    low = a
                }
                for (v, d) in [(a, da), (b, db)] {
                    if d > depth + NEARLY_MM {
                        (value, depth) = (v, d);
                    }
                }
            }
            let whole = value.round();
            if samples[0] <= whole && whole <= samples[samples.len() - 1] {
                let there = self.depth(&put(whole))?;
                if there >= depth - ALIKE_MM {
                    (value, depth) = (whole, there);
                }
            }
        }
        if depth > best + NEARLY_MM || depth >= best - ALIKE_MM && value < at[i] {
            Ok((put(value), depth))
        } else {
            Ok((at, best))
        }
    }

    fn depth(&mut self, values: &[f64]) -> Result<f64, Halted> {
        if let Some((_, depth)) = self.tried.iter().find(|(v, _)| v == values) {
            return Ok(*depth);
        }
        // a choice that cannot be set out at all is the worst
        let depth = match Site::with_way(&with(self.bundle, self.free, values), self.way) {
            Ok(site) => site.depth(self.headings, self.progress)?,
            Err(_) => f64::NEG_INFINITY,
        };
        self.tried.push((values.to_vec(), depth));
        Ok(depth)
    }
}

/// A gain that counts, mm.
const NEARLY_MM: f64 = 1e-3;

impl Free {
    fn samples(&self, count: usize) -> Vec<f64> {
        match &self.among {
            Among::These(these) => these.clone(),
            Among::Band(from, to) if to > from => {
                (0..count).map(|i| from + (to - from) * i as f64 / (count - 1) as f64).collect()
            }
            Among::Band(from, _) => vec![*from],
        }
    }
}

/// Every combination of some samples.
fn grid(free: &[Free], count: usize) -> Vec<Vec<f64>> {
    free.iter().fold(vec![Vec::new()], |grid, f| {
        grid.iter()
            .flat_map(|point| {
                f.samples(count).into_iter().map(|v| {
                    let mut longer = point.clone();
                    longer.push(v);
                    longer
                })
            })
            .collect()
    })
}
