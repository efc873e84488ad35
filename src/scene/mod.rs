//! What to draw, neutral: shapes in bay axes (mm, y up the page) with roles, no colours and no pixels.

pub mod plan;

use std::sync::Arc;

use crate::geometry::P2;

/// What a drawn thing is; the theme turns it into ink.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Role {
    Ground,
    Grid,
    Floor,
    Apron,
    Wall,
    DoorShut,
    DoorOpen,
    Fixture,
    FixtureMovable,
    FixtureOverhead,
    FixtureFlush,
    FixtureLight,
    FixtureGlass,
    FixtureCleared,
    Post,
    Runway,
    KeepClear,
    Body,
    Glazing,
    Tyre,
    Mirror,
    Axle,
    CentreLine,
    ThrustLine,
    Mark,
    Tape,
    Target,
    TargetFront,
    Foot,
    Mat,
    Room,
    ZoneRadar,
    ZoneLight,
    ZoneAnything,
    ZoneOther,
    Dimension,
    Name,
    Fail,
    Movable,
    Tight,
    Unknown,
    Accepted,
    Pass,
    Chosen,
    Ghost,
    Region,
}

/// What a drawn thing stands for, so that a pointer can choose it.
#[derive(Clone, Debug, PartialEq)]
pub enum Tag {
    /// An index into the judgement's findings.
    Finding(usize),
    Vehicle,
    /// Names as in findings.
    Thing(Arc<str>),
    Station { setup: usize, name: Arc<str> },
    Zone { setup: usize, name: Arc<str> },
    Mark { setup: usize, name: Arc<str> },
}

#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// Filled and outlined as the role asks; hatched where the role is.
    Area {
        role: Role,
        outline: Vec<P2>,
        tag: Option<Tag>,
    },
    Line {
        role: Role,
        points: Vec<P2>,
        tag: Option<Tag>,
    },
    /// A small round point of constant size on the page.
    Dot { role: Role, at: P2, tag: Option<Tag> },
    /// An arrow of constant size at `at`, pointing along `toward`.
    Arrow { role: Role, at: P2, toward: nalgebra::Vector2<f64> },
    /// A name near a place. It is moved aside rather than drawn over another.
    Label {
        role: Role,
        at: P2,
        text: String,
        /// Higher is placed first; what finds no room is left out.
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
        tag: Option<Tag>,
    },
}

/// A drawing of a layout, in painting order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Scene {
    pub items: Vec<Item>,
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
}

impl Default for Show {
    fn default() -> Self {
        Show {
            setup: None,
            chosen: None,
            tapes: true,
            names: true,
            grid: true,
        }
    }
}
