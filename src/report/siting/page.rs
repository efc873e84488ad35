//! The page of `site` for a terminal.

use std::fmt::Write;

use super::words;
use crate::model::called;
use crate::report::words::{capital, title};
use crate::report::{CAUTIONS, Show};
use crate::siting::{Siting, Stand};
use crate::units::printable;

/// The sentence first, then what binds, what would open the bay, the places to stand, heading by heading.
pub fn page(found: &Siting, show: Show) -> String {
    let mut page = String::new();
    let _ = write_page(&mut page, found, show);
    page
}

fn write_page(out: &mut String, found: &Siting, show: Show) -> std::fmt::Result {
    let bundle = &found.layout.bundle;
    writeln!(out, "{}", words::headline(found, show))?;
    writeln!(out, "\n{}: {} in {}", bundle.job.name, bundle.vehicle.name, bundle.bay.name)?;
    for (name, mm) in &found.chosen {
        writeln!(out, "Chosen for most slack: {name} = {mm}")?;
    }
    if let (Some(best), Some(judgement)) = (&found.best, &found.judgement) {
        if best.proposed != best.place {
            writeln!(out, "In whole figures: {}", words::proposed(best, show))?;
        }
        writeln!(out, "Heading may be off by {}", words::swing(&best.swing))?;
        if let Some(floor) = &best.floor {
            writeln!(out, "{}", words::floor(floor, true, show))?;
        }
        let missing: Vec<String> = judgement.missing.iter().map(|m| called(m).to_owned()).collect();
        for (heading, lines) in [("CONDITIONS", &judgement.conditions), ("MISSING", &missing)] {
            if !lines.is_empty() {
                writeln!(out, "\n{heading}")?;
            }
            for line in lines {
                writeln!(out, "  - {}", capital(line))?;
            }
        }
        if !best.also.is_empty() {
            let there = found.layout.at(best.place.stance);
            writeln!(out, "\nALSO AT THAT PLACE")?;
            for f in &best.also {
                writeln!(out, "  - [{}] {} ({})", f.rule.word(), title(f, &there, show), f.outcome.word())?;
            }
        }
    }
    if let Some(short) = &found.shortfall {
        writeln!(out, "\nSHORT, {}", words::turn(short.heading).to_uppercase())?;
        writeln!(out, "  {}", capital(&words::shortfall(short, show)))?;
    }
    if !found.changes.is_empty() {
        let (helps, not): (Vec<_>, Vec<_>) = found.changes.iter().partition(|c| c.place.is_some());
        writeln!(out, "\nWHAT WOULD OPEN IT")?;
        for tried in &helps {
            writeln!(out, "  - {}", capital(&words::change(tried, show)))?;
        }
        if helps.is_empty() {
            writeln!(out, "  No single change does")?;
        }
        if !not.is_empty() {
            writeln!(
                out,
                "  Tried alone without success: {}",
                not.iter().map(|t| printable(&t.words)).collect::<Vec<_>>().join("; ")
            )?;
        }
    }
    if found.poses.len() > 1 || !found.unserved.is_empty() {
        writeln!(out, "\nPLACES TO STAND, IN ORDER")?;
        for (i, stand) in found.poses.iter().enumerate() {
            write_stand(out, found, i, stand, show)?;
        }
        for s in &found.unserved {
            writeln!(out, "  nowhere alone: {}", setup_name(found, *s))?;
        }
    }
    writeln!(out, "\nBY HEADING")?;
    for heading in &found.headings {
        writeln!(out, "  {}", capital(&words::heading(heading, show)))?;
    }
    for note in &found.notes {
        writeln!(out, "\n{}", capital(note))?;
    }
    writeln!(out, "\nALWAYS")?;
    for line in CAUTIONS {
        writeln!(out, "  {line}")?;
    }
    Ok(())
}

fn write_stand(out: &mut String, found: &Siting, i: usize, stand: &Stand, show: Show) -> std::fmt::Result {
    let setups: Vec<String> = stand.setups.iter().map(|s| setup_name(found, *s)).collect();
    writeln!(
        out,
        "  {}. {}, slack {}",
        i + 1,
        capital(&words::place(&stand.place.stance, show)),
        show.down(stand.place.slack_down())
    )?;
    writeln!(out, "     {}", setups.join(", "))?;
    if !stand.again.is_empty() {
        let marks: Vec<&str> =
            stand.again.iter().map(|(s, m)| &*found.layout.setups[*s].marks[*m].name).collect();
        writeln!(out, "     after the move every reference is void; set out anew: {}", marks.join(", "))?;
    } else if i > 0 {
        writeln!(out, "     after the move every reference is void")?;
    }
    Ok(())
}

/// "Procedure: Setup".
pub fn setup_name(found: &Siting, s: usize) -> String {
    let setup = &found.layout.setups[s];
    format!("{}: {}", found.layout.bundle.procedures[setup.procedure].name, setup.name)
}
