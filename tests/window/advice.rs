//! Advice in the window: followed by pressing the button, never shown while the vehicle is held, and for a job without a pose
//! about the place the command line judges too.

use std::path::PathBuf;

use baywright::advice::Tried;
use baywright::app::Window;
use baywright::checks::{Verdict, check};
use baywright::layout::Layout;
use baywright::siting::{Progress, judged_pose};
use egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

use super::{Shop, drag, on_screen, pose, press, settle, type_into, undo, window};

/// Presses the button of the step the header offers; what was offered and how the job stood before.
fn follow(harness: &mut Harness<Window>) -> Option<(Tried, Verdict, Option<f64>)> {
    let tried = harness.state().advice()?.whole.clone()?;
    let (verdict, margin) = (harness.state().judgement().verdict, harness.state().judgement().margin);
    press(harness, &label(&tried));
    Some((tried, verdict, margin))
}

fn label(tried: &Tried) -> String {
    use baywright::edit::Edit;
    let mut words: Vec<&str> = tried
        .edits
        .iter()
        .map(|edit| match edit {
            Edit::Clear { .. } => "clear it",
            Edit::Door { .. } => "open it",
            Edit::ChooseBay { .. } => "use that bay",
            _ if tried.turns() => "turn it round and place it there",
            _ => "place it there",
        })
        .collect();
    words.dedup();
    words.join(" and ")
}

/// Whether the job came out as it was told, and no worse.
fn came_out(harness: &Harness<Window>, (tried, verdict, margin): &(Tried, Verdict, Option<f64>)) {
    let judgement = harness.state().judgement();
    assert_eq!(judgement.verdict, tried.then.verdict, "{tried:?}");
    let mm = |m: Option<f64>| m.unwrap_or(f64::INFINITY);
    assert!((mm(judgement.margin) - mm(tried.then.margin)).abs() < 1.0, "{:?} {tried:?}", judgement.margin);
    if judgement.verdict == *verdict {
        assert!(mm(judgement.margin) >= mm(*margin) - 1e-3, "{margin:?} -> {:?}", judgement.margin);
    }
}

/// Places all over the bay, at most of which something is too near.
#[test]
fn the_header_s_step_is_followed_by_its_button() {
    let shop = Shop::new();
    let mut harness = shop.open();
    type_into(&mut harness, "lamp height", "700", Key::Enter);
    let mut steps = 0;
    for (x, y) in
        [("3000", "8600"), ("1200.5", "8000"), ("4321", "9100.25"), ("5200", "2000"), ("2900", "400")]
    {
        type_into(&mut harness, "to the right", x, Key::Enter);
        type_into(&mut harness, "into the bay", y, Key::Enter);
        if let Some(followed) = follow(&mut harness) {
            came_out(&harness, &followed);
            steps += 1;
            let tried = &followed.0;
            for (from, to) in [(tried.from.x, tried.to.x), (tried.from.y, tried.to.y)] {
                assert!(from == to || to % 5.0 == 0.0, "places are whole 5 mm: {tried:?}");
            }
        }
    }
    assert!(steps >= 4, "only {steps} steps were offered");
}

/// The demonstration's jobs, opened and followed.
#[test]
fn the_demonstration_s_advice_is_followed() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("demo/jobs");
    let mut steps = 0;
    for job in [
        "fennel-van-radar",
        "hatchback-short-lane",
        "estate-lift-posts",
        "pickup-trolley",
        "hatchback-door-open",
        "city-car-starter-set",
    ] {
        let opened = Window::new(&folder.join(format!("{job}.ron")), None).unwrap();
        let mut harness = window(opened, 1400.0, 900.0);
        for _ in 0..4 {
            let Some(followed) = follow(&mut harness) else { break };
            came_out(&harness, &followed);
            steps += 1;
        }
    }
    assert!(steps >= 5, "only {steps} steps were offered");
}

#[test]
fn a_vehicle_that_is_held_has_no_advice() {
    let shop = Shop::new();
    let mut harness = shop.open();
    type_into(&mut harness, "lamp height", "700", Key::Enter);
    type_into(&mut harness, "into the bay", "8600", Key::Enter);
    assert!(harness.state().advice().is_some_and(|a| a.whole.is_some()));
    harness.get_by_label("place it there");
    let (from, to) = (on_screen(&harness, 3000.0, 7400.0), on_screen(&harness, 3000.0, 7600.0));
    drag(&mut harness, from, to);
    assert!(harness.state().judgement().margin.unwrap() < -200.0, "{:?}", harness.state().judgement().margin);
    assert!(harness.state().advice().is_none(), "advice on where it stood before");
    assert!(harness.query_by_label("place it there").is_none());
    harness.drop_at(to);
    settle(&mut harness);
    let followed = follow(&mut harness).unwrap();
    came_out(&harness, &followed);
    undo(&mut harness);
}

/// Both ends of a card: the move that cures it is offered, and the one that spoils something else is told as that.
#[test]
fn a_card_s_move_that_spoils_something_says_so() {
    let shop = Shop::new();
    // 4500 + 2000 + 450 + 100 + 600 = 7650 are asked for
    shop.change("bays/bay.ron", "(6000, 12000), (0, 12000)", "(6000, 7300), (0, 7300)");
    shop.change("bays/bay.ron", "(5500, 11000)", "(5500, 500)");
    shop.change("job.ron", "y: 8000", "y: 4000");
    let mut harness = shop.open();
    type_into(&mut harness, "lamp height", "700", Key::Enter);
    // the nose at 4900, the board's stand to 7350: 50 through the end wall; the tail at 400: 200 too near to the gate
    harness.get_by_label("Does not fit: 200 mm short");
    harness.get_by_label_contains("cures this, but then plate stands 250 mm into the end wall");
    let followed = follow(&mut harness).unwrap();
    came_out(&harness, &followed);
}

#[test]
fn a_job_without_a_pose_is_judged_where_the_command_line_judges_it() {
    for (bay, fits) in [("(0, 12000)", true), ("(0, 7300)", false)] {
        let shop = Shop::new();
        shop.change("job.ron", "At(x: 3000, y: 8000, heading: 0)", "Anywhere");
        shop.change("job.ron", "procedures:", r#"measured: {"lamp height": 700}, procedures:"#);
        if !fits {
            shop.change("bays/bay.ron", "(6000, 12000), (0, 12000)", &format!("(6000, 7300), {bay}"));
            shop.change("bays/bay.ron", "(5500, 11000)", "(5500, 500)");
        }
        let mut harness = shop.open();
        settle(&mut harness);
        let bundle = harness.state().document().bundle().clone();
        let (place, there) = judged_pose(&bundle, &Progress::new()).unwrap();
        assert_eq!(there, fits);
        let judged = check(&Layout::new(&bundle).unwrap().at(place.unwrap().stance));
        let shown = harness.state().judgement();
        assert_eq!(shown.margin, judged.margin);
        assert_eq!(shown.verdict, if fits { judged.verdict } else { Verdict::DoesNotFit });
        assert!(pose(&harness).0.is_nan(), "the job still has no pose");
    }
}
