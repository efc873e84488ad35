//! One file of each kind with every field the kind has. All invented.

pub(super) const BAY: &str = r#"(
    format: 1,
    name: "Bay 2",
    surveyed: "tape",
    floor: [(0, 0), (5500, 0), (5500, 12000), (0, 12000)],
    ceiling: 4200,
    walls: [(side: 1, name: "east wall", surface: [Metal, Glass]), (side: 2)],
    doorways: [(name: "roller door", side: 0, from: 900, width: 3600, height: 3000, surface: [Metal], leaf: Swing,
        apron: [(900, -4000), (4500, -4000), (4500, 0), (900, 0)])],
    fixtures: [
        (name: "cabinet", shape: Box(at: (5200, 6200), size: (500, 900), turn: 30), z: (0, 1100), surface: [Metal, Shine],
            movable: true, overhead: false, clear_by: "roll it away"),
        (name: "drum", shape: Round(at: (400, 900), diameter: 600)),
        (name: "bench", shape: Outline([(10, 10), (500, 10), (500, 400), (10, 400)])),
    ],
    lifts: [(name: "two-post", posts: [Box(at: (400, 5200), size: (350, 350))], post_height: 3600,
        runways: [Box(at: (1800, 5200), size: (500, 4000))], heights: [0, 400.5], surface: [Metal])],
    keep_clear: [(name: "panel", shape: Box(at: (300, 11500), size: (762, 914)), z: (0, 1981), because: "the rule")],
    heights: [(1, 2, 0.5), (2750, 0, -4.25), (0, 9000, 3)],
    installed: [(name: "mirror rail", target: "radar board", at: (20, 11900), turn: 180)],
    floor_lines: [(name: "yellow line", points: [(100, 3000), (5400, 3000)])],
    rules: (walk_around: 500, clearance: 90, headroom: 120, measuring: 10, level: 4),
)
"#;

pub(super) const VEHICLE: &str = r#"(
    format: 1,
    name: "Example van",
    length: 4620, width: 1855, height: 1690, wheelbase: 2690, front_overhang: 930,
    track: (front: 1585, rear: 1590), tyre: (width: 225, diameter: 690), ground_clearance: 180,
    mirrors: (width: 2090, behind_front_axle: 560, depth: 200, z: (950, 1180)),
    outline: [(930, 0), (700, 927.5), (-3690, 927.5), (-3690, -927.5), (700, -927.5)],
    points: {"front emblem": (930, 2, 700), "rear emblem": (-3690, 1, 900)},
    sensors: {"windscreen camera": (kind: Camera, at: (-450, 3, 1280), facing: 4, tilt: 5, view: (across: 52, up: 30))},
    without: ["front radar"],
    turning_circle: 11200,
)
"#;

pub(super) const EQUIPMENT: &str = r#"(
    format: 1,
    name: "Shop set",
    targets: {
        "radar board": (kind: Board, face: (width: 600, height: 800, thickness: 40),
            stand: Box(at: (-150, 1), size: (600, 700)), stand_height: 300, room_behind: 600, owned: 1, code: "RB1", serves: ["corner board"]),
        "side mat": (kind: Mat, face: (width: 1300, height: 5200, thickness: 5), owned: 2),
    },
)
"#;

pub(super) const PROCEDURE: &str = r#"(
    format: 1,
    name: "Example radar", system: ForwardRadar, source: "invented",
    values: {"distance": 2017, "side": OneOf([300, 400]), "gap": Between(800, 1200), "height": Missing("cut"),
        "far": "distance + gap - 12.5", "known": Exactly(7)},
    variants: {"with rails": {"distance": 2027}, "low": {"known": 8}, "high": {"known": 9}},
    measured: {"lamp height": (ask: "centre above the floor", unit: Mm, between: (559, 1372), is: HeightOf(Sensor("left headlamp"))),
        "load": (unit: Kg)},
    derived: {"arch": Mean(["lamp height", "load"])},
    pick: (by: "arch", from: [(656, 666, "low"), (666, 676, "high")]),
    printed: {"distance": "2 m"}, valid: (from: "2019", until: "2021"), readings: ["light"],
    pairs: [("front radar", "rear radar")],
    ways: {"at once": ["Ahead"], "in turn": ["Ahead", "Again"]},
    needs: {"screen": (kind: Screen, width: AtLeast(3660), height: AtMost(1520), thickness: Between(11, 12), count: 1)},
    vehicle_state: ["empty"], vehicle_state_in: {"north": ["warm"]}, light_note: "dim", floor_note: "level", ambient_note: "warm",
    marks: [("P", Under(Axle(Rear)))],
    zones: [(name: "shared", shape: AroundVehicle(ahead: 1000, behind: 900, left: 800, right: 700), free_of: [People])],
    may_move_between_setups: false,
    setups: [(
        name: "Ahead",
        marks: [
            ("A", Under(Wheel(FrontLeft))),
            ("B", Under(Sensor("front radar"))),
            ("C", Along(line: WheelSide(Left), from: "A", by: "far")),
            ("D", Foot(line: Thrust, from: "C")),
            ("E", Place(line: Centre, from: "N", along: 3000, left: -250)),
            ("F", Off(line: Square(line: Nose, at: "A"), from: "A", by: "side")),
            ("G", Midway("C", "E")),
            ("H", Crossing(BodySide(Right), Tail)),
            ("I", Bearing(from: "T", line: Through("RA", "FA"), angle: 80.7, by: 3100)),
            ("J", Lengths(a: ("A", 5000), b: ("H", "gap"), side: Right)),
            ("K", Foot(line: Reversed(Nose), from: "A")),
        ],
        stations: [
            (name: "board", target: "radar board", at: "C", looks: At("A"), turn: 1.5, anchor: (0, 20),
                height: Level(Point("front emblem"), -20), of: Middle, tolerance: (along: 6, across: 8, turn: 0.5, roll: 0.25, tilt: 0.75, up: 2),
                on_face: [Upright("C"), Level(Axle(Front), 4), At(900)], fixed_to: Bay("mirror rail")),
            (name: "mat", target: "side mat", at: "G", faces: WheelPlane(RearLeft), stands_by: Back, height: Floor("height"),
                path: ["A", "G"], only: ["low"], only_if: SensorOn("front radar", Left)),
        ],
        zones: [
            (name: "field", shape: Strip(line: Centre, from: "nose", along: (0.5, 5000), left: (-1500, 1500)), z: (0.5, 3000),
                free_of: [Metal, Anything], tolerate_below: 50, seen: false),
            (name: "lane", shape: Strip(line: Centre, from: "nose", along: (0.5, 5000), across: 2500)),
            (name: "fan", shape: Fan(at: "B", line: Centre, angles: (-20, 20), reach: 4000)),
            (name: "near", shape: Around(stations: ["board"], beside: 1500, above: 1000, below: 990, behind: 980, ahead: 970)),
            (name: "one", shape: Around(station: "board", beside: "known")),
            (name: "patch", shape: Corners(["A", "C", "H"])),
            (name: "way", shape: Lane(from: "A", to: "J", width: 900)),
            (name: "drawn", shape: NotRead("figure 3")),
        ],
        sights: [(from: "front radar", to: "board")],
        level: (within: 5, over: Marks(["A", "C"])),
        lines: [(line: WheelSide(Left), from: "A", reach: 4000, over_vehicle: true), (line: Centre, from: "N", reach: (-500, 4100))],
        vehicle_state: ["doors shut"],
        missing: ["one point"],
        mirrored: (name: "Other side", swap: [("A", "D")]),
        stand_on: (mark: "A", floor_line: "yellow line", within: 15),
        only: ["low"], only_if: SensorOn("front radar", Left), in_turn: true,
        checks: [Length("A", "C", 2212.75), Same(("A", "C"), ("C", "E")), Loop(["A", "D", "E"], 9000), Right("A", "C", "D")],
        needs: {"board": (width: 11, height: Exactly(12))},
        draw: [(from: "A", to: "C", width: 51)],
        readings: ["level"],
    ), (
        name: "Again",
        stations: [(name: "board", target: "radar board", at: "P", fixed_to: Earlier("Other side"))],
    )],
)
"#;

pub(super) const JOB: &str = r#"(
    format: 1,
    name: "Example", bay: "bays/bay.ron", vehicle: "vehicles/van.ron", equipment: "equipment/set.ron",
    procedures: [(file: "procedures/radar.ron", variant: "with rails", variants: ["low"], way: "at once")],
    pose: At(x: 2750, y: 5400.25, heading: 7),
    support: Lift(name: "two-post", height: 400.5),
    rear_toe: (left: 0.20, right: -0.10),
    front_toe: (left: 0.3, right: 0.1),
    measured: {"lamp height": 702}, choose: {"gap": 900, "side": 400}, figures: {"height": (mm: 640, from: "a page")},
    doors_open: ["roller door"], cleared: ["cabinet"],
    rules: (walk_around: 450),
    accepted: [(rule: "vehicle-clear", items: ["vehicle", "bench"], reason: "it may", by: "A. N.", on: "2026-11-24")],
    enter_by: "roller door",
    market: "north", when: "2026-11-24 15:00 +00:00", drive_in: true, straight_run: 700,
)
"#;

pub(super) const WORKSHOP: &str = r#"(
    format: 1,
    name: "Example yard",
    folders: (bays: "bays", vehicles: "vehicles", equipment: "gear", procedures: "pages", jobs: "work", records: "read"),
    units: FeetInches,
    tape: (error: 1.5, per_metre: 0.2),
    people: ["A. N.", "R. T."],
    identify: [(pattern: "XX0??????K*", vehicle: "estate.ron", note: "K: four driven wheels")],
    touches: {"windscreen replaced": (systems: [ForwardCamera, ForwardRadar], source: "invented")},
    coming_in: {"estate.ron": 6, "van.ron": 2.5},
    money: (hour: 95, in_house: {ForwardCamera: (minutes: 60, price: 240)}, sent_out: {ForwardCamera: (price: 310, days: 1)}),
    gear: [(name: "measuring head", every_days: 1)],
    legal: [(name: "least workplace", source: "invented", ahead: (1000, 2000), whole: (6000, 2500), indoors: (3000, 2500))],
)
"#;

pub(super) const ALL: [&str; 6] = [BAY, VEHICLE, EQUIPMENT, PROCEDURE, JOB, WORKSHOP];
