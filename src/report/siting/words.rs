//! What siting found, in sentences.

use crate::checks::{Finding, Outcome};
use crate::layout::Stance;
use crate::report::Show;
use crate::siting::{HeadingFound, Shortfall, Siting, Swing, Tried};
use crate::units::{format_spare, norm_deg};

/// Where the vehicle stands, or by how much nothing fits: one sentence.
pub fn headline(found: &Siting, show: Show) -> String {
    let name = &found.layout.bundle.bay.name;
    if let Some(best) = &found.best {
        let (place, swing) = (best.place, best.swing);
        let slack = if place.slack >= 1.0 {
            format!("slack {} in any direction", show.one(place.slack_down()))
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
        // what the search does not look at may still fail where it found room
        let (fits, but) = match fails {
            0 if unknown.is_empty() => ("Fits", String::new()),
            0 => ("There is room", format!(", but whether it fits is not known{}", missing(&unknown))),
            n => ("There is room", format!(", but {} there", count(n, "thing fails", "things fail"))),
        };
        return format!(
            "{fits} with {}, {slack}, heading may be off by {:.1} degrees{but}{and}",
            self::place(&place.stance, show),
            ((swing.left.min(swing.right)) * 10.0).floor() / 10.0
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

/// ": a procedure is missing"; what findings lack, each name once.
fn missing(unknown: &[&Finding]) -> String {
    let mut names: Vec<&str> = unknown.iter().flat_map(|f| &f.missing).map(|name| &**name).collect();
    names.sort_unstable();
    names.dedup();
    match names.as_slice() {
        [] => String::new(),
        [one] => format!(": {one} is missing"),
        many => format!(": {} are missing", many.join(", ")),
    }
}

/// Where the floor is best, and how much is left there. `within`: of the places where everything else fits.
pub fn floor((stance, margin): &(Stance, f64), within: bool, show: Show) -> String {
    let spare = format_spare(*margin, show == Show::FeetInches);
    let among = if within { "Of these places" } else { "As far as the floor goes" };
    if *margin < 0.0 {
        return format!("{among} none is level enough: the best is {spare} short");
    }
    format!("{among} the floor is best with {}: {spare} to spare", self::place(stance, show))
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
            show.one(place.slack_down())
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
                show.one(best.slack_down())
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
    format!("{:.2} degrees to the left, {:.2} to the right", swing.left, swing.right)
}

pub fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}
