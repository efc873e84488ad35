//! Time of the way in for jobs of the demonstration: `cargo bench --bench driving`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]

mod pace;

use std::path::Path;
use std::time::Instant;

use baywright::driving::{Answer, drive_in};
use baywright::files::open_job;
use baywright::layout::{Layout, Stance};
use pace::rounds;

const ROUNDS: usize = 9;

fn main() {
    // job, and another place for its vehicle: None keeps the job's own; whether there is a way
    let cases = [
        ("estate-lift-posts", None, "lift bay, short of the posts", true),
        ("estate-lift-posts", Some((3450.0, 9000.0, 0.0)), "lift bay, between the posts", true),
        ("estate-lift-posts", Some((3450.0, 5400.0, 180.0)), "lift bay, backed in", true),
        ("estate-lift-posts", Some((4600.0, 6000.0, 0.0)), "lift bay, beside the door", true),
        ("estate-lift-posts", Some((2750.0, 11900.0, 0.0)), "lift bay, beyond the posts, aside", true),
        ("estate-lift-posts", Some((5500.0, 10800.0, 270.0)), "lift bay, across at the end", true),
        ("estate-lift-posts", Some((5920.0, 12000.0, 0.0)), "lift bay, hard at the east wall", false),
        ("estate-lift-posts", Some((2100.0, 5000.0, 90.0)), "lift bay, across behind the door", true),
        ("fennel-van-lane-1", None, "long lane, van", true),
        ("hatchback-backed-in", None, "short lane, backed in", true),
        ("city-car-corner-bay", None, "corner bay", true),
    ];
    for (job, place, what, way) in cases {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("demo/jobs/{job}.ron"));
        let opened = open_job(&path).unwrap_or_else(|faults| panic!("{what}: {faults:?}"));
        let mut layout = Layout::new(&opened.bundle).unwrap_or_else(|faults| panic!("{what}: {faults:?}"));
        if let Some((x, y, heading)) = place {
            layout = layout.at(Stance { x, y, heading });
        }
        let mut times: Vec<f64> = Vec::new();
        let mut answers: Vec<String> = Vec::new();
        for _ in 0..rounds(ROUNDS) {
            let start = Instant::now();
            let found = drive_in(&layout, &|| false);
            times.push(start.elapsed().as_secs_f64() * 1e3);
            assert_eq!(found.as_ref().is_some_and(|f| f.path().is_some()), way, "{what}: a way in");
            let answer = match found.map(|f| f.answer) {
                Some(Answer::Path(p)) => format!(
                    "{} segments, {} changes, {:.1} mm to {}",
                    p.segments.len(),
                    p.changes(),
                    p.tightest.margin,
                    p.tightest.still
                ),
                Some(Answer::NoPath(none)) => format!("no way: {:?}", none.why),
                other => panic!("{what}: not asked to stop, and yet {other:?}"),
            };
            answers.push(answer);
        }
        let answer = &answers[0];
        assert!(answers.iter().all(|a| a == answer), "{what}: the same job, several answers: {answers:?}");
        times.sort_by(f64::total_cmp);
        println!("{what:<36} best {:7.1} ms, median {:7.1} ms: {answer}", times[0], times[times.len() / 2]);
    }
}
