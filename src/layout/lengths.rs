//! Lengths to check a set-out by: those the procedure prints, else the diagonals between marks built on both sides.

use std::sync::Arc;

use super::setup::{Mark, Setup};
use super::solid::{Known, Missing, both};
use crate::geometry::P2;
use crate::model::Name;
use crate::model::further::CheckLength;
use crate::model::language::{Construction, Corner, Feature};
use crate::model::procedure::MarkDef;

/// A length between two marks, for the tape.
#[derive(Clone, Debug, PartialEq)]
pub struct Length {
    pub from: Arc<str>,
    pub to: Arc<str>,
    pub mm: Known<f64>,
}

/// Where a mark of this setup lies; a listed one shadows one that every setup knows.
pub fn at(setup: &Setup, name: &Name) -> Known<P2> {
    match setup.marks.iter().rev().chain(&setup.given).find(|m| *name == *m.name) {
        Some(Mark { at, .. }) => at.clone(),
        None => Err(Missing::one(name.text.clone())),
    }
}

pub fn between(setup: &Setup, a: &Name, b: &Name) -> Known<f64> {
    both(at(setup, a), at(setup, b)).map(|(p, q)| nalgebra::distance(&p, &q))
}

/// Every length a tape can check in this setup, each once.
pub fn lengths(setup: &Setup) -> Vec<Length> {
    let length =
        |a: &Name, b: &Name| Length { from: a.text.clone(), to: b.text.clone(), mm: between(setup, a, b) };
    let mut all: Vec<Length> = Vec::new();
    for check in &setup.def.checks {
        match check {
            CheckLength::Length(a, b, _) => all.push(length(a, b)),
            CheckLength::Same(p, q) => all.extend([length(&p.0, &p.1), length(&q.0, &q.1)]),
            CheckLength::Loop(names, _) => {
                let next = names.iter().cycle().skip(1);
                all.extend(names.iter().zip(next).map(|(a, b)| length(a, b)));
            }
            CheckLength::Right(a, b, c) => all.extend([length(a, b), length(b, c), length(a, c)]),
        }
    }
    let mut told: Vec<(Arc<str>, Arc<str>)> = Vec::new();
    all.retain(|l| {
        let pair = (l.from.clone().min(l.to.clone()), l.from.clone().max(l.to.clone()));
        let new = !told.contains(&pair);
        told.push(pair);
        new
    });
    if all.is_empty() {
        let defs: Vec<&MarkDef> = setup.def.marks.iter().collect();
        all.extend(diagonals(&defs).into_iter().map(|(a, b)| length(a, b)));
    }
    all
}

/// Pairs of marks measured along the two sides from the wheels of one axle, each crossed with the other side's wheel.
fn diagonals<'a>(defs: &[&'a MarkDef]) -> Vec<(&'a Name, &'a Name)> {
    let wheel = |name: &Name| {
        defs.iter().find(|d| d.0 == *name).and_then(|d| match &d.1 {
            Construction::Under(Feature::Wheel(corner)) => Some(*corner),
            _ => None,
        })
    };
    let along = |d: &&'a MarkDef| match &d.1 {
        Construction::Along { from, .. } => wheel(from).map(|corner| (&d.0, from, corner)),
        _ => None,
    };
    let built: Vec<(&Name, &Name, Corner)> = defs.iter().filter_map(along).collect();
    let mut found = Vec::new();
    for (left, left_wheel, corner) in &built {
        let opposite = match corner {
            Corner::FrontLeft => Corner::FrontRight,
            Corner::RearLeft => Corner::RearRight,
            Corner::FrontRight | Corner::RearRight => continue,
        };
        for (right, right_wheel, _) in built.iter().filter(|b| b.2 == opposite) {
            found.push((*left_wheel, *right));
            found.push((*right_wheel, *left));
        }
    }
    found
}
