//! A workshop written into a temporary folder, and what the program says of it.

use serde_json::{Value, json};

use crate::program::{Ran, answer, run, tests};

/// Stands with its front axle at (5000, 5000), heading 0: vehicle X is y - 5000 and Y is 5000 - x.
const CAR: &str = r#"(
    name: "Straight car", length: 4700, width: 1850, height: 1500, wheelbase: 2750, front_overhang: 950,
    track: (front: 1595, rear: 1595), tyre: (width: 225, diameter: 650), ground_clearance: 150,
    mirrors: (width: 2050, behind_front_axle: 500, depth: 200, z: (950, 1150)),
    sensors: {
        "front radar": (kind: Radar, at: (850, 300, 500)),
        "left headlamp": (kind: Lamp, at: (800, 650, 700)),
        "right headlamp": (kind: Lamp, at: (800, -650, 690)),
        "rear left radar": (kind: Radar, at: (-3600, 700, 600)),
        "rear right radar": (kind: Radar, at: (-3600, -720, 600)),
    },
)"#;

const SET: &str = r#"
    "board": (kind: Board, face: (width: 600, height: 800, thickness: 40), owned: 3),
    "wall field": (kind: Screen, face: (width: 3660, height: 1830, thickness: 1), owned: 1),
    "pipe": (kind: Pipe, face: (width: 90, height: 1000), owned: 2),
"#;

/// A job to be changed bit by bit.
pub(crate) struct Bench {
    pub bay: String,
    pub car: String,
    pub targets: String,
    pub procedure: String,
    /// The job names no procedure.
    pub no_procedure: bool,
    /// Fields beside `file` of the procedure in the job.
    pub chosen: String,
    pub pose: (f64, f64, f64),
    pub job: String,
}

impl Bench {
    /// A hall of 10 x 20 m with the straight car; the text of the procedure without its name.
    pub(crate) fn new(procedure: &str) -> Bench {
        Bench {
            bay: bay(20_000.0, ""),
            car: CAR.into(),
            targets: SET.into(),
            procedure: procedure.into(),
            no_procedure: false,
            chosen: String::new(),
            pose: (5000.0, 5000.0, 0.0),
            job: String::new(),
        }
    }

    /// One setup "S" with these fields.
    pub(crate) fn setup(fields: &str) -> Bench {
        Bench::new(&format!("setups: [(name: \"S\", {fields})]"))
    }

    pub(crate) fn bay(mut self, bay: String) -> Bench {
        self.bay = bay;
        self
    }

    pub(crate) fn car_file(mut self, name: &str) -> Bench {
        self.car = std::fs::read_to_string(tests("cases").join(name)).expect("the car");
        self
    }

    pub(crate) fn targets(mut self, more: &str) -> Bench {
        self.targets += more;
        self
    }

    pub(crate) fn chosen(mut self, more: &str) -> Bench {
        self.chosen = more.into();
        self
    }

    pub(crate) fn job(mut self, more: &str) -> Bench {
        self.job = more.into();
        self
    }

    pub(crate) fn pose(mut self, x: f64, y: f64, heading: f64) -> Bench {
        self.pose = (x, y, heading);
        self
    }

    /// The text of one of the files.
    pub(crate) fn text(&self, file: &str) -> String {
        let folder = self.written();
        std::fs::read_to_string(folder.path().join(file)).expect("the file")
    }

    fn written(&self) -> tempfile::TempDir {
        let folder = tempfile::tempdir().expect("a folder");
        let (x, y, heading) = self.pose;
        let comma = if self.chosen.is_empty() { "" } else { ", " };
        let procedures = match self.no_procedure {
            true => String::new(),
            false => format!("(file: \"p.ron\"{comma}{})", self.chosen),
        };
        let job = format!(
            "(name: \"Job\", bay: \"bay.ron\", vehicle: \"car.ron\", equipment: \"set.ron\", procedures: [{procedures}], pose: At(x: {x:?}, y: {y:?}, heading: {heading:?}), {})",
            self.job
        );
        let set = format!("(name: \"Set\", targets: {{{}}})", self.targets);
        let procedure = format!("(name: \"P\", {})", self.procedure);
        for (name, text) in [
            ("job.ron", &job),
            ("bay.ron", &self.bay),
            ("car.ron", &self.car),
            ("set.ron", &set),
            ("p.ron", &procedure),
        ] {
            std::fs::write(folder.path().join(name), text).expect("written");
        }
        folder
    }

    pub(crate) fn check(&self) -> Answer {
        Answer(answer(self.written().path(), &["check", "job.ron", "--json"]).0)
    }

    /// The page of text.
    pub(crate) fn page(&self) -> String {
        run(self.written().path(), &["check", "job.ron"]).out
    }

    pub(crate) fn run(&self, args: &[&str]) -> Ran {
        run(self.written().path(), args)
    }
}

/// A hall 10 m wide and so deep, its far wall "north wall", with more fields.
pub(crate) fn bay(depth: f64, more: &str) -> String {
    format!(
        "(name: \"Hall\", floor: [(0, 0), (10000, 0), (10000, {depth:?}), (0, {depth:?})], ceiling: 4000,
        walls: [(side: 2, name: \"north wall\")], rules: (walk_around: 0), {more})"
    )
}

/// What `check --json` said.
pub(crate) struct Answer(pub Value);

impl Answer {
    pub(crate) fn findings(&self, rule: &str) -> Vec<&Value> {
        self.0["findings"].as_array().expect("findings").iter().filter(|f| f["rule"] == rule).collect()
    }

    /// The one finding of a rule with these items, in this order.
    #[track_caller]
    pub(crate) fn finding(&self, rule: &str, items: &[&str]) -> &Value {
        let all = self.findings(rule);
        let found: Vec<&&Value> = all.iter().filter(|f| f["items"] == json!(items)).collect();
        match found.as_slice() {
            [one] => one,
            _ => panic!("{} findings of {rule} about {items:?} among {all:#?}", found.len()),
        }
    }

    #[track_caller]
    pub(crate) fn says(&self, rule: &str, items: &[&str], outcome: &str, have: f64, margin: f64) {
        let f = self.finding(rule, items);
        assert_eq!(f["outcome"], outcome, "{f:#}");
        near(&f["have_mm"], have);
        near(&f["margin_mm"], margin);
    }

    #[track_caller]
    pub(crate) fn mark(&self, setup: &str, mark: &str) -> (f64, f64) {
        let all = self.0["marks"].as_array().expect("marks");
        let found = all.iter().find(|m| m["setup"] == setup && m["mark"] == mark);
        let at = &found.unwrap_or_else(|| panic!("no mark {mark} in {setup}"))["vehicle_mm"];
        (at[0].as_f64().expect("x"), at[1].as_f64().expect("y"))
    }

    #[track_caller]
    pub(crate) fn station(&self, setup: &str, station: &str) -> &Value {
        let all = self.0["stations"].as_array().expect("stations");
        let found = all.iter().find(|s| s["setup"] == setup && s["station"] == station);
        found.unwrap_or_else(|| panic!("no station {station} in {setup}"))
    }

    pub(crate) fn verdict(&self) -> &str {
        self.0["verdict"].as_str().unwrap_or_default()
    }

    /// The text of some finding of this rule holds these words.
    #[track_caller]
    pub(crate) fn tells(&self, rule: &str, words: &str) {
        let texts: Vec<&str> = self.findings(rule).iter().filter_map(|f| f["text"].as_str()).collect();
        assert!(texts.iter().any(|t| t.contains(words)), "{words:?} is in none of {texts:#?}");
    }
}

#[track_caller]
pub(crate) fn near(got: &Value, wanted: f64) {
    let got = got.as_f64().unwrap_or(f64::NAN);
    assert!((got - wanted).abs() <= 0.01, "{got} is not {wanted}");
}

#[track_caller]
pub(crate) fn at(got: (f64, f64), wanted: (f64, f64)) {
    let off = (got.0 - wanted.0).hypot(got.1 - wanted.1);
    assert!(off <= 0.01, "{got:?} is not {wanted:?}");
}
