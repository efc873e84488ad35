//! How long a busy bay takes: the full check, and one step of a drag (layout, check, scene). Figures, no promises.
//!
//! The bay is generated: 60 fixtures, a lift, keep-clear areas and two doors; 6 setups of two targets with stands and a zone
//! each, so that with body, tyres and mirrors some 30 solids move. `cargo bench --bench check` prints medians, and how often
//! the yardstick (the distance of every moving box to every still one, boxes and nothing else) fits into each.
//!
//! Times differ from run to run, instructions hardly: `--count WORD N` does one of the things N times and prints nothing.
//! Run it under `valgrind --tool=callgrind` with 10 and with 20; a tenth of the difference is what once costs.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]

mod pace;

use std::fmt::Write;
use std::hint::black_box;
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

use baywright::advice::advise;
use baywright::checks::{Judgement, check};
use baywright::files::{FileKind, read_text};
use baywright::geometry::Bounds;
use baywright::layout::{Layout, Solid, Stance};
use baywright::model::bay::SpotHeight;
use baywright::model::{Bundle, Name, Pose};
use baywright::report;
use baywright::scene::{Show, plan::plan};
use baywright::siting::{Progress, headings_of, openings};
use pace::rounds;

const FIXTURES: usize = 60;
const SETUPS: usize = 6;
const RUNS: usize = 400;

/// One thing to measure: what it is called behind `--count`, in the table, and what it does at the n-th time.
type Subject<'a> = (&'static str, &'static str, Box<dyn Fn(usize) + 'a>);

fn main() {
    let bundle = bundle();
    let layout = Layout::new(&bundle).unwrap_or_else(|faults| panic!("{faults:?}"));
    let judgement = check(&layout);
    let shut = layout.on(with_doors(&bundle, &[]));
    let rough = Layout::new(&with_corners(&bundle, 1000)).unwrap_or_else(|faults| panic!("{faults:?}"));
    let surveyed = Layout::new(&with_spots(&bundle, 20_000)).unwrap_or_else(|faults| panic!("{faults:?}"));
    let openings =
        openings(&bundle, &headings_of(layout.stance.heading), &mut [].into_iter(), &Progress::new())
            .expect("openings");
    let told = || advise(&layout, &judgement, Some(&openings), &|| false).expect("advice");
    let advice = told();
    let page = || report::text::check(&layout, &judgement, &advice, report::Say::PLAIN).len();
    let subjects: [Subject; 12] = [
        ("check", "full check, one door open", Box::new(|_| _ = black_box(check(black_box(&layout))))),
        ("shut", "full check, all doors shut", Box::new(|_| _ = black_box(check(black_box(&shut))))),
        ("pose", "layout of a new pose", Box::new(|i| _ = black_box(layout.at(step(i))))),
        ("scene", "scene", Box::new(|_| _ = black_box(scene(&layout, &judgement)))),
        ("drag", "one drag step, without drawing", Box::new(|i| _ = black_box(drag(&layout, step(i))))),
        ("corners", "the same on 1000 corners", Box::new(|i| _ = black_box(drag(&rough, step(i))))),
        ("key", "one arrow key, without drawing", Box::new(|i| _ = black_box(key(&layout, step(i))))),
        ("spots", "the same with 20 000 spots", Box::new(|i| _ = black_box(key(&surveyed, step(i))))),
        ("layout", "layout from the files' contents", Box::new(|_| _ = black_box(Layout::new(&bundle)))),
        ("text", "page of text", Box::new(|_| _ = black_box(page()))),
        (
            "json",
            "JSON",
            Box::new(|_| _ = black_box(report::json::check(&layout, &judgement, &advice, None, true))),
        ),
        ("advice", "advice, beside the window", Box::new(|_| _ = black_box(told()))),
    ];
    let args: Vec<String> = std::env::args().collect();
    if let Some(at) = args.iter().position(|a| a == "--count") {
        let (word, times) = (args.get(at + 1), args.get(at + 2).and_then(|n| n.parse().ok()));
        let subject = subjects.iter().find(|s| Some(s.0) == word.map(String::as_str));
        let (Some((.., run)), Some(times)) = (subject, times) else {
            let words: Vec<&str> = subjects.iter().map(|s| s.0).collect();
            panic!("--count needs one of {} and how many times", words.join(", "));
        };
        return (0..times).for_each(run);
    }
    agree(&layout);
    let (moving, still) = solids(&layout);
    println!(
        "busy bay: {} fixtures and posts, {} setups, {} moving solids, {} findings, verdict {}",
        still.len(),
        layout.setups.len(),
        moving.len(),
        judgement.findings.len(),
        judgement.verdict.word()
    );
    let yardstick = median(|_| black_box(boxes(&moving, &still)));
    println!(
        "{:<34} {:>9.3} ms",
        format!("yardstick: {} box distances", moving.len() * still.len()),
        ms(yardstick)
    );
    for (_, name, run) in &subjects {
        let taken = median(run);
        println!(
            "{name:<34} {:>9.3} ms {:>8.1} x yardstick",
            ms(taken),
            taken.as_secs_f64() / yardstick.as_secs_f64()
        );
    }
}

fn scene(layout: &Layout, judgement: &Judgement) -> usize {
    plan(layout, Some(judgement), &Show::default()).items.len()
}

/// The quick answer of a drag is the full one: rig set down elsewhere, stage kept, or everything laid out anew.
fn agree(layout: &Layout) {
    for i in [0, 1, 37] {
        let (quick, drawn) = drag(layout, step(i));
        assert!(!quick.findings.is_empty() && drawn > 0);
        for (full, items) in [key(layout, step(i)), anew(layout, step(i))] {
            assert!(quick == full && drawn == items, "step {i}: quick and full answer differ");
        }
    }
}

/// The job at this pose, everything laid out from the start.
fn anew(before: &Layout, stance: Stance) -> (Judgement, usize) {
    let layout = Layout::new(&placed(&before.bundle, stance)).unwrap_or_else(|faults| panic!("{faults:?}"));
    let judgement = check(&layout);
    let items = scene(&layout, &judgement);
    (judgement, items)
}

/// The same job with the vehicle at this pose.
fn placed(bundle: &Bundle, stance: Stance) -> Bundle {
    let mut job = (*bundle.job).clone();
    job.pose = Pose::At { x: stance.x, y: stance.y, heading: stance.heading };
    Bundle { job: Arc::new(job), ..bundle.clone() }
}

/// What the window does for an arrow key: the job is another one, laid out anew.
fn key(before: &Layout, stance: Stance) -> (Judgement, usize) {
    let layout =
        before.renewed(&placed(&before.bundle, stance)).unwrap_or_else(|faults| panic!("{faults:?}"));
    let judgement = check(&layout);
    let items = scene(&layout, &judgement);
    (judgement, items)
}

/// The same job with these doors open and no others.
fn with_doors(bundle: &Bundle, open: &[&str]) -> Bundle {
    let mut job = (*bundle.job).clone();
    job.doors_open = open.iter().map(|name| Name::from(*name)).collect();
    Bundle { job: Arc::new(job), ..bundle.clone() }
}

/// The same hall with a wall of so many shallow niches all round, and its doors in the longest of its sides.
fn with_corners(bundle: &Bundle, corners: usize) -> Bundle {
    let mut points = String::from("(3000, 0), (15000, 0), ");
    for i in 0..corners - 2 {
        // from the right end of the door's side round to its left end
        let t =
            (i as f64 + 0.5) / (corners - 2) as f64 * 1.6 * std::f64::consts::PI - 0.3 * std::f64::consts::PI;
        let out = if (i / 2) % 2 == 0 { 1.0 } else { 0.985 };
        let _ = write!(
            points,
            "({:.1}, {:.1}), ",
            9000.0 + 9000.0 * out * t.cos(),
            10000.0 + 10000.0 * out * t.sin()
        );
    }
    let text = bay();
    let from = text.find("floor: [").expect("a floor") + 8;
    let to = from + text[from..].find("],").expect("its end");
    let text = format!("{}{points}{}", &text[..from], &text[to..]);
    let text = text
        .replace("walls: [(side: 2, surface: [Metal])],", "")
        .replace("side: 1, from: 7000", "side: 0, from: 500");
    let text = text.replace("side: 0, from: 7000, width: 4000", "side: 0, from: 4000, width: 4000");
    Bundle { bay: read(&text), ..bundle.clone() }
}

/// The same hall with a floor surveyed at so many spots.
fn with_spots(bundle: &Bundle, spots: usize) -> Bundle {
    let mut bay = (*bundle.bay).clone();
    let across = (spots as f64).sqrt().ceil() as usize;
    bay.heights = (0..spots)
        .map(|i| {
            // no two rows alike, so that no four spots lie on one circle
            let (row, column) = ((i / across) as f64, (i % across) as f64);
            let (x, y) = (column + 0.3 * (row * 0.7).sin(), row + 0.3 * (column * 1.3).cos());
            let step = 18_000.0 / across as f64;
            SpotHeight(x * step, y * step, 4.0 * (x * 0.11).sin() * (y * 0.07).cos())
        })
        .collect();
    Bundle { bay: Arc::new(bay), ..bundle.clone() }
}

/// What the window does for every step of a drag.
fn drag(layout: &Layout, stance: Stance) -> (Judgement, usize) {
    let moved = layout.at(stance);
    let judgement = check(&moved);
    let items = scene(&moved, &judgement);
    (judgement, items)
}

/// The pose of the i-th step, never twice the same.
fn step(i: usize) -> Stance {
    let t = i as f64;
    Stance { x: 9000.0 + 3.0 * (t % 50.0), y: 9000.0 - 2.0 * (t % 70.0), heading: 0.1 * (t % 30.0) }
}

fn median<T>(mut run: impl FnMut(usize) -> T) -> Duration {
    let mut taken: Vec<Duration> = (0..rounds(RUNS))
        .map(|i| {
            let start = Instant::now();
            black_box(run(i));
            start.elapsed()
        })
        .collect();
    taken.sort();
    taken[taken.len() / 2]
}

fn ms(taken: Duration) -> f64 {
    taken.as_secs_f64() * 1000.0
}

fn solids(layout: &Layout) -> (Vec<Bounds>, Vec<Bounds>) {
    let body = &layout.body;
    let car = body.hull.iter().chain(&body.mirrors).chain(&body.tyres);
    let stands = layout.setups.iter().flat_map(|s| &s.stations).filter_map(|s| s.place.as_ref().ok());
    let bounds = |s: &Solid| s.shape.bounds();
    let moving = car.chain(stands.flat_map(|s| &s.parts)).map(bounds).collect();
    (moving, layout.stage.things.iter().map(|t| bounds(&t.solid)).collect())
}

fn boxes(moving: &[Bounds], still: &[Bounds]) -> f64 {
    moving.iter().flat_map(|m| still.iter().map(|s| m.distance(s))).sum()
}

fn bundle() -> Bundle {
    let equipment = r#"(name: "Set", targets: {
        "board": (kind: Board, face: (width: 600, height: 800, thickness: 40), stand: Box(at: (-150, 0), size: (600, 700)), stand_height: 300, room_behind: 600, owned: 2),
        "reflector": (kind: Reflector, face: (width: 200, height: 200, thickness: 150), stand: Round(at: (-80, 0), diameter: 500), owned: 2),
    })"#;
    let vehicle = r#"(name: "Car", length: 4600, width: 1850, height: 1600, wheelbase: 2700, front_overhang: 900,
        track: (front: 1580, rear: 1580), tyre: (width: 225, diameter: 680), ground_clearance: 170,
        mirrors: (width: 2080, behind_front_axle: 600, depth: 200, z: (950, 1150)),
        outline: [(900, 500), (600, 925), (-3300, 925), (-3700, 700), (-3700, -700), (-3300, -925), (600, -925), (900, -500)])"#;
    let job = r#"(name: "Job", bay: "b", vehicle: "v", equipment: "e", procedures: [(file: "p"), (file: "q")],
        pose: At(x: 9000, y: 9000, heading: 0), doors_open: ["front door"])"#;
    Bundle {
        job: read(job),
        bay: read(&bay()),
        vehicle: read(vehicle),
        equipment: read(equipment),
        procedures: vec![read(&procedure("Front", 1.0)), read(&procedure("Rear", -1.0))],
    }
}

/// A hall of 18 x 20 m with boxes, turned boxes, rounds and concave outlines along its walls.
fn bay() -> String {
    let mut fixtures = String::new();
    for i in 0..FIXTURES {
        let t = i as f64 / FIXTURES as f64 * std::f64::consts::TAU;
        let (x, y) = (9000.0 + 8200.0 * t.cos(), 10000.0 + 9200.0 * t.sin());
        let shape = match i % 4 {
            0 => format!("Box(at: ({x:.1}, {y:.1}), size: (500, 700))"),
            1 => format!("Box(at: ({x:.1}, {y:.1}), size: (700, 400), turn: {i})"),
            2 => format!("Round(at: ({x:.1}, {y:.1}), diameter: 450)"),
            _ => {
                let at = |dx: f64, dy: f64| format!("({:.1}, {:.1})", x + dx, y + dy);
                let l =
                    [(0.0, 0.0), (600.0, 0.0), (600.0, 200.0), (200.0, 200.0), (200.0, 600.0), (0.0, 600.0)];
                format!("Outline([{}])", l.map(|(dx, dy)| at(dx, dy)).join(", "))
            }
        };
        let surface = ["[Metal]", "[Metal, Shine]", "[Light]", "[Pattern]", "[]"][i % 5];
        let more = ["z: (0, 900)", "z: (0, 1800), movable: true", "z: (2600, 2700), overhead: true"][i % 3];
        let _ = writeln!(fixtures, "(name: \"thing {i}\", shape: {shape}, surface: {surface}, {more}),");
    }
    format!(
        r#"(name: "Busy", ceiling: 4500, floor: [(0, 0), (18000, 0), (18000, 20000), (6000, 20000), (6000, 19500), (0, 19500)],
        walls: [(side: 2, surface: [Metal])],
        doorways: [(name: "front door", side: 0, from: 7000, width: 4000, height: 3000, apron: [(7000, -4000), (11000, -4000), (11000, 0), (7000, 0)]),
                   (name: "side door", side: 1, from: 7000, width: 3000, height: 3000, surface: [Metal])],
        lifts: [(name: "two-post", posts: [Box(at: (7300, 8000), size: (350, 350)), Box(at: (10700, 8000), size: (350, 350))], post_height: 3600)],
        keep_clear: [(name: "panel", shape: Box(at: (17000, 19000), size: (762, 914)), z: (0, 1981)), (name: "exit", shape: Box(at: (600, 300), size: (1200, 600)))],
        fixtures: [{fixtures}])"#
    )
}

/// Half the setups, ahead of the vehicle or behind it.
fn procedure(name: &str, way: f64) -> String {
    let mut setups = String::new();
    for i in 0..SETUPS / 2 {
        let (along, side) = (way * (4200.0 + 300.0 * i as f64), 700.0 + 150.0 * i as f64);
        let (from, looks, zone) =
            if way > 0.0 { ("FA", "Backward", "nose") } else { ("RA", "Forward", "tail") };
        let far = way * 4000.0;
        let _ = writeln!(
            setups,
            r#"(name: "S{i}", marks: [("L", Place(line: Centre, from: "{from}", along: {along:?}, left: {side:?})), ("R", Place(line: Centre, from: "{from}", along: {along:?}, left: {:?}))],
            stations: [(name: "left", target: "board", at: "L", looks: {looks}, height: Floor(300)), (name: "right", target: "reflector", at: "R", looks: {looks}, height: Floor(500))],
            zones: [(name: "field", shape: Strip(line: Centre, from: "{zone}", along: ({:?}, {:?}), left: (-1500, 1500)), z: (0, 3000), free_of: [Anything, Metal, People]),
                    (name: "lamps", shape: Around(stations: ["left", "right"], beside: 1500, above: 1000, below: 1000), free_of: [Light, Pattern])]),"#,
            -side,
            far.min(0.0),
            far.max(0.0)
        );
    }
    format!(r#"(name: "{name}", setups: [{setups}])"#)
}

fn read<T: FileKind>(text: &str) -> Arc<T> {
    Arc::new(read_text(text, Path::new("bench.ron")).unwrap_or_else(|faults| panic!("{faults:?}\n{text}")))
}
