//! Figures the job needs: asked for where they are missing, shown where they were given.

use egui::Ui;

use crate::app::commands::command::Command;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::combo::{ComboEntry, combo};
use crate::app::widgets::{number_field, style};
use crate::checks::wording::lack;
use crate::checks::{Finding, Outcome, RuleId};
use crate::edit::{Edit, Step};
use crate::layout::values::Values;
use crate::model::figure::Value;
use crate::model::job::Found;
use crate::model::language::{MeasuredAsk, Unit};
use crate::model::{Bay, Lack, Name, Procedure};
use crate::report::words::{capital, title};

/// A figure a person can give.
#[derive(Clone)]
enum Ask<'a> {
    Measured(&'a MeasuredAsk),
    OneOf(&'a [f64]),
    Between(f64, f64),
    /// The text read did not give it: why.
    Missing(&'a str),
}

/// Shows every figure the job asks for, given or missing, at a place of its own: a field stays where it was typed into. What
/// no field can take is told below.
pub(super) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let names = &cx.derived.judgement.missing;
    let job = cx.document.job();
    let known = |name: &str| {
        job.measured.get(name).is_some() || job.choose.get(name).is_some() || job.figures.get(name).is_some()
    };
    let asks = asks(cx);
    let shown: Vec<_> = asks
        .iter()
        .filter(|(name, ..)| known(name) || names.iter().any(|missing| missing.is_named(name)))
        .collect();
    if names.is_empty() && shown.is_empty() {
        return;
    }
    if names.is_empty() {
        style::section(ui, "Measured and chosen", |_| {});
    } else {
        style::section(ui, "What is missing", |ui| {
            style::quiet(ui, names.len().to_string());
        });
    }
    for (name, ask, procedure) in shown {
        figure(ui, cx, name, ask, procedure, out);
    }
    for name in names {
        if *name == Lack::Ceiling {
            ceiling(ui, cx, out);
        } else if !asks.iter().any(|(ask, ..)| name.is_named(ask)) {
            style::quiet(ui, elsewhere(cx, name));
        }
    }
}

/// The ceiling's height, which stands in the bay's file.
fn ceiling(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let field = number_field::empty_field("ceiling height", "mm", number_field::WIDTH);
    if let Some(mm) = field.row(ui, "ceiling height", number_field::read_length) {
        let bay = Bay { ceiling: Some(mm), ..(*cx.document.bundle().bay).clone() };
        out.push(Command::bay_rewritten("set the ceiling".into(), Ok(bay), Step::New));
    }
    style::quiet(ui, "written into the bay's file, for every job of it");
}

/// Every figure the job's procedures ask for, once each.
fn asks(cx: PanelContext<'_>) -> Vec<(&str, Ask<'_>, &Procedure)> {
    let bundle = cx.document.bundle();
    let mut asks: Vec<(&str, Ask, &Procedure)> = Vec::new();
    for (procedure, chosen) in bundle.procedures.iter().zip(&*bundle.job.procedures) {
        let values = Values::new(procedure, chosen, &bundle.job);
        let measured = procedure.measured.iter().map(|(name, ask)| (name.as_str(), Ask::Measured(ask)));
        let valued = procedure.values.names().chain(procedure.variants.iter().flat_map(|(_, t)| t.names()));
        let free = valued.filter_map(|name| {
            let ask = match values.value(name)? {
                Value::Is(_) => return None,
                Value::OneOf(list) => Ask::OneOf(list),
                Value::Between(lo, hi) => Ask::Between(*lo, *hi),
                Value::Missing(why) => Ask::Missing(why.as_str()),
            };
            Some((name, ask))
        });
        for (name, ask) in measured.chain(free) {
            if !asks.iter().any(|(n, ..)| *n == name) {
                asks.push((name, ask, procedure));
            }
        }
    }
    asks
}

fn figure(
    ui: &mut Ui,
    cx: PanelContext,
    name: &str,
    ask: &Ask,
    procedure: &Procedure,
    out: &mut Vec<Command>,
) {
    let job = cx.document.job();
    let mut send = |edit| out.push(Command::Edit(edit, Step::New));
    let named = || Name::from(name);
    ui.push_id(name, |ui| match ask {
        Ask::Measured(ask) => {
            let unit = ask.unit.word();
            let hint = band_words(ask.between, unit);
            let typed = measured(ui, cx, name, ask, job.measured.get(name).map(|r| r.0), &hint);
            if let Some(value) = typed {
                send(Edit::Measured { name: named(), value });
            }
            let about =
                if ask.ask.is_empty() { format!("measured for {}", procedure.name) } else { ask.ask.clone() };
            style::quiet(ui, if hint.is_empty() { about } else { format!("{about}; {hint}") });
        }
        Ask::OneOf(list) => {
            let now = job.choose.get(name).map(|r| r.0);
            let words = |v: f64| number_field::length(v, cx.view_state.feet);
            style::row(ui, name, |ui| {
                let picked = now.map_or("choose".into(), words);
                let mut choices: Vec<ComboEntry<Option<f64>>> =
                    list.iter().map(|v| ComboEntry::new(Some(*v), words(*v))).collect();
                if now.is_some() {
                    choices.push(ComboEntry::new(None, "leave open"));
                }
                if let Some(value) = combo(ui, name, &picked, &picked, number_field::WIDTH, choices) {
                    send(Edit::Choose { name: named(), value });
                }
            });
            style::quiet(ui, format!("{} leaves the choice", procedure.name));
        }
        Ask::Between(lo, hi) => {
            let typed = optional_length(ui, cx, name, job.choose.get(name).map(|r| r.0));
            if let Some(value) = typed {
                send(Edit::Choose { name: named(), value });
            }
            let (lo, hi) = (
                number_field::length(*lo, cx.view_state.feet),
                number_field::length(*hi, cx.view_state.feet),
            );
            style::quiet(ui, format!("{} allows {lo} to {hi}", procedure.name));
        }
        Ask::Missing(why) => {
            let now = job.figures.get(name);
            let typed = optional_length(ui, cx, name, now.map(|f| f.mm));
            if let Some(mm) = typed {
                let from = now.map(|f| f.from.clone()).unwrap_or_default();
                send(Edit::Figure { name: named(), found: mm.map(|mm| Found { mm, from }) });
            }
            style::quiet(ui, format!("{} does not give it: {why}", procedure.name));
            if let Some(found) = now {
                let label = format!("who says so: {name}");
                let field = crate::app::widgets::text_field::TextField {
                    label: &label,
                    shown: found.from.clone(),
                    plain: found.from.clone(),
                    hint: "who says so, where, when",
                    width: ui.available_width(),
                    figure: false,
                };
                if let Some(from) = field.show(ui, |text| Ok(text.to_owned())) {
                    send(Edit::Figure { name: named(), found: Some(Found { mm: found.mm, from }) });
                }
                if found.from.is_empty() {
                    style::quiet(ui, "Nobody stands behind this figure yet.");
                }
            }
        }
    });
}

fn measured(
    ui: &mut Ui,
    cx: PanelContext,
    name: &str,
    ask: &MeasuredAsk,
    now: Option<f64>,
    hint: &str,
) -> Option<Option<f64>> {
    if ask.unit == Unit::Mm {
        return optional_length(ui, cx, name, now);
    }
    let unit = ask.unit.word();
    let field = match now {
        Some(v) => number_field::number_field(name, v, unit, hint),
        None => number_field::empty_field(name, unit, number_field::WIDTH),
    };
    field.row(ui, name, |text| match text {
        "" => Ok(None),
        text => number_field::read_number(text, unit).map(Some),
    })
}

fn optional_length(ui: &mut Ui, cx: PanelContext, name: &str, now: Option<f64>) -> Option<Option<f64>> {
    let field = match now {
        Some(mm) => number_field::length_field(name, mm, cx.view_state.feet, number_field::WIDTH),
        None => number_field::empty_field(name, "mm", number_field::WIDTH),
    };
    field.row(ui, name, |text| match text.trim_end_matches('°') {
        "" => Ok(None),
        text => number_field::read_length(text).map(Some),
    })
}

fn band_words(band: Option<(f64, f64)>, unit: &str) -> String {
    let Some((lo, hi)) = band else { return String::new() };
    format!("{} to {} {unit}", number_field::number(lo), number_field::number(hi))
}

/// Where a figure that no field can take is to be found.
fn elsewhere(cx: PanelContext, missing: &Lack) -> String {
    let why = match missing {
        Lack::RearToe | Lack::FrontToe => "type it below, under where the front axle stands.",
        Lack::TurningCircle => "the vehicle's file does not give it, or gives one smaller than the vehicle.",
        Lack::FloorSurvey if cx.layout().stage.survey.is_empty() => {
            "the bay's file has no spot heights; the floor's section below enters them."
        }
        Lack::FloorSurvey if cx.layout().raise != 0.0 => {
            "the vehicle is raised, and of the lift's plane the floor's survey says nothing."
        }
        Lack::FloorSurvey => "a tyre or a target stands off the surveyed floor.",
        Lack::Owned => {
            let findings = cx.derived.judgement.findings.iter();
            let lacks = findings.filter(|f| f.rule == RuleId::Equipment && f.outcome == Outcome::Unknown);
            let names: Vec<&str> = lacks.flat_map(Finding::names).collect();
            return format!(
                "How many the shop owns of {}: the equipment file does not say.",
                names.join(", ")
            );
        }
        other => match cx.derived.judgement.nothing_placed().find(|f| f.missing.contains(other)) {
            Some(f) => return title(f, cx.layout(), cx.show()) + ".",
            None => "the files of the job do not give it.",
        },
    };
    format!("{}: {why}", capital(&lack(missing, cx.show())))
}
