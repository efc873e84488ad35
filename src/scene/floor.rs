//! The surveyed floor on the plan: bands of height, lines of equal height, the spots with their heights. Made once for a
//! survey and laid over the floor, beneath everything that stands on it.

use super::{Item, Role, Scene, Spot};
use crate::geometry::{P2, lines_within};
use crate::layout::{FloorField, Scale};
use crate::phrases::{Say, say};
use crate::report::plan as words;
use crate::siting::Even;
use crate::units::{self, INCH_MM, format_height, format_spare};

/// Spots closer to each other than the plan can tell are still drawn, but no more names than this.
const MOST_NAMES: usize = 300;

/// A survey as drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Heights {
    pub scale: Scale,
    /// Heights are in inches.
    pub feet: bool,
    /// Above everything else that lies flat.
    spots: Vec<Item>,
    ground: Vec<Item>,
}

impl Heights {
    /// What is drawn of a survey inside the bay's floor; `None` without spots. Steps are round mm, or hundredths of an
    /// inch and up.
    pub fn of(survey: &FloorField, floor: &[P2], feet: bool) -> Option<Heights> {
        let scale = if feet { survey.scale(INCH_MM, 0.02) } else { survey.scale(1.0, 0.5) }?;
        let mut ground = Vec::new();
        for (role, band) in Role::HEIGHTS.into_iter().zip(survey.bands(&scale, floor)) {
            for patch in band {
                ground.push(Item::Area { role, outline: patch.outline, holes: patch.holes, tag: None });
            }
        }
        for contour in survey.contours(scale.step) {
            let lines = lines_within(&contour.lines, floor);
            let longest = lines.iter().max_by(|a, b| length(a).total_cmp(&length(b)));
            if let Some(line) = longest {
                let text = format_height(contour.height, feet);
                let at = Spot::Near(halfway(line));
                ground.push(Item::Label { role: Role::Contour, spot: at, text, weight: 12, tag: None });
            }
            ground.extend(lines.into_iter().map(|points| Item::Line {
                role: Role::Contour,
                points,
                tag: None,
            }));
        }
        let mut spots = Vec::new();
        for spot in survey.spots() {
            spots.push(Item::Dot { role: Role::SpotHeight, at: spot.xy(), tag: None });
        }
        for spot in survey.spots().iter().take(MOST_NAMES) {
            let (at, text) = (Spot::Near(spot.xy()), format_height(spot.z, feet));
            spots.push(Item::Label { role: Role::SpotHeight, spot: at, text, weight: 110, tag: None });
        }
        Some(Heights { scale, feet, spots, ground })
    }

    /// The edges of the bands, lowest first, as they are written.
    pub fn edges(&self) -> Vec<String> {
        self.scale.edges().map(|mm| format_height(mm, self.feet)).collect()
    }
}

/// Lays the heights over the floor of a plan.
pub fn heights(scene: &mut Scene, heights: &Heights) {
    let floor = scene.items.iter().rposition(|i| i.role() == Role::Floor).map_or(0, |i| i + 1);
    scene.items.splice(floor..floor, heights.ground.iter().chain(&heights.spots).cloned());
}

/// Draws the place where the vehicle stands best as far as the floor goes and, with `outlines`, all places where the
/// floor lets it stand.
pub fn even(scene: &mut Scene, even: &Even, outlines: bool, say: Say) {
    if outlines {
        let named = even.patches.iter().map(|p| &p.outline).max_by(|a, b| length(a).total_cmp(&length(b)));
        if let Some(corner) = named.and_then(|r| r.iter().max_by(|a, b| (a.x + a.y).total_cmp(&(b.x + b.y))))
        {
            let text = say.word(words::LEVEL_INSIDE);
            scene.items.push(Item::Label {
                role: Role::Even,
                spot: Spot::Near(*corner),
                text,
                weight: 90,
                tag: None,
            });
        }
        for ring in even.patches.iter().flat_map(|p| std::iter::once(&p.outline).chain(&p.holes)) {
            let closed = ring.iter().chain(ring.first()).copied().collect();
            scene.items.push(Item::Line { role: Role::Even, points: closed, tag: None });
        }
    }
    let Some((best, margin)) = even.best.filter(|(_, margin)| *margin >= 0.0) else { return };
    let at = P2::new(best.x, best.y);
    scene.items.push(Item::Dot { role: Role::Even, at, tag: None });
    let mm = format_spare(margin, say.show == units::Show::FeetInches);
    let text = say!(say, words::BEST_FLOOR, mm);
    scene.items.push(Item::Label { role: Role::Even, spot: Spot::Near(at), text, weight: 100, tag: None });
}

fn length(line: &[P2]) -> f64 {
    line.windows(2).map(|w| (w[1] - w[0]).norm()).sum()
}

/// The point half the way along a line.
fn halfway(line: &[P2]) -> P2 {
    let mut left = length(line) / 2.0;
    for w in line.windows(2) {
        let long = (w[1] - w[0]).norm();
        if left <= long && long > 0.0 {
            return w[0] + (w[1] - w[0]) * (left / long);
        }
        left -= long;
    }
    line.first().copied().unwrap_or(P2::origin())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{P3, twice_area};
    use crate::scene::Show;
    use crate::scene::plan;
    use crate::scene::tests::small;

    fn valley() -> FloorField {
        // falls from both sides to a gutter 8 mm low along x 2000
        let spot = |x: f64, y: f64, z: f64| P3::new(x, y, z);
        FloorField::new(
            [spot(0.0, 0.0, 0.0), spot(2000.0, 0.0, -8.0), spot(4000.0, 0.0, 0.0)].into_iter().chain([
                spot(0.0, 9000.0, 0.0),
                spot(2000.0, 9000.0, -8.0),
                spot(4000.0, 9000.0, 0.0),
            ]),
            None,
        )
    }

    #[test]
    fn the_bands_lie_between_the_floor_and_the_grid_and_fill_what_was_surveyed() {
        let layout = small();
        let floor = layout.bundle.bay.floor.outline.0.points();
        let drawn = Heights::of(&valley(), floor, false).unwrap();
        assert_eq!(drawn.edges(), ["-8", "-6", "-4", "-2", "0", "+2", "+4", "+6", "+8"]);
        let mut scene = plan(&layout, None, &Show::default());
        heights(&mut scene, &drawn);
        let at = |role: Role| scene.items.iter().position(|i| i.role() == role).unwrap();
        assert!(at(Role::Floor) < at(Role::HeightLow4) && at(Role::HeightLow1) < at(Role::Grid));
        let area = |role: Role| {
            let patches = scene.of_role(role).filter_map(|i| match i {
                Item::Area { outline, .. } => Some(twice_area(outline) / 2.0),
                _ => None,
            });
            patches.sum::<f64>()
        };
        // each of the four lower bands takes a quarter of 4000 by 9000, on both sides of the gutter; -8 is an edge
        for role in &Role::HEIGHTS[..4] {
            assert!((area(*role) - 9.0e6).abs() < 10.0, "{role:?}: {}", area(*role));
        }
        for role in &Role::HEIGHTS[4..] {
            assert_eq!(area(*role), 0.0, "{role:?}");
        }
        let contours = scene.of_role(Role::Contour).filter(|i| matches!(i, Item::Line { .. })).count();
        // -6, -4 and -2 on both sides; -8 and 0 only touch the surface at the gutter and at the walls
        assert!(contours >= 6, "{contours}");
        let labels = scene.of_role(Role::SpotHeight).filter(|i| matches!(i, Item::Label { .. })).count();
        assert_eq!(labels, 6);
    }

    #[test]
    fn inches_have_round_steps_of_their_own() {
        let layout = small();
        let floor = layout.bundle.bay.floor.outline.0.points();
        let drawn = Heights::of(&valley(), floor, true).unwrap();
        // 8 mm is 0.315 in: four steps of 0.1 in
        assert_eq!(drawn.edges()[0], "-0.4\"");
        assert_eq!(Heights::of(&FloorField::default(), floor, false), None);
    }
}
