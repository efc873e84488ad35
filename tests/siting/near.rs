//! What no pose of the domain can meet is left out, and pieces are turned one by one: nothing found may change by it.

use baywright::geometry::P2;
use baywright::siting::{Ask, Progress, Site, Space, allowed_of, deepest_of, find};

use crate::bays::{Dice, Parts, busy};
use crate::rough::bay;

/// The same bay with walls of metal and a second setup that forbids metal.
fn with_metal(mut parts: Parts, dice: &mut Dice) -> Parts {
    parts.bay = parts
        .bay
        .replace("fixtures:", "walls: [(side: 1, surface: [Metal]), (side: 2, surface: [Metal])], fixtures:");
    parts.procedures.push(format!(
        r#"(name: "Q", may_move_between_setups: true, setups: [(name: "T", marks: [], zones: [
            (name: "metal", shape: Strip(line: Centre, from: "nose", along: (0, {}), across: {}), free_of: [Metal])]), (name: "U")])"#,
        dice.mm(300.0, 2500.0),
        dice.mm(800.0, 2600.0)
    ));
    parts
}

fn jobs(count: u64) -> impl Iterator<Item = (u64, Dice, Parts)> {
    (0..count).map(|seed| {
        let mut dice = Dice::new(5000 + seed);
        let (mut parts, ..) = bay(&mut dice);
        if dice.below(2) == 0 {
            parts = with_metal(parts, &mut dice);
        }
        if seed == 0 {
            parts = busy();
        }
        (seed, dice, parts)
    })
}

fn somewhere(dice: &mut Dice, space: &Space) -> P2 {
    let b = space.domain;
    P2::new(dice.of(b.min.x, b.max.x), dice.of(b.min.y, b.max.y))
}

#[test]
fn depths_and_regions_are_the_same_without_what_is_far() {
    let (mut whole_count, mut near_count, mut fitting) = (0, 0, 0);
    for (seed, mut dice, parts) in jobs(150) {
        let heading = if dice.below(2) == 0 { 0.0 } else { dice.mm(0.0, 359.0) };
        let site = Site::new(&parts.bundle()).unwrap();
        let (whole, near) = (&site.spaces(heading)[0], &site.spaces_near(heading)[0]);
        assert_eq!((&whole.holds, whole.domain, &whole.domains), (&near.holds, near.domain, &near.domains));
        let go = Progress::new();
        let (a, b) = (deepest_of(whole, &go).unwrap(), deepest_of(near, &go).unwrap());
        match (a, b) {
            (Some((p, deep)), Some((q, same))) => {
                assert!(
                    (deep - same).abs() < 1e-5 && (p - q).norm() < 1.0,
                    "seed {seed}: {p} {deep}, {q} {same}"
                );
                fitting += 1;
            }
            (a, b) => assert_eq!(a, b, "seed {seed}"),
        }
        let (a, b) = (allowed_of(whole, &go).unwrap(), allowed_of(near, &go).unwrap());
        assert!((a.area - b.area).abs() <= 1e-9 * a.area, "seed {seed}: {} {}", a.area, b.area);
        assert_eq!(a.rings.len(), b.rings.len(), "seed {seed}");
        // for every setup alone, too, whose domain is larger
        let setups = site.layout.setups.len();
        for only in (0..setups).map(Some).chain([None]) {
            let wanted = |s: usize| Some(s) == only;
            let ((all, domain), (few, same)) = (whole.of_setups(wanted), near.of_setups(wanted));
            assert_eq!(domain, same);
            if domain.min.x > domain.max.x || domain.min.y > domain.max.y {
                continue;
            }
            for _ in 0..30 {
                let p = somewhere(&mut dice, &Space { domain, ..whole.clone() });
                let (a, b) = (whole.depth(&all, p), near.depth(&few, p));
                assert!((a - b).abs() < 1e-9, "seed {seed}, setup {only:?}: {a} {b} at {p}");
            }
        }
        let (few, many) = (near.obstacles.len(), whole.obstacles.len());
        assert!(seed > 0 || few * 3 < many, "the busy bay: {few} of {many}");
        whole_count += many;
        near_count += few;
    }
    assert!(fitting > 40 && near_count < whole_count, "{fitting} {near_count} {whole_count}");
}

/// The row of headings the answer is one of, degrees.
const FINE: f64 = 45.0 / 8192.0;

#[test]
fn the_swing_ends_just_before_something_fails() {
    let (mut ended, mut loose) = (0, 0);
    for (seed, _, parts) in jobs(60) {
        let bundle = parts.bundle();
        let ask = Ask { headings: vec![0.0], bays: Vec::new() };
        let Some(best) = find(&bundle, &ask, &Progress::new()).unwrap().best else { continue };
        let site = Site::new(&bundle).unwrap();
        let s = best.place.stance;
        let margin = |turn: f64| {
            let space = &site.spaces(s.heading + turn)[0];
            space.depth(&space.all(), P2::new(s.x, s.y))
        };
        for (sign, swing) in [(1.0, best.swing.left), (-1.0, best.swing.right)] {
            for i in 0..=20 {
                let turn = swing * f64::from(i) / 20.0;
                assert!(margin(sign * turn) >= -2e-6, "seed {seed}: {turn} of {swing}");
            }
            if swing < 45.0 {
                assert!(margin(sign * (swing + FINE)) < 2e-6, "seed {seed}: more than {swing}");
                ended += 1;
            }
        }
        loose += usize::from(parts.bay.contains("walls:"));
    }
    assert!(ended > 20 && loose > 5, "{ended} {loose}");
}
