//! Placements after published texts: marks, stations, check lengths and zone corners on the reference cars.
//!
//! The car stands in the middle of an empty hall with heading 0, so vehicle X is y - MIDDLE and vehicle Y is MIDDLE - x.

use std::fmt::Write;
use std::path::Path;

use serde_json::Value;

use crate::plane::{self, Point, to_rings};
use crate::program::{self, tests};

/// Lengths agree within this, mm.
const TOL: f64 = 0.01;
/// Directions agree within this, degrees.
const TOL_DEG: f64 = 0.001;
const MIDDLE: f64 = 30_000.0;

/// What was compared, and what did not agree.
#[derive(Default)]
pub(crate) struct Tally {
    pub compared: usize,
    pub wrong: Vec<String>,
}

impl Tally {
    fn take(&mut self, agrees: bool, label: &str, wanted: &Value, got: &Value) {
        self.compared += 1;
        if !agrees {
            self.wrong.push(format!("{label}: should be {wanted}, is {got}"));
        }
    }
}

/// Compares every case of one procedure file.
pub(crate) fn compare(name: &str, tally: &mut Tally) {
    for case in cases(name) {
        let car = case["vehicle"].as_str().expect("a vehicle");
        compare_case(name, &case, &answer(name, car, &case), tally);
    }
}

/// The cases worked out for one procedure: a car, a variant, readings, and the figures.
pub(crate) fn cases(name: &str) -> Vec<Value> {
    let file = tests("cases/procedures").join(format!("{name}.expected.json"));
    let text = std::fs::read_to_string(&file).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
    let expected: Value = serde_json::from_str(&text).expect("JSON");
    expected["cases"].as_array().expect("cases").clone()
}

/// Compares one case with an answer.
pub(crate) fn compare_case(name: &str, case: &Value, answer: &Value, tally: &mut Tally) {
    let car = case["vehicle"].as_str().expect("a vehicle");
    let mut label = format!("{name} on {}", car.trim_start_matches("../"));
    if let Some(variant) = case["variant"].as_str() {
        let _ = write!(label, ", {variant}");
    }
    for setup in case["setups"].as_array().expect("setups") {
        compare_setup(&format!("{label} [{}]", setup["name"]), setup, answer, tally);
    }
}

/// The program's answer for a procedure on a car, with what the case chooses and measures.
pub(crate) fn answer(name: &str, car: &str, case: &Value) -> Value {
    let path = |p: &str| tests("cases/procedures").join(p);
    answer_of(&path(&format!("{name}.ron")), &path("../empty-hall.ron"), car, case)
}

/// The same for a procedure file and a bay anywhere.
pub(crate) fn answer_of(procedure: &Path, bay: &Path, car: &str, case: &Value) -> Value {
    let path = |p: &str| tests("cases/procedures").join(p).display().to_string();
    let mut job = format!(
        "(name: \"Coordinates\", bay: {:?}, vehicle: {:?}, equipment: {:?}, pose: At(x: {MIDDLE:?}, y: {MIDDLE:?}, heading: 0),\n",
        bay.display().to_string(),
        path(car),
        path("equipment.ron")
    );
    let variant = case["variant"].as_str().map_or(String::new(), |v| format!(", variant: {v:?}"));
    let _ = writeln!(job, "procedures: [(file: {:?}{variant})],", procedure.display().to_string());
    for table in ["measured", "choose"] {
        let entries = case[table].as_object().into_iter().flatten();
        let entries: Vec<String> = entries.map(|(k, v)| format!("{k:?}: {v}")).collect();
        let _ = writeln!(job, "{table}: {{{}}},", entries.join(", "));
    }
    job.push(')');
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("job.ron"), job).expect("written");
    program::answer(folder.path(), &["check", "job.ron", "--json"]).0
}

fn compare_setup(label: &str, setup: &Value, answer: &Value, tally: &mut Tally) {
    let mark = |name: &str| pick(answer, "mark", &setup["name"], name)["vehicle_mm"].clone();
    for (name, wanted) in setup["marks"].as_object().expect("marks") {
        let got = mark(name);
        tally.take(close(wanted, &got), &format!("{label} mark {name}"), wanted, &got);
    }
    for check in setup["checks"].as_array().into_iter().flatten() {
        let ends = [&check["from"], &check["to"]].map(|n| n.as_str().unwrap_or_default());
        if ends.iter().any(|n| setup["marks"].get(*n).is_none()) {
            continue;
        }
        let [a, b] = ends.map(|n| point(&mark(n)));
        let length = (a.0 - b.0).hypot(a.1 - b.1);
        let off = (length - check["mm"].as_f64().unwrap_or(f64::NAN)).abs();
        tally.take(off <= 2.0 * TOL, &format!("{label} length {ends:?}"), &check["mm"], &length.into());
    }
    for station in setup["stations"].as_array().expect("stations") {
        let label = format!("{label} station {}", station["name"]);
        let got = pick(answer, "station", &setup["name"], station["name"].as_str().unwrap_or_default());
        compare_station(&label, station, &got, tally);
    }
    for zone in setup["zones"].as_array().expect("zones") {
        let got = pick(answer, "zone", &setup["name"], zone["name"].as_str().unwrap_or_default());
        compare_zone(&format!("{label} zone {}", zone["name"]), zone, &got, tally);
    }
}

fn compare_station(label: &str, wanted: &Value, got: &Value, tally: &mut Tally) {
    let at = to_vehicle(point(&got["bay_mm"]));
    tally.take(
        apart(at, point(&wanted["at"])) <= TOL,
        label,
        &wanted["at"],
        &serde_json::json!([at.0, at.1]),
    );
    let lower = &got["bay_mm"][2];
    let near = (number(lower) - number(&wanted["lower_edge_z"])).abs() <= TOL;
    tally.take(near, &format!("{label} lower edge"), &wanted["lower_edge_z"], lower);
    let turn = number(&got["turn_deg"]) - number(&wanted["looks_deg"]);
    let straight = ((turn + 180.0).rem_euclid(360.0) - 180.0).abs() <= TOL_DEG;
    tally.take(straight, &format!("{label} looks"), &wanted["looks_deg"], &got["turn_deg"]);
    let off = footprint_off(wanted, &got["footprint_mm"]);
    tally.take(off <= TOL, &format!("{label} face"), &wanted["origin"], &off.into());
}

fn compare_zone(label: &str, wanted: &Value, got: &Value, tally: &mut Tally) {
    let ring: Vec<Point> = plane::rings(&got["bay_mm"]).into_iter().flatten().map(to_vehicle).collect();
    let corners: Vec<Point> = wanted["points"].as_array().expect("points").iter().map(point).collect();
    let kind = wanted["kind"].as_str().unwrap_or_default();
    let off = if ring.is_empty() {
        f64::INFINITY
    } else if kind.starts_with("fan") {
        // its arc is drawn by chords: only the listed corners must lie on it, of a full circle not the middle
        let skipped = usize::from(kind.contains("full circle"));
        corners.iter().skip(skipped).map(|p| to_rings(*p, std::slice::from_ref(&ring))).fold(0.0, f64::max)
    } else {
        rings_apart(&corners, &ring)
    };
    tally.take(off <= TOL, label, &wanted["points"], &got["bay_mm"]);
    if let Some(z) = wanted["z"].as_array() {
        let near = (0..2).all(|i| (number(&z[i]) - number(&got["z_mm"][i])).abs() <= TOL);
        tally.take(near, &format!("{label} heights"), &wanted["z"], &got["z_mm"]);
    }
}

/// How far the printed face is from where it must stand; of a pipe, drawn as a polygon, its middle counts.
fn footprint_off(wanted: &Value, got: &Value) -> f64 {
    let Some(got) = plane::rings(got).pop().or_else(|| got.as_array().map(|r| r.iter().map(point).collect()))
    else {
        return f64::INFINITY;
    };
    let (sin, cos) = number(&wanted["looks_deg"]).to_radians().sin_cos();
    let origin = point(&wanted["origin"]);
    let in_target = |p: &Point| {
        let v = to_vehicle(*p);
        let (dx, dy) = (v.0 - origin.0, v.1 - origin.1);
        (dx * cos + dy * sin, dy * cos - dx * sin)
    };
    let got: Vec<Point> = got.iter().map(in_target).collect();
    let (kind, width, length, thickness) = face(wanted["target"].as_str().unwrap_or_default());
    let (back, front) = match kind {
        Kind::Flat => (-length / 2.0, length / 2.0),
        Kind::Pipe => (-width / 2.0, width / 2.0),
        Kind::Upright => (-thickness, 0.0),
    };
    let half = width / 2.0;
    let face = [(back, -half), (front, -half), (front, half), (back, half)];
    if matches!(kind, Kind::Pipe) {
        let middle = |ring: &[Point]| {
            let (min, max) = ring.iter().fold((ring[0], ring[0]), |(lo, hi), p| {
                ((lo.0.min(p.0), lo.1.min(p.1)), (hi.0.max(p.0), hi.1.max(p.1)))
            });
            ((min.0 + max.0) / 2.0, (min.1 + max.1) / 2.0)
        };
        return apart(middle(&got), middle(&face));
    }
    rings_apart(&face, &got)
}

enum Kind {
    Upright,
    Flat,
    Pipe,
}

/// Kind, width, height (of a flat thing its length) and thickness of a target of the equipment file.
fn face(target: &str) -> (Kind, f64, f64, f64) {
    use baywright::model::TargetKind;
    let equipment =
        baywright::files::read_equipment(&tests("cases/procedures/equipment.ron")).expect("equipment");
    let found = equipment.targets.get(target).unwrap_or_else(|| panic!("no target {target:?}"));
    let kind = match found.kind {
        TargetKind::Mat | TargetKind::Lines => Kind::Flat,
        TargetKind::Pipe => Kind::Pipe,
        _ => Kind::Upright,
    };
    (kind, found.face.width, found.face.height, found.face.thickness)
}

fn rings_apart(a: &[Point], b: &[Point]) -> f64 {
    let one_way = |from: &[Point], to: &[Point]| {
        from.iter().map(|p| to_rings(*p, std::slice::from_ref(&to.to_vec()))).fold(0.0, f64::max)
    };
    if b.len() < 3 { f64::INFINITY } else { one_way(a, b).max(one_way(b, a)) }
}

/// The mark, station or zone of this name in a setup.
fn pick(answer: &Value, kind: &str, setup: &Value, name: &str) -> Value {
    let mut all = answer[format!("{kind}s")].as_array().into_iter().flatten();
    all.find(|x| x["setup"] == *setup && x[kind] == name).cloned().unwrap_or_default()
}

fn close(wanted: &Value, got: &Value) -> bool {
    let (w, g) = (point(wanted), point(got));
    (w.0 - g.0).abs() <= TOL && (w.1 - g.1).abs() <= TOL
}

fn to_vehicle(p: Point) -> Point {
    (p.1 - MIDDLE, MIDDLE - p.0)
}

fn apart(a: Point, b: Point) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

fn point(value: &Value) -> Point {
    (number(&value[0]), number(&value[1]))
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}
