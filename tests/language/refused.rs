//! Bad input: one clear sentence each, with line and column, and exit 2.

use crate::bench::{Bench, bay};

/// A check is refused with one line: the file, the place where `at` last stands in it, and the sentence.
#[track_caller]
fn refused(bench: Bench, file: &str, at: &str, says: &str) {
    let ran = bench.run(&["check", "job.ron", "--json"]);
    assert_eq!((ran.exit, ran.out.as_str()), (2, ""));
    let text = bench.text(file);
    let offset = text.rfind(at).unwrap_or_else(|| panic!("no {at:?} in {text}"));
    let line = text[..offset].matches('\n').count() + 1;
    let column = text[..offset].chars().rev().take_while(|c| *c != '\n').count() + 1;
    assert_eq!(ran.err, format!("baywright: {file}:{line}:{column}: {says}\n"));
}

const ONE: &str = r#"marks: [("E", Under(Nose))], stations: [(name: "b", target: "board", at: "E", looks: Backward, height: Floor(0))]"#;

#[test]
fn the_other_side() {
    let swapped = |swap: &str| {
        Bench::new(&format!("setups: [(name: \"L\", mirrored: (name: \"R\", swap: [{swap}]), {ONE})]"))
    };
    for swap in [r#"("Z9", "E")"#, r#"("Z9", "Y9")"#] {
        let known = r#""E", "FA", "N", "RA", "T", "b", "front axle", "nose", "rear axle", "tail""#;
        let says =
            format!("\"Z9\" is no mark or station of this setup, so it cannot be swapped; known: {known}");
        refused(swapped(swap), "p.ron", "\"Z9\"", &says);
    }
    assert_ne!(swapped(r#"("E", "nose"), ("b", "other b")"#).run(&["check", "job.ron"]).exit, 2);
    refused(
        Bench::new(&format!("setups: [(name: \"L\", mirrored: (name: \"L\"), {ONE})]")),
        "p.ron",
        "\"L\"",
        "\"L\" is the name of another setup already; give each its own name",
    );
}

#[test]
fn targets_that_stay_in_a_circle() {
    let stays = |name: &str, earlier: &str| {
        format!(
            "(name: \"{name}\", marks: [(\"E\", Under(Nose))], stations: [(name: \"b\", target: \"board\", at: \"E\", height: Floor(0), fixed_to: Earlier(\"{earlier}\"))])"
        )
    };
    refused(
        Bench::new(&format!("setups: [{}, {}]", stays("A", "B"), stays("B", "A"))),
        "p.ron",
        r#""B")"#,
        r#"the setup "B" does not come before this one"#,
    );
    refused(
        Bench::new(&format!("setups: [{}]", stays("A", "A"))),
        "p.ron",
        r#""A")"#,
        r#"the setup "A" does not come before this one"#,
    );
    let ran = Bench::new(&format!("setups: [{}]", stays("A", "Nowhere"))).run(&["check", "job.ron"]);
    assert!(ran.exit == 2 && ran.err.contains("there is no earlier setup \"Nowhere\""), "{}", ran.err);
    // the setup is there, the station is not
    let other = format!("setups: [(name: \"A\", marks: [(\"E\", Under(Nose))]), {}]", stays("B", "A"));
    refused(Bench::new(&other), "p.ron", r#""A")"#, r#"setup "A" has no station "b" that could stay"#);
}

/// An upright target shows one face; its kind is told by the equipment, or by what the procedure needs.
#[test]
fn where_a_target_looks() {
    let says = "the station \"b\" does not say where its target looks; an upright target shows one face: give `looks`, such as Backward, or `faces`";
    let station = |rest: &str| {
        format!(r#"marks: [("E", Under(Nose))], stations: [(name: "b", at: "E", height: Floor(0), {rest})]"#)
    };
    for target in ["board", "wall field"] {
        refused(Bench::setup(&station(&format!("target: {target:?}"))), "p.ron", "\"b\"", says);
    }
    let serves = r#""easel": (kind: Reflector, face: (width: 9, height: 9), owned: 1, serves: ["stand"])"#;
    refused(Bench::setup(&station(r#"target: "stand""#)).targets(serves), "p.ron", "\"b\"", says);
    // the procedure alone tells it too, to `validate` as well
    let needs =
        r#"target: "stand")], needs: {"stand": (kind: Screen)}, lines: [(line: Centre, from: "E", reach: 1"#;
    refused(Bench::setup(&station(needs)), "p.ron", "\"b\"", says);
    let ran = Bench::setup(&station(needs)).run(&["validate", "p.ron"]);
    assert!(ran.exit == 2 && format!("{}{}", ran.out, ran.err).contains(says), "{}{}", ran.out, ran.err);
    for said in [
        r#"target: "board", looks: Forward"#,
        r#"target: "board", faces: Centre"#,
        r#"target: "board", fixed_to: Wall"#,
        r#"target: "pipe""#,
        r#"target: "chart", stands_by: Back"#,
    ] {
        let ran = Bench::setup(&station(said))
            .targets(r#""chart": (kind: Mat, face: (width: 9, height: 9), owned: 1)"#)
            .run(&["check", "job.ron"]);
        assert_ne!(ran.exit, 2, "{said}: {}", ran.err);
    }
}

#[test]
fn ways() {
    refused(
        Bench::new(&format!("ways: {{\"w\": []}}, setups: [(name: \"S\", {ONE})]")),
        "p.ron",
        "\"w\"",
        r#"the way "w" has no setups"#,
    );
    refused(
        Bench::new(&format!("ways: {{\"w\": [\"T\"]}}, setups: [(name: \"S\", {ONE})]")),
        "p.ron",
        "\"T\"",
        r#"there is no setup "T"; the only setup is "S""#,
    );
    refused(
        Bench::new(&format!("ways: {{\"w\": [\"S\"]}}, setups: [(name: \"S\", {ONE})]")).chosen("way: \"v\""),
        "job.ron",
        "\"v\"",
        r#""P" has no way "v"; the only way is "w""#,
    );
}

#[test]
fn bands() {
    let pick = |bands: &str| {
        Bench::new(&format!(
            "variants: {{\"low\": {{}}, \"high\": {{}}}}, measured: {{\"arch\": (ask: \"a\")}}, pick: (by: \"arch\", from: [{bands}]), setups: [(name: \"S\")]"
        ))
    };
    refused(
        pick("(650, 670, \"low\"), (672, 690, \"high\")"),
        "p.ron",
        "\"high\"",
        r#"the bands of "arch" leave a gap from 670 to 672; let each band start where the one below it ends"#,
    );
    refused(
        pick("(650, 670, \"low\"), (670, 690, \"higher\")"),
        "p.ron",
        "\"higher\"",
        r#"there is no variant "higher"; did you mean "high"?"#,
    );
    refused(
        pick("(670, 650, \"low\")"),
        "p.ron",
        "\"low\"",
        r#"the band of "low" ends below where it starts"#,
    );
    let ran = Bench::new("measured: {\"arch\": (ask: \"a\")}, pick: (by: \"arhc\", from: [(1, 2, \"one\")]), setups: [(name: \"S\")]")
        .run(&["check", "job.ron"]);
    assert!(ran.exit == 2 && ran.err.contains("did you mean \"arch\"?"), "{}", ran.err);
}

#[test]
fn averages() {
    refused(
        Bench::new("derived: {\"arch\": Mean([])}, setups: [(name: \"S\")]"),
        "p.ron",
        "\"arch\"",
        r#""arch" is an average of nothing"#,
    );
    refused(
        Bench::new(
            "measured: {\"left\": (ask: \"l\")}, derived: {\"arch\": Mean([\"left\", \"rihgt\"])}, setups: [(name: \"S\")]",
        ),
        "p.ron",
        "\"rihgt\"",
        r#"there is no measured figure "rihgt"; the only measured figure is "left""#,
    );
}

#[test]
fn what_the_bay_has_not() {
    let rail = ONE.replace("height: Floor(0)", "height: Floor(0), fixed_to: Bay(\"mirror rail\")");
    refused(
        Bench::setup(&rail),
        "p.ron",
        "\"mirror rail\"",
        r#"the bay "Hall" has no installed "mirror rail"; it has no installed thing at all"#,
    );
    refused(
        Bench::setup(&rail)
            .bay(bay(9000.0, "installed: [(name: \"mirror rial\", target: \"board\", at: (1, 1))]")),
        "p.ron",
        "\"mirror rail\"",
        r#"the bay "Hall" has no installed "mirror rail"; did you mean "mirror rial"?"#,
    );
    refused(
        Bench::setup("stand_on: (mark: \"nose\", floor_line: \"lamp line\")"),
        "p.ron",
        "\"lamp line\"",
        r#"the bay "Hall" has no floor line "lamp line"; it has no floor line at all"#,
    );
    refused(
        Bench::setup("stand_on: (mark: \"noes\", floor_line: \"l\")")
            .bay(bay(9000.0, "floor_lines: [(name: \"l\", points: [(0, 0), (1, 1)])]")),
        "p.ron",
        "\"noes\"",
        r#"there is no mark "noes"; did you mean "nose"?"#,
    );
}

#[test]
fn variants_that_disagree() {
    let two = |b: &str| {
        format!(
            "values: {{\"far\": 1}}, variants: {{\"a\": {{\"far\": 2}}, \"b\": {{\"far\": {b}}}}}, setups: [(name: \"S\", {ONE})]"
        )
    };
    refused(
        Bench::new(&two("3")).chosen("variants: [\"a\", \"b\"]"),
        "job.ron",
        "\"b\"",
        r#"the variants "a" and "b" give "far" two different figures; choose one of them"#,
    );
    assert_eq!(Bench::new(&two("2")).chosen("variants: [\"a\", \"b\"]").run(&["check", "job.ron"]).exit, 0);
    refused(
        Bench::new(&two("2")).chosen("variants: [\"a\", \"c\"]"),
        "job.ron",
        "\"c\"",
        r#""P" has no variant "c"; known: "a", "b""#,
    );
}
