//! The table of cases of the rule.

use super::RuleId::FloorLine as RULE;
use crate::checks::Outcome::{Fail, Movable, Pass, Tight, Unknown};
use crate::checks::rules::workbench::{Bench, noted};

/// The centre line from the front axle at (5000, 10000): the north wall is 10000 ahead.
fn line(reach: &str) -> Bench {
    Bench::new().setup(&format!(r#"name: "S", lines: [(line: Centre, from: "FA", reach: {reach})]"#))
}

const PAIR: [&str; 2] = ["FA", "Centre"];

#[test]
fn to_the_wall() {
    for (case, reach, outcome, margin) in [
        ("clear by 20 mm", "9980", Pass, 20.0),
        ("clear by 1 mm", "9999", Tight, 1.0),
        ("exactly equal", "10000", Tight, 0.0),
        ("short by 1 mm", "10001", Fail, -1.0),
    ] {
        line(reach).check().says(case, RULE, &PAIR, outcome, margin);
    }
    // a named figure taken the other way
    let back = line(r#""-far""#).procedure(r#"values: {"far": 10001}"#).check();
    back.says("backward, short by 1 mm", RULE, &PAIR, Fail, -1.0);
    let found = line("12000").check();
    assert_eq!(noted(found.one("ends", RULE, &PAIR)), "it ends at wall 2");
    // not cut off at the length asked for
    assert_eq!(line("100").check().one("free", RULE, &PAIR).have, Some(10000.0));
}

#[test]
fn both_ways() {
    let found = line("(-9000, 11000)").check();
    let both = found.about(RULE, &PAIR);
    let told: Vec<_> = both.iter().map(|f| (f.outcome, f.need, f.margin)).collect();
    assert_eq!(told, [(Pass, Some(9000.0), Some(1000.0)), (Fail, Some(11000.0), Some(-1000.0))]);
}

#[test]
fn things_on_the_line() {
    let cabinet = |more: &str| {
        line("3000").fixture("cabinet", "Box(at: (5400, 12500), size: (1000, 200))", more).check()
    };
    cabinet("z: (0, 900)").says("stands on it", RULE, &PAIR, Fail, -600.0);
    cabinet("z: (0, 900), movable: true").says("can be moved", RULE, &PAIR, Movable, -600.0);
    let moved = cabinet("z: (0, 900), movable: true").conditions();
    assert!(moved.contains(&"move cabinet out of the way".into()), "{moved:?}");
    cabinet("z: (2000, 2500), overhead: true").says("overhead", RULE, &PAIR, Pass, 7000.0);
    cabinet("z: (2000, 2500)").says("hangs on a wall", RULE, &PAIR, Pass, 7000.0);
    cabinet("z: (0, 0)").says("flush", RULE, &PAIR, Pass, 7000.0);
    // its side just touches the line
    let beside =
        line("3000").fixture("cabinet", "Box(at: (5500, 12500), size: (1000, 200))", "z: (0, 900)").check();
    beside.says("touching", RULE, &PAIR, Pass, 7000.0);
    // moving one of two is not enough
    let two = line("3000")
        .fixture("trolley", "Box(at: (5000, 11500), size: (400, 200))", "z: (0, 900), movable: true")
        .fixture("press", "Box(at: (5000, 12500), size: (400, 200))", "z: (0, 900)")
        .check();
    two.says("a press behind", RULE, &PAIR, Fail, -1600.0);
}

#[test]
fn doors_and_notches() {
    let door = r#"doorways: [(name: "gate", side: 2, from: 4000, width: 2000, height: 3000, apron: [(4000, 20000), (6000, 20000), (6000, 23000), (4000, 23000)])]"#;
    line("12000").bay(door).check().says("shut", RULE, &PAIR, Fail, -2000.0);
    let open = line("12000").bay(door).job(r#"doors_open: ["gate"]"#).check();
    open.says("open", RULE, &PAIR, Pass, 1000.0);
    assert!(open.conditions().contains(&"gate stays open".into()));
    // a floor narrower ahead: the line runs along the notch's side and past its corner
    let notch = line("9000")
        .floor("[(0, 0), (5000, 0), (5000, 4000), (10000, 4000), (10000, 20000), (0, 20000)]")
        .pose(5000.0, 10000.0, 180.0);
    notch.check().says("along the side of a notch", RULE, &PAIR, Pass, 1000.0);
    let past = line("9000")
        .floor("[(0, 0), (4900, 0), (4900, 4000), (10000, 4000), (10000, 20000), (0, 20000)]")
        .pose(5000.0, 10000.0, 180.0);
    past.check().says("across it", RULE, &PAIR, Fail, -3000.0);
}

#[test]
fn what_is_missing() {
    let thrust = Bench::new().setup(r#"name: "S", lines: [(line: Thrust, from: "RA", reach: 3000)]"#).check();
    thrust.lacks("no rear toe", RULE, &["RA", "Thrust"], &["rear_toe"]);
    let outside = line("100").pose(5000.0, 30000.0, 0.0).check();
    outside.says("off the floor", RULE, &PAIR, Fail, -100.0);
    Bench::new().setup(r#"name: "S""#).check().idle("no lines", RULE);
    let figure = Bench::new()
        .procedure(r#"values: {"far": Missing("cut off")}"#)
        .setup(r#"name: "S", lines: [(line: Centre, from: "FA", reach: "far")]"#)
        .check();
    assert_eq!(figure.one("no figure", RULE, &PAIR).outcome, Unknown);
}
