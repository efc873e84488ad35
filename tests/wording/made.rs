//! Jobs made for what those of the demonstration do not say.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use baywright::files::{FileKind, open_held, read_text};
use baywright::model::{Bundle, Job};

/// A job, the texts of its files, and whether places to stand are looked for in it.
pub(crate) struct Made {
    pub name: String,
    pub bundle: Bundle,
    pub files: Vec<String>,
    pub searched: bool,
}

/// Every procedure of the cases on the reference car, in the middle of a hall and in its corner; and [`ODD`].
pub(crate) fn jobs() -> Vec<Made> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let mut made = Vec::new();
    for (folder, bay, beside) in [
        ("cases/procedures", "../empty-hall.ron", "."),
        ("language/procedures", "../hall.ron", "../../cases/procedures"),
    ] {
        for file in procedures(&root.join(folder)) {
            for (at, more) in [
                ("x: 30000, y: 30000, heading: 0", ""),
                ("x: 700, y: 57000, heading: 3", "rear_toe: (left: 0.2, right: -0.1)"),
            ] {
                let text = format!(
                    r#"(name: "Made", bay: {bay:?}, vehicle: "{beside}/../reference-car.ron",
                        equipment: "{beside}/equipment.ron", procedures: [(file: {file:?})], pose: At({at}), {more})"#
                );
                let path = root.join(folder).join("made.ron");
                let job: Job = read_text(&text, &path).unwrap_or_else(|f| panic!("{f:?}"));
                let opened = open_held(&job, &path).unwrap_or_else(|f| panic!("{f:?}"));
                let files = opened.sources.texts().values().map(|s| s.text.to_string()).collect();
                made.push(Made {
                    name: format!("{file} at {at}"),
                    bundle: opened.bundle,
                    files,
                    searched: false,
                });
            }
        }
    }
    made.extend(ODD.iter().enumerate().map(|(i, texts)| odd(i, texts)));
    made
}

fn procedures(folder: &Path) -> Vec<String> {
    let files = std::fs::read_dir(folder).unwrap().map(|e| PathBuf::from(e.unwrap().file_name()));
    let mut files: Vec<String> = files.map(|f| f.to_string_lossy().into_owned()).collect();
    files.retain(|f| f.ends_with(".ron") && f != "equipment.ron");
    files.sort();
    files
}

fn odd(i: usize, fields: &Odd) -> Made {
    let bay = format!(
        r#"(name: "Bay", floor: [(0, 0), (10000, 0), (10000, 14000), (0, 14000)], walls: [(side: 2, name: "north wall")], {})"#,
        fields.bay
    );
    let vehicle = format!(
        r#"(name: "Car", length: 4600, width: 1850, height: 1600, wheelbase: 2700, front_overhang: 900,
            track: (front: 1580, rear: 1580), tyre: (width: 225, diameter: 680), ground_clearance: 170,
            sensors: {{"front radar": (kind: Radar, at: (850, 300, 500))}}, {})"#,
        fields.vehicle
    );
    let equipment = format!(
        r#"(name: "Set", targets: {{"board": (kind: Board, face: (width: 600, height: 800, thickness: 40)), {}}})"#,
        fields.equipment
    );
    let procedure = format!(r#"(name: "P", {})"#, fields.procedure);
    let listed = if fields.procedure.is_empty() {
        String::new()
    } else {
        format!(r#"(file: "p", {})"#, fields.chosen)
    };
    let job = format!(
        r#"(name: "Job", bay: "b", vehicle: "v", equipment: "e", procedures: [{listed}], {})"#,
        fields.job
    );
    let bundle = Bundle {
        job: read(&job),
        bay: read(&bay),
        vehicle: read(&vehicle),
        equipment: read(&equipment),
        procedures: if fields.procedure.is_empty() { Vec::new() } else { vec![read(&procedure)] },
    };
    let files = vec![job, bay, vehicle, equipment, procedure];
    Made { name: format!("odd job {i}"), bundle, files, searched: i + 2 >= ODD.len() }
}

fn read<T: FileKind>(text: &str) -> Arc<T> {
    Arc::new(read_text(text, Path::new("made.ron")).unwrap_or_else(|faults| panic!("{faults:?}\n{text}")))
}

/// Fields beside the usual ones; without fields the procedure is left out.
struct Odd {
    bay: &'static str,
    vehicle: &'static str,
    equipment: &'static str,
    procedure: &'static str,
    chosen: &'static str,
    job: &'static str,
}

const NONE: Odd = Odd { bay: "", vehicle: "", equipment: "", procedure: "", chosen: "", job: HERE };
const HERE: &str = "pose: At(x: 5000, y: 6000, heading: 0)";
const AHEAD: &str = r#"setups: [(name: "Ahead", marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "one", target: "board", at: "X", looks: Backward, height: Floor(300))])]"#;

/// Small jobs, each for a few phrases.
const ODD: [Odd; 16] = [
    NONE,
    Odd {
        vehicle: r#"without: ["night camera"]"#,
        procedure: r#"setups: [(name: "S", sights: [(from: "night camera", to: "FA")])]"#,
        ..NONE
    },
    // lines to set and to draw, and lengths that agree or do not
    Odd {
        equipment: r#""sheet": (kind: Screen, face: (width: 500, height: 900, thickness: 2), owned: 1, serves: ["paper"])"#,
        procedure: r#"needs: {"paper": (kind: Board, width: AtLeast(600), height: AtMost(900), thickness: Exactly(3), count: 2)},
            values: {"low": Missing("cut"), "far": Missing("cut")}, printed: {"low": "2 m"}, valid: (from: "2019", until: "2021"),
            readings: ["the date"], vehicle_state_in: {"north": ["warm"]},
            setups: [(name: "Lines", in_turn: true,
            marks: [("X", Along(line: Centre, from: "FA", by: 3000)), ("Y", Off(line: Centre, from: "X", by: 1000)), ("Z", Off(line: Centre, from: "X", by: -1000)), ("W", Along(line: Centre, from: "FA", by: "far"))],
            stations: [
                (name: "one", target: "paper", at: "X", looks: Backward, height: Floor(300), path: ["Y"],
                 tolerance: (along: 6, across: 8, turn: 0.5, roll: 0.25, tilt: 0.75, up: 2),
                 on_face: [Upright("X"), Upright("Y"), Upright("Z"), Level(Axle(Front), 4), Level(Nose, 4), At(900), At("low")]),
                (name: "two", target: "board", at: "Y", looks: Backward, height: Floor("low")),
            ],
            checks: [Length("X", "Y", 1000), Length("X", "Z", 900), Same(("X", "Y"), ("X", "Z")), Same(("X", "Y"), ("Y", "Z")), Right("FA", "X", "Y"), Right("X", "FA", "Y")],
            draw: [(from: "X", to: "Y"), (from: "X", to: "Z", width: 51), (from: "X", to: "W")],
            readings: ["the tape"],
        )]"#,
        ..NONE
    },
    // targets the bay holds
    Odd {
        bay: r#"installed: [(name: "rail", target: "board", at: (5000, 12000), turn: 180)], floor_lines: [(name: "yellow", points: [(100, 9000), (9900, 9000)])]"#,
        procedure: r#"setups: [(name: "Held", marks: [("X", Along(line: Centre, from: "FA", by: 3000)), ("V", Along(line: Centre, from: "FA", by: 8000))],
            stations: [(name: "one", target: "board", at: "X", looks: Backward, height: Floor(300), fixed_to: Bay("rail")),
                       (name: "two", target: "board", at: "V", looks: Backward, height: Floor(300), fixed_to: Wall),
                       (name: "askew", target: "board", at: "X", looks: Forward, height: Floor(300), fixed_to: Wall)],
            stand_on: (mark: "X", floor_line: "yellow", within: 15)),
            (name: "On", marks: [("P", Along(line: Centre, from: "FA", by: 2500))], stations: [(name: "one", target: "board", at: "P", looks: Backward, height: Floor(300), fixed_to: Earlier("Held"))])]"#,
        job: "pose: At(x: 5200, y: 6000, heading: 2)",
        ..NONE
    },
    // ways, variants, and what is left out
    Odd {
        procedure: r#"variants: {"rails": {}, "sport": {}}, values: {"far": Missing("cut")},
            ways: {"wide": ["Wide"], "rails": ["Rails"], "bare": ["Bare"], "open": ["Open"], "near": ["Near"]},
            setups: [
                (name: "Wide", marks: [("X", Along(line: Centre, from: "FA", by: 9000))], stations: [(name: "one", target: "board", at: "X", looks: Backward, height: Floor(300))]),
                (name: "Rails", only: ["rails", "sport"]),
                (name: "Bare"),
                (name: "Open", marks: [("X", Along(line: Centre, from: "FA", by: "far"))], stations: [(name: "one", target: "board", at: "X", looks: Backward, height: Floor(300))]),
                (name: "Near", marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "one", target: "board", at: "X", looks: Backward, height: Floor(300))]),
                (name: "Right", only_if: SensorOn("front radar", Right)),
                (name: "Middle", only_if: SensorOn("front radar", Middle)),
            ]"#,
        ..NONE
    },
    // on a lift with posts, too low a ceiling
    Odd {
        bay: r#"ceiling: 1700, lifts: [(name: "two-post", posts: [Box(at: (3400, 5200), size: (350, 350)), Box(at: (6600, 5200), size: (350, 350))], post_height: 3600, heights: [0, 400], tolerance: 20)],
            doorways: [(name: "door", side: 0, from: 3000, width: 1700, height: 3000)]"#,
        procedure: AHEAD,
        vehicle: "turning_circle: 11200",
        job: r#"pose: At(x: 5100, y: 9000, heading: 0), support: Lift(name: "two-post", height: 400), accepted: [(rule: "vehicle-clear", items: ["vehicle", "bench"])]"#,
        ..NONE
    },
    Odd {
        bay: r#"doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 1500)], place: (48, 11)"#,
        procedure: AHEAD,
        vehicle: "turning_circle: 11200",
        job: r#"pose: At(x: 5000, y: 6000, heading: 0), drive_in: true, when: "2026-12-21 11:20 +00:00""#,
        ..NONE
    },
    Odd {
        bay: r#"doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 2500)], place: (48, 11), bearing: 180,
            fixtures: [(name: "wide bench", shape: Box(at: (5000, 3000), size: (9900, 300)), z: (0, 900)), (name: "trolley", shape: Box(at: (8000, 8000), size: (300, 300)), movable: true)]"#,
        procedure: AHEAD,
        vehicle: "turning_circle: 11200",
        job: r#"pose: At(x: 5000, y: 7000, heading: 0), when: "2026-12-21 23:20 +01:00""#,
        ..NONE
    },
    Odd {
        bay: r#"doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 2500)]"#,
        procedure: AHEAD,
        job: "pose: At(x: 5000, y: 7000, heading: 0), drive_in: true",
        ..NONE
    },
    // a figure that picks, and one that is not there
    Odd {
        procedure: r#"variants: {"low": {}, "high": {}}, measured: {"arch": (ask: "arch", unit: Mm), "load": (ask: "load", unit: Kg), "lamp": (ask: "lamp", unit: Mm, between: (500, 600))},
            pick: (by: "arch", from: [(600, 666, "low"), (666, 700, "high")]),
            setups: [(name: "Ahead", marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "one", target: "board", at: "X", looks: Backward, height: Floor(300))], only: ["low"])]"#,
        job: r#"pose: At(x: 5000, y: 6000, heading: 0), measured: {"arch": 650, "load": 12, "lamp": 700}"#,
        ..NONE
    },
    Odd {
        procedure: r#"variants: {"low": {}, "high": {}}, measured: {"arch": (ask: "arch", unit: Mm)},
            pick: (by: "arch", from: [(600, 666, "low"), (666, 700, "high")]),
            setups: [(name: "Ahead", marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "one", target: "board", at: "X", looks: Backward, height: Floor(300))], only: ["low"])]"#,
        chosen: r#"variant: "high""#,
        job: r#"pose: At(x: 5000, y: 6000, heading: 0), measured: {"arch": 650}"#,
        ..NONE
    },
    // floors
    Odd {
        bay: "heights: [(2000, 2000, 0), (8000, 2000, 3), (5000, 13000, -9), (2000, 12000, 4)], reading_error: 1",
        procedure: r#"setups: [(name: "Ahead", level: (over: Stations), marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "one", target: "board", at: "X", looks: Backward, height: Floor(300), of: Upper)])]"#,
        ..NONE
    },
    Odd {
        bay: r#"heights: [(2000, 2000, 0), (8000, 2000, 3), (5000, 3000, -9)], lifts: [(name: "ramp", heights: [400], runways: [Box(at: (4210, 4650), size: (500, 4000)), Box(at: (5790, 4650), size: (500, 4000))])]"#,
        procedure: r#"setups: [(name: "Ahead", level: (over: Stations), marks: [("X", Along(line: Centre, from: "FA", by: 3000))], stations: [(name: "one", target: "board", at: "X", looks: Backward, height: Floor(300))])]"#,
        job: r#"pose: At(x: 5900, y: 6000, heading: 0), support: Lift(name: "ramp", height: 400)"#,
        ..NONE
    },
    // sights
    Odd {
        bay: r#"fixtures: [(name: "rack", shape: Box(at: (5000, 7800), size: (300, 300)), z: (0, 2000)), (name: "stool", shape: Box(at: (5000, 8300), size: (300, 300)), z: (0, 2000))]"#,
        procedure: r#"setups: [(name: "Ahead", marks: [("X", Along(line: Centre, from: "FA", by: 3000)), ("Y", Off(line: Centre, from: "FA", by: 3000))],
            stations: [(name: "one", target: "board", at: "X", looks: Forward, height: Floor(300)), (name: "side", target: "board", at: "Y", looks: Backward, height: Floor(300))],
            zones: [(name: "seen", shape: Strip(line: Centre, from: "nose", along: (0, 1000), left: (-500, 500)), seen: true), (name: "field", shape: Strip(line: Centre, from: "nose", along: (0, 900), left: (-500, 500)), seen: true)],
            sights: [(from: "front radar", to: "one"), (from: "front radar", to: "side"), (from: "front radar", to: "seen")])]"#,
        ..NONE
    },
    // nowhere to stand, and what would help
    Odd {
        bay: r#"rules: (walk_around: 4500), fixtures: [(name: "trolley", shape: Box(at: (8000, 8000), size: (300, 300)), movable: true)], doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 2500)]"#,
        procedure: AHEAD,
        job: "pose: At(x: 5000, y: 6000, heading: 30)",
        ..NONE
    },
    Odd {
        bay: r#"fixtures: [(name: "post", shape: Box(at: (5000, 9000), size: (400, 400)), z: (0, 2000))]"#,
        procedure: AHEAD,
        vehicle: "mirrors: (width: 2080, behind_front_axle: 600, depth: 200, z: (950, 1150))",
        job: "pose: At(x: 900, y: 6000, heading: 45)",
        ..NONE
    },
];
