//! What lies under the pointer.

use super::View;
use super::outline::{inside, to_segment};
use crate::geometry::P2;
use crate::scene::{Item, Scene, Spot, Tag, plan};

/// The topmost thing within `reach` px of a page point: findings before marks, things and the vehicle, those before zones.
pub fn pick(view: &View, scene: &Scene, page: [f32; 2], reach: f32) -> Option<Tag> {
    under(view, scene, page, reach).into_iter().next()
}

/// Everything within `reach` px of a page point, each once, in the order [`pick`] prefers it.
pub fn under(view: &View, scene: &Scene, page: [f32; 2], reach: f32) -> Vec<Tag> {
    let mut found: Vec<(u8, usize, &Tag)> = Vec::new();
    let mut ring = Vec::new();
    for (i, item) in scene.items.iter().enumerate() {
        let Some(tag) = item.tag() else { continue };
        if let Some(away) = distance(view, item, page, reach, &mut ring) {
            // what is really under the pointer comes before what is only near it
            let near = u8::from(away > 0.0);
            found.push((rank(tag) * 2 + near, usize::MAX - i, tag));
        }
    }
    found.sort_by_key(|(rank, order, _)| (*rank, *order));
    let mut tags: Vec<Tag> = Vec::new();
    for (_, _, tag) in found {
        if !tags.contains(tag) {
            tags.push(tag.clone());
        }
    }
    tags
}

fn rank(tag: &Tag) -> u8 {
    match tag {
        Tag::Finding(_) => 0,
        Tag::Mark { .. } => 1,
        Tag::Vehicle | Tag::Thing(_) | Tag::Station { .. } => 2,
        Tag::Zone { .. } => 3,
    }
}

/// How far the point is from the item, px; `None` beyond `reach`. On or in it: 0.
fn distance(view: &View, item: &Item, page: [f32; 2], reach: f32, ring: &mut Vec<[f32; 2]>) -> Option<f32> {
    let mut onto = |points: &[P2]| {
        ring.clear();
        ring.extend(points.iter().map(|p| view.to_page(*p)));
    };
    let away = match item {
        Item::Area { outline, .. } => {
            onto(outline);
            if inside(page, ring) {
                0.0
            } else {
                chain(page, ring).min(ring.last().map_or(f32::INFINITY, |a| to_segment(page, *a, ring[0])))
            }
        }
        Item::Line { points, .. } => {
            onto(points);
            chain(page, ring)
        }
        Item::Dot { at, .. } => {
            let at = view.to_page(*at);
            (at[0] - page[0]).hypot(at[1] - page[1])
        }
        Item::Dimension { a, b, aside, .. } => {
            let shift = plan::aside_of(*a, *b, *aside);
            onto(&[*a + shift, *b + shift]);
            chain(page, ring)
        }
        Item::Label { spot: Spot::Near(at), .. } => {
            let at = view.to_page(*at);
            (at[0] - page[0]).hypot(at[1] - page[1])
        }
        Item::Label { .. } | Item::Arrow { .. } => f32::INFINITY,
    };
    (away <= reach).then_some(away)
}

fn chain(page: [f32; 2], points: &[[f32; 2]]) -> f32 {
    let pairs = points.windows(2).map(|p| to_segment(page, p[0], p[1]));
    pairs.fold(f32::INFINITY, f32::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::tests::{about, judged, small};
    use crate::scene::{Show, plan};

    fn at(view: &View, scene: &Scene, x: f64, y: f64) -> Option<Tag> {
        pick(view, scene, view.to_page(P2::new(x, y)), 6.0)
    }

    fn thing(name: &str) -> Option<Tag> {
        Some(Tag::Thing(about(name)))
    }

    #[test]
    fn what_is_under_the_pointer_is_found_turned_or_not() {
        let layout = small();
        let scene = plan(&layout, None, &Show::default());
        for quarter in [false, true] {
            let view = View::fit_turned(scene.bounds(), (900.0, 900.0), 30.0, quarter);
            assert_eq!(at(&view, &scene, 4100.0, 6900.0), thing("bench"));
            assert_eq!(at(&view, &scene, 2300.0, 7900.0), thing("trolley"));
            assert_eq!(at(&view, &scene, 2000.0, 4600.0), Some(Tag::Vehicle));
            assert_eq!(at(&view, &scene, 4475.0, 3000.0), thing("east wall"));
            assert_eq!(at(&view, &scene, 3900.0, 8800.0), thing("switchboard"));
            let zone = at(&view, &scene, 2600.0, 6500.0);
            assert!(matches!(&zone, Some(Tag::Zone { setup: 0, name }) if &**name == "field"), "{zone:?}");
            assert_eq!(at(&view, &scene, -3000.0, 5000.0), None);
        }
    }

    #[test]
    fn marks_come_before_things_and_findings_before_marks() {
        let layout = small();
        let judgement = judged(&layout);
        let scene = plan(&layout, Some(&judgement), &Show::default());
        let view = View::fit_turned(scene.bounds(), (900.0, 900.0), 30.0, true);
        let mark = layout.setups[0].marks[0].at.clone().unwrap();
        let found = at(&view, &scene, mark.x, mark.y);
        assert!(matches!(&found, Some(Tag::Mark { name, .. }) if &**name == "A"), "{found:?}");
        // the trolley stands in the field: it is ringed, and still found below its finding
        let all = under(&view, &scene, view.to_page(P2::new(2300.0, 7900.0)), 6.0);
        assert!(matches!(all.first(), Some(Tag::Finding(_))), "{all:?}");
        assert!(all.contains(&Tag::Thing(about("trolley"))));
    }
}
