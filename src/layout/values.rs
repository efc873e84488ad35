//! The figures of one procedure as the job fills them: variants, bands that pick one, choices, readings, averages of
//! readings, figures found elsewhere.

use std::sync::Arc;

use super::solid::{Known, Missing, both};
use crate::model::figure::{Figure, Term, Value};
use crate::model::further::{Derived, MeasureOf};
use crate::model::job::{Chosen, Job};
use crate::model::language::Feature;
use crate::model::{Name, Procedure};

/// Looks up and adds the named figures of one procedure.
pub struct Values<'a> {
    procedure: &'a Procedure,
    job: &'a Job,
    variants: Vec<&'a Name>,
    /// The variant a band picks, or the reading that would pick it.
    picked: Option<Known<&'a Name>>,
}

/// Two chosen variants that give one name different values.
pub struct Disagree<'a> {
    pub first: &'a Name,
    pub second: &'a Name,
    pub value: &'a Name,
}

impl<'a> Values<'a> {
    pub fn new(procedure: &'a Procedure, chosen: &'a Chosen, job: &'a Job) -> Values<'a> {
        let variants = chosen.all_variants().collect();
        let mut values = Values { procedure, job, variants, picked: None };
        values.picked = procedure.pick.as_ref().map(|pick| {
            let by = values.named(&pick.by.text, 0)?;
            pick.band(by).map(|b| &b.2).ok_or_else(|| Missing::one(pick.by.text.clone()))
        });
        values
    }

    /// The first two variants that cannot be chosen together.
    pub fn disagreement(&self) -> Option<Disagree<'a>> {
        let table = |variant: &Name| self.procedure.variants.get(variant.as_str());
        for (i, first) in self.variants.iter().enumerate() {
            for second in &self.variants[i + 1..] {
                let (Some(one), Some(other)) = (table(first), table(second)) else { continue };
                for (value, v) in one.iter() {
                    if other.get(value.as_str()).is_some_and(|w| w != v) {
                        return Some(Disagree { first, second, value });
                    }
                }
            }
        }
        None
    }

    /// Whether this variant is in force; what would decide it may be missing.
    pub fn has_variant(&self, name: &Name) -> Known<bool> {
        if self.variants.contains(&name) {
            return Ok(true);
        }
        match &self.picked {
            Some(Ok(picked)) => Ok(*picked == name),
            Some(Err(missing)) if self.could_pick(name) => Err(missing.clone()),
            _ => Ok(false),
        }
    }

    /// The number of a figure, mm or degrees; or what it lacks, by name.
    pub fn of(&self, figure: &Figure) -> Known<f64> {
        self.sum(figure, 0)
    }

    /// Two figures at once.
    pub fn pair(&self, pair: &(Figure, Figure)) -> Known<(f64, f64)> {
        both(self.of(&pair.0), self.of(&pair.1))
    }

    /// A figure that may be absent.
    pub fn maybe(&self, figure: &Option<Figure>) -> Known<Option<f64>> {
        figure.as_ref().map(|f| self.of(f)).transpose()
    }

    /// A value, reading or average by its name.
    pub fn by_name(&self, name: &Name) -> Known<f64> {
        self.named(&name.text, 0)
    }

    /// A reading that is the measured height of a feature.
    pub fn height_of(&self, feature: &Feature) -> Option<f64> {
        self.procedure.measured.iter().find_map(|(name, ask)| match &ask.is {
            Some(MeasureOf::HeightOf(f)) if f == feature => self.job.measured.get(name.as_str()).map(|r| r.0),
            _ => None,
        })
    }

    /// The value in force under a name: a variant's, else the procedure's own.
    pub fn value(&self, name: &str) -> Option<&'a Value> {
        let picked = self.picked.iter().filter_map(|p| p.as_ref().ok().copied());
        self.variants
            .iter()
            .copied()
            .chain(picked)
            .find_map(|v| self.procedure.variants.get(v.as_str())?.get(name))
            .or_else(|| self.procedure.values.get(name))
    }

    fn could_pick(&self, name: &Name) -> bool {
        self.procedure.pick.iter().flat_map(|p| &p.from).any(|b| b.2 == *name)
    }

    fn sum(&self, figure: &Figure, depth: usize) -> Known<f64> {
        let mut total = Ok(0.0);
        for (sign, term) in &figure.terms {
            let value = match term {
                Term::Number(v) => Ok(*v),
                Term::Either(name, v) if !self.has(name) => Ok(*v),
                Term::Named(name) | Term::Either(name, _) => self.named(name, depth),
            };
            total = both(total, value).map(|(sum, v)| sum + sign * v);
        }
        total
    }

    /// Whether the procedure has a value, reading or average of this name.
    fn has(&self, name: &str) -> bool {
        let p = self.procedure;
        p.values.get(name).is_some() || p.measured.get(name).is_some() || p.derived.get(name).is_some()
    }

    fn named(&self, name: &Arc<str>, depth: usize) -> Known<f64> {
        let missing = || Missing::one(name.clone());
        if depth > self.procedure.values.0.len() + 1 {
            return Err(missing()); // a circle; the file check names it
        }
        if let (Some(pick), Some(Err(undecided))) = (&self.procedure.pick, &self.picked) {
            let variants = pick.from.iter().filter_map(|b| self.procedure.variants.get(b.2.as_str()));
            if variants.into_iter().any(|t| t.get(name).is_some()) {
                return Err(undecided.clone());
            }
        }
        if let Some(Derived::Mean(readings)) = self.procedure.derived.get(name) {
            let mut sum = Ok(0.0);
            for reading in readings {
                sum = both(sum, self.named(&reading.text, depth + 1)).map(|(s, v)| s + v);
            }
            return sum.map(|s| s / readings.len().max(1) as f64);
        }
        let Some(value) = self.value(name) else {
            let read = self.procedure.measured.get(name).and(self.job.measured.get(name));
            return read.map(|r| r.0).ok_or_else(missing);
        };
        match value {
            Value::Is(figure) => self.sum(figure, depth + 1),
            Value::OneOf(_) | Value::Between(..) => {
                self.job.choose.get(name).map(|r| r.0).ok_or_else(missing)
            }
            Value::Missing(_) => self.job.figures.get(name).map(|f| f.mm).ok_or_else(missing),
        }
    }
}
