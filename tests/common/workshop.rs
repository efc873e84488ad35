//! A workshop in which every rule is content, and the one change that makes each of them speak up.

use std::path::Path;
use std::sync::Arc;

use baywright::checks::RuleId;
use baywright::files::{FileKind, read_text};
use baywright::model::Bundle;

/// The workshop in which every rule is content, file by file: job, bay, vehicle, equipment, procedure.
const JOB: usize = 0;
const BAY: usize = 1;
const VEHICLE: usize = 2;
const EQUIPMENT: usize = 3;
const PROCEDURE: usize = 4;
const CONTENT: [&str; 5] = [
    r#"(
    name: "Job", bay: "b", vehicle: "v", equipment: "e", procedures: [(file: "p")],
    pose: At(x: 5000, y: 6000, heading: 0), measured: {"lamp height": 702},
)"#,
    r#"(
    name: "Bay", floor: [(0, 0), (10000, 0), (10000, 14000), (0, 14000)], ceiling: 4200,
    walls: [(side: 2, name: "north wall")],
    doorways: [(name: "door", side: 0, from: 3000, width: 4000, height: 3000)],
    fixtures: [
        (name: "bench", shape: Box(at: (8000, 5000), size: (800, 2000)), z: (0, 900), surface: [Metal]),
        (name: "lamp", shape: Box(at: (5000, 9000), size: (1500, 150)), z: (3500, 3550), surface: [Light], overhead: true),
    ],
    lifts: [(name: "lift", heights: [0], runways: [Box(at: (4210, 4650), size: (500, 4000)), Box(at: (5790, 4650), size: (500, 4000))])],
    keep_clear: [(name: "panel", shape: Box(at: (400, 13500), size: (800, 1000)), z: (0, 1981))],
)"#,
    r#"(
    name: "Car", length: 4600, width: 1850, height: 1600, wheelbase: 2700, front_overhang: 900,
    track: (front: 1580, rear: 1580), tyre: (width: 225, diameter: 680), ground_clearance: 170,
    mirrors: (width: 2080, behind_front_axle: 600, depth: 200, z: (950, 1150)),
    sensors: {"front radar": (kind: Radar, at: (850, 0, 500), view: (across: 20, up: 10))},
)"#,
    r#"(
    name: "Set",
    targets: {"board": (kind: Board, face: (width: 600, height: 800, thickness: 40),
        stand: Box(at: (-150, 0), size: (600, 700)), stand_height: 300, room_behind: 600, owned: 2)},
)"#,
    r#"(
    name: "Radar", measured: {"lamp height": (ask: "lamp centre above the floor", unit: Mm, between: (559, 1372))},
    setups: [(
        name: "Ahead",
        marks: [
            ("X", Along(line: Centre, from: "FA", by: 4000)),
            ("L", Off(line: Centre, from: "X", by: 1200)),
        ],
        stations: [
            (name: "one", target: "board", at: "X", looks: Backward, height: Floor(300)),
            (name: "two", target: "board", at: "L", looks: Backward, height: Floor(300)),
        ],
        zones: [(name: "field", shape: Strip(line: Centre, from: "nose", along: (0, 3000), left: (-1500, 1500)), z: (0, 3000), free_of: [Metal, Anything])],
    )],
)"#,
];

/// What must be changed in the content workshop so that a rule speaks up: file, text that stands there, text instead.
pub(crate) type Change = (usize, &'static str, &'static str);

/// One row for each rule.
pub(crate) const FIRES: &[(RuleId, Change)] = &[
    (RuleId::VehicleClear, (BAY, "(8000, 5000)", "(6900, 5000)")),
    (
        RuleId::MirrorClear,
        (
            BAY,
            "(8000, 5000), size: (800, 2000)), z: (0, 900)",
            "(6480, 5300), size: (800, 2000)), z: (0, 1000)",
        ),
    ),
    (RuleId::TargetClear, (BAY, "(8000, 5000), size: (800, 2000)", "(5800, 10000), size: (800, 2000)")),
    (RuleId::RoomBehind, (BAY, "(8000, 5000), size: (800, 2000)", "(5000, 12000), size: (800, 2000)")),
    (RuleId::TargetsApart, (PROCEDURE, "by: 1200", "by: 600")),
    (RuleId::ClearZone, (BAY, "(8000, 5000), size: (800, 2000)", "(6800, 8000), size: (800, 2000)")),
    (RuleId::KeepClear, (BAY, "(400, 13500), size: (800, 1000)", "(5000, 10000), size: (800, 1000)")),
    (RuleId::Headroom, (BAY, "ceiling: 4200", "ceiling: 1749")),
    (RuleId::Doorway, (BAY, "width: 4000", "width: 2079")),
    (RuleId::SightLine, (PROCEDURE, "zones:", r#"sights: [(from: "rear camera", to: "one")], zones:"#)),
    (RuleId::InView, (PROCEDURE, "zones:", r#"sights: [(from: "rear camera", to: "one")], zones:"#)),
    (RuleId::Level, (PROCEDURE, "zones:", "level: (within: 5, over: Stations), zones:")),
    (
        RuleId::FloorLine,
        (PROCEDURE, "zones:", r#"lines: [(line: Centre, from: "FA", reach: 90000)], zones:"#),
    ),
    (RuleId::DriveIn, (JOB, "heading: 0)", "heading: 0), drive_in: true")),
    (
        RuleId::OnLift,
        (
            JOB,
            "At(x: 5000, y: 6000, heading: 0)",
            r#"At(x: 5400, y: 6000, heading: 0), support: Lift(name: "lift", height: 0)"#,
        ),
    ),
    (RuleId::CheckLength, (PROCEDURE, "zones:", r#"checks: [Length("X", "L", 1201.5)], zones:"#)),
    (
        RuleId::FixedPlace,
        (PROCEDURE, r#"at: "X", looks: Backward"#, r#"at: "X", looks: Backward, fixed_to: Wall"#),
    ),
    (RuleId::Measured, (JOB, "702", "558")),
    (RuleId::Equipment, (EQUIPMENT, "owned: 2", "owned: 1")),
    (RuleId::Readiness, (PROCEDURE, "setups:", r#"vehicle_state: ["nobody inside"], setups:"#)),
];

/// Rules that are only asked for by something the content workshop leaves out.
pub(crate) const ON_DEMAND: &[RuleId] = &[
    RuleId::SightLine,
    RuleId::InView,
    RuleId::Level,
    RuleId::FloorLine,
    RuleId::DriveIn,
    RuleId::OnLift,
    RuleId::CheckLength,
    RuleId::FixedPlace,
    RuleId::Readiness,
];

/// The texts of the workshop's files, as they are or after a change.
pub(crate) fn texts(change: Option<Change>) -> Vec<String> {
    let text = |file: usize| match change {
        Some((changed, from, to)) if changed == file => {
            assert!(CONTENT[file].contains(from), "{from:?} does not stand there");
            CONTENT[file].replacen(from, to, 1)
        }
        _ => CONTENT[file].to_string(),
    };
    (0..CONTENT.len()).map(text).collect()
}

/// The workshop, as it is or after a change.
pub(crate) fn workshop(change: Option<Change>) -> Bundle {
    let texts = texts(change);
    let text = |file: usize| &texts[file];
    fn read<T: FileKind>(text: &str) -> Arc<T> {
        Arc::new(
            read_text(text, Path::new("rules.ron")).unwrap_or_else(|faults| panic!("{faults:?}\n{text}")),
        )
    }
    Bundle {
        job: read(text(JOB)),
        bay: read(text(BAY)),
        vehicle: read(text(VEHICLE)),
        equipment: read(text(EQUIPMENT)),
        procedures: vec![read(text(PROCEDURE))],
    }
}
