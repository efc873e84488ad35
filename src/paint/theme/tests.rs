//! Cases of theme.

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
