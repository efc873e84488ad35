//! The one table of colours, widths, dashes, hatches and letterings: each role's ink by day and by night.
//!
//! Outcomes use the colours of Okabe and Ito (blue fits, vermillion does not, orange on a condition, grey not known,
//! reddish purple tight), deepened by day where a thin line or a text needs it, and never without their symbol.

mod palette;
mod table;

use std::sync::LazyLock;

use super::symbol::Symbol;
use crate::scene::Role;
use palette::{DAY, NIGHT, Palette};

/// A colour: red, green, blue, opacity, 0 to 255, not premultiplied.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rgba(pub [u8; 4]);

impl Rgba {
    /// From 0xRRGGBB, opaque.
    pub const fn hex(rgb: u32) -> Rgba {
        Rgba([(rgb >> 16) as u8, (rgb >> 8) as u8, rgb as u8, 255])
    }

    /// The same colour at this opacity.
    pub const fn at(self, opacity: u8) -> Rgba {
        let [r, g, b, _] = self.0;
        Rgba([r, g, b, opacity])
    }
}

/// A line: colour, width in px, dashes and gaps in px (none: a full line).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    pub colour: Rgba,
    pub width: f32,
    pub dash: &'static [f32],
}

/// Hatching: lines at an angle (degrees clockwise from the page's right), `spacing` px apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hatch {
    pub colour: Rgba,
    pub width: f32,
    pub angle: f32,
    pub spacing: f32,
    /// A second set of lines square to the first.
    pub crossed: bool,
}

/// How a text is set, px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lettering {
    pub colour: Rgba,
    pub size: f32,
    pub strong: bool,
    pub plate: Option<Plate>,
}

/// What lies behind a text, so that it reads on lines and hatching.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plate {
    pub fill: Rgba,
    pub edge: Option<Pen>,
}

/// Everything a role needs to be drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ink {
    pub pen: Option<Pen>,
    pub fill: Option<Rgba>,
    pub hatch: Option<Hatch>,
    pub text: Lettering,
    pub symbol: Option<Symbol>,
}

/// Colours of the window round the plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ui {
    /// Behind everything.
    pub ground: Rgba,
    /// Side panels and the strip on top.
    pub panel: Rgba,
    /// A card or a button on a panel.
    pub raised: Rgba,
    /// A card or a row that is chosen.
    pub chosen: Rgba,
    /// Parts areas from each other; nothing is told by it.
    pub line: Rgba,
    /// The edge of what can be pressed or typed into.
    pub edge: Rgba,
    pub text: Rgba,
    pub faint: Rgba,
    /// Links, buttons, the focus ring.
    pub accent: Rgba,
    /// A text on the accent or on an outcome's colour.
    pub on_accent: Rgba,
    pub fits: Rgba,
    pub fails: Rgba,
    pub condition: Rgba,
    pub unknown: Rgba,
    pub tight: Rgba,
    /// Words about what fits, and about what does not: the outcome's colour as a text needs it.
    pub fits_text: Rgba,
    pub fails_text: Rgba,
    pub condition_text: Rgba,
}

/// The inks of all roles, and the window's colours.
#[derive(Clone, Debug, PartialEq)]
pub struct Theme {
    pub dark: bool,
    pub ui: Ui,
    inks: Vec<Ink>,
}

impl Theme {
    /// Warm paper.
    pub fn day() -> &'static Theme {
        static THEME: LazyLock<Theme> = LazyLock::new(|| Theme::new(&DAY));
        &THEME
    }

    /// The same roles for a dark shop.
    pub fn night() -> &'static Theme {
        static THEME: LazyLock<Theme> = LazyLock::new(|| Theme::new(&NIGHT));
        &THEME
    }

    pub fn of(dark: bool) -> &'static Theme {
        if dark { Theme::night() } else { Theme::day() }
    }

    pub fn ink(&self, role: Role) -> &Ink {
        &self.inks[role as usize]
    }

    fn new(p: &Palette) -> Theme {
        Theme { dark: p.dark, ui: p.ui(), inks: Role::ALL.iter().map(|r| table::ink(p, *r)).collect() }
    }
}

#[cfg(test)]
mod tests;
