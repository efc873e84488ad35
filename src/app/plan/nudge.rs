//! The vehicle moved and turned with the arrow keys.

use egui::{Key, Modifiers};

use crate::edit::Motion;
use crate::layout::Stance;
use crate::paint::View;

/// The pose after a key: 10 mm along the page, with Shift 1 mm; with Ctrl left and right turn by 0.1 degrees.
pub(super) fn nudged(at: Stance, key: Key, modifiers: Modifiers, view: &View) -> Option<(Stance, Motion)> {
    let (right, down) = match key {
        Key::ArrowLeft => (-1.0, 0.0),
        Key::ArrowRight => (1.0, 0.0),
        Key::ArrowUp => (0.0, -1.0),
        Key::ArrowDown => (0.0, 1.0),
        _ => return None,
    };
    if modifiers.command || modifiers.ctrl {
        if right == 0.0 {
            return None;
        }
        let heading = ((at.heading - f64::from(right) * 0.1) * 10.0).round() / 10.0;
        return Some((Stance { heading: heading.rem_euclid(360.0), ..at }, Motion::Turn));
    }
    let way = view.way_to_bay([right, down]).normalize() * if modifiers.shift { 1.0 } else { 10.0 };
    let tidy = |v: f64| (v * 1000.0).round() / 1000.0;
    Some((Stance { x: tidy(at.x + way.x), y: tidy(at.y + way.y), ..at }, Motion::Nudge))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::P2;

    fn view(quarter: bool) -> View {
        View { centre: P2::origin(), scale: 0.1, quarter, size: (400.0, 300.0) }
    }

    #[test]
    fn arrows_move_along_the_page() {
        let at = Stance { x: 0.0, y: 0.0, heading: 0.0 };
        let shift = Modifiers::SHIFT;
        let none = Modifiers::NONE;
        for (quarter, key, modifiers, x, y) in [
            (false, Key::ArrowUp, none, 0.0, 10.0),
            (false, Key::ArrowRight, none, 10.0, 0.0),
            (false, Key::ArrowDown, shift, 0.0, -1.0),
            // turned by a quarter the way into the bay runs to the right, the bay's right side is below
            (true, Key::ArrowRight, none, 0.0, 10.0),
            (true, Key::ArrowDown, none, 10.0, 0.0),
            (true, Key::ArrowLeft, shift, 0.0, -1.0),
        ] {
            let (to, how) = nudged(at, key, modifiers, &view(quarter)).unwrap();
            assert_eq!((to.x, to.y, how), (x, y, Motion::Nudge), "{quarter} {key:?}");
        }
    }

    #[test]
    fn control_turns_by_a_tenth_of_a_degree() {
        let at = Stance { x: 1.0, y: 2.0, heading: 0.0 };
        let (left, how) = nudged(at, Key::ArrowLeft, Modifiers::CTRL, &view(false)).unwrap();
        assert_eq!((left.heading, how), (0.1, Motion::Turn));
        let (right, _) = nudged(at, Key::ArrowRight, Modifiers::CTRL, &view(true)).unwrap();
        assert_eq!(right.heading, 359.9);
        assert_eq!(nudged(at, Key::ArrowUp, Modifiers::CTRL, &view(false)), None);
        assert_eq!(nudged(at, Key::F, Modifiers::NONE, &view(false)), None);
    }
}
