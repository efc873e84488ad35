//! What lies under the plan while heights are pressed into it, and what a press is about.

use egui::{Rect, Ui, vec2};

use crate::app::commands::command::{Act, Command, DialogAnswer, SurveyAction};
use crate::app::state::panel_context::PanelContext;
use crate::app::state::survey_draft::summary;
use crate::app::state::view_state::BottomPanel;
use crate::app::widgets::style;
use crate::geometry::P2;
use crate::paint::View;
use crate::paint::screen::colour;

/// A press this near to a spot is about the spot, points.
const REACH: f32 = 9.0;

/// What a press on the plan is about: the spot under it, or the place itself in whole mm.
pub(crate) fn pressed(cx: PanelContext, view: &View, at: [f32; 2]) -> Command {
    let spots = cx.layout().stage.survey.spots();
    let apart = |p: P2| {
        let [x, y] = view.to_page(p);
        (x - at[0]).hypot(y - at[1])
    };
    let near = spots.iter().map(|s| s.xy()).min_by(|a, b| apart(*a).total_cmp(&apart(*b)));
    let free = view.to_bay(at);
    let free = P2::new(free.x.round(), free.y.round());
    Command::HeightAt(near.filter(|p| apart(*p) <= REACH).unwrap_or(free))
}

/// What lies under the plan while heights are pressed into it.
pub(crate) fn show(ui: &mut Ui, cx: PanelContext, rect: Rect, out: &mut Vec<Command>) {
    ui.painter().rect_filled(rect, 0.0, colour(cx.theme.ui.raised));
    let spots = summary(&cx.document.bundle().bay.heights, 0, cx.view_state.feet);
    let changed = cx.is_bay_unwritten();
    let state = match changed {
        true => "not in the bay's file yet",
        false => "as the bay's file has it",
    };
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(rect.shrink2(vec2(14.0, 10.0))));
    ui.spacing_mut().item_spacing.y = 8.0;
    ui.label("Press on the plan where a height was read, or on a spot to change it.");
    style::quiet(&mut ui, format!("{spots}: {state}"));
    ui.horizontal(|ui| {
        if ui.button("table").clicked() {
            out.push(Command::Act(Act::Survey));
        }
        if ui.add_enabled(changed, egui::Button::new("write into the bay's file")).clicked() {
            out.push(Command::Answer(DialogAnswer::Survey(SurveyAction::Write)));
        }
        if ui.button("close").on_hover_text("Esc; what was entered stays, and undo takes it back").clicked() {
            out.push(Command::Bottom(BottomPanel::Margins));
        }
    });
}
