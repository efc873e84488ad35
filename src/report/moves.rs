//! Tried moves in JSON: what to change, and how the job is judged then.

use serde::Serialize;

use super::advice::{offer, to_do};
use super::json::{PoseOut, tidy};
use super::words::title;
use crate::advice::{Own, Tried};
use crate::edit::Edit;
use crate::layout::Layout;
use crate::phrases::Say;
use crate::units::norm_deg;

/// A move with what came of it.
#[derive(Serialize)]
pub(super) struct MoveOut {
    text: String,
    /// Whether the job is better for it; else it is told, not offered.
    offered: bool,
    /// Where the vehicle then stands.
    pose: PoseOut,
    clear: Vec<String>,
    open: Vec<String>,
    bay: Option<String>,
    verdict: &'static str,
    margin_mm: Option<f64>,
    /// Findings that then fail.
    failing: usize,
    /// What it spoils.
    but: Option<String>,
}

pub(super) fn of_tried(tried: &Tried, layout: &Layout) -> MoveOut {
    let names =
        |pick: &dyn Fn(&Edit) -> Option<String>| tried.edits.iter().filter_map(pick).collect::<Vec<_>>();
    MoveOut {
        text: offer(tried, layout, Say::PLAIN),
        offered: true,
        pose: PoseOut {
            x_mm: tidy(tried.to.x),
            y_mm: tidy(tried.to.y),
            heading_deg: tidy(norm_deg(tried.to.heading)),
        },
        clear: names(&|e| match e {
            Edit::Clear { name, away: true } => Some(name.to_string()),
            _ => None,
        }),
        open: names(&|e| match e {
            Edit::Door { name, open: true } => Some(name.to_string()),
            _ => None,
        }),
        bay: names(&|e| match e {
            Edit::ChooseBay { file, .. } => Some(file.to_string()),
            _ => None,
        })
        .pop(),
        verdict: tried.then.verdict.word(),
        margin_mm: tried.then.margin.map(tidy),
        failing: tried.then.failing,
        but: None,
    }
}

pub(super) fn of_own(own: &Own, layout: &Layout) -> MoveOut {
    let tried = of_tried(&own.tried, layout);
    MoveOut {
        text: if own.offered { tried.text } else { to_do(&own.tried, layout, Say::PLAIN) },
        offered: own.offered,
        but: own.spoils.as_ref().map(|spoilt| title(spoilt, layout, Say::PLAIN)),
        ..tried
    }
}
