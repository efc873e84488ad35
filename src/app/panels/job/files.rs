//! What the job is put together from: bay, vehicle, equipment, procedures; and the shop's own figures.

use egui::{Align, Layout, Ui};

use crate::app::commands::command::{Command, PickedFile};
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::combo::{ComboEntry, combo};
use crate::app::widgets::icon::Icon;
use crate::app::widgets::text_field::TextField;
use crate::app::widgets::{icon, number_field, style};
use crate::edit::{Edit, ShopFigure, Step};
use crate::files::Entry;
use crate::model::Name;
use crate::model::job::Support;

/// Width of the names before the lists.
const NAME: f32 = 68.0;

pub(super) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let bundle = cx.document.bundle();
    style::section(ui, "Job", |_| {});
    let name = TextField {
        label: "name",
        shown: bundle.job.name.to_string(),
        plain: bundle.job.name.to_string(),
        hint: "name of the job",
        width: ui.available_width(),
        figure: false,
    };
    if let Some(name) = name.show(ui, |text| Ok(text.to_owned())) {
        out.push(Command::Edit(Edit::Rename(name), Step::New));
    }
    pick(ui, "bay", bundle.bay.name.as_str(), &cx.folders.bays, PickedFile::Bay, out);
    support(ui, cx, out);
    pick(ui, "vehicle", bundle.vehicle.name.as_str(), &cx.folders.vehicles, PickedFile::Vehicle, out);
    pick(ui, "equipment", bundle.equipment.name.as_str(), &cx.folders.equipment, PickedFile::Equipment, out);
    ui.add_space(4.0);
    for at in 0..bundle.procedures.len() {
        procedure(ui, cx, at, out);
    }
    market(ui, cx, out);
    let others = cx.folders.procedures.iter().filter(|e| !is_part(cx, e));
    let words = if bundle.procedures.is_empty() { "add the first procedure" } else { "add a procedure" };
    let width = ui.available_width();
    if let Some(path) = combo(ui, "add a procedure", words, words, width, others.map(choice)) {
        out.push(Command::Pick(PickedFile::Procedure(path)));
    }
}

fn pick(
    ui: &mut Ui,
    label: &str,
    picked: &str,
    entries: &[Entry],
    pick: impl Fn(std::path::PathBuf) -> PickedFile,
    out: &mut Vec<Command>,
) {
    ui.horizontal(|ui| {
        name(ui, label);
        let width = ui.available_width();
        let shown = if is_wider(ui, picked, width - 50.0) { own_part(picked, entries) } else { picked };
        if let Some(path) = combo(ui, label, picked, shown, width, entries.iter().map(choice)) {
            out.push(Command::Pick(pick(path)));
        }
    });
}

fn is_wider(ui: &Ui, words: &str, width: f32) -> bool {
    let font = egui::TextStyle::Button.resolve(ui.style());
    ui.painter().layout_no_wrap(words.to_owned(), font, egui::Color32::PLACEHOLDER).size().x > width
}

/// A name without the words that all names of the list begin with, up to their last comma.
fn own_part<'a>(picked: &'a str, entries: &[Entry]) -> &'a str {
    let same = |a: &str, b: &str| {
        let both = a.chars().zip(b.chars()).take_while(|(a, b)| a == b);
        both.map(|(c, _)| c.len_utf8()).sum::<usize>()
    };
    let common = entries.iter().map(|e| same(picked, &e.name)).min().unwrap_or(0);
    let head = picked.get(..common).and_then(|head| head.rfind(", "));
    match head.and_then(|at| picked.get(at + 2..)) {
        Some(rest) if entries.len() > 1 && !rest.is_empty() => rest,
        _ => picked,
    }
}

/// A name of fixed width before a list, so that the lists stand under each other.
fn name(ui: &mut Ui, words: &str) {
    let size = egui::vec2(NAME, style::row_height(ui));
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_size(size);
        ui.label(words);
    });
}

fn choice(entry: &Entry) -> ComboEntry<std::path::PathBuf> {
    ComboEntry {
        value: entry.path.clone(),
        text: entry.name.clone(),
        fault: entry.fault.as_ref().map(ToString::to_string),
    }
}

/// Whether a file is already part of the job: by the name inside it, which is what the list shows.
fn is_part(cx: PanelContext, entry: &Entry) -> bool {
    cx.document.bundle().procedures.iter().any(|p| p.name == entry.name.as_str())
}

/// The floor, or a lift where the bay has one.
fn support(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let bundle = cx.document.bundle();
    if bundle.bay.lifts.is_empty() {
        return;
    }
    let words = |s: &Support| match s {
        Support::Floor => "the floor".to_owned(),
        Support::Lift { name, height } => {
            format!("{name} at {}", number_field::length(*height, cx.view_state.feet))
        }
    };
    let mut choices = vec![ComboEntry::new(Support::Floor, words(&Support::Floor))];
    for lift in &bundle.bay.lifts {
        for height in &lift.heights {
            let support = Support::Lift { name: lift.name.clone(), height: *height };
            let text = words(&support);
            choices.push(ComboEntry::new(support, text));
        }
    }
    ui.horizontal(|ui| {
        name(ui, "stands on");
        let now = words(&bundle.job.support);
        let width = ui.available_width();
        if let Some(support) = combo(ui, "stands on", &now, &now, width, choices) {
            out.push(Command::Edit(Edit::Support(support), Step::New));
        }
    });
}

fn procedure(ui: &mut Ui, cx: PanelContext, at: usize, out: &mut Vec<Command>) {
    let bundle = cx.document.bundle();
    let (procedure, chosen) = (&bundle.procedures[at], &bundle.job.procedures[at]);
    let mut send = |edit| out.push(Command::Edit(edit, Step::New));
    ui.horizontal(|ui| {
        ui.set_min_height(style::row_height(ui));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.spacing_mut().item_spacing.x = 0.0;
            let named = |what: &str| format!("{what} {}", procedure.name);
            let last = at + 1 == bundle.procedures.len();
            style::side_by_side(ui, ("procedure", at), |ui| {
                if icon::button(ui, Icon::Up, &named("earlier:"), at > 0).clicked() {
                    send(Edit::MoveProcedure { from: at, to: at - 1 });
                }
                if icon::button(ui, Icon::Down, &named("later:"), !last).clicked() {
                    send(Edit::MoveProcedure { from: at, to: at + 1 });
                }
                if icon::button(ui, Icon::Cross, &named("remove"), true).clicked() {
                    send(Edit::RemoveProcedure(at));
                }
            });
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let text = format!("{}  {}", at + 1, procedure.name);
                let source = procedure.source.as_deref().unwrap_or("no source is given");
                ui.add(egui::Label::new(text).truncate())
                    .on_hover_text(format!("{}\n{source}", procedure.name));
            });
        });
    });
    if !procedure.variants.is_empty() {
        variants(ui, cx, at, &mut send);
    }
    if !procedure.ways.is_empty() {
        let first = "the first way that fits";
        let picked = chosen.way.as_ref().map_or(first, |w| w.as_str());
        let mut choices = vec![ComboEntry::new(None, first)];
        choices.extend(procedure.ways.names().map(|n| ComboEntry::new(Some(n.into()), n)));
        indented(ui, |ui| {
            let width = ui.available_width();
            if let Some(way) =
                combo(ui, &format!("way of {}", procedure.name), picked, picked, width, choices)
            {
                send(Edit::Way { procedure: at, way });
            }
        });
    }
}

/// The variants that are chosen; more than one may be.
fn variants(ui: &mut Ui, cx: PanelContext, at: usize, send: &mut impl FnMut(Edit)) {
    let bundle = cx.document.bundle();
    let (procedure, chosen) = (&bundle.procedures[at], &bundle.job.procedures[at]);
    let now: Vec<Name> = chosen.all_variants().cloned().collect();
    let words = match &now[..] {
        [] => "no variant".to_owned(),
        some => some.iter().map(Name::as_str).collect::<Vec<_>>().join(", "),
    };
    indented(ui, |ui| {
        let list = egui::ComboBox::from_id_salt(("variants", at)).width(ui.available_width()).truncate();
        let list =
            list.selected_text(words.as_str()).close_behavior(egui::PopupCloseBehavior::CloseOnClickOutside);
        let shown = list.show_ui(ui, |ui| {
            for name in procedure.variants.names() {
                let mut on = now.iter().any(|n| n == name);
                if ui.checkbox(&mut on, name).changed() {
                    let kept = procedure
                        .variants
                        .names()
                        .filter(|n| if *n == name { on } else { now.iter().any(|m| m == n) });
                    send(Edit::Variants { procedure: at, variants: kept.map(Name::from).collect() });
                }
            }
        });
        shown.response.accessible_name(format!("variant of {}", procedure.name)).on_hover_text(words);
    });
}

fn indented(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    ui.horizontal(|ui| {
        ui.add_space(18.0);
        add(ui);
    });
}

/// The market the vehicle was made for, where a readiness list depends on it.
fn market(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let bundle = cx.document.bundle();
    let mut markets: Vec<&str> = bundle.procedures.iter().flat_map(|p| p.vehicle_state_in.names()).collect();
    markets.sort_unstable();
    markets.dedup();
    if markets.is_empty() {
        return;
    }
    let none = "not said";
    let picked = bundle.job.market.as_ref().map_or(none, |m| m.as_str());
    let mut choices = vec![ComboEntry::new(None, none)];
    choices.extend(markets.into_iter().map(|m| ComboEntry::new(Some(Name::from(m)), m)));
    ui.horizontal(|ui| {
        name(ui, "market");
        let width = ui.available_width();
        if let Some(market) = combo(ui, "market", picked, picked, width, choices) {
            out.push(Command::Edit(Edit::Market(market), Step::New));
        }
    });
}

/// The shop's own figures, and which doorway is driven in by.
pub(super) fn rules(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let bundle = cx.document.bundle();
    style::section(ui, "The shop asks for", |_| {});
    let needs = bundle.needs();
    for which in ShopFigure::ALL {
        let mut own = bundle.job.rules;
        let is_own = which.of(&mut own).is_some();
        let words = if is_own { format!("{} *", which.words()) } else { which.words().to_owned() };
        let mm = match which {
            ShopFigure::WalkAround => needs.walk_around,
            ShopFigure::Clearance => needs.clearance,
            ShopFigure::Headroom => needs.headroom,
            ShopFigure::Measuring => needs.measuring,
            ShopFigure::Level => needs.level,
        };
        let field = number_field::length_field(which.words(), mm, cx.view_state.feet, number_field::WIDTH);
        let typed = field.row(ui, &words, |text| match text {
            "" => Ok(None),
            text => number_field::read_length(text).map(Some),
        });
        if let Some(mm) = typed {
            out.push(Command::Edit(Edit::ShopFigure { which, mm }, Step::New));
        }
    }
    style::quiet(ui, "An emptied field goes back to the bay's own figure; * is this job's.");
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entries(names: &[&str]) -> Vec<Entry> {
        names.iter().map(|n| Entry { name: (*n).into(), path: (*n).into(), fault: None }).collect()
    }

    #[test]
    fn names_are_shortened_by_what_all_of_them_say() {
        for (names, picked, shown) in [
            (&["Yard, lane 1", "Yard, lane 3"][..], "Yard, lane 3", "lane 3"),
            (&["Yard, lane 1", "Other, lane 3"], "Yard, lane 1", "Yard, lane 1"),
            (&["Yard, lane 1"], "Yard, lane 1", "Yard, lane 1"),
            (&["Yard, lane 1", "Yard, "], "Yard, ", "Yard, "),
            (&[], "Yard, lane 1", "Yard, lane 1"),
            (&["Höf, ö", "Höf, ü"], "Höf, ö", "ö"),
        ] {
            assert_eq!(own_part(picked, &entries(names)), shown, "{names:?}");
        }
    }
}
