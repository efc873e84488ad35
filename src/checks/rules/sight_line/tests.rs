//! The table of cases of the rule.

use super::RuleId::SightLine as RULE;
use crate::checks::Outcome::{Fail, Movable, Pass, Tight};
use crate::checks::Verdict;
use crate::checks::rules::workbench::{BOARD, Bench, noted};

/// A camera at (5000, 9000), 700 high, looking at the board's face at y 13000, x 4700 to 5300, z 300 to 1100.
fn looking() -> Bench {
    Bench::new()
        .vehicle(r#"sensors: {"camera": (kind: Camera, at: (-1000, 0, 700))}"#)
        .setup(&format!(r#"{BOARD}, sights: [(from: "camera", to: "board")]"#))
}

fn box_at(x: f64, y: f64, w: f64) -> String {
    format!("Box(at: ({x:?}, {y:?}), size: ({w:?}, 200))")
}

#[test]
fn a_cabinet_beside_the_line() {
    // the line to a left corner leaves the middle line by 300 in 4000: at y 12900 it is 292.5 aside. The cabinet's near
    // corner is at y 12900: square to the line counts
    let slant = 4000.0 / 4000f64.hypot(300.0);
    for (case, aside, outcome) in [
        ("clear by 1 mm", 1.0, Tight),
        ("clear by 20 mm", 20.0, Pass),
        ("exactly equal", 0.0, Tight),
        ("short by 1 mm", -1.0, Fail),
    ] {
        // ends just at y 12900 and is endless in height, so the nearest is the plan distance of its corner
        let x = 5292.5 + aside + 500.0;
        let found = looking().fixture("cabinet", &box_at(x, 12800.0, 1000.0), "z: (0, 4000)").check();
        let f = found.one(case, RULE, &["camera", "board", "cabinet"]);
        assert_eq!(f.outcome, outcome, "{case}: {:?}", f.margin);
        let want = (aside >= 0.0).then_some(aside * slant);
        match (f.margin, want) {
            (Some(have), Some(want)) => assert!((have - want).abs() < 0.02, "{case}: {have} {want}"),
            (have, want) => assert_eq!(have, want, "{case}"),
        }
    }
}

#[test]
fn heights_count() {
    let pair = ["camera", "board", "beam"];
    // the highest line ends at 1100: a beam's underside over it
    for (case, under, outcome) in
        [("clear by 1 mm", 1101.0, Tight), ("exactly equal", 1100.0, Tight), ("short by 1 mm", 1099.0, Fail)]
    {
        let found = looking()
            .fixture(
                "beam",
                "Box(at: (5000, 12950), size: (4000, 100))",
                &format!("z: ({under:?}, 2000), overhead: true"),
            )
            .check();
        assert_eq!(found.one(case, RULE, &pair).outcome, outcome, "{case}");
    }
    // low things and things on the floor under the lines
    let low = looking().fixture("ramp", &box_at(5000.0, 12000.0, 4000.0), "z: (0, 250)").check();
    assert_eq!(low.one("under it", RULE, &["camera", "board", "ramp"]).outcome, Pass);
    let grate = looking().fixture("grate", &box_at(5000.0, 12900.0, 400.0), "z: (0, 0)").check();
    grate.silent("flush things", RULE, &["camera", "board", "grate"]);
}

#[test]
fn blocked_lines_have_no_figure_and_name_the_first() {
    let found = looking()
        .fixture("far rack", &box_at(5000.0, 12000.0, 400.0), "z: (0, 2000)")
        .fixture("trolley", &box_at(5000.0, 11500.0, 400.0), "z: (0, 2000), movable: true")
        .check();
    let f = found.one("rack and trolley", RULE, &["camera", "board", "trolley"]);
    assert_eq!((f.outcome, f.have, f.margin, f.need), (Fail, None, None, Some(0.0)));
    assert_eq!(noted(f), "then by far rack");
    let movable = looking()
        .fixture("trolley", &box_at(5000.0, 11500.0, 400.0), "z: (0, 2000), movable: true")
        .fixture(
            "stool",
            &box_at(5240.0, 12200.0, 100.0),
            "z: (0, 900), movable: true, clear_by: \"carry it out\"",
        )
        .check();
    let f = movable.one("only movable", RULE, &["camera", "board", "trolley"]);
    assert_eq!((f.outcome, f.margin), (Movable, None));
    assert_eq!(movable.judgement.verdict, Verdict::FitsIf);
    assert_eq!(movable.conditions(), ["stool: carry it out", "move trolley out of the way"]);
    let cleared = looking()
        .fixture("trolley", &box_at(5000.0, 11500.0, 400.0), "z: (0, 2000), movable: true")
        .job(r#"cleared: ["trolley"]"#)
        .check();
    cleared.silent("cleared", RULE, &["camera", "board", "trolley"]);
}

#[test]
fn walls_doors_and_other_targets() {
    // behind the north wall at y 20000
    let out = Bench::new()
        .vehicle(r#"sensors: {"camera": (kind: Camera, at: (-1000, 0, 700))}"#)
        .setup(r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 12000))], stations: [(name: "board", target: "board", at: "X", looks: Backward, height: Floor(300))], sights: [(from: "camera", to: "board")]"#);
    let door = |height: f64| {
        format!(
            r#"doorways: [(name: "gate", side: 2, from: 3000, width: 4000, height: {height:?}, apron: [(3000, 20000), (7000, 20000), (7000, 24000), (3000, 24000)])]"#
        )
    };
    let pair = |last| ["camera", "board", last];
    assert_eq!(out.check().one("wall", RULE, &pair("wall 2")).outcome, Fail);
    assert_eq!(out.clone().bay(&door(3000.0)).check().one("shut door", RULE, &pair("gate")).outcome, Fail);
    let open = out.clone().bay(&door(3000.0)).job(r#"doors_open: ["gate"]"#).check();
    let f = open.of(RULE)[0];
    assert_eq!(f.outcome, Pass, "{f:?}");
    assert!(open.conditions().iter().any(|c| c == "gate stays open"));
    // the wall over a low open door
    let low = out.clone().bay(&door(1000.0)).job(r#"doors_open: ["gate"]"#).check();
    assert_eq!(low.one("lintel", RULE, &pair("wall 2")).outcome, Fail);
    let two = Bench::new()
        .vehicle(r#"sensors: {"camera": (kind: Camera, at: (-1000, 0, 700))}"#)
        .setup(r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000)), ("Y", Along(line: Centre, from: "FA", by: 2000))],
            stations: [(name: "far", target: "board", at: "X", looks: Backward, height: Floor(300)), (name: "near", target: "board", at: "Y", looks: Backward, height: Floor(300))],
            sights: [(from: "camera", to: "far"), (from: "camera", to: "near")]"#)
        .check();
    assert_eq!(two.one("hidden", RULE, &["camera", "far", "near"]).outcome, Fail);
    assert_eq!(two.one("not by what is behind", RULE, &["camera", "near", "far"]).outcome, Pass);
}

#[test]
fn between_named_points() {
    let bench = |sight: &str| {
        Bench::new()
            .bay(r#"points: {"head left": (1000, 10000, 700), "head high": (1000, 10000, 3000)}"#)
            .vehicle(r#"points: {"roof centre": (-1000, 0, 1500)}"#)
            .fixture("jack", "Box(at: (2500, 10000), size: (300, 300))", "z: (0, 500)")
            .setup(&format!(r#"{BOARD}, sights: [{sight}]"#))
            .check()
    };
    // 700 high at the head, 300 at the wheel's middle: at the jack's far side, x 2650, still 491
    let f = bench(r#"(from: "head left", to: "front left wheel")"#);
    assert_eq!(f.one("blocked", RULE, &["head left", "front left wheel", "jack"]).outcome, Fail);
    let f = bench(r#"(from: "head high", to: "roof centre")"#);
    assert_eq!(f.one("over it", RULE, &["head high", "roof centre", "wall 3"]).outcome, Pass);
    assert_eq!(f.of(super::RuleId::InView)[0].items.len(), 0, "nobody looks along it");
    bench(r#"(from: "head right", to: "front left wheel")"#).lacks(
        "unknown",
        RULE,
        &["head right", "front left wheel"],
        &["head right"],
    );
    // to a mark on the floor: the jack, 500 high, is not in the way of a line that comes down behind it
    let f = bench(r#"(from: "head high", to: "X")"#);
    assert_eq!(f.of(RULE)[0].outcome, Pass);
}

#[test]
fn what_is_missing() {
    let none = Bench::new().setup(&format!(r#"{BOARD}, sights: [(from: "camera", to: "board")]"#)).check();
    none.lacks("no such sensor", RULE, &["camera", "board"], &["camera"]);
    assert_eq!(none.judgement.verdict, Verdict::NotKnown);
    Bench::new().setup(BOARD).check().idle("no sights", RULE);
}

#[test]
fn what_stands_between_the_lines_is_seen() {
    let pair = |name: &'static str| ["camera", "board", name];
    // at y 11000 the face is seen through x 4850..5150, z 500..900: the middle line is at x 5000, the lines to the left
    // and right corners at its edges
    let round = |x: f64, y: f64| format!("Round(at: ({x:?}, {y:?}), diameter: 20)");
    for (case, shape, z, outcome) in [
        ("a handle half a metre before the lens", round(5018.0, 9500.0), "z: (0, 1400)", Fail),
        ("a rod beside the middle line", round(5070.0, 11000.0), "z: (0, 2000)", Fail),
        (
            "a rod across",
            "Box(at: (5000, 11000), size: (2000, 10))".into(),
            "z: (790, 800), overhead: true",
            Fail,
        ),
        // the pyramid's side stands 3 in 40 off the line: 14.96 from the rod's middle
        ("a rod just outside", round(5165.0, 11000.0), "z: (0, 2000)", Tight),
    ] {
        let found = looking().fixture("rod", &shape, z).check();
        let f = found.one(case, RULE, &pair("rod"));
        assert_eq!(f.outcome, outcome, "{case}: {f:?}");
        assert_eq!(f.have.is_none(), outcome == Fail, "{case}");
    }
    let beside = looking().fixture("rod", &round(5165.0, 11000.0), "z: (0, 2000)").check();
    let have = beside.one("beside", RULE, &pair("rod")).have.unwrap();
    assert!((have - (15.0 * 4000.0 / 4000f64.hypot(300.0) - 10.0)).abs() < 1e-6, "{have}");
    // looked at from the board, the sensor at the other end: the same
    let from_board = Bench::new()
        .vehicle(r#"sensors: {"camera": (kind: Camera, at: (-1000, 0, 700))}"#)
        .setup(&format!(r#"{BOARD}, sights: [(from: "board", to: "camera")]"#))
        .fixture("rod", &round(5070.0, 11000.0), "z: (0, 2000)")
        .check();
    assert_eq!(from_board.one("turned about", RULE, &["board", "camera", "rod"]).outcome, Fail);
}

#[test]
fn a_mat_is_looked_at_on_its_upper_side_and_a_pipe_on_its_front() {
    let with = |target: &str, face: &str| {
        Bench::new()
            .targets(&format!(r#""piece": (kind: {target}, face: {face})"#))
            .vehicle(r#"sensors: {"camera": (kind: Camera, at: (800, 0, 700))}"#)
            .setup(r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "piece", target: "piece", at: "X", looks: Backward, height: Floor(0))], sights: [(from: "camera", to: "piece")]"#)
    };
    // the mat lies at y 12500..13500: a bar behind its far edge
    let mat = with("Mat", "(width: 800, height: 1000)");
    let bar = |y: f64| format!("Box(at: (5000, {y:?}), size: (3000, 100))");
    let found = mat.fixture("bar", &bar(13_570.0), "z: (0, 300)").check();
    let f = found.one("behind the mat", RULE, &["camera", "piece", "bar"]);
    assert!((f.have.unwrap() - 20.0).abs() < 1e-6, "{f:?}");
    // the pipe's front is 150 nearer than its axis at y 13000: a bar over it, its near side 30 behind that plane
    let pipe = with("Pipe", "(width: 300, height: 900)");
    let found = pipe.fixture("bar", &bar(12_930.0), "z: (800, 850), overhead: true").check();
    let f = found.one("behind the pipe's front", RULE, &["camera", "piece", "bar"]);
    assert!((f.have.unwrap() - 30.0).abs() < 1e-6, "{f:?}");
}
