//! Check lengths: printed ones judged, diagonals told where none are printed.

use serde_json::Value;

use crate::bench::{Bench, near};

const MARKS: &str = r#"
    marks: [
        ("A", Under(Wheel(FrontLeft))), ("B", Under(Wheel(RearLeft))), ("C", Under(Wheel(FrontRight))), ("D", Under(Wheel(RearRight))),
        ("E", Along(line: WheelSide(Left), from: "A", by: 2017)), ("F", Along(line: WheelSide(Right), from: "C", by: 2017)),
        ("X", Midway("E", "F")),
    ],"#;

fn with(checks: &str) -> Bench {
    Bench::setup(&format!("{MARKS} checks: [{checks}]"))
}

/// FR-03: AX 2212.8, AF 2716.7, BF 5102.6; worked out from the published 2017 mm for half a width of 910 over the wheels.
#[test]
fn the_published_figures_pass_and_wrong_ones_do_not() {
    for (check, items, have, need, outcome) in [
        (r#"Length("A", "X", 2212.8)"#, &["A", "X"][..], 2212.8, 2212.8, "pass"),
        (r#"Length("A", "F", 2716.7)"#, &["A", "F"], 2716.7, 2716.7, "pass"),
        (r#"Length("B", "F", 5102.6)"#, &["B", "F"], 5102.6, 5102.6, "pass"),
        (r#"Length("A", "X", 2215)"#, &["A", "X"], 2212.8, 2215.0, "fail"),
        (r#"Length("nose", "X", 1067)"#, &["nose", "X"], 1067.0, 1067.0, "pass"),
        (r#"Same(("A", "F"), ("C", "E"))"#, &["A", "F", "C", "E"], 2716.7, 2716.7, "pass"),
        (r#"Same(("A", "F"), ("A", "X"))"#, &["A", "F", "A", "X"], 2716.7, 2212.8, "fail"),
        (r#"Loop(["A", "C", "F", "E"], 7674)"#, &["A", "C", "F", "E"], 7674.0, 7674.0, "pass"),
        (r#"Loop(["A", "C", "F"], 7000)"#, &["A", "C", "F"], 6553.7, 7000.0, "fail"),
    ] {
        let answer = with(check).check();
        let f = answer.finding("check-length", items);
        assert_eq!(f["outcome"], outcome, "{check}: {f:#}");
        let got = |key: &str| f[key].as_f64().expect("a figure");
        assert!(
            (got("have_mm") - have).abs() < 0.06 && (got("need_mm") - need).abs() < 0.06,
            "{check}: {f:#}"
        );
        assert_eq!(answer.verdict(), if outcome == "fail" { "does-not-fit" } else { "fits" }, "{check}");
    }
    // half a millimetre of rounding is none of the geometry's fault, two are
    assert_eq!(
        with(r#"Length("A", "X", 2213.7)"#).check().finding("check-length", &["A", "X"])["outcome"],
        "pass"
    );
    assert_eq!(
        with(r#"Length("A", "X", 2213.9)"#).check().finding("check-length", &["A", "X"])["outcome"],
        "fail"
    );
}

#[test]
fn right_angles() {
    let answer = with(r#"Right("A", "E", "F"), Right("A", "X", "F")"#).check();
    let square = answer.finding("check-length", &["A", "E", "F"]);
    assert_eq!(square["outcome"], "pass");
    near(&square["have_mm"], 0.0);
    // XA is (-2017, 910), XF is (0, -910): along the longer leg, 910 * 910 / 2212.8 off the square
    let askew = answer.finding("check-length", &["A", "X", "F"]);
    assert_eq!(askew["outcome"], "fail");
    near(&askew["have_mm"], 910.0 * 910.0 / 2017f64.hypot(910.0));
    assert!(askew["text"].as_str().expect("text").contains("off a right angle"));
}

/// Without printed ones the two diagonals between wheels and marks of the other side are told, and nothing is judged.
#[test]
fn automatic_diagonals() {
    let answer = Bench::setup(MARKS.trim_end_matches(',')).check();
    assert_eq!(answer.finding("check-length", &[])["outcome"], "pass");
    let told: Vec<(&str, &str, f64)> = answer.0["lengths"]
        .as_array()
        .expect("lengths")
        .iter()
        .map(|l| (text(&l["from"]), text(&l["to"]), l["mm"].as_f64().expect("mm")))
        .collect();
    assert_eq!(told.len(), 2, "{told:?}");
    for (from, to, mm) in told {
        assert!([("A", "F"), ("C", "E")].contains(&(from, to)), "{from}-{to}");
        assert!((mm - 2716.7).abs() < 0.05, "{mm}"); // FR-03
    }
    let page = Bench::setup(MARKS.trim_end_matches(',')).page();
    assert!(
        page.contains("LENGTHS TO CHECK WITH THE TAPE") && page.contains("A-F  2\u{a0}716.7 mm"),
        "{page}"
    );
    // marks on one side only have no diagonals
    let one = Bench::setup(
        r#"marks: [("A", Under(Wheel(FrontLeft))), ("E", Along(line: WheelSide(Left), from: "A", by: 2017))]"#,
    );
    assert_eq!(one.check().0["lengths"].as_array().expect("lengths").len(), 0);
}

#[test]
fn what_cannot_be_measured_is_unknown() {
    let answer = Bench::new(&format!(
        "values: {{\"far\": Missing(\"cut\")}}, setups: [(name: \"S\", {MARKS} checks: [Length(\"A\", \"X\", \"far\")])]"
    ))
    .check();
    let f = answer.finding("check-length", &["A", "X"]);
    assert_eq!((f["outcome"].as_str(), f["missing"][0].as_str()), (Some("unknown"), Some("far")));
}

/// A-X is hypot(2017, 910) = 2212.78 long: 8.98 from 2203.8, in whole figures 9. Lengths that disagree are no lack of room.
#[test]
fn lengths_that_disagree_do_not_speak_of_room() {
    let first = |bench: &Bench| bench.page().lines().next().unwrap_or_default().replace('\u{a0}', " ");
    let off = with(r#"Length("A", "X", 2203.8)"#);
    assert_eq!(first(&off), "CHECK LENGTHS DISAGREE: 9 MM");
    assert_eq!(off.check().0["headline"], "Check lengths disagree: 9 mm");
    // the tail at 3700 - 3750: 50 outside the hall
    let both = with(r#"Length("A", "X", 2203.8)"#).pose(5000.0, 3700.0, 0.0);
    assert_eq!(first(&both), "DOES NOT FIT: 50 MM SHORT, AND CHECK LENGTHS DISAGREE: 9 MM");
    let helps = both.page().lines().nth(2).unwrap_or_default().to_owned();
    assert!(helps.contains("50 mm short now, check lengths still disagree there"), "{helps}");
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}
