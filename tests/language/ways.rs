//! Ways, conditions and variants: which setups are done.

use serde_json::json;

use crate::bench::{Bench, bay};

/// LD-02: three targets at once, or one after another.
const WAYS: &str = r#"
    ways: {"all at once": ["All"], "one after another": ["Turn"]},
    setups: [
        (name: "All", marks: [("M", Along(line: Centre, from: "N", by: 9000)), ("L", Off(line: Centre, from: "M", by: 900))],
         stations: [(name: "m", target: "board", at: "M", faces: Centre, height: Floor(0)), (name: "l", target: "board", at: "L", faces: Centre, height: Floor(0))]),
        (name: "Turn", in_turn: true, marks: [("M", Along(line: Centre, from: "N", by: 3000)), ("L", Off(line: Centre, from: "M", by: 900))],
         stations: [(name: "m", target: "board", at: "M", faces: Centre, height: Floor(0)), (name: "l", target: "board", at: "L", faces: Centre, height: Floor(0))]),
    ]"#;

fn taken(answer: &crate::bench::Answer) -> (String, Vec<String>) {
    let way = &answer.0["ways"][0];
    let others = way["others"].as_array().expect("others").iter();
    (
        way["way"].as_str().expect("a way").into(),
        others.map(|o| format!("{}: {}", text(&o[0]), text(&o[1]))).collect(),
    )
}

fn text(value: &serde_json::Value) -> &str {
    value.as_str().unwrap_or_default()
}

#[test]
fn the_first_that_fits_is_taken() {
    let first = Bench::new(WAYS).check();
    assert_eq!(taken(&first), ("all at once".into(), vec![]));
    assert_eq!(first.0["ways"][0]["idle"], json!(["Turn"]));
    // the way not taken leaves no findings
    assert!(first.0["findings"].as_array().expect("findings").iter().all(|f| f["setup"] != "Turn"));
    assert_eq!(first.verdict(), "fits");

    // 14 990 deep: the boards at 14 950 stand 0 before the wall, 100 is wanted
    let second = Bench::new(WAYS).bay(bay(14_990.0, "")).check();
    let (way, others) = taken(&second);
    assert_eq!(way, "one after another");
    assert_eq!(others, ["all at once: All: target-clear fails for m and north wall by 100 mm"]);
    assert_eq!(second.verdict(), "fits");
    let page = Bench::new(WAYS).bay(bay(14_990.0, "")).page();
    assert!(page.contains("P: done one after another\n  not all at once: All: target-clear"), "{page}");
}

#[test]
fn the_job_may_name_one() {
    let named = Bench::new(WAYS).chosen("way: \"one after another\"").check();
    assert_eq!(taken(&named), ("one after another".into(), vec![]));
    assert_eq!(named.0["ways"][0]["named_by_the_job"], true);
    assert!(named.0["findings"].as_array().expect("findings").iter().all(|f| f["setup"] != "All"));
    let short = Bench::new(WAYS).chosen("way: \"all at once\"").bay(bay(14_990.0, "")).check();
    assert_eq!((taken(&short).0.as_str(), short.verdict()), ("all at once", "does-not-fit"));
}

/// What the shop owns decides too: of two boards wanted at once it has one.
#[test]
fn a_way_the_shop_has_no_targets_for() {
    let mut bench = Bench::new(WAYS);
    bench.targets = bench.targets.replace("owned: 3", "owned: 1");
    let answer = bench.check();
    assert_eq!(
        taken(&answer),
        ("one after another".into(), vec!["all at once: equipment fails for board, 1 short".into()])
    );
    assert_eq!(answer.verdict(), "fits");
    assert_eq!(answer.finding("equipment", &["board"])["need_mm"], 1.0);
}

/// Where none fits the first is judged; one of which only a figure is missing comes before one that fails.
#[test]
fn none_fits() {
    let none = Bench::new(WAYS).bay(bay(8_000.0, "")).check();
    assert_eq!((taken(&none).0.as_str(), none.verdict()), ("all at once", "does-not-fit"));
    assert!(taken(&none).1[0].starts_with("one after another: Turn: target-clear fails"));
    let open = WAYS
        .replace("ways:", "values: {\"near\": Missing(\"cut\")}, ways:")
        .replace("by: 3000", "by: \"near\"");
    let answer = Bench::new(&open).bay(bay(8_000.0, "")).check();
    assert_eq!((taken(&answer).0.as_str(), answer.verdict()), ("one after another", "not-known"));
    // and a way that only a movable thing stands in can be gone
    let bench = |movable: &str| {
        let more = format!(
            "fixtures: [(name: \"bench\", shape: Box(at: (5000, 14970), size: (400, 100)), z: (0, 900){movable})]"
        );
        Bench::new(WAYS).bay(bay(20_000.0, &more)).check()
    };
    assert_eq!(taken(&bench("")).0, "one after another");
    let moved = bench(", movable: true");
    assert_eq!((taken(&moved).0.as_str(), moved.verdict()), ("all at once", "fits-if"));
}

/// A failure a person took on does not shut a way.
#[test]
fn an_accepted_failure_leaves_the_way_open() {
    let accepted = r#"accepted: [
        (rule: "target-clear", items: ["m", "north wall"], reason: "r", by: "A. N.", on: "2026-11-24"),
        (rule: "target-clear", items: ["l", "north wall"], reason: "r", by: "A. N.", on: "2026-11-24")]"#;
    let answer = Bench::new(WAYS).bay(bay(14_990.0, "")).job(accepted).check();
    assert_eq!((taken(&answer).0.as_str(), answer.verdict()), ("all at once", "fits-if"));
}

const ONLY: &str = r#"
    values: {"far": 1000},
    variants: {"rails": {"far": 1100}, "sport": {}},
    setups: [
        (name: "Always", marks: [("P", Along(line: Centre, from: "N", by: "far"))], stations: [
            (name: "b", target: "board", at: "P", faces: Centre, height: Floor(0)),
            (name: "extra", target: "board", at: "P", faces: Centre, height: Floor(900), only: ["sport"]),
        ], zones: [(name: "lamps", shape: Around(stations: ["b", "extra"], beside: 9, above: 9, below: 9), free_of: [Light])]),
        (name: "With rails or sport", only: ["rails", "sport"]),
        (name: "Radar left", only_if: SensorOn("front radar", Left)),
        (name: "Radar right", only_if: SensorOn("front radar", Right)),
    ]"#;

#[test]
fn conditions() {
    let left_out = |answer: &crate::bench::Answer| -> Vec<String> {
        let all = answer.findings("readiness").into_iter().filter(|f| f["outcome"] == "not-applicable");
        all.map(|f| text(&f["items"][0]).to_string()).collect()
    };
    let plain = Bench::new(ONLY).check();
    assert_eq!(left_out(&plain), ["Always: extra", "Radar right", "With rails or sport"]);
    plain.tells("readiness", "With rails or sport is left out: only with rails or sport");
    plain.tells("readiness", "only where front radar sits on the right");
    let both = Bench::new(ONLY).chosen("variants: [\"rails\", \"sport\"]").check();
    assert_eq!(left_out(&both), ["Radar right"]);
    assert_eq!(both.mark("Always", "P"), (2050.0, 0.0));
    both.station("Always", "extra");
    // one variant or a list of one say the same
    let one = |chosen: &str| Bench::new(ONLY).chosen(chosen).check().0;
    assert_eq!(one("variant: \"rails\""), one("variants: [\"rails\"]"));
    // a sensor the vehicle file lacks leaves it open
    let unknown = Bench::new(&ONLY.replace("front radar", "night camera")).check();
    assert_eq!(unknown.verdict(), "not-known");
    assert!(unknown.0["missing"].as_array().expect("missing").contains(&json!("night camera")));
}

/// The setups of a way that does not apply to this vehicle make no way.
#[test]
fn a_way_that_does_not_apply() {
    let procedure = r#"
        ways: {"right": ["Radar right"], "left": ["Radar left"]},
        setups: [(name: "Radar left", only_if: SensorOn("front radar", Left)), (name: "Radar right", only_if: SensorOn("front radar", Right))]"#;
    let answer = Bench::new(procedure).check();
    let (way, others) = taken(&answer);
    assert_eq!(
        (way.as_str(), others),
        ("left", vec!["right: none of its setups applies to this vehicle and variant".to_string()])
    );
}

#[test]
fn readiness_by_market() {
    let procedure = r#"
        vehicle_state: ["boot empty"],
        vehicle_state_in: {"Korea": ["68 kg in the driver's seat"], "elsewhere": ["75 kg in the driver's seat"]},
        setups: [(name: "S")]"#;
    let said = |bench: Bench| -> Vec<String> {
        bench.check().findings("readiness").iter().map(|f| text(&f["text"]).to_string()).collect()
    };
    let open = said(Bench::new(procedure));
    assert!(open.contains(&"If made for Korea: 68 kg in the driver's seat".to_string()), "{open:?}");
    assert!(open.contains(&"If made for elsewhere: 75 kg in the driver's seat".to_string()));
    for bench in [
        Bench::new(procedure).job("market: \"Korea\""),
        Bench::new(procedure).chosen("variants: [\"Korea\"]"),
    ] {
        let korea = said(bench);
        assert!(
            korea.contains(&"68 kg in the driver's seat".to_string())
                && !korea.iter().any(|l| l.contains("75 kg")),
            "{korea:?}"
        );
        assert!(korea.contains(&"Boot empty".to_string()));
    }
}
