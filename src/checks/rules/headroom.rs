//! Height above the vehicle, the targets and the zones.

use std::sync::Arc;

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::geometry::{NOISE_MM, P2, Shape, gap};
use crate::layout::{Area, Layout, Solid};
use crate::model::language::FreeOf;

pub const RULE: Rule = Rule {
    id: RuleId::Headroom,
    page: Page {
        title: "Headroom",
        checks: "The vehicle and every target keep the shop's headroom to the ceiling and to whatever hangs above them; so does a string that runs over the roof; a zone with a printed top that must be free of anything ends below both.",
        matters: "A van on a raised floor, a board on a tall stand, a radar field 4 m high under a crane beam: none of it shows in plan.",
        measured: "The vertical gap from the top of the thing to the ceiling or to the underside of what hangs above it in plan. A string over the roof runs level at roof height for its whole reach.",
        remedy: "Stand elsewhere in the bay, lower the lift, raise or clear what hangs there, or use another bay.",
        source: "`headroom` of the bay or the job, 150 mm unless the shop says otherwise; for a zone its printed top and nothing more.",
    },
    run,
};

/// Something that needs height above it.
struct Tall<'a> {
    procedure: Option<usize>,
    setup: Option<usize>,
    name: &'a Arc<str>,
    /// Plan shapes with the height of their tops.
    parts: Vec<(&'a Shape, f64)>,
    need: f64,
}

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let need = layout.needs.headroom;
    for (procedure, setup, body) in layout.bodies() {
        let parts = tops(&body.hull);
        judge(cx, Tall { procedure, setup, name: &cx.vehicle, parts, need }, out);
    }
    for (s, setup) in layout.setups.iter().enumerate() {
        for string in strings_over(layout, s) {
            let Ok(string) = string else { continue };
            let parts = vec![(&string.1, string.2)];
            judge(cx, Tall { procedure: Some(setup.procedure), setup: Some(s), name: &string.0, parts, need }, out);
        }
        for station in &setup.stations {
            if let Ok(stand) = &station.place {
                let tall = Tall {
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    name: &station.name,
                    parts: tops(&stand.parts),
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
                    name: &zone.name,
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
    let fill = |mut finding: Finding, under: Arc<str>, at: P2| {
        finding.procedure = tall.procedure;
        finding.setup = tall.setup;
        finding.items = vec![tall.name.clone(), under];
        finding.witness = Some((at, at));
        finding
    };
    let middle = tall.parts[0].0.bounds().centre();
    let ceiling: Arc<str> = "ceiling".into();
    out.push(match layout.stage.ceiling {
        Some(height) => fill(cx.measured(RuleId::Headroom, height - top, tall.need), ceiling, middle),
        None => fill(
            Finding {
                missing: vec![ceiling.clone()],
                need: Some(tall.need),
                ..Finding::new(RuleId::Headroom, Outcome::Unknown)
            },
            ceiling,
            middle,
        ),
    });
    for thing in &layout.stage.things {
        if !thing.overhead && thing.solid.z.lo + NOISE_MM < top {
            continue;
        }
        let under = tall
            .parts
            .iter()
            .map(|(shape, top)| (gap(shape, &thing.solid.shape), top))
            .filter(|(g, _)| g.mm < -NOISE_MM)
            .max_by(|a, b| a.1.total_cmp(b.1));
        let Some((g, top)) = under else { continue };
        let mut finding = if thing.overhead && thing.endless {
            Finding {
                need: Some(tall.need),
                missing: vec![format!("height of {}", thing.name).into()],
                ..Finding::new(RuleId::Headroom, Outcome::Unknown)
            }
        } else {
            cx.measured(RuleId::Headroom, thing.solid.z.lo - top, tall.need)
        };
        if thing.movable && finding.outcome == Outcome::Fail {
            finding.outcome = Outcome::Movable;
        }
        out.push(fill(finding, thing.name.clone(), g.a));
    }
}

fn tops(solids: &[Solid]) -> Vec<(&Shape, f64)> {
    solids.iter().map(|s| (&s.shape, s.z.hi)).collect()
}
