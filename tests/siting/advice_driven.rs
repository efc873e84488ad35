//! Advice on jobs that are driven into: what is offered was judged with its way in, and following it gives that verdict. All
//! bays are invented.

use baywright::advice::{Standing, Tried, advise};
use baywright::checks::{Judgement, RuleId, check_driven};
use baywright::driving::drive_in;
use baywright::layout::Layout;
use baywright::model::Bundle;
use baywright::siting::{Progress, headings_of, openings};

use crate::bays::{ASKS_NOTHING, CAR, Dice, Parts};

fn judged(bundle: &Bundle) -> (Layout, Judgement) {
    let layout = Layout::new(bundle).unwrap();
    let driven = drive_in(&layout, &|| false);
    let judgement = check_driven(&layout, driven.as_ref());
    (layout, judgement)
}

/// A bay with its doorway at random in the front, two cabinets, and a car that may stand too near to something.
fn random(seed: u64) -> Parts {
    let mut dice = Dice::new(seed);
    let (w, l) = (dice.mm(4500.0, 7000.0), dice.mm(8000.0, 11_000.0));
    let width = dice.mm(2300.0, 3200.0);
    let from = dice.mm(100.0, w - width - 100.0);
    let mut things = String::new();
    for n in 0..2 {
        let (x, y) = (if dice.below(2) == 0 { 300.0 } else { w - 300.0 }, dice.mm(1500.0, l - 500.0));
        things += &format!(
            "(name: \"c{n}\", shape: Box(at: ({x}, {y}), size: (600, {})), z: (0, 1800), movable: {}), ",
            dice.mm(300.0, 900.0),
            dice.below(2) == 0
        );
    }
    let bay = format!(
        "(name: \"B\", floor: [(0, 0), ({w}, 0), ({w}, {l}), (0, {l})], ceiling: 4000, fixtures: [{things}],
          doorways: [(name: \"door\", side: 0, from: {from}, width: {width}, height: 3000)])"
    );
    let mut parts = Parts::alone(&bay, 600.0);
    parts.vehicle = CAR.replacen("width: 1800", "turning_circle: 10000, width: 1800", 1);
    parts.procedures.push(ASKS_NOTHING.into());
    let (x, y) = (dice.mm(1000.0, w - 1000.0), dice.mm(5000.0, l - 900.0));
    parts.job = format!(
        "pose: At(x: {x}, y: {y}, heading: 0), drive_in: true, straight_run: 300, rules: (walk_around: 600)"
    );
    parts
}

/// Follows one offer, the way in with it.
fn holds(seed: u64, bundle: &Bundle, before: &Judgement, tried: &Tried) -> Judgement {
    let after = tried.edits.iter().fold(bundle.clone(), |b, edit| edit.apply(&b).unwrap());
    let (_, after) = judged(&after);
    assert_eq!(after.verdict, tried.then.verdict, "seed {seed}: {tried:?}");
    assert!(Standing::of(&after).betters(&Standing::of(before)), "seed {seed}: {tried:?}");
    after
}

#[test]
fn what_is_offered_was_driven_into() {
    let (mut whole, mut own, mut opened) = (0, 0, 0);
    for seed in 0..60 {
        let bundle = random(seed).bundle();
        let (layout, judgement) = judged(&bundle);
        let at = headings_of(layout.stance.heading);
        let open = openings(&bundle, &at, &mut [].into_iter(), &Progress::new()).unwrap();
        let advice = advise(&layout, &judgement, Some(&open), &|| false).unwrap();
        let way = |j: &Judgement| j.findings.iter().find(|f| f.rule == RuleId::DriveIn).map(|f| f.outcome);
        if let Some(tried) = &advice.whole {
            let after = holds(seed, &bundle, &judgement, tried);
            opened += u32::from(way(&after) != way(&judgement));
            whole += 1;
        }
        for offer in advice.own.iter().flatten().filter(|o| o.offered) {
            holds(seed, &bundle, &judgement, &offer.tried);
            own += 1;
        }
    }
    println!(
        "{whole} moves of the whole job, {own} of single findings; {opened} change what is said of the way"
    );
    assert!(whole > 15 && own > 5 && opened > 2, "{whole} {own} {opened}");
}
