//! A vehicle on a lift stands where the lift can hold it.

use std::sync::Arc;

use super::{Decimals, InCurve, Page, Policy, Rule, RuleId, Wording};
use crate::checks::figures::{Asks, Figures, by_sums};
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::Note;
use crate::checks::pairs::Cx;
use crate::checks::wording::item;
use crate::geometry::{Line, NOISE_MM, P2, V2};
use crate::layout::lift::{axles, lift_margin, lift_of, middle_line, off_middle, post_name};
use crate::layout::{Layout, Solid};
use crate::model::bay::Lift;
use crate::model::shape::PlanShape;
use crate::model::{Item, ItemKind};
use crate::phrases::{Phrase, Say, phrases, say};

phrases! { in "on-lift";
    LIMITED = "its place on the lift";
    PAST_RUNWAYS = "the tyres reach {depth} past the runways of {lift}";
    INSIDE_RUNWAYS = "the tyres stand {have} inside the runways of {lift}";
    TOO_FAR = "{lift} is {short} too far from the middle between the axles";
    BETWEEN = "{lift} stands between the axles with {left} to spare";
    OFF_MIDDLE = "the {what} is {have} off the middle line of {lift}";
    AXLES_AND = "the {moving}'s axles and {still}";
    RUNWAYS_OF = "tyres and the runways of {still}";
    MIDDLE_OF = "{moving} and the middle line of {still}";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::OnLift,
    page: Page {
        title: "On the lift",
        checks: "With the vehicle on a lift, all four tyres stand wholly on its runways where it has any, else each of its posts stands between the axles; and the vehicle's middle line lies on the lift's middle line within the lift's tolerance.",
        matters: "A tyre half off its runway is dangerous; the arms of posts beyond the axles cannot reach what they must lift; a vehicle off the lift's middle tilts it, and everything set out from the vehicle tilts along.",
        measured: "Tyres: the least distance of a tyre's outline to the runway's edge from inside; sticking out counts below zero, by the farthest part. Middle: the larger sideways distance of front and rear axle from the line along the runways, or between the posts. Posts of a lift without runways: how far the middle of each lies behind the front axle and before the rear one, the smaller, less half a tyre's diameter. Heights count from the raised tyre plane everywhere. Where the vehicle can stand keeps to all of it.",
        remedy: "Drive the vehicle straight onto the middle of the lift, or use another lift. Only trained people, as the lift's maker says.",
        source: "Geometry for the tyres; common practice for the posts; `tolerance` of the bay's lift for its middle, after its maker.",
    },
    policy: Policy { plan: true, curve: InCurve::Held, ..Policy::PLAIN },
    wording: Wording {
        asks: |f| if f.need.is_some_and(|need| need > 0.0) { Asks::Limit } else { by_sums(f) },
        decimals: Decimals::TenthsOfLimits,
        limited: LIMITED,
        pair,
        ..Wording::titled(title)
    },
    phrases: PHRASES,
    about: &[&[ItemKind::Vehicle, ItemKind::Tyres], &[ItemKind::Lift, ItemKind::Post]],
    run,
    pairs: None,
};

/// The vehicle, at one of the places it stands in, held against the lift it is put on. The check judges it; siting
/// keeps to it.
pub struct LiftPair<'a> {
    pub procedure: Option<usize>,
    /// Index into the layout's setups; `None`: where the job puts the vehicle.
    pub setup: Option<usize>,
    pub lift: &'a Lift,
    /// Each must lie on the lift's runways, where it has any.
    pub tyres: &'a [Solid],
    /// The middles of front and rear axle, bay axes.
    pub axles: [P2; 2],
    /// Half a tyre's diameter, mm: posts keep that far from the axles.
    pub radius: f64,
}

/// A post of a lift without runways: its name, and its middle in bay axes.
pub struct LiftPost {
    pub name: Arc<str>,
    pub at: P2,
}

impl LiftPair<'_> {
    /// The line both axles' middles keep to, and how far off it they may be, mm; `None` where the bay does not tell.
    pub fn strip(&self) -> Option<(Line, f64)> {
        Some((middle_line(self.lift)?, self.lift.tolerance?))
    }

    /// The posts that must stand between the axles: none where tyres stand on runways.
    pub fn posts(&self) -> Vec<LiftPost> {
        let posts = if self.lift.runways.is_empty() { &self.lift.posts[..] } else { &[] };
        let post = |(n, shape): (usize, &PlanShape)| LiftPost {
            name: post_name(self.lift, n),
            at: shape.0.outline().centre(),
        };
        posts.iter().enumerate().map(post).collect()
    }

    /// From the rear axle to the front one, length 1.
    pub fn ahead(&self) -> V2 {
        (self.axles[0] - self.axles[1]).try_normalize(0.0).unwrap_or(V2::y())
    }

    /// How far a point lies behind the front axle and before the rear one, mm, each less half a tyre's diameter.
    pub fn room(&self, p: P2) -> [f64; 2] {
        let [front, rear] = self.axles;
        [front - p, p - rear].map(|off| self.ahead().dot(&off) - self.radius)
    }
}

/// One for every place the vehicle stands in; none when the job has it on the floor.
pub fn lift_pairs<'a>(cx: &'a Cx<'a>, each: &mut dyn FnMut(LiftPair<'a>)) {
    let layout = cx.layout;
    let Some(lift) = lift_of(&layout.bundle) else { return };
    for (procedure, setup, body) in layout.bodies() {
        let frame = setup.map_or(layout.frame(), |s| layout.frame_of(&layout.setups[s]));
        let axles = axles(&frame, layout.bundle.vehicle.wheelbase);
        let radius = layout.bundle.vehicle.tyre.diameter / 2.0;
        each(LiftPair { procedure, setup, lift, tyres: &body.tyres, axles, radius });
    }
}

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    lift_pairs(cx, &mut |pair| {
        let place = |finding| Finding { procedure: pair.procedure, setup: pair.setup, ..finding };
        let lift = || Item::new(ItemKind::Lift, pair.lift.name.text.clone());
        if let Some((_, gap)) = lift_margin(pair.lift, pair.tyres) {
            out.push(place(Finding {
                items: vec![cx.tyres.clone(), lift()],
                witness: Some((gap.on_shape, gap.on_edge)),
                ..cx.measured(RuleId::OnLift, gap.mm, 0.0)
            }));
        }
        let items = vec![cx.vehicle.clone(), lift()];
        out.push(place(Finding { items, ..middle(&pair) }));
        // after the middle line: of equals that is named
        out.extend(pair.posts().into_iter().map(|post| place(between_axles(cx, &pair, post))));
    });
}

fn between_axles(cx: &Cx, pair: &LiftPair, LiftPost { name, at }: LiftPost) -> Finding {
    let [front, rear] = pair.room(at);
    let (have, way) = if front <= rear { (front, pair.ahead()) } else { (rear, -pair.ahead()) };
    Finding {
        items: vec![cx.vehicle.clone(), Item::new(ItemKind::Post, name)],
        witness: Some((at + way * have, at)),
        note: Some(Note::BetweenAxles),
        ..cx.measured(RuleId::OnLift, have, 0.0)
    }
}

fn middle(pair: &LiftPair) -> Finding {
    let nothing = || Finding::new(RuleId::OnLift, Outcome::NotApplicable);
    let Some(off) = off_middle(pair.lift, &pair.axles) else {
        return Finding { note: Some(Note::NoLiftMiddle), ..nothing() };
    };
    let Some((_, allowed)) = pair.strip() else {
        return Finding { have: Some(off), note: Some(Note::OffMiddleUnjudged(off)), ..nothing() };
    };
    let margin = if (allowed - off).abs() <= NOISE_MM { 0.0 } else { allowed - off };
    Finding {
        have: Some(off),
        need: Some(allowed),
        margin: Some(margin),
        note: Some(Note::OffMiddle),
        ..Finding::new(RuleId::OnLift, if margin < 0.0 { Outcome::Fail } else { Outcome::Pass })
    }
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let (what, lift) = (item(finding, 0, say), item(finding, 1, say));
    let figures = Figures::of(finding, say.show);
    let fails = finding.outcome == Outcome::Fail;
    let of_tyres = finding.items.first().is_some_and(|i| i.kind() == ItemKind::Tyres);
    let phrase = match (of_tyres, &finding.note) {
        (true, _) if fails => PAST_RUNWAYS,
        (true, _) => INSIDE_RUNWAYS,
        (_, Some(Note::BetweenAxles)) if fails => TOO_FAR,
        (_, Some(Note::BetweenAxles)) => BETWEEN,
        _ => OFF_MIDDLE,
    };
    let (depth, short, left, have) = (figures.depth(), figures.short(), figures.left(), figures.have());
    say!(say, phrase, what, lift, depth, short, left, have)
}

fn pair(items: &[Item]) -> Option<Phrase> {
    let [moving, still] = items else { return None };
    Some(match (moving.kind(), still.kind()) {
        (_, ItemKind::Post) => AXLES_AND,
        (ItemKind::Tyres, _) => RUNWAYS_OF,
        _ => MIDDLE_OF,
    })
}

#[cfg(test)]
mod tests {
    use super::RuleId::{Headroom, OnLift as RULE};
    use crate::checks::Outcome::{Fail, NotApplicable, Pass, Tight};
    use crate::checks::rules::workbench::{BOARD, Bench};
    use crate::layout::lift::middle_line;

    /// Tyres x 4150 to 4350 and 5650 to 5850, y 7200 to 10300.
    fn on(lift: &str, height: f64) -> Bench {
        Bench::new()
            .bay(&format!(r#"lifts: [(name: "ramp", heights: [0, 600, 2450, 2451], {lift})]"#))
            .job(&format!(r#"support: Lift(name: "ramp", height: {height:?})"#))
    }

    /// Two runways as wide as the tyres and this much more on every side.
    fn runways(more: f64) -> String {
        let one = |x: f64| {
            format!("Box(at: ({x:?}, 8750), size: ({:?}, {:?}))", 200.0 + 2.0 * more, 3100.0 + 2.0 * more)
        };
        format!("runways: [{}, {}]", one(4250.0), one(5750.0))
    }

    #[test]
    fn tyres_on_the_runways() {
        let pair = ["tyres", "ramp"];
        for (case, more, outcome, margin) in [
            ("to spare", 150.0, Pass, 150.0),
            ("clear by 1 mm", 1.0, Tight, 1.0),
            ("exactly equal", 0.0, Tight, 0.0),
            ("short by 1 mm", -1.0, Fail, -2f64.sqrt()), // out sideways and behind: the corner is the farthest part
        ] {
            on(&runways(more), 600.0).check().says(case, RULE, &pair, outcome, margin);
        }
        // 40 aside, with 50 of room
        on(&runways(50.0), 0.0).pose(5040.0, 10000.0, 0.0).check().says(
            "driven aside",
            RULE,
            &pair,
            Tight,
            10.0,
        );
        on(&runways(50.0), 0.0).pose(5060.0, 10000.0, 0.0).check().says(
            "too far aside",
            RULE,
            &pair,
            Fail,
            -10.0,
        );
        // two pieces end to end are one runway
        let split = "runways: [Box(at: (4250, 8000), size: (600, 2000)), Box(at: (4250, 10000), size: (600, 2000)), Box(at: (5750, 9000), size: (600, 4000))]";
        on(split, 0.0).check().says("in two pieces", RULE, &pair, Pass, 200.0);
        // turned, too, where they meet but for rounding
        for turn in (0..24).map(|i| 7.3 + 15.0 * f64::from(i)) {
            let (sin, cos) = f64::to_radians(turn).sin_cos();
            let piece = |along: f64, across: f64, long: f64| {
                let (x, y) = (5000.0 + along * cos - across * sin, 8750.0 + along * sin + across * cos);
                format!("Box(at: ({x:?}, {y:?}), size: ({long:?}, 600), turn: {turn:?})")
            };
            let four =
                [750.0, -750.0].map(|y| [piece(-2000.0, y, 4000.0), piece(1000.0, y, 2000.0)].join(", "));
            let (x, y) = (5000.0 + 100.0 * cos, 8750.0 + 100.0 * sin);
            let found = on(&format!("runways: [{}]", four.join(", ")), 0.0).pose(x, y, turn - 90.0).check();
            let f = found.one("turned", RULE, &pair);
            assert!((f.have.unwrap() - 200.0).abs() < 1e-3, "{turn}: {f:?}");
        }
        on("", 0.0).check().silent("no runways", RULE, &pair);
    }

    #[test]
    fn the_lifts_middle() {
        let pair = ["vehicle", "ramp"];
        let posts =
            "posts: [Box(at: (3000, 9000), size: (300, 300)), Box(at: (7020, 9000), size: (300, 300))]";
        // the middle of the posts is at x 5010
        for (case, tolerance, outcome, margin) in [
            ("clear by 1 mm", 11.0, Pass, 1.0),
            ("exactly equal", 10.0, Pass, 0.0),
            ("short by 1 mm", 9.0, Fail, -1.0),
        ] {
            let found = on(&format!("{posts}, tolerance: {tolerance:?}"), 0.0).check();
            let f = found.one(case, RULE, &pair);
            assert_eq!(f.outcome, outcome, "{case}");
            assert!(
                (f.margin.unwrap() - margin).abs() < 1e-9 && (f.have.unwrap() - 10.0).abs() < 1e-9,
                "{case}"
            );
        }
        let free = on(posts, 0.0).check();
        let f = free.one("no tolerance", RULE, &pair);
        assert_eq!((f.outcome, f.margin), (NotApplicable, None));
        assert_eq!(on("", 0.0).check().one("nothing tells", RULE, &pair).outcome, NotApplicable);
        // askew: the rear axle is 2500 sin 1 degree further off
        let askew = on(&format!("{posts}, tolerance: 100"), 0.0).pose(5010.0, 10000.0, 1.0).check();
        let off = askew.one("askew", RULE, &pair).have.unwrap();
        assert!((off - 2500.0 * 1f64.to_radians().sin()).abs() < 1e-9, "{off}");
    }

    #[test]
    fn posts_between_the_axles() {
        // the axles at y 10000 and 7500, the tyres 600 across: each post's middle from 7800 to 9700
        for (case, y, outcome, margin) in [
            ("to spare behind the front axle", 9000.0, Pass, 700.0),
            ("to spare before the rear axle", 8200.0, Pass, 400.0),
            ("clear by 1 mm", 9699.0, Tight, 1.0),
            ("exactly equal", 9700.0, Tight, 0.0),
            ("short by 1 mm", 9701.0, Fail, -1.0),
            ("exactly equal, behind", 7800.0, Tight, 0.0),
            ("short by 1 mm, behind", 7799.0, Fail, -1.0),
            ("behind the car", 5000.0, Fail, -2800.0),
        ] {
            let posts = format!(
                "posts: [Box(at: (3000, 8750), size: (300, 300)), Box(at: (7000, {y:?}), size: (300, 300))]"
            );
            let found = on(&posts, 0.0).check();
            found.says(case, RULE, &["vehicle", "ramp post 2"], outcome, margin);
            found.says(case, RULE, &["vehicle", "ramp post 1"], Pass, 950.0);
            let (a, b) = found.one(case, RULE, &["vehicle", "ramp post 2"]).witness.unwrap();
            assert!(((a - b).norm() - margin.abs()).abs() < 1e-9, "{case}: {a} {b}");
            // backed in, the rear axle is at y 12500: from 10300 to 12200
            let backed = on(&posts, 0.0).pose(5000.0, 10000.0, 180.0).check();
            let have = f64::min(y - 10000.0 - 300.0, 12500.0 - y - 300.0);
            backed.says(case, RULE, &["vehicle", "ramp post 2"], Fail, have);
            // on runways it is they that count
            let on_runways = on(&format!("{posts}, {}", runways(50.0)), 0.0).check();
            on_runways.silent(case, RULE, &["vehicle", "ramp post 2"]);
        }
    }

    #[test]
    fn middle_lines() {
        let line = |text: &str| {
            let found = on(text, 0.0).check();
            middle_line(&found.layout.bundle.bay.lifts[0])
        };
        let four = "posts: [Box(at: (3000, 7000), size: (300, 300)), Box(at: (6000, 7000), size: (300, 300)), Box(at: (3000, 11500), size: (300, 300)), Box(at: (6000, 11500), size: (300, 300))]";
        let l = line(four).unwrap();
        assert!((l.at.x - 4500.0).abs() < 1e-6 && l.dir.x.abs() < 1e-9, "{l:?}");
        assert_eq!(line("posts: [Box(at: (3000, 7000), size: (300, 300))]"), None);
    }

    #[test]
    fn heights_count_from_the_raised_plane() {
        // ceiling 4000, roof 1500, headroom 150
        let found = on(&runways(150.0), 2450.0).setup(BOARD).check();
        found.says("raised", Headroom, &["vehicle", "ceiling"], Fail, -100.0);
        let stand = found.layout.setups[0].stations[0].place.clone().unwrap();
        assert_eq!(stand.lower, 2750.0);
        Bench::new().setup(BOARD).check().idle("on the floor", RULE);
    }
}
