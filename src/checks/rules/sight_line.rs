//! Nothing stands in a line of sight.

use std::sync::Arc;

use super::{Page, Rule, RuleId};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::pairs::Cx;
use crate::geometry::{Bounds, P2, Ray, RayGap, Shape};
use crate::layout::Setup;
use crate::layout::sights::SightLine;

pub const RULE: Rule = Rule {
    id: RuleId::SightLine,
    page: Page {
        title: "Free sight",
        checks: "Nothing stands between a sensor and the middle and four corners of the target it looks at, nor between any two points a procedure names.",
        matters: "A post, a hanging lamp or another target in the line of sight hides a part of the target, and what is read is not what was set out.",
        measured: "Straight lines in space, from the sensor to the face, against fixtures, overhead ones too, lift posts, the other targets of the setup and the walls, each with its heights. The least distance counts; touching is allowed. The vehicle and the target itself do not count. What lies flush in the floor hides nothing.",
        remedy: "Clear or move what stands there, or stand the vehicle so that the line misses it.",
        source: "Geometry; nothing to spare is asked.",
    },
    run,
};

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
    name: &'a Arc<str>,
    form: Form<'a>,
    z: (f64, f64),
    movable: bool,
}

enum Form<'a> {
    Prism(&'a Shape),
    Sheet(P2, P2),
}

impl Obstacle<'_> {
    fn through(&self, ray: &Ray) -> Option<f64> {
        match self.form {
            Form::Prism(shape) => ray.through(shape, self.z).map(|(from, _)| from),
            Form::Sheet(a, b) => ray.through_sheet(a, b, self.z),
        }
    }

    fn gap(&self, ray: &Ray) -> RayGap {
        match self.form {
            Form::Prism(shape) => ray.gap(shape, self.z),
            Form::Sheet(a, b) => ray.sheet_gap(a, b, self.z),
        }
    }

    /// Never more than the gap.
    fn at_least(&self, ray: &Ray) -> f64 {
        match self.form {
            Form::Prism(shape) => ray.box_gap(&shape.bounds(), self.z),
            Form::Sheet(a, b) => ray.box_gap(&Bounds::of([a, b]), self.z),
        }
    }
}

fn obstacles<'a>(cx: &'a Cx, setup: &'a Setup, own: &[Arc<str>]) -> Vec<Obstacle<'a>> {
    let stage = &cx.layout.stage;
    let things = stage.things.iter().filter(|t| !t.solid.z.is_flush()).map(|t| Obstacle {
        name: &t.name,
        form: Form::Prism(&t.solid.shape),
        z: (t.solid.z.lo, t.solid.z.hi),
        movable: t.movable,
    });
    let others = setup.stations.iter().filter(|s| !own.contains(&s.name));
    let targets = others.filter_map(|s| Some((&s.name, s.place.as_ref().ok()?))).flat_map(|(name, stand)| {
        let solids = stand.parts.iter().filter(|p| !p.z.is_flush());
        solids.map(move |p| Obstacle {
            name,
            form: Form::Prism(&p.shape),
            z: (p.z.lo, p.z.hi),
            movable: false,
        })
    });
    let walls = stage.sheets.iter().map(|w| Obstacle {
        name: &w.name,
        form: Form::Sheet(w.a, w.b),
        z: w.z,
        movable: false,
    });
    things.chain(targets).chain(walls).collect()
}

fn judge(cx: &Cx, setup: &Setup, sight: &SightLine) -> Finding {
    let mut items = vec![sight.from.clone(), sight.to.clone()];
    let rays = match &sight.rays {
        Ok(rays) => rays,
        Err(missing) => {
            return Finding {
                items,
                missing: missing.0.clone(),
                ..Finding::new(RuleId::SightLine, Outcome::Unknown)
            };
        }
    };
    let mut nearest: Option<(RayGap, &Arc<str>)> = None;
    // how far along its ray, where, what
    let mut blockers: Vec<(f64, P2, &Obstacle)> = Vec::new();
    let obstacles = obstacles(cx, setup, &sight.own);
    for obstacle in &obstacles {
        let mut entry: Option<(f64, P2)> = None;
        for ray in rays {
            if let Some(t) = obstacle.through(ray) {
                let far = t * ray.length();
                if entry.is_none_or(|e| far < e.0) {
                    entry = Some((far, ray.at(t).xy()));
                }
            }
        }
        if let Some((far, at)) = entry {
            blockers.push((far, at, obstacle));
        }
        if !blockers.is_empty() {
            continue;
        }
        for ray in rays {
            if nearest.as_ref().is_some_and(|n| obstacle.at_least(ray) >= n.0.mm) {
                continue;
            }
            let gap = obstacle.gap(ray);
            if nearest.as_ref().is_none_or(|n| gap.mm < n.0.mm) {
                nearest = Some((gap, obstacle.name));
            }
        }
    }
    blockers.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.2.name.cmp(b.2.name)));
    if let Some((_, at, first)) = blockers.first() {
        items.push(first.name.clone());
        let only_movable = blockers.iter().all(|b| b.2.movable);
        let mut others: Vec<&str> =
            blockers[1..].iter().map(|b| &**b.2.name).filter(|n| **n != **first.name).collect();
        others.dedup();
        return Finding {
            items,
            need: Some(0.0),
            witness: Some((*at, *at)),
            moves: if only_movable {
                blockers.iter().map(|b| b.2.name.clone()).collect()
            } else {
                Vec::new()
            },
            note: (!others.is_empty()).then(|| format!("then by {}", others.join(", ")).into()),
            ..Finding::new(RuleId::SightLine, if only_movable { Outcome::Movable } else { Outcome::Fail })
        };
    }
    let Some((gap, name)) = nearest else {
        return Finding { items, need: Some(0.0), ..Finding::new(RuleId::SightLine, Outcome::Pass) };
    };
    items.push(name.clone());
    Finding {
        items,
        witness: Some((gap.on_ray.xy(), gap.on_thing.xy())),
        ..cx.measured(RuleId::SightLine, gap.mm, 0.0)
    }
}

#[cfg(test)]
mod tests;
