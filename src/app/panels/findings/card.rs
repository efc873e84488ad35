//! One finding as a card.

use egui::{
    Align, Color32, CornerRadius, Frame, Label, Layout, Margin, RichText, Sense, Stroke, Ui, UiBuilder, vec2,
};

use crate::app::commands::command::Command;
use crate::app::panels::advised;
use crate::app::panels::findings::accepted;
use crate::app::state::finding_list;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::style;
use crate::checks::acceptance::{entry, spelt};
use crate::checks::{Finding, Outcome};
use crate::edit::{Edit, Step};
use crate::paint::screen::colour;
use crate::report::{advice, text::whose, words};

/// Height of a card that was never measured.
const GUESS: f32 = 66.0;

/// Shows a card, or keeps its place where it is out of sight.
pub(super) fn show(ui: &mut Ui, cx: PanelContext, at: usize, out: &mut Vec<Command>) {
    let finding = &cx.findings()[at];
    let chosen = cx.derived.chosen() == Some(at);
    let width = ui.available_width();
    let key = ui.scope_id().with(("card", finding.rule, finding.setup, &finding.items, chosen, width as i32));
    let height = ui.data(|d| d.get_temp::<f32>(key)).unwrap_or(GUESS);
    let place = egui::Rect::from_min_size(ui.cursor().min, vec2(width, height));
    if chosen && cx.view_state.reveal_card {
        ui.scroll_to_rect(place, None);
    }
    if !ui.is_rect_visible(place) {
        ui.allocate_space(place.size());
        return;
    }
    let id = egui::Id::unique(("card", finding.rule, finding.setup, &finding.items));
    let response = ui
        .scope_builder(UiBuilder::new().sense(Sense::click()).scope_id(id), |ui| {
            let over = ui.response().hovered();
            frame(cx, finding, chosen, over, ui.ctx().memory(|m| m.has_focus(id))).show(ui, |ui| {
                ui.set_width(ui.available_width());
                content(ui, cx, at, chosen, out);
            });
        })
        .response;
    let title = words::title(finding, cx.layout(), cx.show());
    response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Button, true, chosen, &title));
    ui.data_mut(|d| d.insert_temp(key, response.rect.height()));
    if response.clicked() {
        let finding = (!chosen).then_some(at);
        out.push(Command::Choose { finding, look: true });
    }
}

fn frame(cx: PanelContext, finding: &Finding, chosen: bool, over: bool, focused: bool) -> Frame {
    let ui = &cx.theme.ui;
    let (_, tint) = style::symbol_of(finding.outcome, cx.theme);
    let (fill, edge) = match (chosen, over || focused) {
        (true, _) => (colour(ui.raised), Stroke::new(1.6, tint)),
        (false, true) => {
            (colour(ui.raised), Stroke::new(1.0, colour(if focused { ui.accent } else { ui.line })))
        }
        (false, false) => (Color32::TRANSPARENT, Stroke::new(1.0, Color32::TRANSPARENT)),
    };
    Frame::new()
        .fill(fill)
        .stroke(edge)
        .corner_radius(CornerRadius::same(5))
        .inner_margin(Margin::symmetric(8, 6))
}

fn content(ui: &mut Ui, cx: PanelContext, at: usize, chosen: bool, out: &mut Vec<Command>) {
    let finding = &cx.findings()[at];
    let (layout, show) = (cx.layout(), cx.show());
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing = vec2(8.0, 2.0);
        style::symbol(ui, finding.outcome, cx.theme);
        ui.vertical(|ui| {
            ui.set_width(ui.available_width());
            let strong = finding.outcome != Outcome::Pass;
            let title = RichText::new(words::title(finding, layout, show)).size(13.5);
            ui.add(Label::new(if strong { title.strong() } else { title }).wrap());
            let (faint, accent) = (style::weak(ui), colour(cx.theme.ui.accent));
            let figures = words::figures(finding, show).map(|words| (words, faint));
            let help = advice::of(at, &cx.derived.judgement, cx.advice, layout, show);
            let help = help.map(|words| (words, accent));
            let mut lines = figures.into_iter().chain(help);
            second(ui, finding, lines.next(), out);
            for (words, tint) in lines {
                ui.add(Label::new(RichText::new(words).size(12.5).color(tint)).wrap());
            }
            let too = finding_list::resting_too(cx, at);
            if too > 0 {
                let words = if too == 1 {
                    "1 more finding rests".into()
                } else {
                    format!("{too} more findings rest")
                };
                style::quiet(ui, format!("{words} on it"));
            }
            if chosen {
                more(ui, cx, at, out);
            }
        });
    });
}

/// The first line under the title, and why the rule is there.
fn second(ui: &mut Ui, finding: &Finding, line: Option<(String, Color32)>, out: &mut Vec<Command>) {
    ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
        let words = RichText::new("why?").size(12.5).color(style::weak(ui));
        let why = egui::Button::new(words).frame_when_inactive(false).small();
        let named = format!("why? {}", finding.rule.word());
        let why = ui.add(why).on_hover_text(finding.rule.rule().page.title).accessible_name(named);
        if why.clicked() {
            out.push(Command::Why(finding.rule));
        }
        ui.with_layout(Layout::top_down(Align::Min), |ui| {
            if let Some((words, tint)) = line {
                ui.add(Label::new(RichText::new(words).size(12.5).color(tint)).wrap());
            }
        });
    });
}

/// What only the chosen card shows: whose it is, and what can be done.
fn more(ui: &mut Ui, cx: PanelContext, at: usize, out: &mut Vec<Command>) {
    let finding = &cx.findings()[at];
    style::quiet(ui, whose(finding, cx.layout(), cx.show()));
    ui.horizontal_wrapped(|ui| {
        let own = cx.advice.and_then(|a| a.of(at)).filter(|own| own.offered);
        if let Some((own, commands)) = own.and_then(|own| Some((own, advised::commands(cx, &own.tried)?)))
            && ui.button(advised::button(&own.tried, "move it there")).clicked()
        {
            out.extend(commands);
        }
        let fails = matches!(finding.outcome, Outcome::Fail | Outcome::Movable);
        if fails
            && ui.button("accept…").on_hover_text("take responsibility for this, with a reason").clicked()
        {
            out.push(Command::AskAccept(at));
        }
        let accepted = finding.outcome == Outcome::Accepted;
        if accepted && ui.button("take back").on_hover_text("accepted no longer").clicked() {
            out.push(Command::Edit(taken_back(cx, finding), Step::New));
        }
    });
    if finding.outcome == Outcome::Accepted
        && let Some(words) = accepted::accepted_words(cx, finding)
    {
        style::quiet(ui, words);
    }
}

/// The acceptance of the finding, as the file has it.
fn taken_back(cx: PanelContext, finding: &Finding) -> Edit {
    let bundle = cx.document.bundle();
    let items = entry(bundle, finding).map_or_else(|| spelt(bundle, finding), |a| a.items.clone());
    Edit::TakeBack { rule: finding.rule.word().into(), items }
}
