//! The shop's own figures, as a job may set them.

use crate::model::bay::ShopRules;

/// One of the shop's own figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShopFigure {
    WalkAround,
    Clearance,
    Headroom,
    Measuring,
    Level,
}

impl ShopFigure {
    pub const ALL: [ShopFigure; 5] = [
        ShopFigure::WalkAround,
        ShopFigure::Clearance,
        ShopFigure::Headroom,
        ShopFigure::Measuring,
        ShopFigure::Level,
    ];

    /// What it is called in the window.
    pub fn words(self) -> &'static str {
        match self {
            ShopFigure::WalkAround => "walk-round",
            ShopFigure::Clearance => "clearance",
            ShopFigure::Headroom => "headroom",
            ShopFigure::Measuring => "measured to",
            ShopFigure::Level => "level within",
        }
    }

    /// Its place in a set of shop figures.
    pub fn of(self, rules: &mut ShopRules) -> &mut Option<f64> {
        match self {
            ShopFigure::WalkAround => &mut rules.walk_around,
            ShopFigure::Clearance => &mut rules.clearance,
            ShopFigure::Headroom => &mut rules.headroom,
            ShopFigure::Measuring => &mut rules.measuring,
            ShopFigure::Level => &mut rules.level,
        }
    }
}
