//! Notes on the sun and the lamps for the readiness list.

use std::sync::Arc;

use super::RuleId;
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::{Note, Ready, Sun};
use crate::checks::pairs::Cx;
use crate::layout::Layout;
use crate::layout::sun::{Shine, Sunlight};
use crate::model::{Item, ItemKind};
use crate::units::norm_deg;

/// Where the sun comes in at the job's time, and how much light the lamps listed give each face.
pub(super) fn notes(cx: &Cx, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let add = |items: Vec<Item>, outcome, line: Ready| Finding {
        items,
        note: Some(Note::Ready(Box::new(line))),
        ..Finding::new(RuleId::Readiness, outcome)
    };
    if let Some(light) = layout.sunlight() {
        let at: Arc<str> = layout.bundle.job.when.as_ref().map_or("".into(), |w| w.text.clone());
        let told = |sun: Sun| Ready::Sun { at: at.clone(), sun };
        match light {
            Err(missing) => {
                out.push(add(vec![words("sun")], Outcome::Confirm, told(Sun::Unknown(missing))));
            }
            Ok(light) if light.shines.is_empty() => {
                let (up, compass) = place_of(&light);
                let line = told(Sun::Nowhere(up, compass));
                out.push(add(vec![words("sun")], Outcome::NotApplicable, line));
            }
            Ok(light) => {
                for shine in &light.shines {
                    let opening = shine.opening.of.clone();
                    let line = told(through(layout, &light, shine));
                    out.push(add(vec![words("sun"), opening], Outcome::Confirm, line));
                }
            }
        }
    }
    for (s, setup) in layout.setups.iter().enumerate().filter(|(s, _)| !cx.is_idle(*s)) {
        for station in &setup.stations {
            let lamps = station.place.as_ref().ok().and_then(|stand| layout.lamp_light(stand));
            if let Some(lux) = lamps {
                let items = vec![words("light"), station.item().item()];
                out.push(Finding {
                    procedure: Some(setup.procedure),
                    setup: Some(s),
                    ..add(items, Outcome::Confirm, Ready::Lamps(station.name.clone(), lux))
                });
            }
        }
    }
}

fn words(word: &str) -> Item {
    Item::new(ItemKind::Words, word)
}

/// How high the sun stands, and where by the compass, degrees.
fn place_of(light: &Sunlight) -> (f64, f64) {
    (light.sun.elevation, norm_deg(light.sun.azimuth))
}

fn through(layout: &Layout, light: &Sunlight, shine: &Shine) -> Sun {
    let mut on: Vec<(Arc<str>, Arc<str>)> = Vec::new();
    for (setup, name) in &shine.on {
        let lit = (name.clone(), layout.setups[*setup].name.clone());
        if !on.contains(&lit) {
            on.push(lit);
        }
    }
    let (elevation, compass) = place_of(light);
    Sun::Through { elevation, compass, opening: shine.opening.of.clone(), on }
}

#[cfg(test)]
mod tests {
    use super::RuleId::Readiness;
    use crate::checks::Outcome::{Confirm, NotApplicable};
    use crate::checks::Verdict;
    use crate::checks::rules::workbench::{BOARD, Bench, noted};

    /// The bay's north side lies to the south by the compass: straight in is bearing 180. The door there is open.
    fn bay(when: &str) -> Bench {
        Bench::new()
            .bay(r#"place: (48.0, 11.0), bearing: 180, doorways: [(name: "gate", side: 2, from: 3000, width: 4000, height: 3500)]"#)
            .setup(BOARD)
            .job(&format!(r#"doors_open: ["gate"], when: {when:?}"#))
    }

    fn note(bench: Bench, items: &[&str], outcome: crate::checks::Outcome) -> String {
        let found = bench.check();
        let f = found.one("note", Readiness, items);
        assert_eq!(f.outcome, outcome);
        assert_eq!(found.judgement.verdict, Verdict::Fits, "a note never changes the verdict");
        noted(f)
    }

    #[test]
    fn sun_through_an_open_door() {
        // noon in winter: low in the south, straight in; 7000 from the door it reaches the board below 3500
        let winter = note(bay("2026-12-21 11:20 +00:00"), &["sun", "gate"], Confirm);
        assert!(winter.contains("18.") && winter.contains("on board (Board ahead)"), "{winter}");
        // noon in summer it is too high to reach so far in
        let summer = note(bay("2026-06-21 11:20 +00:00"), &["sun", "gate"], Confirm);
        assert!(summer.contains("on no target"), "{summer}");
        let night = note(bay("2026-12-21 23:20 +01:00"), &["sun"], NotApplicable);
        assert!(night.contains("below the horizon"), "{night}");
        let morning = note(bay("2026-06-21 04:30 +00:00"), &["sun"], NotApplicable);
        assert!(morning.contains("no open door"), "in the north-east, behind the bay: {morning}");
        let shut =
            Bench::new().setup(BOARD).bay("place: (48.0, 11.0)").job(r#"when: "2026-12-21 11:20 +00:00""#);
        assert!(note(shut, &["sun"], Confirm).contains("does not give its bearing"));
        Bench::new().setup(BOARD).check().silent("no date", Readiness, &["sun"]);
    }

    #[test]
    fn light_of_lamps_listed() {
        // 8000 cd, 2000 before the face and 1500 above its middle: on an upright face I sin / d², so 8000 * 0.8 / 6.25
        let lamp = Bench::new().setup(BOARD).fixture(
            "lamp",
            "Box(at: (5000, 11000), size: (200, 200))",
            "z: (2200, 2300), surface: [Light], overhead: true, candela: 8000",
        );
        assert!(note(lamp.clone(), &["light", "board"], Confirm).contains("1024 lx"));
        lamp.job(r#"cleared: ["lamp"]"#).check().silent("switched off", Readiness, &["light", "board"]);
    }
}
