//! The figures of one procedure as the job fills them: variants, choices, readings, figures found elsewhere.

use std::sync::Arc;

use super::solid::{Known, Missing, both};
use crate::model::figure::{Figure, Term, Value};
use crate::model::job::{Chosen, Job};
use crate::model::{Name, Procedure};

/// Looks up and adds the named figures of one procedure.
pub struct Values<'a> {
    procedure: &'a Procedure,
    job: &'a Job,
    overrides: Vec<(&'a Name, &'a Value)>,
}

impl<'a> Values<'a> {
    pub fn new(procedure: &'a Procedure, chosen: &'a Chosen, job: &'a Job) -> Values<'a> {
        let overrides = chosen
            .variant
            .iter()
            .filter_map(|v| procedure.variants.get(v.as_str()))
            .flat_map(|t| t.iter())
            .collect();
        Values {
            procedure,
            job,
            overrides,
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

    fn sum(&self, figure: &Figure, depth: usize) -> Known<f64> {
        let mut total = Ok(0.0);
        for (sign, term) in &figure.terms {
            let value = match term {
                Term::Number(v) => Ok(*v),
                Term::Named(name) => self.named(name, depth),
            };
            total = both(total, value).map(|(sum, v)| sum + sign * v);
        }
        total
    }

    fn named(&self, name: &Arc<str>, depth: usize) -> Known<f64> {
        let missing = || Missing::one(name.clone());
        if depth > self.procedure.values.0.len() + 1 {
            return Err(missing()); // a circle; the file check names it
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

    /// The value in force under a name: the variant's, else the procedure's own.
    pub fn value(&self, name: &str) -> Option<&'a Value> {
        self.overrides
            .iter()
            .find(|(n, _)| *n == name)
            .map(|(_, v)| *v)
            .or_else(|| self.procedure.values.get(name))
    }
}
