//! Bad input: exit 2, clear sentences with file, line and column, never a panic.

use std::path::Path;

use super::program::{Ran, run, tests};

/// A workshop of five files, written out with one change.
const FILES: [(&str, &str); 5] = [
    (
        "job.ron",
        r#"(
    name: "Job", bay: "bay.ron", vehicle: "vehicle.ron", equipment: "equipment.ron",
    procedures: [(file: "procedure.ron")],
    pose: At(x: 2750, y: 5400, heading: 0),
)"#,
    ),
    (
        "bay.ron",
        r#"(
    name: "Bay", floor: [(0, 0), (5500, 0), (5500, 12000), (0, 12000)], ceiling: 4200,
    doorways: [(name: "door", side: 0, from: 900, width: 3600, height: 3000)],
    fixtures: [
        (name: "cabinet", shape: Box(at: (5200, 11000), size: (500, 900)), z: (0, 1100), movable: true),
    ],
)"#,
    ),
    (
        "vehicle.ron",
        r#"(
    name: "Car", length: 4620, width: 1855, height: 1690, wheelbase: 2690, front_overhang: 930,
    track: (front: 1585, rear: 1590), tyre: (width: 225, diameter: 690), ground_clearance: 180,
)"#,
    ),
    (
        "equipment.ron",
        r#"(
    name: "Set",
    targets: {"board": (kind: Board, face: (width: 600, height: 800, thickness: 40), owned: 1)},
)"#,
    ),
    (
        "procedure.ron",
        r#"(
    name: "Radar", system: ForwardRadar,
    setups: [(
        name: "Ahead",
        marks: [
            ("A", Under(Wheel(FrontLeft))),
            ("C", Under(Wheel(FrontRight))),
            ("E", Along(line: WheelSide(Left), from: "A", by: 2000)),
        ],
        stations: [(name: "board", target: "board", at: "E", looks: Backward, height: Floor(300))],
    )],
)"#,
    ),
];

/// Runs a command on the workshop with one text of one file changed.
fn with_change(file: &str, from: &str, to: &str, args: &[&str]) -> Ran {
    run(changed(&[(file, from, to)]).path(), args)
}

/// The workshop written out with changes: file, text that stands there, text instead.
pub(crate) fn changed(changes: &[(&str, &str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in FILES {
        let mut text = text.to_string();
        for (_, from, to) in changes.iter().filter(|c| c.0 == name) {
            assert!(text.contains(from), "{from:?} does not stand in {name}");
            text = text.replacen(from, to, 1);
        }
        std::fs::write(folder.path().join(name), text).expect("written");
    }
    folder
}

#[test]
fn the_workshop_itself_is_sound() {
    let ran = with_change("job.ron", "", "", &["check", "job.ron"]);
    assert_eq!((ran.exit, ran.err.as_str()), (0, ""), "{}", ran.out);
    let ran = with_change(
        "job.ron",
        "",
        "",
        &["validate", "job.ron", "bay.ron", "vehicle.ron", "equipment.ron", "procedure.ron"],
    );
    assert_eq!(ran.exit, 0, "{}{}", ran.out, ran.err);
}

/// What is changed, where the fault is told, and what the sentence names.
#[test]
fn faults_are_told_with_their_place() {
    let mut wrong = Vec::new();
    for (case, file, from, to, place, says) in [
        ("a field misspelt", "bay.ron", "ceiling", "cieling", "bay.ron:2:", &["cieling", "ceiling"][..]),
        (
            "a field of nothing",
            "vehicle.ron",
            "width: 1855",
            "colour: 3, width: 1855",
            "vehicle.ron:2:",
            &["colour", "width"],
        ),
        ("a field missing", "vehicle.ron", "wheelbase: 2690, ", "", "vehicle.ron:1:1", &["wheelbase"]),
        (
            "a word for a number",
            "vehicle.ron",
            "length: 4620",
            "length: long",
            "vehicle.ron:2:",
            &["number", "long"],
        ),
        ("not a number", "vehicle.ron", "length: 4620", "length: NaN", "vehicle.ron:2:", &["NaN"]),
        ("an infinite length", "bay.ron", "ceiling: 4200", "ceiling: inf", "bay.ron:2:", &["inf"]),
        ("a length below zero", "vehicle.ron", "width: 1855", "width: -1855", "vehicle.ron:2:", &["-1855"]),
        ("feet in a file", "bay.ron", "ceiling: 4200", "ceiling: 14'", "bay.ron:2:", &["mm"]),
        ("a bracket missing", "job.ron", "heading: 0)", "heading: 0", "job.ron:", &[]),
        (
            "an unknown word",
            "procedure.ron",
            "Under(Wheel(FrontLeft))",
            "Under(Wheel(FrontLef))",
            "procedure.ron:6:",
            &["FrontLef", "FrontLeft"],
        ),
        (
            "an unknown line",
            "procedure.ron",
            "WheelSide(Left)",
            "WheelSid(Left)",
            "procedure.ron:8:",
            &["WheelSid"],
        ),
        ("a later format", "bay.ron", "name: \"Bay\"", "format: 2, name: \"Bay\"", "bay.ron:2:", &["2"]),
        (
            "an outline that crosses itself",
            "bay.ron",
            "(5500, 0), (5500, 12000)",
            "(5500, 12000), (5500, 0)",
            "bay.ron:2:",
            &["cross"],
        ),
        (
            "an outline of two points",
            "bay.ron",
            "[(0, 0), (5500, 0), (5500, 12000), (0, 12000)]",
            "[(0, 0), (5500, 0)]",
            "bay.ron:2:",
            &[],
        ),
        (
            "an overhang below zero",
            "vehicle.ron",
            "wheelbase: 2690",
            "wheelbase: 3900",
            "vehicle.ron:",
            &["overhang"],
        ),
        (
            "two fixtures of one name",
            "bay.ron",
            "fixtures: [",
            "fixtures: [(name: \"cabinet\", shape: Round(at: (500, 500), diameter: 100)),",
            "bay.ron:",
            &["cabinet"],
        ),
        ("a side that is not there", "bay.ron", "side: 0", "side: 7", "bay.ron:3:", &["7"]),
        ("a mark made twice", "procedure.ron", "(\"C\", Under", "(\"A\", Under", "procedure.ron:7:", &["A"]),
        (
            "a mark used before it is made",
            "procedure.ron",
            "from: \"A\"",
            "from: \"F\"",
            "procedure.ron:8:",
            &["F"],
        ),
        (
            "a figure nobody gave",
            "procedure.ron",
            "by: 2000",
            "by: \"distance\"",
            "procedure.ron:8:",
            &["distance"],
        ),
        (
            "a sum that cannot be read",
            "procedure.ron",
            "by: 2000",
            "by: \"2000 * 2\"",
            "procedure.ron:8:",
            &["2000 * 2"],
        ),
        (
            "parallel lines",
            "procedure.ron",
            "Along(line: WheelSide(Left), from: \"A\", by: 2000)",
            "Crossing(Nose, Tail)",
            "procedure.ron:8:",
            &["E", "parallel"],
        ),
        (
            "tapes too short",
            "procedure.ron",
            "Along(line: WheelSide(Left), from: \"A\", by: 2000)",
            "Lengths(a: (\"A\", 500), b: (\"C\", 500), side: Left)",
            "procedure.ron:8:",
            &["E", "1810", "1000"],
        ),
        (
            "one tape too long",
            "procedure.ron",
            "Along(line: WheelSide(Left), from: \"A\", by: 2000)",
            "Lengths(a: (\"A\", 5000), b: (\"C\", 500), side: Left)",
            "procedure.ron:8:",
            &["E", "4500"],
        ),
        (
            "a line through one point",
            "procedure.ron",
            "WheelSide(Left), from: \"A\"",
            "Through(\"A\", \"A\"), from: \"A\"",
            "procedure.ron:8:",
            &["A"],
        ),
        (
            "a target that looks at its own mark",
            "procedure.ron",
            "looks: Backward",
            "looks: At(\"E\")",
            "procedure.ron:10:",
            &["board"],
        ),
        ("a file that is not there", "job.ron", "bay.ron", "bay-9.ron", "job.ron:2:", &["bay-9.ron"]),
        (
            "a file of another kind",
            "job.ron",
            "vehicle: \"vehicle.ron\"",
            "vehicle: \"bay.ron\"",
            "",
            &["vehicle", "bay"],
        ),
        (
            "an unknown door",
            "job.ron",
            "pose:",
            "doors_open: [\"gate\"], pose:",
            "job.ron:4:",
            &["gate", "door"],
        ),
        (
            "an unknown fixture",
            "job.ron",
            "pose:",
            "cleared: [\"cabinets\"], pose:",
            "job.ron:4:",
            &["cabinets", "cabinet"],
        ),
        (
            "an unknown rule",
            "job.ron",
            "pose:",
            "accepted: [(rule: \"vehicle-clean\", items: [\"vehicle\"])], pose:",
            "job.ron:4:",
            &["vehicle-clean", "vehicle-clear"],
        ),
        (
            "an unknown lift",
            "job.ron",
            "pose:",
            "support: Lift(name: \"two-post\", height: 0), pose:",
            "job.ron:4:",
            &["two-post"],
        ),
        (
            "an unknown variant",
            "job.ron",
            "file: \"procedure.ron\"",
            "file: \"procedure.ron\", variant: \"rails\"",
            "job.ron:3:",
            &["rails"],
        ),
        (
            "an unknown measured figure",
            "job.ron",
            "pose:",
            "measured: {\"lamp\": 3}, pose:",
            "job.ron:4:",
            &["lamp"],
        ),
        ("a pose without a heading", "job.ron", ", heading: 0", "", "job.ron:4:", &["heading"]),
    ] {
        let ran = with_change(file, from, to, &["check", "job.ron"]);
        let told = ran.err.lines().any(|l| l.contains(place) && says.iter().all(|word| l.contains(word)));
        let json = with_change(file, from, to, &["check", "job.ron", "--json"]);
        for (broken, why) in [
            (ran.exit != 2, "does not leave with 2"),
            (!ran.out.is_empty(), "prints an answer all the same"),
            (!told, "is not told at its place, or not by name"),
            (ran.err.lines().count() > 2, "is told in a heap of sentences"),
            (ran.err.contains("panicked"), "is a panic"),
            ((json.exit, &json.err) != (ran.exit, &ran.err), "is told otherwise with --json"),
        ] {
            if broken {
                wrong.push(format!("{case} {why} ({place} {says:?}):\n{}", ran.err));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// `validate` tells every fault of a file, not only the first.
#[test]
fn every_fault_of_a_file_is_told() {
    let ran = with_change(
        "vehicle.ron",
        "length: 4620, width: 1855, height: 1690",
        "length: -4620, widht: 1855, height: tall",
        &["validate", "vehicle.ron"],
    );
    assert_eq!(ran.exit, 2);
    for word in ["-4620", "widht", "tall"] {
        assert!(
            ran.out.lines().any(|l| l.starts_with("error: vehicle.ron:2:") && l.contains(word)),
            "{word}\n{}",
            ran.out
        );
    }
}

/// Cut off anywhere, spoilt anywhere, or no text at all: refused or read, never a panic.
#[test]
fn garbage_is_refused_without_a_panic() {
    let folder = tempfile::tempdir().expect("a folder");
    let garbage: [(&str, &[u8]); 9] = [
        ("empty", b""),
        ("blank", b" \n\n\t"),
        ("bytes", &[0xff, 0xfe, 0x00, 0x80, 0xc3, 0x28]),
        ("zeros", &[0; 4096]),
        ("deep", &[b'('; 100_000]),
        ("quotes", &[b'"'; 999]),
        ("comment", b"/* never closed"),
        ("picture", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"),
        ("other", b"{\"name\": \"a JSON file\", \"bay\": 3}"),
    ];
    for (name, bytes) in garbage {
        std::fs::write(folder.path().join("job.ron"), bytes).expect("written");
        for args in [&["check", "job.ron"][..], &["validate", "job.ron"]] {
            sound(&format!("{name} {args:?}"), &run(folder.path(), args));
        }
    }
    sound("a folder", &run(folder.path(), &["check", "."]));
}

#[test]
fn files_cut_off_or_spoilt_are_refused_without_a_panic() {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in FILES {
        std::fs::write(folder.path().join(name), text).expect("written");
    }
    for (name, text) in FILES {
        // every eleventh place, so that the runs stay few
        for at in (1..text.len()).step_by(11) {
            let spoilt = [
                text[..at].to_string(),
                format!("{}\u{7f}{}", &text[..at], &text[at..]),
                format!("{}{}", &text[..at - 1], &text[at..]),
            ];
            for text in spoilt {
                std::fs::write(folder.path().join(name), &text).expect("written");
                let ran = run(folder.path(), &["check", "job.ron", "--json"]);
                assert!(
                    (0..=2).contains(&ran.exit) && !ran.err.contains("panicked"),
                    "{name} at {at}: {}\n{text}",
                    ran.err
                );
                assert_eq!(ran.exit == 2, ran.out.is_empty(), "{name} at {at}: an answer or a refusal");
            }
        }
        std::fs::write(folder.path().join(name), text).expect("written");
    }
}

fn sound(case: &str, ran: &Ran) {
    assert_eq!(ran.exit, 2, "{case}: {}{}", ran.out, ran.err);
    assert!(!ran.err.contains("panicked"), "{case}: {}", ran.err);
    assert!(!format!("{}{}", ran.out, ran.err).trim().is_empty(), "{case}: says why");
}

/// A job that names itself, or a folder, as one of its files.
#[test]
fn files_that_name_each_other() {
    for to in ["job.ron", "."] {
        let ran = with_change("job.ron", "bay.ron", to, &["check", "job.ron"]);
        sound(to, &ran);
    }
    assert!(Path::new(&tests("cases")).is_dir());
}
