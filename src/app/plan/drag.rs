//! What is held by the pointer, and where that puts the vehicle.

use egui::{Pos2, Rect, Stroke, Ui, pos2};

use crate::app::plan::screen_position::on_screen;
use crate::app::state::panel_context::PanelContext;
use crate::app::state::view_state::BottomPanel;
use crate::geometry::{P2, V2};
use crate::layout::Stance;
use crate::paint::View;
use crate::paint::screen::colour;

/// Radius of the handle ahead of the nose, points.
pub(super) const HANDLE: f32 = 9.0;
/// How far ahead of the nose the handle is, points.
const AHEAD: f32 = 30.0;
/// Turned by hand, a heading this near to a quarter turn becomes one, degrees.
const CATCH: f64 = 0.7;

/// What is held.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Drag {
    Plan,
    /// The vehicle, taken at a bay point.
    Vehicle {
        from: P2,
        stance: Stance,
    },
    /// The vehicle's nose: it turns about the middle of its front axle.
    Nose {
        bearing: f64,
        stance: Stance,
    },
    /// A line of the plan is drawn from a bay point; what lay under the plan before.
    Line {
        from: P2,
        before: BottomPanel,
    },
    /// A thing of the bay.
    Thing(Box<crate::app::plan::bay_edit::dragged::Dragged>),
    /// A rectangle that chooses things of the bay, besides those chosen before.
    Choose {
        from: P2,
        to: P2,
        before: Vec<crate::edit::bay::BayThing>,
    },
    /// Let go of with Esc; the button is still down.
    Cancelled,
}

impl Drag {
    pub(super) fn turn(from: P2, stance: Stance) -> Drag {
        Drag::Nose { bearing: bearing(stance, from), stance }
    }

    pub(super) fn moves_the_vehicle(&self) -> bool {
        matches!(self, Drag::Vehicle { .. } | Drag::Nose { .. })
    }

    /// Where the vehicle is with the pointer over this bay point: whole millimetres, tenths of a degree. `straight`
    /// keeps a move to one bay axis, and a turn from being caught at quarter turns.
    pub(super) fn stance(&self, to: P2, straight: bool) -> Option<Stance> {
        match self {
            Drag::Plan | Drag::Line { .. } | Drag::Thing(_) | Drag::Choose { .. } | Drag::Cancelled => None,
            Drag::Vehicle { from, stance } => {
                let by = along(to - from, straight);
                let at = |v: f64, by: f64| if by == 0.0 { v } else { (v + by).round() };
                Some(Stance { x: at(stance.x, by.x), y: at(stance.y, by.y), ..*stance })
            }
            Drag::Nose { bearing: start, stance } => {
                let turned = stance.heading + (bearing(*stance, to) - start).to_degrees();
                let quarter = (turned / 90.0).round() * 90.0;
                let caught = !straight && (turned - quarter).abs() <= CATCH;
                let heading = if caught { quarter } else { (turned * 10.0).round() / 10.0 };
                Some(Stance { heading: heading.rem_euclid(360.0), ..*stance })
            }
        }
    }
}

/// The other end of a line from `from`: whole millimetres; `straight` keeps it along one bay axis.
pub(super) fn line_to(from: P2, to: P2, straight: bool) -> P2 {
    let to = from + along(to - from, straight);
    P2::new(to.x.round(), to.y.round())
}

/// A move as it is or, `straight`, along the bay axis it is nearest to.
fn along(by: V2, straight: bool) -> V2 {
    match straight {
        false => by,
        true if by.x.abs() < by.y.abs() => V2::new(0.0, by.y),
        true => V2::new(by.x, 0.0),
    }
}

/// Direction from the vehicle's origin to a bay point, radians.
fn bearing(stance: Stance, p: P2) -> f64 {
    (p.y - stance.y).atan2(p.x - stance.x)
}

/// Where the handle is on the plan's page.
pub(super) fn handle_at(cx: PanelContext, view: &View) -> Pos2 {
    let layout = cx.layout();
    let frame = layout.frame();
    let [x, y] = view.to_page(frame.to_world(P2::new(layout.bundle.vehicle.front_overhang, 0.0)));
    let [dx, dy] = view.way_to_page(frame.x);
    let length = dx.hypot(dy).max(1e-6);
    pos2(x + dx / length * AHEAD, y + dy / length * AHEAD)
}

/// Draws the handle.
pub(super) fn handle(ui: &Ui, cx: PanelContext, rect: Rect, view: &View, grab: Option<&Drag>) {
    let at = handle_at(cx, view) + rect.min.to_vec2();
    let origin = on_screen(rect, view, P2::new(cx.layout().stance.x, cx.layout().stance.y));
    let painter = ui.painter().with_clip_rect(rect);
    let held = matches!(grab, Some(Drag::Nose { .. }));
    let theme = &cx.theme.ui;
    let tint = if held { colour(theme.accent) } else { colour(theme.faint) };
    painter.circle(at, HANDLE, colour(theme.raised).gamma_multiply(0.85), Stroke::new(1.2, tint));
    // an arc with two arrow heads: it turns
    let along = (at - origin).normalized();
    let across = along.rot90();
    let pen = Stroke::new(1.4, tint);
    for side in [-1.0, 1.0] {
        let tip = at + across * (side * 5.0);
        painter.line_segment([at, tip], pen);
        for back in [-1.0, 1.0] {
            painter.line_segment([tip, tip - across * (side * 3.0) + along * (back * 2.5)], pen);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const START: Stance = Stance { x: 1000.5, y: 2000.0, heading: 0.0 };

    #[test]
    fn the_vehicle_follows_the_pointer_in_whole_millimetres() {
        let grab = Drag::Vehicle { from: P2::new(1200.0, 2300.0), stance: START };
        let to = grab.stance(P2::new(1250.2, 2299.6), false).unwrap();
        assert_eq!((to.x, to.y, to.heading), (1051.0, 2000.0, 0.0));
    }

    #[test]
    fn straight_keeps_to_the_longer_way_and_leaves_the_other_as_it_was() {
        let grab = Drag::Vehicle { from: P2::new(0.0, 0.0), stance: START };
        let to = grab.stance(P2::new(4.0, -300.0), true).unwrap();
        assert_eq!((to.x, to.y), (1000.5, 1700.0));
    }

    #[test]
    fn the_nose_turns_and_is_caught_at_quarter_turns() {
        // ahead of the axle at heading 0 lies +y
        let grab = Drag::turn(P2::new(1000.5, 5000.0), START);
        let at = |degrees: f64| {
            let a = degrees.to_radians();
            P2::new(1000.5 - 3000.0 * a.sin(), 2000.0 + 3000.0 * a.cos())
        };
        for (pointer, straight, heading) in [
            (10.04, false, 10.0),
            (0.6, false, 0.0),
            (0.6, true, 0.6),
            (-89.5, false, 270.0),
            (-2.0, false, 358.0),
        ] {
            let to = grab.stance(at(pointer), straight).unwrap();
            assert!((to.heading - heading).abs() < 1e-9, "{pointer}: {}", to.heading);
            assert_eq!((to.x, to.y), (START.x, START.y));
        }
    }

    #[test]
    fn the_plan_moves_no_vehicle() {
        assert_eq!(Drag::Plan.stance(P2::origin(), false), None);
        assert!(!Drag::Cancelled.moves_the_vehicle());
    }
}
