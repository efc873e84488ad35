//! Where the vehicle can stand: one sentence, a button that puts it there, and where nothing fits the changes that
//! would open the bay, each with a button.

use egui::{Id, Label, ProgressBar, RichText, ScrollArea, Ui};

use crate::app::commands::command::{Act, Command, PickedFile};
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::style;
use crate::edit::{Edit, Motion, Step};
use crate::files::named_path;
use crate::layout::Stance;
use crate::model::Name;
use crate::report::siting as words;
use crate::siting::{Change, Even, Siting, Tried};

/// How many changes are listed.
const MOST: usize = 6;

/// Shows the panel.
pub(crate) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    style::section(ui, "Where it can stand", |_| ());
    if let Some(done) = cx.searching {
        ui.horizontal(|ui| {
            ui.add(ProgressBar::new(done).desired_width(140.0).text("searching"));
            if ui.button("stop").clicked() {
                out.push(Command::Act(Act::StopSearch));
            }
        });
        return;
    }
    let Some(found) = cx.found else {
        if ui.button("search").clicked() {
            out.push(Command::Act(Act::Search));
        }
        return;
    };
    let list = ScrollArea::vertical().auto_shrink([false, false]).id_salt("stands").show(ui, |ui| {
        ui.set_max_width(ui.available_width());
        answer(ui, cx, found, out);
        ui.add_space(8.0);
    });
    let (id, high) = (Id::unique("stands height"), list.content_size.y);
    if ui.data(|d| d.get_temp::<f32>(id)).is_none_or(|before| (before - high).abs() > 0.5) {
        ui.data_mut(|d| d.insert_temp(id, high));
        ui.ctx().request_repaint();
    }
}

/// How high the panel would be with everything in it.
pub(crate) fn height(ctx: &egui::Context) -> f32 {
    const HEAD: f32 = 52.0;
    ctx.data(|d| d.get_temp::<f32>(Id::unique("stands height"))).unwrap_or(120.0) + HEAD
}

fn answer(ui: &mut Ui, cx: PanelContext, found: &Siting, out: &mut Vec<Command>) {
    let show = cx.show();
    ui.add(Label::new(RichText::new(words::headline(found, show)).size(13.5)).wrap());
    for (name, mm) in &found.chosen {
        ui.horizontal(|ui| {
            style::quiet(ui, format!("with {name} at {}", show.one(*mm)));
            if ui.button("keep it").on_hover_text("fixes this free figure in the job").clicked() {
                let edit = Edit::Choose { name: Name::from(&**name), value: Some(*mm) };
                out.push(Command::Edit(edit, Step::New));
            }
        });
    }
    if let Some(best) = &found.best {
        let here = is_here(cx, &best.place.stance) || is_here(cx, &best.proposed.stance);
        let turned = (best.place.stance.heading - cx.layout().stance.heading).rem_euclid(360.0) != 0.0;
        let label = if turned { "turn it round and place it here" } else { "place the vehicle here" };
        ui.horizontal(|ui| {
            let button = egui::Button::new(label).min_size(egui::vec2(0.0, style::row_height(ui)));
            if ui.add_enabled(!here, button).clicked() {
                out.push(stand(best.proposed.stance));
            }
            if here {
                style::quiet(ui, "it stands there");
            }
        });
        for finding in &best.also {
            style::quiet(ui, crate::report::words::title(finding, &found.layout, show));
        }
    }
    if let Some(even) = cx.even {
        floor(ui, cx, even, out);
    }
    if found.best.is_none() && found.poses.len() > 1 {
        for (i, pose) in found.poses.iter().enumerate() {
            let names: Vec<String> = pose.setups.iter().map(|s| words::setup_name(found, *s)).collect();
            ui.add(Label::new(format!("{}. {}", i + 1, names.join(", "))).wrap());
            if ui.button(format!("stand for {}", i + 1)).clicked() {
                out.push(stand(pose.place.stance));
            }
        }
    }
    if !found.changes.is_empty() {
        ui.add_space(6.0);
        style::quiet(ui, "What would open this bay");
        for tried in found.changes.iter().filter(|t| t.place.is_some()).take(MOST) {
            change(ui, cx, found, tried, out);
        }
        let helpless = found.changes.iter().filter(|t| t.place.is_none()).count();
        if helpless > 0 {
            style::quiet(ui, format!("{helpless} more tried, none of them helps alone"));
        }
    }
}

/// Where it stands best as far as the floor goes.
fn floor(ui: &mut Ui, cx: PanelContext, even: &Even, out: &mut Vec<Command>) {
    let Some(best) = even.best else {
        style::quiet(
            ui,
            "Where the floor is best is not known: a height or a figure it is judged by is missing.",
        );
        return;
    };
    style::quiet(ui, words::floor(&best, even.within, cx.show()));
    let (stance, margin) = best;
    if margin >= 0.0 && !is_here(cx, &stance) && ui.button("place it on the best floor").clicked() {
        out.push(stand(stance));
    }
}

fn change(ui: &mut Ui, cx: PanelContext, found: &Siting, tried: &Tried, out: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        if let Some(command) = apply(cx, tried)
            && ui.button("do it").clicked()
        {
            out.push(command);
        }
        ui.add(Label::new(words::change(tried, &found.layout, cx.show())).wrap());
    });
}

/// The command that makes a change; a move between setups is no change of the job's file.
fn apply(cx: PanelContext, tried: &Tried) -> Option<Command> {
    let edit = match &tried.change {
        Change::Clear(name) => Edit::Clear { name: Name::from(&**name), away: true },
        Change::Open(name) => Edit::Door { name: Name::from(&**name), open: true },
        Change::TurnRound => return tried.place.map(|p| stand(p.stance)),
        Change::UseBay(file, _) => {
            let job = cx.document.path()?;
            return Some(Command::Pick(PickedFile::Bay(named_path(job, file))));
        }
        Change::Move(_) => return None,
    };
    Some(Command::Edit(edit, Step::New))
}

fn stand(at: Stance) -> Command {
    let edit = Edit::Stand { x: at.x, y: at.y, heading: at.heading, how: Motion::Move };
    Command::Edit(edit, Step::New)
}

fn is_here(cx: PanelContext, at: &Stance) -> bool {
    let now = cx.layout().stance;
    (now.x - at.x).hypot(now.y - at.y) < 0.5 && (now.heading - at.heading).rem_euclid(360.0) < 1e-6
}
