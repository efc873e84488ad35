//! Cases of screen.

use super::*;
use crate::scene::tests::{judged, small};
use crate::scene::{Item, Role, Show, plan};

/// Draws on a window of this size and gives the shapes with what `draw` gave.
fn shapes(scene: &Scene, view: &View) -> (Vec<egui::epaint::ClippedShape>, Painted) {
    let context = egui::Context::default();
    let rect = Rect::from_min_size(pos2(40.0, 20.0), Vec2::new(view.size.0 as f32, view.size.1 as f32));
    let input = egui::RawInput {
        screen_rect: Some(Rect::from_min_size(Pos2::ZERO, Vec2::new(1600.0, 1200.0))),
        ..Default::default()
    };
    let mut painted = Painted::default();
    let mut output = context.run_ui(input, |ui| {
        painted = draw(ui.painter(), rect, view, scene, Theme::day(), &[]);
    });
    output.textures_delta.clear();
    (output.shapes, painted)
}

#[test]
fn convex_or_not() {
    let square = [[0.0, 0.0], [9.0, 0.0], [9.0, 9.0], [0.0, 9.0]];
    assert!(is_convex(&square));
    assert!(!is_convex(&[[0.0, 0.0], [9.0, 0.0], [9.0, 9.0], [5.0, 2.0]]));
}

#[test]
fn a_concave_floor_is_filled_to_its_area_and_no_more() {
    // an L of 8 by 8 px without a quarter, drawn at 1 px per mm; once with two points that are one on the page
    let points = vec![(0.0, 0.0), (800.0, 0.0), (800.0, 400.0), (400.0, 400.0), (400.0, 800.0), (0.0, 800.0)];
    let twice = [&points[..], &[(0.0, 1e-6), (-1e-6, 0.0)][..]].concat();
    for points in [points, twice] {
        filled_area(&points, 480_000.0);
    }
}

fn filled_area(points: &[(f64, f64)], want: f32) {
    let scene = Scene {
        items: vec![Item::Area {
            role: Role::Floor,
            outline: points.iter().map(|(x, y)| P2::new(*x, *y)).collect(),
            holes: Vec::new(),
            tag: None,
        }],
    };
    let view = View::fit(scene.bounds(), (880.0, 880.0), 40.0);
    let (shapes, _) = shapes(&scene, &view);
    let mut area = 0.0;
    for shape in &shapes {
        if let Shape::Mesh(mesh) = &shape.shape {
            for t in mesh.indices.chunks_exact(3) {
                let [a, b, c] = [t[0], t[1], t[2]].map(|i| mesh.vertices[i as usize].pos);
                area += ((b - a).x * (c - a).y - (b - a).y * (c - a).x).abs() / 2.0;
            }
        }
    }
    assert!((area - want).abs() < 1.0, "{area}");
}

#[test]
fn a_line_that_turns_back_on_itself_stays_in_its_place() {
    let sliver = [[10.0, 10.0], [200.0, 10.0], [10.0, 10.0001]];
    assert!(has_spike(&sliver, true) && has_spike(&sliver, false));
    assert!(!has_spike(&[[0.0, 0.0], [9.0, 0.0], [9.0, 9.0], [0.0, 9.0]], true));
    assert!(!has_spike(&[[0.0, 0.0], [9.0, 0.0]], false));
}

#[test]
fn everything_of_a_plan_is_drawn_inside_its_rectangle() {
    let layout = small();
    let scene = plan(&layout, Some(&judged(&layout)), &Show::default());
    for quarter in [false, true] {
        let view = View::fit_turned(scene.bounds(), (1000.0, 800.0), 30.0, quarter);
        let (shapes, painted) = shapes(&scene, &view);
        assert!(shapes.len() > scene.items.len());
        let texts = shapes.iter().filter(|s| matches!(s.shape, Shape::Text(_))).count();
        assert!(texts > 20, "{texts}");
        assert!(painted.texts.iter().any(|(_, tag)| matches!(tag, crate::scene::Tag::Finding(_))));
        let rect = Rect::from_min_size(pos2(40.0, 20.0), Vec2::new(1000.0, 800.0));
        assert!(shapes.iter().all(|s| rect.contains_rect(s.clip_rect)));
        assert!(shapes.iter().all(|s| s.shape.visual_bounding_rect().is_finite()));
    }
}

#[test]
fn far_zoomed_in_only_what_is_seen_is_dashed_and_hatched() {
    let layout = small();
    let scene = plan(&layout, Some(&judged(&layout)), &Show::default());
    let mut view = View::fit(scene.bounds(), (1000.0, 800.0), 30.0);
    let whole = shapes(&scene, &view).0.len();
    view.zoom([500.0, 400.0], 1e6);
    let near = shapes(&scene, &view).0.len();
    assert!(near < whole * 2, "{near} against {whole}");
}
