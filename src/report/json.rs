//! The answer as JSON. The keys are a contract: others may stand beside them, none changes its meaning.

use serde::Serialize;

use super::moves::{MoveOut, of_own, of_tried};
use super::text::cautions;
use super::way_in::{WayIn, way_in};
use super::words;
use super::{advice as help, floor, setting};
use crate::advice::Advice;
use crate::checks::wording::outcome::{against, conditions};
use crate::checks::{Finding, Judgement, WayTaken};
use crate::driving::DriveIn;
use crate::geometry::P2;
use crate::layout::drawn::{self, FaceRun, OnFace, on_faces};
use crate::layout::values::Values;
use crate::layout::{self, Layout, Station};
use crate::model::Figure;
use crate::model::language::Tolerance;
use crate::phrases::Say;
use crate::units::{norm_deg, printable_json};

/// `check --json`. Without a pose (nothing fits anywhere) the places are left out. `driven`: the way in, where asked for.
pub fn check(
    layout: &Layout,
    judgement: &Judgement,
    advice: &Advice,
    driven: Option<&DriveIn>,
    posed: bool,
) -> String {
    let bundle = &layout.bundle;
    let name = |p: usize| bundle.procedures[p].name.to_string();
    let mut marks = Vec::new();
    let mut stations = Vec::new();
    let mut zones = Vec::new();
    let mut lengths = Vec::new();
    let (mut faces, mut chalk) = (Vec::new(), Vec::new());
    for (placed, rig) in layout.setups.iter().zip(&layout.rig.setups) {
        for length in layout::lengths::lengths(placed) {
            lengths.push(LengthOut {
                procedure: name(placed.procedure),
                setup: placed.name.to_string(),
                from: length.from.to_string(),
                to: length.to.to_string(),
                mm: length.mm.ok().map(tidy),
            });
        }
        faces.extend(
            on_faces(layout, placed).into_iter().map(|l| face_line(name(placed.procedure), &placed.name, l)),
        );
        chalk.extend(drawn::chalk(layout, placed).into_iter().map(|c| ChalkOut {
            procedure: name(placed.procedure),
            setup: placed.name.to_string(),
            from: c.from.to_string(),
            to: c.to.to_string(),
            bay_mm: c.ends.as_ref().ok().map(|(a, b)| [point(a), point(b)]),
            width_mm: c.width.ok().flatten().map(tidy),
        }));
        let own_axes = rig.moved.as_ref().map(|m| m.frame);
        for (mark, own) in placed.marks.iter().zip(&rig.marks) {
            marks.push(MarkOut {
                procedure: name(placed.procedure),
                setup: placed.name.to_string(),
                mark: mark.name.to_string(),
                bay_mm: mark.at.as_ref().ok().map(point),
                vehicle_mm: own.at.as_ref().ok().map(|p| point(&own_axes.map_or(*p, |f| f.to_local(*p)))),
            });
        }
        let values = layout.values(placed.procedure);
        let wheels = layout.wheels(Some(placed)).ok();
        stations.extend(placed.stations.iter().map(|s| {
            let stood = floor::station(layout, placed, s, wheels.as_ref());
            station(name(placed.procedure), &placed.name, s, &values, stood)
        }));
        for zone in &placed.zones {
            let Ok(area) = &zone.place else { continue };
            let band = area.band();
            for outline in area.outlines() {
                zones.push(ZoneOut {
                    procedure: name(placed.procedure),
                    setup: placed.name.to_string(),
                    zone: zone.name.to_string(),
                    bay_mm: outline.points().iter().map(point).collect(),
                    z_mm: [finite(band.lo), finite(band.hi)],
                });
            }
        }
    }
    let out = CheckOut {
        schema: 1,
        verdict: judgement.verdict.word(),
        headline: words::headline(judgement, Say::PLAIN),
        margin_mm: judgement.margin.map(tidy),
        binding: judgement.binding,
        conditions: conditions(&judgement.conditions, Say::PLAIN),
        missing: judgement.missing.iter().map(|m| m.to_string()).collect(),
        thrust_angle_deg: layout.thrust_angle().map(tidy),
        thrust_angle_sign: "positive points right of the centreline; toe-in positive",
        pose: posed.then(|| PoseOut {
            x_mm: tidy(layout.stance.x),
            y_mm: tidy(layout.stance.y),
            heading_deg: tidy(norm_deg(layout.stance.heading)),
        }),
        marks,
        stations,
        zones,
        lengths,
        face_lines: faces,
        chalk,
        floor: floor::floor(layout),
        ways: judgement.ways.iter().map(|w| way(w, layout)).collect(),
        way_in: bundle.job.drive_in.then(|| way_in(driven)),
        advice: advice.whole.as_ref().map(|tried| of_tried(tried, layout)),
        findings: (0..judgement.findings.len()).map(|at| finding(at, judgement, advice, layout)).collect(),
        cautions: cautions(Say::PLAIN),
    };
    to_text(&out)
}

/// Pretty JSON with a newline at the end; what a terminal would act on is escaped.
pub fn to_text<T: Serialize>(value: &T) -> String {
    let mut text = serde_json::to_string_pretty(value).unwrap_or_else(|_| "null".into());
    text.push('\n');
    printable_json(&text).into_owned()
}

/// Numbers without the last noise of the arithmetic.
pub fn tidy(v: f64) -> f64 {
    let rounded = (v * 1e6).round() / 1e6;
    if rounded == 0.0 { 0.0 } else { rounded }
}

pub fn point(p: &P2) -> [f64; 2] {
    [tidy(p.x), tidy(p.y)]
}

fn finite(v: f64) -> Option<f64> {
    v.is_finite().then(|| tidy(v))
}

fn face_line(procedure: String, setup: &str, line: OnFace) -> FaceLineOut {
    let (mut left_mm, mut above_edge_mm, mut height_mm) = (None, None, None);
    match line.run {
        Ok(FaceRun::Upright { left }) => left_mm = Some(tidy(left)),
        Ok(FaceRun::Level { above_edge, height }) => {
            above_edge_mm = Some(tidy(above_edge));
            height_mm = Some(tidy(height));
        }
        Err(_) => {}
    }
    FaceLineOut {
        procedure,
        setup: setup.to_string(),
        station: line.station.to_string(),
        through: setting::through(&line.through, Say::PLAIN),
        left_mm,
        above_edge_mm,
        height_mm,
    }
}

fn station(
    procedure: String,
    setup: &str,
    s: &Station,
    values: &Values,
    stood: floor::StationFloor,
) -> StationOut {
    let stand = s.place.as_ref().ok();
    StationOut {
        procedure,
        setup: setup.to_string(),
        station: s.name.to_string(),
        target: s.target.to_string(),
        bay_mm: stand.map(|p| [tidy(p.mark.x), tidy(p.mark.y), tidy(p.lower)]),
        // the heading in which the front looks: 0 is +y
        turn_deg: stand.map(|p| tidy(norm_deg(p.frame.angle().to_degrees() - 90.0))),
        tolerance: tolerance(s, values),
        fixed_to: s.def.fixed_to.as_ref().map(|f| words::fixed_to(f, Say::PLAIN)),
        path_mm: stand
            .filter(|p| p.path.len() > 1)
            .map(|p| p.path.iter().map(|f| point(&f.origin)).collect()),
        footprint_mm: stand.map(|p| p.footprint.points().iter().map(point).collect()),
        stand_mm: stand
            .and_then(|p| p.foot.as_ref())
            .map(|f| f.shape.outline().points().iter().map(point).collect()),
        stood,
    }
}

fn tolerance(s: &Station, values: &Values) -> Option<ToleranceOut> {
    let t = &s.def.tolerance;
    let known = |figure: &Option<Figure>| figure.as_ref().and_then(|f| values.of(f).ok()).map(tidy);
    (*t != Tolerance::default()).then(|| ToleranceOut {
        along_mm: known(&t.along),
        across_mm: known(&t.across),
        turn_deg: known(&t.turn),
        roll_deg: known(&t.roll),
        tilt_deg: known(&t.tilt),
        up_mm: known(&t.up),
    })
}

fn way(w: &WayTaken, layout: &Layout) -> WayOut {
    WayOut {
        procedure: layout.bundle.procedures[w.procedure].name.to_string(),
        way: w.way.to_string(),
        named_by_the_job: w.named,
        others: w.others.iter().map(|(name, why)| [name.to_string(), against(why, Say::PLAIN)]).collect(),
        idle: w.idle.iter().map(|s| layout.setups[*s].name.to_string()).collect(),
    }
}

fn finding(at: usize, judgement: &Judgement, advice: &Advice, layout: &Layout) -> FindingOut {
    let f: &Finding = &judgement.findings[at];
    FindingOut {
        rule: f.rule.word(),
        outcome: f.outcome.word(),
        procedure: f.procedure.map(|p| layout.bundle.procedures[p].name.to_string()),
        setup: f.setup.map(|s| layout.setups[s].name.to_string()),
        items: f.names().map(str::to_owned).collect(),
        have_mm: f.have.map(tidy),
        need_mm: f.need.map(tidy),
        margin_mm: f.margin.map(tidy),
        unit: f.unit.word(),
        at_mm: f.at().map(|p| point(&p)),
        between_mm: f.witness.map(|(a, b)| [point(&a), point(&b)]),
        missing: f.missing.iter().map(|m| m.to_string()).collect(),
        text: words::title(f, layout, Say::PLAIN),
        help: help::of(at, judgement, Some(advice), layout, Say::PLAIN),
        step: advice.of(at).map(|own| of_own(own, layout)),
    }
}

#[derive(Serialize)]
struct CheckOut {
    schema: u32,
    verdict: &'static str,
    headline: String,
    margin_mm: Option<f64>,
    binding: Option<usize>,
    conditions: Vec<String>,
    missing: Vec<String>,
    thrust_angle_deg: Option<f64>,
    thrust_angle_sign: &'static str,
    pose: Option<PoseOut>,
    marks: Vec<MarkOut>,
    stations: Vec<StationOut>,
    zones: Vec<ZoneOut>,
    lengths: Vec<LengthOut>,
    /// Lines to put on the faces of targets.
    face_lines: Vec<FaceLineOut>,
    /// Lines to chalk on the floor.
    chalk: Vec<ChalkOut>,
    floor: Option<floor::Floor>,
    ways: Vec<WayOut>,
    /// Only where the job asks for it; `null` where none was found.
    #[serde(skip_serializing_if = "Option::is_none")]
    way_in: Option<Option<WayIn>>,
    /// The step that helps the job most, as it was tried.
    advice: Option<MoveOut>,
    findings: Vec<FindingOut>,
    cautions: Vec<String>,
}

/// A pose in JSON.
#[derive(Serialize)]
pub struct PoseOut {
    pub x_mm: f64,
    pub y_mm: f64,
    pub heading_deg: f64,
}

#[derive(Serialize)]
struct MarkOut {
    procedure: String,
    setup: String,
    mark: String,
    bay_mm: Option<[f64; 2]>,
    vehicle_mm: Option<[f64; 2]>,
}

#[derive(Serialize)]
struct StationOut {
    procedure: String,
    setup: String,
    station: String,
    target: String,
    bay_mm: Option<[f64; 3]>,
    turn_deg: Option<f64>,
    /// How far it may be off, where the procedure says so.
    tolerance: Option<ToleranceOut>,
    fixed_to: Option<String>,
    /// The places it is moved through.
    path_mm: Option<Vec<[f64; 2]>>,
    footprint_mm: Option<Vec<[f64; 2]>>,
    stand_mm: Option<Vec<[f64; 2]>>,
    #[serde(flatten)]
    stood: floor::StationFloor,
}

#[derive(Serialize)]
struct ToleranceOut {
    along_mm: Option<f64>,
    across_mm: Option<f64>,
    turn_deg: Option<f64>,
    roll_deg: Option<f64>,
    tilt_deg: Option<f64>,
    up_mm: Option<f64>,
}

#[derive(Serialize)]
struct FaceLineOut {
    procedure: String,
    setup: String,
    station: String,
    /// The mark or feature it goes through.
    through: String,
    /// Of an upright line: to the target's own left of its middle.
    left_mm: Option<f64>,
    /// Of a level line: above the face's lower edge.
    above_edge_mm: Option<f64>,
    /// Of a level line: above the plane of the tyre contacts.
    height_mm: Option<f64>,
}

#[derive(Serialize)]
struct ChalkOut {
    procedure: String,
    setup: String,
    from: String,
    to: String,
    bay_mm: Option<[[f64; 2]; 2]>,
    width_mm: Option<f64>,
}

#[derive(Serialize)]
struct ZoneOut {
    procedure: String,
    setup: String,
    zone: String,
    bay_mm: Vec<[f64; 2]>,
    z_mm: [Option<f64>; 2],
}

#[derive(Serialize)]
struct LengthOut {
    procedure: String,
    setup: String,
    from: String,
    to: String,
    mm: Option<f64>,
}

#[derive(Serialize)]
struct WayOut {
    procedure: String,
    way: String,
    named_by_the_job: bool,
    /// Ways tried before, and what stands against each.
    others: Vec<[String; 2]>,
    /// Setups not done.
    idle: Vec<String>,
}

#[derive(Serialize)]
struct FindingOut {
    rule: &'static str,
    outcome: &'static str,
    procedure: Option<String>,
    setup: Option<String>,
    items: Vec<String>,
    have_mm: Option<f64>,
    need_mm: Option<f64>,
    margin_mm: Option<f64>,
    unit: &'static str,
    at_mm: Option<[f64; 2]>,
    between_mm: Option<[[f64; 2]; 2]>,
    missing: Vec<String>,
    text: String,
    help: Option<String>,
    /// The finding's own move, as it was tried.
    #[serde(rename = "move")]
    step: Option<MoveOut>,
}
