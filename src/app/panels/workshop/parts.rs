//! What the lists of a workshop are made of.

use std::path::Path;

use egui::{Frame, Label, Margin, RichText, Sense, Stroke, Ui, Vec2, WidgetInfo, vec2};

use crate::app::background::workshop_query::JobFate;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::style;
use crate::files::{FileFault, ShopContents};
use crate::paint::Symbol;
use crate::paint::screen::colour;

/// The heading of a place, with how many there are.
pub(super) fn heading(ui: &mut Ui, words: &str, more: &str) {
    ui.horizontal(|ui| {
        ui.label(RichText::new(words).size(18.0).strong());
        ui.label(RichText::new(more).color(style::weak(ui)));
    });
    ui.add_space(6.0);
}

/// A card of the list.
pub(super) fn card(ui: &mut Ui, cx: PanelContext, add: impl FnOnce(&mut Ui)) {
    let line = Stroke::new(1.0, colour(cx.theme.ui.line));
    let frame = Frame::new().fill(colour(cx.theme.ui.raised)).stroke(line).corner_radius(4);
    frame.inner_margin(Margin::symmetric(10, 8)).show(ui, |ui| {
        ui.set_width(ui.available_width());
        add(ui);
    });
    ui.add_space(4.0);
}

/// What is wrong with a file, a sentence each.
pub(super) fn faults(ui: &mut Ui, cx: PanelContext, faults: &[FileFault]) {
    for fault in faults.iter().take(3) {
        sentence(ui, cx, &fault.to_string());
    }
    if faults.len() > 3 {
        style::quiet(ui, format!("and {} more faults in this file", faults.len() - 3));
    }
}

/// A sentence about a fault, with its sign.
pub(super) fn sentence(ui: &mut Ui, cx: PanelContext, words: &str) {
    ui.horizontal(|ui| {
        sign(ui, Symbol::Cross, colour(cx.theme.ui.fails), "fault");
        ui.add(Label::new(RichText::new(words).color(colour(cx.theme.ui.fails))).wrap());
    });
}

/// What is wrong with the workshop's own file.
pub(super) fn faults_of_the_shop(ui: &mut Ui, cx: PanelContext, shop: &ShopContents) {
    if !shop.faults.is_empty() {
        ui.label("The workshop's own file has faults; its folders are taken to be the usual ones.");
        faults(ui, cx, &shop.faults);
        ui.add_space(6.0);
    }
}

/// A symbol in a row of text, named for the ear.
pub(super) fn sign(ui: &mut Ui, symbol: Symbol, tint: egui::Color32, words: &str) {
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(18.0), Sense::hover());
    style::draw_symbol(ui.painter(), symbol, rect.center(), 6.0, tint);
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, words));
    response.on_hover_text(words);
}

/// The sign of a job's verdict, and what is said of it; nothing is guessed while it is judged.
pub(super) fn fate(ui: &mut Ui, cx: PanelContext, job: &Path) {
    match cx.shop.fates.and_then(|fates| fates.get(job)) {
        Some(JobFate::Judged(verdict, mm, feet)) => {
            let (symbol, tint) = style::symbol_of_verdict(*verdict, cx.theme);
            sign(ui, symbol, tint, verdict.word());
            let words = if cx.view_state.feet { feet } else { mm };
            ui.add(Label::new(RichText::new(words).color(tint)).truncate()).on_hover_text(words);
        }
        Some(JobFate::Faulty(faults)) => {
            sign(ui, Symbol::Cross, colour(cx.theme.ui.fails), "fault");
            let first = faults.first().cloned().unwrap_or_default();
            let text = RichText::new(first).color(colour(cx.theme.ui.fails));
            ui.add(Label::new(text).wrap()).on_hover_text(faults.join("\n"));
        }
        None if cx.shop.judging => {
            ui.label(RichText::new("being judged").color(style::weak(ui)));
        }
        None => {
            ui.label(RichText::new("not judged yet").color(style::weak(ui)));
        }
    }
}

/// A button over a card's whole name.
pub(super) fn name(ui: &mut Ui, words: &str) -> egui::Response {
    ui.add(
        egui::Button::new(RichText::new(words).size(15.0).strong())
            .min_size(vec2(style::row_height(ui), style::row_height(ui))),
    )
}
