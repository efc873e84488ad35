//! The vehicle passes the doorway it comes in by.

use super::{Page, Policy, Rule, RuleId, Wording};
use crate::checks::figures::Figures;
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::Note;
use crate::checks::pairs::Cx;
use crate::checks::wording::two;
use crate::layout::Layout;
use crate::model::{Item, ItemKind};
use crate::phrases::{Say, phrases, say};

phrases! { in "doorway";
    SHORT = "{over} short";
    TOO_HIGH = "the {vehicle} is {short} too high for {the door}";
    TOO_WIDE = "the {vehicle} is {short} too wide for {the door}";
    PASSES = "the {vehicle} passes {the door} with {left} to spare";
}

pub(super) const RULE: Rule = Rule {
    id: RuleId::Doorway,
    page: Page {
        title: "The way in",
        checks: "The vehicle, over its mirrors and at its height, passes the doorway it comes in by.",
        matters: "A bay that fits once the vehicle is inside is no use to a van that does not pass the door.",
        measured: "The doorway's width less the width over the mirrors, and its height less the vehicle's; the smaller of the two is told. Straight in; the path is not judged here.",
        remedy: "Bring the vehicle in by another doorway, or book another bay.",
        source: "Geometry; nothing to spare is asked.",
    },
    policy: Policy::PLAIN,
    wording: Wording { past: SHORT, ..Wording::titled(title) },
    phrases: PHRASES,
    about: &[&[ItemKind::Vehicle], &[ItemKind::Doorway]],
    run,
    pairs: None,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let bundle = &cx.layout.bundle;
    let doorways = &bundle.bay.doorways;
    let door = match &bundle.job.enter_by {
        Some(name) => doorways.iter().find(|d| d.name == *name),
        None => doorways.first(),
    };
    let Some(door) = door else {
        out.push(Finding {
            items: vec![cx.vehicle.clone()],
            note: Some(Note::NoDoorway),
            ..Finding::new(RuleId::Doorway, Outcome::NotApplicable)
        });
        return;
    };
    let vehicle = &*bundle.vehicle;
    let over_mirrors = vehicle.mirrors.map_or(vehicle.width, |m| m.width.max(vehicle.width));
    let across = door.width - over_mirrors;
    let up = door.height - vehicle.height;
    let mut finding = cx.measured(RuleId::Doorway, across.min(up), 0.0);
    finding.items = vec![cx.vehicle.clone(), Item::new(ItemKind::Doorway, door.name.text.clone())];
    finding.note = Some(if up < across { Note::InHeight } else { Note::InWidth });
    out.push(finding);
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let (vehicle, door) = two(finding, say);
    let figures = Figures::of(finding, say.show);
    let phrase = match finding.margin {
        Some(m) if m < 0.0 && finding.note == Some(Note::InHeight) => TOO_HIGH,
        Some(m) if m < 0.0 => TOO_WIDE,
        _ => PASSES,
    };
    say!(say, phrase, vehicle, door, short = figures.short(), left = figures.left())
}

#[cfg(test)]
mod tests {
    use super::Note;
    use super::RuleId::Doorway as RULE;
    use crate::checks::Outcome::{Fail, NotApplicable, Pass, Tight};
    use crate::checks::rules::workbench::Bench;

    const MIRRORS: &str = "mirrors: (width: 2200, behind_front_axle: 500, depth: 200, z: (900, 1100))";

    fn door(width: f64, height: f64) -> Bench {
        Bench::new().bay(&format!(
            r#"doorways: [(name: "front door", side: 0, from: 1000, width: {width:?}, height: {height:?}),
                          (name: "back door", side: 2, from: 1000, width: 2000, height: 2000)]"#
        ))
    }

    #[test]
    fn over_the_mirrors_and_at_the_roof() {
        let pair = ["vehicle", "front door"];
        for (case, (width, height), outcome, margin) in [
            ("to spare", (2215.0, 1515.0), Pass, 15.0),
            ("width, clear by 1 mm", (2201.0, 3000.0), Tight, 1.0),
            ("width, exactly equal", (2200.0, 3000.0), Tight, 0.0),
            ("width, short by 1 mm", (2199.0, 3000.0), Fail, -1.0),
            ("height, clear by 1 mm", (3000.0, 1501.0), Tight, 1.0),
            ("height, exactly equal", (3000.0, 1500.0), Tight, 0.0),
            ("height, short by 1 mm", (3000.0, 1499.0), Fail, -1.0),
            ("the smaller of the two", (2100.0, 1300.0), Fail, -200.0),
        ] {
            door(width, height).vehicle(MIRRORS).check().says(case, RULE, &pair, outcome, margin);
        }
        let words = door(2100.0, 1300.0).vehicle(MIRRORS).check();
        assert_eq!(words.one("which", RULE, &pair).note, Some(Note::InHeight));
        // without mirrors the body's 1800 count
        door(1800.0, 3000.0).check().says("no mirrors given", RULE, &pair, Tight, 0.0);
    }

    #[test]
    fn the_doorway_it_comes_in_by() {
        let other = door(1000.0, 1000.0).job(r#"enter_by: "back door""#).check();
        other.says("named by the job", RULE, &["vehicle", "back door"], Pass, 200.0);
        other.silent("not the first then", RULE, &["vehicle", "front door"]);
        let none = Bench::new().check();
        assert_eq!(none.one("no doorways", RULE, &["vehicle"]).outcome, NotApplicable);
    }
}
