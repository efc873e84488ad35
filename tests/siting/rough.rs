//! Random bays: the slow exact method agrees, and the rules themselves agree at poses on either side of the edge.

use std::fmt::Write;

use baywright::checks::pairs::Cx;
use baywright::checks::{Outcome, RULES};
use baywright::layout::{Layout, Stance};
use baywright::siting::{Ask, Progress, Site, find};

use crate::bays::{Dice, Parts};
use crate::slow::{self, Ring};

/// Bays tried.
const BAYS: u64 = 220;
/// Arcs of the region are chords about the true arc, which reach this much too far at most, mm.
const CHORD: f64 = 0.3;

/// A random bay, what is no floor round it as convex polygons, and its extent.
pub(crate) fn bay(dice: &mut Dice) -> (Parts, Vec<Ring>, (f64, f64)) {
    let (w, l) = (dice.mm(4500.0, 9000.0), dice.mm(7000.0, 14_000.0));
    let far = 60_000.0;
    let strip = |x0: f64, y0: f64, x1: f64, y1: f64| -> Ring { vec![(x0, y0), (x1, y0), (x1, y1), (x0, y1)] };
    let mut outside = vec![
        strip(-far, -far, far, 0.0),
        strip(-far, l, far, far),
        strip(-far, -far, 0.0, far),
        strip(w, -far, far, far),
    ];
    let floor = if dice.below(3) == 0 {
        // an L: a corner is missing
        let (cx, cy) = (dice.mm(w * 0.6, w * 0.9), dice.mm(l * 0.3, l * 0.7));
        outside.push(strip(cx, -far, far, cy));
        format!("[(0, 0), ({cx}, 0), ({cx}, {cy}), ({w}, {cy}), ({w}, {l}), (0, {l})]")
    } else {
        format!("[(0, 0), ({w}, 0), ({w}, {l}), (0, {l})]")
    };
    let mut fixtures = String::new();
    for i in 0..dice.below(7) {
        let (x, y) = (dice.mm(0.0, w), dice.mm(0.0, l));
        let shape = match dice.below(4) {
            0 => format!("Round(at: ({x}, {y}), diameter: {})", dice.mm(60.0, 700.0)),
            1 => format!(
                "Box(at: ({x}, {y}), size: ({}, {}), turn: {})",
                dice.mm(100.0, 900.0),
                dice.mm(100.0, 900.0),
                dice.mm(0.0, 180.0)
            ),
            2 => {
                let d = dice.mm(300.0, 900.0);
                format!(
                    "Outline([({x}, {y}), ({}, {y}), ({}, {}), ({}, {}), ({}, {}), ({x}, {})])",
                    x + d,
                    x + d,
                    y + d / 3.0,
                    x + d / 3.0,
                    y + d / 3.0,
                    x + d / 3.0,
                    y + d,
                    y + d
                )
            }
            _ => {
                format!("Box(at: ({x}, {y}), size: ({}, {}))", dice.mm(100.0, 1200.0), dice.mm(100.0, 1200.0))
            }
        };
        let _ = write!(
            fixtures,
            "(name: \"f{i}\", shape: {shape}, z: (0, {}), movable: {}), ",
            dice.mm(250.0, 2500.0),
            i % 2 == 0
        );
    }
    let mut parts = Parts::alone(
        &format!("(name: \"Random\", floor: {floor}, fixtures: [{fixtures}], rules: (clearance: 100))"),
        0.0,
    );
    parts.job =
        format!("pose: Anywhere, rules: (walk_around: {})", [0.0, 300.0, 600.0][dice.below(3) as usize]);
    parts.equipment = r#"(name: "Shop", targets: {"board": (kind: Board, face: (width: 600, height: 800, thickness: 40), stand: Box(at: (-150, 0), size: (500, 700)), stand_height: 300, room_behind: 400, owned: 9),
        "pole": (kind: Reflector, face: (width: 200, height: 200, thickness: 100), stand: Round(at: (-60, 0), diameter: 500), owned: 9)})"#.into();
    if dice.below(4) > 0 {
        let (ahead, left, turn) = (dice.mm(300.0, 2500.0), dice.mm(-1200.0, 1200.0), dice.mm(-60.0, 60.0));
        let zone = match dice.below(3) {
            0 => String::new(),
            1 => format!(
                "(name: \"field\", shape: Strip(line: Centre, from: \"nose\", along: (0, {}), across: {}), free_of: [Anything])",
                dice.mm(500.0, 3000.0),
                dice.mm(500.0, 2500.0)
            ),
            _ => format!(
                "(name: \"fan\", shape: Fan(at: \"nose\", line: Centre, angles: (-30, 40), reach: {}), free_of: [Anything])",
                dice.mm(500.0, 3000.0)
            ),
        };
        let target = if dice.below(2) == 0 { "board" } else { "pole" };
        parts.procedures.push(format!(
            "(name: \"P\", setups: [(name: \"S\", marks: [(\"X\", Place(line: Centre, from: \"nose\", along: {ahead}, left: {left}))],
              stations: [(name: \"board\", target: \"{target}\", at: \"X\", looks: Backward, turn: {turn}, height: Floor(100))], zones: [{zone}])])"
        ));
    }
    (parts, outside, (w, l))
}

/// Whether any plan rule fails there.
fn fails(layout: &Layout, x: f64, y: f64, heading: f64) -> Option<String> {
    let there = layout.at(Stance { x, y, heading });
    let cx = Cx::new(&there);
    let mut findings = Vec::new();
    for rule in RULES.iter().filter(|r| r.policy.plan) {
        (rule.run)(&cx, &mut findings);
    }
    findings
        .iter()
        .find(|f| matches!(f.outcome, Outcome::Fail | Outcome::Movable))
        .map(|f| format!("{} {:?} {:?}", f.rule.word(), f.items, f.margin))
}

#[test]
fn the_slow_exact_method_agrees() {
    let (mut fitting, mut checked) = (0, 0);
    for seed in 0..BAYS {
        let mut dice = Dice::new(seed);
        let (parts, outside, extent) = bay(&mut dice);
        let heading = match dice.below(3) {
            0 => 0.0,
            1 => 180.0,
            _ => dice.mm(0.0, 359.0),
        };
        let bundle = parts.bundle();
        let site = Site::new(&bundle).unwrap_or_else(|f| panic!("{f:?}"));
        let ask = Ask { headings: vec![heading], bays: Vec::new() };
        let found = find(&bundle, &ask, &Progress::new()).unwrap_or_else(|e| panic!("{e:?}"));
        let fast = &found.headings[0];
        let exact = slow::region(&site.layout, heading, &outside, extent);
        let off = (fast.allowed.area - exact.area).abs();
        assert!(
            off <= 0.005 * exact.area.max(2000.0),
            "seed {seed}: area {} but {}",
            fast.allowed.area,
            exact.area
        );
        match fast.best {
            Some(best) => {
                assert!(
                    (best.slack - exact.depth.max(0.0)).abs() <= 5.0,
                    "seed {seed}: slack {} but {}",
                    best.slack,
                    exact.depth
                );
                fitting += 1;
            }
            None => assert!(exact.depth < 1.0, "seed {seed}: nothing found, but {} deep", exact.depth),
        }
        // on both sides of the edge the rules themselves say so
        let rings = &fast.allowed.rings;
        for ring in rings {
            for _ in 0..12 {
                let i = dice.below(ring.len() as u32) as usize;
                let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
                let way = (b - a).normalize();
                let on = a + (b - a) * dice.of(0.05, 0.95);
                for off in [-1.0, 1.0] {
                    let p = on + baywright::geometry::V2::new(-way.y, way.x) * off;
                    let deep = slow::depth((p.x, p.y), rings);
                    let failure = fails(&site.layout, p.x, p.y, heading);
                    if deep > 1e-6 {
                        assert_eq!(failure, None, "seed {seed}: {deep} inside at {p}");
                    } else if deep < -1.0 + CHORD {
                        assert!(failure.is_some(), "seed {seed}: {deep} at {p} does not fail");
                    }
                    checked += 1;
                }
            }
        }
        if let Some(best) = fast.best {
            assert_eq!(
                fails(&site.layout, best.stance.x, best.stance.y, heading),
                None,
                "seed {seed}: the best pose fails"
            );
        }
    }
    assert!(fitting > 60, "only {fitting} of {BAYS} bays fit: too few to tell");
    assert!(checked > 2000, "only {checked} poses");
}

#[test]
fn ten_thousand_fixtures_do_not_hang() {
    let mut dice = Dice::new(1);
    let mut fixtures = String::new();
    for i in 0..10_000 {
        let (x, y) = (dice.mm(0.0, 60_000.0), dice.mm(0.0, 60_000.0));
        let _ = write!(
            fixtures,
            "(name: \"f{i}\", shape: Box(at: ({x}, {y}), size: (200, 200)), z: (0, 1000), movable: true), "
        );
    }
    let parts = Parts::alone(
        &format!(
            "(name: \"Store\", floor: [(0, 0), (60000, 0), (60000, 60000), (0, 60000)], fixtures: [{fixtures}])"
        ),
        600.0,
    );
    let bundle = parts.bundle();
    let progress = Progress::new();
    std::thread::scope(|scope| {
        let search = scope.spawn(|| find(&bundle, &Ask::usual(), &progress));
        std::thread::sleep(std::time::Duration::from_secs(1));
        // either it has answered by then, or it stops when asked
        progress.stop();
        let from = std::time::Instant::now();
        let _ = search.join();
        assert!(from.elapsed() < std::time::Duration::from_secs(5), "{:?}", from.elapsed());
    });
}
