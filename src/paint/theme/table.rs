//! The table itself: which ink each role has, written with the palette's colours.

use super::palette::Palette;
use super::{Hatch, Ink, Lettering, Pen, Plate, Rgba};
use crate::paint::symbol::Symbol;
use crate::scene::Role;

const SOLID: &[f32] = &[];
const DASHED: &[f32] = &[7.0, 4.0];
const BROKEN: &[f32] = &[9.0, 4.0];
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

/// The ink of one role.
pub(super) fn ink(p: &Palette, role: Role) -> Ink {
    let letters = |colour: Rgba, size: f32| Lettering {
        colour,
        size,
        strong: false,
        plate: Some(Plate { fill: p.floor.at(242), edge: None }),
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
                plate: Some(Plate { fill: p.body.at(242), edge: None }),
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
        // hatched and full against open and dashed: told apart without their colours
        Role::Fail => Ink {
            hatch: hatch(p.fails.at(200), 45.0, 6.0),
            ..outcome(p, p.fails, p.fails_text, 2.6, Some(40), Symbol::Cross)
        },
        Role::Movable => Ink {
            pen: pen(p.condition, 2.2, BROKEN),
            ..outcome(p, p.condition, p.condition_text, 2.2, Some(44), Symbol::Triangle)
        },
        Role::Tight => {
            let quiet = outcome(p, p.tight, p.tight_text, 1.2, None, Symbol::Lozenge);
            Ink { text: Lettering { size: 10.5, strong: false, ..quiet.text }, ..quiet }
        }
        Role::Unknown => outcome(p, p.unknown, p.unknown_text, 1.4, None, Symbol::Question),
        Role::Accepted => outcome(p, p.faint, p.soft, 1.2, None, Symbol::Ring),
        Role::Pass => outcome(p, p.fits, p.fits_text, 1.4, None, Symbol::Tick),
        Role::Chosen => thing(pen(p.halo, 8.0, SOLID), None, None),
        Role::Swept => thing(pen(p.way.at(110), 1.0, SOLID), Some(p.way.at(26)), None),
        Role::Way => thing(pen(p.way, 1.8, SOLID), Some(p.way), None),
        Role::WayBack => thing(pen(p.way, 1.8, DASHED), Some(p.way), None),
        Role::Backdrop => thing(pen(p.hair, 1.0, SOLID), Some(p.thing), None),
        Role::HeightLow4 => band(p, 0),
        Role::HeightLow3 => band(p, 1),
        Role::HeightLow2 => band(p, 2),
        Role::HeightLow1 => band(p, 3),
        Role::HeightHigh1 => band(p, 4),
        Role::HeightHigh2 => band(p, 5),
        Role::HeightHigh3 => band(p, 6),
        Role::HeightHigh4 => band(p, 7),
        Role::Contour => {
            Ink { text: letters(p.soft, 10.5), ..thing(pen(p.contour.at(170), 1.0, SOLID), None, None) }
        }
        Role::SpotHeight => {
            Ink { text: letters(p.text, 10.5), ..thing(pen(p.contour, 1.2, SOLID), Some(p.floor), None) }
        }
        Role::Even => thing(pen(p.zone_pattern, 1.6, DASH_DOT), Some(p.zone_pattern), None),
        Role::Ghost => thing(pen(p.faint, 1.2, DASHED), Some(p.faint.at(18)), None),
        Role::Region => thing(pen(p.fits, 1.2, SOLID), Some(p.region), None),
    }
}

/// A band of the floor's height. The thin line of its own colour closes the seams to its neighbours.
fn band(p: &Palette, at: usize) -> Ink {
    let text = Lettering {
        colour: p.text,
        size: 10.5,
        strong: false,
        plate: Some(Plate { fill: p.floor.at(242), edge: None }),
    };
    Ink { pen: pen(p.heights[at], 0.6, SOLID), fill: Some(p.heights[at]), hatch: None, text, symbol: None }
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
            plate: Some(Plate { fill: p.floor.at(242), edge: None }),
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
