//! Ways in bays made by hand.

use std::path::Path as FilePath;
use std::sync::Arc;

use crate::driving::course::Course;
use crate::driving::gate::Gate;
use crate::driving::{Answer, DriveIn, InTheWay, NoPath, Path, WhyNot, car::Car, drive_in};
use crate::files::{FileKind, read_text};
use crate::geometry::{Shape, gap};
use crate::layout::{Layout, Stance};
use crate::model::{Bay, Bundle, Equipment, Item, ItemKind, Job, Vehicle};

fn read<T: FileKind>(text: &str) -> T {
    match read_text(text, FilePath::new("by hand.ron")) {
        Ok(value) => value,
        Err(faults) => panic!("{faults:?}\n{text}"),
    }
}

pub(super) fn vehicle(more: &str) -> Vehicle {
    read(&format!(
        r#"(name: "hatch", length: 4280, width: 1780, height: 1460, wheelbase: 2620, front_overhang: 860,
            track: (front: 1540, rear: 1530), tyre: (width: 205, diameter: 630), ground_clearance: 145,
            mirrors: (width: 2010, behind_front_axle: 620, depth: 190, z: (920, 1110)), {more})"#
    ))
}

/// A bay 6 m by 12 m with a doorway in the middle of its near side.
fn bay(door: f64, more: &str) -> String {
    let from = 3000.0 - door / 2.0;
    format!(
        r#"(name: "by hand", floor: [(0, 0), (6000, 0), (6000, 12000), (0, 12000)], ceiling: 4000,
            doorways: [(name: "door", side: 0, from: {from:?}, width: {door:?}, height: 3000)], {more})"#
    )
}

fn layout(bay: &str, pose: (f64, f64, f64), job: &str, more: &str) -> Layout {
    layout_of(vehicle(more), bay, pose, job)
}

/// A vehicle 4500 long and 2000 over its mirrors, with a turning circle of 11 m.
pub(super) fn box_car_at(bay: &str, pose: (f64, f64, f64), job: &str) -> Layout {
    let box_car = read(
        r#"(name: "box car", length: 4500, width: 1800, height: 1600, wheelbase: 2700, front_overhang: 900,
            track: (front: 1560, rear: 1560), tyre: (width: 200, diameter: 650), ground_clearance: 180,
            mirrors: (width: 2000, behind_front_axle: 600, depth: 200, z: (950, 1150)), turning_circle: 11000)"#,
    );
    layout_of(box_car, bay, pose, job)
}

pub(super) fn layout_of(vehicle: Vehicle, bay: &str, pose: (f64, f64, f64), job: &str) -> Layout {
    let (x, y, h) = pose;
    let job: Job = read(&format!(
        r#"(name: "j", bay: "b.ron", vehicle: "v.ron", equipment: "e.ron", procedures: [],
            pose: At(x: {x:?}, y: {y:?}, heading: {h:?}), {job})"#
    ));
    let bundle = Bundle {
        job: Arc::new(job),
        bay: Arc::new(read::<Bay>(bay)),
        vehicle: Arc::new(vehicle),
        equipment: Arc::new(read::<Equipment>(r#"(name: "e", targets: {})"#)),
        procedures: Vec::new(),
    };
    Layout::new(&bundle).unwrap()
}

pub(super) fn driven(bay: &str, pose: (f64, f64, f64), job: &str) -> DriveIn {
    let layout = layout(bay, pose, job, "turning_circle: 10600");
    let found = drive_in(&layout, &|| false).unwrap();
    if let Some(path) = found.path() {
        sound(&layout, path);
    }
    found
}

fn path(bay: &str, pose: (f64, f64, f64)) -> Path {
    match driven(bay, pose, "").answer {
        Answer::Path(path) => path,
        other => panic!("{other:?}"),
    }
}

fn none(bay: &str, pose: (f64, f64, f64)) -> NoPath {
    none_with(bay, pose, "")
}

pub(super) fn none_with(bay: &str, pose: (f64, f64, f64), job: &str) -> NoPath {
    match driven(bay, pose, job).answer {
        Answer::NoPath(none) => none,
        other => panic!("{:?}", other),
    }
}

/// What any way must be, told with the layout's own measures rather than the search's.
fn sound(layout: &Layout, path: &Path) {
    let turning = crate::driving::Turning::of(&layout.bundle.vehicle).unwrap();
    let segments = &path.segments;
    for s in segments {
        assert!(s.curvature.abs() * turning.radius <= 1.0 + 1e-9, "tighter than it turns");
    }
    for w in segments.windows(2) {
        let (a, b) = (w[0].to(), w[1].from);
        assert!((a.at - b.at).norm() < 1e-3, "a jump of {}", (a.at - b.at).norm());
        let turn = (a.angle - b.angle).rem_euclid(std::f64::consts::TAU);
        assert!(turn.min(std::f64::consts::TAU - turn) < 1e-6, "a kink");
    }
    let gate = Gate::of(&layout.bundle).unwrap();
    let car = Car::new(&layout.rig.body, turning.wheelbase);
    let course = Course::new(layout, gate, &car, true);
    assert!(course.is_outside(&car, &segments[0].from), "starts outside");
    let last = segments.last().unwrap();
    let run = layout.bundle.job.straight_run.unwrap_or(500.0);
    assert!(run == 0.0 || (last.is_straight() && last.length.abs() >= run - 1e-6), "the straight run");
    let end = path.stances(100.0).pop().unwrap();
    assert!((end.x - layout.stance.x).abs() < 1e-3 && (end.y - layout.stance.y).abs() < 1e-3);
    let turn = (end.heading - layout.stance.heading).rem_euclid(360.0);
    assert!(turn.min(360.0 - turn) < 1e-4, "{end:?}");
    // nothing on a fine sampling is nearer than told, and the told gap is met
    let mut least = f64::INFINITY;
    for stance in path.stances(10.0) {
        least = least.min(least_gap(layout, &stance, &path.move_first));
    }
    assert!(least >= path.tightest.margin - 0.5, "{least} {:?}", path.tightest);
    assert!(least <= path.tightest.margin + 6.0, "{least} {:?}", path.tightest);
    // every spot driven over lies in the swept ground
    for stance in path.stances(500.0) {
        let body = layout.rig.body.place(&stance.frame(), 0.0);
        let corner = body.mirrors[0].shape.outline().points()[0];
        assert!(path.swept.iter().any(|s| s.contains(corner) || near(s, corner)));
    }
}

fn near(outline: &crate::geometry::Polygon, p: crate::geometry::P2) -> bool {
    outline.edges().any(|(a, b)| crate::geometry::segment_gap(p, p, a, b).mm < 1.5)
}

/// By the layout's shapes: body and mirrors to things at their height, and to the walls beside the doorway.
fn least_gap(layout: &Layout, stance: &Stance, but: &[Arc<str>]) -> f64 {
    let body = layout.rig.body.place(&stance.frame(), 0.0);
    let gate = Gate::of(&layout.bundle).unwrap();
    let mut least = f64::INFINITY;
    for solid in body.hull.iter().chain(&body.mirrors) {
        for thing in layout.stage.things.iter().filter(|t| !but.contains(&t.name)) {
            if solid.z.overlaps(&thing.solid.z) {
                least = least.min(gap(&solid.shape, &thing.solid.shape).mm);
            }
        }
        for edge in layout.stage.floor.edges() {
            let shut = layout.stage.bound(edge.label).name == gate.name;
            if !shut {
                // as a wall a tenth of a millimetre thick
                let mid = nalgebra::center(&edge.a, &edge.b);
                let d = edge.b - edge.a;
                let wall = Shape::rect(mid, crate::geometry::V2::new(d.norm(), 0.1), d.y.atan2(d.x)).unwrap();
                least = least.min(gap(&solid.shape, &wall).mm);
            }
        }
    }
    least
}

#[test]
fn straight_in() {
    let found = path(&bay(3000.0, ""), (3000.0, 7000.0, 0.0));
    assert_eq!(found.segments.len(), 1);
    assert_eq!(found.changes(), 0);
    assert!(!found.segments[0].is_backward());
    // (3000 - 2010) / 2 beside each mirror
    assert!((found.tightest.margin - 495.0).abs() < 1e-6, "{:?}", found.tightest);
    assert_eq!((found.tightest.moving, &*found.tightest.still), ("mirrors", "door jamb"));
    // the front was just outside: the rear axle rolls its depth and the front reach
    assert!((found.length() - (7000.0 + 860.0)).abs() < 1e-3, "{}", found.length());
}

#[test]
fn backed_in_is_driven_backward() {
    let found = path(&bay(3000.0, ""), (3000.0, 5000.0, 180.0));
    assert!(found.segments.iter().all(|s| s.is_backward()));
    assert!((found.tightest.margin - 495.0).abs() < 1e-6);
}

#[test]
fn beside_the_door_an_s_bend() {
    let found = path(&bay(2600.0, ""), (4300.0, 9500.0, 0.0));
    assert!(
        found.segments.iter().any(|s| s.curvature > 0.0) && found.segments.iter().any(|s| s.curvature < 0.0)
    );
    assert_eq!(found.changes(), 0, "{:?}", found.segments);
}

#[test]
fn short_of_room_it_shunts() {
    // 1.2 m to the side within 5.5 m of depth: an S-bend of one go does not end in time
    let found = path(&bay(2600.0, ""), (4200.0, 4600.0, 0.0));
    assert!(found.changes() > 0, "{:?}", found.segments);
}

#[test]
fn doors_as_wide_as_the_mirrors_and_narrower() {
    let exact = path(&bay(2010.0, ""), (3000.0, 7000.0, 0.0));
    assert_eq!(exact.tightest.margin, 0.0);
    let none = none(&bay(1900.0, ""), (3000.0, 7000.0, 0.0));
    let t = none.tightest.unwrap();
    // 110 too narrow: 55 each side when driven down the middle
    assert!(t.margin <= -55.0 + 1e-6 && t.margin > -70.0, "{t:?}");
    assert_eq!(&*t.still, "door jamb");
    assert!(none.least_bad.is_some());
    // the body alone would pass: folded mirrors are another vehicle
}

#[test]
fn too_low_a_door() {
    let low = bay(3000.0, "").replace("height: 3000", "height: 1459");
    let none = none(&low, (3000.0, 7000.0, 0.0));
    assert_eq!(none.why, WhyNot::TooHigh(1.0, "door".into()));
}

#[test]
fn round_a_post() {
    // a post on the straight way, 1.7 m before the place's tail, off the middle by half a metre
    let post =
        r#"fixtures: [(name: "post", shape: Box(at: (3900, 4000), size: (300, 300)), surface: [Metal])]"#;
    let found = path(&bay(3000.0, post), (3500.0, 9500.0, 0.0));
    assert!(found.segments.len() > 1);
    assert!(found.tightest.margin >= 0.0);
}

#[test]
fn a_post_in_the_way() {
    // two posts 1900 apart right across: the mirrors' 2010 do not pass
    let posts = r#"fixtures: [(name: "left post", shape: Box(at: (1025, 6000), size: (2050, 300)), surface: [Metal]),
                               (name: "right post", shape: Box(at: (4975, 6000), size: (2050, 300)), surface: [Metal])]"#;
    let none = none(&bay(3000.0, posts), (3000.0, 11000.0, 0.0));
    let t = none.tightest.clone().unwrap();
    assert!(t.still.ends_with("post"), "{t:?}");
    assert!(t.margin < 0.0 && t.margin > -120.0, "{t:?}");
    assert!(matches!(&none.why, WhyNot::Blocked(t) if t.still.name().ends_with("post")), "{:?}", none.why);
    // low ones pass under the mirrors, and the body's 1780 goes between
    let low = posts.replace("surface", "z: (0, 900), surface");
    let found = path(&bay(3000.0, &low), (3000.0, 11000.0, 0.0));
    assert!((found.tightest.margin - 60.0).abs() < 30.0, "{:?}", found.tightest);
}

#[test]
fn a_thing_that_can_be_moved() {
    let bench = r#"fixtures: [(name: "trolley", shape: Box(at: (3000, 3000), size: (5900, 300)), z: (0, 900), movable: true)]"#;
    let found = path(&bay(3000.0, bench), (3000.0, 9000.0, 0.0));
    assert_eq!(found.move_first.iter().map(|n| &**n).collect::<Vec<_>>(), ["trolley"]);
    assert!((found.tightest.margin - 495.0).abs() < 1e-6);
}

#[test]
fn a_kerb_stops_the_tyres_and_a_plate_does_not() {
    let kerb = r#"fixtures: [(name: "kerb", shape: Box(at: (3000, 3000), size: (5900, 300)), z: (0, 100))]"#;
    let t = none(&bay(3000.0, kerb), (3000.0, 9000.0, 0.0)).tightest.unwrap();
    assert_eq!((t.moving, &*t.still), ("tyres", "kerb"));
    let plate = kerb.replace("z: (0, 100)", "z: (0, 0)");
    path(&bay(3000.0, &plate), (3000.0, 9000.0, 0.0));
}

#[test]
fn the_place_itself() {
    let post = r#"fixtures: [(name: "post", shape: Box(at: (3000, 6000), size: (300, 300)))]"#;
    let on_post = none(&bay(3000.0, post), (3000.0, 6200.0, 0.0));
    assert!(matches!(on_post.why, WhyNot::PlaceTaken(_)), "{:?}", on_post.why);
    let off = none(&bay(3000.0, ""), (30000.0, 6200.0, 0.0));
    assert_eq!(off.why, WhyNot::PlaceOffFloor);
}

#[test]
fn walled_off() {
    let wall = r#"fixtures: [(name: "partition", shape: Box(at: (3000, 5000), size: (6000, 100)))]"#;
    let none = none(&bay(3000.0, wall), (3000.0, 10500.0, 0.0));
    let across = InTheWay { still: Item::new(ItemKind::Fixture, "partition"), depth: None };
    assert_eq!(none.why, WhyNot::Blocked(across));
    assert!(none.tightest.is_some_and(|t| t.margin < -crate::driving::DEEPEST));
}

#[test]
fn the_straight_run_is_kept() {
    for run in [0.0, 500.0, 2500.0] {
        let found = driven(&bay(2800.0, ""), (4000.0, 10500.0, 0.0), &format!("straight_run: {run:?}"));
        assert!(found.path().is_some());
    }
    // longer than the bay's free length beyond the stop and before it together
    let tight = driven(&bay(2800.0, ""), (4200.0, 4000.0, 0.0), "straight_run: 9000");
    assert!(tight.path().is_none());
}

#[test]
fn what_cannot_be_answered() {
    let text = bay(3000.0, "");
    let without = layout(&text, (3000.0, 7000.0, 0.0), "", "");
    let found = drive_in(&without, &|| false).unwrap();
    assert!(matches!(&found.answer, Answer::Unknown(m) if m.0 == [crate::model::Lack::TurningCircle]));
    let no_door =
        text.replace("doorways", "walls: [], ceiling: 4000, doorways").replacen("ceiling: 4000,", "", 1);
    let cut = no_door.find("doorways").map(|i| format!("{})", &no_door[..i])).unwrap();
    let found =
        drive_in(&layout(&cut, (3000.0, 7000.0, 0.0), "", "turning_circle: 10600"), &|| false).unwrap();
    assert_eq!(found.answer, Answer::NoDoorway);
    let with = layout(&text, (3000.0, 7000.0, 0.0), "", "turning_circle: 10600");
    assert!(drive_in(&with, &|| true).is_none(), "stopped");
}

#[test]
fn the_same_job_gives_the_same_way() {
    let a = driven(&bay(2600.0, ""), (4300.0, 9500.0, 7.0), "");
    let b = driven(&bay(2600.0, ""), (4300.0, 9500.0, 7.0), "");
    assert_eq!(a, b);
}

#[test]
fn an_apron_is_open_across_the_strip() {
    let apron = bay(3000.0, "")
        .replace("height: 3000", "height: 3000, apron: [(500, -3000), (5500, -3000), (5500, 0), (500, 0)]");
    let found = path(&apron, (3000.0, 5000.0, 0.0));
    assert!((found.tightest.margin - 495.0).abs() < 1e-6, "{:?}", found.tightest);
}
