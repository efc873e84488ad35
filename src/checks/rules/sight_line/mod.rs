//! Nothing stands between a sensor and what it looks at.

use std::sync::Arc;

use super::{Page, Policy, Rule, RuleId, SIGHTED, Wording};
use crate::checks::figures::Figures;
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::Note;
use crate::checks::pairs::Cx;
use crate::checks::wording::{item, notes};
use crate::geometry::{NOISE_MM, P2, RayGap, Upright};
use crate::layout::sights::SightLine;
use crate::layout::{Layout, Setup, Solid};
use crate::model::{ItemKind, ItemRef};
use crate::phrases::{Say, phrases, say};

phrases! { in "sight-line";
    SIGHT_BLOCKED = "sight blocked";
    BLOCKED = "the sight from {the from} to {to} is blocked by {the thing}";
    BLOCKED_THEN = "the sight from {the from} to {to} is blocked by {the thing}, {then}";
    FREE = "the sight from {the from} to {to} is free";
    TOUCHES = "the sight from {the from} to {to} just touches {the thing}";
    PASSES = "the sight from {the from} to {to} passes {the thing} at {have}";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::SightLine,
    page: Page {
        title: "Free sight",
        checks: "Nothing stands between a sensor and any part of the target face it looks at, nor between any two points a procedure names.",
        matters: "A post, a hanging lamp or another target in the line of sight hides a part of the target, and what is read is not what was set out.",
        measured: "The whole pyramid from the sensor to the face's edges (of a pipe to its front, of a mat to its upper side) against fixtures, overhead ones too, lift posts, the other targets of the setup and the walls, each with its heights; between two points, and to the corners of an area to be seen, straight lines. The least distance counts; touching is allowed. The vehicle and the target itself do not count. What lies flush in the floor hides nothing.",
        remedy: "Clear or move what stands there, or stand the vehicle so that it stays outside.",
        source: "Geometry; nothing to spare is asked.",
    },
    policy: Policy { walls: true, plan: true, ..Policy::PLAIN },
    wording: Wording {
        bare: |f| (f.outcome != Outcome::Unknown).then_some(SIGHT_BLOCKED),
        ..Wording::titled(title)
    },
    phrases: PHRASES,
    about: &[
        SIGHTED,
        SIGHTED,
        &[ItemKind::Fixture, ItemKind::Post, ItemKind::Wall, ItemKind::Doorway, ItemKind::Station],
    ],
    run,
    pairs: None,
};

/// Blockers whose places along the sight differ by less are told by name, mm.
const ALIKE_MM: f64 = 1e-3;

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        for sight in cx.layout.sights(setup) {
            let mut finding = judge(cx, setup, &sight);
            finding.procedure = Some(setup.procedure);
            finding.setup = Some(s);
            out.push(finding);
        }
    }
}

/// Something that may stand in the way.
struct Obstacle<'a> {
    item: ItemRef<'a>,
    form: Upright<'a>,
    movable: bool,
}

fn obstacles<'a>(cx: &'a Cx, setup: &'a Setup, own: &[Arc<str>]) -> Vec<Obstacle<'a>> {
    let stage = &cx.layout.stage;
    let things = stage.things.iter().filter(|t| !t.solid.z.is_flush()).map(|t| Obstacle {
        item: t.item(),
        form: prism(&t.solid),
        movable: t.movable,
    });
    let others = setup.stations.iter().filter(|s| !own.contains(&s.name));
    let targets =
        others.filter_map(|s| Some((s.item(), s.place.as_ref().ok()?))).flat_map(|(item, stand)| {
            let solids = stand.parts.iter().filter(|p| !p.z.is_flush());
            solids.map(move |p| Obstacle { item, form: prism(p), movable: false })
        });
    let walls = stage.sheets.iter().map(|w| Obstacle {
        item: w.of.by_ref(),
        form: Upright::Sheet(w.a, w.b, w.z),
        movable: false,
    });
    things.chain(targets).chain(walls).collect()
}

fn prism(solid: &Solid) -> Upright<'_> {
    Upright::Prism(&solid.shape, (solid.z.lo, solid.z.hi))
}

fn judge(cx: &Cx, setup: &Setup, sight: &SightLine) -> Finding {
    let mut items = vec![sight.from.clone(), sight.to.clone()];
    let through = match &sight.through {
        Ok(through) => through,
        Err(missing) => {
            return Finding {
                items,
                missing: missing.0.clone(),
                ..Finding::new(RuleId::SightLine, Outcome::Unknown)
            };
        }
    };
    let mut nearest: Option<(RayGap, ItemRef)> = None;
    // how far along, where, what
    let mut blockers: Vec<(f64, P2, &Obstacle)> = Vec::new();
    let obstacles = obstacles(cx, setup, &sight.own);
    for obstacle in &obstacles {
        let entries = through.iter().filter_map(|view| {
            let (share, at) = view.entered_at(&obstacle.form)?;
            Some(((share * view.length() / ALIKE_MM).round(), at))
        });
        if let Some((far, at)) = entries.min_by(|a, b| a.0.total_cmp(&b.0)) {
            blockers.push((far, at, obstacle));
        }
        if !blockers.is_empty() {
            continue;
        }
        for view in through {
            if nearest.as_ref().is_some_and(|n| view.at_least(&obstacle.form) >= n.0.mm) {
                continue;
            }
            let gap = view.gap(&obstacle.form);
            if nearest.as_ref().is_none_or(|n| gap.mm < n.0.mm) {
                nearest = Some((gap, obstacle.item));
            }
        }
    }
    blockers.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.2.item.name.cmp(b.2.item.name)));
    if let Some((_, at, first)) = blockers.first() {
        items.push(first.item.item());
        let only_movable = blockers.iter().all(|b| b.2.movable);
        let mut others: Vec<ItemRef> =
            blockers[1..].iter().map(|b| b.2.item).filter(|o| o.name != first.item.name).collect();
        others.dedup_by(|a, b| a.name == b.name);
        return Finding {
            items,
            need: Some(0.0),
            witness: Some((*at, *at)),
            moves: if only_movable {
                blockers.iter().map(|b| b.2.item.name.clone()).collect()
            } else {
                Vec::new()
            },
            note: (!others.is_empty()).then(|| Note::ThenBy(others.into_iter().map(ItemRef::item).collect())),
            ..Finding::new(RuleId::SightLine, if only_movable { Outcome::Movable } else { Outcome::Fail })
        };
    }
    let Some((gap, still)) = nearest else {
        return Finding { items, need: Some(0.0), ..Finding::new(RuleId::SightLine, Outcome::Pass) };
    };
    items.push(still.item());
    Finding {
        items,
        witness: Some((gap.on_ray.xy(), gap.on_thing.xy())),
        ..cx.measured(RuleId::SightLine, gap.mm, 0.0)
    }
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let [from, to, thing] = [0, 1, 2].map(|i| item(finding, i, say));
    let then = finding.note.as_ref().map(|n| notes::note(n, say));
    let phrase = match (finding.items.len() > 2, finding.margin) {
        (true, None) if then.is_some() => BLOCKED_THEN,
        (true, None) => BLOCKED,
        (false, _) => FREE,
        (true, Some(_)) if finding.have.unwrap_or(0.0) <= NOISE_MM => TOUCHES,
        (true, Some(_)) => PASSES,
    };
    let have = Figures::of(finding, say.show).have();
    say!(say, phrase, from, to, thing, have, then = then.unwrap_or_default())
}

#[cfg(test)]
mod tests;
