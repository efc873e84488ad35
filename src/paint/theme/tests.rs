//! Cases of theme.

use super::*;

/// Relative luminance and contrast ratio as WCAG 2.2 defines them (w3.org/TR/WCAG22, "relative luminance" and "contrast
/// ratio"): 0.2126 R + 0.7152 G + 0.0722 B of the linear parts, v / 12.92 up to 0.04045 and ((v + 0.055) / 1.055)^2.4 above;
/// (L1 + 0.05) / (L2 + 0.05). Texts need 4.5 : 1 (1.4.3), edges of controls and what tells something 3 : 1 (1.4.11).
fn contrast(a: Rgba, b: Rgba) -> f64 {
    let part = |v: u8| {
        let v = f64::from(v) / 255.0;
        if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
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
fn the_ratio_is_that_of_the_guideline() {
    let (black, white) = (Rgba::hex(0x000000), Rgba::hex(0xFFFFFF));
    assert!((contrast(black, white) - 21.0).abs() < 1e-9);
    // the lightest grey that passes on white
    assert!(contrast(Rgba::hex(0x767676), white) >= 4.5 && contrast(Rgba::hex(0x777777), white) < 4.5);
}

/// Everything a text of the plan can stand on: the ground, and the floor with each role's area laid on it.
fn papers(theme: &Theme) -> Vec<(Role, Rgba)> {
    let floor = theme.ink(Role::Floor).fill.unwrap();
    let filled = Role::ALL.iter().filter_map(|r| Some((*r, over(theme.ink(*r).fill?, floor))));
    filled.collect()
}

#[test]
fn every_text_of_the_plan_reads_on_everything_it_can_stand_on() {
    for theme in [Theme::day(), Theme::night()] {
        let ground = theme.ink(Role::Ground).fill.unwrap();
        for role in Role::ALL {
            let text = theme.ink(role).text;
            let plate = text.plate.unwrap();
            for (under, paper) in papers(theme) {
                // a plate without an edge takes the ground's colour off the floor
                let fills = if plate.edge.is_some() {
                    vec![plate.fill]
                } else {
                    vec![plate.fill, ground.at(plate.fill.0[3])]
                };
                for fill in fills {
                    let c = contrast(text.colour, over(fill, paper));
                    assert!(c >= 4.5, "{role:?} on {under:?}, dark {}: {c:.2}", theme.dark);
                }
            }
        }
    }
}

#[test]
fn every_text_of_the_panels_reads_and_every_edge_shows() {
    for theme in [Theme::day(), Theme::night()] {
        // every colour is named here: a new one has to be said what it is
        let Ui {
            ground,
            panel,
            raised,
            chosen,
            line: _,
            edge,
            text,
            faint,
            accent,
            on_accent,
            fits,
            fails,
            condition,
            unknown,
            tight,
            fits_text,
            fails_text,
            condition_text,
        } = theme.ui;
        for paper in [ground, panel, raised, chosen] {
            for words in [text, faint, accent, fits_text, fails_text, condition_text] {
                let c = contrast(words, paper);
                assert!(c >= 4.5, "{words:?} on {paper:?}, dark {}: {c:.2}", theme.dark);
            }
            for sign in [edge, accent, fits, fails, condition, unknown, tight] {
                let c = contrast(sign, paper);
                assert!(c >= 3.0, "{sign:?} on {paper:?}, dark {}: {c:.2}", theme.dark);
            }
        }
        assert!(contrast(on_accent, accent) >= 4.5);
        for badge in [fits, fails, condition, unknown] {
            let c = contrast(on_accent, badge);
            assert!(c >= 3.0, "a symbol on {badge:?}, dark {}: {c:.2}", theme.dark);
        }
    }
}

#[test]
fn what_fails_and_what_can_be_moved_differ_without_colour() {
    for theme in [Theme::day(), Theme::night()] {
        let [fail, movable] = [Role::Fail, Role::Movable].map(|r| theme.ink(r));
        assert!(fail.pen.unwrap().dash.is_empty() && !movable.pen.unwrap().dash.is_empty());
        assert!(fail.hatch.is_some() && movable.hatch.is_none());
    }
}

#[test]
fn outcomes_stand_out_and_have_symbols_of_their_own() {
    let outcomes = [Role::Fail, Role::Movable, Role::Tight, Role::Unknown, Role::Accepted, Role::Pass];
    for theme in [Theme::day(), Theme::night()] {
        let papers = [Role::Floor, Role::Ground, Role::Fixture, Role::Body];
        let papers = papers.map(|r| theme.ink(r).fill.unwrap());
        let symbols: std::collections::HashSet<_> =
            outcomes.iter().map(|r| theme.ink(*r).symbol.unwrap()).collect();
        assert_eq!(symbols.len(), outcomes.len());
        for role in outcomes {
            for paper in papers {
                let c = contrast(theme.ink(role).pen.unwrap().colour, over(paper, papers[0]));
                assert!(c >= 3.0, "{role:?} on {paper:?}, dark {}: {c:.2}", theme.dark);
            }
        }
    }
}

#[test]
fn the_table_is_in_the_order_of_the_roles() {
    for (i, role) in Role::ALL.iter().enumerate() {
        assert_eq!(*role as usize, i);
    }
}
