//! The floor in the JSON and on the page: level, flat, and one plane with the wheels are three figures.

use serde::Serialize;

use super::json::tidy;
use crate::geometry::V2;
use crate::layout::floor::flatness::DinRow;
use crate::layout::plane::Slope;
use crate::layout::{FloorField, Layout, Setup, Station, WheelPlane};
use crate::model::language::FaceEdge;

/// What the survey says of one station; null where it says nothing.
#[derive(Debug, Default, Serialize)]
pub(super) struct StationFloor {
    /// Local floor above the tyre plane.
    pub floor_mm: Option<f64>,
    /// Height of the face's lower edge above the LOCAL floor.
    pub set_height_mm: Option<f64>,
    /// The edge of the face whose height the procedure prints ("lower", "middle", "upper"), and its height above the
    /// LOCAL floor.
    pub set_edge: Option<&'static str>,
    pub set_edge_mm: Option<f64>,
    /// Standard error of all three, from the survey's reading error.
    pub floor_error_mm: Option<f64>,
    /// By how much higher the floor there would be if the four spots round it were joined by their other diagonal; null
    /// where they can only be joined one way.
    pub other_diagonal_mm: Option<f64>,
    /// The tyre plane there, above the survey's datum.
    pub wheel_plane_mm: Option<f64>,
    /// The sensor that looks at it, and the angle the floor's height means there, up positive: taped from the local floor
    /// without regard to the plane, the target would be aimed off by this.
    pub sensor: Option<String>,
    pub floor_angle_deg: Option<f64>,
    /// Standard error of the angle.
    pub floor_angle_error_deg: Option<f64>,
    /// From the lamps whose candela the bay gives, as points.
    pub lamp_lux: Option<f64>,
}

/// A station on the floor as surveyed.
pub(super) fn station(
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
    let away = sensor.as_ref().map(|(_, eye)| nalgebra::distance(&eye.at.xy(), &stand.middle().xy()));
    let angle = away.map(|away| off.mm.atan2(away).to_degrees());
    // d(angle)/d(mm) = away / (away² + mm²)
    let slope = away.map(|away| (away / (away * away + off.mm * off.mm)).to_degrees());
    let (edge, up) = edge(station.def.of, stand.size.height);
    let set = stand.lower - off.mm;
    StationFloor {
        floor_mm: Some(tidy(off.mm)),
        set_height_mm: Some(tidy(set)),
        set_edge: (!stand.size.flat).then_some(edge),
        set_edge_mm: (!stand.size.flat).then(|| tidy(set + up)),
        floor_error_mm: off.error.map(tidy),
        other_diagonal_mm: layout.stage.survey.other_diagonal(foot).map(tidy),
        wheel_plane_mm: Some(tidy(wheels.plane.at(foot))),
        sensor: sensor.map(|(name, _)| name.to_string()),
        floor_angle_deg: angle.map(tidy),
        floor_angle_error_deg: slope.zip(off.error).map(|(slope, error)| tidy(slope * error)),
        lamp_lux,
    }
}

/// An edge's word, and how far it is above the face's lower edge.
fn edge(of: FaceEdge, height: f64) -> (&'static str, f64) {
    match of {
        FaceEdge::Lower => ("lower", 0.0),
        FaceEdge::Middle => ("middle", height / 2.0),
        FaceEdge::Upper => ("upper", height),
    }
}

/// The floor under and around the vehicle.
#[derive(Debug, Serialize)]
pub(super) struct Floor {
    pub spots: usize,
    pub reading_error_mm: Option<f64>,
    /// Slope of the plane of the wheels, rising forward and to the left; null where it is not known.
    pub level: Option<Level>,
    /// Largest height of the floor at a station off the plane of the wheels; null where none is known.
    pub one_plane: Option<OnePlane>,
    pub flat: Flat,
}

#[derive(Debug, Serialize)]
pub(super) struct Level {
    pub forward: SlopeOut,
    pub left: SlopeOut,
    /// How far each tyre contact is off the plane through all four: front left, front right, rear left, rear right.
    pub contacts_off_mm: [f64; 4],
    /// Standard error of each.
    pub contacts_error_mm: Option<[f64; 4]>,
    /// By how much higher the floor under each would be by the other diagonal between the spots; null where there is no
    /// choice.
    pub contacts_other_diagonal_mm: [Option<f64>; 4],
}

#[derive(Debug, Serialize)]
pub(super) struct SlopeOut {
    pub mm_per_m: f64,
    pub percent: f64,
    pub deg: f64,
    /// Standard errors from the survey's reading error.
    pub error_mm_per_m: Option<f64>,
    pub error_percent: Option<f64>,
    pub error_deg: Option<f64>,
}

#[derive(Debug, Serialize)]
pub(super) struct OnePlane {
    pub off_mm: f64,
    /// Standard error from the survey's reading error.
    pub error_mm: Option<f64>,
    /// By how much higher the floor there would be by the other diagonal between the spots.
    pub other_diagonal_mm: Option<f64>,
    pub setup: String,
    pub station: String,
}

/// Flatness of the surveyed surface, for information: it says nothing of slope.
#[derive(Debug, Serialize)]
pub(super) struct Flat {
    pub din_18202: Vec<RowOut>,
    /// ASTM E1155, null for a surface too small; a perfect floor has no finite number and is null too.
    pub astm_e1155_ff: Option<f64>,
    pub astm_e1155_fl: Option<f64>,
}

#[derive(Debug, Serialize)]
pub(super) struct RowOut {
    pub row: &'static str,
    pub met: bool,
    pub gap_mm: f64,
    pub allowed_mm: f64,
    pub over_mm: f64,
    /// Standard error of the gap; null where there is none.
    pub error_mm: Option<f64>,
}

/// `None` without a survey.
pub(super) fn floor(layout: &Layout) -> Option<Floor> {
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
    let flatness = layout.stage.flatness();
    let f = flatness.f_numbers;
    Some(Floor {
        spots: field.spots().len(),
        reading_error_mm: field.reading_error,
        level: wheels.as_ref().map(|w| Level {
            forward: slope(w, frame.x),
            left: slope(w, frame.y()),
            contacts_off_mm: w.twist().map(tidy),
            contacts_error_mm: contact_errors(w, field),
            contacts_other_diagonal_mm: w.contacts.map(|c| field.other_diagonal(c.xy()).map(tidy)),
        }),
        one_plane: largest(layout),
        flat: Flat {
            din_18202: flatness.din_18202.iter().map(row).collect(),
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
        error_percent: error_mm_per_m.map(|e| tidy(e / 10.0)),
        // d(atan s)/ds = 1 / (1 + s²)
        error_deg: error_mm_per_m.map(|e| tidy((e / 1000.0 / (1.0 + slope.0 * slope.0)).to_degrees())),
        error_mm_per_m,
    }
}

fn contact_errors(wheels: &WheelPlane, field: &FloorField) -> Option<[f64; 4]> {
    let mut errors = [0.0; 4];
    for (error, contact) in errors.iter_mut().zip(&wheels.contacts) {
        *error = tidy(wheels.measured(field, contact.xy())?.error?);
    }
    Some(errors)
}

fn row(row: &DinRow) -> RowOut {
    RowOut {
        row: row.row,
        met: row.met(),
        gap_mm: tidy(row.worst.gap),
        allowed_mm: row.allowed,
        over_mm: tidy(row.worst.over),
        error_mm: row.error.map(tidy),
    }
}

fn largest(layout: &Layout) -> Option<OnePlane> {
    let mut worst: Option<OnePlane> = None;
    for setup in &layout.setups {
        let Ok(wheels) = layout.wheels(Some(setup)) else { continue };
        for station in &setup.stations {
            let Ok(stand) = &station.place else { continue };
            let Some(off) = wheels.measured(&layout.stage.survey, stand.frame.origin) else { continue };
            if worst.as_ref().is_none_or(|w| off.mm.abs() > w.off_mm.abs()) {
                worst = Some(OnePlane {
                    off_mm: tidy(off.mm),
                    error_mm: off.error.map(tidy),
                    other_diagonal_mm: layout.stage.survey.other_diagonal(stand.frame.origin).map(tidy),
                    setup: setup.name.to_string(),
                    station: station.name.to_string(),
                });
            }
        }
    }
    worst
}
