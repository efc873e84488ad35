//! Height above the vehicle, the targets and the zones.

use super::{Page, Policy, Rule, RuleId, Wording};
use crate::checks::figures::Figures;
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::checks::wording::two;
use crate::geometry::{NOISE_MM, P2, Shape, V2, gap};
use crate::layout::strings::StringRun;
use crate::layout::{Area, Known, Layout, Solid, Stand, Thing, both};
use crate::model::language::FreeOf;
use crate::model::{Item, ItemKind, ItemRef, Lack};
use crate::phrases::{Say, phrases, say};

phrases! { in "headroom";
    ABOVE = "{what} reaches {depth} above {the ceiling}";
    TOO_HIGH = "{what} is {short} too high under {the ceiling}";
    BELOW = "{what} ends {have} below {the ceiling}";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::Headroom,
    page: Page {
        title: "Headroom",
        checks: "The vehicle with its mirrors and every target with its stand keep the shop's headroom to the ceiling and to whatever hangs above them; so does a string that runs over the roof; a zone with a printed top that must be free of anything ends below both.",
        matters: "A van on a raised floor, a board on a tall stand, a radar field 4 m high under a crane beam: none of it shows in plan.",
        measured: "The vertical gap from the top to the ceiling or to the underside of what hangs above it in plan: each part by itself (body, each mirror, face, stand), and the least counts, so that a shelf over a stand counts though the face beside it is higher. What stands on the floor hangs over nothing. A string over the roof runs level at roof height for its whole reach.",
        remedy: "Stand elsewhere in the bay, lower the lift, raise or clear what hangs there, or use another bay.",
        source: "`headroom` of the bay or the job, 150 mm unless the shop says otherwise; for a zone its printed top and nothing more.",
    },
    policy: Policy::PLAIN,
    wording: Wording::titled(title),
    phrases: PHRASES,
    about: &[
        &[ItemKind::Vehicle, ItemKind::String, ItemKind::Station, ItemKind::Zone],
        &[ItemKind::Ceiling, ItemKind::Fixture, ItemKind::Post],
    ],
    run,
    pairs: None,
};

/// Something that needs height above it.
struct Tall<'a> {
    procedure: Option<usize>,
    setup: Option<usize>,
    what: ItemRef<'a>,
    /// Plan shapes with the height of their tops.
    parts: Vec<(&'a Shape, f64)>,
    need: f64,
}

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let need = layout.needs.headroom;
    for (procedure, setup, body) in layout.bodies() {
        let parts = tops(body.hull.iter().chain(&body.mirrors));
        judge(cx, Tall { procedure, setup, what: cx.vehicle.by_ref(), parts, need }, out);
    }
    for (s, setup) in layout.setups.iter().enumerate() {
        for run in setup.strings.iter().filter(|r| r.over_vehicle) {
            let string = Item::new(ItemKind::String, format!("string from {}", run.from));
            match over_roof(run) {
                Ok(Some(shape)) => {
                    let parts = vec![(&shape, roof(layout))];
                    judge(
                        cx,
                        Tall {
                            procedure: Some(setup.procedure),
                            setup: Some(s),
                            what: string.by_ref(),
                            parts,
                            need,
                        },
                        out,
                    );
                }
                Ok(None) => {}
                Err(missing) => out.push(Finding {
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    items: vec![string],
                    missing: missing.0,
                    ..Finding::new(RuleId::Headroom, Outcome::Unknown)
                }),
            }
        }
        for station in &setup.stations {
            if let Ok(stand) = &station.place {
                let tall = Tall {
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    what: station.item(),
                    parts: tops_of(stand),
                    need,
                };
                judge(cx, tall, out);
            }
        }
        for zone in &setup.zones {
            if let Ok(Area::Plan { solid, printed: true }) = &zone.place
                && zone.free_of.contains(&FreeOf::Anything)
                && !zone.seen
            {
                let tall = Tall {
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    what: zone.item(),
                    parts: vec![(&solid.shape, solid.z.hi)],
                    need: 0.0,
                };
                judge(cx, tall, out);
            }
        }
    }
}

fn judge(cx: &Cx, tall: Tall, out: &mut Vec<Finding>) {
    let layout: &Layout = cx.layout;
    let top = tall.parts.iter().map(|p| p.1).fold(f64::NEG_INFINITY, f64::max);
    let fill = |mut finding: Finding, under: Item, at: P2| {
        finding.procedure = tall.procedure;
        finding.setup = tall.setup;
        finding.items = vec![tall.what.item(), under];
        finding.witness = Some((at, at));
        finding
    };
    let middle = tall.parts[0].0.bounds().centre();
    let ceiling = Item::only(ItemKind::Ceiling);
    out.push(match layout.stage.ceiling {
        Some(height) => fill(cx.measured(RuleId::Headroom, height - top, tall.need), ceiling, middle),
        None => fill(
            Finding {
                missing: vec![Lack::Ceiling],
                need: Some(tall.need),
                ..Finding::new(RuleId::Headroom, Outcome::Unknown)
            },
            ceiling,
            middle,
        ),
    });
    for thing in &layout.stage.things {
        let under = tall
            .parts
            .iter()
            .filter(|(shape, top)| {
                hangs_over(thing, *top) && shape.bounds().distance(&thing.solid.shape.bounds()) <= 0.0
            })
            .map(|(shape, top)| (gap(shape, &thing.solid.shape), top))
            .filter(|(g, _)| g.mm < -NOISE_MM)
            .max_by(|a, b| a.1.total_cmp(b.1));
        let Some((g, top)) = under else { continue };
        let mut finding = if thing.overhead && thing.endless {
            Finding {
                need: Some(tall.need),
                missing: vec![Lack::HeightOf(thing.name.clone())],
                ..Finding::new(RuleId::Headroom, Outcome::Unknown)
            }
        } else {
            cx.measured(RuleId::Headroom, thing.solid.z.lo - top, tall.need)
        };
        if thing.movable && finding.outcome == Outcome::Fail {
            finding.outcome = Outcome::Movable;
        }
        out.push(fill(finding, thing.item().item(), g.a));
    }
}

/// Whether a thing hangs over whatever ends at this height: flagged so, or wholly above it and not standing on the floor.
fn hangs_over(thing: &Thing, top: f64) -> bool {
    thing.overhead || (thing.solid.z.lo > NOISE_MM && thing.solid.z.lo + NOISE_MM >= top)
}

/// A flat target without thickness is no higher than where it lies.
fn tops_of(stand: &Stand) -> Vec<(&Shape, f64)> {
    if stand.path.len() > 1 {
        return tops(&stand.parts);
    }
    let face = (&stand.face.shape, stand.lower + stand.size.height);
    std::iter::once(face).chain(stand.foot.iter().map(|f| (&f.shape, f.z.hi))).collect()
}

/// Height of the roof above the bay's floor datum, mm.
fn roof(layout: &Layout) -> f64 {
    layout.body.hull.iter().map(|s| s.z.hi).fold(0.0, f64::max)
}

/// A string over the roof in plan: a strip as thin as a string. Nothing where it has no length.
fn over_roof(run: &StringRun) -> Known<Option<Shape>> {
    const STRING: f64 = 1.0;
    let (line, (back, forward)) = both(run.line.clone(), run.reach.clone())?;
    let (a, b) = (line.at - line.dir * back.unwrap_or(0.0), line.at + line.dir * forward);
    let length = (b - a).norm();
    let turn = line.dir.y.atan2(line.dir.x);
    Ok(Shape::rect(nalgebra::center(&a, &b), V2::new(length, STRING), turn).ok())
}

fn tops<'a>(solids: impl IntoIterator<Item = &'a Solid>) -> Vec<(&'a Shape, f64)> {
    solids.into_iter().map(|s| (&s.shape, s.z.hi)).collect()
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let (what, ceiling) = two(finding, say);
    let figures = Figures::of(finding, say.show);
    let (depth, short, have) = (figures.depth(), figures.short(), figures.have());
    let phrase = match finding.margin {
        Some(margin) if margin < 0.0 && finding.have.is_some_and(|h| h < 0.0) => ABOVE,
        Some(margin) if margin < 0.0 => TOO_HIGH,
        _ => BELOW,
    };
    say!(say, phrase, what, ceiling, depth, short, have)
}

#[cfg(test)]
mod tests;
