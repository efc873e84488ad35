//! The picture a sensor would get, drawn small: targets, areas to be seen and what stands around, by pinhole projection.

use std::sync::Arc;

use super::{Role, Scene};
use crate::geometry::{P2, P3, Shape, V3};
use crate::layout::view::{Eye, Lens};
use crate::layout::{Layout, Stand};
use crate::model::Surface;

/// A picture: u to the right, v down, in a frame of this size.
#[derive(Clone, Debug, PartialEq)]
pub struct Inset {
    pub sensor: Arc<str>,
    pub size: (f64, f64),
    /// Farthest first: paint them in this order. Outlines may reach past the frame.
    pub shapes: Vec<InsetShape>,
}

impl Inset {
    /// The picture as a drawing: u along x, v down along -y, from the frame's upper left corner.
    pub fn scene(&self) -> Scene {
        let mut scene = Scene::default();
        for shape in &self.shapes {
            let outline: Vec<P2> = shape.outline.iter().map(|(u, v)| P2::new(*u, -v)).collect();
            scene.area(shape.role, &outline, None);
        }
        scene
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct InsetShape {
    pub role: Role,
    pub name: Arc<str>,
    pub outline: Vec<(f64, f64)>,
    /// Of its middle from the sensor, mm.
    pub away: f64,
}

/// Nearer than this nothing is drawn, mm.
const NEAR: f64 = 20.0;
/// What has no end upward is drawn this high, mm.
const HIGH: f64 = 6000.0;
/// A ring of more corners is round: convex, without edges to show.
const ROUND: usize = 12;
/// Width of the frame.
const WIDTH: f64 = 1000.0;

/// The picture of the sensor of one sight of a setup; `None` where the sight does not start at a sensor, or its view is
/// not given.
pub fn inset(layout: &Layout, setup: usize, sight: usize) -> Option<Inset> {
    let setup = layout.setups.get(setup)?;
    let def = setup.def.sights.get(sight)?;
    let eye = layout.eye(setup, def.from.as_str())?;
    let lens = Lens::of(eye.view?, WIDTH);
    let mut draw = Draw { eye, lens, shapes: Vec::new() };
    for thing in &layout.stage.things {
        let role = match thing.surface[..] {
            _ if thing.surface.contains(&Surface::Light) => Role::FixtureLight,
            _ if thing.overhead => Role::FixtureOverhead,
            _ => Role::Fixture,
        };
        draw.prism(
            role,
            &thing.name,
            thing.solid.shape.outline().points(),
            (thing.solid.z.lo, thing.solid.z.hi),
        );
    }
    for sheet in &layout.stage.sheets {
        let (lo, hi) = (sheet.z.0, sheet.z.1.min(layout.stage.ceiling.unwrap_or(HIGH)));
        draw.quad(Role::Backdrop, sheet.of.name(), sheet.a, sheet.b, (lo, hi));
    }
    for zone in setup.zones.iter().filter(|z| z.seen) {
        let Ok(area) = &zone.place else { continue };
        for outline in area.outlines() {
            let lo = area.band().lo.max(0.0);
            draw.face(
                Role::ZoneOther,
                &zone.name,
                outline.points().iter().map(|p| P3::new(p.x, p.y, lo)).collect(),
            );
        }
    }
    for station in &setup.stations {
        let Ok(stand) = &station.place else { continue };
        for foot in stand.foot.iter() {
            draw.prism(Role::Foot, &station.name, foot.shape.outline().points(), (foot.z.lo, foot.z.hi));
        }
        draw.target(&station.name, stand);
    }
    draw.shapes.sort_by(|a, b| b.away.total_cmp(&a.away));
    Some(Inset { sensor: def.from.text.clone(), size: draw.lens.size, shapes: draw.shapes })
}

struct Draw {
    eye: Eye,
    lens: Lens,
    shapes: Vec<InsetShape>,
}

impl Draw {
    fn target(&mut self, name: &Arc<str>, stand: &Stand) {
        let role = if stand.size.flat { Role::Mat } else { Role::Target };
        self.face(role, name, stand.corners().to_vec());
    }

    fn prism(&mut self, role: Role, name: &Arc<str>, ring: &[P2], (lo, hi): (f64, f64)) {
        let (lo, hi) = (lo.max(0.0), hi.min(HIGH));
        let is_convex = || Shape::hull(ring).is_ok_and(|h| h.outline().points().len() == ring.len());
        if ring.len() > ROUND && is_convex() && self.silhouette(role, name, ring, (lo, hi)) {
            return;
        }
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            self.quad(role, name, *a, *b, (lo, hi));
        }
        for z in [lo, hi] {
            self.face(role, name, ring.iter().map(|p| P3::new(p.x, p.y, z)).collect());
        }
    }

    /// Something round as one outline; false where it reaches behind the sensor.
    fn silhouette(&mut self, role: Role, name: &Arc<str>, ring: &[P2], (lo, hi): (f64, f64)) -> bool {
        let corners = ring.iter().flat_map(|p| [lo, hi].map(|z| P3::new(p.x, p.y, z)));
        let local: Vec<V3> = corners.map(|p| self.eye.local(p)).collect();
        if local.iter().any(|p| p.x < NEAR) {
            return false;
        }
        let seen = local.iter().filter_map(|p| self.lens.project(*p)).map(|(u, v)| P2::new(u, v));
        let Ok(hull) = Shape::hull(&seen.collect::<Vec<_>>()) else { return false };
        let middle = local.iter().fold(V3::zeros(), |sum, p| sum + p) / local.len() as f64;
        let outline = hull.outline().points().iter().map(|p| (p.x, p.y)).collect();
        self.shapes.push(InsetShape { role, name: name.clone(), outline, away: middle.norm() });
        true
    }

    fn quad(&mut self, role: Role, name: &Arc<str>, a: P2, b: P2, (lo, hi): (f64, f64)) {
        self.face(
            role,
            name,
            [(a, lo), (b, lo), (b, hi), (a, hi)].map(|(p, z)| P3::new(p.x, p.y, z)).to_vec(),
        );
    }

    /// One flat polygon, cut off just before the sensor.
    fn face(&mut self, role: Role, name: &Arc<str>, points: Vec<P3>) {
        let ahead = cut(points.iter().map(|p| self.eye.local(*p)).collect());
        if ahead.len() < 3 {
            return;
        }
        let middle = ahead.iter().fold(V3::zeros(), |sum, p| sum + p) / ahead.len() as f64;
        let outline = ahead.iter().filter_map(|p| self.lens.project(*p)).collect();
        self.shapes.push(InsetShape { role, name: name.clone(), outline, away: middle.norm() });
    }
}

/// The part of a flat polygon that lies ahead.
fn cut(points: Vec<V3>) -> Vec<V3> {
    let mut kept = Vec::with_capacity(points.len() + 2);
    for (a, b) in points.iter().zip(points.iter().cycle().skip(1)) {
        if a.x >= NEAR {
            kept.push(*a);
        }
        if (a.x < NEAR) != (b.x < NEAR) {
            kept.push(a + (b - a) * ((NEAR - a.x) / (b.x - a.x)));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_lies_behind_is_cut_off() {
        let square = [(-100.0, 0.0), (100.0, 0.0), (100.0, 50.0), (-100.0, 50.0)];
        let ahead = cut(square.map(|(x, y)| V3::new(x, y, 0.0)).to_vec());
        assert_eq!(ahead.len(), 4);
        assert!(ahead.iter().all(|p| p.x >= NEAR - 1e-9));
        assert!(cut(square.map(|(x, y)| V3::new(x - 200.0, y, 0.0)).to_vec()).is_empty());
    }

    /// A camera 4000 before a board, 700 high like the board's middle: the face, 600 wide and 800 high, is seen
    /// 300 / 4000 and 400 / 4000 each way off the middle of a picture of 52 degrees.
    #[test]
    fn a_target_in_the_picture() {
        let vehicle = r#"(name: "Car", length: 4000, width: 1800, height: 1500, wheelbase: 2500, front_overhang: 800,
            track: (front: 1500, rear: 1500), tyre: (width: 200, diameter: 600), ground_clearance: 150,
            sensors: {"camera": (kind: Camera, at: (-1000, 0, 700), view: (across: 52, up: 40))})"#;
        let bay = r#"(name: "Bay", floor: [(0, 0), (10000, 0), (10000, 20000), (0, 20000)], ceiling: 4000,
            fixtures: [(name: "post", shape: Box(at: (5500, 15000), size: (200, 200)), z: (0, 3000))])"#;
        let equipment = r#"(name: "Set", targets: {"board": (kind: Board, face: (width: 600, height: 800, thickness: 40), owned: 1)})"#;
        let procedure = r#"(name: "P", setups: [(name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000))],
            stations: [(name: "board", target: "board", at: "X", looks: Backward, height: Floor(300))],
            sights: [(from: "camera", to: "board"), (from: "board", to: "nose")])])"#;
        let job = r#"(name: "J", bay: "b", vehicle: "v", equipment: "e", procedures: [(file: "p")], pose: At(x: 5000, y: 10000, heading: 0))"#;
        let path = std::path::Path::new("x.ron");
        let bundle = crate::model::Bundle {
            job: Arc::new(crate::files::read_text(job, path).unwrap()),
            bay: Arc::new(crate::files::read_text(bay, path).unwrap()),
            vehicle: Arc::new(crate::files::read_text(vehicle, path).unwrap()),
            equipment: Arc::new(crate::files::read_text(equipment, path).unwrap()),
            procedures: vec![Arc::new(crate::files::read_text(procedure, path).unwrap())],
        };
        let layout = Layout::new(&bundle).unwrap();
        let picture = inset(&layout, 0, 0).unwrap();
        let focal = 500.0 / 26f64.to_radians().tan();
        assert_eq!(picture.size.0, 1000.0);
        assert!((picture.size.1 - 2.0 * focal * 20f64.to_radians().tan()).abs() < 1e-9);
        let board = picture.shapes.iter().find(|s| &*s.name == "board").unwrap();
        let (middle_u, middle_v) = (500.0, picture.size.1 / 2.0);
        for (u, v) in &board.outline {
            assert!(
                ((u - middle_u).abs() - focal * 0.075).abs() < 1e-6
                    && ((v - middle_v).abs() - focal * 0.1).abs() < 1e-6
            );
        }
        // what stands behind the board is painted before it, to the right of the middle, since x grows to the right
        let at = |name: &str| picture.shapes.iter().position(|s| &*s.name == name).unwrap();
        assert!(at("post") < at("board"));
        assert!(picture.shapes[at("post")].outline.iter().all(|p| p.0 > 500.0));
        assert!(inset(&layout, 0, 1).is_none(), "a board is no sensor");
        assert!(inset(&layout, 0, 9).is_none() && inset(&layout, 7, 0).is_none());
    }
}
