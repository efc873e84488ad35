//! The panels beside the plan: how wide they are, and what is left of one that is hidden.

use egui::{Frame, Panel, Rangef, Ui, vec2};

use crate::app::commands::command::{Act, Command};
use crate::app::widgets::icon::{self, Icon};
use crate::app::widgets::style;

/// The plan beside them is never narrower, points.
const PLAN: f32 = 380.0;
/// The least width of each, points.
const LEAST: (f32, f32) = (230.0, 264.0);
/// The most of the window's width that one takes.
const MOST: f32 = 0.4;

/// How wide the panels are.
pub(crate) struct Widths {
    pub left: f32,
    pub right: f32,
    /// Beside both no plan could be read.
    pub narrow: bool,
    wide: f32,
}

impl Widths {
    /// In a window this wide; `wanted`: as a person left them, 0 where nobody did.
    pub(crate) fn of(wide: f32, wanted: (f32, f32)) -> Widths {
        let usual = ((wide * 0.19).clamp(256.0, 330.0), (wide * 0.23).clamp(296.0, 400.0));
        let or = |wanted: f32, usual: f32| if wanted > 0.0 { wanted } else { usual };
        let (mut left, mut right) = (or(wanted.0, usual.0), or(wanted.1, usual.1));
        let narrow = wide < LEAST.0 + LEAST.1 + PLAN;
        let over = left + right + PLAN - wide;
        if over > 0.0 && !narrow {
            // both give way in proportion to what they have to give
            let (a, b) = ((left - LEAST.0).max(0.0), (right - LEAST.1).max(0.0));
            let share = (over / (a + b).max(1.0)).min(1.0);
            (left, right) = (left - a * share, right - b * share);
        }
        Widths { left, right, narrow, wide }
    }

    pub(crate) fn left_range(&self) -> Rangef {
        self.range(LEAST.0, self.right)
    }

    pub(crate) fn right_range(&self) -> Rangef {
        self.range(LEAST.1, self.left)
    }

    fn range(&self, least: f32, other: f32) -> Rangef {
        let beside = if self.narrow { PLAN * 0.6 } else { other + PLAN };
        Rangef::new(least, (self.wide - beside).min((self.wide * MOST).max(least)).max(least))
    }

    /// Notes a width that a person has drawn a panel to.
    pub(crate) fn kept(&self, now: f32, asked: f32, wanted: &mut f32) {
        if !self.narrow && (now - asked).abs() > 1.0 {
            *wanted = now;
        }
    }
}

/// What is left of a hidden panel: a strip with the button that shows it again.
pub(crate) fn folded(ui: &mut Ui, frame: Frame, panel: Panel, act: Act, out: &mut Vec<Command>) {
    let row = style::row_height(ui);
    panel.frame(frame).exact_size(row + 4.0).resizable(false).show(ui, |ui| {
        ui.add_space(8.0);
        ui.spacing_mut().item_spacing = vec2(0.0, 0.0);
        let words = format!("show the {}", act.words().to_lowercase());
        let icon = if act == Act::JobPanel { Icon::Right } else { Icon::Left };
        if icon::button(ui, icon, &words, true).clicked() {
            out.push(Command::Act(act));
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_plan_keeps_its_room_whatever_the_window() {
        for wide in [874.0f32, 900.0, 1000.0, 1280.0, 1600.0, 2560.0] {
            for wanted in [(0.0, 0.0), (400.0, 500.0), (230.0, 0.0), (9000.0, 9000.0)] {
                let sides = Widths::of(wide, wanted);
                assert!(!sides.narrow);
                assert!(wide - sides.left - sides.right >= PLAN - 0.5, "{wide} {wanted:?}");
                assert!(sides.left_range().max >= sides.left_range().min);
            }
        }
        assert!(Widths::of(853.0, (0.0, 0.0)).narrow, "text at 150 % in a window of 1280");
    }
}
