//! The vehicle in plan: body, glazing, tyres, mirrors, axles, centre line and thrust line.

use std::f64::consts::FRAC_PI_2;

use super::plan::box_of;
use super::{Item, Role, Scene, Show, Spot, Tag};
use crate::geometry::{Frame, P2};
use crate::layout::{Body, Layout, body as vehicle_body};
use crate::model::Vehicle;
use crate::phrases::say;
use crate::report::plan as words;

/// A thrust angle that prints as 0.00 degrees is not drawn.
const STRAIGHT_DEG: f64 = 0.005;

/// Draws the vehicle at a place; its centre line runs over `reach` along it, mm from the front axle.
pub(super) fn vehicle(
    scene: &mut Scene,
    layout: &Layout,
    (frame, body): (&Frame, &Body),
    reach: (f64, f64),
    show: &Show,
) {
    let v = &*layout.bundle.vehicle;
    let tag = Some(Tag::Vehicle);
    let place = |points: &[(f64, f64)]| -> Vec<P2> {
        points.iter().map(|p| frame.to_world(P2::new(p.0, p.1))).collect()
    };
    for solid in &body.mirrors {
        scene.area(Role::Mirror, solid.shape.outline().points(), tag.clone());
    }
    for solid in &body.hull {
        scene.area(Role::Body, solid.shape.outline().points(), tag.clone());
    }
    match &v.outline {
        None => scene.area(Role::BodyInner, &place(&rounded(v)), tag.clone()),
        Some(outline) => {
            let points: Vec<(f64, f64)> = outline.0.points().iter().map(|p| (p.x, p.y)).collect();
            scene.area(Role::BodyInner, &place(&points), tag.clone());
        }
    }
    for pane in glazing(v) {
        scene.area(Role::Glazing, &place(&pane), tag.clone());
    }
    for (x, track) in [(0.0, v.track.front), (-v.wheelbase, v.track.rear)] {
        let half = track / 2.0;
        scene.line(Role::Axle, place(&[(x, -half), (x, half)]), tag.clone());
    }
    for solid in &body.tyres {
        scene.area(Role::Tyre, solid.shape.outline().points(), tag.clone());
    }
    scene.line(Role::CentreLine, place(&[(reach.0, 0.0), (reach.1, 0.0)]), tag.clone());
    thrust(scene, layout, frame, reach.1, show);
    for (_, sensor) in v.sensors.iter() {
        scene.items.push(Item::Dot {
            role: Role::Sensor,
            at: frame.to_world(P2::new(sensor.at.x, sensor.at.y)),
            tag: tag.clone(),
        });
    }
    if show.names
        && let Some(hull) = body.hull.first()
    {
        let [l, w, h] = [v.length, v.width, v.height].map(|mm| show.length(mm));
        let text = format!("{}\n{l} × {w} × {h}", v.name);
        let spot = Spot::Within(box_of(hull.shape.outline().points()));
        scene.label(Role::Body, spot, text, 150, tag);
    }
}

/// Where the vehicle is driven on to for a later setup.
pub(super) fn ghost(scene: &mut Scene, body: &Body, setup: &str, show: &Show) {
    for solid in body.hull.iter().chain(&body.mirrors).chain(&body.tyres) {
        scene.area(Role::Ghost, solid.shape.outline().points(), None);
    }
    if let (true, Some(hull)) = (show.names, body.hull.first()) {
        let spot = Spot::Within(box_of(hull.shape.outline().points()));
        scene.label(Role::Ghost, spot, say!(show.say(), words::DRIVEN_ON, setup), 104, None);
    }
}

/// The thrust line from the rear axle forward, where it is known and not the centre line.
fn thrust(scene: &mut Scene, layout: &Layout, frame: &Frame, ahead: f64, show: &Show) {
    let v = &*layout.bundle.vehicle;
    let (Some(angle), Ok(line)) = (layout.thrust_angle(), vehicle_body::thrust_line(v, &layout.bundle.job))
    else {
        return;
    };
    if angle.abs() < STRAIGHT_DEG {
        return;
    }
    let end = line.at + line.dir * (ahead + v.wheelbase);
    let points = [frame.to_world(line.at), frame.to_world(end)];
    scene.line(Role::ThrustLine, points, None);
    if show.names {
        let phrase = if angle > 0.0 { words::THRUST_RIGHT } else { words::THRUST_LEFT };
        let text = say!(show.say(), phrase, deg = format!("{:.2}", angle.abs()));
        scene.label(Role::ThrustLine, Spot::Near(points[1]), text, 80, None);
    }
}

/// A body that could stand in the rectangle length by width: rounder in front than behind.
fn rounded(v: &Vehicle) -> Vec<(f64, f64)> {
    let (nose, tail, half) = (vehicle_body::nose(v), vehicle_body::tail(v), v.width / 2.0);
    let front = (v.length * 0.09, half * 0.42);
    let rear = (v.length * 0.05, half * 0.3);
    let mut points = Vec::with_capacity(36);
    let mut corner = |x: f64, side: f64, (rx, ry): (f64, f64), ahead: f64, back: bool| {
        for i in 0..=8 {
            let i = if back { 8 - i } else { i };
            let (s, c) = (FRAC_PI_2 * f64::from(i) / 8.0).sin_cos();
            points.push((x - ahead * rx * (1.0 - c), side * (half - ry * (1.0 - s))));
        }
    };
    corner(nose, -1.0, front, 1.0, true);
    corner(nose, 1.0, front, 1.0, false);
    corner(tail, 1.0, rear, -1.0, true);
    corner(tail, -1.0, rear, -1.0, false);
    points
}

/// Where the glass may be: a windscreen, and a rear window unless it is tall like a van.
fn glazing(v: &Vehicle) -> Vec<[(f64, f64); 4]> {
    let (nose, tail, half) = (vehicle_body::nose(v), vehicle_body::tail(v), v.width / 2.0);
    let pane = |wide: f64, narrow: f64| {
        [(wide, -half * 0.84), (wide, half * 0.84), (narrow, half * 0.7), (narrow, -half * 0.7)]
    };
    let van = v.height > 0.42 * v.length || v.height > 2100.0;
    let bonnet = if van { 0.13 } else { 0.24 };
    let glass = if van { 0.07 } else { 0.11 };
    let base = nose - v.length * bonnet;
    let mut panes = vec![pane(base, base - v.length * glass)];
    if !van {
        let foot = tail + v.length * 0.1;
        panes.push(pane(foot, foot + v.length * 0.07));
    }
    panes
}
