//! `baywright points JOB`: what is set out, as a table for instruments that find points by their coordinates.

use std::fmt::Write;
use std::path::Path;
use std::process::ExitCode;

use super::check::posed;
use super::print::{CANNOT, complain, open, refuse, say};
use crate::files::write_new;
use crate::geometry::P2;
use crate::layout::body::wheel_face;
use crate::layout::{Layout, Setup};
use crate::model::language::Corner;
use crate::units::{Round, format_number};

/// A point to be found: bay axes, mm; its height above the floor survey's datum where that is known.
struct Point {
    name: String,
    at: P2,
    z: Option<f64>,
    /// The lesser of what the maker allows along and across, mm; none where the page gives none.
    tolerance: Option<f64>,
}

pub(super) fn run(job: &Path, out: Option<&Path>) -> ExitCode {
    if let Some(out) = out
        && out.extension().is_none_or(|e| !e.eq_ignore_ascii_case("csv"))
    {
        complain(&format!("{}: points are written as a table: name a file that ends in .csv", out.display()));
        return ExitCode::from(CANNOT);
    }
    let (_, layout) = match open(job) {
        Ok(opened) => opened,
        Err(faults) => return refuse(&faults),
    };
    let layout = match posed(layout) {
        Ok((layout, _)) => layout,
        Err(code) => return code,
    };
    let (points, unplaced) = points(&layout);
    for (name, why) in &unplaced {
        complain(&format!("{name} has no place: {why}"));
    }
    if points.iter().any(|p| p.z.is_none()) {
        complain("where no height is known its cell is empty: the floor survey does not reach there");
    }
    let done = if unplaced.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(1) };
    let text = csv(&points);
    match out {
        None => say(&text, done),
        Some(out) => match write_new(out, text.as_bytes()) {
            Ok(()) => say(&format!("{} points in {}\n", points.len(), out.display()), done),
            Err(fault) => refuse(&[fault]),
        },
    }
}

/// Bay corners and wheels to find one's bearings by, then every mark and every target, and what has no place, with the reason.
fn points(layout: &Layout) -> (Vec<Point>, Vec<(String, String)>) {
    let survey = &layout.stage.survey;
    let on_the_floor = |name: String, at: P2| Point { name, at, z: survey.height(at), tolerance: None };
    let corners = layout.bundle.bay.floor.points.iter().enumerate();
    let mut all: Vec<Point> =
        corners.map(|(i, p)| on_the_floor(format!("corner {i}"), P2::new(p.0, p.1))).collect();
    let wheels = [
        (Corner::FrontLeft, "front left wheel"),
        (Corner::FrontRight, "front right wheel"),
        (Corner::RearLeft, "rear left wheel"),
        (Corner::RearRight, "rear right wheel"),
    ];
    for (corner, name) in wheels {
        let at = layout.frame().to_world(wheel_face(&layout.bundle.vehicle, corner));
        all.push(on_the_floor(name.into(), at));
    }
    let mut unplaced = Vec::new();
    for setup in &layout.setups {
        let called = |name: &str| match layout.setups.len() {
            1 => name.to_owned(),
            _ => format!("{}: {}: {name}", layout.bundle.procedures[setup.procedure].name, setup.name),
        };
        for mark in &setup.marks {
            match &mark.at {
                Ok(at) => all.push(on_the_floor(called(&mark.name), *at)),
                Err(lacks) => {
                    let why: Vec<String> = lacks.0.iter().map(ToString::to_string).collect();
                    unplaced.push((called(&mark.name), format!("not known: {}", why.join(", "))));
                }
            }
        }
        targets(layout, setup, &called, &mut all, &mut unplaced);
    }
    (all, unplaced)
}

/// The middle of each target's face.
fn targets(
    layout: &Layout,
    setup: &Setup,
    called: &dyn Fn(&str) -> String,
    all: &mut Vec<Point>,
    unplaced: &mut Vec<(String, String)>,
) {
    let values = layout.values(setup.procedure);
    let wheels = layout.wheels(Some(setup)).ok();
    for station in &setup.stations {
        let name = called(&format!("{}, middle of its face", station.name));
        let stand = match &station.place {
            Ok(stand) => stand,
            Err(lacks) => {
                let why: Vec<String> = lacks.0.iter().map(ToString::to_string).collect();
                unplaced.push((name, format!("not known: {}", why.join(", "))));
                continue;
            }
        };
        let middle = stand.middle();
        let at = middle.xy();
        let allowed = [&station.def.tolerance.along, &station.def.tolerance.across];
        let allowed = allowed.into_iter().flatten().filter_map(|f| values.of(f).ok());
        all.push(Point {
            name,
            at,
            z: wheels.as_ref().map(|w| w.plane.at(at) + middle.z),
            tolerance: allowed.reduce(f64::min),
        });
    }
}

/// One line a point; names in quotes where they hold a comma, a quote or a break (RFC 4180, but for its line ends).
fn csv(points: &[Point]) -> String {
    let mut text = String::from("name,x,y,z,tolerance\n");
    let figure = |mm: f64| format_number(mm, 2, Round::Nearest);
    for p in points {
        let name = match p.name.contains([',', '"', '\r', '\n']) {
            true => format!("\"{}\"", p.name.replace('"', "\"\"")),
            false => p.name.clone(),
        };
        let or_empty = |mm: Option<f64>| mm.map_or_else(String::new, figure);
        // writing to a text cannot fail
        let _ = writeln!(
            text,
            "{name},{},{},{},{}",
            figure(p.at.x),
            figure(p.at.y),
            or_empty(p.z),
            or_empty(p.tolerance)
        );
    }
    text
}
