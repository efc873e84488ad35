//! A vehicle on a lift: worked by hand where it may stand, and random lifts held against the rule itself. The lifts and
//! the vehicles are invented; the arithmetic stands beside each case.

use crate::told;
use baywright::checks::pairs::Cx;
use baywright::checks::{Finding, Outcome, RuleId};
use baywright::geometry::P2;
use baywright::layout::Stance;
use baywright::siting::{Ask, Change, Direction, OtherBay, Progress, Site, Siting, Space, curve, find};

use crate::bays::{ASKS_NOTHING, Dice, Parts};

/// Tyres 225 x 680, their middles 780 to either side and 2700 apart; 3600 of the car behind the front axle.
const CAR: &str = r#"(name: "Lifted", length: 4400, width: 1800, height: 1500, wheelbase: 2700, front_overhang: 800,
    track: (front: 1560, rear: 1560), tyre: (width: 225, diameter: 680), ground_clearance: 200)"#;

/// Runways 600 wide and 5000 long, as far apart as the wheels, their middle at x 3000: y 4000 to 9000.
const RUNWAYS: &str =
    "runways: [Box(at: (2220, 6500), size: (600, 5000)), Box(at: (3780, 6500), size: (600, 5000))]";

pub(crate) const POSTS: &str =
    "posts: [Box(at: (1000, 5000), size: (300, 300)), Box(at: (5000, 5000), size: (300, 300))]";

/// The car on a lift in a bay 6000 wide.
pub(crate) fn lifted(length: f64, lift: &str, more: &str) -> Parts {
    let bay = format!(
        "(name: \"Lifts\", floor: [(0, 0), (6000, 0), (6000, {length}), (0, {length})], ceiling: 4000,
          lifts: [(name: \"ramp\", heights: [0, 300, 1500], {lift})], {more})"
    );
    let mut parts = Parts::alone(&bay, 600.0);
    parts.vehicle = CAR.into();
    parts.job += ", support: Lift(name: \"ramp\", height: 0)";
    parts
}

pub(crate) fn at(parts: &Parts, heading: f64) -> Siting {
    find(&parts.bundle(), &Ask { headings: vec![heading], bays: Vec::new() }, &Progress::new())
        .unwrap_or_else(|e| panic!("{e:?}"))
}

pub(crate) fn near(a: f64, b: f64, tolerance: f64) -> bool {
    (a - b).abs() <= tolerance
}

pub(crate) fn area(found: &Siting) -> f64 {
    found.headings[0].allowed.area
}

pub(crate) fn slack(found: &Siting) -> f64 {
    found.best.as_ref().unwrap().place.slack
}

/// What the rule finds where the vehicle stands there.
pub(crate) fn rule(site: &Site, x: f64, y: f64, heading: f64) -> Vec<Finding> {
    let there = site.layout.at(Stance { x, y, heading });
    let mut findings = Vec::new();
    (RuleId::OnLift.rule().run)(&Cx::new(&there), &mut findings);
    findings
}

pub(crate) fn least(findings: &[Finding]) -> f64 {
    findings.iter().filter_map(|f| f.margin).fold(f64::INFINITY, f64::min)
}

/// The obstacles that come of the lift.
pub(crate) fn of_lift(space: &Space) -> Vec<u32> {
    let all = space.all().into_iter();
    all.filter(|i| space.holds[space.obstacles[*i as usize].hold as usize].rule == RuleId::OnLift).collect()
}

#[test]
fn two_runways_leave_what_they_are_wider_than_the_tyres() {
    // sideways 600 - 225 = 375, so 187.5 either way of x 3000; along, the tyres span 2700 + 680 = 3380 of 5000: 1620, the
    // front axle from 4000 + 340 + 2700 = 7040 to 9000 - 340 = 8660. The walls are farther off: 3000 - 900 - 187.5 > 600
    // at the sides, 7040 - 3600 and 14000 - 8660 - 800 at the ends.
    let found = at(&lifted(14_000.0, RUNWAYS, ""), 0.0);
    assert!(near(area(&found), 375.0 * 1620.0, 1.0), "{}", area(&found));
    let best = found.best.as_ref().unwrap().place;
    assert!(near(best.slack, 187.5, 0.01) && near(best.stance.x, 3000.0, 0.1), "{best:?}");
    assert!(near(best.stance.y, 7040.0 + 187.5, 1.0), "the least y of equals: {best:?}");
    // backed in, the rear axle is ahead: the front axle from 4340 to 9000 - 340 - 2700
    let backed = at(&lifted(14_000.0, RUNWAYS, ""), 180.0);
    assert!(near(area(&backed), 375.0 * 1620.0, 1.0));
    assert!(near(backed.best.unwrap().place.stance.y, 4340.0 + 187.5, 1.0));
    // the lift's middle line within 50: a strip 100 wide
    let strip = at(&lifted(14_000.0, &format!("{RUNWAYS}, tolerance: 50"), ""), 0.0);
    assert!(near(area(&strip), 100.0 * 1620.0, 1.0) && near(slack(&strip), 50.0, 0.01));
    // on the floor of the same bay none of it counts: x 1500..4500, y 4200..12600
    let mut floor = lifted(14_000.0, RUNWAYS, "");
    floor.job = floor.job.replace(", support: Lift(name: \"ramp\", height: 0)", "");
    assert!(near(area(&at(&floor, 0.0)), 3000.0 * 8400.0, 1.0));
}

#[test]
fn runways_in_pieces_and_one_wide_runway() {
    // each runway in two pieces that meet at y 6000: joined, as above
    let pieces =
        "runways: [Box(at: (2220, 5000), size: (600, 2000)), Box(at: (2220, 7500), size: (600, 3000)),
        Box(at: (3780, 5000), size: (600, 2000)), Box(at: (3780, 7500), size: (600, 3000))]";
    let found = at(&lifted(14_000.0, pieces, ""), 0.0);
    assert!(near(area(&found), 375.0 * 1620.0, 5.0) && near(slack(&found), 187.5, 0.01));
    // a platform 2400 wide: 2400 - 1560 - 225 = 615 sideways
    let found = at(&lifted(14_000.0, "runways: [Box(at: (3000, 6500), size: (2400, 5000))]", ""), 0.0);
    assert!(near(area(&found), 615.0 * 1620.0, 1.0) && near(slack(&found), 307.5, 0.01));
    // four turning plates of 700 x 700, one under each wheel's middle at x 3000, y 7800: 475 sideways, 20 along
    let plate = |x: f64, y: f64| format!("Box(at: ({x}, {y}), size: (700, 700))");
    let plates = [(2220.0, 7800.0), (3780.0, 7800.0), (2220.0, 5100.0), (3780.0, 5100.0)];
    let plates: Vec<String> = plates.iter().map(|(x, y)| plate(*x, *y)).collect();
    let found = at(&lifted(14_000.0, &format!("runways: [{}]", plates.join(", ")), ""), 0.0);
    assert!(near(area(&found), 475.0 * 20.0, 1.0) && near(slack(&found), 10.0, 0.01));
}

#[test]
fn turned_runways_in_pieces_that_meet() {
    // the runways above about (7000, 7000), in two pieces each that meet but for rounding: as if each were one
    for turn in [7.0, 30.0, 63.7] {
        let (sin, cos) = f64::to_radians(turn).sin_cos();
        let piece = |along: f64, across: f64, long: f64| {
            let (x, y) = (7000.0 + along * cos - across * sin, 7000.0 + along * sin + across * cos);
            format!("Box(at: ({x:?}, {y:?}), size: ({long:?}, 600), turn: {turn:?})")
        };
        let pieces =
            [780.0, -780.0].map(|y| [piece(-1000.0, y, 3000.0), piece(1500.0, y, 2000.0)].join(", "));
        let mut parts = lifted(14_000.0, &format!("runways: [{}]", pieces.join(", ")), "");
        parts.bay = parts.bay.replace("6000", "14000");
        let found = at(&parts, turn - 90.0);
        assert!(
            near(area(&found), 375.0 * 1620.0, 10.0) && near(slack(&found), 187.5, 0.01),
            "{turn}: {}",
            slack(&found)
        );
    }
}

#[test]
fn turned_the_slack_shrinks() {
    // Turned by a, a tyre reaches 112.5 cos a + 340 sin a sideways of its middle, so its middle keeps
    // 300 - that of its runway's middle. The left tyres' middles come 780 (1 - cos a) nearer to the right, the right ones'
    // as much nearer to the left, and the rear ones' 2700 sin a to the right: the slack is that room less half of what lies
    // between the farthest.
    let want = |a: f64| {
        let room = 300.0 - 112.5 * a.cos() - 340.0 * a.sin();
        room - (2700.0 * a.sin() + 2.0 * 780.0 * (1.0 - a.cos())) / 2.0
    };
    let parts = lifted(14_000.0, RUNWAYS, "");
    for degrees in [0.0, 1.0, 2.0, 4.0, 6.0] {
        for way in [1.0, -1.0] {
            let found = at(&parts, way * degrees);
            let best = found.best.as_ref().unwrap().place;
            assert!(near(best.slack, want(f64::to_radians(degrees)), 0.01), "{degrees}: {best:?}");
        }
    }
    assert!(want(7f64.to_radians()) < 0.0 && at(&parts, 7.0).best.is_none());
    // so the heading may be off until nothing is left: turned about the front axle's middle at x 3000 the room goes when
    // room = 2700 sin a + 780 (1 - cos a), at the rear tyre it turns towards
    let swing = at(&parts, 0.0).best.unwrap().swing;
    let gone = (0..90_000).map(|i| f64::from(i) * 1e-4).find(|d| {
        let a = d.to_radians();
        300.0 - 112.5 * a.cos() - 340.0 * a.sin() < 2700.0 * a.sin() + 780.0 * (1.0 - a.cos())
    });
    assert!(near(swing.left, gone.unwrap(), 0.02) && near(swing.right, gone.unwrap(), 0.02), "{swing:?}");
}

#[test]
fn the_rule_agrees_at_random_poses() {
    let (mut inside, mut outside, mut edges) = (0, 0, 0);
    for seed in 0..60 {
        let mut dice = Dice::new(900 + seed);
        let (wide, long, off) = (dice.mm(300.0, 900.0), dice.mm(3600.0, 5500.0), dice.mm(-60.0, 60.0));
        let turn = if dice.below(2) == 0 { 0.0 } else { dice.of(-15.0, 15.0) };
        let (sin, cos) = f64::to_radians(turn).sin_cos();
        let runway = |side: f64, from: f64, to: f64| {
            let (along, aside) = ((from + to) / 2.0 * long, side * 780.0 + off);
            let (x, y) = (10_000.0 + aside * cos - along * sin, 10_000.0 + aside * sin + along * cos);
            format!("Box(at: ({x:?}, {y:?}), size: ({wide}, {:?}), turn: {turn:?})", (to - from) * long)
        };
        let runways = match dice.below(3) {
            0 => [runway(-1.0, -0.5, 0.2), runway(-1.0, 0.1, 0.5), runway(1.0, -0.5, 0.5)].join(", "),
            1 => [runway(-1.0, -0.5, 0.5), runway(1.0, -0.5, 0.5)].join(", "),
            _ => format!("Box(at: (10000, 10000), size: ({:?}, {long}), turn: {turn:?})", wide + 1500.0),
        };
        let tolerance = match dice.below(2) {
            0 => String::new(),
            _ => format!(", tolerance: {}", dice.mm(5.0, 300.0)),
        };
        let mut parts = lifted(20_000.0, &format!("runways: [{runways}]{tolerance}"), "");
        parts.bay = parts.bay.replace("6000", "20000");
        let heading = turn + [0.0, 180.0][dice.below(2) as usize] + dice.of(-2.0, 2.0);
        let bundle = parts.bundle();
        let site = Site::new(&bundle).unwrap();
        let space = &site.spaces(heading)[0];
        let among = of_lift(space);
        let back = if (heading - turn).abs() < 90.0 { 1350.0 } else { -1350.0 };
        for i in 0..200 {
            let reach = if i % 2 == 0 { 200.0 } else { 1500.0 };
            let (aside, along) = (dice.of(-reach, reach), back + dice.of(-reach, reach));
            let p = P2::new(10_000.0 + aside * cos - along * sin, 10_000.0 + aside * sin + along * cos);
            let findings = rule(&site, p.x, p.y, heading);
            let (judged, sited) = (least(&findings), space.depth(&among, p));
            let fails = findings.iter().any(|f| f.outcome == Outcome::Fail);
            if judged >= 0.0 {
                assert!((sited - judged).abs() < 1e-3, "seed {seed}: {sited} but {judged}");
                inside += 1;
            } else {
                // how far it is out is told differently, as with walls: siting by the shortest way off what is no runway
                assert!(sited < 1e-3, "seed {seed}: {sited} but {judged}");
                outside += 1;
            }
            assert!(!fails || sited < 0.0, "seed {seed}: fits with {sited} but fails with {judged}");
            assert!(fails || sited > -1e-3, "seed {seed}: {sited} but passes with {judged}");
        }
        // the floor is far: the region ends where the rule's margin does
        let found = at(&parts, heading);
        for ring in &found.headings[0].allowed.rings {
            for (i, a) in ring.iter().enumerate() {
                let on = nalgebra::center(a, &ring[(i + 1) % ring.len()]);
                let margin = least(&rule(&site, on.x, on.y, heading));
                assert!(margin.abs() < 0.1, "seed {seed}: {margin} at the edge {on}");
                edges += 1;
            }
        }
        if let Some(best) = &found.best {
            let s = best.place.stance;
            assert!(near(least(&rule(&site, s.x, s.y, heading)), best.place.slack, 1e-3), "seed {seed}");
            assert!(!best.also.iter().any(|f| f.rule == RuleId::OnLift));
        }
    }
    assert!(inside > 1000 && outside > 1000 && edges > 80, "{inside} {outside} {edges}");
}

#[test]
fn the_curve_and_what_binds_name_the_lift() {
    let bundle = lifted(14_000.0, RUNWAYS, "").bundle();
    let site = Site::new(&bundle).unwrap();
    // 200 aside: 12.5 past the edge
    let across = curve(&site, Stance { x: 3200.0, y: 7800.0, heading: 0.0 }, Direction::Across);
    assert!(near(across.present.1, -12.5, 1e-6), "{:?}", across.present);
    assert!(near(across.fits[0].0, 2812.5, 1e-6) && near(across.fits[0].1, 3187.5, 1e-6));
    assert!(across.fits.len() == 1 && near(across.best.1, 187.5, 0.5), "{:?}", across.best);
    let along = curve(&site, Stance { x: 3000.0, y: 7800.0, heading: 0.0 }, Direction::Along);
    assert!(near(along.fits[0].0, 7040.0, 1e-6) && near(along.fits[0].1, 8660.0, 1e-6));
    let space = &site.spaces(0.0)[0];
    let (margin, hold) = space.binding(&space.all(), P2::new(3200.0, 7800.0)).unwrap();
    assert!(near(margin, -12.5, 1e-6));
    assert_eq!(told(&hold.between(&site.layout.stage)), "tyres and the runways of ramp");
}

#[test]
fn what_is_short_and_what_would_change_it() {
    // at the hind end of the runways the nose and 600 before it reach 7040 + 1400 = 8440
    let found = at(&lifted(8240.0, RUNWAYS, ""), 0.0);
    assert!(found.best.is_none());
    let short = found.shortfall.as_ref().unwrap();
    assert!(near(short.along.unwrap(), 200.0, 0.5) && short.across.is_none(), "{short:?}");
    let binds = |words: &str| short.binding.iter().any(|b| told(b) == words);
    assert!(binds("tyres and the runways of ramp") && binds("vehicle and wall 2"), "{short:?}");
    let miss = found.headings[0].miss.as_ref().unwrap();
    assert!(near(miss.0.slack, -100.0, 0.01), "100 too near to the wall, 100 past the runway: {miss:?}");
    // wheels farther apart than the runways reach: no larger bay helps
    let mut wide = lifted(14_000.0, RUNWAYS, "");
    wide.vehicle = wide.vehicle.replace("rear: 1560", "rear: 2000");
    let found = at(&wide, 0.0);
    let headline = baywright::report::siting::headline(&found, baywright::report::Say::PLAIN);
    assert_eq!(
        headline,
        "Nothing fits: no growth in one direction alone would be enough; it binds between tyres and the runways of ramp"
    );
    // a cabinet over the runways: gone, they are free; in a bay with a longer lift of that name it would do too
    let cabinet = "fixtures: [(name: \"cabinet\", shape: Box(at: (3000, 6000), size: (500, 500)), z: (0, 1000), movable: true)]";
    let parts = lifted(14_000.0, RUNWAYS, cabinet);
    let other = lifted(14_000.0, &RUNWAYS.replace("600, 5000", "700, 5000"), "");
    let ask = Ask {
        headings: vec![0.0],
        bays: vec![OtherBay { path: "other.ron".into(), bay: other.bundle().bay }],
    };
    let found = find(&parts.bundle(), &ask, &Progress::new()).unwrap();
    assert!(found.best.is_none());
    let fits = |change: Change| {
        found.changes.iter().find(|t| t.change == change).unwrap().place.map(|place| place.slack)
    };
    assert!(near(fits(Change::Clear("cabinet".into())).unwrap(), 187.5, 0.01));
    assert!(near(fits(Change::UseBay("other.ron".into(), ask.bays[0].bay.clone())).unwrap(), 237.5, 0.01));
}

#[test]
fn heights_count_from_the_raised_plane() {
    // a duct from 1600 to 2000 beside the lift, its face at x 4300: over the roof on the floor (1500), beside the body when
    // raised by 300, so x ends at 4300 - 900 - 600 = 2800 instead of 3187.5: nothing, for x begins at 2812.5
    let duct = |x: f64| {
        format!(
            "fixtures: [(name: \"duct\", shape: Box(at: ({x}, 6500), size: (400, 9000)), z: (1600, 2000))]"
        )
    };
    let raised = |parts: Parts, height: f64| {
        let job = parts.job.replace("height: 0)", &format!("height: {height})"));
        at(&Parts { job, procedures: vec![ASKS_NOTHING.into()], ..parts }, 0.0)
    };
    assert!(near(slack(&raised(lifted(14_000.0, RUNWAYS, &duct(4500.0)), 0.0)), 187.5, 0.01));
    assert!(raised(lifted(14_000.0, RUNWAYS, &duct(4500.0)), 300.0).best.is_none());
    // 100 farther off: x 2812.5..2900
    let found = raised(lifted(14_000.0, RUNWAYS, &duct(4600.0)), 300.0);
    assert!(near(area(&found), 87.5 * 1620.0, 1.0), "{}", area(&found));
    // headroom is no matter of place under a level ceiling: told at the best pose. 4000 - 1500 - 1500 - 150 = 850;
    // under one at 3100 it lacks 50
    assert!(raised(lifted(14_000.0, RUNWAYS, ""), 1500.0).best.unwrap().also.is_empty());
    let mut low = lifted(14_000.0, RUNWAYS, "");
    low.bay = low.bay.replace("ceiling: 4000", "ceiling: 3100");
    let also = raised(low, 1500.0).best.unwrap().also;
    assert!(
        also.len() == 1 && also[0].rule == RuleId::Headroom && near(also[0].margin.unwrap(), -50.0, 1e-6)
    );
}

#[test]
fn driven_on_it_stays_on_the_lift() {
    // the board stays where the first setup has it, 3000 before the axle; the second wants it 2500 before it, so the
    // vehicle is driven on by 500: of 1620 along 1120 are left
    let mut parts = lifted(20_000.0, RUNWAYS, "");
    parts.equipment = r#"(name: "Shop", targets: {"board": (kind: Board, face: (width: 600, height: 600, thickness: 100), owned: 1)})"#.into();
    let setup = |name: &str, by: f64, fixed: &str| {
        format!(
            r#"(name: "{name}", marks: [("X", Along(line: Centre, from: "FA", by: {by}))],
               stations: [(name: "board", target: "board", at: "X", looks: Backward, height: Floor(300){fixed})])"#
        )
    };
    let setups = [setup("first", 3000.0, ""), setup("second", 2500.0, ", fixed_to: Earlier(\"first\")")];
    parts.procedures = vec![format!(r#"(name: "P", setups: [{}])"#, setups.join(", "))];
    let found = at(&parts, 0.0);
    assert!(near(area(&found), 375.0 * 1120.0, 1.0), "{}", area(&found));
}

#[test]
fn accepted_off_the_runway_gets_no_worse() {
    // 20 past the edge where the job stands, and a person answers for it: 20 more on every side
    let mut parts = lifted(14_000.0, RUNWAYS, "");
    parts.job = parts.job.replace("pose: Anywhere", "pose: At(x: 3207.5, y: 7800, heading: 0)");
    assert!(near(area(&at(&parts, 0.0)), 375.0 * 1620.0, 1.0));
    let accepted = |items: &str| {
        format!(
            ", accepted: [(rule: \"on-lift\", items: {items}, reason: \"r\", by: \"b\", on: \"2026-01-01\")]"
        )
    };
    parts.job += &accepted(r#"["tyres", "ramp"]"#);
    assert!(near(area(&at(&parts, 0.0)), 415.0 * 1660.0, 1.0), "{}", area(&at(&parts, 0.0)));
    // the middle 60 off where 40 are allowed
    let mut parts = lifted(14_000.0, &format!("{POSTS}, tolerance: 40"), "");
    parts.job = parts.job.replace("pose: Anywhere", "pose: At(x: 3060, y: 7800, heading: 0)")
        + &accepted(r#"["vehicle", "ramp"]"#);
    assert!(near(area(&at(&parts, 0.0)), 120.0 * 2020.0, 1.0), "{}", area(&at(&parts, 0.0)));
    // there the posts lie 2800 behind the front axle, 440 too far back; a person answers for both
    for post in ["ramp post 1", "ramp post 2"] {
        parts.job = parts.job.replace("accepted: [", &format!(
            "accepted: [(rule: \"on-lift\", items: [\"vehicle\", \"{post}\"], reason: \"r\", by: \"b\", on: \"2026-01-01\"), "
        ));
    }
    assert!(near(area(&at(&parts, 0.0)), 120.0 * 2900.0, 1.0), "{}", area(&at(&parts, 0.0)));
}
