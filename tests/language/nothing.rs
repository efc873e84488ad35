//! Nothing placed is not a fit: `check` and `site` say what is missing, and leave with 1.

use serde_json::json;

use crate::bench::Bench;

const SIDED: &str = r#"system: ForwardRadar, setups: [
    (name: "Radar left", only_if: SensorOn("front radar", Left), marks: [("X", Along(line: Centre, from: "N", by: 2000))],
        stations: [(name: "b", target: "board", at: "X", looks: Backward, height: Floor(0))]),
    (name: "Radar right", only_if: SensorOn("front radar", Right), marks: [("X", Along(line: Centre, from: "N", by: 2000))],
        stations: [(name: "b", target: "board", at: "X", looks: Backward, height: Floor(0))]),
]"#;

/// The radar of the car sits so far to the left.
fn radar(bench: Bench, left: f64) -> Bench {
    let car = bench.car.replace("(850, 300, 500)", &format!("(850, {left:?}, 500)"));
    Bench { car, ..bench }
}

/// Both commands say it in JSON and in words.
#[track_caller]
fn not_known(bench: &Bench, missing: &str) {
    let answer = bench.check();
    assert_eq!((answer.verdict(), &answer.0["missing"]), ("not-known", &json!([missing])));
    let finding = answer.finding("readiness", &[missing]);
    assert_eq!((&finding["outcome"], &finding["missing"]), (&json!("unknown"), &json!([missing])));
    let check = bench.run(&["check", "job.ron"]);
    assert_eq!(check.exit, 1);
    let says = format!("Not known: {missing} is missing").to_uppercase();
    assert!(check.out.starts_with(&says), "{}", check.out);
    let site = bench.run(&["site", "job.ron"]);
    assert_eq!(site.exit, 1);
    let first = site.out.lines().next().unwrap_or_default();
    assert!(!first.contains("Fits") && first.contains(&format!("{missing} is missing")), "{first}");
    let ran = bench.run(&["site", "job.ron", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    let also = json["best"]["also"].as_array().expect("what else there is at the best pose");
    assert!(
        also.iter()
            .any(|f| f["rule"] == "readiness" && f["outcome"] == "unknown" && f["items"] == json!([missing])),
        "{also:#?}"
    );
}

#[test]
fn a_job_without_procedures() {
    not_known(&Bench { no_procedure: true, ..Bench::setup("") }, "a procedure");
    // beside a figure that is missing
    let bench = Bench { no_procedure: true, ..Bench::setup("") };
    let bay = bench.bay.replace("ceiling: 4000,", "");
    let page = Bench { bay, ..bench }.page();
    assert!(page.starts_with("NOT KNOWN: A PROCEDURE AND 1 FIGURE ARE MISSING"), "{page}");
}

#[test]
fn setups_that_fall_away() {
    let missing = "a setup of P that applies";
    not_known(&radar(Bench::new(SIDED), 0.0), missing);
    for left in [300.0, -300.0] {
        let answer = radar(Bench::new(SIDED), left).check();
        assert_eq!(answer.verdict(), "fits", "{:#}", answer.0["missing"]);
    }
    // the middle is a place of its own, on the other side too
    let middle = SIDED.replace("Left)", "Middle)").replace("Right)", "Left)");
    assert_eq!(radar(Bench::new(&middle), 0.0).check().verdict(), "fits");
    not_known(&radar(Bench::new(&middle), -1.0), missing);
    let mirrored = SIDED.replace("Left),", "Middle), mirrored: (name: \"Other\"),");
    let both = radar(Bench::new(&mirrored), 0.0).check();
    both.station("Radar left", "b");
    both.station("Other", "b");
    let variant = "variants: {\"rails\": {}}, setups: [(name: \"S\", only: [\"rails\"], zones: [(name: \"z\", shape: AroundVehicle(ahead: 1, behind: 1, left: 1, right: 1), free_of: [Metal])])]";
    not_known(&Bench::new(variant), missing);
    assert_eq!(Bench::new(variant).chosen("variant: \"rails\"").check().verdict(), "fits");
}

#[test]
fn an_empty_setup() {
    not_known(&Bench::setup(""), "a setup of P that applies");
}

#[test]
fn no_procedure_that_applies() {
    let radar = "setups: [(name: \"S\", marks: [(\"X\", Under(Sensor(\"night camera\")))], stations: [(name: \"b\", target: \"board\", at: \"X\", looks: Backward, height: Floor(0))])]";
    let bench = Bench::new(radar);
    let car = bench.car.replace("sensors:", "without: [\"night camera\"], sensors:");
    not_known(&Bench { car, ..bench }, "a procedure that applies to this vehicle");
}
