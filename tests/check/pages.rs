//! Pages of text: their width, the names of figures, the floor and its limit.

use super::program::{run, run_as_wide, tests};

/// Every page a person reads keeps to the terminal's width; where it goes elsewhere its lines stay whole.
#[test]
fn pages_keep_to_the_width_they_are_read_at() {
    let job = "crossover-alignment-lift.ron";
    for args in [
        &["check", job][..],
        &["check", job, "--feet"],
        &["site", "hatchback-short-lane.ron"],
        &["explain"],
        &["explain", "clear-zone"],
        &["validate", "../../tests/check/text.rs", job],
    ] {
        let folder = tests("../demo/jobs");
        let whole = run(&folder, args).out;
        let long = whole.lines().any(|l| l.chars().count() > 80);
        assert!(long || args == ["explain"], "{args:?} has long lines");
        for columns in [60, 80, 100] {
            let page = run_as_wide(&folder, args, Some(columns)).out;
            let long = page.lines().find(|l| l.chars().count() > columns);
            assert_eq!(long, None, "{args:?} in {columns} columns");
            let words = |t: &str| t.split_whitespace().map(String::from).collect::<Vec<_>>();
            assert_eq!(words(&page), words(&whole), "{args:?}: nothing is lost");
        }
    }
    let folder = tests("../demo/jobs");
    let json = |columns| run_as_wide(&folder, &["check", job, "--json"], columns).out;
    assert_eq!(json(Some(60)), json(None), "JSON is for no terminal");
    let explained = run_as_wide(&folder, &["explain", "headroom"], Some(60)).out;
    let inside = explained.lines().filter(|l| l.starts_with(' '));
    assert!(inside.clone().count() > 10 && inside.into_iter().all(|l| l.starts_with("  ")), "{explained}");
}

/// The page names a missing figure in words; `missing` of the JSON keeps the name the files know it by.
#[test]
fn missing_figures_in_words() {
    let folder = tests("../demo/jobs");
    let page = run(&folder, &["check", "crossover-thrust-line.ron"]).out;
    assert!(page.contains("\nMISSING\n  - Rear toe\n"), "{page}");
    assert!(page.contains("cannot be judged: rear toe is not known"), "{page}");
    assert!(page.contains("Find out: rear toe") && !page.contains("rear_toe"), "{page}");
    let json = run(&folder, &["check", "crossover-thrust-line.ron", "--json"]).out;
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["missing"], serde_json::json!(["rear_toe"]));
}

/// A board whose middle is set to 900 above the wheels' plane over a floor of four spots, one of them 8 low. The wheels stand on
/// 0; 2500 ahead of the front axle the board stands in the middle of the four: by the diagonal taken the floor there is
/// 0, by the other one -4. Its face is 800 high: set by its middle, the lower edge is 500 up.
#[test]
fn the_floor_says_which_edge_and_what_rests_on_a_diagonal() {
    let folder = tempfile::tempdir().expect("a folder");
    let files = [
        (
            "bay.ron",
            r#"(name: "Bay", ceiling: 4000, floor: [(0, 0), (6000, 0), (6000, 12000), (0, 12000)],
            heights: [(0, 0, 0), (6000, 0, 0), (0, 7000, 0), (6000, 7000, 0), (0, 11000, -8), (6000, 11000, 0)])"#,
        ),
        (
            "car.ron",
            r#"(name: "Car", length: 4500, width: 1800, height: 1500, wheelbase: 2600, front_overhang: 900,
            track: (front: 1500, rear: 1500), tyre: (width: 200, diameter: 620), ground_clearance: 150)"#,
        ),
        (
            "shop.ron",
            r#"(name: "Shop", targets: {"plate": (kind: Board, owned: 1,
            face: (width: 600, height: 800, thickness: 40))})"#,
        ),
        (
            "job.ron",
            r#"(name: "Job", bay: "bay.ron", vehicle: "car.ron", equipment: "shop.ron",
            procedures: [(file: "ahead.ron")], pose: At(x: 3000, y: 6500, heading: 0))"#,
        ),
    ];
    for (name, text) in files {
        std::fs::write(folder.path().join(name), text).expect("a file");
    }
    for (of, wanted) in [
        ("Lower", "Set the lower edge of plate (Ahead) 900.0 mm above its own floor, which"),
        (
            "Middle",
            "Set the middle of plate (Ahead) 900.0 mm above its own floor (its lower edge 500.0 mm), which",
        ),
        (
            "Upper",
            "Set the upper edge of plate (Ahead) 900.0 mm above its own floor (its lower edge 100.0 mm), which",
        ),
    ] {
        let ahead = format!(
            r#"(name: "Plate ahead", setups: [(name: "Ahead", marks: [("X", Along(line: Centre, from: "front axle", by: 2500))],
                stations: [(name: "plate", target: "plate", at: "X", looks: Backward, height: Floor(900), of: {of})])])"#
        );
        std::fs::write(folder.path().join("ahead.ron"), ahead).expect("a file");
        let page = run(folder.path(), &["check", "job.ron"]);
        assert!(page.out.contains(wanted), "{of}: {}{}", page.out, page.err);
        let other = "joined by their other diagonal the spots put it 4.0 mm lower";
        assert!(page.out.contains(other), "{of}: {}", page.out);
        let json = run(folder.path(), &["check", "job.ron", "--json"]).out;
        let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
        let station = &json["stations"][0];
        assert_eq!(station["set_edge"], of.to_lowercase());
        assert_eq!(
            (station["set_edge_mm"].as_f64(), station["other_diagonal_mm"].as_f64()),
            (Some(900.0), Some(-4.0))
        );
        let lower = json["stations"][0]["set_height_mm"].as_f64().expect("a height");
        let up = match of {
            "Lower" => 0.0,
            "Middle" => 400.0,
            _ => 800.0,
        };
        assert_eq!(lower, 900.0 - up);
    }
}

/// What is left of a floor's limit is told as that, beside the room there is.
#[test]
fn a_limit_is_no_room() {
    let folder = tests("../demo/jobs");
    let page = run(&folder, &["check", "crossover-alignment-lift.ron"]).out;
    let first = page.lines().next().expect("a line");
    assert!(first.contains("MM TO SPARE, THE FLOOR WITHIN ITS LIMIT BY 1.3 MM"), "{first}");
}
