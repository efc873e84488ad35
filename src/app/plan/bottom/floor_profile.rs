//! The profile of the floor under the plan: its height along a line, with the plane of the wheels, greatly stretched
//! upward. Where the floor was not surveyed nothing is drawn.

use egui::{Align2, Rect, Stroke, Ui, pos2, vec2};
use egui_plot::{
    AxisHints, GridMark, HPlacement, Line, LineStyle, PlotPoint, PlotPoints, Points, Span, Text, VLine,
};

use crate::app::commands::command::Command;
use crate::app::state::panel_context::PanelContext;
use crate::app::state::view_state::BottomPanel;
use crate::app::widgets::{number_field, style};
use crate::geometry::P2;
use crate::layout::{FloorField, Profile};
use crate::paint::screen::colour;
use crate::units::format_height;

const TITLE: f32 = 26.0;
/// Room for the figures beside the plot.
const AXIS: f32 = 44.0;

/// How far along the line the profile is pointed at, mm from its start; `None` elsewhere. `rect`: what lies under the
/// plan, where it is `shown`.
pub(crate) fn over(ui: &Ui, cx: PanelContext, rect: Rect, shown: bool) -> Option<f64> {
    let BottomPanel::Profile(a, b) = cx.view_state.bottom else { return None };
    let body = body(rect);
    let at = ui.input(|i| i.pointer.hover_pos()).filter(|p| shown && body.contains(*p))?;
    let part = (at.x - body.left() - AXIS) / (body.width() - AXIS);
    (0.0..=1.0).contains(&part).then(|| f64::from(part) * (b - a).norm())
}

fn body(rect: Rect) -> Rect {
    Rect::from_min_max(pos2(rect.min.x, rect.min.y + TITLE), rect.max)
}

/// Shows the profile, or what to do for one.
pub(crate) fn show(ui: &mut Ui, cx: PanelContext, rect: Rect, out: &mut Vec<Command>) {
    let survey = &*cx.layout().stage.survey;
    let head = Rect::from_min_max(rect.min, pos2(rect.max.x, rect.min.y + TITLE));
    let buttons = head.with_min_x(head.left() + 100.0).shrink2(vec2(14.0, 1.0));
    let mut right = ui.new_child(
        egui::UiBuilder::new().max_rect(buttons).layout(egui::Layout::right_to_left(egui::Align::Center)),
    );
    if right.small_button("close").on_hover_text("Esc").clicked() {
        out.push(Command::Bottom(BottomPanel::Margins));
    }
    if right.small_button("across").on_hover_text("across the bay through the front axle").clicked() {
        out.extend(through(cx, false).map(Command::Bottom));
    }
    if right.small_button("along").on_hover_text("along the middle of the vehicle").clicked() {
        out.extend(through(cx, true).map(Command::Bottom));
    }
    if cx.view_state.bottom != BottomPanel::Draw
        && right.small_button("new line").on_hover_text("drag another line over the plan").clicked()
    {
        out.push(Command::Bottom(BottomPanel::Draw));
    }
    let left = right.min_rect().left();
    let text = colour(cx.theme.ui.text);
    let font = egui::FontId::proportional(12.5);
    let line = match cx.view_state.bottom {
        BottomPanel::Profile(a, b) => Some((a, b, survey.profile(a, b))),
        _ => None,
    };
    let over = over(ui, cx, rect, true);
    let words = match &line {
        Some((a, b, runs)) => title(cx, survey, (*a, *b), runs, over),
        None => "Profile of the floor".into(),
    };
    let mut job = egui::text::LayoutJob::simple_singleline(words, font, text);
    job.wrap = egui::text::TextWrapping::truncate_at_width(left - head.left() - 24.0);
    let galley = ui.painter().layout_job(job);
    let at = pos2(head.left() + 14.0, head.center().y - galley.size().y / 2.0);
    let said = Rect::from_min_size(at, galley.size());
    let words = galley.text().to_owned();
    ui.painter().galley(at, galley, text);
    let response = ui.interact(said, egui::Id::unique("profile title"), egui::Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &words));
    let body = body(rect);
    ui.painter().rect_filled(body, 0.0, colour(cx.theme.ui.raised));
    match line {
        Some((a, b, runs)) if !survey.is_empty() => plot(ui, cx, body, (a, b), &runs, over),
        _ => {
            let faint = colour(cx.theme.ui.faint);
            let words = if survey.is_empty() {
                "The bay's file has no floor survey: nothing is known of its heights."
            } else {
                "Drag a line over the plan, Shift keeps it straight."
            };
            let font = egui::FontId::proportional(13.5);
            ui.painter().text(body.center(), Align2::CENTER_CENTER, words, font, faint);
        }
    }
}

/// What is said of the line, or of the place on it that is pointed at.
fn title(
    cx: PanelContext,
    survey: &FloorField,
    (a, b): (P2, P2),
    runs: &Profile,
    over: Option<f64>,
) -> String {
    let feet = cx.view_state.feet;
    let long = (b - a).norm();
    if let Some(mm) = over {
        let at = a + (b - a) * (mm / long);
        let from = format!("{} from A", number_field::length(mm.round(), feet));
        let Some(height) = survey.height(at) else { return format!("{from}: not known") };
        let error = survey.shares(at).and_then(|s| survey.error_of(s));
        let error = error.map_or(String::new(), |e| format!(" ±{}", unsigned(e, feet)));
        let off = cx.layout().wheels(None).ok().map(|w| height - w.plane.at(at));
        let off = off.map_or(String::new(), |off| {
            let way = if off < 0.0 { "below" } else { "above" };
            format!(", {} {way} the plane of the wheels", unsigned(off.abs(), feet))
        });
        return format!("{from}: {}{error}{off}", format_height(height, feet));
    }
    let over = number_field::length(long.round(), feet);
    let Some((lo, hi)) = range(runs.iter().flatten().map(|p| p.1)) else {
        return format!("Floor from A to B, {over}: not known, nothing of it was surveyed");
    };
    let unit = if feet { "" } else { " mm" };
    format!(
        "Floor from A to B, {over}: from {} to {}{unit}",
        format_height(lo, feet),
        format_height(hi, feet)
    )
}

fn unsigned(mm: f64, feet: bool) -> String {
    format_height(mm, feet).trim_start_matches('+').to_owned()
}

/// The line along the vehicle, or across it through the front axle, as far as the floor goes.
fn through(cx: PanelContext, along: bool) -> Option<BottomPanel> {
    let frame = cx.layout().frame();
    let way = if along { frame.x } else { -frame.y() };
    let ring = cx.layout().bundle.bay.floor.outline.0.points();
    let mut cuts = Vec::new();
    let mut spans = crate::scene::spans_along(ring, frame.origin, way, &mut cuts);
    let (from, to) = spans.find(|(a, b)| *a <= 0.0 && *b >= 0.0)?;
    let end = |t: f64| {
        let p = frame.origin + way * t;
        P2::new(p.x.round(), p.y.round())
    };
    Some(BottomPanel::Profile(end(from), end(to)))
}

/// The least and the greatest of some heights.
fn range(heights: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    heights.map(|z| (z, z)).reduce(|(lo, hi), (z, _)| (lo.min(z), hi.max(z)))
}

fn plot(ui: &mut Ui, cx: PanelContext, rect: Rect, (a, b): (P2, P2), runs: &Profile, over: Option<f64>) {
    let theme = &cx.theme.ui;
    let (text, faint, accent) = (colour(theme.text), colour(theme.faint), colour(theme.accent));
    let feet = cx.view_state.feet;
    let long = (b - a).norm();
    let wheels = cx.layout().wheels(None).ok();
    let plane = wheels.as_ref().map(|w| [[0.0, w.plane.at(a)], [long, w.plane.at(b)]]);
    // the datum may lie far off: the floor and the plane tell how high the plot is
    let heights = runs.iter().flatten().map(|p| p.1).chain(plane.iter().flatten().map(|p| p[1]));
    let (lo, hi) = range(heights).unwrap_or((0.0, 0.0));
    let room = (hi - lo).max(2.0) * 0.18;
    let mut child = ui.new_child(egui::UiBuilder::new().max_rect(rect).id_salt("profile"));
    let axis = AxisHints::new_y()
        .placement(HPlacement::Left)
        .min_thickness(AXIS)
        .formatter(move |mark: GridMark, _| format_height(mark.value, feet));
    let unknown = gaps(runs, long);
    style::still_plot("profile of the floor", rect, cx.theme)
        .show_axes([false, true])
        .custom_y_axes(vec![axis])
        .show_grid([true, true])
        .y_grid_spacer(move |input| ticks(input.bounds, feet))
        .show(&mut child, |plot| {
            plot.set_auto_bounds([false, false]);
            plot.set_plot_bounds_x(0.0..=long);
            plot.set_plot_bounds_y(lo - 2.2 * room..=hi + room);
            for (from, to) in unknown {
                plot.add(Span::new("", from..=to).fill(faint.gamma_multiply(0.14)));
                if (to - from) / long > 0.12 {
                    let at = PlotPoint::new((from + to) / 2.0, (lo + hi) / 2.0);
                    plot.text(Text::new("", at, egui::RichText::new("not known").size(12.0)).color(faint));
                }
            }
            if let Some(plane) = plane {
                let line = Line::new("", PlotPoints::from(plane.to_vec())).color(accent).width(1.4);
                plot.line(line.style(LineStyle::dashed_dense()));
            }
            for run in runs {
                let points: Vec<[f64; 2]> = run.iter().map(|p| [p.0, p.1]).collect();
                plot.line(Line::new("", PlotPoints::from(points.clone())).color(text).width(1.8));
                plot.points(Points::new("", points).radius(2.4).color(text));
            }
            if let Some(mm) = over {
                plot.add(VLine::new("", mm).color(accent).width(1.0));
            }
            let corner = |x: f64, name: &str, anchor| {
                Text::new("", PlotPoint::new(x, hi + room), egui::RichText::new(name).size(12.5))
                    .color(accent)
                    .anchor(anchor)
            };
            plot.text(corner(0.0, " A", Align2::LEFT_TOP));
            plot.text(corner(long, "B ", Align2::RIGHT_TOP));
        });
    if plane.is_some() {
        let key = pos2(rect.right() - 170.0, rect.bottom() - 12.0);
        let dash = Stroke::new(1.4, accent);
        for i in 0..3 {
            let from = key + vec2(i as f32 * 8.0, 0.0);
            ui.painter().line_segment([from, from + vec2(5.0, 0.0)], dash);
        }
        let font = egui::FontId::proportional(11.5);
        ui.painter().text(key + vec2(28.0, 0.0), Align2::LEFT_CENTER, "plane of the wheels", font, faint);
    }
}

/// Where the line runs over floor that was not surveyed.
fn gaps(runs: &[Vec<(f64, f64)>], long: f64) -> Vec<(f64, f64)> {
    let mut gaps = Vec::new();
    let mut at = 0.0;
    for run in runs {
        let (Some(first), Some(last)) = (run.first(), run.last()) else { continue };
        gaps.push((at, first.0));
        at = last.0;
    }
    gaps.push((at, long));
    gaps.retain(|(a, b)| b - a > 1e-6);
    gaps
}

/// Three to six round heights between two bounds.
fn ticks((lo, hi): (f64, f64), feet: bool) -> Vec<GridMark> {
    let unit = if feet { crate::units::INCH_MM } else { 1.0 };
    let rough = ((hi - lo) / 5.0 / unit).max(1e-6);
    let power = 10f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0].into_iter().find(|s| s * power >= rough).unwrap_or(10.0) * power * unit;
    let first = (lo / step).ceil() as i64;
    let last = (hi / step).floor() as i64;
    (first..=last).take(20).map(|n| GridMark { value: n as f64 * step, step_size: step }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_surveyed_is_told_before_between_and_behind() {
        let run = |a: f64, b: f64| vec![(a, 0.0), (b, 1.0)];
        assert_eq!(gaps(&[], 900.0), [(0.0, 900.0)]);
        assert_eq!(gaps(&[run(0.0, 900.0)], 900.0), []);
        assert_eq!(
            gaps(&[run(100.0, 300.0), run(500.0, 800.0)], 900.0),
            [(0.0, 100.0), (300.0, 500.0), (800.0, 900.0)]
        );
    }

    #[test]
    fn heights_beside_the_plot_are_round() {
        let values = |lo, hi, feet| ticks((lo, hi), feet).iter().map(|m| m.value).collect::<Vec<f64>>();
        assert_eq!(values(-10.7, 4.2, false), [-10.0, -5.0, 0.0]);
        assert_eq!(values(-0.9, 1.1, false), [-0.5, 0.0, 0.5, 1.0]);
        let inches = values(-10.7, 4.2, true);
        assert!((inches[0] + 0.4 * 25.4).abs() < 1e-9 && inches.len() == 3, "{inches:?}");
    }
}
