//! The one move that helps a finding, as a change of the job.

use super::cx::Cx;
use crate::checks::{Finding, Outcome};
use crate::edit::{Edit, Motion};
use crate::geometry::NOISE_MM;
use crate::report::words;

/// The move a finding's help names, and what the button that makes it says.
pub fn act(cx: Cx, finding: &Finding) -> Option<(&'static str, Edit)> {
    let layout = cx.layout();
    match finding.outcome {
        Outcome::Movable => {
            let thing = layout.stage.things.iter().find(|t| t.movable && finding.items.contains(&t.name))?;
            let edit = Edit::Clear { name: (&*thing.name).into(), away: true };
            Some(("clear it", edit))
        }
        Outcome::Fail => {
            words::help(finding, layout, cx.show())?;
            let shift = words::shift(finding)?;
            let at = layout.stance;
            let edit = Edit::Stand {
                x: at.x + whole(shift.x),
                y: at.y + whole(shift.y),
                heading: at.heading,
                how: Motion::Move,
            };
            Some(("move it there", edit))
        }
        _ => None,
    }
}

/// Whole millimetres, never less than asked; what is less than half of one is none.
fn whole(mm: f64) -> f64 {
    if mm.abs() < 0.5 { 0.0 } else { (mm.abs() - NOISE_MM).ceil().copysign(mm) }
}

/// Who accepted a finding, and why.
pub fn accepted_words(cx: Cx, finding: &Finding) -> Option<String> {
    let accepted = cx.document.job().accepted.iter().find(|a| {
        let mut items: Vec<&str> = a.items.iter().map(|i| i.as_str()).collect();
        let mut wanted: Vec<&str> = finding.items.iter().map(|i| &**i).collect();
        items.sort_unstable();
        wanted.sort_unstable();
        a.rule == *finding.rule.word() && items == wanted
    })?;
    let mut words = accepted.reason.clone();
    for part in [&accepted.by, &accepted.on] {
        if !part.is_empty() {
            words += &format!(", {part}");
        }
    }
    Some(words)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_move_is_never_too_short() {
        for (mm, moved) in [(59.2, 60.0), (-59.2, -60.0), (60.0, 60.0), (0.3, 0.0), (-0.5, -1.0)] {
            assert_eq!(whole(mm), moved);
        }
    }
}
