//! Figures of a procedure: a number, a name, or a sum of them; and the values they name.

use std::sync::Arc;

use super::num;
use super::reading::{FromFile, Reader, sentence};
use super::record::choice;
use super::spot::{Name, Spot};
use super::writing::{ToFile, Writer};
use crate::syntax::{Id, Kind};

/// A length in mm or an angle in degrees, as a procedure gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    pub terms: Vec<(f64, Term)>,
    pub spot: Spot,
}

/// One term of a [`Figure`]; its sign stands beside it.
#[derive(Clone, Debug, PartialEq)]
pub enum Term {
    Number(f64),
    Named(Arc<str>),
    /// In quotes, and readable as a number: the value of that name where the procedure has one, else the number.
    Either(Arc<str>, f64),
}

impl Figure {
    pub fn number(value: f64) -> Self {
        Figure { terms: vec![(1.0, Term::Number(value))], spot: Spot::default() }
    }

    /// A sum as a person writes it: terms joined by ` + ` or ` - `, a leading `-` allowed. Whether a term that could be
    /// a number is one is known only once the values are; so is whether it is too large.
    pub fn parse(text: &str, spot: Spot) -> Result<Self, String> {
        let mut terms = Vec::new();
        let mut rest = text.trim();
        let mut sign = 1.0;
        if let Some(after) = rest.strip_prefix('-') {
            sign = -1.0;
            rest = after.trim_start();
        }
        loop {
            let next = [rest.find(" + "), rest.find(" - ")].into_iter().flatten().min();
            let word = rest[..next.unwrap_or(rest.len())].trim();
            if word.is_empty() {
                return Err(format!("{text:?} has an empty term"));
            }
            let term = match word.parse::<f64>() {
                // `inf` and `nan` are words here, not numbers
                Ok(_) if word.trim_start_matches(['+', '-']).starts_with(char::is_alphabetic) => {
                    Term::Named(word.into())
                }
                Ok(v) => Term::Either(word.into(), v),
                Err(_) if word.starts_with('-') || word.contains(['+', '*', '/', '(', ')']) => {
                    return Err(format!(
                        "{word:?} is neither a number nor a name; terms are joined by \" + \" or \" - \" and nothing else"
                    ));
                }
                Err(_) => Term::Named(word.into()),
            };
            terms.push((sign, term));
            let Some(at) = next else { break };
            sign = if rest[at..].starts_with(" + ") { 1.0 } else { -1.0 };
            rest = &rest[at + 3..];
        }
        Ok(Figure { terms, spot })
    }

    /// The names it rests on, or may rest on: also what is in quotes and could be a number.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.terms.iter().filter_map(|(_, t)| match t {
            Term::Named(n) | Term::Either(n, _) => Some(&**n),
            Term::Number(_) => None,
        })
    }

    /// The names it uses that are none of these and no numbers either.
    pub fn unknown(&self, known: &[&str]) -> impl Iterator<Item = &str> {
        self.terms.iter().filter_map(|(_, t)| match t {
            Term::Named(n) if !known.contains(&&**n) => Some(&**n),
            _ => None,
        })
    }

    /// The number, when it rests on no name; `is_value` tells which names are values.
    pub fn plain_among(&self, is_value: impl Fn(&str) -> bool) -> Option<f64> {
        self.terms.iter().try_fold(0.0, |sum, (sign, t)| match t {
            Term::Number(v) => Some(sum + sign * v),
            Term::Either(n, v) if !is_value(n) => Some(sum + sign * v),
            Term::Named(_) | Term::Either(..) => None,
        })
    }

    /// The number, when it rests on no name; a number in quotes counts as one.
    pub fn plain(&self) -> Option<f64> {
        self.plain_among(|_| false)
    }
}

choice! {
    enum Spelt {
        Exactly(Figure),
    }
}

impl FromFile for Figure {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        let spot = r.spot(id);
        match r.tree.kind(id) {
            Kind::Text => {
                let sum = r.text(id, "a text in quotes")?;
                let figure = Figure::parse(&sum, spot);
                Some(figure.unwrap_or_else(|why| {
                    r.refuse(id, why, None);
                    Figure::refused(spot)
                }))
            }
            Kind::Tuple if r.tree.word(id) == "Exactly" => Spelt::read(r, id).map(|Spelt::Exactly(f)| f),
            _ if num::of(r, id).is_some() => {
                let value = num::coord(r, id)?;
                Some(Figure { terms: vec![(1.0, Term::Number(value))], spot })
            }
            _ => {
                r.expected_plain(id, "a number, a name in quotes or a sum of them");
                Some(Figure::refused(spot))
            }
        }
    }
    fn stand_in() -> Self {
        Figure::refused(Spot::NOWHERE)
    }
}

impl ToFile for Figure {
    fn write(&self, w: &mut Writer) {
        if let [(1.0, Term::Number(value))] = self.terms[..] {
            return value.write(w);
        }
        let mut sum = String::new();
        for (i, (sign, term)) in self.terms.iter().enumerate() {
            sum += match (i, *sign < 0.0) {
                (0, true) => "-",
                (0, false) => "",
                (_, true) => " - ",
                (_, false) => " + ",
            };
            match term {
                Term::Number(value) => sum += &value.to_string(),
                Term::Named(name) | Term::Either(name, _) => sum += name,
            }
        }
        w.quoted(&sum);
    }
}

impl Figure {
    fn refused(spot: Spot) -> Figure {
        Figure { terms: vec![(1.0, Term::Number(f64::NAN))], spot }
    }
}

/// A named value of a procedure.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// One figure, perhaps a sum of other names.
    Is(Figure),
    /// One of these; the job chooses.
    OneOf(Vec<f64>),
    /// Anything from the first to the second; the job chooses.
    Between(f64, f64),
    /// The text read did not give it: why.
    Missing(Name),
}

choice! {
    enum ValueSpelt {
        OneOf(Vec<f64>),
        Between(f64, f64),
        Missing(Name [is sentence]),
        Exactly(Figure),
    }
}

impl Value {
    /// Whether the job chooses it.
    pub fn is_free(&self) -> bool {
        match self {
            Value::OneOf(_) | Value::Between(..) => true,
            Value::Is(_) | Value::Missing(_) => false,
        }
    }

    /// Whether the job may choose this number, in the value's own unit. What is not free offers none.
    pub fn offers(&self, number: f64) -> bool {
        match self {
            Value::OneOf(list) => list.contains(&number),
            Value::Between(lo, hi) => *lo <= number && number <= *hi,
            Value::Is(_) | Value::Missing(_) => false,
        }
    }
}

impl FromFile for Value {
    fn read(r: &mut Reader, id: Id) -> Option<Self> {
        if r.tree.word(id).is_empty() || num::of(r, id).is_some() {
            return Figure::read(r, id).map(Value::Is);
        }
        Some(match ValueSpelt::read(r, id)? {
            ValueSpelt::OneOf(list) => {
                if list.is_empty() {
                    r.refuse(id, "OneOf needs at least one number".into(), None);
                }
                Value::OneOf(list)
            }
            ValueSpelt::Between(a, b) => {
                if a > b {
                    r.refuse(id, format!("the first number of Between({a}, {b}) is above the second"), None);
                }
                Value::Between(a, b)
            }
            ValueSpelt::Missing(why) => Value::Missing(why),
            ValueSpelt::Exactly(figure) => Value::Is(figure),
        })
    }
    fn stand_in() -> Self {
        Value::Is(Figure::stand_in())
    }
}

impl ToFile for Value {
    fn write(&self, w: &mut Writer) {
        match self {
            Value::Is(figure) => figure.write(w),
            Value::OneOf(list) => w.tuple("OneOf", &[list]),
            Value::Between(lo, hi) => w.tuple("Between", &[lo, hi]),
            Value::Missing(why) => w.tuple("Missing", &[why]),
        }
    }
}
