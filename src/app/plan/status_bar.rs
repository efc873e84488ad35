//! The line under the plan: a scale bar, and which keys do what, or where the vehicle is while it is held.

use egui::{Align2, FontId, Rect, Stroke, Ui, pos2, vec2};

use crate::app::plan::drag::Drag;
use crate::app::plan::legend;
use crate::app::plan::over::compass;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::{number_field, style};
use crate::geometry::P2;
use crate::paint::View;
use crate::paint::screen::colour;
use crate::units::{INCH_MM, norm_deg};

/// The longest scale bar, points.
const LONGEST: f64 = 150.0;

/// Shows the line.
pub(super) fn show(
    ui: &Ui,
    cx: PanelContext,
    rect: Rect,
    view: &View,
    grab: Option<&Drag>,
    pointer: Option<P2>,
) {
    let painter = ui.painter().with_clip_rect(rect);
    let (text, faint) = (colour(cx.theme.ui.text), colour(cx.theme.ui.faint));
    let font = FontId::proportional(12.0);
    let (length, words) = bar(view.scale, cx.view_state.feet);
    let left = pos2(rect.left() + 14.0, rect.center().y);
    let width = (length * view.scale) as f32;
    for (part, fill) in [(0.0, true), (0.5, false)] {
        let piece = Rect::from_min_size(left + vec2(width * part, -2.5), vec2(width / 2.0, 5.0));
        if fill {
            painter.rect_filled(piece, 0.0, text);
        }
        painter.rect_stroke(piece, 0.0, Stroke::new(1.0, text), egui::StrokeKind::Middle);
    }
    let end = painter.text(left + vec2(width + 8.0, 0.0), Align2::LEFT_CENTER, words, font.clone(), faint);
    let right = pos2(rect.right() - 14.0, rect.center().y);
    let mut used = legend::show(ui, cx, pos2(end.right(), rect.center().y), right.x - end.right());
    used = compass::show(ui, cx, view, pos2(used + 14.0, rect.center().y), right.x - used - 14.0);
    if let Some(at) = pointer {
        let feet = cx.view_state.feet;
        let words = format!(
            "{} right · {} in",
            number_field::length(at.x.round(), feet),
            number_field::length(at.y.round(), feet)
        );
        let at = pos2(used + 14.0, rect.center().y);
        used = painter.text(at, Align2::LEFT_CENTER, words, font.clone(), text).right();
    }
    if grab.is_some_and(Drag::moves_the_vehicle) {
        let at = cx.layout().stance;
        let feet = cx.view_state.feet;
        let words = format!(
            "{} to the right · {} into the bay · {:.1}°   (Esc: back)",
            number_field::length(at.x, feet),
            number_field::length(at.y, feet),
            norm_deg(at.heading)
        );
        painter.text(right, Align2::RIGHT_CENTER, words, FontId::proportional(13.0), text);
        return;
    }
    let room = right.x - used - 24.0;
    if let Some(note) = cx.note {
        let mut job =
            egui::text::LayoutJob::simple_singleline(note.to_owned(), FontId::proportional(13.0), text);
        job.wrap = egui::text::TextWrapping::truncate_at_width(room);
        let galley = painter.layout_job(job);
        let corner = pos2(right.x - galley.size().x, rect.center().y - galley.size().y / 2.0);
        let place = Rect::from_min_size(corner, galley.size());
        painter.galley(corner, galley, text);
        let response = ui.interact(place, egui::Id::unique("note"), egui::Sense::hover());
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, note));
        response.on_hover_text(note);
        return;
    }
    let hints = match (&cx.view_state.tape, &cx.view_state.bay) {
        (Some(_), _) => HINTS_TAPE,
        (None, Some(_)) => HINTS_BAY,
        (None, None) => HINTS,
    };
    for words in hints {
        let galley = painter.layout_no_wrap((*words).to_owned(), font.clone(), style::weak(ui));
        if galley.size().x <= room {
            let corner = pos2(right.x - galley.size().x, rect.center().y - galley.size().y / 2.0);
            painter.galley(corner, galley, faint);
            break;
        }
    }
}

/// From the longest that says most to the shortest.
const HINTS: &[&str] = &[
    "wheel zooms · drag pans · F fits · Q turns the plan · drag the vehicle, its ring turns it · arrows 10 mm, Shift 1 mm, Ctrl turns",
    "wheel zooms · drag pans · F fits · Q turns the plan · arrows 10 mm, Shift 1 mm, Ctrl turns",
    "wheel zooms · F fits · arrows 10 mm, Shift 1 mm, Ctrl turns",
    "F fits · arrows move",
];

/// The same while the bay is changed.
const HINTS_BAY: &[&str] = &[
    "press chooses, with Shift one more · drag moves, Alt: nothing draws, digits: to the wall · arrows · Delete · Ctrl+C V D · Esc: back",
    "press chooses · drag moves · arrows 10 mm, Shift 1 mm · Delete takes away · Esc: back to the job",
    "press chooses · drag moves · arrows · Delete · Esc: back",
    "drag moves · Esc: back",
];

/// The same while a tape is held.
const HINTS_TAPE: &[&str] = &[
    "press the two ends, with Shift an outline · Ctrl+C copies what it reads · Esc puts the tape away",
    "press two ends, Shift: outlines · Ctrl+C copies · Esc",
    "press two ends · Esc",
];

/// A round length for the bar, mm, and what it says.
fn bar(scale: f64, feet: bool) -> (f64, String) {
    let most = LONGEST / scale.max(1e-9);
    if feet {
        let (unit, word) = if most < 12.0 * INCH_MM { (INCH_MM, "in") } else { (12.0 * INCH_MM, "ft") };
        let n = round_down(most / unit);
        let words = format!("{n} {word}");
        return (n * unit, words);
    }
    let length = round_down(most);
    let words = if length >= 1000.0 {
        format!("{} m", number_field::number(length / 1000.0))
    } else {
        format!("{} mm", number_field::number(length))
    };
    (length, words)
}

/// The greatest 1, 2 or 5 times a power of ten that is not above.
fn round_down(most: f64) -> f64 {
    let power = 10f64.powf(most.log10().floor());
    let step = [5.0, 2.0, 1.0].into_iter().find(|s| s * power <= most * (1.0 + 1e-9)).unwrap_or(1.0);
    step * power
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bar_is_a_round_length_that_fits() {
        for (scale, length, words) in [
            (0.06, 2000.0, "2 m"),
            (0.15, 1000.0, "1 m"),
            (0.16, 500.0, "500 mm"),
            (0.003, 50000.0, "50 m"),
            (10.0, 10.0, "10 mm"),
        ] {
            let (mm, said) = bar(scale, false);
            assert_eq!((mm, said.as_str()), (length, words), "{scale}");
            assert!(mm * scale <= LONGEST + 1e-6);
        }
        assert_eq!(bar(0.06, true).1, "5 ft");
        assert_eq!(bar(1.0, true).1, "5 in");
    }
}
