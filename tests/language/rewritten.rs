//! Published placements written in the full language give the coordinates worked out for them before, on both cars.

use serde_json::{Map, Value, json};

use crate::placements::{Tally, answer_of, cases, compare_case};
use crate::program::tests;

const FILES: [&str; 18] = [
    "bs-02", "bs-03", "bs-04", "fs-01", "fs-02", "up-01", "up-02", "ld-02", "hl-01", "hl-02", "hl-04",
    "hl-06", "hl-09", "fr-01", "fr-03", "fc-05", "rc-03", "rg-04",
];

/// Where the new file names things otherwise: the setup and station (or mark) of the expected figures, then of the file.
fn renamed(file: &str) -> Vec<[String; 6]> {
    let row = |r: [&str; 6]| r.map(String::from);
    match file {
        "up-01" | "up-02" => (1..=5)
            .map(|i| {
                let at = format!("at P{i}");
                let (p, here) = (format!("P{i}"), "Pipe at five places".to_string());
                [p.clone(), "pipe".into(), p.clone(), here, at, p]
            })
            .collect(),
        "ld-02" => vec![
            row(["One after another, middle", "target", "P", "One after another", "middle", "PM"]),
            row(["One after another, left", "target", "P", "One after another", "left", "PL"]),
            row(["One after another, right", "target", "P", "One after another", "right", "PR"]),
        ],
        _ => Vec::new(),
    }
}

/// The answer told again under the names of the expected figures.
fn retold(file: &str, mut answer: Value) -> Value {
    for [setup, station, mark, here, station_here, mark_here] in renamed(file) {
        for (list, kind, there, to) in
            [("stations", "station", &station_here, &station), ("marks", "mark", &mark_here, &mark)]
        {
            let all = answer[list].as_array().cloned().unwrap_or_default();
            for mut one in all.into_iter().filter(|x| x["setup"] == *here) {
                one["setup"] = json!(setup);
                if one[kind] == **there {
                    one[kind] = json!(to);
                } else if kind == "station" {
                    continue;
                }
                answer[list].as_array_mut().expect("a list").push(one);
            }
        }
    }
    answer
}

/// What a case chooses and measures, in the words of the new file.
fn adapted(file: &str, case: &Value) -> Value {
    let mut case = case.clone();
    if file == "hl-04" {
        let distance = if case["variant"] == "no room" { 3000 } else { 25000 };
        case["choose"] = json!({ "distance": distance });
        case["variant"] = Value::Null;
    }
    case
}

fn answer(file: &str, case: &Value) -> Value {
    let procedure = tests("language/procedures").join(format!("{file}.ron"));
    let car = case["vehicle"].as_str().expect("a vehicle");
    answer_of(&procedure, &tests("language/hall.ron"), car, &adapted(file, case))
}

#[test]
fn the_same_coordinates_in_the_full_language() {
    let mut tally = Tally::default();
    for file in FILES {
        let before = tally.compared;
        for case in cases(file) {
            compare_case(file, &case, &retold(file, answer(file, &case)), &mut tally);
        }
        assert!(tally.compared >= before + 2, "{file}: nothing was compared");
    }
    assert!(
        tally.wrong.is_empty(),
        "{} of {} disagree:\n{}",
        tally.wrong.len(),
        tally.compared,
        tally.wrong.join("\n")
    );
    assert!(tally.compared >= 700, "only {} coordinates were compared", tally.compared);
}

/// Every file passes `validate` without a fault, and without a doubt but those it cannot help.
#[test]
fn the_files_are_without_faults() {
    for file in FILES.iter().chain(&["fc-06"]) {
        let path = tests("language/procedures").join(format!("{file}.ron"));
        let notices: Vec<String> = baywright::files::validate(&path).iter().map(|n| n.to_string()).collect();
        let bad: Vec<&String> = notices.iter().filter(|n| n.starts_with("error")).collect();
        assert!(bad.is_empty(), "{file}: {bad:?}");
    }
}

/// The published setting follows from the mean of two readings, edges included, and outside the work stops.
#[test]
fn the_mean_of_two_arches_picks_the_setting() {
    for (left, right, outcome, says) in [
        (691.0, 691.0, "pass", "setting 2"),
        (690.0, 702.0, "pass", "setting 2"), // on the edge of two bands, at 696, the first listed counts
        (656.0, 656.0, "pass", "setting 5"),
        (706.0, 706.0, "pass", "setting 1"),
        (700.0, 713.0, "fail", "outside the maker's band by 0.5 mm"),
        (650.0, 650.0, "fail", "outside the maker's band by 6 mm"),
    ] {
        let case =
            json!({"vehicle": "../reference-car.ron", "measured": {"arch left": left, "arch right": right}});
        let answer = answer("fc-06", &case);
        let found = finding(&answer, "measured", "arch");
        assert_eq!(found["outcome"], outcome, "{left} {right}");
        let text = found["text"].as_str().unwrap_or_default();
        assert!(text.contains(says), "{left} {right}: {text}");
    }
    let case = json!({"vehicle": "../reference-car.ron", "measured": {"arch left": 691}});
    let found = finding(&answer("fc-06", &case), "measured", "arch");
    assert_eq!((&found["outcome"], &found["missing"]), (&json!("unknown"), &json!(["arch right"])));
}

/// FR-03: the figures printed with the published text agree on the straight car and are found out on the crooked one.
#[test]
fn printed_check_lengths() {
    let on = |car: &str, variant: Value| answer("fr-03", &json!({"vehicle": car, "variant": variant}));
    for variant in [Value::Null, json!("with roof rails")] {
        let straight = on("../reference-car.ron", variant);
        let lengths = of_rule(&straight, "check-length");
        assert_eq!(lengths.len(), 4);
        assert!(lengths.iter().all(|f| f["outcome"] == "pass"), "{lengths:?}");
    }
    let crooked = on("../reference-car-crooked.ron", Value::Null);
    let wrong: Vec<&Map<String, Value>> =
        of_rule(&crooked, "check-length").into_iter().filter(|f| f["outcome"] == "fail").collect();
    assert!(!wrong.is_empty(), "the crooked car gives the straight car's lengths");
}

fn of_rule<'a>(answer: &'a Value, rule: &str) -> Vec<&'a Map<String, Value>> {
    let all = answer["findings"].as_array().expect("findings").iter().filter_map(Value::as_object);
    all.filter(|f| f["rule"] == rule).collect()
}

fn finding(answer: &Value, rule: &str, item: &str) -> Value {
    let all = answer["findings"].as_array().expect("findings");
    let found = all.iter().find(|f| f["rule"] == rule && f["items"][0] == item);
    found.cloned().unwrap_or_else(|| panic!("no finding of {rule} about {item}: {answer:#}"))
}
