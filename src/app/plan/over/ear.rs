//! The plan for the ear: one paragraph that says what is on it, and below it every mark, target and finding by itself.

use std::collections::BTreeSet;

use egui::{Id, Rect, Response, Sense, Ui, UiBuilder, vec2};

use crate::app::plan::over::{compass, told};
use crate::app::plan::screen_position::on_screen;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::number_field;
use crate::checks::Outcome;
use crate::geometry::P2;
use crate::paint::View;
use crate::report::words;
use crate::scene::{Item, Tag};
use crate::units::norm_deg;

/// The most parts that are listed below the plan; what is past them stands in the panels.
const MOST: usize = 400;
/// How much of the screen a part takes, for who points with a reader.
const PART: egui::Vec2 = vec2(12.0, 12.0);

/// Tells a reader of the screen what the plan shows. Nothing is done where none listens.
pub(in crate::app::plan) fn tell(ui: &mut Ui, cx: PanelContext, response: &Response, view: &View) {
    if !ui.ctx().has_accesskit_node(response.id) {
        return;
    }
    let parts = parts(cx);
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_description(paragraph(cx, view, &parts));
    });
    let rect = response.rect;
    let builder = UiBuilder::new().id_salt("on the plan").max_rect(rect).accessibility_parent(response.id);
    let parts_ui = ui.new_child(builder);
    for (i, (_, at, words)) in parts.iter().take(MOST).enumerate() {
        let at = on_screen(rect, view, *at).clamp(rect.min, rect.max);
        let part = parts_ui.interact(
            Rect::from_center_size(at, PART),
            Id::unique(("on the plan", i)),
            Sense::focusable_noninteractive(),
        );
        part.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, words));
    }
}

/// What kind of thing a part is, for the counts.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Part {
    Mark,
    Target,
    Finding,
}

/// Marks, targets and findings that are drawn, each once, with where it is and what it says.
fn parts(cx: PanelContext) -> Vec<(Part, P2, String)> {
    let mut parts = Vec::new();
    let mut seen = BTreeSet::new();
    for item in &cx.derived.scene.items {
        let Some(tag) = item.tag() else { continue };
        let at = match item {
            Item::Dot { at, .. } => *at,
            Item::Area { outline, .. } => crate::geometry::Bounds::of(outline).centre(),
            Item::Line { .. } | Item::Arrow { .. } | Item::Label { .. } | Item::Dimension { .. } => continue,
        };
        let (part, key) = match tag {
            Tag::Mark { setup, name } => (Part::Mark, (*setup, name.clone())),
            Tag::Station { setup, name } => (Part::Target, (*setup, name.clone())),
            Tag::Finding(_) | Tag::Vehicle | Tag::Thing(_) | Tag::Zone { .. } => continue,
        };
        if seen.insert((part == Part::Mark, key))
            && let Some(words) = told::told(cx, tag)
        {
            let kind = if part == Part::Mark { "" } else { "target " };
            parts.push((part, at, format!("On the plan: {kind}{}", words.replace('\n', ", "))));
        }
    }
    for finding in cx.findings() {
        let drawn =
            matches!(finding.outcome, Outcome::Fail | Outcome::Movable | Outcome::Tight | Outcome::Unknown);
        if let (true, Some(at)) = (drawn, finding.at()) {
            let title = words::title(finding, cx.layout(), cx.show());
            parts.push((Part::Finding, at, format!("On the plan: {title}")));
        }
    }
    parts
}

fn paragraph(cx: PanelContext, view: &View, parts: &[(Part, P2, String)]) -> String {
    let bundle = cx.document.bundle();
    let feet = cx.view_state.feet;
    let mm = |mm: f64| number_field::length(mm, feet);
    let size = bundle.bay.floor.outline.0.bounds().size();
    let at = cx.layout().stance;
    let count = |part: Part, one: &str| {
        let n = parts.iter().filter(|(p, ..)| *p == part).count();
        if n == 1 { format!("1 {one}") } else { format!("{n} {one}s") }
    };
    let verdict = match cx.derived.is_placed() {
        true => words::headline(&cx.derived.judgement, cx.show()),
        false => "Where the vehicle stands is not known yet".to_owned(),
    };
    format!(
        "{bay} is {long} long and {wide} wide. {compass}. {vehicle} stands with the middle of its front axle {right} to the \
         right and {inward} into the bay, turned by {turned:.1} degrees. {verdict}. Shown are {marks}, {targets} and \
         {findings}.",
        bay = bundle.bay.name,
        long = mm(size.y),
        wide = mm(size.x),
        compass = compass::words(view),
        vehicle = bundle.vehicle.name,
        right = mm(at.x),
        inward = mm(at.y),
        turned = norm_deg(at.heading),
        marks = count(Part::Mark, "mark"),
        targets = count(Part::Target, "target"),
        findings = count(Part::Finding, "finding"),
    )
}
