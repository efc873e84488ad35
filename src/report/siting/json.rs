//! `site --json`.

use std::collections::BTreeMap;

use serde::Serialize;

use super::page::setup_name;
use super::words;
use crate::checks::wording::outcome::conditions;
use crate::checks::{Finding, Verdict};
use crate::layout::Layout;
use crate::phrases::Say;
use crate::report::json::{point, tidy, to_text};
use crate::report::text::cautions;
use crate::report::words::title;
use crate::siting::{Beside, HeadingFound, Place, Siting, Stand, Tried};
use crate::units::norm_deg;

/// The keys of the contract, and more beside them.
pub fn json(found: &Siting) -> String {
    let judgement = found.judgement.as_ref();
    let out = Out {
        schema: 1,
        headline: words::headline(found, Say::PLAIN),
        verdict: judgement.map_or(Verdict::DoesNotFit, |j| j.verdict).word(),
        conditions: judgement.map_or_else(Vec::new, |j| conditions(&j.conditions, Say::PLAIN)),
        missing: judgement.into_iter().flat_map(|j| &j.missing).map(|m| m.to_string()).collect(),
        best: found.best.as_ref().map(|b| {
            let there = found.layout.at(b.place.stance);
            BestOut {
                place: at(&b.place),
                heading_deg: tidy(norm_deg(b.place.stance.heading)),
                proposed: at(&b.proposed),
                turn_left_deg: tidy(b.swing.left),
                turn_right_deg: tidy(b.swing.right),
                also: b.also.iter().map(|f| also(f, &there)).collect(),
                floor: b.floor.map(|(s, mm)| FloorOut {
                    x_mm: tidy(s.x),
                    y_mm: tidy(s.y),
                    margin_mm: tidy(mm),
                }),
            }
        }),
        headings: found.headings.iter().map(heading).collect(),
        shortfall: found.shortfall.as_ref().map(|s| ShortOut {
            heading_deg: tidy(norm_deg(s.heading)),
            short_along_mm: s.along.map(tidy),
            short_across_mm: s.across.map(tidy),
            across_side: s.across_side.map(|side| if side == Beside::Right { "right" } else { "left" }),
            binding: words::all_between(&s.binding, Say::PLAIN),
            across_binding: words::all_between(&s.across_binding, Say::PLAIN),
            text: words::shortfall(s, Say::PLAIN),
        }),
        changes: found.changes.iter().map(|t| change(t, &found.layout)).collect(),
        poses: found.poses.iter().map(|s| stand(found, s)).collect(),
        unserved: found.unserved.iter().map(|s| setup_name(found, *s)).collect(),
        chosen: found.chosen.iter().map(|(name, mm)| (name.to_string(), tidy(*mm))).collect(),
        notes: found.notes.iter().map(|n| words::note(n, Say::PLAIN)).collect(),
        cautions: cautions(Say::PLAIN),
    };
    to_text(&out)
}

fn at(place: &Place) -> At {
    At { x_mm: tidy(place.stance.x), y_mm: tidy(place.stance.y), slack_mm: tidy(place.slack) }
}

fn heading(h: &HeadingFound) -> HeadingOut {
    HeadingOut {
        heading_deg: tidy(norm_deg(h.heading)),
        area_m2: tidy(h.allowed.area / 1e6),
        best: h.best.as_ref().map(at),
        region_mm: h.allowed.rings.iter().map(|r| r.iter().map(point).collect()).collect(),
        nearest_miss: h.miss.as_ref().map(|(place, binding)| Miss {
            x_mm: tidy(place.stance.x),
            y_mm: tidy(place.stance.y),
            margin_mm: tidy(place.slack),
            binding: binding.as_ref().map_or_else(String::new, |b| words::between(b, Say::PLAIN)),
        }),
    }
}

fn change(t: &Tried, layout: &Layout) -> ChangeOut {
    ChangeOut {
        change: words::to_do(t, layout, Say::PLAIN),
        fits: t.place.is_some(),
        slack_mm: t.place.map(|p| tidy(p.slack)),
        x_mm: t.place.map(|p| tidy(p.stance.x)),
        y_mm: t.place.map(|p| tidy(p.stance.y)),
        heading_deg: t.place.map(|p| tidy(norm_deg(p.stance.heading))),
    }
}

fn stand(found: &Siting, s: &Stand) -> StandOut {
    StandOut {
        setups: s.setups.iter().map(|s| setup_name(found, *s)).collect(),
        place: at(&s.place),
        heading_deg: tidy(norm_deg(s.place.stance.heading)),
        again: s
            .again
            .iter()
            .map(|(s, m)| format!("{}: {}", setup_name(found, *s), found.layout.setups[*s].marks[*m].name))
            .collect(),
    }
}

fn also(f: &Finding, there: &Layout) -> AlsoOut {
    AlsoOut {
        rule: f.rule.word(),
        outcome: f.outcome.word(),
        procedure: f.procedure.map(|p| there.bundle.procedures[p].name.to_string()),
        setup: f.setup.map(|s| there.setups[s].name.to_string()),
        items: f.names().map(str::to_owned).collect(),
        margin_mm: f.margin.map(tidy),
        text: title(f, there, Say::PLAIN),
    }
}

#[derive(Serialize)]
struct Out {
    schema: u32,
    headline: String,
    /// Of the check at the best place.
    verdict: &'static str,
    conditions: Vec<String>,
    missing: Vec<String>,
    best: Option<BestOut>,
    headings: Vec<HeadingOut>,
    shortfall: Option<ShortOut>,
    changes: Vec<ChangeOut>,
    poses: Vec<StandOut>,
    unserved: Vec<String>,
    chosen: BTreeMap<String, f64>,
    notes: Vec<String>,
    cautions: Vec<String>,
}

#[derive(Serialize)]
struct At {
    x_mm: f64,
    y_mm: f64,
    slack_mm: f64,
}

#[derive(Serialize)]
struct BestOut {
    #[serde(flatten)]
    place: At,
    heading_deg: f64,
    /// In whole figures, at the same heading.
    proposed: At,
    turn_left_deg: f64,
    turn_right_deg: f64,
    also: Vec<AlsoOut>,
    /// Where the floor is best at that heading; null where no procedure asks for a level floor.
    floor: Option<FloorOut>,
}

#[derive(Serialize)]
struct FloorOut {
    x_mm: f64,
    y_mm: f64,
    margin_mm: f64,
}

#[derive(Serialize)]
struct AlsoOut {
    rule: &'static str,
    outcome: &'static str,
    procedure: Option<String>,
    setup: Option<String>,
    items: Vec<String>,
    margin_mm: Option<f64>,
    text: String,
}

#[derive(Serialize)]
struct HeadingOut {
    heading_deg: f64,
    area_m2: f64,
    best: Option<At>,
    region_mm: Vec<Vec<[f64; 2]>>,
    nearest_miss: Option<Miss>,
}

#[derive(Serialize)]
struct Miss {
    x_mm: f64,
    y_mm: f64,
    margin_mm: f64,
    binding: String,
}

#[derive(Serialize)]
struct ShortOut {
    heading_deg: f64,
    short_along_mm: Option<f64>,
    short_across_mm: Option<f64>,
    across_side: Option<&'static str>,
    binding: Vec<String>,
    across_binding: Vec<String>,
    text: String,
}

#[derive(Serialize)]
struct ChangeOut {
    change: String,
    fits: bool,
    slack_mm: Option<f64>,
    x_mm: Option<f64>,
    y_mm: Option<f64>,
    heading_deg: Option<f64>,
}

#[derive(Serialize)]
struct StandOut {
    setups: Vec<String>,
    #[serde(flatten)]
    place: At,
    heading_deg: f64,
    again: Vec<String>,
}
