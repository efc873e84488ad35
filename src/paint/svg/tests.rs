//! Cases of svg.

use std::path::Path;

use super::*;
use crate::geometry::{P2, Polygon, V2};
use crate::scene::tests::{found, small};
use crate::scene::way::tests::{drawn, driven};
use crate::scene::{Item, Show, Spot, plan};

/// Set to rewrite the pictures after a wanted change; look at them before they are committed.
const REWRITE: &str = "BAYWRIGHT_REWRITE_PLANS";

fn same(name: &str, picture: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/plans").join(name);
    if std::env::var_os(REWRITE).is_some() {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, picture).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    let differs = kept.lines().zip(picture.lines()).position(|(a, b)| a != b);
    assert!(
        kept == picture,
        "{name} differs from line {:?} on; {REWRITE}=1 rewrites it",
        differs.map(|n| n + 1)
    );
}

#[test]
fn a_small_bay_by_day_and_by_night_and_turned() {
    let layout = small();
    let scene = plan(&layout, Some(&found()), &Show::default());
    let size = (900.0, 640.0);
    let turned = View::fit_turned(scene.bounds(), size, 30.0, true);
    same("small-day.svg", &to_svg(&scene, &turned, Theme::day()));
    let upright = View::fit_turned(scene.bounds(), (640.0, 900.0), 30.0, false);
    same("small-night.svg", &to_svg(&scene, &upright, Theme::night()));
}

#[test]
fn no_text_stands_where_something_is_drawn_over_the_plan_nor_on_a_post() {
    let layout = small();
    let scene = plan(&layout, Some(&found()), &Show::default());
    let view = View::fit_turned(scene.bounds(), (900.0, 640.0), 30.0, true);
    let texts = |kept: &[PageBox]| draw(&scene, &view, Theme::day(), kept, &mut Svg::default()).texts;
    for (taken, _) in texts(&[]).into_iter().take(12) {
        assert!(texts(&[taken]).iter().all(|(b, _)| !b.overlaps(&taken)), "{taken:?}");
    }
    // a post with a name, and another name that would like to stand on it
    let at = |x: f64, y: f64| P2::new(x, y);
    let post = vec![at(1000.0, 1000.0), at(1300.0, 1000.0), at(1300.0, 1300.0), at(1000.0, 1300.0)];
    let on_it = Item::Label {
        role: Role::Name,
        spot: Spot::Near(at(1150.0, 1400.0)),
        text: "x".into(),
        weight: 100,
        tag: Some(crate::scene::Tag::Vehicle),
    };
    let area = Item::Area { role: Role::Post, outline: post.clone(), holes: Vec::new(), tag: None };
    let scene = Scene { items: vec![area, on_it] };
    let view = View { centre: at(1150.0, 1150.0), scale: 0.1, quarter: false, size: (400.0, 300.0) };
    let post = PageBox::about(&post.iter().map(|p| view.to_page(*p)).collect::<Vec<_>>());
    let texts = draw(&scene, &view, Theme::day(), &[], &mut Svg::default()).texts;
    assert!(texts.len() == 1 && !texts[0].0.overlaps(&post), "{texts:?} on {post:?}");
}

#[test]
fn texts_are_escaped_and_numbers_short() {
    let scene = Scene {
        items: vec![Item::Label {
            role: Role::Name,
            spot: Spot::Near(P2::origin()),
            text: "a < b & \"c\"\u{7}".into(),
            weight: 100,
            tag: None,
        }],
    };
    let view = View { centre: P2::origin(), scale: 0.1, quarter: false, size: (400.0, 300.0) };
    let svg = to_svg(&scene, &view, Theme::day());
    assert!(svg.contains(">a &lt; b &amp; &quot;c&quot; </text>"));
    assert_eq!([number(1.5), number(-0.0001), number(100.0)], ["1.5", "0", "100"]);
}

#[test]
fn a_hole_in_the_ground_swept_is_left_open_in_the_picture() {
    let (layout, found) = driven();
    let mut path = found.path().unwrap().clone();
    let middle = path.swept[0].centre();
    let corners = [(-9.0, -9.0), (9.0, -9.0), (9.0, 9.0), (-9.0, 9.0)].map(|(x, y)| middle + V2::new(x, y));
    path.holes = vec![Polygon::new(corners.to_vec()).unwrap()];
    let scene = drawn(&layout, &found, &path);
    let view = View::fit_turned(scene.bounds(), (900.0, 640.0), 30.0, true);
    let svg = to_svg(&scene, &view, Theme::day());
    let ground = svg.split(r#"<g class="Swept">"#).nth(1).unwrap();
    let fill = ground.lines().find(|l| l.contains(r#"fill-rule="evenodd""#)).unwrap();
    assert_eq!(fill.matches('M').count(), 2, "outline and hole in one path");
    assert!(svg.contains(r#"<g class="Way">"#) || svg.contains(r#"<g class="WayBack">"#));
}
