//! The way in on the plan: the ground swept, the way of the rear axle's middle with arrows along the direction driven,
//! and the place with the least room.

use super::{Item, Role, Scene, Show, Tag};
use crate::checks::{Judgement, Outcome, RuleId};
use crate::driving::{Path, Segment};
use crate::geometry::{P2, V2, rotate};
use crate::phrases::say;
use crate::report::label::label;
use crate::report::plan as words;

/// Way between two points of the drawn line, mm.
const STEP: f64 = 100.0;
/// Way between two arrows, mm.
const APART: f64 = 2200.0;

/// Draws a way in on a plan: the ground below all that stands, the line on top of it. The least room is drawn here where
/// it is enough; where it is not, the finding is.
pub fn way(scene: &mut Scene, path: &Path, judgement: &Judgement, show: &Show) {
    ground(scene, path);
    for leg in legs(&path.segments) {
        let role = if leg[0].is_backward() { Role::WayBack } else { Role::Way };
        scene.line(role, line_of(leg), None);
        arrows(scene, role, leg);
    }
    nearest(scene, path, judgement, show);
}

fn ground(scene: &mut Scene, path: &Path) {
    let mut swept: Vec<Item> = Vec::new();
    for outline in &path.swept {
        let inside = path.holes.iter().filter(|h| h.points().first().is_some_and(|p| outline.contains(*p)));
        swept.push(Item::Area {
            role: Role::Swept,
            outline: outline.points().to_vec(),
            holes: inside.map(|h| h.points().to_vec()).collect(),
            tag: None,
        });
    }
    let below = scene.items.iter().position(|i| i.role() == Role::Wall).unwrap_or(scene.items.len());
    scene.items.splice(below..below, swept);
}

/// The segments between two changes of direction.
fn legs(segments: &[Segment]) -> impl Iterator<Item = &[Segment]> {
    segments.chunk_by(|a, b| a.is_backward() == b.is_backward())
}

fn line_of(leg: &[Segment]) -> Vec<P2> {
    let mut points: Vec<P2> = leg.first().map(|s| s.from.at).into_iter().collect();
    for s in leg {
        let total = s.length.abs();
        let n = if s.is_straight() { 1 } else { (total / STEP).ceil().max(1.0) as usize };
        points.extend((1..=n).map(|i| s.at(total * i as f64 / n as f64).at));
    }
    points
}

/// Arrows at equal distances, one at least; a leg's end has none, so that it shows where the leg ends.
fn arrows(scene: &mut Scene, role: Role, leg: &[Segment]) {
    let total: f64 = leg.iter().map(|s| s.length.abs()).sum();
    let n = (total / APART).floor().max(1.0);
    let mut before = 0.0;
    for s in leg {
        let length = s.length.abs();
        for i in 0..n as usize {
            let along = total * (i as f64 + 0.5) / n - before;
            if (0.0..length).contains(&along) {
                let pose = s.at(along);
                let forward = rotate(V2::new(1.0, 0.0), pose.angle);
                let toward = if s.is_backward() { -forward } else { forward };
                scene.items.push(Item::Arrow { role, at: pose.at, toward });
            }
        }
        before += length;
    }
}

fn nearest(scene: &mut Scene, path: &Path, judgement: &Judgement, show: &Show) {
    let tightest = &path.tightest;
    let told = |f: &crate::checks::Finding| f.rule == RuleId::DriveIn && f.outcome == Outcome::Pass;
    let finding = judgement.findings.iter().position(told).filter(|i| Some(*i) != show.chosen);
    if let (Some(finding), true) = (finding, tightest.margin.is_finite()) {
        let told = &judgement.findings[finding];
        scene.items.push(Item::Dimension {
            role: Role::Pass,
            a: tightest.at.0,
            b: tightest.at.1,
            aside: 0.0,
            text: say!(show.say(), words::ON_THE_WAY, label = label(told, show.say())),
            weight: 120,
            tag: Some(Tag::Finding(finding)),
        });
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::checks::check_driven;
    use crate::driving::{DriveIn, drive_in};
    use crate::layout::Layout;
    use crate::scene::plan;
    use crate::scene::tests::bundle;

    /// The small bay, and the way into it.
    pub(crate) fn driven() -> (Layout, DriveIn) {
        let mut bundle = bundle();
        std::sync::Arc::make_mut(&mut bundle.vehicle).turning_circle = Some(9000.0);
        let layout = Layout::new(&bundle).unwrap();
        let found = drive_in(&layout, &|| false).unwrap();
        (layout, found)
    }

    pub(crate) fn drawn(layout: &Layout, found: &DriveIn, path: &Path) -> Scene {
        let judgement = check_driven(layout, Some(found));
        let mut scene = plan(layout, Some(&judgement), &Show::default());
        way(&mut scene, path, &judgement, &Show::default());
        scene
    }

    #[test]
    fn the_ground_lies_below_and_the_line_ends_at_the_rear_axle() {
        let (layout, found) = driven();
        let path = found.path().unwrap();
        let scene = drawn(&layout, &found, path);
        let place = |role: Role| scene.items.iter().position(|i| i.role() == role).unwrap();
        assert!(place(Role::Floor) < place(Role::Swept) && place(Role::Swept) < place(Role::Body));
        let mut lines = scene.items.iter().filter_map(|i| match i {
            Item::Line { role: Role::Way | Role::WayBack, points, .. } => points.last(),
            _ => None,
        });
        let frame = layout.frame();
        let rear = frame.origin - frame.x * 2500.0;
        assert!((lines.next_back().unwrap() - rear).norm() < 0.01, "the wheelbase is 2500");
        // arrows point along the way driven, one at least to each leg
        let arrows = scene.items.iter().filter(|i| matches!(i, Item::Arrow { .. })).count();
        assert!(arrows > path.changes());
    }
}
