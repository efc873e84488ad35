//! `validate` teaches: doubts about files that can be used as they stand.

use crate::bench::{Bench, bay};

/// The warnings about the procedure, without folder and place.
fn doubts(bench: Bench, file: &str) -> Vec<String> {
    let ran = bench.run(&["validate", file]);
    assert_eq!(ran.exit, 0, "{}{}", ran.out, ran.err);
    let lines = ran.out.lines().filter_map(|l| l.strip_prefix("warning: "));
    let told: Vec<String> = lines.map(|l| l.splitn(4, ':').nth(3).unwrap_or(l).trim().to_string()).collect();
    for line in ran.out.lines().filter(|l| l.starts_with("warning")) {
        let place: Vec<&str> = line.split(':').collect();
        assert!(
            place.len() > 4 && place[2].parse::<usize>().is_ok() && place[3].parse::<usize>().is_ok(),
            "no place: {line}"
        );
    }
    told
}

#[track_caller]
fn warns(procedure: &str, says: &[&str]) {
    let told = doubts(Bench::new(procedure), "p.ron");
    assert_eq!(told, says, "{procedure}");
}

const END: &str = r#"stations: [(name: "b", target: "board", at: "P", looks: Backward, height: Floor(0))]"#;

fn marks(marks: &str) -> String {
    format!("setups: [(name: \"S\", marks: [{marks}], {END})]")
}

#[test]
fn the_off_trap() {
    warns(
        &marks(r#"("A", Under(Wheel(FrontLeft))), ("P", Off(line: Centre, from: "A", by: 500))"#),
        &[
            r#""P" steps off from "A", which need not be on that line; `Off` starts at the mark itself; `Place` starts at its foot on the line"#,
        ],
    );
    warns(
        &marks(
            r#"("A", Along(line: Centre, from: "N", by: 10)), ("P", Off(line: Centre, from: "A", by: 500))"#,
        ),
        &[],
    );
    warns(
        &marks(
            r#"("A", Under(Wheel(FrontLeft))), ("P", Place(line: Centre, from: "A", along: 0, left: 500))"#,
        ),
        &[],
    );
}

#[test]
fn names_off_the_lists() {
    warns(
        &marks(r#"("P", Under(Sensor("front radra")))"#),
        &[r#""front radra" is not among the agreed names of a sensor; did you mean "front radar"?"#],
    );
    warns(
        &format!("system: ForwardRadra, {}", marks(r#"("P", Under(Point("front emblem")))"#)),
        &[r#""ForwardRadra" is not among the agreed names of a system; did you mean "ForwardRadar"?"#],
    );
}

#[test]
fn what_nobody_uses() {
    let far = r#"("P", Along(line: Centre, from: "N", by: "far"))"#;
    warns(
        &format!("values: {{\"far\": 1, \"fro\": 2}}, {}", marks(far)),
        &[r#"nothing uses the value "fro""#],
    );
    warns(&marks(r#"("Q", Under(Nose)), ("P", Under(Tail))"#), &[r#"nothing uses the mark "Q""#]);
    // a mark for a check length, a line to draw or a painted line is used
    let used = r#"setups: [(name: "S", marks: [("Q", Under(Nose)), ("R", Under(Tail)), ("P", Under(Axle(Front)))], checks: [Same(("Q", "P"), ("R", "P"))], stand_on: (mark: "P", floor_line: "l"))]"#;
    warns(used, &[]);
    warns(
        &format!("needs: {{\"bored\": (width: 600)}}, {}", marks(r#"("P", Under(Nose))"#)),
        &[r#"nothing that is set up is a "bored", so what it needs is not asked; did you mean "board"?"#],
    );
    warns(&format!("needs: {{\"board\": (width: 600)}}, {}", marks(r#"("P", Under(Nose))"#)), &[]);
    warns(
        &format!(
            "printed: {{\"distnace\": \"2 m\"}}, values: {{\"distance\": 2}}, {}",
            marks(&far.replace("far", "distance"))
        ),
        &[r#""distnace" is printed some way but is no figure of this procedure; did you mean "distance"?"#],
    );
    warns(
        "measured: {\"l\": (ask: \"l\")}, derived: {\"mean\": Mean([\"l\"])}, setups: [(name: \"S\")]",
        &[r#"nothing uses the average "mean""#],
    );
    warns(
        &format!("pairs: [(\"a\", \"b\")], {}", marks(r#"("P", Under(Nose))"#)),
        &["`pairs` are named, but no setup is `mirrored`"],
    );
}

#[test]
fn variants_that_change_nothing() {
    let with = |variants: &str, more: &str| {
        format!(
            "values: {{\"far\": 1}}, variants: {{{variants}}}, setups: [(name: \"S\", {more} marks: [(\"P\", Along(line: Centre, from: \"N\", by: \"far\"))], {END})]"
        )
    };
    let says = [r#"the variant "v" changes nothing"#];
    warns(&with("\"v\": {}", ""), &says);
    warns(&with("\"v\": {\"far\": 1}", ""), &says);
    warns(&with("\"v\": {\"far\": 2}", ""), &[]);
    // it decides whether the setup is done
    warns(&with("\"v\": {}", "only: [\"v\"],"), &[]);
}

#[test]
fn zones_of_no_area() {
    let zone = |shape: &str| {
        format!("setups: [(name: \"S\", zones: [(name: \"z\", shape: {shape}, free_of: [Light])])]")
    };
    warns(&zone("AroundVehicle(ahead: 0, behind: 0, left: 0, right: 0)"), &[r#"the zone "z" has no area"#]);
    warns(&zone("AroundVehicle(ahead: 1, behind: 0, left: 0, right: 0)"), &[]);
    // a strip of no width is refused
    let ran = Bench::new(&zone("Strip(line: Centre, from: \"N\", along: (0, 9), across: 0)"))
        .run(&["validate", "p.ron"]);
    assert!(ran.exit == 2 && ran.out.contains("`across` must be above zero"), "{}", ran.out);
}

#[test]
fn bands_that_overlap() {
    let pick = |low: f64| {
        format!(
            "measured: {{\"arch\": (ask: \"a\")}}, pick: (by: \"arch\", from: [(1, 20, \"one\"), ({low:?}, 30, \"two\")]), setups: [(name: \"S\")]"
        )
    };
    warns(&pick(20.0), &[]);
    let none = "measured: {\"arch\": (ask: \"a\")}, pick: (by: \"arch\", from: []), setups: [(name: \"S\")]";
    warns(none, &[r#""arch" picks from no bands"#]);
    warns(&pick(19.0), &[r#"the bands of "one" and "two" overlap; where they do, the first listed counts"#]);
}

#[test]
fn a_name_of_the_other_side_only() {
    let swap = |other: &str| {
        format!(
            "setups: [(name: \"S\", mirrored: (name: \"O\", swap: [(\"b\", \"{other}\")]), marks: [(\"P\", Under(Nose))], {END})]"
        )
    };
    warns(&swap("P"), &[]);
    warns(
        &swap("c"),
        &[
            r#""b" is called "c" on the other side only; this side has no mark or station of that name: is it spelt as it should be?"#,
        ],
    );
}

#[test]
fn a_job_and_its_files() {
    let hall = bay(20_000.0, "installed: [(name: \"rail\", target: \"sheet\", at: (1, 1))]");
    let told =
        doubts(Bench::new(&marks(r#"("P", Under(Nose))"#)).bay(hall).job("market: \"Korea\""), "job.ron");
    assert_eq!(
        told,
        [
            r#"the equipment "Set" has no target "sheet"; known: "board", "pipe", "wall field""#,
            r#"no procedure of this job speaks of the market "Korea""#,
        ]
    );
    // a target that serves for one asked for is no gap
    let serves = r#""easel": (kind: Board, face: (width: 1, height: 1), owned: 1, serves: ["stand"])"#;
    let asked = marks(r#"("P", Under(Nose))"#).replace("target: \"board\"", "target: \"stand\"");
    assert_eq!(doubts(Bench::new(&asked).targets(serves), "job.ron"), Vec::<String>::new());
    assert_eq!(doubts(Bench::new(&asked), "job.ron").len(), 1);
}
