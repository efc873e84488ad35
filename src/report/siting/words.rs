//! What siting found, in sentences.

use crate::checks::{Outcome, Verdict};
use crate::layout::Stance;
use crate::report::Show;
use crate::report::words::headline as said;
use crate::siting::{Best, HeadingFound, Shortfall, Siting, Swing, Tried};
use crate::units::{Round, format_fixed, format_spare, norm_deg};

/// Where the vehicle stands, or by how much nothing fits: one sentence.
pub fn headline(found: &Siting, show: Show) -> String {
    let name = &found.layout.bundle.bay.name;
    if let Some(best) = &found.best {
        let (place, swing) = (best.place, best.swing);
        let slack = if place.slack >= 1.0 {
            format!("slack {} in any direction", show.down(place.slack_down()))
        } else {
            "no slack: it touches".into()
        };
        let fails = best.also.iter().filter(|f| f.outcome == Outcome::Fail).count();
        let unknown: Vec<_> = best.also.iter().filter(|f| f.outcome == Outcome::Unknown).collect();
        let rest = best.also.len() - fails - if fails == 0 { unknown.len() } else { 0 };
        let and = match rest {
            0 => String::new(),
            n => format!("; {} to see to there", count(n, "more thing", "more things")),
        };
        // what the search does not look at may still fail, or not be known, where it found room
        let verdict = found.judgement.as_ref().map(|j| (j.verdict, j));
        let (fits, but) = match verdict {
            Some((Verdict::FitsIf, j)) => (format!("{}:", said(j, show)), String::new()),
            Some((Verdict::NotKnown, j)) => (format!("{}; there is room", said(j, show)), String::new()),
            Some((Verdict::DoesNotFit, _)) => (
                "There is room".into(),
                format!(", but {} there", count(fails, "thing fails", "things fail")),
            ),
            _ => ("Fits".into(), String::new()),
        };
        return format!(
            "{fits} with {}, {slack}, heading may be off by {} degrees{but}{and}",
            self::place(&place.stance, show),
            format_fixed(swing.left.min(swing.right), 1, Round::Down)
        );
    }
    if found.poses.len() > 1 && found.unserved.is_empty() {
        return format!(
            "Nothing in {name} serves everything at once; {} to stand serve everything one after the other",
            count(found.poses.len(), "place", "places")
        );
    }
    match found.shortfall.as_ref().map(|s| shortfall(s, show)) {
        Some(short) => format!("Nothing fits: {short}"),
        None => "Nothing fits: no heading was tried".into(),
    }
}

/// Where the floor is best, and how much is left there. `within`: of the places where everything else fits.
pub fn floor((stance, margin): &(Stance, f64), within: bool, show: Show) -> String {
    let spare = format_spare(*margin, show == Show::FeetInches);
    let among = if within { "Of these places" } else { "As far as the floor goes" };
    if *margin < 0.0 {
        return format!("{among} none is level enough: the best is {spare} past its limit");
    }
    format!("{among} the floor is best with {}: within its limit by {spare}", self::place(stance, show))
}

/// "300 mm short along", "100 mm short across (to the right)", or that growing helps neither way.
pub fn shortfall(short: &Shortfall, show: Show) -> String {
    let along = short.along.map(|mm| format!("{} short along the vehicle", show.up(mm)));
    let across = short.across.map(|mm| {
        let side = short.across_side.map_or(String::new(), |s| format!(" (growing to its {s})"));
        format!("{} short across{side}", show.up(mm))
    });
    let both: Vec<String> = [along, across].into_iter().flatten().collect();
    let held = if short.binding.is_empty() {
        String::new()
    } else {
        format!("; it binds between {}", short.binding.join(", "))
    };
    match both.is_empty() {
        true => format!("no growth in one direction alone would be enough{held}"),
        false => format!("{}{held}", both.join(", or ")),
    }
}

/// "the front axle's middle 2750 mm from the left edge line, 4120 mm into the bay, nose in".
pub fn place(stance: &Stance, show: Show) -> String {
    format!(
        "the front axle's middle {} from the left edge line, {} into the bay, {}",
        show.one(stance.x),
        show.one(stance.y),
        turn(stance.heading)
    )
}

/// The best place in whole figures, with the slack it has.
pub fn proposed(best: &Best, show: Show) -> String {
    let slack = show.down(best.proposed.slack_down());
    format!("{}, slack {slack}", place(&best.proposed.stance, show))
}

/// "nose in", "backed in", or the heading in degrees.
pub fn turn(heading: f64) -> String {
    match norm_deg(heading) {
        0.0 => "nose in".into(),
        180.0 => "backed in".into(),
        h => format!("heading {h:.2} degrees"),
    }
}

/// A change with what comes of it.
pub fn change(tried: &Tried, show: Show) -> String {
    match tried.place {
        Some(place) => format!(
            "{}: fits, {}, slack {}",
            tried.words,
            turn(place.stance.heading),
            show.down(place.slack_down())
        ),
        None => format!("{}: does not help by itself", tried.words),
    }
}

/// What one heading gives.
pub fn heading(found: &HeadingFound, show: Show) -> String {
    let turn = turn(found.heading);
    match (&found.best, &found.miss) {
        (Some(best), _) => {
            let area = found.allowed.area / 1e6;
            format!(
                "{turn}: room to stand of {area:.3} m², best {} / {}, slack {}",
                show.one(best.stance.x),
                show.one(best.stance.y),
                show.down(best.slack_down())
            )
        }
        (None, Some((miss, binding))) => {
            format!(
                "{turn}: nowhere; nearest miss {} at {} / {} ({binding})",
                show.up(-miss.slack),
                show.one(miss.stance.x),
                show.one(miss.stance.y)
            )
        }
        (None, None) => format!("{turn}: nowhere"),
    }
}

/// How far the heading may be off each way.
pub fn swing(swing: &Swing) -> String {
    let down = |deg| format_fixed(deg, 2, Round::Down);
    format!("{} degrees to the left, {} to the right", down(swing.left), down(swing.right))
}

pub fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}
