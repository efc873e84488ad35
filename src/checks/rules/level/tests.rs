//! The table of cases of the rule.

use super::RuleId::Level as RULE;
use super::{level_map, level_margin};
use crate::checks::Outcome::{Fail, Pass, Unknown};
use crate::checks::rules::workbench::{BOARD, Bench, noted};
use crate::layout::Stance;

/// A floor that rises to `spot` at the foot of the board (5000, 13000) and is even everywhere else.
fn floor(spot: f64) -> String {
    format!(
        "heights: [(0, 0, 0), (10000, 0, 0), (10000, 20000, 0), (0, 20000, 0), (5000, 13000, {spot:?}), (0, 10100, 0), (10000, 10100, 0), (5000, 10300, 0)]"
    )
}

fn asked(within: &str, over: &str) -> String {
    format!("{BOARD}, level: ({within} over: {over})")
}

#[test]
fn under_a_target() {
    for (case, spot, outcome, margin) in [
        ("clear by 1 mm", -4.0, Pass, 1.0),
        ("exactly equal", -5.0, Pass, 0.0),
        ("exactly equal, above", 5.0, Pass, 0.0),
        ("short by 1 mm", 6.0, Fail, -1.0),
        ("short by 1 mm, below", -6.0, Fail, -1.0),
    ] {
        let found = Bench::new().bay(&floor(spot)).setup(&asked("within: 5,", "Stations")).check();
        let f = found.one(case, RULE, &["board"]);
        let margin_is = f.margin.unwrap();
        assert!((margin_is - margin).abs() < 1e-9, "{case}: {margin_is}");
        assert_eq!(f.outcome, outcome, "{case}");
        assert!(
            (f.have.unwrap() - spot.abs()).abs() < 1e-9 && f.need == Some(5.0),
            "{case}: need - have, not have - need"
        );
        let way = if spot < 0.0 { "below" } else { "above" };
        assert!(noted(f).starts_with(way), "{case}");
        assert!((level_margin(&found.layout).unwrap() - margin).abs() < 1e-9);
    }
}

#[test]
fn what_is_missing() {
    let none = Bench::new().setup(&asked("within: 5,", "Stations")).check();
    none.lacks("no survey", RULE, &["board"], &["floor survey"]);
    assert_eq!(level_margin(&none.layout), None);
    let short = Bench::new()
        .bay("heights: [(0, 0, 0), (10000, 0, 0), (10000, 12000, 0), (0, 12000, 0)]")
        .setup(&asked("within: 5,", "Stations"))
        .check();
    short.lacks("the board off the survey", RULE, &["board"], &["floor survey"]);
    let aside = Bench::new()
        .bay(&floor(0.0))
        .setup(&asked("within: 5,", "Stations"))
        .pose(200.0, 10000.0, 0.0)
        .check();
    aside.lacks("the tyres off the survey", RULE, &["board"], &["floor survey"]);
    let figure = Bench::new()
        .bay(&floor(0.0))
        .procedure(r#"values: {"off plane": Missing("cut from the copy read")}"#)
        .setup(&asked(r#"within: "off plane","#, "Stations"))
        .check();
    figure.lacks("the limit", RULE, &["board"], &["off plane"]);
    let lift = Bench::new()
        .bay(&floor(0.0))
        .bay(r#"lifts: [(name: "scissor", heights: [0, 900])]"#)
        .job(r#"support: Lift(name: "scissor", height: 900)"#)
        .setup(&asked("within: 5,", "Stations"))
        .check();
    lift.lacks("raised on a lift", RULE, &["board"], &["floor survey"]);
    Bench::new().bay(&floor(40.0)).setup(BOARD).check().idle("not asked for", RULE);
}

#[test]
fn the_shops_own_limit_says_so() {
    let found = Bench::new().bay(&floor(-5.5)).setup(&asked("", "Stations")).check();
    let f = found.one("default", RULE, &["board"]);
    assert_eq!((f.outcome, f.need), (Fail, Some(5.0)));
    assert!(noted(f).contains("the maker gives no figure, yours is 5 mm"));
    let own = Bench::new().bay(&floor(-5.5)).bay("rules: (level: 6)").setup(&asked("", "Stations")).check();
    assert_eq!(own.one("own", RULE, &["board"]).outcome, Pass);
}

#[test]
fn at_marks_and_over_zones() {
    let zone = |along: &str, within: f64| {
        let text = format!(
            r#"zones: [(name: "field", shape: Strip(line: Centre, from: "FA", along: ({along}), left: (-500, 500)))], level: (within: {within:?}, over: Zone("field"))"#
        );
        Bench::new().bay(&floor(-6.0)).setup(&format!("{BOARD}, {text}"))
    };
    // the spot lies inside the zone, no corner near it
    zone("1000, 4000", 6.0)
        .check()
        .one("a spot inside", RULE, &["field"])
        .margin
        .map(|m| assert!(m.abs() < 1e-9))
        .unwrap();
    assert_eq!(zone("1000, 4000", 5.0).check().one("a spot inside", RULE, &["field"]).outcome, Fail);
    // off the survey ahead: a known spot out of plane fails it, else it is not known
    assert_eq!(zone("1000, 11000", 5.0).check().one("partly off", RULE, &["field"]).outcome, Fail);
    assert_eq!(zone("1000, 11000", 7.0).check().one("partly off", RULE, &["field"]).outcome, Unknown);
    // the edge crosses the slope between spots: corners at 0 each, the crossing of the side y = 13000 is not a corner
    let across = zone("2999, 3001", 5.9).check();
    assert_eq!(across.one("between corners", RULE, &["field"]).outcome, Fail);
    let marks = Bench::new()
        .bay(&floor(-6.0))
        .setup(&format!(r#"{BOARD}, level: (within: 5, over: Marks(["X", "nose"]))"#))
        .check();
    assert_eq!(marks.one("X", RULE, &["X"]).outcome, Fail);
    assert_eq!(marks.one("nose", RULE, &["nose"]).outcome, Pass);
}

#[test]
fn the_reading_error_is_told() {
    let found = Bench::new()
        .bay(&floor(-5.5))
        .bay("reading_error: 1")
        .setup(&asked("within: 5,", "Stations"))
        .check();
    let note = noted(found.one("error", RULE, &["board"]));
    assert!(note.contains("±1") && note.contains("more than what is left"), "{note}");
    assert!(!found.layout.stage.survey.is_empty());
}

#[test]
fn a_map_of_poses() {
    let found = Bench::new().bay(&floor(-6.0)).setup(&asked("within: 5,", "Stations")).check();
    let stances = [10000.0, 6000.0, 18000.0].map(|y| Stance { x: 5000.0, y, heading: 0.0 });
    let map = level_map(&found.layout, &stances);
    assert!((map[0].unwrap() + 1.0).abs() < 1e-9);
    assert!(map[1].unwrap() > 4.0, "the board then stands at 9000, on even floor");
    assert_eq!(map[2], None, "the board then stands off the survey");
}
