//! How fast siting is on the busy bay (60 fixtures, 30 moving solids, 6 setups), beside the exact union of the same
//! pieces, cut to the box in which the pose can be at all. Run: `cargo bench --bench siting --no-default-features`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]

#[path = "../siting/bays.rs"]
#[allow(dead_code)]
mod bays;
mod pace;

use std::time::{Duration, Instant};

use baywright::files::open_job;
use baywright::geometry::{Bounds, P2, P3, V2};
use baywright::layout::{FloorField, Layout, Stance};
use baywright::scene::floor::Heights;
use baywright::siting::{
    Ask, Direction, Progress, Site, Space, allowed_of, curve, deepest_of, even, find, swing,
};
use pace::rounds;

fn main() {
    let bundle = bays::busy().bundle();
    let site = Site::new(&bundle).unwrap_or_else(|f| panic!("{f:?}"));
    let (whole, near) = (site.spaces(0.0), site.spaces_near(0.0));
    let space = &near[0];
    println!(
        "{} obstacles from {} pairs, {} of them where the pose can be; {} solids held inside the floor",
        whole[0].obstacles.len(),
        space.holds.len(),
        space.obstacles.len(),
        space.domains.len()
    );
    let one =
        least(20, || find(&bundle, &Ask { headings: vec![0.0], bays: Vec::new() }, &Progress::new()).is_ok());
    println!("with tolerance and all rules {:8.2} ms", ms(one));
    let sweep: Vec<f64> = (0..13).flat_map(|i| [f64::from(i) - 6.0, f64::from(i) + 174.0]).collect();
    let ask = Ask { headings: sweep, bays: Vec::new() };
    let all = least(5, || find(&bundle, &ask, &Progress::new()).is_ok());
    println!("2 x 13 headings              {:8.2} ms (400 asked)", ms(all));
    let one_heading = least(20, || {
        let spaces = site.spaces_near(0.0);
        deepest_of(&spaces[0], &Progress::new()).is_ok() && allowed_of(&spaces[0], &Progress::new()).is_ok()
    });
    println!("one heading: region and best {:8.2} ms (30 asked)", ms(one_heading));
    let best_of = |space: &Space| deepest_of(space, &Progress::new()).ok().flatten().expect("a best pose").1;
    let (of_near, of_whole) = (best_of(&near[0]), best_of(&whole[0]));
    assert!(
        (of_near - of_whole).abs() < 1.0,
        "best pose {of_near} mm deep, {of_whole} mm with all obstacles"
    );
    let with_all = least(20, || {
        let spaces = site.spaces(0.0);
        deepest_of(&spaces[0], &Progress::new()).is_ok() && allowed_of(&spaces[0], &Progress::new()).is_ok()
    });
    println!("  the same with all obstacles{:8.2} ms", ms(with_all));
    println!("  its obstacles              {:8.2} ms", ms(least(20, || site.spaces_near(0.0).len() == 1)));
    println!(
        "  its deepest pose           {:8.2} ms",
        ms(least(20, || deepest_of(space, &Progress::new()).is_ok()))
    );
    println!(
        "  its region                 {:8.2} ms",
        ms(least(20, || allowed_of(space, &Progress::new()).is_ok()))
    );
    let best = site.best(&[0.0], &Progress::new()).ok().flatten().expect("the busy bay fits").stance;
    let turned = least(20, || swing(&site, best, &Progress::new()).is_ok());
    println!("tolerance of the heading     {:8.2} ms", ms(turned));
    let stance = Stance { x: 5500.0, y: 9000.0, heading: 0.0 };
    let strip = least(20, || curve(&site, stance, Direction::Along).points.len() > 1);
    println!("margin curve                 {:8.2} ms (20 asked)", ms(strip));
    let found = find(&bundle, &Ask { headings: vec![0.0], bays: Vec::new() }, &Progress::new())
        .unwrap_or_else(|e| panic!("{e:?}"));
    let fast = found.headings[0].allowed.area;
    println!("memory, most ever            {:8.1} MB (100 allowed)", peak_mb());
    floor();
    let (slow, area) = union(&whole[0]);
    println!(
        "exact union                  {:8.2} ms, {:.0} times as long as region and best",
        ms(slow),
        slow.as_secs_f64() / one_heading.as_secs_f64()
    );
    assert!((fast - area).abs() <= 1e-4 * area, "area {fast} mm², {area} mm² by the exact union");
    println!(
        "area {:.4} m² against {:.4} m², slack {:?}",
        fast / 1e6,
        area / 1e6,
        found.best.map(|b| b.place.slack)
    );
}

/// The floor of the demonstration's alignment bay looked over at one heading; and a survey of 5000 spots made ready to be
/// drawn.
fn floor() {
    let job = std::path::Path::new("demo/jobs/crossover-alignment-lift.ron");
    let bundle = open_job(job).unwrap_or_else(|f| panic!("{f:?}")).bundle;
    let layout = Layout::new(&bundle).unwrap_or_else(|f| panic!("{f:?}"));
    let looked = least(5, || even(&layout, &[], &|| false).is_some_and(|e| e.best.is_some()));
    println!("best floor, one heading      {:8.2} ms", ms(looked));
    let mut dice = bays::Dice::new(7);
    let spots: Vec<P3> =
        (0..5000).map(|_| P3::new(dice.of(0.0, 8000.0), dice.of(0.0, 16000.0), dice.of(-6.0, 4.0))).collect();
    let floor = [(0.0, 0.0), (8000.0, 0.0), (8000.0, 16000.0), (0.0, 16000.0)].map(|(x, y)| P2::new(x, y));
    let made =
        least(3, || Heights::of(&FloorField::new(spots.iter().copied(), None), &floor, false).is_some());
    println!("5000 spots, ready to draw    {:8.2} ms", ms(made));
}

/// The same region by one union of every piece, each cut to the box first, in a frame whose holes are the region.
fn union(space: &Space) -> (Duration, f64) {
    use baywright::geometry::union_outlines;
    const FRAME: f64 = 10.0;
    let from = Instant::now();
    let d = space.domain;
    let around = d.grow(FRAME / 2.0);
    let (a, b, c) = (d.min, d.max, FRAME);
    let bar = |x0: f64, y0: f64, x1: f64, y1: f64| {
        vec![P2::new(x0, y0), P2::new(x1, y0), P2::new(x1, y1), P2::new(x0, y1)]
    };
    let mut all = vec![
        bar(a.x - c, a.y - c, b.x + c, a.y),
        bar(a.x - c, b.y, b.x + c, b.y + c),
        bar(a.x - c, a.y - c, a.x, b.y + c),
        bar(b.x, a.y - c, b.x + c, b.y + c),
    ];
    let cut = space.obstacles.iter().map(|o| cut(space.sides.outline(o, 0.25, &around), &around));
    all.extend(cut.filter(|r| r.len() >= 3 && area(r) > 0.0));
    let rings = union_outlines(&all);
    let free: f64 = rings.iter().map(|r| area(r)).filter(|a| *a < 0.0).sum();
    (from.elapsed(), -free)
}

fn area(ring: &[P2]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| a.x * b.y - b.x * a.y).sum::<f64>() / 2.0
}

/// The part of a convex ring in a box.
fn cut(ring: Vec<P2>, to: &Bounds) -> Vec<P2> {
    let sides = [(V2::x(), to.max.x), (-V2::x(), -to.min.x), (V2::y(), to.max.y), (-V2::y(), -to.min.y)];
    sides.iter().fold(ring, |ring, (out, limit)| {
        let over = |p: &P2| out.dot(&p.coords) - limit;
        let mut kept = Vec::new();
        for (p, q) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            if over(p) <= 0.0 {
                kept.push(*p);
            }
            if over(p) * over(q) < 0.0 {
                kept.push(p + (q - p) * (over(p) / (over(p) - over(q))));
            }
        }
        kept
    })
}

fn least(times: usize, mut run: impl FnMut() -> bool) -> Duration {
    let once = |run: &mut dyn FnMut() -> bool| {
        let from = Instant::now();
        assert!(run());
        from.elapsed()
    };
    (0..rounds(times)).map(|_| once(&mut run)).min().unwrap_or_default()
}

fn ms(d: Duration) -> f64 {
    d.as_secs_f64() * 1e3
}

/// The most memory this process ever held, where the system tells it.
fn peak_mb() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|l| l.starts_with("VmHWM:")).unwrap_or("VmHWM: 0 kB");
    line.split_whitespace().nth(1).and_then(|kb| kb.parse::<f64>().ok()).unwrap_or(0.0) / 1024.0
}
