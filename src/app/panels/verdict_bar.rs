//! The strip on top: the verdict first, in words with its number; what binds; what helps; then the menus.

use egui::{Align, CornerRadius, Label, Layout, RichText, Sense, Ui, vec2};

use crate::app::commands::command::{Act, Command};
use crate::app::commands::menu::MENUS;
use crate::app::panels::advised;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::icon::Icon;
use crate::app::widgets::{icon, style};
use crate::checks::wording::{lacks_all, outcome};
use crate::checks::{Finding, Verdict};
use crate::paint::screen::colour;
use crate::report::{advice as words_of, words};

/// Height of the strip.
pub(crate) const HEIGHT: f32 = 68.0;

/// Shows the strip. `recent`: jobs opened lately.
pub(crate) fn show(ui: &mut Ui, cx: PanelContext, recent: &[std::path::PathBuf], out: &mut Vec<Command>) {
    let judgement = &cx.derived.judgement;
    let wide = ui.available_width();
    ui.horizontal_centered(|ui| {
        badge(ui, cx, if cx.derived.is_placed() { judgement.verdict } else { Verdict::NotKnown });
        ui.add_space(4.0);
        let right = (wide * 0.29).clamp(300.0, 420.0);
        let helps_at_all = cx.derived.is_placed() && judgement.verdict != Verdict::Fits;
        let any = helps_at_all && judgement.decisive().is_some();
        let (verdict, help) = widths(wide - right - 80.0, any);
        column(ui, verdict, |ui| {
            let words = match cx.derived.is_placed() {
                true => words::headline(judgement, cx.show()),
                false => unplaced(cx).into(),
            };
            let title = RichText::new(&words).size(fitting(ui, &words)).strong();
            let said = ui.add(Label::new(title).truncate()).on_hover_text(words);
            // a reader of the screen says it anew when it changes, once it has come to an end
            ui.ctx().accesskit_node_builder(said.id, |node| node.set_live(egui::accesskit::Live::Polite));
            let second = second(cx);
            ui.add(Label::new(RichText::new(&second).color(style::weak(ui))).truncate())
                .on_hover_text(second);
        });
        column(ui, help, |ui| helps(ui, cx, out));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            column(ui, right, |ui| corner(ui, cx, recent, out));
        });
    });
}

/// The size at which the verdict is not cut short, as far as it stays easy to read.
fn fitting(ui: &Ui, words: &str) -> f32 {
    let usual = egui::TextStyle::Heading.resolve(ui.style()).size;
    let wide = |size: f32| {
        let font = egui::FontId::proportional(size);
        ui.painter().layout_no_wrap(words.to_owned(), font, egui::Color32::WHITE).size().x
    };
    let fits = |size: &f32| wide(*size) <= ui.available_width();
    [usual, usual * 0.85, usual * 0.72].into_iter().find(fits).unwrap_or(usual * 0.65)
}

fn widths(free: f32, helps: bool) -> (f32, f32) {
    let help = if helps { (free * 0.4).min(360.0) } else { 0.0 };
    (free - help - 12.0, help)
}

fn column(ui: &mut Ui, width: f32, add: impl FnOnce(&mut Ui)) {
    ui.allocate_ui_with_layout(vec2(width, HEIGHT - 14.0), Layout::top_down(Align::Min), |ui| {
        ui.set_width(width);
        ui.spacing_mut().item_spacing.y = 3.0;
        ui.add_space(2.0);
        add(ui);
    });
}

fn badge(ui: &mut Ui, cx: PanelContext, verdict: Verdict) {
    let (rect, response) = ui.allocate_exact_size(vec2(44.0, 44.0), Sense::hover());
    let (symbol, tint) = style::symbol_of_verdict(verdict, cx.theme);
    ui.painter().rect_filled(rect, CornerRadius::same(5), tint);
    style::draw_symbol(ui.painter(), symbol, rect.center(), 12.0, colour(cx.theme.ui.on_accent));
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, verdict.word()));
}

/// What is said in place of a verdict while it is not known where a job without a pose is judged.
fn unplaced(cx: PanelContext) -> &'static str {
    match cx.searching {
        Some(_) => "Looking for where it stands best",
        None => "Not known: the vehicle has no place yet",
    }
}

/// What stands under the verdict.
fn second(cx: PanelContext) -> String {
    if !cx.derived.is_placed() {
        return String::new();
    }
    let judgement = &cx.derived.judgement;
    let title = |f: &Finding| {
        let title = words::title(f, cx.layout(), cx.show());
        match words::figures(f, cx.show()) {
            Some(figures) if f.margin.is_some_and(|m| m < 0.0) => format!("{title}: {figures}"),
            _ => title,
        }
    };
    match judgement.verdict {
        Verdict::FitsIf => {
            let all = outcome::conditions(&judgement.conditions, cx.show());
            all.iter().map(|c| words::capital(c)).collect::<Vec<_>>().join("; ")
        }
        Verdict::NotKnown if !judgement.missing.is_empty() => {
            format!("Missing: {}", lacks_all(&judgement.missing, cx.show()))
        }
        Verdict::Fits => judgement.decisive().map_or_else(String::new, |f| format!("Closest: {}", title(f))),
        _ => judgement.decisive().map_or_else(String::new, title),
    }
}

/// What helps: the one step that was tried and comes out better, with what it gives and the button that makes it.
fn helps(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let judgement = &cx.derived.judgement;
    let tint = colour(cx.theme.ui.accent);
    let wrapped = |ui: &mut Ui, words: String| {
        ui.add(Label::new(RichText::new(&words).size(12.5).color(tint)).wrap()).on_hover_text(words);
    };
    match judgement.verdict {
        _ if !cx.derived.is_placed() => return,
        Verdict::Fits => return,
        Verdict::NotKnown => {
            if cx.seeking_way && judgement.missing.is_empty() {
                style::quiet(ui, "Looking for a way in");
            } else if !judgement.missing.is_empty() {
                wrapped(ui, "Fill in what is missing, on the left".into());
            }
            return;
        }
        Verdict::DoesNotFit if cx.searching.is_some() => {
            style::quiet(ui, "Looking for a better place");
            return;
        }
        _ => {}
    }
    let Some(advice) = cx.advice else {
        style::quiet(ui, "Trying what helps");
        return;
    };
    let (layout, show) = (cx.layout(), cx.show());
    let commands = advice.whole.as_ref().and_then(|tried| Some((tried, advised::commands(cx, tried)?)));
    let Some((tried, commands)) = commands else {
        if let Some(words) = words_of::whole(judgement, advice, layout, show) {
            wrapped(ui, words);
        }
        return;
    };
    // what it gives comes first: where the line is too long, the button still does what it says
    let gain = words::capital(&words_of::gain(tried, show));
    let line = format!("{gain}: {}", words_of::to_do(tried, layout, show));
    let whole = words_of::offer(tried, layout, show);
    ui.add(Label::new(RichText::new(line).color(tint)).truncate()).on_hover_text(whole);
    if ui.button(advised::button(tried, "place it there")).clicked() {
        out.extend(commands);
    }
}

fn corner(ui: &mut Ui, cx: PanelContext, recent: &[std::path::PathBuf], out: &mut Vec<Command>) {
    let document = cx.document;
    let bundle = document.bundle();
    let changed = if document.is_changed() { " · not saved" } else { "" };
    let n = bundle.procedures.len();
    let words = format!(
        "{} · {} · {n} {}{changed}",
        bundle.bay.name,
        bundle.vehicle.name,
        if n == 1 { "procedure" } else { "procedures" }
    );
    ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
        let path = document.path().map_or("not in a file yet".into(), |p| p.display().to_string());
        ui.add(Label::new(RichText::new(words).color(style::weak(ui))).truncate()).on_hover_text(path);
    });
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        style::side_by_side(ui, "menus", |ui| {
            for act in [Act::Undo, Act::Redo] {
                let (words, can) = state(cx, act);
                let icon = if act == Act::Undo { Icon::Undo } else { Icon::Redo };
                let response = icon::button(ui, icon, &words, can);
                if response.clicked() {
                    out.push(Command::Act(act));
                }
            }
            for (name, acts) in MENUS {
                ui.menu_button(*name, |ui| menu(ui, cx, name, acts, recent, out));
            }
        });
    });
}

fn menu(
    ui: &mut Ui,
    cx: PanelContext,
    name: &str,
    acts: &[Option<Act>],
    recent: &[std::path::PathBuf],
    out: &mut Vec<Command>,
) {
    ui.set_min_width(250.0);
    for act in acts {
        let Some(act) = *act else {
            ui.separator();
            continue;
        };
        let (words, can) = state(cx, act);
        let key = act.key().map(|k| ui.ctx().format_shortcut(&k)).unwrap_or_default();
        let button = egui::Button::selectable(is_on(cx, act), words)
            .shortcut_text(key)
            .min_size(vec2(240.0, style::row_height(ui)));
        let response = ui.add_enabled(can, button).on_hover_text(act.tells());
        if response.on_disabled_hover_text(act.tells()).clicked() {
            out.push(Command::Act(act));
            ui.close();
        }
    }
    let recent: Vec<_> = recent.iter().filter(|p| Some(p.as_path()) != cx.document.path()).take(8).collect();
    if name == "Job" && !recent.is_empty() {
        ui.separator();
        style::quiet(ui, "Opened lately");
        for path in recent {
            let words = path.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
            let button = egui::Button::selectable(false, words).min_size(vec2(240.0, style::row_height(ui)));
            if ui.add(button).on_hover_text(path.display().to_string()).clicked() {
                out.push(Command::OpenPath(path.clone()));
                ui.close();
            }
        }
    }
}

/// What an act is called now, and whether it can be done.
pub(crate) fn state(cx: PanelContext, act: Act) -> (String, bool) {
    let named = |title: Option<&str>| match title {
        Some(title) => (format!("{} {title}", act.words()), true),
        None => (act.words().to_owned(), false),
    };
    match act {
        Act::Undo => named(cx.document.can_undo()),
        Act::Redo => named(cx.document.can_redo()),
        Act::Save => (act.words().to_owned(), cx.document.is_changed()),
        Act::Heights | Act::Profile => (act.words().to_owned(), !cx.layout().stage.survey.is_empty()),
        Act::NextSetup | Act::PreviousSetup | Act::AllSetups => {
            (act.words().to_owned(), !cx.layout().setups.is_empty())
        }
        _ => (act.words().to_owned(), true),
    }
}

/// Whether an act that is a switch is on.
fn is_on(cx: PanelContext, act: Act) -> bool {
    match act {
        Act::Night => cx.view_state.night,
        Act::FeetInches => cx.view_state.feet,
        Act::Tapes => cx.view_state.tapes,
        Act::Names => cx.view_state.names,
        Act::Way => cx.view_state.way,
        Act::Picture => cx.view_state.picture,
        Act::Heights => cx.view_state.heights,
        Act::Profile => cx.view_state.bottom.is_profile(),
        Act::HoldTape => cx.view_state.tape.is_some(),
        Act::Legend => cx.view_state.legend,
        Act::JobPanel => cx.view_state.panels.shown().0,
        Act::FindingsPanel => cx.view_state.panels.shown().1,
        Act::StripUnder => cx.view_state.panels.strip,
        Act::Touch => cx.view_state.touch,
        Act::AllSetups => cx.derived.setup().is_none(),
        _ => false,
    }
}
