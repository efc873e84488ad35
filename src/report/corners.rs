//! The corners of a taped bay as a page and as JSON.

use std::fmt::Write;

use serde::Serialize;

use super::json::{tidy, to_text};
use crate::geometry::adjust::Doubt;
use crate::layout::taped::{Corners, NoCorners};
use crate::model::Bay;
use crate::model::taped::TapedPoint;
use crate::units::{format_mm_exact, printable};

#[derive(Serialize)]
struct Out {
    schema: u32,
    determined: bool,
    says: String,
    corners: Vec<CornerOut>,
    jambs: Vec<JambOut>,
    readings: Vec<ReadingOut>,
    redundant: usize,
    sigma0: Option<f64>,
    /// Tapes to read next: where something is open, or where it cannot be told which reading is wrong.
    tape_next: Vec<[String; 2]>,
}

#[derive(Serialize)]
struct CornerOut {
    n: usize,
    x_mm: f64,
    y_mm: f64,
    error_mm: [f64; 2],
}

#[derive(Serialize)]
struct JambOut {
    door: String,
    from_mm: Option<f64>,
    to_mm: Option<f64>,
}

#[derive(Serialize)]
struct ReadingOut {
    from: String,
    to: String,
    mm: f64,
    residual_mm: Option<f64>,
    doubt: bool,
}

/// `corners --json`.
pub fn json(bay: &Bay, found: &Result<Corners, NoCorners>) -> String {
    let corners = found.as_ref().ok();
    let readings = bay.taped.iter().enumerate().map(|(i, t)| ReadingOut {
        from: t.0.to_string(),
        to: t.1.to_string(),
        mm: tidy(t.2),
        residual_mm: corners.map(|c| tidy(c.residuals[i])),
        doubt: corners.is_some_and(|c| c.doubt == Doubt::Reading(i)),
    });
    let placed = corners.map(|c| c.corners.iter().zip(&c.errors)).into_iter().flatten();
    let jambs = corners.map(|c| c.jambs.iter()).into_iter().flatten();
    to_text(&Out {
        schema: 1,
        determined: corners.is_some(),
        says: says(bay, found),
        corners: placed
            .enumerate()
            .map(|(n, (p, error))| CornerOut {
                n,
                x_mm: tidy(p.x),
                y_mm: tidy(p.y),
                error_mm: [tidy(error.x), tidy(error.y)],
            })
            .collect(),
        jambs: jambs
            .map(|(door, ends)| JambOut {
                door: bay.doorways[*door].name.to_string(),
                from_mm: ends[0].map(tidy),
                to_mm: ends[1].map(tidy),
            })
            .collect(),
        readings: readings.collect(),
        redundant: corners.map_or(0, |c| c.redundant),
        sigma0: corners.and_then(|c| c.sigma0).map(tidy),
        tape_next: next(found).iter().map(|(a, b)| [a.to_string(), b.to_string()]).collect(),
    })
}

/// The same for a person.
pub fn page(bay: &Bay, found: &Result<Corners, NoCorners>) -> String {
    let mut out = format!("{}\n\n{}\n", printable(&bay.name.text), says(bay, found));
    // writing to a text cannot fail
    let _ = found.as_ref().map(|corners| tables(bay, corners, &mut out));
    out
}

fn tables(bay: &Bay, corners: &Corners, out: &mut String) -> std::fmt::Result {
    let mm = |v: f64| format_mm_exact(if v.abs() < 0.05 { 0.0 } else { v }, 1);
    writeln!(out, "\nCORNERS                 x          y   give or take")?;
    for (n, (p, error)) in corners.corners.iter().zip(&corners.errors).enumerate() {
        writeln!(out, "  {n:<10} {:>12} {:>10}   {}, {}", mm(p.x), mm(p.y), mm(error.x), mm(error.y))?;
    }
    for (door, ends) in &corners.jambs {
        for (at, which) in ends.iter().zip(["from", "to"]) {
            let Some(at) = at else { continue };
            let door = &bay.doorways[*door];
            writeln!(
                out,
                "  {} {which}: {} along side {}",
                printable(&door.name.text),
                mm(*at),
                door.side.index
            )?;
        }
    }
    writeln!(out, "\nTAPES                read     adjusted minus read")?;
    for (i, tape) in bay.taped.iter().enumerate() {
        let doubt = if corners.doubt == Doubt::Reading(i) { "   IN DOUBT" } else { "" };
        let between = format!("{} to {}", tape.0, tape.1);
        writeln!(
            out,
            "  {:<16} {:>8} {:>10}{doubt}",
            printable(&between),
            format_mm_exact(tape.2, 1),
            mm(corners.residuals[i])
        )?;
    }
    Ok(())
}

/// One sentence, or two: whether the corners are known, which reading does not fit, and what to tape next.
pub fn says(bay: &Bay, found: &Result<Corners, NoCorners>) -> String {
    let tape = |i: usize| {
        let t = &bay.taped[i];
        format!("{} to {} ({} mm)", point(&t.0), point(&t.1), format_mm_exact(t.2, 1))
    };
    let next = tapes(next(found));
    match found {
        Ok(corners) => match corners.doubt {
            Doubt::None if corners.redundant == 0 => {
                "The corners are known, but no reading checks another: one more tape would.".into()
            }
            Doubt::None => format!("The readings fit each other; {} to spare.", count(corners.redundant, "reading")),
            Doubt::Reading(i) => format!(
                "The tape from {} does not fit the others: it reads {} mm too {}. Read it again.",
                tape(i),
                format_mm_exact(corners.residuals[i].abs(), 0),
                if corners.residuals[i] < 0.0 { "much" } else { "little" }
            ),
            Doubt::Undecided => {
                let worst = corners.residuals.iter().fold(0.0f64, |m, v| m.max(v.abs()));
                let more = if next.is_empty() { "every tape again".into() } else { next };
                format!(
                    "One of the readings is wrong, and with {} to spare it cannot be told which: they miss each other by up to {} mm. To settle it, tape {more}.",
                    count(corners.redundant, "reading"),
                    format_mm_exact(worst, 0)
                )
            }
        },
        Err(NoCorners::NoTapes) => "The bay lists no tapes: add `taped: [(0, 1, 5502), ...]` to its file.".into(),
        Err(NoCorners::Open { points, missing, .. }) => {
            let points: Vec<String> = points.iter().map(point).collect();
            let more = if next.is_empty() { String::new() } else { format!(" Tape {next}.") };
            format!(
                "{} missing: the tapes do not settle where {} {}.{more}",
                count(*missing, "reading") + if *missing == 1 { " is" } else { " are" },
                points.join(", "),
                if points.len() == 1 { "is" } else { "are" }
            )
        }
        Err(NoCorners::Contradicting) => {
            "The readings contradict each other: no floor comes near to all of them. Read the longest ones again.".into()
        }
        Err(NoCorners::Crossed) => {
            "The readings give walls that cross, or a floor turned over: a reading is far off, or `floor` lists the corners otherwise than they were taped.".into()
        }
        Err(NoCorners::NoFloor) => "The floor's first side has no length: give `floor` roughly as it is.".into(),
    }
}

fn next(found: &Result<Corners, NoCorners>) -> &[(TapedPoint, TapedPoint)] {
    match found {
        Ok(corners) => &corners.further,
        Err(NoCorners::Open { needed, .. }) => needed,
        Err(_) => &[],
    }
}

fn point(point: &TapedPoint) -> String {
    match point {
        TapedPoint::Corner(n, _) => format!("corner {n}"),
        TapedPoint::Jamb(..) => point.to_string(),
    }
}

fn tapes(tapes: &[(TapedPoint, TapedPoint)]) -> String {
    let each: Vec<String> = tapes.iter().map(|(a, b)| format!("{} to {}", point(a), point(b))).collect();
    each.join(", ")
}

fn count(n: usize, what: &str) -> String {
    if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") }
}
