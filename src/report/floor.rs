//! The floor in the JSON and on the page: level, flat, and one plane with the wheels are three figures.

use serde::Serialize;

use super::json::tidy;
use crate::geometry::V2;
use crate::layout::floor::flatness::DinRow;
use crate::layout::plane::Slope;
use crate::layout::{Layout, Setup, Station, WheelPlane};

/// What the survey says of one station; null where it says nothing.
#[derive(Debug, Default, Serialize)]
pub struct StationFloor {
    /// Local floor above the tyre plane.
    pub floor_mm: Option<f64>,
    /// Height of the face's lower edge above the LOCAL floor.
    pub set_height_mm: Option<f64>,
    /// Standard error of both, from the survey's reading error.
    pub floor_error_mm: Option<f64>,
    /// The tyre plane there, above the survey's datum.
    pub wheel_plane_mm: Option<f64>,
    /// The sensor that looks at it, and the angle the floor's height means there, up positive: taped from the local floor
    /// without regard to the plane, the target would be aimed off by this.
    pub sensor: Option<String>,
    pub floor_angle_deg: Option<f64>,
    /// From the lamps whose candela the bay gives, as points.
    pub lamp_lux: Option<f64>,
}

/// A station on the floor as surveyed.
pub fn station(
    layout: &Layout,
    setup: &Setup,
    station: &Station,
    wheels: Option<&WheelPlane>,
) -> StationFloor {
    let Ok(stand) = &station.place else { return StationFloor::default() };
    let lamp_lux = layout.lamp_light(stand).map(tidy);
    let foot = stand.frame.origin;
    let off = wheels.and_then(|w| Some((w, w.measured(&layout.stage.survey, foot)?)));
    let Some((wheels, off)) = off else { return StationFloor { lamp_lux, ..StationFloor::default() } };
    let sensor = layout.sensor_of(setup, station);
    let angle = sensor.as_ref().map(|(_, eye)| {
        let away = nalgebra::distance(&eye.at.xy(), &stand.middle().xy());
        off.mm.atan2(away).to_degrees()
    });
    StationFloor {
        floor_mm: Some(tidy(off.mm)),
        set_height_mm: Some(tidy(stand.lower - off.mm)),
        floor_error_mm: off.error.map(tidy),
        wheel_plane_mm: Some(tidy(wheels.plane.at(foot))),
        sensor: sensor.map(|(name, _)| name.to_string()),
        floor_angle_deg: angle.map(tidy),
        lamp_lux,
    }
}

/// The floor under and around the vehicle.
#[derive(Debug, Serialize)]
pub struct Floor {
    pub spots: usize,
    pub reading_error_mm: Option<f64>,
    /// Slope of the plane of the wheels, rising forward and to the left; null where it is not known.
    pub level: Option<Level>,
    /// Largest height of the floor at a station off the plane of the wheels; null where none is known.
    pub one_plane: Option<OnePlane>,
    pub flat: Flat,
}

#[derive(Debug, Serialize)]
pub struct Level {
    pub forward: SlopeOut,
    pub left: SlopeOut,
    /// How far each tyre contact is off the plane through all four: front left, front right, rear left, rear right.
    pub contacts_off_mm: [f64; 4],
}

#[derive(Debug, Serialize)]
pub struct SlopeOut {
    pub mm_per_m: f64,
    pub percent: f64,
    pub deg: f64,
    /// Standard error from the survey's reading error.
    pub error_mm_per_m: Option<f64>,
}

#[derive(Debug, Serialize)]
pub struct OnePlane {
    pub off_mm: f64,
    pub setup: String,
    pub station: String,
}

/// Flatness of the surveyed surface, for information: it says nothing of slope.
#[derive(Debug, Serialize)]
pub struct Flat {
    pub din_18202: Vec<RowOut>,
    /// ASTM E1155, null for a surface too small; a perfect floor has no finite number and is null too.
    pub astm_e1155_ff: Option<f64>,
    pub astm_e1155_fl: Option<f64>,
}

#[derive(Debug, Serialize)]
pub struct RowOut {
    pub row: &'static str,
    pub met: bool,
    pub gap_mm: f64,
    pub allowed_mm: f64,
    pub over_mm: f64,
}

/// `None` without a survey.
pub fn floor(layout: &Layout) -> Option<Floor> {
    let field = &layout.stage.survey;
    if field.is_empty() {
        return None;
    }
    let frame = layout.frame();
    let wheels = layout.wheels(None).ok();
    let slope = |w: &WheelPlane, way: V2| {
        out(w.plane.along(way), w.slope_error(field, way).map(|e| tidy(e * 1000.0)))
    };
    let finite = |v: f64| v.is_finite().then(|| tidy(v));
    let f = field.f_numbers();
    Some(Floor {
        spots: field.spots().len(),
        reading_error_mm: field.reading_error,
        level: wheels.as_ref().map(|w| Level {
            forward: slope(w, frame.x),
            left: slope(w, frame.y()),
            contacts_off_mm: w.twist().map(tidy),
        }),
        one_plane: largest(layout),
        flat: Flat {
            din_18202: field.din_18202().iter().map(row).collect(),
            astm_e1155_ff: f.and_then(|f| finite(f.flatness)),
            astm_e1155_fl: f.and_then(|f| finite(f.levelness)),
        },
    })
}

fn out(slope: Slope, error_mm_per_m: Option<f64>) -> SlopeOut {
    SlopeOut {
        mm_per_m: tidy(slope.mm_per_m()),
        percent: tidy(slope.percent()),
        deg: tidy(slope.degrees()),
        error_mm_per_m,
    }
}

fn row(row: &DinRow) -> RowOut {
    RowOut {
        row: row.row,
        met: row.met(),
        gap_mm: tidy(row.worst.gap),
        allowed_mm: row.allowed,
        over_mm: tidy(row.worst.over),
    }
}

fn largest(layout: &Layout) -> Option<OnePlane> {
    let mut worst: Option<OnePlane> = None;
    for setup in &layout.setups {
        let Ok(wheels) = layout.wheels(Some(setup)) else { continue };
        for station in &setup.stations {
            let Ok(stand) = &station.place else { continue };
            let Some(off) = wheels.residual(&layout.stage.survey, stand.frame.origin) else { continue };
            if worst.as_ref().is_none_or(|w| off.abs() > w.off_mm.abs()) {
                worst = Some(OnePlane {
                    off_mm: tidy(off),
                    setup: setup.name.to_string(),
                    station: station.name.to_string(),
                });
            }
        }
    }
    worst
}

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
                "One plane with the wheels: the floor lies up to {:.1} mm {way} it, at {} ({})",
                p.off_mm.abs(),
                p.station,
                p.setup
            )
        }
        None => "One plane with the wheels: not known, no station stands on the surveyed floor".into(),
    });
    let best = floor.flat.din_18202.iter().rev().find(|r| r.met);
    let flat = match best {
        Some(r) => format!(
            "keeps DIN 18202 table 3 {}: gap {:.1} mm over {:.1} m, allowed {:.0}",
            r.row,
            r.gap_mm,
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
            let error = told.floor_error_mm.map_or(String::new(), |e| format!(" ±{e:.1}"));
            let angle = match (&told.sensor, told.floor_angle_deg) {
                (Some(sensor), Some(deg)) => format!(", {:.2} degrees at the {sensor}", deg.abs()),
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
