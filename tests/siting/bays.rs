//! Jobs for the siting tests, made in memory. Every vehicle, bay and procedure here is invented.

use std::fmt::Write;
use std::path::Path;
use std::sync::Arc;

use baywright::files::read_text;
use baywright::model::{Bay, Bundle, Equipment, Job, Procedure, Vehicle};

/// A job in parts, as RON texts.
#[derive(Clone, Debug)]
pub(crate) struct Parts {
    pub bay: String,
    pub vehicle: String,
    pub equipment: String,
    pub procedures: Vec<String>,
    /// Fields of the job after the files, such as `pose: Anywhere`.
    pub job: String,
}

/// A plain car, 4000 x 1800, its nose 800 before the front axle; no mirrors.
pub(crate) const CAR: &str = r#"(name: "Plain", length: 4000, width: 1800, height: 1500, wheelbase: 2500, front_overhang: 800,
    track: (front: 1500, rear: 1500), tyre: (width: 200, diameter: 600), ground_clearance: 200)"#;

/// A procedure that asks for nothing, where a job without one would have its lack told.
pub(crate) const ASKS_NOTHING: &str = r#"(name: "Idle", setups: [(name: "S", zones: [
    (name: "nothing asked", shape: AroundVehicle(ahead: 0, behind: 0, left: 0, right: 0))])])"#;

impl Parts {
    /// The plain car alone in a bay, keeping `walk` off everything.
    pub(crate) fn alone(bay: &str, walk: f64) -> Parts {
        Parts {
            bay: bay.into(),
            vehicle: CAR.into(),
            equipment: r#"(name: "none", targets: {})"#.into(),
            procedures: Vec::new(),
            job: format!("pose: Anywhere, rules: (walk_around: {walk})"),
        }
    }

    pub(crate) fn bundle(&self) -> Bundle {
        fn read<T: baywright::files::FileKind>(text: &str) -> T {
            read_text(text, Path::new("test.ron")).unwrap_or_else(|f| {
                panic!("{}\n{text}", f.iter().map(|f| f.to_string()).collect::<Vec<_>>().join("\n"))
            })
        }
        let mut files = String::new();
        for i in 0..self.procedures.len() {
            let _ = write!(files, "(file: \"p{i}.ron\"), ");
        }
        let job = format!(
            "(name: \"test\", bay: \"bay.ron\", vehicle: \"car.ron\", equipment: \"shop.ron\", procedures: [{files}], {})",
            self.job
        );
        Bundle {
            job: Arc::new(read::<Job>(&job)),
            bay: Arc::new(read::<Bay>(&self.bay)),
            vehicle: Arc::new(read::<Vehicle>(&self.vehicle)),
            equipment: Arc::new(read::<Equipment>(&self.equipment)),
            procedures: self.procedures.iter().map(|p| Arc::new(read::<Procedure>(p))).collect(),
        }
    }
}

/// A seeded stream of numbers: a permuted congruential generator (O'Neill 2014; constants from memory).
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Dice {
        let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0xDA3E_39CB_94B9_5BDB);
        dice.next();
        dice
    }

    fn next(&mut self) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let x = (((self.0 >> 18) ^ self.0) >> 27) as u32;
        x.rotate_right((self.0 >> 59) as u32)
    }

    /// Anything from `from` to `to`.
    pub(crate) fn of(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * f64::from(self.next()) / f64::from(u32::MAX)
    }

    /// The same in whole millimetres.
    pub(crate) fn mm(&mut self, from: f64, to: f64) -> f64 {
        self.of(from, to).round()
    }

    pub(crate) fn below(&mut self, n: u32) -> u32 {
        self.next() % n
    }
}

/// The busy bay: 60 fixtures round a floor, five targets with stand and room in each of six setups, 30 solids with the
/// car's own that move. Seeded, so always the same.
pub(crate) fn busy() -> Parts {
    let mut dice = Dice::new(7);
    let mut fixtures = String::new();
    for i in 0..60 {
        // along the walls and in the corners, some turned, some round, some with an angle
        let edge = i % 4;
        let (x, y) = match edge {
            0 => (dice.mm(150.0, 900.0), dice.mm(300.0, 19_700.0)),
            1 => (dice.mm(10_100.0, 10_850.0), dice.mm(300.0, 19_700.0)),
            2 => (dice.mm(300.0, 10_700.0), dice.mm(150.0, 700.0)),
            _ => (dice.mm(300.0, 10_700.0), dice.mm(19_000.0, 19_850.0)),
        };
        let shape = match i % 5 {
            0 => format!("Round(at: ({x}, {y}), diameter: {})", dice.mm(80.0, 500.0)),
            1 => format!(
                "Box(at: ({x}, {y}), size: ({}, {}), turn: {})",
                dice.mm(200.0, 900.0),
                dice.mm(200.0, 600.0),
                dice.mm(0.0, 90.0)
            ),
            2 => {
                let (w, d) = (dice.mm(400.0, 900.0), dice.mm(400.0, 900.0));
                format!(
                    "Outline([({x}, {y}), ({}, {y}), ({}, {}), ({}, {}), ({}, {}), ({x}, {})])",
                    x + w,
                    x + w,
                    y + d / 3.0,
                    x + w / 3.0,
                    y + d / 3.0,
                    x + w / 3.0,
                    y + d,
                    y + d
                )
            }
            _ => format!("Box(at: ({x}, {y}), size: ({}, {}))", dice.mm(150.0, 800.0), dice.mm(150.0, 800.0)),
        };
        let _ = writeln!(
            fixtures,
            "(name: \"fixture {i}\", shape: {shape}, z: (0, {}), surface: [Metal], movable: {}),",
            dice.mm(300.0, 2400.0),
            i % 3 == 0
        );
    }
    let bay = format!(
        "(name: \"Busy\", floor: [(0, 0), (11000, 0), (11000, 20000), (0, 20000)], ceiling: 5000, fixtures: [{fixtures}],
          rules: (walk_around: 600, clearance: 100))"
    );
    let mut procedures = Vec::new();
    for p in 0..6 {
        let (mut marks, mut stations) = (String::new(), String::new());
        for s in 0..2 {
            let ahead = dice.mm(1500.0, 3800.0);
            let left = if s == 0 { dice.mm(-1500.0, -200.0) } else { dice.mm(200.0, 1500.0) };
            let _ = write!(
                marks,
                "(\"M{s}\", Place(line: Centre, from: \"nose\", along: {ahead}, left: {left})), "
            );
            let _ = write!(
                stations,
                "(name: \"board {p}{s}\", target: \"board\", at: \"M{s}\", looks: Backward, turn: {}, height: Floor(200)), ",
                dice.mm(-40.0, 40.0)
            );
        }
        let fan = dice.mm(15.0, 40.0);
        procedures.push(format!(
            "(name: \"Procedure {p}\", setups: [(name: \"Setup\", marks: [{marks}], stations: [{stations}], zones: [
              (name: \"field {p}\", shape: Strip(line: Centre, from: \"nose\", along: (0, {}), across: {}), z: (0, 2500), free_of: [Metal]),
              (name: \"fan {p}\", shape: Fan(at: \"nose\", line: Centre, angles: (-{fan}, {fan}), reach: {}), z: (0, 2000), free_of: [Anything]),
            ])])",
            dice.mm(3000.0, 5000.0),
            dice.mm(1500.0, 3000.0),
            dice.mm(2500.0, 4500.0)
        ));
    }
    Parts {
        bay,
        vehicle: r#"(name: "Busy car", length: 4600, width: 1850, height: 1500, wheelbase: 2700, front_overhang: 900,
            track: (front: 1580, rear: 1580), tyre: (width: 225, diameter: 680), ground_clearance: 170,
            mirrors: (width: 2050, behind_front_axle: 600, depth: 200, z: (950, 1150)))"#
            .into(),
        equipment: r#"(name: "Shop", targets: {"board": (kind: Board, face: (width: 800, height: 800, thickness: 40),
            stand: Outline([(-300, -400), (0, -400), (0, -100), (150, -100), (150, 100), (0, 100), (0, 400), (-300, 400)]), stand_height: 300, room_behind: 500, owned: 2)})"#
            .into(),
        procedures,
        job: "pose: Anywhere".into(),
    }
}
