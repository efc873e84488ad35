//! Advice followed: every move that is offered makes the job better, by the figure that was told. Random bays, and bays worked
//! by hand in which the move straight away from what is too near makes something else worse.

use std::fs;

use baywright::advice::{Advice, Standing, Tried, advise};
use baywright::checks::{Judgement, Outcome, RuleId, Verdict, check};
use baywright::layout::Layout;
use baywright::model::Bundle;
use baywright::report::{Say, advice as words};
use baywright::siting::{Progress, headings_of, openings};
use serde_json::Value;

use crate::bays::{ASKS_NOTHING, Dice, Parts};
use crate::program::answer;
use crate::rough;

/// The job judged, with what helps.
fn advised(bundle: &Bundle) -> (Layout, Judgement, Advice) {
    let layout = Layout::new(bundle).unwrap();
    let judgement = check(&layout);
    let open =
        openings(bundle, &headings_of(layout.stance.heading), &mut [].into_iter(), &Progress::new()).unwrap();
    let advice = advise(&layout, &judgement, Some(&open), &|| false).unwrap();
    (layout, judgement, advice)
}

/// The job after a move, judged anew from its files' contents.
fn followed(bundle: &Bundle, tried: &Tried) -> Judgement {
    let after = tried.edits.iter().fold(bundle.clone(), |b, edit| edit.apply(&b).unwrap());
    check(&Layout::new(&after).unwrap())
}

/// The verdict's place from worst to best, as this test counts it.
fn rank(verdict: Verdict) -> i32 {
    [Verdict::DoesNotFit, Verdict::NotKnown, Verdict::FitsIf, Verdict::Fits]
        .iter()
        .position(|v| *v == verdict)
        .unwrap() as i32
}

/// Follows one offer: it must come out as told, and not worse than before in verdict or least margin.
fn holds(seed: &str, before: &Judgement, after: &Judgement, tried: &Tried, layout: &Layout) {
    let text = words::offer(tried, layout, Say::PLAIN);
    let context = format!(
        "{seed}: {text}\n{:?} -> {:?}",
        (before.verdict, before.margin),
        (after.verdict, after.margin)
    );
    assert_eq!(after.verdict, tried.then.verdict, "{context}");
    let (now, then) = (before.margin.unwrap_or(f64::INFINITY), after.margin.unwrap_or(f64::INFINITY));
    let told = tried.then.margin.unwrap_or(f64::INFINITY);
    assert!(told == then || (told - then).abs() < 1.0, "{context}");
    let better = rank(after.verdict) - rank(before.verdict);
    assert!(better >= 0, "{context}");
    let count = |j: &Judgement| {
        j.findings.iter().filter(|f| matches!(f.outcome, Outcome::Fail | Outcome::Movable)).count()
    };
    if better == 0 {
        assert!(then >= now - 1e-3, "{context}");
        assert!(then > now + 0.5 || count(after) < count(before), "{context}");
    }
    // the figure in the words is the one found, never rounded in the job's favour
    let figure = match after.verdict {
        Verdict::Fits => format!("{:.0} mm to spare", (then + 1e-6).floor()),
        Verdict::DoesNotFit if then < 0.0 => format!("{:.0} mm short ", (-then - 1e-6).ceil()),
        _ => return,
    };
    assert!(text.replace('\u{a0}', "").contains(&figure), "{figure:?} in {context}");
}

#[derive(Default)]
struct Tally {
    jobs: usize,
    whole: usize,
    own: usize,
    spoils: usize,
}

fn random(seed: u64) -> Parts {
    let mut dice = Dice::new(seed);
    let (mut parts, _, (w, l)) = rough::bay(&mut dice);
    let heading = if dice.below(2) == 0 { 0.0 } else { 180.0 };
    let (x, y) = (dice.of(0.2 * w, 0.8 * w), dice.of(0.2 * l, 0.8 * l));
    parts.bay = parts.bay.replacen("floor:", "ceiling: 4000, floor:", 1);
    parts.job =
        parts.job.replacen("pose: Anywhere", &format!("pose: At(x: {x}, y: {y}, heading: {heading})"), 1);
    parts
}

#[test]
fn every_offer_followed_is_better_by_what_it_said() {
    let mut tally = Tally::default();
    for seed in 1000..1150 {
        let bundle = random(seed).bundle();
        let (layout, judgement, advice) = advised(&bundle);
        tally.jobs += usize::from(judgement.verdict == Verdict::DoesNotFit);
        if let Some(tried) = &advice.whole {
            tally.whole += 1;
            holds(&format!("seed {seed}"), &judgement, &followed(&bundle, tried), tried, &layout);
        }
        for (at, finding) in judgement.findings.iter().enumerate() {
            let Some(own) = advice.of(at) else { continue };
            let after = followed(&bundle, &own.tried);
            let cured = |f: &&baywright::checks::Finding| {
                f.rule == finding.rule && f.setup == finding.setup && f.items == finding.items
            };
            let there = after.findings.iter().find(cured);
            assert!(
                there.is_none_or(|f| !matches!(f.outcome, Outcome::Fail | Outcome::Movable)),
                "seed {seed}: {:?} is not cured",
                finding.items
            );
            if own.offered {
                tally.own += 1;
                holds(&format!("seed {seed}, own move"), &judgement, &after, &own.tried, &layout);
            } else {
                assert!(!Standing::of(&after).betters(&Standing::of(&judgement)), "seed {seed}");
            }
            if let Some(spoilt) = &own.spoils {
                tally.spoils += 1;
                assert!(after.findings.contains(spoilt), "seed {seed}: {spoilt:?}");
            } else {
                assert!(own.offered, "seed {seed}: neither offered nor told why not");
            }
        }
    }
    assert!(
        tally.jobs > 60 && tally.whole > 50 && tally.own > 40 && tally.spoils > 20,
        "{:?}",
        (tally.jobs, tally.whole, tally.own, tally.spoils)
    );
}

/// The least bad place of a bay in which nothing fits: no move from there is offered, unless it helps.
#[test]
fn from_the_least_bad_place_nothing_worse_is_offered() {
    let (mut nowhere, mut offered) = (0, 0);
    for seed in 2000..2360 {
        let parts = random(seed);
        let open = openings(&parts.bundle(), &[0.0, 180.0], &mut [].into_iter(), &Progress::new()).unwrap();
        let Some(least) = open.places.iter().max_by(|a, b| a.slack.total_cmp(&b.slack)) else { continue };
        if least.slack >= 0.0 {
            continue;
        }
        nowhere += 1;
        let s = least.stance;
        let mut parts = parts;
        let at = parts.job.find("rules").unwrap();
        parts.job = format!("pose: At(x: {}, y: {}, heading: {}), {}", s.x, s.y, s.heading, &parts.job[at..]);
        let bundle = parts.bundle();
        let (layout, judgement, advice) = advised(&bundle);
        for tried in
            advice.whole.iter().chain(advice.own.iter().flatten().filter(|o| o.offered).map(|o| &o.tried))
        {
            offered += 1;
            holds(&format!("seed {seed}"), &judgement, &followed(&bundle, tried), tried, &layout);
        }
    }
    assert!(nowhere > 20, "only {nowhere} bays fit nowhere");
    println!("{nowhere} bays fit nowhere, {offered} moves offered there");
}

/// A bay 4600 long for a car of 4000 with 600 all round: 600 are lacking. At y 2900 the nose is 4600 - 2900 - 800 = 900 from the
/// end wall and the tail 2900 - 3200 = -300 beyond the entrance: 900 short. The move into the bay by 900 leaves the nose with 0:
/// 600 short, and the middle with 300 at each end is best: 300 short.
#[test]
fn the_best_compromise_with_its_figure() {
    let bay = r#"(name: "Short", ceiling: 4000, floor: [(0, 0), (6000, 0), (6000, 4600), (0, 4600)],
        walls: [(side: 0, name: "entrance"), (side: 2, name: "end wall")])"#;
    let mut parts = Parts::alone(bay, 600.0);
    parts.job = "pose: At(x: 3000, y: 2900, heading: 0), rules: (walk_around: 600)".into();
    let (layout, judgement, advice) = advised(&parts.bundle());
    assert_eq!(judgement.margin, Some(-900.0));
    let tried = advice.whole.as_ref().unwrap();
    assert_eq!((tried.to.y, tried.then.margin), (3500.0, Some(-300.0)));
    let text = words::offer(tried, &layout, Say::PLAIN);
    assert!(text.contains("900 mm short now, 300 mm short there"), "{text}");
    // its own move cures the finding and spoils the other end, which is told
    let at = judgement.binding.unwrap();
    let text = words::of(at, &judgement, Some(&advice), &layout, Say::PLAIN).unwrap();
    assert_eq!(
        text,
        "Move the vehicle 900 mm into the bay: 900 mm short now, 600 mm short there; then the vehicle is 600 mm too close to the end wall"
    );
    // from the best compromise nothing is offered: 300 to either side makes 600 of it at the other end
    parts.job = "pose: At(x: 3000, y: 3500, heading: 0), rules: (walk_around: 600)".into();
    let (layout, judgement, advice) = advised(&parts.bundle());
    assert_eq!((judgement.margin, &advice.whole), (Some(-300.0), &None));
    let text = words::whole(&judgement, &advice, &layout, Say::PLAIN).unwrap();
    assert!(
        text.starts_with("Moving the vehicle 300 mm ")
            && text.contains(" cures this, but then the vehicle is 600 mm too close to the "),
        "{text}"
    );
}

/// A thing that can be moved stands in the only place: clearing it and going there is one step, judged as a whole.
#[test]
fn the_best_single_change_where_nothing_fits() {
    // 4000 + 600 + 600 = 5200 of 5400 long: y from 3800 to 4000; the cart takes 1000 of the 6000 wide in the middle of it
    let bay = r#"(name: "Full", ceiling: 4000, floor: [(0, 0), (6000, 0), (6000, 5400), (0, 5400)],
        fixtures: [(name: "cart", shape: Box(at: (3000, 2700), size: (1000, 1000)), z: (0, 1000), movable: true),
                   (name: "rack", shape: Box(at: (200, 2700), size: (400, 5000)), z: (0, 2000))])"#;
    let mut parts = Parts { procedures: vec![ASKS_NOTHING.into()], ..Parts::alone(bay, 600.0) };
    parts.job = "pose: At(x: 3000, y: 3000, heading: 0), rules: (walk_around: 600)".into();
    let bundle = parts.bundle();
    let (layout, judgement, advice) = advised(&bundle);
    assert_eq!(judgement.verdict, Verdict::DoesNotFit);
    let tried = advice.whole.as_ref().unwrap();
    holds("cart", &judgement, &followed(&bundle, tried), tried, &layout);
    assert_eq!((tried.then.verdict, tried.edits.len()), (Verdict::FitsIf, 2), "{tried:?}");
    let text = words::offer(tried, &layout, Say::PLAIN);
    assert!(text.starts_with("Move cart out of the way, then move the vehicle "), "{text}");
}

/// Places are proposed in whole 5 mm, and what that costs is told.
#[test]
fn proposed_places_are_whole_figures() {
    let bay = r#"(name: "Odd", ceiling: 4000, floor: [(0, 0), (6003, 0), (6003, 9001), (0, 9001)])"#;
    let mut parts = Parts { procedures: vec![ASKS_NOTHING.into()], ..Parts::alone(bay, 600.0) };
    parts.job = "pose: At(x: 1111.3, y: 3333.7, heading: 0), rules: (walk_around: 600)".into();
    let (layout, judgement, advice) = advised(&parts.bundle());
    assert_eq!(judgement.verdict, Verdict::DoesNotFit);
    let tried = advice.whole.as_ref().unwrap();
    // the middle is 3001.5: 5 mm whole it is 3000, 1.5 nearer to one wall; 3001.5 - 900 - 600 = 1501.5 to spare
    assert_eq!((tried.to.x, tried.to.y % 5.0), (3000.0, 0.0));
    assert!((tried.given_up - 1.5).abs() < 1e-6 && tried.then.margin == Some(1500.0), "{tried:?}");
    let text = words::offer(tried, &layout, Say::PLAIN);
    assert!(text.contains("1\u{a0}500 mm to spare there (2 mm of it given up"), "{text}");
}

/// What a person accepted is not made worse: it would still be called accepted.
#[test]
fn an_accepted_finding_is_not_made_worse() {
    for seed in 3000..3060 {
        let mut parts = random(seed);
        let bundle = parts.bundle();
        let (_, judgement, _) = advised(&bundle);
        let plan =
            |f: &&baywright::checks::Finding| f.outcome == Outcome::Fail && f.rule == RuleId::VehicleClear;
        let Some(finding) = judgement.findings.iter().find(plan) else { continue };
        let still = finding.items[1].clone();
        parts.job += &format!(
            ", accepted: [(rule: \"vehicle-clear\", items: [\"vehicle\", \"{still}\"], reason: \"known\")]"
        );
        let bundle = parts.bundle();
        let (_, before, advice) = advised(&bundle);
        let margin = |j: &Judgement| {
            let accepted = j.findings.iter().filter(|f| f.outcome == Outcome::Accepted);
            accepted.filter_map(|f| f.margin).min_by(f64::total_cmp).unwrap_or(f64::INFINITY)
        };
        let offers = advice.own.iter().flatten().filter(|o| o.offered).map(|o| &o.tried);
        for tried in advice.whole.iter().chain(offers) {
            let after = followed(&bundle, tried);
            assert!(margin(&after) >= margin(&before) - 1e-3, "seed {seed}: {still}");
        }
    }
}

/// The same from the command line: the page and the JSON of random jobs, followed by writing the job anew.
#[test]
fn the_command_line_gives_the_same_advice() {
    let folder = tempfile::tempdir().unwrap();
    let (mut offered, mut own) = (0, 0);
    for seed in 4000..4030 {
        let parts = random(seed);
        write(folder.path(), &parts);
        let (before, _) = answer(folder.path(), &["check", "job.ron", "--json"]);
        let bundle = parts.bundle();
        let (_, _, advice) = advised(&bundle);
        let told = &before["advice"];
        match &advice.whole {
            Some(tried) => assert!(
                (told["pose"]["x_mm"].as_f64().unwrap() - tried.to.x).abs() < 1e-5
                    && told["verdict"] == tried.then.verdict.word(),
                "seed {seed}: {told}"
            ),
            None => assert!(told.is_null(), "seed {seed}: {told}"),
        }
        let findings = before["findings"].as_array().unwrap();
        let moves = findings.iter().map(|f| &f["move"]).filter(|m| m["offered"] == true).take(2);
        for step in moves.chain([told]).filter(|m| !m.is_null()) {
            let mut moved = parts.clone();
            let rules = moved.job.find("rules").unwrap();
            let pose = &step["pose"];
            moved.job = format!(
                "pose: At(x: {}, y: {}, heading: {}), cleared: {}, doors_open: {}, {}",
                pose["x_mm"],
                pose["y_mm"],
                pose["heading_deg"],
                step["clear"],
                step["open"],
                &moved.job[rules..]
            );
            write(folder.path(), &moved);
            let (after, _) = answer(folder.path(), &["check", "job.ron", "--json"]);
            assert_eq!(after["verdict"], step["verdict"], "seed {seed}: {step}");
            let mm = |v: &Value| v["margin_mm"].as_f64().unwrap_or(f64::INFINITY);
            assert!(mm(&after) == mm(step) || (mm(&after) - mm(step)).abs() < 1.0, "seed {seed}: {step}");
            let order = ["does-not-fit", "not-known", "fits-if", "fits"];
            let rank = |v: &Value| order.iter().position(|o| v["verdict"] == *o);
            assert!(rank(&after) > rank(&before) || mm(&after) >= mm(&before) - 1e-3, "seed {seed}: {step}");
            offered += 1;
        }
        own += findings.iter().filter(|f| f["move"]["offered"] == false).count();
    }
    assert!(offered > 20 && own > 5, "{offered} offers, {own} moves that spoil something");
}

fn write(folder: &std::path::Path, parts: &Parts) {
    for (name, text) in [("bay.ron", &parts.bay), ("car.ron", &parts.vehicle), ("shop.ron", &parts.equipment)]
    {
        fs::write(folder.join(name), text).unwrap();
    }
    let mut files = String::new();
    for (i, procedure) in parts.procedures.iter().enumerate() {
        fs::write(folder.join(format!("p{i}.ron")), procedure).unwrap();
        files += &format!("(file: \"p{i}.ron\"), ");
    }
    let job = format!(
        "(name: \"test\", bay: \"bay.ron\", vehicle: \"car.ron\", equipment: \"shop.ron\", procedures: [{files}], {})",
        parts.job
    );
    fs::write(folder.join("job.ron"), job).unwrap();
}
