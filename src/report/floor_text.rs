//! The floor on the page a person reads.

use super::figures::Show;
use super::floor::{Floor, SlopeOut, floor, station};
use crate::layout::Layout;
use crate::units::INCH_MM;

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
            lines.push(format!("       the tyres stand up to {} off it", figure(off, error, show)));
        }
        None => lines.push(format!("Level: not known, {plane_unknown}")),
    }
    lines.push(match &floor.one_plane {
        Some(p) => {
            let way = if p.off_mm < 0.0 { "below" } else { "above" };
            let off = figure(p.off_mm.abs(), p.error_mm, show);
            format!(
                "One plane with the wheels: the floor lies up to {off} {way} it, at {} ({})",
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
            figure(r.gap_mm, r.error_mm, show),
            show.one(r.over_mm),
            figure(r.allowed_mm, None, show),
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
fn figure(mm: f64, error: Option<f64>, show: Show) -> String {
    match show {
        Show::Mm => format!("{mm:.1}{} mm", error.map_or(String::new(), |e| format!(" ±{e:.1}"))),
        Show::FeetInches => {
            let error = error.map_or(String::new(), |e| format!(" ±{:.2}", e / INCH_MM));
            format!("{:.2}{error} in", mm / INCH_MM)
        }
    }
}

/// The height each face is set to above the floor it stands on.
fn heights(layout: &Layout, show: Show) -> Vec<String> {
    let mut lines = Vec::new();
    for setup in &layout.setups {
        let Ok(wheels) = layout.wheels(Some(setup)) else { continue };
        for s in &setup.stations {
            let told = station(layout, setup, s, Some(&wheels));
            let (Some(off), Some(set)) = (told.floor_mm, told.set_height_mm) else { continue };
            let flat = s.place.as_ref().is_ok_and(|stand| stand.size.flat);
            if flat {
                continue;
            }
            let angle = match (&told.sensor, told.floor_angle_deg) {
                (Some(sensor), Some(deg)) => {
                    let error = told.floor_angle_error_deg.map_or(String::new(), |e| format!(" ±{e:.2}"));
                    format!(", {:.2}{error} degrees at the {sensor}", deg.abs())
                }
                _ => String::new(),
            };
            let way = if off < 0.0 { "below" } else { "above" };
            lines.push(format!(
                "Set {} ({}) {} above its own floor, which lies {} {way} the wheels' plane{angle}",
                s.name,
                setup.name,
                figure(set, told.floor_error_mm, show),
                figure(off.abs(), None, show),
            ));
        }
    }
    lines
}
