//! Names: values called like numbers, the sides of two tapes, and what no name may hold.

use super::bench::{Bench, at, bay};

/// The nose of the straight car is at X 950, its tail at -3750.
#[test]
fn a_value_called_like_a_number_is_that_value() {
    let along = |by: &str| format!("(\"A\", Along(line: Centre, from: \"N\", by: {by}))");
    for (values, by, x) in [
        ("", "\"1\"", 951.0),
        ("\"1\": 500", "\"1\"", 1450.0),
        ("\"1\": 500", "\"-1\"", 450.0),
        ("\"1\": 500", "1", 951.0),
        ("\"1\": 500", "\"1 + 2\"", 1452.0),
        ("\"1\": 500, \"2\": \"1 + 1\"", "\"2 - 1\"", 1450.0),
        ("\"-3\": 500", "\"-3\"", 947.0),
        ("\"1e2\": 7", "\"1e2\"", 957.0),
    ] {
        let bench =
            Bench::new(&format!("values: {{{values}}}, setups: [(name: \"S\", marks: [{}])]", along(by)));
        at(bench.check().mark("S", "A"), (x, 0.0));
    }
    // what reads as a number below zero is none where it is a value
    let tape = "values: {\"-1\": 1, \"0\": 900}, setups: [(name: \"S\", lines: [(line: Centre, from: \"N\", reach: \"0\")])]";
    assert_ne!(Bench::new(tape).run(&["check", "job.ron"]).exit, 2);
    let without = "setups: [(name: \"S\", lines: [(line: Centre, from: \"N\", reach: \"0\")])]";
    assert_eq!(Bench::new(without).run(&["check", "job.ron"]).exit, 2);
}

#[test]
fn values_called_like_numbers_are_faulted_like_others() {
    for (values, by, says) in [
        ("\"1\": \"1 + 5\"", "\"1\"", "in a circle"),
        ("\"1\": 500", "\"one\"", "\"one\""),
        ("\"1\": 500", "\"2000000\"", "2000000 is larger than 1 000 000"),
        ("\"1\": 500", "\"inf\"", "there is no value or measured figure \"inf\""),
    ] {
        let mark = format!("(\"A\", Along(line: Centre, from: \"N\", by: {by}))");
        let ran = Bench::new(&format!("values: {{{values}}}, setups: [(name: \"S\", marks: [{mark}])]"))
            .run(&["check", "job.ron"]);
        assert!(ran.exit == 2 && ran.err.contains(says), "{says}: {}{}", ran.out, ran.err);
    }
}

/// Two tapes of 3000 from nose and tail, 4700 apart, meet 2350 behind the nose at X -1400 and
/// sqrt(3000² - 2350²) = 1864.81 to either side; two of 1500 from marks 1000 left and right of the front axle meet
/// sqrt(1500² - 1000²) = 1118.03 ahead and behind.
#[test]
fn tapes_meet_on_the_side_of_the_vehicle_that_is_asked_for() {
    let marks = "(\"L\", Place(line: Centre, from: \"FA\", along: 0, left: 1000)),
        (\"R\", Place(line: Centre, from: \"FA\", along: 0, left: -1000)),";
    for (a, b, side, place) in [
        ("(\"N\", 3000)", "(\"T\", 3000)", "CarLeft", (-1400.0, 1864.81)),
        ("(\"N\", 3000)", "(\"T\", 3000)", "CarRight", (-1400.0, -1864.81)),
        ("(\"T\", 3000)", "(\"N\", 3000)", "CarLeft", (-1400.0, 1864.81)),
        ("(\"T\", 3000)", "(\"N\", 3000)", "Left", (-1400.0, 1864.81)),
        ("(\"N\", 3000)", "(\"T\", 3000)", "Left", (-1400.0, -1864.81)),
        ("(\"L\", 1500)", "(\"R\", 1500)", "Ahead", (1118.034, 0.0)),
        ("(\"R\", 1500)", "(\"L\", 1500)", "Ahead", (1118.034, 0.0)),
        ("(\"L\", 1500)", "(\"R\", 1500)", "Behind", (-1118.034, 0.0)),
        ("(\"L\", 1000)", "(\"R\", 1000)", "Ahead", (0.0, 0.0)),
    ] {
        let meet = format!("(\"X\", Lengths(a: {a}, b: {b}, side: {side}))");
        let answer = Bench::setup(&format!("marks: [{marks} {meet}]")).check();
        at(answer.mark("S", "X"), place);
    }
    let level = "marks: [(\"X\", Lengths(a: (\"N\", 3000), b: (\"T\", 3000), side: Ahead))]";
    let ran = Bench::setup(level).run(&["check", "job.ron"]);
    assert!(ran.exit == 2 && ran.err.contains("neither lies ahead of the other"), "{}", ran.err);
}

#[test]
fn the_other_side_exchanges_left_and_right_of_the_vehicle_and_leaves_ahead() {
    let answer = Bench::setup(
        "mirrored: (name: \"Other\"), marks: [
            (\"B\", Place(line: Centre, from: \"FA\", along: 0, left: 500)),
            (\"X\", Lengths(a: (\"N\", 3000), b: (\"T\", 3000), side: CarLeft)),
            (\"Y\", Lengths(a: (\"FA\", 1000), b: (\"B\", 1000), side: Ahead))]",
    )
    .check();
    at(answer.mark("S", "X"), (-1400.0, 1864.81));
    at(answer.mark("Other", "X"), (-1400.0, -1864.81));
    // 250 aside, sqrt(1000² - 250²) = 968.246 ahead
    at(answer.mark("S", "Y"), (968.246, 250.0));
    at(answer.mark("Other", "Y"), (968.246, -250.0));
}

#[test]
fn a_name_is_one_line_of_plain_text() {
    for (name, what) in [
        ("a\\u{1b}[2Jb", "a control character, \\u{1b}"),
        ("a\\nFITS", "a line break, \\n"),
        ("a\nFITS", "a line break, \\n"),
        ("a\\tb", "a tab"),
        ("a\u{202e}b", "a mark that turns the direction of text, \\u{202e}"),
        ("a\\u{2067}b", "a mark that turns the direction of text"),
        ("a\u{85}b", "a line break"),
        ("a\u{9b}2Jb", "a control character, \\u{9b}"),
        ("a\\u{200b}b", "a character that cannot be seen"),
    ] {
        let thing = format!(
            "\nfixtures: [(name: \"{name}\", shape: Round(at: (500, 500), diameter: 99), z: (0, 9))]"
        );
        let bench = Bench::setup("").bay(bay(20_000.0, &thing));
        for args in [&["check", "job.ron"][..], &["validate", "bay.ron"]] {
            let ran = bench.run(args);
            let said = format!("{}{}", ran.out, ran.err);
            assert_eq!(ran.exit, 2, "{name:?} {said}");
            let told = said.lines().any(|l| l.contains("bay.ron:3:19: ") && l.contains(what));
            assert!(told, "{name:?} is not told as {what:?}:\n{said}");
            assert!(
                !said.contains(|c: char| c != '\n' && c.is_control()),
                "{name:?} comes through: {said:?}"
            );
        }
    }
    let plain = Bench::setup("").bay(bay(
        20_000.0,
        "fixtures: [(name: \"Prüfstand é 漢\", shape: Round(at: (500, 500), diameter: 99), z: (0, 9))]",
    ));
    assert_ne!(plain.run(&["check", "job.ron"]).exit, 2);
}

/// A note may run over lines and hold anything; on the page it can neither begin a line nor move the cursor.
#[test]
fn what_a_note_holds_is_spelt_out_where_it_is_printed() {
    let note = "dark\\n\\nFITS: 900 MM TO SPARE\\u{1b}[2J\u{202e}\u{9b}2J";
    let bench = Bench::new(&format!(
        "light_note: \"{note}\", values: {{\"m\": Missing(\"{note}\")}}, setups: [(name: \"S\", missing: [\"{note}\"],
            zones: [(name: \"Z\", shape: NotRead(\"{note}\"), free_of: [Anything])])]"
    ))
    .bay(bay(20_000.0, &format!("fixtures: [(name: \"cart\", shape: Box(at: (5000, 5000), size: (500, 500)), z: (0, 1000), movable: true, clear_by: \"{note}\")]")));
    for args in [
        &["check", "job.ron"][..],
        &["check", "job.ron", "--json"],
        &["site", "job.ron"],
        &["site", "job.ron", "--json"],
    ] {
        let out = bench.run(args).out;
        assert!(!out.lines().any(|l| l.trim_start().starts_with("FITS: 900")), "{args:?} {out}");
        let bad = |c: char| (c != '\n' && c.is_control()) || c == '\u{202e}';
        assert!(!out.contains(bad), "{args:?}: {:?}", out.chars().find(|c| bad(*c)));
    }
    let page = bench.page();
    assert!(page.contains("dark\\n\\nFITS: 900 MM TO SPARE\\u{1b}[2J\\u{202e}\\u{9b}2J"), "{page}");
    // in JSON it is the text itself again
    let answer = bench.check();
    assert!(answer.0.to_string().contains("dark\\n\\nFITS"), "{}", answer.0);
}

/// One kilometre is the most a number may be, wherever it stands; a sum may be more.
#[test]
fn a_number_is_at_most_a_kilometre() {
    let mark = |by: &str| format!("marks: [(\"A\", Along(line: Centre, from: \"N\", by: {by}))]");
    for (by, exit) in
        [("1000000", true), ("1000000.5", false), ("\"1000001\"", false), ("\"1000000 + 1000000\"", true)]
    {
        let ran = Bench::setup(&mark(by)).run(&["check", "job.ron"]);
        assert_eq!(ran.exit != 2, exit, "{by}: {}", ran.err);
    }
    for more in [
        "ceiling: 1000001",
        "heights: [(0, 0, 0), (1000001, 0, 0), (0, 5, 0)]",
        "fixtures: [(name: \"f\", shape: Round(at: (0, -1000001), diameter: 9), z: (0, 9))]",
        "points: {\"p\": (0, 0, 1000001)}",
    ] {
        let bay = format!("(name: \"B\", floor: [(0, 0), (9000, 0), (0, 9000)], {more})");
        let ran = Bench::setup("").bay(bay).run(&["validate", "bay.ron"]);
        assert!(ran.exit == 2 && ran.out.contains("1 000 000 (1 km)"), "{more}: {}", ran.out);
    }
}
