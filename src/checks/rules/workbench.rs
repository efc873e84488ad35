//! A bench to try rules on: a plain bay, a plain vehicle in its middle, and whatever a case adds as short texts.
//!
//! The bay is 10 m by 20 m with a ceiling at 4000: side 0 south (y 0), 1 east (x 10000), 2 north (y 20000), 3 west.
//! The vehicle stands at (5000, 10000), nose into the bay: body x 4100 to 5900, y 6800 to 10800, z 150 to 1500;
//! tyres x 4150 to 4350 and 5650 to 5850, y 9700 to 10300 and 7200 to 7800, z 0 to 600; no mirrors.

#[path = "../../../tests/common/nonsense.rs"]
mod nonsense;

use std::path::Path;
use std::sync::{Arc, OnceLock};

use super::RuleId;
use crate::checks::finding::{Finding, Judgement, Outcome};
use crate::checks::wording::{lacks_all, notes, outcome, pair_name};
use crate::checks::{RULES, Title, usual_phrases};
use crate::files::{FileKind, read_text};
use crate::layout::Layout;
use crate::model::Bundle;
use crate::phrases::Say;
use crate::phrases::Words;
use crate::units::Show;

/// A board 3000 ahead of the front axle, looking back at the vehicle: face x 4700 to 5300, y 13000 to 13040 (front to
/// back), z 300 to 1100.
pub(crate) const BOARD: &str = r#"name: "Board ahead", marks: [("X", Along(line: Centre, from: "FA", by: 3000))],
    stations: [(name: "board", target: "board", at: "X", looks: Backward, height: Floor(300))]"#;

/// The job of a case, text by text.
#[derive(Clone)]
pub(crate) struct Bench {
    floor: String,
    ceiling: Option<f64>,
    bay: String,
    fixtures: String,
    vehicle: String,
    targets: String,
    procedure: String,
    setups: Vec<String>,
    way: String,
    job: String,
    pose: (f64, f64, f64),
    without_procedure: bool,
}

/// A setup that asks for nothing: so that a case without a setup of its own is not a case of nothing placed.
const IDLE: &str = r#"(name: "Idle", zones: [(name: "nothing asked", shape: AroundVehicle(ahead: 0, behind: 0, left: 0, right: 0))])"#;

/// What the rules found.
pub(crate) struct Found {
    pub layout: Layout,
    pub judgement: Judgement,
}

impl Bench {
    pub(crate) fn new() -> Bench {
        Bench {
            floor: "[(0, 0), (10000, 0), (10000, 20000), (0, 20000)]".into(),
            ceiling: Some(4000.0),
            bay: String::new(),
            fixtures: String::new(),
            vehicle: String::new(),
            targets: r#""board": (kind: Board, face: (width: 600, height: 800, thickness: 40), owned: 1)"#
                .into(),
            procedure: String::new(),
            setups: Vec::new(),
            way: String::new(),
            job: String::new(),
            pose: (5000.0, 10000.0, 0.0),
            without_procedure: false,
        }
    }

    /// A job that names no procedure.
    pub(crate) fn without_procedure(mut self) -> Bench {
        self.without_procedure = true;
        self
    }

    pub(crate) fn floor(mut self, points: &str) -> Bench {
        self.floor = points.into();
        self
    }

    pub(crate) fn ceiling(mut self, height: Option<f64>) -> Bench {
        self.ceiling = height;
        self
    }

    /// More fields of the bay.
    pub(crate) fn bay(mut self, fields: &str) -> Bench {
        self.bay += &format!("{fields}, ");
        self
    }

    /// A fixture; `more` are fields beside its name and shape.
    pub(crate) fn fixture(mut self, name: &str, shape: &str, more: &str) -> Bench {
        self.fixtures += &format!("(name: {name:?}, shape: {shape}, {more}), ");
        self
    }

    /// More fields of the vehicle.
    pub(crate) fn vehicle(mut self, fields: &str) -> Bench {
        self.vehicle += &format!("{fields}, ");
        self
    }

    /// More targets beside "board".
    pub(crate) fn targets(mut self, entries: &str) -> Bench {
        self.targets += &format!(", {entries}");
        self
    }

    /// More fields of the procedure.
    pub(crate) fn procedure(mut self, fields: &str) -> Bench {
        self.procedure += &format!("{fields}, ");
        self
    }

    /// A setup of the one procedure, by its fields.
    pub(crate) fn setup(mut self, fields: &str) -> Bench {
        self.setups.push(format!("({fields})"));
        self
    }

    /// A setup "S" with one zone "field", by the zone's fields.
    pub(crate) fn zone(self, fields: &str) -> Bench {
        self.setup(&format!(r#"name: "S", zones: [(name: "field", {fields})]"#))
    }

    /// The way the job names for its procedure.
    pub(crate) fn way(mut self, name: &str) -> Bench {
        self.way = format!("way: {name:?}");
        self
    }

    /// More fields of the job.
    pub(crate) fn job(mut self, fields: &str) -> Bench {
        if !fields.is_empty() {
            self.job += &format!("{fields}, ");
        }
        self
    }

    pub(crate) fn pose(mut self, x: f64, y: f64, heading: f64) -> Bench {
        self.pose = (x, y, heading);
        self
    }

    pub(crate) fn layout(&self) -> Layout {
        let bundle = self.bundle();
        Layout::new(&bundle).unwrap_or_else(|faults| panic!("no layout: {faults:?}"))
    }

    pub(crate) fn check(&self) -> Found {
        let layout = self.layout();
        let judgement = crate::checks::check(&layout);
        let found = Found { layout, judgement };
        found.says_no_english(&self.texts());
        found
    }

    /// The texts of job, bay, vehicle, equipment and procedure.
    fn texts(&self) -> [String; 5] {
        let ceiling = self.ceiling.map_or(String::new(), |c| format!("ceiling: {c:?}, "));
        let bay = format!(
            r#"(name: "Bay", floor: {}, {ceiling}fixtures: [{}], {})"#,
            self.floor, self.fixtures, self.bay
        );
        let vehicle = format!(
            r#"(name: "Car", length: 4000, width: 1800, height: 1500, wheelbase: 2500, front_overhang: 800,
                track: (front: 1500, rear: 1500), tyre: (width: 200, diameter: 600), ground_clearance: 150, {})"#,
            self.vehicle
        );
        let equipment = format!(r#"(name: "Set", targets: {{{}}})"#, self.targets);
        let setups = if self.setups.is_empty() { IDLE.to_owned() } else { self.setups.join(", ") };
        let procedure = format!(r#"(name: "P", setups: [{setups}], {})"#, self.procedure);
        let (x, y, heading) = self.pose;
        let job = format!(
            r#"(name: "Job", bay: "b", vehicle: "v", equipment: "e", procedures: [{}],
                pose: At(x: {x:?}, y: {y:?}, heading: {heading:?}), {})"#,
            if self.without_procedure { String::new() } else { format!(r#"(file: "p", {})"#, self.way) },
            self.job
        );
        [job, bay, vehicle, equipment, procedure]
    }

    pub(crate) fn bundle(&self) -> Bundle {
        let [job, bay, vehicle, equipment, procedure] = self.texts();
        Bundle {
            job: read(&job),
            bay: read(&bay),
            vehicle: read(&vehicle),
            equipment: read(&equipment),
            procedures: if self.without_procedure { Vec::new() } else { vec![read(&procedure)] },
        }
    }
}

fn read<T: FileKind>(text: &str) -> Arc<T> {
    let read = read_text(text, Path::new("bench.ron"));
    Arc::new(read.unwrap_or_else(|faults| {
        panic!("{}\n{text}", faults.iter().map(|f| format!("{f}\n")).collect::<String>())
    }))
}

/// A finding's note in words.
pub(crate) fn noted(finding: &Finding) -> String {
    finding.note.as_ref().map_or_else(String::new, |n| notes::note(n, Say::PLAIN))
}

impl Found {
    /// In another language no English is left of anything the rules found.
    fn says_no_english(&self, texts: &[String]) {
        static WORDS: OnceLock<&Words> = OnceLock::new();
        let all = || RULES.iter().flat_map(|r| r.says()).chain(usual_phrases()).collect::<Vec<_>>();
        let say = Say::new(Show::Mm, WORDS.get_or_init(|| nonsense::words(&all())));
        let mut said = outcome::conditions(&self.judgement.conditions, say);
        said.push(lacks_all(&self.judgement.missing, say));
        for way in &self.judgement.ways {
            said.extend(way.others.iter().map(|(_, why)| outcome::against(why, say)));
        }
        for finding in &self.judgement.findings {
            let wording = &finding.rule.rule().wording;
            said.extend(finding.note.as_ref().map(|n| notes::note(n, say)));
            if let Title::Says(says) = &wording.title {
                said.push(pair_name(finding, say));
                said.push(says(finding, &self.layout, say));
            }
            said.extend((wording.unknown)(finding, say));
            said.extend((wording.remedy)(finding, &self.layout).map(|r| outcome::remedy(&r, say)));
            said.extend((wording.instead)(finding, &self.layout).map(|r| outcome::remedy(&r, say)));
        }
        let left = nonsense::english_left(&said.join("\n"), &nonsense::Names::of(&self.layout, texts));
        assert!(left.is_empty(), "English is left: {left:#?}");
    }

    pub(crate) fn of(&self, rule: RuleId) -> Vec<&Finding> {
        self.judgement.findings.iter().filter(|f| f.rule == rule).collect()
    }

    /// All findings of a rule about these items, in this order.
    pub(crate) fn about(&self, rule: RuleId, items: &[&str]) -> Vec<&Finding> {
        let mut found = self.of(rule);
        found.retain(|f| f.items.len() == items.len() && f.names().zip(items).all(|(a, b)| a == *b));
        found
    }

    /// The one finding of a rule about these items.
    pub(crate) fn one(&self, case: &str, rule: RuleId, items: &[&str]) -> &Finding {
        let found = self.about(rule, items);
        assert_eq!(found.len(), 1, "{case}: findings about {items:?}; the rule found {:#?}", self.of(rule));
        found[0]
    }

    /// One finding about these items comes out this way with this margin, within 0.001, and its margin is have - need.
    pub(crate) fn says(&self, case: &str, rule: RuleId, items: &[&str], outcome: Outcome, margin: f64) {
        let found = self.one(case, rule, items);
        let got = found.margin.unwrap_or_else(|| panic!("{case}: no margin in {found:#?}"));
        assert!((got - margin).abs() <= 0.001, "{case}: margin {got}, should be {margin}");
        assert_eq!(found.outcome, outcome, "{case}: margin {got}");
        let (have, need) = (found.have.unwrap_or(f64::NAN), found.need.unwrap_or(f64::NAN));
        assert!((have - need - got).abs() <= 1e-6, "{case}: {have} - {need} is not {got}");
    }

    /// One finding about these items lacks these figures and has no margin.
    pub(crate) fn lacks(&self, case: &str, rule: RuleId, items: &[&str], missing: &[&str]) {
        let found = self.one(case, rule, items);
        assert_eq!(found.outcome, Outcome::Unknown, "{case}");
        let names: Vec<_> = found.missing.iter().map(|m| m.word()).collect();
        assert_eq!(names, missing, "{case}");
        assert_eq!(found.margin, None, "{case}");
    }

    /// What must be done or stay, in words.
    pub(crate) fn conditions(&self) -> Vec<String> {
        outcome::conditions(&self.judgement.conditions, Say::PLAIN)
    }

    /// The rule says nothing about these items.
    pub(crate) fn silent(&self, case: &str, rule: RuleId, items: &[&str]) {
        let found = self.about(rule, items);
        assert!(found.is_empty(), "{case}: {found:#?}");
    }

    /// The rule found no pair to judge, and says so in one finding.
    pub(crate) fn idle(&self, case: &str, rule: RuleId) {
        let found = self.of(rule);
        assert!(
            found.len() == 1 && found[0].items.is_empty() && found[0].outcome == Outcome::Pass,
            "{case}: {found:#?}"
        );
    }
}
