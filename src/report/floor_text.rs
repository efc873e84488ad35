//! The floor on the page a person reads.

use super::floor::{SlopeOut, floor, station};
use crate::layout::Layout;

/// The lines of the page; empty without a survey.
pub fn lines(layout: &Layout) -> Vec<String> {
    let Some(floor) = floor(layout) else { return Vec::new() };
    let mut lines = Vec::new();
    let way = |s: &SlopeOut, up: &str, down: &str| {
        let error = s.error_mm_per_m.map_or(String::new(), |e| format!(" ±{e:.2}"));
        let word = if s.mm_per_m < 0.0 { down } else { up };
        format!(
            "{:.2}{error} mm per m ({:.2} %, {:.3} degrees) {word}",
            s.mm_per_m.abs(),
            s.percent.abs(),
            s.deg.abs()
        )
    };
    match &floor.level {
        Some(level) => {
            lines.push(format!(
                "Level: the wheels' plane slopes {}",
                way(&level.forward, "up to the front", "down to the front")
            ));
            lines.push(format!("       and {}", way(&level.left, "up to the left", "down to the left")));
        }
        None => lines
            .push("Level: not known, a tyre stands off the surveyed floor or the vehicle is raised".into()),
    }
    lines.push(match &floor.one_plane {
        Some(p) => {
            let way = if p.off_mm < 0.0 { "below" } else { "above" };
            format!(
                "One plane with the wheels: the floor lies up to {:.1}{} mm {way} it, at {} ({})",
                p.off_mm.abs(),
                give_or_take(p.error_mm),
                p.station,
                p.setup
            )
        }
        None => "One plane with the wheels: not known, no station stands on the surveyed floor".into(),
    });
    let best = floor.flat.din_18202.iter().rev().find(|r| r.met);
    let flat = match best {
        Some(r) => format!(
            "keeps DIN 18202 table 3 {}: gap {:.1}{} mm over {:.1} m, allowed {:.0}",
            r.row,
            r.gap_mm,
            give_or_take(r.error_mm),
            r.over_mm / 1000.0,
            r.allowed_mm
        ),
        None if floor.flat.din_18202.is_empty() => "too few spots".into(),
        None => "keeps no row of DIN 18202 table 3".into(),
    };
    let f = match (floor.flat.astm_e1155_ff, floor.flat.astm_e1155_fl) {
        (Some(ff), Some(fl)) => format!("; FF {ff:.0}, FL {fl:.0} (ASTM E1155)"),
        _ => String::new(),
    };
    lines.push(format!("Flat: {flat}{f}; from {} spots, for information", floor.spots));
    lines.extend(heights(layout));
    lines
}

/// A standard error behind its figure, mm.
fn give_or_take(error: Option<f64>) -> String {
    error.map_or(String::new(), |e| format!(" ±{e:.1}"))
}

/// The height each face is set to above the floor it stands on.
fn heights(layout: &Layout) -> Vec<String> {
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
            let error = give_or_take(told.floor_error_mm);
            let angle = match (&told.sensor, told.floor_angle_deg) {
                (Some(sensor), Some(deg)) => {
                    let error = told.floor_angle_error_deg.map_or(String::new(), |e| format!(" ±{e:.2}"));
                    format!(", {:.2}{error} degrees at the {sensor}", deg.abs())
                }
                _ => String::new(),
            };
            let way = if off < 0.0 { "below" } else { "above" };
            lines.push(format!(
                "Set {} ({}) {set:.1}{error} mm above its own floor, which lies {:.1} mm {way} the wheels' plane{angle}",
                s.name,
                setup.name,
                off.abs()
            ));
        }
    }
    lines
}
