//! The one table of colours, widths, dashes, hatches and letterings: each role's ink by day and by night.
//!
//! Outcomes use the colours of Okabe and Ito (blue fits, vermillion does not, orange on a condition, grey not known,
//! reddish purple tight), deepened by day where a thin line or a text needs it, and never without their symbol.

mod palette;

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
    pub line: Rgba,
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
        Theme { dark: p.dark, ui: p.ui(), inks: Role::ALL.iter().map(|r| ink(p, *r)).collect() }
    }
}

const SOLID: &[f32] = &[];
const DASHED: &[f32] = &[7.0, 4.0];
const FINE: &[f32] = &[4.0, 4.0];
const DOTTED: &[f32] = &[1.5, 4.0];
const DASH_DOT: &[f32] = &[12.0, 4.0, 2.0, 4.0];
const LONG_DOT: &[f32] = &[16.0, 4.0, 2.0, 4.0];

fn pen(colour: Rgba, width: f32, dash: &'static [f32]) -> Option<Pen> {
    Some(Pen { colour, width, dash })
}

fn hatch(colour: Rgba, angle: f32, spacing: f32) -> Option<Hatch> {
    Some(Hatch { colour, width: 1.0, angle, spacing, crossed: false })
}

/// The table.
fn ink(p: &Palette, role: Role) -> Ink {
    let letters = |colour: Rgba, size: f32| Lettering {
        colour,
        size,
        strong: false,
        plate: Some(Plate { fill: p.floor.at(215), edge: None }),
    };
    let plain = Ink { pen: None, fill: None, hatch: None, text: letters(p.soft, 11.0), symbol: None };
    let thing = |pen, fill, hatch| Ink { pen, fill, hatch, ..plain };
    match role {
        Role::Ground => thing(None, Some(p.ground), None),
        Role::Floor => thing(None, Some(p.floor), None),
        Role::Grid => thing(pen(p.grid, 1.0, SOLID), None, None),
        Role::Apron => thing(pen(p.soft, 1.0, DASHED), Some(p.floor), None),
        Role::ApronShut => thing(pen(p.hair, 1.0, FINE), None, None),
        Role::Wall => {
            Ink { text: letters(p.faint, 11.0), ..thing(pen(p.wall, 0.8, SOLID), Some(p.wall), None) }
        }
        Role::Threshold => thing(None, Some(p.floor), None),
        Role::DoorShut => thing(pen(p.wall, 1.2, SOLID), Some(p.floor), None),
        Role::DoorOpen => thing(pen(p.soft, 1.2, FINE), None, None),
        Role::Swing => thing(pen(p.hair, 1.0, SOLID), None, None),
        Role::Fixture => thing(pen(p.soft, 1.4, SOLID), Some(p.thing), hatch(p.hair, 45.0, 7.0)),
        Role::FixtureMovable => thing(pen(p.soft, 1.4, DASHED), Some(p.thing), hatch(p.hair, -45.0, 9.0)),
        Role::FixtureOverhead => thing(pen(p.soft, 1.2, DASH_DOT), Some(p.soft.at(14)), None),
        Role::FixtureFlush => thing(pen(p.soft, 1.0, DOTTED), None, hatch(p.hair, 0.0, 5.0)),
        Role::FixtureLight => thing(pen(p.lamp, 1.3, DASH_DOT), Some(p.lamp.at(52)), None),
        Role::FixtureGlass => {
            thing(pen(p.glass, 1.3, SOLID), Some(p.glass.at(40)), hatch(p.glass.at(110), 60.0, 12.0))
        }
        Role::FixtureCleared => {
            Ink { text: letters(p.faint, 11.0), ..thing(pen(p.faint, 1.0, DOTTED), None, None) }
        }
        Role::Post => thing(pen(p.wall, 1.0, SOLID), Some(p.wall), None),
        Role::Runway => thing(pen(p.hair, 1.2, SOLID), Some(p.thing), None),
        Role::FloorLine => thing(pen(p.zone_people, 2.4, SOLID), None, None),
        Role::KeepClear => Ink {
            text: letters(p.keep_text, 11.0),
            ..thing(
                pen(p.keep, 1.3, SOLID),
                Some(p.keep.at(24)),
                Some(Hatch {
                    colour: p.keep.at(170),
                    width: 3.0,
                    angle: -45.0,
                    spacing: 10.0,
                    crossed: false,
                }),
            )
        },
        Role::Body => Ink {
            text: Lettering {
                strong: true,
                plate: Some(Plate { fill: p.body.at(225), edge: None }),
                ..letters(p.text, 12.5)
            },
            ..thing(pen(p.text, 1.5, SOLID), Some(p.body.at(110)), None)
        },
        Role::BodyInner => thing(pen(p.hair, 0.8, SOLID), Some(p.body), None),
        Role::Glazing => thing(pen(p.hair, 1.0, SOLID), Some(p.pane), None),
        Role::Tyre => thing(pen(p.wall, 1.0, SOLID), Some(p.wall), None),
        Role::Mirror => thing(pen(p.text, 1.3, SOLID), Some(p.body), None),
        Role::Axle => thing(pen(p.hair, 1.0, SOLID), None, None),
        Role::CentreLine => thing(pen(p.soft, 1.0, LONG_DOT), None, None),
        Role::ThrustLine => {
            Ink { text: letters(p.thrust, 11.0), ..thing(pen(p.thrust, 1.4, DASHED), None, None) }
        }
        Role::Sensor => thing(pen(p.zone_pattern, 1.2, SOLID), Some(p.body), None),
        Role::Mark => Ink {
            text: Lettering { strong: true, ..letters(p.text, 12.5) },
            ..thing(pen(p.text, 1.6, SOLID), Some(p.body), None)
        },
        Role::Tape => Ink { text: letters(p.string, 10.5), ..thing(pen(p.string, 1.0, SOLID), None, None) },
        Role::Target => {
            Ink { text: letters(p.text, 11.5), ..thing(pen(p.text, 1.2, SOLID), Some(p.wall), None) }
        }
        Role::TargetFront => thing(pen(p.text, 3.4, SOLID), Some(p.text), None),
        Role::Foot => thing(pen(p.text, 1.1, SOLID), Some(p.body), None),
        Role::Mat => Ink {
            text: letters(p.text, 11.5),
            ..thing(
                pen(p.text, 1.1, SOLID),
                Some(p.thing.at(190)),
                Some(Hatch { colour: p.hair.at(150), width: 1.0, angle: 0.0, spacing: 12.0, crossed: true }),
            )
        },
        Role::Room => thing(pen(p.hair, 1.0, FINE), None, None),
        Role::ZoneRadar => zone(p, p.zone_radar, hatch(p.zone_radar.at(95), -45.0, 10.0)),
        Role::ZoneLight => zone(p, p.zone_light, hatch(p.zone_light.at(100), 30.0, 10.0)),
        Role::ZoneAnything => zone(
            p,
            p.zone_anything,
            hatch(p.zone_anything.at(46), 45.0, 16.0).map(|h| Hatch { crossed: true, ..h }),
        ),
        Role::ZonePattern => zone(p, p.zone_pattern, hatch(p.zone_pattern.at(95), 0.0, 8.0)),
        Role::ZonePeople => zone(p, p.zone_people, hatch(p.zone_people.at(90), 90.0, 14.0)),
        Role::ZoneSeen => zone(p, p.zone_seen, None),
        Role::ZoneOther => zone(p, p.faint, hatch(p.faint.at(80), 60.0, 16.0)),
        Role::Dimension => thing(pen(p.soft, 1.0, SOLID), None, None),
        Role::Name => plain,
        Role::Fail => outcome(p, p.fails, p.fails_text, 2.2, Some(40), Symbol::Cross),
        Role::Movable => outcome(p, p.condition, p.condition_text, 2.0, Some(44), Symbol::Triangle),
        Role::Tight => {
            let quiet = outcome(p, p.tight, p.tight_text, 1.2, None, Symbol::Lozenge);
            Ink { text: Lettering { size: 10.5, strong: false, ..quiet.text }, ..quiet }
        }
        Role::Unknown => outcome(p, p.unknown, p.unknown_text, 1.4, None, Symbol::Question),
        Role::Accepted => outcome(p, p.faint, p.soft, 1.2, None, Symbol::Ring),
        Role::Pass => outcome(p, p.fits, p.fits_text, 1.4, None, Symbol::Tick),
        Role::Chosen => thing(pen(p.halo, 8.0, SOLID), None, None),
        Role::Ghost => thing(pen(p.faint, 1.2, DASHED), Some(p.faint.at(18)), None),
        Role::Region => thing(pen(p.fits, 1.2, SOLID), Some(p.region), None),
    }
}

fn zone(p: &Palette, colour: Rgba, hatch: Option<Hatch>) -> Ink {
    Ink {
        pen: pen(colour, 1.4, DASHED),
        fill: Some(colour.at(12)),
        hatch,
        text: Lettering {
            colour: p.zone_text(colour),
            size: 11.0,
            strong: false,
            plate: Some(Plate { fill: p.floor.at(225), edge: None }),
        },
        symbol: None,
    }
}

fn outcome(p: &Palette, colour: Rgba, text: Rgba, width: f32, fill: Option<u8>, symbol: Symbol) -> Ink {
    Ink {
        pen: pen(colour, width, SOLID),
        fill: fill.map(|f| colour.at(f)),
        hatch: None,
        text: Lettering {
            colour: text,
            size: 12.0,
            strong: true,
            plate: Some(Plate { fill: p.card, edge: pen(colour, 1.2, SOLID) }),
        },
        symbol: Some(symbol),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast as in WCAG 2.1 (w3.org/TR/WCAG21), from memory: (L1 + 0.05) / (L2 + 0.05).
    fn contrast(a: Rgba, b: Rgba) -> f64 {
        let part = |v: u8| {
            let v = f64::from(v) / 255.0;
            if v <= 0.03928 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        };
        let light = |c: Rgba| 0.2126 * part(c.0[0]) + 0.7152 * part(c.0[1]) + 0.0722 * part(c.0[2]);
        let (a, b) = (light(a) + 0.05, light(b) + 0.05);
        a.max(b) / a.min(b)
    }

    fn over(ink: Rgba, ground: Rgba) -> Rgba {
        let a = u32::from(ink.0[3]);
        let mix = |k: usize| ((u32::from(ink.0[k]) * a + u32::from(ground.0[k]) * (255 - a)) / 255) as u8;
        Rgba([mix(0), mix(1), mix(2), 255])
    }

    #[test]
    fn every_text_reads_on_what_lies_behind_it() {
        for theme in [Theme::day(), Theme::night()] {
            let floor = theme.ink(Role::Floor).fill.unwrap();
            let ground = theme.ink(Role::Ground).fill.unwrap();
            for role in Role::ALL {
                let text = theme.ink(role).text;
                let plate = text.plate.unwrap();
                let behind = over(plate.fill, floor);
                // texts without an edge may stand outside the bay
                let outside = if plate.edge.is_some() { behind } else { ground };
                for paper in [behind, outside] {
                    let c = contrast(text.colour, paper);
                    assert!(c >= 4.5, "{role:?} dark {}: {c:.2}", theme.dark);
                }
            }
            let ui = theme.ui;
            for panel in [ui.panel, ui.raised, ui.chosen, ui.ground] {
                for text in [ui.text, ui.faint, ui.accent] {
                    let c = contrast(text, panel);
                    assert!(c >= 4.5, "{text:?} on {panel:?} dark {}: {c:.2}", theme.dark);
                }
            }
            for colour in [ui.fits, ui.fails, ui.condition, ui.unknown, ui.tight] {
                let c = contrast(colour, ui.panel);
                assert!(c >= 3.0, "{colour:?} dark {}: {c:.2}", theme.dark);
            }
        }
    }

    #[test]
    fn outcomes_stand_out_and_have_symbols_of_their_own() {
        let outcomes = [Role::Fail, Role::Movable, Role::Tight, Role::Unknown, Role::Accepted, Role::Pass];
        for theme in [Theme::day(), Theme::night()] {
            let floor = theme.ink(Role::Floor).fill.unwrap();
            let symbols: std::collections::HashSet<_> =
                outcomes.iter().map(|r| theme.ink(*r).symbol.unwrap()).collect();
            assert_eq!(symbols.len(), outcomes.len());
            for role in outcomes {
                let c = contrast(theme.ink(role).pen.unwrap().colour, floor);
                assert!(c >= 3.0, "{role:?} dark {}: {c:.2}", theme.dark);
            }
        }
    }

    #[test]
    fn the_table_is_in_the_order_of_the_roles() {
        for (i, role) in Role::ALL.iter().enumerate() {
            assert_eq!(*role as usize, i);
        }
    }
}
