//! What to draw, neutral: shapes in bay axes (mm, y up the page) with roles, no colours and no pixels.

// a new variant is met wherever it could matter
#![cfg_attr(not(test), warn(clippy::wildcard_enum_match_arm))]

mod bay;
mod findings;
mod role;
mod scan;
mod setup;
mod things;
mod vehicle;
mod walls;

pub mod floor;
pub mod inset;
pub mod place;
pub mod plan;
#[cfg(test)]
pub(crate) mod tests;
pub mod way;

use std::sync::Arc;

pub use plan::plan;
pub use role::Role;
pub use scan::spans_along;

use crate::geometry::{Bounds, P2, V2};
use crate::phrases::{ENGLISH, Say, Words};
use crate::units;

/// What a drawn thing stands for, so that a pointer can choose it.
#[derive(Clone, Debug, PartialEq)]
pub enum Tag {
    /// An index into the judgement's findings.
    Finding(usize),
    Vehicle,
    /// A thing of the bay, as findings are about it.
    Thing(crate::model::Item),
    Station {
        setup: usize,
        name: Arc<str>,
    },
    Zone {
        setup: usize,
        name: Arc<str>,
    },
    Mark {
        setup: usize,
        name: Arc<str>,
    },
}

/// Where a name belongs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spot {
    /// Close to a point, not on it.
    Near(P2),
    /// Outside this box, along one of its sides.
    Beside(Bounds),
    /// Anywhere in this box; beside it where the box is too small.
    Within(Bounds),
}

#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// Filled and outlined as the role asks; hatched where the role is.
    Area {
        role: Role,
        outline: Vec<P2>,
        /// Left out of the inside; they lie within the outline.
        holes: Vec<Vec<P2>>,
        tag: Option<Tag>,
    },
    Line {
        role: Role,
        points: Vec<P2>,
        tag: Option<Tag>,
    },
    /// A small round point of constant size on the page.
    Dot {
        role: Role,
        at: P2,
        tag: Option<Tag>,
    },
    /// An arrow of constant size at `at`, pointing along `toward`.
    Arrow {
        role: Role,
        at: P2,
        toward: V2,
    },
    /// A name near a place. It is moved aside rather than drawn over another.
    Label {
        role: Role,
        spot: Spot,
        /// Lines are parted by line feeds.
        text: String,
        /// Higher is placed first; what finds no room is left out (of a finding its symbol stays).
        weight: u8,
        tag: Option<Tag>,
    },
    /// A dimension between two points with its figure; `aside` moves the line to the left of a to b, in mm.
    Dimension {
        role: Role,
        a: P2,
        b: P2,
        aside: f64,
        text: String,
        /// As of a label.
        weight: u8,
        tag: Option<Tag>,
    },
}

impl Item {
    pub fn role(&self) -> Role {
        match self {
            Item::Area { role, .. }
            | Item::Line { role, .. }
            | Item::Dot { role, .. }
            | Item::Arrow { role, .. }
            | Item::Label { role, .. }
            | Item::Dimension { role, .. } => *role,
        }
    }

    pub fn tag(&self) -> Option<&Tag> {
        match self {
            Item::Area { tag, .. }
            | Item::Line { tag, .. }
            | Item::Dot { tag, .. }
            | Item::Label { tag, .. }
            | Item::Dimension { tag, .. } => tag.as_ref(),
            Item::Arrow { .. } => None,
        }
    }
}

/// A drawing of a layout, in painting order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Scene {
    pub items: Vec<Item>,
}

impl Scene {
    /// The box about everything drawn to scale, mm, but for the aprons of shut doors; empty for an empty scene.
    pub fn bounds(&self) -> Bounds {
        let none = Bounds::of(Vec::<P2>::new());
        self.items
            .iter()
            .map(|item| match item {
                Item::Area { role: Role::ApronShut, .. } => none,
                Item::Area { outline, .. } => Bounds::of(outline),
                Item::Line { points, .. } => Bounds::of(points),
                Item::Dimension { a, b, aside, .. } => {
                    let shift = plan::aside_of(*a, *b, *aside);
                    Bounds::of([*a + shift, *b + shift])
                }
                Item::Dot { at, .. } => Bounds::of([*at]),
                Item::Arrow { .. } | Item::Label { .. } => none,
            })
            .fold(none, |all, b| all.union(&b))
    }

    fn area(&mut self, role: Role, outline: &[P2], tag: Option<Tag>) {
        self.items.push(Item::Area { role, outline: outline.to_vec(), holes: Vec::new(), tag });
    }

    fn line(&mut self, role: Role, points: impl Into<Vec<P2>>, tag: Option<Tag>) {
        self.items.push(Item::Line { role, points: points.into(), tag });
    }

    fn label(&mut self, role: Role, spot: Spot, text: impl Into<String>, weight: u8, tag: Option<Tag>) {
        self.items.push(Item::Label { role, spot, text: text.into(), weight, tag });
    }
}

/// What the drawing should show and stress.
#[derive(Clone, Debug, PartialEq)]
pub struct Show {
    /// Index into the layout's setups; `None`: all together.
    pub setup: Option<usize>,
    /// The finding that is chosen, drawn strongest.
    pub chosen: Option<usize>,
    pub tapes: bool,
    pub names: bool,
    pub grid: bool,
    /// Lengths in feet and inches.
    pub feet: bool,
    /// The language of its words.
    pub words: &'static Words,
}

impl Show {
    /// How lengths are shown.
    pub fn lengths(&self) -> units::Show {
        units::Show::of(self.feet)
    }

    /// How things are said on it.
    pub fn say(&self) -> Say<'static> {
        Say::new(self.lengths(), self.words)
    }

    /// A length as it stands on the plan.
    pub fn length(&self, mm: f64) -> String {
        self.lengths().drawn(mm)
    }
}

impl Default for Show {
    fn default() -> Self {
        Show { setup: None, chosen: None, tapes: true, names: true, grid: true, feet: false, words: &ENGLISH }
    }
}
