//! Bays whose answer follows on paper. The arithmetic stands beside each; no outside source is needed.

use crate::told;
use baywright::report::{Say, siting::to_do};
use baywright::siting::{Ask, Change, Progress, Siting, find};

use crate::bays::Parts;

fn site(parts: &Parts) -> Siting {
    find(&parts.bundle(), &Ask::usual(), &Progress::new()).unwrap_or_else(|e| panic!("{e:?}"))
}

fn at(parts: &Parts, heading: f64) -> Siting {
    find(&parts.bundle(), &Ask { headings: vec![heading], bays: Vec::new() }, &Progress::new())
        .unwrap_or_else(|e| panic!("{e:?}"))
}

fn near(a: f64, b: f64, tolerance: f64) -> bool {
    (a - b).abs() <= tolerance
}

fn rect(width: f64, length: f64, more: &str) -> String {
    format!("(name: \"Hand\", floor: [(0, 0), ({width}, 0), ({width}, {length}), (0, {length})], {more})")
}

#[test]
fn a_rectangle_leaves_a_rectangle() {
    // car 4000 x 1800, nose 800 ahead; bay 5000 x 9000, 600 all round: x from 900 + 600 to 5000 - 1500, that is 2000;
    // y from 3200 + 600 to 9000 - 1400, that is 3800: 7.6 m². Deepest 1000 from both sides; the smallest y: 4800.
    let found = site(&Parts::alone(&rect(5000.0, 9000.0, ""), 600.0));
    let nose_in = &found.headings[0];
    assert!(near(nose_in.allowed.area, 7.6e6, 1.0), "{}", nose_in.allowed.area);
    assert_eq!(nose_in.allowed.rings.len(), 1);
    let best = nose_in.best.unwrap();
    assert!(
        near(best.slack, 1000.0, 0.01)
            && near(best.stance.x, 2500.0, 0.1)
            && near(best.stance.y, 4800.0, 2.0),
        "{best:?}"
    );
    // backed in, y from 800 + 600 to 9000 - 3800
    let backed = found.headings[1].best.unwrap();
    assert!(near(backed.slack, 1000.0, 0.01) && near(backed.stance.y, 2400.0, 2.0), "{backed:?}");
    assert!(found.shortfall.is_none() && found.changes.is_empty() && found.poses.len() == 1);
}

#[test]
fn one_post_takes_its_grown_outline() {
    // a round post of 200 in the corner of the allowed rectangle: it forbids the car's outline (4000 x 1800 about the
    // middle of the body) grown by 600 + 100: of the rectangle x 1500..7500, y 3800..12600 that is, with the post at
    // (5000, 9000): x 5000 +- 900 and y from 9000 - 800 to 9000 + 3200 grown by 700
    let more = "fixtures: [(name: \"post\", shape: Round(at: (5000, 9000), diameter: 200), z: (0, 3000))]";
    let found = at(&Parts::alone(&rect(9000.0, 14000.0, more), 600.0), 0.0);
    let all = 6000.0 * 8800.0;
    let grown = 1800.0 * 4000.0 + 2.0 * 700.0 * (1800.0 + 4000.0) + std::f64::consts::PI * 700.0 * 700.0;
    // the grown outline, y 7500..12900, ends 300 beyond the rectangle's 12600: its cap is a strip 1800 wide and 300 deep
    // between two parts of a quarter disc each
    let (r, d) = (700.0f64, 400.0f64);
    let segment = r * r * (d / r).acos() - d * (r * r - d * d).sqrt();
    let cap = 1800.0 * 300.0 + segment;
    let want = all - (grown - cap);
    let area = found.headings[0].allowed.area;
    assert!(near(area, want, 0.0005 * want), "{area} {want}");
}

#[test]
fn what_hangs_down_to_the_car_or_has_no_thickness_is_in_the_way_like_a_post() {
    // the car is 200 to 1500 high
    let area = |more: &str| {
        let thing =
            format!("fixtures: [(name: \"it\", shape: Round(at: (5000, 9000), diameter: 200), {more})]");
        at(&Parts::alone(&rect(9000.0, 14000.0, &thing), 600.0), 0.0).headings[0].allowed.area
    };
    let (post, free) = (area("z: (0, 3000)"), 6000.0 * 8800.0);
    assert!(post < free - 7200000.0, "{post}");
    for more in ["z: (1400, 3000), overhead: true", "z: (700, 700)", "z: (1499.5, 1499.5), overhead: true"] {
        assert!(near(area(more), post, 1.0), "{more}: {} against {post}", area(more));
    }
    // above the roof nothing is in its way; what is flush with the floor is driven over
    for more in ["z: (1500, 3000), overhead: true", "z: (1500, 1500)", "z: (0, 0)"] {
        assert!(near(area(more), free, 1.0), "{more}: {}", area(more));
    }
}

#[test]
fn a_target_below_the_floor_is_told_at_the_best_place() {
    let mut parts = Parts::alone(&rect(6000.0, 12000.0, "ceiling: 4000"), 600.0);
    parts.equipment =
        r#"(name: "Shop", targets: {"board": (kind: Board, face: (width: 600, height: 800, thickness: 40), owned: 1)})"#
            .into();
    parts.procedures = vec![
        r#"(name: "P", values: {"h": -20}, setups: [(name: "S", marks: [("X", Along(line: Centre, from: "nose", by: 2000))],
            stations: [(name: "b", target: "board", at: "X", looks: Backward, height: Floor("h"))])])"#
            .into(),
    ];
    let best = site(&parts).best.unwrap();
    let below: Vec<_> = best.also.iter().filter(|f| f.names().any(|i| i == "floor")).collect();
    assert_eq!(below.len(), 1, "{:#?}", best.also);
    assert_eq!((&**below[0].items[0].name(), below[0].margin), ("b", Some(-20.0)));
}

#[test]
fn two_posts_leave_a_gate() {
    // posts of a lift 3600 apart (2100 to 5700): the car with 600 each side needs 3000, 300 each way are left beside
    // them; the room before and behind is larger, so without them the place is elsewhere
    let more =
        "fixtures: [(name: \"left post\", shape: Box(at: (1950, 5000), size: (300, 300)), z: (0, 3000)),
                (name: \"right post\", shape: Box(at: (5850, 5000), size: (300, 300)), z: (0, 3000))]";
    // a bay just long enough for the car between the posts: 4000 + 2 x 600 = 5200, and 100 to spare
    let found = at(&Parts::alone(&rect(7800.0, 5300.0, &more.replace("5000)", "2600)")), 600.0), 0.0);
    let best = found.headings[0].best.unwrap();
    // along: 50 either way
    assert!(near(best.slack, 50.0, 0.01), "{best:?}");
    assert!(
        near(best.stance.x, 3650.0, 0.1),
        "the smallest x with 50 to the left post: 2100 + 600 + 900 + 50, {best:?}"
    );
    assert!(near(found.headings[0].allowed.area, 600.0 * 100.0, 60.0), "{}", found.headings[0].allowed.area);
}

#[test]
fn an_l_shaped_floor() {
    // the foot of the L is 3600 wide, the top 9000: nose in, the car fits in the foot, or across the joint
    let bay =
        "(name: \"L\", floor: [(0, 0), (3600, 0), (3600, 6000), (9000, 6000), (9000, 12000), (0, 12000)])";
    let found = at(&Parts::alone(bay, 600.0), 0.0);
    // in the foot: x 1500..2100, y from 3800 up; in the top: all of the car beyond y 6600: y 9800..10600, x 1500..7500;
    // round the inner corner (3600, 6000) the tail's corner may turn on a quarter disc of 600
    // foot and joint: x 1500..2100 and y 3800..10600: 600 x 6800; top beyond that: x 2100..7500, y 9800..10600,
    // and the bit between the quarter disc and the corner of its square, 600² (1 - pi / 4)
    let want = 600.0 * 6800.0 + 5400.0 * 800.0 + 600.0 * 600.0 * (1.0 - std::f64::consts::FRAC_PI_4);
    let area = found.headings[0].allowed.area;
    assert!(near(area, want, 0.0005 * want), "{area} {want}");
}

#[test]
fn too_short_by_300_and_exactly_long_enough() {
    // 4000 + 2 x 600 = 5200; the bay has 4900
    let found = site(&Parts::alone(&rect(5000.0, 4900.0, ""), 600.0));
    assert!(found.best.is_none() && found.headings.iter().all(|h| h.allowed.area == 0.0));
    let short = found.shortfall.unwrap();
    assert!(near(short.along.unwrap(), 300.0, 0.5), "{short:?}");
    assert_eq!(short.across, None);
    assert!(
        short.binding.iter().any(|b| told(b).contains("wall 0"))
            && short.binding.iter().any(|b| told(b).contains("wall 2")),
        "{short:?}"
    );
    // 5200 long: it touches at both ends and still counts
    let found = site(&Parts::alone(&rect(5000.0, 5200.0, ""), 600.0));
    let best = found.best.unwrap();
    assert_eq!(best.place.slack, 0.0);
    assert!(near(best.place.stance.y, 3800.0, 1e-3) || near(best.place.stance.y, 1400.0, 1e-3), "{best:?}");
    assert_eq!(found.headings[0].allowed.area, 0.0);
    // a hundredth short is short
    let found = site(&Parts::alone(&rect(5000.0, 5199.99, ""), 600.0));
    assert!(found.best.is_none());
    assert!(near(found.shortfall.unwrap().along.unwrap(), 0.01, 0.06));
}

#[test]
fn too_narrow_by_120() {
    // 1800 + 2 x 600 = 3000; the bay has 2880
    let found = site(&Parts::alone(&rect(2880.0, 9000.0, ""), 600.0));
    let short = found.shortfall.unwrap();
    assert_eq!(short.along, None);
    assert!(near(short.across.unwrap(), 120.0, 0.5), "{short:?}");
    let miss = found.headings[0].miss.as_ref().unwrap();
    assert!(near(miss.0.slack, -60.0, 0.01), "60 too near on either side: {miss:?}");
}

#[test]
fn longer_than_the_bay_and_no_floor_to_speak_of() {
    let found = site(&Parts::alone(&rect(5000.0, 3000.0, ""), 600.0));
    assert!(near(found.shortfall.unwrap().along.unwrap(), 2200.0, 0.5));
    let found = site(&Parts::alone("(name: \"Triangle\", floor: [(0, 0), (900, 0), (0, 900)])", 600.0));
    assert!(found.best.is_none() && found.headings.iter().all(|h| h.allowed.rings.is_empty()));
    // a triangle large enough: the incircle of the allowed poses is not worked here, only that there is one
    let found = site(&Parts::alone("(name: \"Triangle\", floor: [(0, 0), (20000, 0), (0, 20000)])", 600.0));
    assert!(found.best.unwrap().place.slack > 500.0);
}

#[test]
fn changes_say_what_opens_the_bay() {
    // 5200 needed, 5500 there, less a cabinet that takes the last 700: clearing it leaves 300, 150 either way
    let more = "fixtures: [(name: \"cabinet\", shape: Box(at: (2500, 5150), size: (5000, 700)), z: (0, 1000), movable: true),
                (name: \"stool\", shape: Box(at: (100, 100), size: (50, 50)), z: (0, 1000), movable: true)],
                doorways: [(name: \"gate\", side: 0, from: 500, width: 4000, height: 3000, apron: [(500, -3000), (4500, -3000), (4500, 0), (500, 0)])]";
    let found = site(&Parts::alone(&rect(5000.0, 5500.0, more), 600.0));
    assert!(found.best.is_none());
    let change = |c: &Change| {
        found.changes.iter().find(|t| t.change == *c).unwrap_or_else(|| panic!("{:?}", found.changes))
    };
    let cabinet = change(&Change::Clear("cabinet".into()));
    assert!(near(cabinet.place.unwrap().slack, 150.0, 0.01), "{cabinet:?}");
    assert!(change(&Change::Clear("stool".into())).place.is_none());
    assert!(change(&Change::Open("gate".into())).place.is_some());
    let slacks: Vec<f64> =
        found.changes.iter().map(|t| t.place.map_or(f64::NEG_INFINITY, |p| p.slack)).collect();
    assert!(slacks.is_sorted_by(|a, b| a >= b), "{slacks:?}");
    for t in &found.changes {
        let words = to_do(t, &found.layout, Say::PLAIN);
        let begins = |w: &&str| words.starts_with(*w);
        assert!(["clear", "open", "turn round", "move", "use"].iter().any(begins), "{words}");
    }
    // one heading asked: turning round is a change
    let found = at(&Parts::alone(&rect(5000.0, 4900.0, ""), 600.0), 0.0);
    assert!(found.changes.iter().any(|t| t.change == Change::TurnRound && t.place.is_none()));
}

#[test]
fn free_values_are_chosen_for_most_slack() {
    // board from 2000 to 4000 ahead of the axle, stand 100 behind its face and 100 to the wall; the car's tail 600 to
    // the other: along there is 10000 - 3200 - 600 - gap - 200, so 2000 is best, 2000 mm each way, and the walls at the
    // sides leave 2500 - 900 - 600 = 1000
    let mut parts = Parts::alone(&rect(5000.0, 7000.0, ""), 600.0);
    parts.equipment = r#"(name: "Shop", targets: {"board": (kind: Board, face: (width: 600, height: 600, thickness: 100), owned: 1)})"#.into();
    parts.procedures = vec![
        r#"(name: "P", values: {"gap": Between(2000, 4000)}, setups: [(name: "S", marks: [("X", Along(line: Centre, from: "FA", by: "gap"))],
            stations: [(name: "board", target: "board", at: "X", looks: Backward, height: Floor(300))])])"#
            .into(),
    ];
    let found = at(&parts, 0.0);
    assert_eq!(found.chosen.len(), 1);
    assert!(near(found.chosen[0].1, 2000.0, 1e-9), "{:?}", found.chosen);
    // y from 3800 to 7000 - 2200 = 4800: 500 either way
    assert!(near(found.best.unwrap().place.slack, 500.0, 0.01));
    // a job's own choice stands: 2800 leaves y 3800..4000
    parts.job += ", choose: {\"gap\": 2800}";
    let found = at(&parts, 0.0);
    assert!(found.chosen.is_empty());
    assert!(near(found.best.unwrap().place.slack, 100.0, 0.01));
}

#[test]
fn heading_tolerance() {
    // a car alone between two walls 3000 + 2 x 100 apart, far from the ends: turned by a it is as wide as
    // 4000 sin a + 1800 cos a; about the axle, which is 3200 from the tail, the tail's corner goes
    // 3200 sin a + 900 cos a to the side and may go 1000 (1600 less 600): a = 1.80 degrees
    let found = at(&Parts::alone(&rect(3200.0, 30000.0, ""), 600.0), 0.0);
    let a = (0..450_000)
        .map(|i| f64::from(i) * 1e-4)
        .find(|a| 3200.0 * a.to_radians().sin() + 900.0 * a.to_radians().cos() > 1000.0)
        .unwrap();
    let swing = found.best.unwrap().swing;
    assert!(near(swing.left, a, 0.02) && near(swing.right, a, 0.02), "{swing:?} {a}");
}

#[test]
fn a_search_can_be_stopped() {
    let progress = Progress::new();
    progress.stop();
    assert!(find(&crate::bays::busy().bundle(), &Ask::sweep(1.0), &progress).is_err());
}

#[test]
fn accepted_pairs_get_no_worse() {
    // a bench along the east wall from x 4400; 600 asked, 300 accepted where the job stands (x 3200): allowed are
    // x 1500..3200 and y 3800..7600. Without the acceptance x ends at 2900.
    let more = "fixtures: [(name: \"bench\", shape: Box(at: (4700, 4500), size: (600, 9000)), z: (0, 1000))]";
    let mut parts = Parts::alone(&rect(5000.0, 9000.0, more), 600.0);
    parts.job = "pose: At(x: 3200, y: 5000, heading: 0), rules: (walk_around: 600)".into();
    let width = |parts: &Parts| at(parts, 0.0).headings[0].allowed.area / 3800.0;
    assert!(near(width(&parts), 1400.0, 0.1), "{}", width(&parts));
    parts.job += ", accepted: [(rule: \"vehicle-clear\", items: [\"bench\", \"vehicle\"], reason: \"r\", by: \"b\", on: \"2026-01-01\")]";
    assert!(near(width(&parts), 1700.0, 0.1), "{}", width(&parts));
    // overlapping is never allowed, whatever was accepted: x 3600 has the car 100 into the bench
    let worse = Parts { job: parts.job.replace("x: 3200", "x: 3600"), ..parts.clone() };
    assert!(near(width(&worse), 2000.0, 0.1), "{}", width(&worse));
}

fn screen(fixed: &str) -> Parts {
    let mut parts = Parts::alone(
        &rect(
            6000.0,
            9000.0,
            "installed: [(name: \"rail\", target: \"screen\", at: (3000, 9000), turn: 180)]",
        ),
        600.0,
    );
    parts.equipment =
        r#"(name: "Shop", targets: {"screen": (kind: Screen, face: (width: 2000, height: 1000), owned: 1)})"#
            .into();
    parts.procedures = vec![format!(
        r#"(name: "Lamps", setups: [(name: "Wall", marks: [("X", Along(line: Centre, from: "FA", by: 4000))],
            stations: [(name: "screen", target: "screen", at: "X", looks: Backward, height: Floor(300), fixed_to: {fixed}, tolerance: (along: 10, across: 20, turn: 1))])])"#
    )];
    parts
}

#[test]
fn a_target_on_the_wall_leaves_sideways_freedom_only() {
    // the front axle 4000 from the wall, 10 either way; sideways the car's 600 to the walls bind: x 1500..4500
    let found = site(&screen("Wall"));
    let nose_in = &found.headings[0];
    assert!(near(nose_in.allowed.area, 3000.0 * 20.0, 30.0), "{}", nose_in.allowed.area);
    let best = nose_in.best.unwrap();
    assert!(near(best.slack, 10.0, 0.01) && near(best.stance.y, 5000.0, 0.1), "{best:?}");
    // a degree and more off, nothing hangs square
    assert!(at(&screen("Wall"), 1.5).best.is_none());
    assert!(at(&screen("Wall"), 0.5).best.is_some());
}

#[test]
fn an_installed_target_leaves_its_tolerance() {
    // 20 x 40 about (3000, 5000), only where the rail looks: nose in
    let found = site(&screen("Bay(\"rail\")"));
    assert!(near(found.headings[0].allowed.area, 20.0 * 40.0, 1.0), "{}", found.headings[0].allowed.area);
    let best = found.best.unwrap().place;
    assert!(
        near(best.slack, 10.0, 0.01) && near(best.stance.x, 2990.0, 0.1) && best.stance.heading == 0.0,
        "{best:?}"
    );
    assert!(found.headings[1].best.is_none());
}

#[test]
fn the_first_way_that_fits_is_taken() {
    let mut parts = Parts::alone(&rect(5000.0, 9000.0, ""), 600.0);
    let zone = |name: &str, reach: f64| {
        format!(
            "(name: \"{name}\", zones: [(name: \"{name} field\", shape: Strip(line: Centre, from: \"nose\", along: (0, {reach}), across: 1000), free_of: [Anything])])"
        )
    };
    parts.procedures = vec![format!(
        "(name: \"P\", ways: {{\"long\": [\"far\"], \"short\": [\"near\"]}}, setups: [{}, {}])",
        zone("far", 9000.0),
        zone("near", 2000.0)
    )];
    let found = site(&parts);
    assert!(found.best.is_some());
    assert_eq!(found.poses[0].setups, [1]);
}

#[test]
fn the_curve_tells_how_much_play_is_left() {
    use baywright::layout::Stance;
    use baywright::siting::{Direction, Site, curve};
    // y from 3800 to 7600, x from 1500 to 3500; at x 2000 the sides leave 500
    let bundle = Parts::alone(&rect(5000.0, 9000.0, ""), 600.0).bundle();
    let site = Site::new(&bundle).unwrap();
    let stance = Stance { x: 2000.0, y: 4000.0, heading: 0.0 };
    let along = curve(&site, stance, Direction::Along);
    assert_eq!(along.present, (4000.0, 200.0));
    assert!(
        along.fits.len() == 1 && near(along.fits[0].0, 3800.0, 1e-6) && near(along.fits[0].1, 7600.0, 1e-6)
    );
    assert!(near(along.best.1, 500.0, 1e-6));
    let truth = |y: f64| (y - 3800.0).min(7600.0 - y).min(500.0);
    for w in along.points.windows(2) {
        assert!(w[0].0 < w[1].0);
        let y = (w[0].0 + w[1].0) / 2.0;
        assert!(near((w[0].1 + w[1].1) / 2.0, truth(y), 0.6), "{y} {w:?}");
    }
    assert!(along.points.len() <= 400);
    let across = curve(&site, stance, Direction::Across);
    assert!(
        near(across.fits[0].0, 1500.0, 1e-6) && near(across.fits[0].1, 3500.0, 1e-6),
        "{:?}",
        across.fits
    );
    // 1000 from either side, but only 200 from the end it stands at
    assert!(near(across.best.1, 200.0, 1e-6));
    // outside the floor: minus how far it sticks out, less the need
    let out = curve(&site, Stance { x: 2500.0, y: 3000.0, heading: 0.0 }, Direction::Along);
    assert!(near(out.present.1, -200.0 - 600.0, 1e-6), "{:?}", out.present);
}
