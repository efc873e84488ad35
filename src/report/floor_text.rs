//! The floor on the page a person reads.

use super::figures::Show;
use super::floor::{Floor, SlopeOut, floor, station};
use crate::layout::Layout;
use crate::units::{INCH_MM, Round, format_fixed};

/// The lines of the page; empty without a survey.
pub fn lines(layout: &Layout, show: Show) -> Vec<String> {
    let Some(floor) = floor(layout) else { return Vec::new() };
    let mut lines = Vec::new();
    let plane_unknown = match layout.raise != 0.0 {
        true => "the vehicle is raised, the survey says nothing of the lift's plane",
        false => "a tyre stands off the surveyed floor",
    };
    match &floor.level {
        Some(level) => {
            let front = slope(&level.forward, show, "up to the front", "down to the front");
            let left = slope(&level.left, show, "up to the left", "down to the left");
            lines.push(format!("Level: the wheels' plane slopes {front}"));
            lines.push(format!("       and {left}"));
            let off = level.contacts_off_mm.iter().fold(0.0, |most: f64, v| most.max(v.abs()));
            let error = level.contacts_error_mm.map(|e| e.iter().copied().fold(0.0, f64::max));
            lines
                .push(format!("       the tyres stand up to {} off it", figure(off, error, Round::Up, show)));
            lines.extend(tyres_otherwise(&level.contacts_other_diagonal_mm, show));
        }
        None => lines.push(format!("Level: not known, {plane_unknown}")),
    }
    lines.push(match &floor.one_plane {
        Some(p) => {
            let way = if p.off_mm < 0.0 { "below" } else { "above" };
            let off = figure(p.off_mm.abs(), p.error_mm, Round::Up, show);
            let otherwise = otherwise(p.other_diagonal_mm, show);
            format!(
                "One plane with the wheels: the floor lies up to {off} {way} it, at {} ({}){otherwise}",
                p.station, p.setup
            )
        }
        None if floor.level.is_none() => format!("One plane with the wheels: not known, {plane_unknown}"),
        None => {
            "One plane with the wheels: not known, no target has its place on the surveyed floor".to_owned()
        }
    });
    lines.push(flat(&floor, show));
    lines.extend(heights(layout, show));
    lines
}

fn flat(floor: &Floor, show: Show) -> String {
    let best = floor.flat.din_18202.iter().rev().find(|r| r.met);
    let flat = match best {
        Some(r) if r.gap_mm == 0.0 => format!("keeps DIN 18202 table 3 {}: no gap anywhere", r.row),
        Some(r) => format!(
            "keeps DIN 18202 table 3 {}: gap {} over {}, allowed {}",
            r.row,
            figure(r.gap_mm, r.error_mm, Round::Up, show),
            show.one(r.over_mm),
            figure(r.allowed_mm, None, Round::Nearest, show),
        ),
        None if floor.flat.din_18202.is_empty() => "too few spots".into(),
        None => "keeps no row of DIN 18202 table 3".into(),
    };
    let f = match (floor.flat.astm_e1155_ff, floor.flat.astm_e1155_fl) {
        (Some(ff), Some(fl)) => format!("FF {ff:.0}, FL {fl:.0} (ASTM E1155)"),
        _ => "F-numbers (ASTM E1155) not known, the spots are too far apart".to_owned(),
    };
    let spots = if floor.spots == 1 { "1 spot".to_owned() } else { format!("{} spots", floor.spots) };
    format!("Flat: {flat}; {f}; from {spots}, for information")
}

/// Where a tyre's height rests on how the spots are joined.
fn tyres_otherwise(higher: &[Option<f64>; 4], show: Show) -> Option<String> {
    let tyres = ["front left", "front right", "rear left", "rear right"];
    let known = tyres.iter().zip(higher).filter_map(|(tyre, mm)| Some((tyre, (*mm)?)));
    let (tyre, mm) = known.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    let more = higher_by(mm, show)?;
    Some(format!(
        "       joined by their other diagonal the spots put the floor {more} under the {tyre} tyre"
    ))
}

/// The same at a target, as a clause behind its sentence; empty where nothing rests on it.
fn otherwise(higher: Option<f64>, show: Show) -> String {
    let more = higher.and_then(|mm| higher_by(mm, show));
    more.map_or(String::new(), |more| format!("; joined by their other diagonal the spots put it {more}"))
}

/// "1.5 mm higher"; nothing where it does not show.
fn higher_by(mm: f64, show: Show) -> Option<String> {
    let way = if mm < 0.0 { "lower" } else { "higher" };
    (mm.abs() >= 0.05).then(|| format!("{} {way}", figure(mm.abs(), None, Round::Nearest, show)))
}

fn slope(s: &SlopeOut, show: Show, up: &str, down: &str) -> String {
    let way = if s.mm_per_m < 0.0 { down } else { up };
    // 1 mm per m is 0.012 in per ft
    let (scale, unit) = match show {
        Show::Mm => (1.0, "mm per m"),
        Show::FeetInches => (0.012, "in per ft"),
    };
    let digits = if show == Show::Mm { 2 } else { 4 };
    let with = |value: f64, error: Option<f64>, digits: usize| {
        let error = error.map_or(String::new(), |e| format!(" ±{e:.digits$}"));
        format!("{:.digits$}{error}", value.abs())
    };
    format!(
        "{} {unit} ({} %, {} degrees) {way}",
        with(s.mm_per_m * scale, s.error_mm_per_m.map(|e| e * scale), digits),
        with(s.percent, s.error_percent, 2),
        with(s.deg, s.error_deg, 3),
    )
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
fn heights(layout: &Layout, show: Show) -> Vec<String> {
    let mut lines = Vec::new();
    for setup in &layout.setups {
        let Ok(wheels) = layout.wheels(Some(setup)) else { continue };
        for s in &setup.stations {
            let told = station(layout, setup, s, Some(&wheels));
            let (Some(off), Some(lower)) = (told.floor_mm, told.set_height_mm) else { continue };
            let (Some(edge), Some(set)) = (told.set_edge, told.set_edge_mm) else { continue };
            let angle = match (&told.sensor, told.floor_angle_deg) {
                (Some(sensor), Some(deg)) => {
                    let two = |deg| format_fixed(deg, 2, Round::Nearest);
                    let error = told.floor_angle_error_deg.map_or(String::new(), |e| format!(" ±{}", two(e)));
                    format!(", {}{error} degrees at the {sensor}", two(deg.abs()))
                }
                _ => String::new(),
            };
            let way = if off < 0.0 { "below" } else { "above" };
            let part = if edge == "middle" { "middle".to_owned() } else { format!("{edge} edge") };
            let foot = match edge {
                "lower" => String::new(),
                _ => format!(" (its lower edge {})", figure(lower, None, Round::Nearest, show)),
            };
            lines.push(format!(
                "Set the {part} of {} ({}) {} above its own floor{foot}, which lies {} {way} the wheels' plane{angle}{}",
                s.name,
                setup.name,
                figure(set, told.floor_error_mm, Round::Nearest, show),
                figure(off.abs(), None, Round::Nearest, show),
                otherwise(told.other_diagonal_mm, show),
            ));
        }
    }
    lines
}
