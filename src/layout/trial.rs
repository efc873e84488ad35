//! A procedure by itself laid out on vehicles made up for it, to find what could be laid out on none of them.
//!
//! What a text leaves open is tried out: every variant, and of each choice and band both ends and the middle. What could
//! not be laid out whatever was tried is wrong with the procedure; what could not be laid out on some vehicle may be.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

use super::rig::Rig;
use super::said_side;
use crate::files::{FileKind, read_text};
use crate::model::faults::{POINTS, SENSORS};
use crate::model::figure::Value;
use crate::model::job::Reading;
use crate::model::uses::{Use, every_use};
use crate::model::{Bundle, FileOf, Job, Procedure, Spot};

/// What trying a procedure out has shown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trial {
    /// What could not be laid out at all.
    pub faults: Vec<(Spot, String)>,
    /// What could not be laid out on some vehicle or with some choice, and what is on the other side than it says.
    pub doubts: Vec<(Spot, String)>,
}

/// Most variants that are tried, each alone.
const VARIANTS: usize = 12;

/// Of each choice and band both ends and the middle are tried.
const CHOICES: usize = 3;

const BAY: &str = "(name: \"b\", floor: [(0, 0), (20000, 0), (20000, 30000), (0, 30000)])";

/// Small, ordinary and large; the first runs straight on equal tracks, the others do not. Their places for sensors and
/// points are made up from the names.
const VEHICLES: [(&str, &str, &str); 3] = [
    (
        "a small car",
        "length: 3600, width: 1650, height: 1500, wheelbase: 2400, front_overhang: 700,
        track: (front: 1420, rear: 1420), tyre: (width: 165, diameter: 560), ground_clearance: 140",
        "",
    ),
    (
        "an ordinary car",
        "length: 4620, width: 1855, height: 1690, wheelbase: 2690, front_overhang: 930,
        track: (front: 1585, rear: 1590), tyre: (width: 225, diameter: 690), ground_clearance: 180",
        "rear_toe: (left: 0.2, right: -0.1), front_toe: (left: 0.1, right: 0.15)",
    ),
    (
        "a large van",
        "length: 6000, width: 2020, height: 2700, wheelbase: 3665, front_overhang: 1015,
        track: (front: 1740, rear: 1710), tyre: (width: 235, diameter: 720), ground_clearance: 190",
        "rear_toe: (left: 0.05, right: 0.25), front_toe: (left: 0.1, right: -0.05)",
    ),
];

/// Lays a procedure out on each vehicle with each variant and choice.
pub fn trial(procedure: &Procedure) -> Trial {
    let names = procedure.variants.names().take(VARIANTS).map(Some);
    let open = open_figures(procedure);
    let choices = if open.is_empty() { 1 } else { CHOICES };
    let all = Arc::new(everywhere(procedure));
    let (mut faults, mut some, mut sides) = (BTreeSet::new(), BTreeSet::new(), BTreeSet::new());
    for variant in std::iter::once(None).chain(names) {
        let runs = VEHICLES.iter().flat_map(|v| (0..choices).map(move |c| (v, c)));
        let found: Vec<(&str, Found)> = runs
            .filter_map(|(v, choice)| {
                let bundle = bundle(&all, v, variant, &open, choice)?;
                Some((v.0, Found::of(&bundle)))
            })
            .collect();
        let in_all = |told: &Told| found.iter().all(|(_, f)| f.faults.contains(told));
        let laid = || found.iter().filter(|(_, f)| f.faults.is_empty());
        let on_all = |told: &Told| laid().all(|(_, f)| f.sides.contains(told));
        for (vehicle, of) in &found {
            let (always, now_and_then): (Vec<_>, Vec<_>) = of.faults.iter().cloned().partition(in_all);
            faults.extend(always);
            some.extend(now_and_then.into_iter().map(|(at, text)| (at, *vehicle, text)));
            sides.extend(of.sides.iter().filter(|s| on_all(s)).cloned());
        }
    }
    let mut told = BTreeSet::new();
    let once = some.into_iter().filter(|(at, ..)| !faults.iter().any(|f| f.0 == *at) && told.insert(*at));
    let doubts = once.map(|(at, vehicle, text)| (at, format!("cannot be laid out on {vehicle}: {text}")));
    let placed = |(at, text): (usize, String)| (Spot(at), text);
    let mut doubts: Vec<(usize, String)> = doubts.collect();
    doubts.extend(sides);
    Trial {
        faults: faults.into_iter().map(placed).collect(),
        doubts: doubts.into_iter().map(placed).collect(),
    }
}

/// Where something stands in the file, and what is wrong with it.
type Told = (usize, String);

/// What one run has shown.
#[derive(Default)]
struct Found {
    faults: Vec<Told>,
    sides: Vec<Told>,
}

impl Found {
    fn of(bundle: &Bundle) -> Found {
        match Rig::new(bundle) {
            Ok(rig) => {
                let sides = said_side::mistaken(&rig, &bundle.procedures);
                Found {
                    sides: sides.into_iter().map(|(_, at, text)| (at.0, text)).collect(),
                    ..Found::default()
                }
            }
            Err(faults) => {
                let own = faults.into_iter().filter(|f| matches!(f.file, FileOf::Procedure(_)));
                Found { faults: own.map(|f| (f.spot.0, f.text)).collect(), ..Found::default() }
            }
        }
    }
}

/// The procedure with what it makes depend on the side of a sensor done in any case.
fn everywhere(procedure: &Procedure) -> Procedure {
    let mut all = procedure.clone();
    for setup in all.setups.0.iter_mut() {
        setup.only_if = None;
        setup.stations.0.iter_mut().for_each(|s| s.only_if = None);
    }
    all
}

/// The figures a job would fill in, each with what may be tried for it.
fn open_figures(procedure: &Procedure) -> Vec<(&str, [f64; CHOICES], bool)> {
    let ends = |lo: f64, hi: f64| [lo, (lo + hi) / 2.0, hi];
    let tables = std::iter::once(&procedure.values).chain(procedure.variants.iter().map(|v| v.1));
    let choices = tables.flat_map(|t| t.iter()).filter_map(|(name, value)| match value {
        Value::Between(lo, hi) => Some((name.as_str(), ends(*lo, *hi), false)),
        Value::OneOf(list) => {
            let last = list.len().checked_sub(1)?;
            Some((name.as_str(), [list[0], list[last / 2], list[last]], false))
        }
        Value::Is(_) | Value::Missing(_) => None,
    });
    let measured = procedure.measured.iter().filter_map(|(name, ask)| {
        let (lo, hi) = ask.between?;
        Some((name.as_str(), ends(lo, hi), true))
    });
    choices.chain(measured).collect()
}

fn bundle(
    procedure: &Arc<Procedure>,
    (_, vehicle, toes): &(&str, &str, &str),
    variant: Option<&str>,
    open: &[(&str, [f64; CHOICES], bool)],
    choice: usize,
) -> Option<Bundle> {
    let mut job: Job = made(&format!(
        "(name: \"j\", bay: \"b\", vehicle: \"v\", equipment: \"e\", procedures: [(file: \"p\")], pose: At(x: 0, y: 0, heading: 0), {toes})"
    ))?;
    job.procedures.0.first_mut()?.variant = variant.map(Into::into);
    for (name, tried, measured) in open {
        let table = if *measured { &mut job.measured } else { &mut job.choose };
        table.set(name, Reading(tried[choice]));
    }
    Some(Bundle {
        job: Arc::new(job),
        bay: Arc::new(made(BAY)?),
        vehicle: Arc::new(made(&format!("(name: \"v\", {vehicle}, {})", places(procedure)))?),
        equipment: Arc::new(made(&targets(procedure))?),
        procedures: vec![procedure.clone()],
    })
}

fn made<T: FileKind>(text: &str) -> Option<T> {
    read_text(text, Path::new("trial")).ok()
}

/// Every sensor and point a procedure may speak of, each at a place of its own, on the side its name says.
fn places(procedure: &Procedure) -> String {
    let (mut sensors, mut points): (BTreeSet<&str>, BTreeSet<&str>) =
        (SENSORS.iter().copied().collect(), POINTS.iter().copied().collect());
    every_use(procedure, &mut |used| match used {
        Use::Sensor(name) => {
            sensors.insert(name.as_str());
        }
        Use::Point(name) => {
            points.insert(name.as_str());
        }
        _ => {}
    });
    let at = |(i, name): (usize, &str)| {
        let has = |word: &str| name.split(' ').any(|w| w == word);
        let x = if has("rear") {
            -3000.0
        } else if has("front") {
            700.0
        } else {
            -400.0
        };
        let y = if has("left") {
            600.0
        } else if has("right") {
            -600.0
        } else {
            0.0
        };
        let apart = i as f64;
        format!("({}, {}, {})", x + apart, y, 600.0 + apart)
    };
    let of_sensors: Vec<String> = (0..)
        .zip(sensors.iter().copied())
        .map(|(i, name)| format!("{name:?}: (kind: Camera, at: {})", at((i, name))))
        .collect();
    let of_points: Vec<String> =
        (40..).zip(points.iter().copied()).map(|(i, name)| format!("{name:?}: {}", at((i, name)))).collect();
    format!("sensors: {{{}}}, points: {{{}}}", of_sensors.join(", "), of_points.join(", "))
}

/// A board for every target a procedure sets.
fn targets(procedure: &Procedure) -> String {
    let stations = procedure.setups.iter().flat_map(|s| s.stations.iter());
    let names: BTreeSet<&str> = stations.map(|s| s.target.as_str()).collect();
    let board = "(kind: Board, face: (width: 600, height: 800, thickness: 40), owned: 9)";
    let all: Vec<String> = names.iter().map(|name| format!("{name:?}: {board}")).collect();
    format!("(name: \"e\", targets: {{{}}})", all.join(", "))
}
