//! The margin strip under the plan, on its scale: the least margin if the front axle stood elsewhere on the line through
//! it, where it stands now, where it may stand, and where it stands best.

use egui::{Align2, Rect, Stroke, Ui, pos2};
use egui_plot::{HLine, Line, LineStyle, PlotPoint, PlotPoints, Points, Span, Text, VLine};

use crate::app::commands::command::Command;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::style;
use crate::checks::{Finding, InCurve, RULES, RuleId};
use crate::geometry::NOISE_MM;
use crate::paint::View;
use crate::paint::screen::colour;
use crate::siting::{Curve, Direction, held};
use crate::units::{Put, Round};

/// Height of the strip with its title.
pub(crate) const HEIGHT: f32 = 150.0;
const TITLE: f32 = 24.0;
/// Height of the line that says what the curve holds.
const HOLDS: f32 = 16.0;

/// The direction that lies along the page under this view.
pub(crate) fn along_the_page(view: &View) -> Direction {
    if view.quarter { Direction::Along } else { Direction::Across }
}

/// Shows the strip in `rect`, as wide as the plan. The other direction is shown on the same scale about the present
/// place.
pub(crate) fn show(
    ui: &mut Ui,
    cx: PanelContext,
    rect: Rect,
    view: &View,
    curve: Option<&Curve>,
    out: &mut Vec<Command>,
) {
    let plan = along_the_page(view);
    let direction = if cx.view_state.other_way { other(plan) } else { plan };
    let title = match direction {
        Direction::Along => "Least margin on the plan if the front axle stood farther in or out",
        Direction::Across => "Least margin on the plan if the front axle stood more to the left or right",
    };
    let font = egui::FontId::proportional(12.5);
    let text = colour(cx.theme.ui.text);
    let head = Rect::from_min_max(rect.min, pos2(rect.max.x, rect.min.y + TITLE));
    let aside =
        if cx.view_state.other_way { " (same scale, its own place)" } else { " (same scale as the plan)" };
    let at = head.left_center() + egui::vec2(14.0, 0.0);
    let said = ui.painter().text(at, Align2::LEFT_CENTER, format!("{title}{aside}"), font.clone(), text);
    let curve = curve.filter(|c| c.direction == direction);
    if let Some(curve) = curve {
        let (words, tint) = fits_words(cx, curve);
        let at = pos2(said.right() + 16.0, head.center().y);
        let galley = ui.painter().layout_no_wrap(words, font, tint);
        if at.x + galley.size().x < head.right() - 146.0 {
            ui.painter().galley(at - egui::vec2(0.0, galley.size().y / 2.0), galley, tint);
        }
    }
    let button = Rect::from_min_max(
        pos2(head.right() - 132.0, head.top() + 1.0),
        pos2(head.right() - 14.0, head.bottom() - 1.0),
    );
    let words = match direction {
        Direction::Along => "show across",
        Direction::Across => "show along",
    };
    if ui.put(button, egui::Button::new(words).small()).clicked() {
        out.push(Command::OtherWay(!cx.view_state.other_way));
    }
    let under = Rect::from_min_max(pos2(rect.min.x, head.max.y), pos2(rect.max.x, head.max.y + HOLDS));
    holds(ui, cx, under);
    let body = Rect::from_min_max(pos2(rect.min.x, under.max.y), rect.max);
    ui.painter().rect_filled(body, 0.0, colour(cx.theme.ui.raised));
    match curve {
        Some(curve) => plot(ui, cx, body, view, curve, plan == direction),
        None => {
            style::quiet(ui, "");
        }
    }
}

/// Which rules the curve holds in this job.
fn holds(ui: &Ui, cx: PanelContext, rect: Rect) {
    let words = holds_words(cx.findings());
    let tint = colour(cx.theme.ui.faint);
    let mut job =
        egui::text::LayoutJob::simple_singleline(words.clone(), egui::FontId::proportional(11.5), tint);
    job.wrap = egui::text::TextWrapping::truncate_at_width(rect.width() - 28.0);
    let galley = ui.painter().layout_job(job);
    ui.painter().galley(rect.left_top() + egui::vec2(14.0, 0.0), galley, tint);
    let response = ui.interact(rect, egui::Id::unique("what the curve holds"), egui::Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &words));
    response.on_hover_text(words);
}

/// "Holds vehicle-clear and keep-clear, not headroom": by the rules that speak of something in this job.
fn holds_words(findings: &[Finding]) -> String {
    let spoken = |rule: RuleId| findings.iter().any(|f| f.rule == rule && !f.items.is_empty());
    let words = |rules: &mut dyn Iterator<Item = RuleId>| {
        let words: Vec<&str> = rules.filter(|r| spoken(*r)).map(RuleId::word).collect();
        match words.as_slice() {
            [] => "nothing".to_owned(),
            [one] => (*one).to_owned(),
            [first @ .., last] => format!("{} and {last}", first.join(", ")),
        }
    };
    let mut others = RULES.iter().filter(|r| r.policy.curve == InCurve::LeftOut).map(|r| r.id);
    format!("Holds {}; leaves out {}", words(&mut held()), words(&mut others))
}

/// Where on the line it fits, in words.
fn fits_words(cx: PanelContext, curve: &Curve) -> (String, egui::Color32) {
    let at = |mm, round| cx.show().put(mm, Put { decimals: 0, round, bare: false });
    let fits = colour(cx.theme.ui.fits_text);
    if cx.document.job().procedures.is_empty() {
        return ("no procedure: nothing is placed yet".to_owned(), colour(cx.theme.ui.faint));
    }
    match curve.fits.as_slice() {
        [] => ("fits nowhere on this line".to_owned(), colour(cx.theme.ui.fails_text)),
        [(a, b)] => (format!("fits from {} to {}", at(*a, Round::Up), at(*b, Round::Down)), fits),
        many => (format!("fits in {} stretches", many.len()), fits),
    }
}

fn other(direction: Direction) -> Direction {
    match direction {
        Direction::Along => Direction::Across,
        Direction::Across => Direction::Along,
    }
}

/// Positions at the left and right edges of the page.
fn span(view: &View, curve: &Curve, on_the_plan: bool) -> (f64, f64) {
    if on_the_plan {
        let at = |x: f64| {
            let p = view.to_bay([x as f32, 0.0]);
            if view.quarter { p.y } else { p.x }
        };
        return (at(0.0), at(view.size.0));
    }
    let half = view.size.0 / view.scale / 2.0;
    (curve.present.0 - half, curve.present.0 + half)
}

fn plot(ui: &mut Ui, cx: PanelContext, rect: Rect, view: &View, curve: &Curve, on_the_plan: bool) {
    let theme = &cx.theme.ui;
    let (fits, fails, text, faint) =
        (colour(theme.fits), colour(theme.fails), colour(theme.text), colour(theme.faint));
    let (fits_text, fails_text) = (colour(theme.fits_text), colour(theme.fails_text));
    let show = cx.show();
    let (from, to) = span(view, curve, on_the_plan);
    let (now, best) = (curve.present, curve.best);
    let top = (best.1.max(now.1) * 1.35).max(120.0);
    let bottom = (now.1 * 1.5).clamp(-4000.0, -160.0);
    let signed = |mm: f64| match mm < -NOISE_MM {
        true => format!("−{}", show.up(-mm)),
        false => format!("+{}", show.down(mm.max(0.0))),
    };
    let mut child = ui.new_child(egui::UiBuilder::new().max_rect(rect).id_salt("margins"));
    style::still_plot("margin strip", rect, cx.theme)
        .show_axes([false, false])
        .show_grid([true, false])
        .show(&mut child, |plot| {
            plot.set_auto_bounds([false, false]);
            plot.set_plot_bounds_x(from.min(to)..=from.max(to));
            plot.set_plot_bounds_y(bottom..=top);
            for (a, b) in &curve.fits {
                plot.add(
                    Span::new("", *a..=*b).fill(fits.gamma_multiply(0.16)).border(Stroke::new(1.0, fits)),
                );
            }
            plot.add(HLine::new("", 0.0).color(faint).width(1.0).style(LineStyle::dashed_dense()));
            let points: Vec<[f64; 2]> =
                curve.points.iter().map(|p| [p.0, p.1.clamp(bottom * 2.0, top * 2.0)]).collect();
            plot.line(Line::new("", PlotPoints::from(points)).color(text).width(1.6));
            plot.add(VLine::new("", now.0).color(fails).width(1.0).style(LineStyle::dotted_dense()));
            let dot = |at: (f64, f64), tint| {
                Points::new("", vec![[at.0, at.1.clamp(bottom * 0.92, top * 0.92)]]).radius(4.5).color(tint)
            };
            let apart = (best.0 - now.0).abs() * view.scale > 60.0;
            let below = |at: (f64, f64)| PlotPoint::new(at.0, at.1.clamp(bottom * 0.92, top * 0.92));
            let (tint, ink) = if now.1 < 0.0 { (fails, fails_text) } else { (fits, fits_text) };
            plot.points(dot(now, tint));
            let right = now.0 >= best.0;
            let anchor = if right { Align2::LEFT_BOTTOM } else { Align2::RIGHT_BOTTOM };
            let label = format!("  now {}  ", signed(now.1));
            plot.text(
                Text::new("", below(now), egui::RichText::new(label).size(12.5)).color(ink).anchor(anchor),
            );
            if apart {
                plot.points(dot(best, fits));
                let label = format!("best {}", signed(best.1));
                let at = below(best);
                plot.text(
                    Text::new("", at, egui::RichText::new(format!("{label}\n")).size(12.5))
                        .color(fits_text)
                        .anchor(Align2::CENTER_BOTTOM),
                );
            }
            plot.text(
                Text::new(
                    "",
                    PlotPoint::new(from.min(to), 0.0),
                    egui::RichText::new("  0: just fits").size(11.5),
                )
                .color(faint)
                .anchor(Align2::LEFT_BOTTOM),
            );
        });
}
