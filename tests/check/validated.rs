//! `validate` refuses what `check` refuses, and doubts what is probably not meant.

use std::time::{Duration, Instant};

use super::program::{Ran, run};
use super::refused::changed;

const MARK: &str = "Along(line: WheelSide(Left), from: \"A\", by: 2000)";
const STATION: &str = "(name: \"board\", target: \"board\", at: \"E\", looks: Backward, height: Floor(300))";

/// Runs a command on the workshop with some texts of one file changed.
fn with_change(file: &str, from: &str, to: &str, more: &[(&str, &str)], args: &[&str]) -> Ran {
    let changes: Vec<_> =
        std::iter::once(&(from, to)).chain(more).map(|(from, to)| (file, *from, *to)).collect();
    run(changed(&changes).path(), args)
}

/// What is changed in the procedure, where it is told, and what the sentence names.
#[test]
fn what_check_refuses_is_refused() {
    let second = "setups: [(name: \"Before\", stations: [(name: \"plate\", target: \"board\", at: \"N\", looks: Backward, height: Floor(300))]), (";
    let stays = STATION.replace("height", "fixed_to: Earlier(\"Before\"), height");
    let both = [("setups: [(", second), (STATION, stays.as_str())];
    for (case, changes, place, says) in [
        ("parallel lines", &[(MARK, "Crossing(Nose, Tail)")][..], "procedure.ron:8:", "parallel"),
        (
            "a target that looks at its own mark",
            &[("looks: Backward", "looks: At(\"E\")")],
            "procedure.ron:10:",
            "stands on",
        ),
        ("no such station before", &both, "procedure.ron:10:", "no station \"board\""),
    ] {
        let (from, to) = changes[0];
        let later = &changes[1..];
        for (command, args) in [
            ("check", &["check", "job.ron"][..]),
            ("the job", &["validate", "job.ron"]),
            ("the procedure", &["validate", "procedure.ron"]),
        ] {
            let ran = with_change("procedure.ron", from, to, later, args);
            let said = format!("{}{}", ran.out, ran.err);
            assert_eq!(ran.exit, 2, "{case}, {command}: {said}");
            assert!(said.lines().any(|l| l.contains(place) && l.contains(says)), "{case}, {command}: {said}");
        }
    }
    // tapes that meet on other vehicles: refused with the job's own, doubted without one
    let tapes = "Lengths(a: (\"A\", 900), b: (\"C\", 900), side: Ahead)";
    let job = with_change("procedure.ron", MARK, tapes, &[], &["validate", "job.ron"]);
    assert!(job.exit == 2 && job.out.contains("1810"), "{}", job.out);
    let alone = with_change("procedure.ron", MARK, tapes, &[], &["validate", "procedure.ron"]);
    assert_eq!(alone.exit, 0, "{}", alone.out);
    assert!(alone.out.starts_with("warning: procedure.ron:8:"), "{}", alone.out);
    assert!(alone.out.contains("cannot be laid out on"), "{}", alone.out);
}

#[test]
fn a_choice_that_leaves_no_solution_is_doubted() {
    let tapes = "Lengths(a: (\"N\", \"r\"), b: (\"FA\", \"r\"), side: CarLeft)";
    let values = "system: ForwardRadar, values: {\"r\": OneOf([200, 900])},";
    let ran = with_change(
        "procedure.ron",
        MARK,
        tapes,
        &[("system: ForwardRadar,", values)],
        &["validate", "procedure.ron"],
    );
    assert!(ran.exit == 0 && ran.out.contains("warning: procedure.ron:8:"), "{}", ran.out);
    let none = values.replace("[200, 900]", "[200, 210]");
    let ran = with_change(
        "procedure.ron",
        MARK,
        tapes,
        &[("system: ForwardRadar,", none.as_str())],
        &["validate", "procedure.ron"],
    );
    assert!(ran.out.contains("procedure.ron:8:") && ran.out.contains("400.0 mm long"), "{}", ran.out);
}

#[test]
fn a_misspelt_end_of_a_sight_is_told() {
    for (sight, exit, hint) in [
        ("(from: \"front radar\", to: \"borad\")", 2, "did you mean \"board\"?"),
        ("(from: \"front radar\", to: \"radar feild\")", 2, "did you mean \"radar field\"?"),
        ("(from: \"front radar\", to: \"rear lft wheel\")", 2, "did you mean \"rear left wheel\"?"),
        ("(from: \"rear left weel\", to: \"board\")", 2, "did you mean \"rear left wheel\"?"),
        ("(from: \"front radar\", to: \"board\")", 0, ""),
        ("(from: \"front radar\", to: \"measuring head\")", 0, ""),
    ] {
        let setup = format!(
            "zones: [(name: \"radar field\", shape: Strip(line: Centre, from: \"nose\", along: (0, 900), across: 900), seen: true)],
            sights: [{sight}], stations"
        );
        let ran = with_change("procedure.ron", "stations", &setup, &[], &["validate", "procedure.ron"]);
        let told = hint.is_empty()
            || ran.out.lines().any(|l| l.starts_with("error: procedure.ron:11:") && l.contains(hint));
        assert!(ran.exit == exit && told, "{sight}: {}", ran.out);
    }
    // what only the vehicle can have is held against it in a job; an agreed name it lacks stays a missing figure
    let sensors = "ground_clearance: 180, sensors: {\"bumper radar\": (kind: Radar, at: (900, 0, 500))}";
    for (from, exit, says) in [
        ("bumper rader", 2, "did you mean \"bumper radar\"?"),
        ("bumper radar", 0, ""),
        ("front radar", 1, "front radar"),
    ] {
        let setup = format!("sights: [(from: \"{from}\", to: \"board\")], stations");
        let change = [
            ("vehicle.ron", "ground_clearance: 180", sensors),
            ("procedure.ron", "stations", setup.as_str()),
        ];
        let folder = changed(&change);
        let ran = run(folder.path(), &["check", "job.ron"]);
        let said = format!("{}{}", ran.out, ran.err);
        let found = if exit == 0 { ran.exit != 2 } else { ran.exit == exit };
        assert!(found && said.contains(says), "{from}: {} {said}", ran.exit);
    }
}

#[test]
fn a_thing_without_heights_and_a_bay_without_a_ceiling_are_doubted() {
    let drain =
        "fixtures: [(name: \"drain\", shape: Round(at: (900, 900), diameter: 200), surface: [Metal, Drain]),
        (name: \"pole\", shape: Round(at: (500, 900), diameter: 100)),";
    let ran =
        with_change("bay.ron", "fixtures: [", drain, &[("ceiling: 4200,", "")], &["validate", "bay.ron"]);
    assert_eq!(ran.exit, 0, "{}", ran.out);
    for says in [
        "warning: bay.ron:4:23: \"drain\" has no `z`, so it stands on the floor without end; what lies flush has z: (0, 0)",
        "warning: bay.ron:5:16: \"pole\" has no `z`, so it stands on the floor without end; give its lower and upper edge",
        "warning: bay.ron:2:11: the bay gives no `ceiling`",
    ] {
        assert!(ran.out.contains(says), "{says}\n{}", ran.out);
    }
    assert_eq!(ran.out.lines().count(), 3, "{}", ran.out);
    let sound = with_change("bay.ron", "", "", &[], &["validate", "bay.ron"]);
    assert_eq!(sound.out, "bay.ron: nothing wrong\n");
}

/// Left and right are the vehicle's own.
#[test]
fn what_says_left_and_lies_to_the_right_is_doubted() {
    for (from, to, says) in [
        ("\"E\"", "\"left point\"", None),
        (
            "\"E\"",
            "\"right point\"",
            Some("the mark \"right point\" says right, but lies to the left of the vehicle"),
        ),
        ("(name: \"board\"", "(name: \"board, right\"", Some("the station \"board, right\" says right")),
        ("\"Ahead\"", "\"Right side\"", Some("the setup \"Right side\" says right")),
        ("\"Ahead\"", "\"Left and right\"", None),
    ] {
        let used = format!("at: {to}");
        let again: &[(&str, &str)] = if from == "\"E\"" { &[("at: \"E\"", used.as_str())] } else { &[] };
        for file in ["procedure.ron", "job.ron"] {
            let ran = with_change("procedure.ron", from, to, again, &["validate", file]);
            assert_eq!(ran.exit, 0, "{to}: {}", ran.out);
            match says {
                Some(says) => assert!(
                    ran.out.contains("warning: procedure.ron:") && ran.out.contains(says),
                    "{}",
                    ran.out
                ),
                None => assert!(!ran.out.contains(" says "), "{}", ran.out),
            }
        }
    }
}

#[test]
fn after_fifty_faults_it_says_that_there_may_be_more() {
    for (file, line, text) in [
        ("bay.ron", "(name: \"f\", shape: Round(at: (x, 5), diameter: 5)),", "fixtures"),
        ("vehicle.ron", "\"p\": (1, 2),", "points"),
        ("procedure.ron", "(\"M\", Under(Whel(FrontLeft))),", "marks"),
    ] {
        let (open, close) = if file == "vehicle.ron" { ("{", "}") } else { ("[", "]") };
        let many = format!("(name: \"B\", {text}: {open}{}{close})", format!("\n{line}").repeat(5000));
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join(file), many).expect("written");
        let ran = run(folder.path(), &["validate", file]);
        assert_eq!(ran.exit, 2);
        let lines: Vec<&str> = ran.out.lines().collect();
        assert_eq!(lines.len(), 51, "{file}: {}", ran.out);
        assert!(
            lines[50].ends_with("50 faults are told, there may be more; mend these and look again"),
            "{}",
            lines[50]
        );
    }
}

/// A large file full of faults of any kind is answered soon.
#[test]
fn a_large_bad_file_keeps_nobody_waiting() {
    let rows = |row: &str| row.repeat((5 << 20) / row.len());
    let head = "(name: \"B\", floor: [(0, 0), (9000, 0), (0, 9000)], ";
    for (case, text) in [
        ("numbers", format!("{head} heights: [{}])", rows("(1, x, 2),\n"))),
        ("one number", format!("{head} heights: [{}(x, 1, 2)])", rows("(1, 2, 3),\n"))),
        ("things", format!("{head} fixtures: [{}])", rows("(nme: \"a\", shape: Rund(at: (1, 2)), z: 5),\n"))),
        ("fields", format!("{head} {})", rows("celing: 4000,\n"))),
        ("brackets", rows("([{")),
        ("closed brackets", format!("{}{}", "(".repeat(2 << 20), ")".repeat(2 << 20))),
        ("comments", format!("{}{}", rows("/*"), "*/")),
        (
            "marks",
            format!("(name: \"P\", setups: [], marks: [{}])", rows("(\"M\", Midway(\"A\", \"B\")),\n")),
        ),
        ("one word", "a".repeat(5 << 20)),
    ] {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("bad.ron"), text).expect("written");
        let began = Instant::now();
        let ran = run(folder.path(), &["validate", "bad.ron"]);
        let took = began.elapsed();
        assert_eq!(ran.exit, 2, "{case}");
        assert!(ran.out.lines().count() <= 51, "{case}: {} lines", ran.out.lines().count());
        assert!(took < LONGEST, "{case} took {took:?}");
    }
}

/// One second; a program that is not optimised is given more.
const LONGEST: Duration = Duration::from_millis(if cfg!(debug_assertions) { 8000 } else { 1000 });
