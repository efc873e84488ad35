//! The corners of a taped bay as a page and as JSON.

use std::fmt::Write;

use serde::Serialize;

use super::json::{tidy, to_text};
use crate::geometry::adjust::Doubt;
use crate::layout::taped::{Corners, NoCorners, Tape};
use crate::model::Bay;
use crate::model::taped::{JambEnd, TapedPoint};
use crate::phrases::{Phrase, Say, phrases, say};
use crate::units::{decimals_of, format_mm_exact, printable};

phrases! { pub in "corners";
    NO_TAPES = "The bay lists no tapes: add `taped: [(0, 1, 5502), ...]` to its file.";
    OPEN = "{missing} {missing|reading is|readings are} missing: the tapes do not settle where {points} {n|is|are}.";
    AND_MORE = "{points} and {more} more";
    CONTRADICTING = "The readings contradict each other: no floor comes near to all of them. Read the longest ones again.";
    CROSSED = "The readings give walls that cross, or a floor turned over: a reading is far off, or `floor` lists the corners otherwise than they were taped.";
    NOTHING_CHECKED = "The corners are known, but no reading checks another: a mistake would not be seen.";
    FITS = "The readings fit each other; {spare} {spare|reading|readings} to spare.";
    FITS_IN_PART = "The readings that check each other fit; {spare} {spare|reading|readings} to spare.";
    UNCHECKED = "No other reading checks {tapes}: a mistake there would not be seen.";
    DOUBT_MUCH = "The tape from {tape} does not fit the others: it reads {off} mm too much. Read it again.";
    DOUBT_LITTLE = "The tape from {tape} does not fit the others: it reads {off} mm too little. Read it again.";
    UNDECIDED = "One of the readings is wrong, and with {spare} {spare|reading|readings} to spare it cannot be told which: they miss each other by up to {off} mm.";
    TAPE_NEXT = "Tape {tapes}.";
    CHECK_NEXT = "To check, tape {tapes}.";
    SETTLE_NEXT = "To settle it, tape {tapes}.";
    READ = "{tape} ({mm} mm)";
    BETWEEN = "{from} to {to}";
    CORNER = "corner {n}";
    JAMB_FROM = "{door} from";
    JAMB_TO = "{door} to";
    COMMA = ", ";
    CORNERS_HEAD = "CORNERS                 x          y   give or take";
    ALONG = "{jamb}: {mm} along side {side}";
    TAPES_HEAD = "TAPES                read     adjusted minus read";
    IN_DOUBT = "IN DOUBT";
    NOT_CHECKED = "NOT CHECKED";
}

/// More points or tapes than this are counted, not named.
const NAMED: usize = 6;

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
    /// Tapes to read next: where something is open, where it cannot be told which reading is wrong, or to check what no
    /// reading checks.
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
    /// Whether another reading would show a mistake in this one; null where there are no corners.
    checked: Option<bool>,
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
        checked: corners.map(|c| !c.unchecked.contains(&i)),
    });
    let placed = corners.map(|c| c.corners.iter().zip(&c.errors)).into_iter().flatten();
    let jambs = corners.map(|c| c.jambs.iter()).into_iter().flatten();
    to_text(&Out {
        schema: 1,
        determined: corners.is_some(),
        says: says(bay, found, Say::PLAIN),
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
pub fn page(bay: &Bay, found: &Result<Corners, NoCorners>, say: Say) -> String {
    let mut out = format!("{}\n\n{}\n", printable(&bay.name.text), says(bay, found, say));
    // writing to a text cannot fail
    let _ = found.as_ref().map(|corners| tables(bay, corners, say, &mut out));
    out
}

fn tables(bay: &Bay, corners: &Corners, say: Say, out: &mut String) -> std::fmt::Result {
    let mm = |v: f64| format_mm_exact(if v.abs() < 0.05 { 0.0 } else { v }, 1);
    writeln!(out, "\n{}", say.word(CORNERS_HEAD))?;
    for (n, (p, error)) in corners.corners.iter().zip(&corners.errors).enumerate() {
        writeln!(out, "  {n:<10} {:>12} {:>10}   {}, {}", mm(p.x), mm(p.y), mm(error.x), mm(error.y))?;
    }
    for (door, ends) in &corners.jambs {
        for (at, phrase) in ends.iter().zip([JAMB_FROM, JAMB_TO]) {
            let Some(at) = at else { continue };
            let door = &bay.doorways[*door];
            let jamb = say!(say, phrase, door = printable(&door.name.text));
            writeln!(out, "  {}", say!(say, ALONG, jamb, mm = mm(*at), side = door.side.index))?;
        }
    }
    writeln!(out, "\n{}", say.word(TAPES_HEAD))?;
    for (i, tape) in bay.taped.iter().enumerate() {
        let mark = match corners.doubt == Doubt::Reading(i) {
            true => format!("   {}", say.word(IN_DOUBT)),
            false if corners.unchecked.contains(&i) => format!("   {}", say.word(NOT_CHECKED)),
            false => String::new(),
        };
        let short = |p: &TapedPoint| match p {
            TapedPoint::Corner(n, _) => n.to_string(),
            TapedPoint::Jamb(..) => point(p, say),
        };
        let between = say!(say, BETWEEN, from = short(&tape.0), to = short(&tape.1));
        let (read, residual) = (format_mm_exact(tape.2, 1), mm(corners.residuals[i]));
        writeln!(out, "  {between:<16} {read:>8} {residual:>10}{mark}")?;
    }
    Ok(())
}

/// A sentence or more: whether the corners are known, which reading does not fit, which no other reading checks, and what to
/// tape next.
pub fn says(bay: &Bay, found: &Result<Corners, NoCorners>, say: Say) -> String {
    match found {
        Ok(corners) => known(bay, corners, say),
        Err(NoCorners::NoTapes) => say.word(NO_TAPES),
        Err(NoCorners::Open { points, missing, needed }) => {
            let open =
                say!(say, OPEN, missing, points = some(points, |p| point(p, say), say), n = points.len());
            [vec![open], asked(TAPE_NEXT, needed, say)].concat().join(" ")
        }
        Err(NoCorners::Contradicting) => say.word(CONTRADICTING),
        Err(NoCorners::Crossed) => say.word(CROSSED),
    }
}

fn known(bay: &Bay, corners: &Corners, say: Say) -> String {
    let spare = corners.redundant;
    let read = |i: &usize| {
        let t = &bay.taped[*i];
        say!(say, READ, tape = between(&t.0, &t.1, say), mm = format_mm_exact(t.2, decimals_of(t.2, 1)))
    };
    let whole = |mm: f64| format_mm_exact(mm.abs(), 0);
    let mut said = vec![match corners.doubt {
        Doubt::None if spare == 0 => say.word(NOTHING_CHECKED),
        Doubt::None if corners.unchecked.is_empty() => say!(say, FITS, spare),
        Doubt::None => say!(say, FITS_IN_PART, spare),
        Doubt::Reading(i) => {
            let off = corners.residuals[i];
            let phrase = if off < 0.0 { DOUBT_MUCH } else { DOUBT_LITTLE };
            say!(say, phrase, tape = read(&i), off = whole(off))
        }
        Doubt::Undecided => {
            let off = corners.residuals.iter().fold(0.0f64, |m, v| m.max(v.abs()));
            say!(say, UNDECIDED, spare, off = whole(off))
        }
    }];
    if spare > 0 && !corners.unchecked.is_empty() {
        said.push(say!(say, UNCHECKED, tapes = some(&corners.unchecked, read, say)));
    }
    let phrase = if corners.doubt == Doubt::Undecided { SETTLE_NEXT } else { CHECK_NEXT };
    said.extend(asked(phrase, &corners.next, say));
    said.join(" ")
}

fn asked(phrase: Phrase, tapes: &[Tape], say: Say) -> Vec<String> {
    let each: Vec<String> = tapes.iter().map(|(a, b)| between(a, b, say)).collect();
    if each.is_empty() { Vec::new() } else { vec![say!(say, phrase, tapes = say.list(each, COMMA))] }
}

fn next(found: &Result<Corners, NoCorners>) -> &[Tape] {
    match found {
        Ok(corners) => &corners.next,
        Err(NoCorners::Open { needed, .. }) => needed,
        Err(_) => &[],
    }
}

/// The first of them by name, the others by their number.
fn some<T>(items: &[T], name: impl Fn(&T) -> String, say: Say) -> String {
    let named = say.list(items.iter().take(NAMED).map(name), COMMA);
    match items.len().saturating_sub(NAMED) {
        0 => named,
        more => say!(say, AND_MORE, points = named, more),
    }
}

fn between(from: &TapedPoint, to: &TapedPoint, say: Say) -> String {
    say!(say, BETWEEN, from = point(from, say), to = point(to, say))
}

fn point(point: &TapedPoint, say: Say) -> String {
    match point {
        TapedPoint::Corner(n, _) => say!(say, CORNER, n),
        TapedPoint::Jamb(door, JambEnd::From) => say!(say, JAMB_FROM, door = printable(&door.text)),
        TapedPoint::Jamb(door, JambEnd::To) => say!(say, JAMB_TO, door = printable(&door.text)),
    }
}
