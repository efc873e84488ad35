//! The strip on top: the verdict first, in words with its number; what binds; what helps; then the menus.

use egui::{Align, CornerRadius, Label, Layout, RichText, Sense, Ui, vec2};

use super::command::{Act, Command, MENUS};
use super::cx::Cx;
use super::help;
use super::icon::{self, Icon};
use super::look;
use crate::checks::{Finding, Outcome, Verdict};
use crate::edit::Step;
use crate::paint::screen::colour;
use crate::report::words;

/// Height of the strip.
pub const HEIGHT: f32 = 68.0;

/// Shows the strip. `recent`: jobs opened lately.
pub fn show(ui: &mut Ui, cx: Cx, recent: &[std::path::PathBuf], out: &mut Vec<Command>) {
    let judgement = &cx.seen.judgement;
    let wide = ui.available_width();
    ui.horizontal_centered(|ui| {
        badge(ui, cx, judgement.verdict);
        ui.add_space(4.0);
        let right = (wide * 0.29).clamp(300.0, 420.0);
        let (verdict, help) = widths(wide - right - 80.0, judgement.decisive().is_some());
        column(ui, verdict, |ui| {
            let words = words::headline(judgement, cx.show());
            let title = RichText::new(&words).heading().strong();
            ui.add(Label::new(title).truncate()).on_hover_text(words);
            let second = second(cx);
            ui.add(Label::new(RichText::new(&second).color(look::weak(ui))).truncate()).on_hover_text(second);
        });
        column(ui, help, |ui| helps(ui, cx, out));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            column(ui, right, |ui| corner(ui, cx, recent, out));
        });
    });
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

fn badge(ui: &mut Ui, cx: Cx, verdict: Verdict) {
    let (rect, response) = ui.allocate_exact_size(vec2(44.0, 44.0), Sense::hover());
    let (symbol, tint) = look::symbol_of_verdict(verdict, cx.theme);
    ui.painter().rect_filled(rect, CornerRadius::same(5), tint);
    look::draw_symbol(ui.painter(), symbol, rect.center(), 12.0, colour(cx.theme.ui.on_accent));
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, verdict.word()));
}

/// What stands under the verdict.
fn second(cx: Cx) -> String {
    let judgement = &cx.seen.judgement;
    let title = |f: &Finding| {
        let title = words::title(f, cx.layout(), cx.show());
        match words::figures(f, cx.show()) {
            Some(figures) if f.margin.is_some_and(|m| m < 0.0) => format!("{title}: {figures}"),
            _ => title,
        }
    };
    match judgement.verdict {
        Verdict::FitsIf => {
            judgement.conditions.iter().map(|c| words::capital(c)).collect::<Vec<_>>().join("; ")
        }
        Verdict::NotKnown if !judgement.missing.is_empty() => {
            format!("Missing: {}", judgement.missing.join(", "))
        }
        Verdict::Fits => judgement.decisive().map_or_else(String::new, |f| format!("Closest: {}", title(f))),
        _ => judgement.decisive().map_or_else(String::new, title),
    }
}

/// Where the search found a place that serves everything: how far off it is, and the button that puts the vehicle there.
fn elsewhere(ui: &mut Ui, cx: Cx, out: &mut Vec<Command>) -> bool {
    let best =
        cx.found.and_then(|f| f.best.as_ref()).filter(|_| cx.seen.judgement.verdict == Verdict::DoesNotFit);
    let Some(best) = best else { return false };
    if best.also.iter().any(|f| matches!(f.outcome, Outcome::Fail | Outcome::Unknown)) {
        return false;
    }
    let (to, now) = (best.place.stance, cx.layout().stance);
    let show = cx.show();
    let turned = (to.heading - now.heading).rem_euclid(360.0) != 0.0;
    let way = words::way(crate::geometry::V2::new(to.x - now.x, to.y - now.y), show);
    let turn = if turned { ", turned round," } else { "" };
    let off = show.one((to.x - now.x).hypot(to.y - now.y));
    let slack = show.one(best.place.slack.floor());
    let words = format!("Fits {off} from here, slack {slack}");
    let whole = format!("{way}{turn} it fits, with {slack} slack in any direction");
    let tint = colour(cx.theme.ui.accent);
    ui.add(Label::new(RichText::new(words).color(tint)).truncate()).on_hover_text(whole);
    if ui.button("place it there").clicked() {
        out.push(Command::Act(Act::PlaceBest));
    }
    true
}

fn helps(ui: &mut Ui, cx: Cx, out: &mut Vec<Command>) {
    if elsewhere(ui, cx, out) {
        return;
    }
    let judgement = &cx.seen.judgement;
    let finding = match judgement.verdict {
        Verdict::DoesNotFit => judgement.decisive(),
        Verdict::FitsIf => judgement.findings.iter().find(|f| f.outcome == Outcome::Movable),
        _ => None,
    };
    let Some(finding) = finding else {
        if cx.seeking_way && judgement.missing.is_empty() {
            look::quiet(ui, "Looking for a way in");
        } else if judgement.verdict == Verdict::NotKnown && !judgement.missing.is_empty() {
            let tint = colour(cx.theme.ui.accent);
            ui.add(Label::new(RichText::new("Fill in what is missing, on the left").color(tint)).wrap());
        }
        return;
    };
    let Some(words) = words::help(finding, cx.layout(), cx.show()) else { return };
    let tint = colour(cx.theme.ui.accent);
    match help::act(cx, finding) {
        Some((button, edit)) => {
            ui.add(Label::new(RichText::new(&words).color(tint)).truncate()).on_hover_text(&words);
            if ui.button(button).clicked() {
                out.push(Command::Edit(edit, Step::New));
            }
        }
        None => {
            ui.add(Label::new(RichText::new(&words).size(12.5).color(tint)).wrap());
        }
    }
}

fn corner(ui: &mut Ui, cx: Cx, recent: &[std::path::PathBuf], out: &mut Vec<Command>) {
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
        ui.add(Label::new(RichText::new(words).color(look::weak(ui))).truncate()).on_hover_text(path);
    });
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        for (name, acts) in MENUS.iter().rev() {
            ui.menu_button(*name, |ui| menu(ui, cx, name, acts, recent, out));
        }
        for act in [Act::Redo, Act::Undo] {
            let (words, can) = state(cx, act);
            let icon = if act == Act::Undo { Icon::Undo } else { Icon::Redo };
            let response = icon::button(ui, icon, &words, can);
            if response.clicked() {
                out.push(Command::Act(act));
            }
        }
    });
}

fn menu(
    ui: &mut Ui,
    cx: Cx,
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
            .min_size(vec2(240.0, look::ROW));
        if ui.add_enabled(can, button).clicked() {
            out.push(Command::Act(act));
            ui.close();
        }
    }
    let recent: Vec<_> = recent.iter().filter(|p| Some(p.as_path()) != cx.document.path()).take(8).collect();
    if name == "Job" && !recent.is_empty() {
        ui.separator();
        look::quiet(ui, "Opened lately");
        for path in recent {
            let words = path.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
            let button = egui::Button::selectable(false, words).min_size(vec2(240.0, look::ROW));
            if ui.add(button).on_hover_text(path.display().to_string()).clicked() {
                out.push(Command::OpenPath(path.clone()));
                ui.close();
            }
        }
    }
}

/// What an act is called now, and whether it can be done.
fn state(cx: Cx, act: Act) -> (String, bool) {
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
fn is_on(cx: Cx, act: Act) -> bool {
    match act {
        Act::Night => cx.session.night,
        Act::FeetInches => cx.session.feet,
        Act::Tapes => cx.session.tapes,
        Act::Names => cx.session.names,
        Act::Way => cx.session.way,
        Act::Picture => cx.session.picture,
        Act::Heights => cx.session.heights,
        Act::Profile => cx.session.under.is_profile(),
        Act::AllSetups => cx.seen.setup().is_none(),
        _ => false,
    }
}
