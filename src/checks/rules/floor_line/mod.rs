//! String lines find the floor they need.

use super::{Page, Policy, Rule, RuleId, Wording};
use crate::checks::figures::Figures;
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::Note;
use crate::checks::pairs::Cx;
use crate::checks::wording::{item, notes};
use crate::geometry::{Line, NOISE_MM, P2, P3, Ray, V2};
use crate::layout::{Layout, Stage, Thing, both};
use crate::model::{Item, ItemKind};
use crate::phrases::{Say, phrases, say};

phrases! { in "floor-line";
    SHORT = "the string line {line} from {mark} is {short} short of floor";
    SHORT_ENDS = "the string line {line} from {mark} is {short} short of floor: {ends}";
    FINDS = "the string line {line} from {mark} finds {have} of floor";
    FINDS_ENDS = "the string line {line} from {mark} finds {have} of floor: {ends}";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::FloorLine,
    page: Page {
        title: "Floor for the string lines",
        checks: "Each string line of the procedure finds the length of free floor it is to be pulled over.",
        matters: "A line that ends at a cabinet or at the wall before its mark cannot be pulled true, and all marks taken from it are off.",
        measured: "From the foot of its mark along the line until the usable floor ends or something stands on it. What hangs overhead or lies flush does not count. It is not cut off at the length asked for.",
        remedy: "Clear what stands on the line, open a door, or move the vehicle back from where the line ends.",
        source: "`reach` of the procedure's line.",
    },
    policy: Policy { walls: true, plan: true, ..Policy::PLAIN },
    wording: Wording::titled(title),
    phrases: PHRASES,
    about: &[&[ItemKind::Mark], &[ItemKind::Line]],
    run,
    pairs: None,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        for string in &setup.strings {
            let base = |outcome| Finding {
                procedure: Some(setup.procedure),
                setup: Some(s),
                items: vec![
                    Item::new(ItemKind::Mark, string.from.clone()),
                    Item::new(ItemKind::Line, string.word.clone()),
                ],
                ..Finding::new(RuleId::FloorLine, outcome)
            };
            let ((back, far), line) = match both(string.reach.clone(), string.line.clone()) {
                Ok(known) => known,
                Err(missing) => {
                    out.push(Finding { missing: missing.0, ..base(Outcome::Unknown) });
                    continue;
                }
            };
            let ways =
                back.map(|need| (Line { dir: -line.dir, ..line }, need)).into_iter().chain([(line, far)]);
            for (line, need) in ways {
                // a reach below 0 is asked for the other way
                let line = if need < 0.0 && back.is_none() { Line { dir: -line.dir, ..line } } else { line };
                let need = if back.is_none() { need.abs() } else { need.max(0.0) };
                let found = judge(cx, line, need);
                let named = base(found.outcome);
                out.push(Finding {
                    procedure: named.procedure,
                    setup: named.setup,
                    items: named.items,
                    ..found
                });
            }
        }
    }
}

fn judge(cx: &Cx, line: Line, need: f64) -> Finding {
    let stage = &cx.layout.stage;
    let found = floor_from(stage, line.at, line.dir, &|_| true);
    let mut finding = cx.measured(RuleId::FloorLine, found.mm, need);
    let end = line.at + line.dir * found.mm;
    finding.witness = Some((line.at, end));
    finding.note = found.ends_at.map(Note::EndsAt);
    if finding.outcome == Outcome::Fail {
        let fixed = floor_from(stage, line.at, line.dir, &|thing| !thing.movable);
        if fixed.mm >= need - NOISE_MM {
            finding.outcome = Outcome::Movable;
            let ray = ray(line.at, line.at + line.dir * need);
            let on_it = stands(stage).filter(|t| t.movable && ray.through(&t.solid.shape, BAND).is_some());
            finding.moves = on_it.map(|t| t.name.clone()).collect();
        }
    }
    finding
}

struct Found {
    mm: f64,
    ends_at: Option<Item>,
}

/// Heights round the floor: plan questions asked of rays.
const BAND: (f64, f64) = (-1.0, 1.0);

fn ray(a: P2, b: P2) -> Ray {
    Ray { a: P3::new(a.x, a.y, 0.0), b: P3::new(b.x, b.y, 0.0) }
}

/// Things that stand on the floor.
fn stands(stage: &Stage) -> impl Iterator<Item = &Thing> {
    stage.things.iter().filter(|t| !t.overhead && !t.solid.z.is_flush() && t.solid.z.lo <= NOISE_MM)
}

/// The free floor from a place in a direction, with only the things that `counts` names.
fn floor_from(stage: &Stage, at: P2, way: V2, counts: &dyn Fn(&Thing) -> bool) -> Found {
    let (mm, edge) = usable_floor(stage, at, way);
    let mut found = Found { mm, ends_at: edge };
    let line = ray(at, at + way * mm);
    for thing in stands(stage).filter(|t| counts(t)) {
        if let Some((from, _)) = line.through(&thing.solid.shape, BAND)
            && from * mm < found.mm
        {
            found = Found { mm: from * mm, ends_at: Some(thing.item().item()) };
        }
    }
    found
}

/// How far the usable floor reaches from a place in a direction, and the edge it ends at; 0 for a place off it.
fn usable_floor(stage: &Stage, at: P2, way: V2) -> (f64, Option<Item>) {
    if !stage.floor.contains(at) {
        return (0.0, None);
    }
    let mut stops: Vec<(f64, u32)> = Vec::new();
    let mut crossed = f64::INFINITY;
    for edge in stage.floor.edges() {
        let (p, q) = (edge.a - at, edge.b - at);
        let (off_p, off_q) = (way.perp(&p), way.perp(&q));
        let crosses = off_p.min(off_q) < -NOISE_MM && off_p.max(off_q) > NOISE_MM;
        if crosses {
            let along = way.dot(&(p + (q - p) * (off_p / (off_p - off_q))));
            stops.push((along, edge.label));
            if along > NOISE_MM {
                crossed = crossed.min(along);
            }
        } else {
            stops.extend(
                [(off_p, p), (off_q, q)]
                    .iter()
                    .filter(|(off, _)| off.abs() <= NOISE_MM)
                    .map(|(_, v)| (way.dot(v), edge.label)),
            );
        }
    }
    stops.retain(|(along, _)| *along > -NOISE_MM);
    stops.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let name = |label: u32| Some(stage.bound(label).item().item());
    let mut last = (0.0, None);
    for (along, label) in stops {
        // between two stops the line is on the floor throughout, or off it
        if along - last.0 > NOISE_MM && !stage.floor.contains(at + way * ((along + last.0) / 2.0)) {
            return (last.0, last.1.and_then(name));
        }
        last = (along.max(0.0), Some(label));
        if along >= crossed {
            return (along, name(label));
        }
    }
    (last.0, last.1.and_then(name))
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let (mark, line) = (item(finding, 0, say), item(finding, 1, say));
    let ends = finding.note.as_ref().map(|n| notes::note(n, say));
    let figures = Figures::of(finding, say.show);
    let phrase = match (finding.margin.is_some_and(|m| m < 0.0), &ends) {
        (true, None) => SHORT,
        (true, Some(_)) => SHORT_ENDS,
        (false, None) => FINDS,
        (false, Some(_)) => FINDS_ENDS,
    };
    let ends = ends.unwrap_or_default();
    say!(say, phrase, line, mark, ends, short = figures.short(), have = figures.have())
}

#[cfg(test)]
mod tests;
