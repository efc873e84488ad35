//! The floor on the page a person reads.

use super::figures::Show;
use super::floor::{Floor, SlopeOut, floor, station};
use crate::layout::Layout;
use crate::model::language::FaceEdge;
use crate::phrases::{Phrase, Say, phrases, say};
use crate::units::{INCH_MM, Round, format_fixed};

phrases! { pub(super) in "floor";
    LEVEL = "Level: the wheels' plane slopes {slope}";
    AND_SLOPES = "       and {slope}";
    TYRES_OFF = "       the tyres stand up to {off} off it";
    LEVEL_UNKNOWN = "Level: not known, {why}";
    RAISED = "the vehicle is raised, the survey says nothing of the lift's plane";
    OFF_SURVEY = "a tyre stands off the surveyed floor";
    NO_TARGET = "no target has its place on the surveyed floor";
    UP_TO_FRONT = "up to the front";
    DOWN_TO_FRONT = "down to the front";
    UP_TO_LEFT = "up to the left";
    DOWN_TO_LEFT = "down to the left";
    SLOPES_MM = "{slope} mm per m ({percent} %, {deg} degrees) {way}";
    SLOPES_IN = "{slope} in per ft ({percent} %, {deg} degrees) {way}";
    BELOW = "One plane with the wheels: the floor lies up to {off} below it, at {station} ({setup}){otherwise}";
    ABOVE = "One plane with the wheels: the floor lies up to {off} above it, at {station} ({setup}){otherwise}";
    PLANE_UNKNOWN = "One plane with the wheels: not known, {why}";
    FLAT = "Flat: {din}; {f}; from {n} {n|spot|spots}, for information";
    NO_GAP = "keeps DIN 18202 table 3 {row}: no gap anywhere";
    GAP = "keeps DIN 18202 table 3 {row}: gap {gap} over {length}, allowed {allowed}";
    TOO_FEW = "too few spots";
    NO_ROW = "keeps no row of DIN 18202 table 3";
    F_NUMBERS = "FF {ff}, FL {fl} (ASTM E1155)";
    F_UNKNOWN = "F-numbers (ASTM E1155) not known, the spots are too far apart";
    ROW_1 = "row 1, unfinished slabs";
    ROW_2 = "row 2, industrial floors and unfinished with raised demand";
    ROW_3 = "row 3, finished floors";
    ROW_4 = "row 4, finished with raised demand";
    OTHER_DIAGONAL = "       joined by their other diagonal the spots put the floor {more} under the {tyre} tyre";
    OTHERWISE = "; joined by their other diagonal the spots put it {more}";
    FRONT_LEFT = "front left";
    FRONT_RIGHT = "front right";
    REAR_LEFT = "rear left";
    REAR_RIGHT = "rear right";
    HIGHER = "{mm} higher";
    LOWER = "{mm} lower";
    SET = "Set the {edge} of {station} ({setup}) {height} above its own floor{foot}, which lies {lies}{angle}{otherwise}";
    LOWER_EDGE = "lower edge";
    MIDDLE = "middle";
    UPPER_EDGE = "upper edge";
    ITS_LOWER_EDGE = " (its lower edge {height})";
    LIES_BELOW = "{mm} below the wheels' plane";
    LIES_ABOVE = "{mm} above the wheels' plane";
    AT_SENSOR = ", {deg} degrees at the {sensor}";
}

/// The rows of DIN 18202 table 3 in their order.
const ROWS: [Phrase; 4] = [ROW_1, ROW_2, ROW_3, ROW_4];

/// The lines of the page; empty without a survey.
pub fn lines(layout: &Layout, say: Say) -> Vec<String> {
    let Some(floor) = floor(layout) else { return Vec::new() };
    let show = say.show;
    let mut lines = Vec::new();
    let plane_unknown = say.word(if layout.raise != 0.0 { RAISED } else { OFF_SURVEY });
    match &floor.level {
        Some(level) => {
            let front = slope(&level.forward, say, UP_TO_FRONT, DOWN_TO_FRONT);
            let left = slope(&level.left, say, UP_TO_LEFT, DOWN_TO_LEFT);
            lines.push(say!(say, LEVEL, slope = front));
            lines.push(say!(say, AND_SLOPES, slope = left));
            let off = level.contacts_off_mm.iter().fold(0.0, |most: f64, v| most.max(v.abs()));
            let error = level.contacts_error_mm.map(|e| e.iter().copied().fold(0.0, f64::max));
            lines.push(say!(say, TYRES_OFF, off = figure(off, error, Round::Up, show)));
            lines.extend(tyres_otherwise(&level.contacts_other_diagonal_mm, say));
        }
        None => lines.push(say!(say, LEVEL_UNKNOWN, why = plane_unknown)),
    }
    lines.push(match &floor.one_plane {
        Some(p) => {
            let phrase = if p.off_mm < 0.0 { BELOW } else { ABOVE };
            let off = figure(p.off_mm.abs(), p.error_mm, Round::Up, show);
            let otherwise = otherwise(p.other_diagonal_mm, say);
            say!(say, phrase, off, station = p.station, setup = p.setup, otherwise)
        }
        None if floor.level.is_none() => say!(say, PLANE_UNKNOWN, why = plane_unknown),
        None => say!(say, PLANE_UNKNOWN, why = say.word(NO_TARGET)),
    });
    lines.push(flat(&floor, say));
    lines.extend(heights(layout, say));
    lines
}

fn flat(floor: &Floor, say: Say) -> String {
    let show = say.show;
    let best = floor.flat.din_18202.iter().zip(ROWS).rev().find(|(r, _)| r.met);
    let din = match best {
        Some((r, row)) if r.gap_mm == 0.0 => say!(say, NO_GAP, row = say.word(row)),
        Some((r, row)) => say!(
            say,
            GAP,
            row = say.word(row),
            gap = figure(r.gap_mm, r.error_mm, Round::Up, show),
            length = show.one(r.over_mm),
            allowed = figure(r.allowed_mm, None, Round::Nearest, show),
        ),
        None if floor.flat.din_18202.is_empty() => say.word(TOO_FEW),
        None => say.word(NO_ROW),
    };
    let f = match (floor.flat.astm_e1155_ff, floor.flat.astm_e1155_fl) {
        (Some(ff), Some(fl)) => say!(say, F_NUMBERS, ff = format!("{ff:.0}"), fl = format!("{fl:.0}")),
        _ => say.word(F_UNKNOWN),
    };
    say!(say, FLAT, din, f, n = floor.spots)
}

/// Where a tyre's height rests on how the spots are joined.
fn tyres_otherwise(higher: &[Option<f64>; 4], say: Say) -> Option<String> {
    let tyres = [FRONT_LEFT, FRONT_RIGHT, REAR_LEFT, REAR_RIGHT];
    let known = tyres.iter().zip(higher).filter_map(|(tyre, mm)| Some((tyre, (*mm)?)));
    let (tyre, mm) = known.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    let more = higher_by(mm, say)?;
    Some(say!(say, OTHER_DIAGONAL, more, tyre = say.word(*tyre)))
}

/// The same at a target, as a clause behind its sentence; empty where nothing rests on it.
fn otherwise(higher: Option<f64>, say: Say) -> String {
    let more = higher.and_then(|mm| higher_by(mm, say));
    more.map_or(String::new(), |more| say!(say, OTHERWISE, more))
}

/// "1.5 mm higher"; nothing where it does not show.
fn higher_by(mm: f64, say: Say) -> Option<String> {
    let phrase = if mm < 0.0 { LOWER } else { HIGHER };
    (mm.abs() >= 0.05).then(|| say!(say, phrase, mm = figure(mm.abs(), None, Round::Nearest, say.show)))
}

fn slope(s: &SlopeOut, say: Say, up: Phrase, down: Phrase) -> String {
    let way = say.word(if s.mm_per_m < 0.0 { down } else { up });
    // 1 mm per m is 0.012 in per ft
    let (scale, phrase, digits) = match say.show {
        Show::Mm => (1.0, SLOPES_MM, 2),
        Show::FeetInches => (0.012, SLOPES_IN, 4),
    };
    let with = |value: f64, error: Option<f64>, digits: usize| {
        let error = error.map_or(String::new(), |e| format!(" ±{e:.digits$}"));
        format!("{:.digits$}{error}", value.abs())
    };
    let slope = with(s.mm_per_m * scale, s.error_mm_per_m.map(|e| e * scale), digits);
    let (percent, deg) = (with(s.percent, s.error_percent, 2), with(s.deg, s.error_deg, 3));
    say!(say, phrase, slope, percent, deg, way)
}

/// A height with its standard error: tenths of a mm, or hundredths of an inch.
fn figure(mm: f64, error: Option<f64>, round: Round, show: Show) -> String {
    let (unit, word, decimals) = match show {
        Show::Mm => (1.0, "mm", 1),
        Show::FeetInches => (INCH_MM, "in", 2),
    };
    let text = |mm: f64, round| format_fixed(mm / unit, decimals, round);
    let error = error.map_or(String::new(), |e| format!(" ±{}", text(e, Round::Nearest)));
    format!("{}{error} {word}", text(mm, round))
}

/// The height each face is set to above the floor it stands on, by the edge whose height the procedure prints.
fn heights(layout: &Layout, say: Say) -> Vec<String> {
    let show = say.show;
    let mut lines = Vec::new();
    for setup in &layout.setups {
        let Ok(wheels) = layout.wheels(Some(setup)) else { continue };
        for s in &setup.stations {
            let told = station(layout, setup, s, Some(&wheels));
            let (Some(off), Some(lower)) = (told.floor_mm, told.set_height_mm) else { continue };
            let Some(set) = told.set_edge_mm else { continue };
            let angle = match (&told.sensor, told.floor_angle_deg) {
                (Some(sensor), Some(deg)) => {
                    let two = |deg| format_fixed(deg, 2, Round::Nearest);
                    let error = told.floor_angle_error_deg.map_or(String::new(), |e| format!(" ±{}", two(e)));
                    say!(say, AT_SENSOR, deg = format!("{}{error}", two(deg.abs())), sensor)
                }
                _ => String::new(),
            };
            let edge = s.def.of;
            let foot = match edge {
                FaceEdge::Lower => String::new(),
                _ => say!(say, ITS_LOWER_EDGE, height = figure(lower, None, Round::Nearest, show)),
            };
            let lies = figure(off.abs(), None, Round::Nearest, show);
            lines.push(say!(
                say,
                SET,
                edge = say.word(match edge {
                    FaceEdge::Lower => LOWER_EDGE,
                    FaceEdge::Middle => MIDDLE,
                    FaceEdge::Upper => UPPER_EDGE,
                }),
                station = s.name,
                setup = setup.name,
                height = figure(set, told.floor_error_mm, Round::Nearest, show),
                foot,
                lies = say!(say, if off < 0.0 { LIES_BELOW } else { LIES_ABOVE }, mm = lies),
                angle,
                otherwise = otherwise(told.other_diagonal_mm, say),
            ));
        }
    }
    lines
}
