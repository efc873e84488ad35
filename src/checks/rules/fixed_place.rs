//! The vehicle stands where a wall, an installed thing or a painted line wants it.

use super::{Competes, Page, Policy, Rule, RuleId, Wording};
use crate::checks::figures::{Asks, Figures, by_sums};
use crate::checks::finding::{Finding, Outcome, Unit};
use crate::checks::note::Note;
use crate::checks::pairs::Cx;
use crate::checks::wording::two;
use crate::geometry::{NOISE_MM, P2};
use crate::layout::fixed::{Axis, Covers, Miss, misses, not_bare, wall_behind, without_wall};
use crate::layout::{Layout, Stand, Station};
use crate::model::further::FixedTo;
use crate::model::{Item, ItemKind, ItemRef, Lack};
use crate::phrases::{Say, phrases, say};

phrases! { in "fixed-place";
    NO_WALL = "{station} has no wall behind it to hang on";
    TOO_NEAR = "{the to} is {have} too near for {station}";
    TOO_FAR = "{the to} is {have} too far for {station}";
    BESIDE = "{station} comes to lie {have} beside {the to}";
    OUT_OF_SQUARE = "{station} stands {have} out of square to {the to}";
    OFF_LINE = "mark {station} lies {have} beside {the to}";
    SQUARE = "{station} is square to {the to} within {have}";
    WANTED_ALONG = "{station} is where {the to} wants it, along";
    WANTED_ACROSS = "{station} is where {the to} wants it, across";
    WANTED_LINE = "{station} is where {the to} wants it, line";
    TAKES_WALL = "{to} takes {depth} of the bare wall {station} hangs on";
    BARE_WALL = "{station} hangs on bare wall, {have} from {the to}";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::FixedPlace,
    page: Page {
        title: "Targets the bay holds",
        checks: "Where a target hangs on a wall or is installed in the bay, the vehicle stands so that the target is where the procedure wants it, and square; a wall is there, and bare where the target hangs; a mark that belongs on a painted line lies on it.",
        matters: "The wall does not come to the vehicle. A lamp 300 mm too near the screen is aimed too high by the same share.",
        measured: "Along the target's facing, across it and in degrees: how far the mark is from the bay's place, against the printed tolerance. What stands on the mark lies on the wall: the front unless the procedure says otherwise. Bare wall: how far the target's edges are from the next doorway at its height, the wall's end, or a thing at its height that stands before it, nearer than the shop walks round a vehicle.",
        remedy: "Drive by the amount named. A door or a thing in the way: use another piece of the wall, or clear it.",
        source: "`fixed_to`, `stand_on` and `tolerance` of the procedure file. Where no tolerance is printed, the shop's `measuring` stands in and says so.",
    },
    policy: Policy { competes: Competes::WhereItFails, ..Policy::PLAIN },
    wording: Wording {
        // station, what holds it, and along which axis it is off
        asks: |f| if f.items.len() == 3 { Asks::Limit } else { by_sums(f) },
        ..Wording::titled(title)
    },
    phrases: PHRASES,
    about: &[
        &[ItemKind::Station, ItemKind::Mark, ItemKind::Words],
        &[
            ItemKind::Wall,
            ItemKind::Installed,
            ItemKind::FloorLine,
            ItemKind::Doorway,
            ItemKind::Fixture,
            ItemKind::Post,
            ItemKind::Words,
        ],
        &[ItemKind::Axis, ItemKind::Words],
    ],
    run,
    pairs: None,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    for (s, setup) in cx.layout.setups.iter().enumerate() {
        let base = |outcome| Finding {
            procedure: Some(setup.procedure),
            setup: Some(s),
            ..Finding::new(RuleId::FixedPlace, outcome)
        };
        for miss in misses(cx.layout, setup) {
            out.push(match miss {
                Ok(miss) => judge(&miss, base(Outcome::Pass)),
                Err(missing) => {
                    Finding { items: words(&missing.0), missing: missing.0, ..base(Outcome::Unknown) }
                }
            });
        }
        for (station, stand) in without_wall(cx.layout, setup) {
            out.push(Finding {
                items: vec![station.item().item()],
                note: Some(Note::NoWallBehind),
                witness: Some((stand.mark, stand.mark)),
                ..base(Outcome::Fail)
            });
        }
        for station in &setup.stations {
            if let (Some(FixedTo::Wall), Ok(stand)) = (&station.def.fixed_to, &station.place)
                && let Some(finding) = bare_wall(cx, station, stand)
            {
                out.push(Finding { procedure: Some(setup.procedure), setup: Some(s), ..finding });
            }
        }
    }
}

fn words(missing: &[Lack]) -> Vec<Item> {
    missing.iter().map(|lack| Item::new(ItemKind::Words, lack.word())).collect()
}

fn judge(miss: &Miss, base: Finding) -> Finding {
    let mut margin = miss.allowed - miss.by.abs();
    if margin.abs() <= NOISE_MM {
        margin = 0.0;
    }
    let unit = if miss.axis == Axis::Turn { Unit::Deg } else { Unit::Mm };
    Finding {
        outcome: if margin < 0.0 { Outcome::Fail } else { Outcome::Pass },
        items: vec![miss.station.clone(), miss.to.clone(), Item::new(ItemKind::Axis, miss.axis.word())],
        have: Some(miss.by),
        need: Some(miss.allowed),
        margin: Some(margin),
        unit,
        witness: Some(miss.between),
        note: miss.shops.then_some(Note::ShopsFigure),
        ..base
    }
}

/// The least distance along the wall from the target's edges to whatever is not bare wall. A thing that stands for good
/// where the face hangs is in `installed` instead.
fn bare_wall(cx: &Cx, station: &Station, stand: &Stand) -> Option<Finding> {
    let label = wall_behind(cx.layout, stand)?;
    let bound = cx.layout.stage.bound(label);
    let way = (bound.side.1 - bound.side.0).normalize();
    let along = |p: P2| (p - bound.side.0).dot(&way);
    let edge = |y: f64| along(stand.frame.to_world(P2::new(stand.size.back, y)));
    let (a, b) = (edge(stand.size.half_width), edge(-stand.size.half_width));
    let (lo, hi) = (a.min(b), a.max(b));
    let mut least: Option<(f64, Item, bool)> = None;
    let mut take = |from: f64, to: f64, still: ItemRef, movable: bool| {
        let clear = (from - hi).max(lo - to);
        if least.as_ref().is_none_or(|l| clear < l.0) {
            least = Some((clear, still.item(), movable));
        }
    };
    let length = (bound.side.1 - bound.side.0).norm();
    take(f64::NEG_INFINITY, 0.0, bound.item(), false);
    take(length, f64::INFINITY, bound.item(), false);
    for n in not_bare(cx.layout, stand, label) {
        let movable = matches!(n.what, Covers::Thing(t) if cx.layout.stage.things[t].movable);
        take(n.from, n.to, n.of.by_ref(), movable);
    }
    let (clear, still, movable) = least?;
    let mut finding = cx.measured(RuleId::FixedPlace, clear, 0.0);
    if movable && finding.outcome == Outcome::Fail {
        finding.outcome = Outcome::Movable;
    }
    finding.items = vec![station.item().item(), still];
    finding.note = Some(Note::BareWall);
    let middle = stand.frame.to_world(P2::new(stand.size.back, 0.0));
    finding.witness = Some((middle, middle));
    Some(finding)
}

/// Whether the bay decides where this target is: then it is not carried about and not judged against the bay.
pub(super) fn held_by_bay(station: &Station) -> bool {
    matches!(station.def.fixed_to, Some(FixedTo::Bay(_) | FixedTo::Earlier(_)))
}

/// The wall a wall-hung target hangs on.
pub(super) fn own_wall(cx: &Cx, station: &Station) -> Option<u32> {
    match (&station.def.fixed_to, &station.place) {
        (Some(FixedTo::Wall), Ok(stand)) => wall_behind(cx.layout, stand),
        _ => None,
    }
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let (station, to) = two(finding, say);
    let have = finding.have.unwrap_or(0.0);
    let figures = Figures::of(finding, say.show);
    let bad = finding.outcome == Outcome::Fail;
    let axis = finding.items.get(2).and_then(|a| Axis::read(a.name()));
    let phrase = match axis {
        _ if finding.items.len() == 1 => NO_WALL,
        Some(Axis::Along) if bad && have < 0.0 => TOO_NEAR,
        Some(Axis::Along) if bad => TOO_FAR,
        Some(Axis::Across) if bad => BESIDE,
        Some(Axis::Turn) if bad => OUT_OF_SQUARE,
        Some(Axis::Line) if bad => OFF_LINE,
        Some(Axis::Turn) => SQUARE,
        Some(Axis::Along) => WANTED_ALONG,
        Some(Axis::Across) => WANTED_ACROSS,
        Some(Axis::Line) => WANTED_LINE,
        None if have < 0.0 => TAKES_WALL,
        None => BARE_WALL,
    };
    say!(say, phrase, station, to, have = figures.have(), depth = figures.depth())
}
