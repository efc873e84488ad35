//! The floor where the targets stand lies in one plane with the wheels.

use super::{Decimals, Page, Policy, Rule, RuleId, Wording};
use crate::checks::figures::{Asks, Figures};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::{Note, OffPlane};
use crate::checks::pairs::Cx;
use crate::checks::wording::{item, notes};
use crate::geometry::{NOISE_MM, P2, Polygon, segment_gap};
use crate::layout::plane::no_survey;
use crate::layout::{FloorField, Known, Layout, Setup, Stance, WheelPlane, both};
use crate::model::language::Over;
use crate::model::{Item, ItemKind, Name};
use crate::phrases::{Say, phrases, say};

phrases! { in "level";
    LIMITED = "the floor";
    LIES = "the floor at {place} lies {have} {off}";
    OFF = "off the plane of the wheels";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::Level,
    page: Page {
        title: "Floor in one plane with the wheels",
        checks: "The floor under each target, over a zone or at marks lies in the plane of the four tyre contacts. This is not the same as flat (no bumps), nor as level (no slope): a flat slope is one plane with the wheels.",
        matters: "A floor that falls to a drain sets the target low or the vehicle nose down. The sensor is then aimed off by that angle, and the tester may still say 'completed'.",
        measured: "Heights are taken from the floor survey, linear between spots; the plane is the least-squares plane of the floor's heights under the four tyres. The largest height of the floor off that plane counts, up or down. A target is judged at the foot of its face; a zone at its corners, at the survey's spots inside and where its edge crosses the survey's triangles. Outside the survey, and raised on a lift, it is not known.",
        remedy: "Stand the vehicle elsewhere, shim the target by the height given with the station if the procedure allows that, or survey more of the floor.",
        source: "`within` of the procedure; where the maker gives no figure, `level` of the bay or the job, 5 mm unless the shop says otherwise.",
    },
    policy: Policy::PLAIN,
    wording: Wording {
        asks: |_| Asks::Limit,
        decimals: Decimals::TenthsOfLimits,
        limited: LIMITED,
        ..Wording::titled(title)
    },
    phrases: PHRASES,
    about: &[&[ItemKind::Station, ItemKind::Mark, ItemKind::Zone]],
    run,
    pairs: None,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    judge(cx.layout, out);
}

/// The least of allowed height less height off the plane over everything the setups ask at this pose, mm: for a map of
/// where the floor lets the vehicle stand. `None` where something asked is not known, or nothing is asked.
pub fn level_margin(layout: &Layout) -> Option<f64> {
    let mut found = Vec::new();
    judge(layout, &mut found);
    let margins: Option<Vec<f64>> = found.iter().map(|f| f.margin).collect();
    margins?.into_iter().min_by(f64::total_cmp)
}

/// [`level_margin`] with the vehicle at each of these places, for a picture of the best place as far as the floor goes.
pub fn level_map(layout: &Layout, stances: &[Stance]) -> Vec<Option<f64>> {
    stances.iter().map(|s| level_margin(&layout.at(*s))).collect()
}

fn judge(layout: &Layout, out: &mut Vec<Finding>) {
    for (s, setup) in layout.setups.iter().enumerate() {
        let Some(ask) = &setup.def.level else { continue };
        let within = match &ask.within {
            Some(figure) => layout.values(setup.procedure).of(figure),
            None => Ok(layout.needs.level),
        };
        let plane = both(within, layout.wheels(Some(setup)));
        for (item, places) in places(layout, setup, &ask.over) {
            let base = Finding {
                procedure: Some(setup.procedure),
                setup: Some(s),
                items: vec![item],
                ..Finding::new(RuleId::Level, Outcome::Unknown)
            };
            out.push(match both(plane.clone(), places) {
                Ok(((within, wheels), places)) => {
                    let shops = ask.within.is_none();
                    held(layout, base, (within, shops), &wheels, &places)
                }
                Err(missing) => Finding { missing: missing.0, note: raised(layout), ..base },
            });
        }
    }
}

/// The places that decide one finding.
struct Places {
    points: Vec<P2>,
    /// Some of what is asked lies off the survey.
    partly: bool,
}

/// What is asked, each by its name.
fn places(layout: &Layout, setup: &Setup, over: &Over) -> Vec<(Item, Known<Places>)> {
    let field = &layout.stage.survey;
    let one = |p: P2| Places { points: vec![p], partly: field.height(p).is_none() };
    let named = |kind, name: &Name| Item::new(kind, name.text.clone());
    match over {
        Over::Stations => {
            let foot = |s: &crate::layout::Station| s.place.clone().map(|stand| one(stand.frame.origin));
            setup.stations.iter().map(|s| (s.item().item(), foot(s))).collect()
        }
        Over::Marks(names) => {
            names.iter().map(|n| (named(ItemKind::Mark, n), layout.mark(setup, n).map(one))).collect()
        }
        Over::Zone(name) => {
            let zone = setup.zones.iter().find(|z| *name == *z.name);
            let place = match zone {
                Some(zone) => zone.place.clone(),
                None => Err(crate::layout::Missing::one(name.text.clone())),
            };
            let all = place.map(|area| {
                let mut all = Places { points: Vec::new(), partly: false };
                for outline in area.outlines() {
                    add_area(field, outline, &mut all);
                }
                all
            });
            vec![(named(ItemKind::Zone, name), all)]
        }
    }
}

/// Where the height off a plane can be largest over an area: the surface is flat between these.
fn add_area(field: &FloorField, outline: &Polygon, all: &mut Places) {
    for corner in outline.points() {
        all.partly |= field.height(*corner).is_none();
        all.points.push(*corner);
    }
    all.points.extend(field.spots().iter().map(|s| s.xy()).filter(|p| outline.contains(*p)));
    let bounds = outline.bounds();
    for (p, q) in field.edges() {
        let near = p.x.min(q.x) <= bounds.max.x && p.x.max(q.x) >= bounds.min.x;
        if !near || p.y.min(q.y) > bounds.max.y || p.y.max(q.y) < bounds.min.y {
            continue;
        }
        for (a, b) in outline.edges() {
            let gap = segment_gap(a, b, p, q);
            if gap.mm <= NOISE_MM {
                all.points.push(gap.a);
            }
        }
    }
}

fn held(
    layout: &Layout,
    base: Finding,
    (within, shops): (f64, bool),
    wheels: &WheelPlane,
    places: &Places,
) -> Finding {
    let field = &layout.stage.survey;
    let known = places.points.iter().filter_map(|p| Some((wheels.residual(field, *p)?, *p)));
    let worst = known.max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
    let Some((residual, at)) = worst.filter(|(r, _)| !places.partly || r.abs() > within + NOISE_MM) else {
        return Finding { need: Some(within), missing: no_survey().0, note: raised(layout), ..base };
    };
    let mut margin = within - residual.abs();
    if margin.abs() <= NOISE_MM {
        margin = 0.0;
    }
    let error = wheels.measured(field, at).and_then(|m| m.error);
    let note = OffPlane {
        below: residual < 0.0,
        error: error.map(|error| (error, margin.abs() < error)),
        shops: shops.then_some(within),
    };
    Finding {
        outcome: if margin < 0.0 { Outcome::Fail } else { Outcome::Pass },
        have: Some(residual.abs()),
        need: Some(within),
        margin: Some(margin),
        witness: Some((at, at)),
        note: Some(Note::OffPlane(Box::new(note))),
        ..base
    }
}

fn raised(layout: &Layout) -> Option<Note> {
    (layout.raise != 0.0).then_some(Note::Raised)
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let have = Figures::of(finding, say.show).have();
    let off = finding.note.as_ref().map_or_else(|| say.word(OFF), |n| notes::note(n, say));
    say!(say, LIES, place = item(finding, 0, say), have, off)
}

#[cfg(test)]
mod tests;
