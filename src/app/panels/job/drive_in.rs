//! Whether the job asks for the way in, and what was found.

use egui::Ui;

use crate::app::commands::command::Command;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::switch::switch;
use crate::app::widgets::{number_field, style};
use crate::checks::Note;
use crate::checks::wording::{lacks_all, notes};
use crate::driving::{Answer, Path, STRAIGHT_RUN};
use crate::edit::{Edit, Step};
use crate::report::words;

pub(super) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let asked = cx.document.job().drive_in;
    if switch(ui, "driving in", ("left out", "judged"), asked) {
        out.push(Command::Edit(Edit::DriveIn(!asked), Step::New));
    }
    if asked {
        let run = cx.document.job().straight_run;
        let words = if run.is_some() { "straight run *" } else { "straight run" };
        let mm = run.unwrap_or(STRAIGHT_RUN);
        let field = number_field::length_field("straight run", mm, cx.view_state.feet, number_field::WIDTH);
        let typed = field.row(ui, words, |text| match text {
            "" => Ok(None),
            text => number_field::read_length(text).map(Some),
        });
        if let Some(mm) = typed {
            out.push(Command::Edit(Edit::StraightRun(mm), Step::New));
        }
        style::quiet(ui, told(cx));
    }
}

fn told(cx: PanelContext) -> String {
    let answer = cx.derived.driven().map(|d| &d.answer);
    match answer {
        Some(Answer::Path(path)) => length(cx, path),
        Some(Answer::NoPath(none)) => format!("No way in: {}", notes::no_way_in(&none.why, cx.show())),
        Some(Answer::Unknown(missing)) => format!("Missing: {}", lacks_all(&missing.0, cx.show())),
        Some(Answer::NoDoorway) => words::capital(&notes::note(&Note::NoDoorway, cx.show())),
        None if cx.seeking_way => "Looking for a way in …".into(),
        None => "The way in is not worked out yet.".into(),
    }
}

fn length(cx: PanelContext, path: &Path) -> String {
    let show = cx.show();
    let turns = match path.changes() {
        0 => "without a change of direction".into(),
        1 => "with 1 change of direction".into(),
        n => format!("with {n} changes of direction"),
    };
    let nearest = match path.tightest.margin {
        mm if mm.is_finite() => {
            format!(", {} from {} at the nearest", show.down(mm), path.tightest.still)
        }
        _ => String::new(),
    };
    format!("A way of {} {turns}{nearest}", show.one(path.length()))
}
