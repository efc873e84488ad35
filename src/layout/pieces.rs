//! Which piece of the shop's equipment stands for a target a procedure asks for.

use std::sync::Arc;

use crate::model::equipment::{Equipment, Target};
use crate::model::further::Need;
use crate::model::{Procedure, procedure};

/// A piece of the shop's.
#[derive(Clone, Copy, Debug)]
pub struct Piece<'a> {
    pub name: &'a Arc<str>,
    pub target: &'a Target,
}

/// A size of a piece's face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dimension {
    Width,
    Height,
    /// Of what lies flat.
    Length,
    Thickness,
}

/// What a piece offers of what is asked: the size, what it has, what it is held to, and how much it spares (mm).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizeCheck {
    pub of: Dimension,
    pub have: f64,
    pub need: f64,
    pub spare: f64,
}

/// What the procedure asks of a target of this name: the setup's own word first.
pub fn need<'a>(procedure: &'a Procedure, setup: &'a procedure::Setup, name: &str) -> Option<&'a Need> {
    setup.needs.get(name).or_else(|| procedure.needs.get(name))
}

/// The piece of that name, or one that serves for it; where sizes are asked, the first that has them.
pub fn find<'a>(equipment: &'a Equipment, need: Option<&Need>, name: &str) -> Option<Piece<'a>> {
    let candidates = || {
        let of_name = equipment.targets.iter().filter(|(n, _)| *n == name);
        let serving = equipment.targets.iter().filter(|(_, t)| t.serves.iter().any(|s| s == name));
        of_name.chain(serving).map(|(n, target)| Piece { name: &n.text, target })
    };
    let suits =
        |p: &Piece| need.is_none_or(|n| is_kind(p.target, n) && sizes(p.target, n).all(|s| s.spare >= 0.0));
    candidates().find(suits).or_else(|| candidates().next())
}

pub fn is_kind(target: &Target, need: &Need) -> bool {
    need.kind.is_none_or(|k| k == target.kind)
}

/// Every size asked for, against what the piece has.
pub fn sizes(target: &Target, need: &Need) -> impl Iterator<Item = SizeCheck> {
    let face = target.face;
    let upright = if target.kind.lies_flat() { Dimension::Length } else { Dimension::Height };
    [
        (Dimension::Width, need.width, face.width),
        (upright, need.height, face.height),
        (Dimension::Thickness, need.thickness, face.thickness),
    ]
    .into_iter()
    .filter_map(|(of, size, have)| {
        size.map(|size| {
            let (spare, need) = size.spare(have);
            SizeCheck { of, have, need, spare }
        })
    })
}
