//! The page of `site` for a terminal.

use std::fmt::Write;

use super::words;
use crate::checks::Outcome;
use crate::checks::wording::{lack, outcome, things};
use crate::phrases::{Phrase, Say, phrases, say};
use crate::report::cautions;
use crate::report::text::{ALWAYS, CONDITIONS, JOB, MISSING};
use crate::report::words::{capital, title};
use crate::siting::{Siting, Stand};
use crate::units::printable;

phrases! { pub(super) in "site page";
    CHOSEN = "Chosen for most slack: {name} = {mm}";
    IN_WHOLE_FIGURES = "In whole figures: {place}";
    MAY_BE_OFF = "Heading may be off by {swing}";
    ALSO = "ALSO AT THAT PLACE";
    SHORT = "SHORT, {turn}";
    OPENS = "WHAT WOULD OPEN IT";
    NO_SINGLE_CHANGE = "No single change does";
    IN_VAIN = "Tried alone without success: {changes}";
    PLACES = "PLACES TO STAND, IN ORDER";
    NOWHERE_ALONE = "nowhere alone: {setup}";
    BY_HEADING = "BY HEADING";
    STAND = "{n}. {place}, slack {slack}";
    VOID = "after the move every reference is void";
    VOID_ANEW = "after the move every reference is void; set out anew: {marks}";
    ALSO_LINE = "[{rule}] {title} ({outcome})";
    FAIL = "fail";
    MOVABLE = "movable";
    UNKNOWN = "unknown";
}

/// The sentence first, then what binds, what would open the bay, the places to stand, heading by heading.
pub fn page(found: &Siting, say: Say) -> String {
    let mut page = String::new();
    let _ = write_page(&mut page, found, say);
    page
}

fn write_page(out: &mut String, found: &Siting, say: Say) -> std::fmt::Result {
    let bundle = &found.layout.bundle;
    writeln!(out, "{}", words::headline(found, say))?;
    let (vehicle, bay) = (&bundle.vehicle.name, &bundle.bay.name);
    writeln!(out, "\n{}", say!(say, JOB, job = bundle.job.name, vehicle, bay))?;
    for (name, mm) in &found.chosen {
        writeln!(out, "{}", say!(say, CHOSEN, name, mm))?;
    }
    if let (Some(best), Some(judgement)) = (&found.best, &found.judgement) {
        if best.proposed != best.place {
            writeln!(out, "{}", say!(say, IN_WHOLE_FIGURES, place = words::proposed(best, say)))?;
        }
        writeln!(out, "{}", say!(say, MAY_BE_OFF, swing = words::swing(&best.swing, say)))?;
        if let Some(floor) = &best.floor {
            writeln!(out, "{}", words::floor(floor, true, say))?;
        }
        let missing: Vec<String> = judgement.missing.iter().map(|m| lack(m, say)).collect();
        let conditions = outcome::conditions(&judgement.conditions, say);
        for (heading, lines) in [(CONDITIONS, conditions), (MISSING, missing)] {
            if !lines.is_empty() {
                writeln!(out, "\n{}", say.word(heading))?;
            }
            for line in lines {
                writeln!(out, "  - {}", capital(&line))?;
            }
        }
        if !best.also.is_empty() {
            let there = found.layout.at(best.place.stance);
            writeln!(out, "\n{}", say.word(ALSO))?;
            for f in &best.also {
                let (rule, outcome) = (f.rule.said(say), say.word(failing(f.outcome)));
                let line = say!(say, ALSO_LINE, rule, title = title(f, &there, say), outcome);
                writeln!(out, "  - {line}")?;
            }
        }
    }
    if let Some(short) = &found.shortfall {
        let turn = words::turn(short.heading, say).to_uppercase();
        writeln!(out, "\n{}", say!(say, SHORT, turn))?;
        writeln!(out, "  {}", capital(&words::shortfall(short, say)))?;
    }
    if !found.changes.is_empty() {
        let (helps, not): (Vec<_>, Vec<_>) = found.changes.iter().partition(|c| c.place.is_some());
        writeln!(out, "\n{}", say.word(OPENS))?;
        for tried in &helps {
            writeln!(out, "  - {}", capital(&words::change(tried, &found.layout, say)))?;
        }
        if helps.is_empty() {
            writeln!(out, "  {}", say.word(NO_SINGLE_CHANGE))?;
        }
        if !not.is_empty() {
            let changes = not.iter().map(|t| words::to_do(t, &found.layout, say));
            let changes = say.list(changes, things::SEMICOLON);
            writeln!(out, "  {}", say!(say, IN_VAIN, changes = printable(&changes)))?;
        }
    }
    if found.poses.len() > 1 || !found.unserved.is_empty() {
        writeln!(out, "\n{}", say.word(PLACES))?;
        for (i, stand) in found.poses.iter().enumerate() {
            write_stand(out, found, i, stand, say)?;
        }
        for s in &found.unserved {
            writeln!(out, "  {}", say!(say, NOWHERE_ALONE, setup = setup_name(found, *s)))?;
        }
    }
    writeln!(out, "\n{}", say.word(BY_HEADING))?;
    for heading in &found.headings {
        writeln!(out, "  {}", capital(&words::heading(heading, say)))?;
    }
    for note in &found.notes {
        writeln!(out, "\n{}", capital(&words::note(note, say)))?;
    }
    writeln!(out, "\n{}", say.word(ALWAYS))?;
    for line in cautions(say) {
        writeln!(out, "  {line}")?;
    }
    Ok(())
}

/// What the search does not look at.
fn failing(outcome: Outcome) -> Phrase {
    match outcome {
        Outcome::Movable => MOVABLE,
        Outcome::Unknown => UNKNOWN,
        _ => FAIL,
    }
}

fn write_stand(out: &mut String, found: &Siting, i: usize, stand: &Stand, say: Say) -> std::fmt::Result {
    let setups: Vec<String> = stand.setups.iter().map(|s| setup_name(found, *s)).collect();
    let place = capital(&words::place(&stand.place.stance, say));
    let slack = say.down(stand.place.slack_down());
    writeln!(out, "  {}", say!(say, STAND, n = i + 1, place, slack))?;
    writeln!(out, "     {}", setups.join(", "))?;
    if !stand.again.is_empty() {
        let marks: Vec<&str> =
            stand.again.iter().map(|(s, m)| &*found.layout.setups[*s].marks[*m].name).collect();
        let marks = say.list(marks, things::COMMA);
        writeln!(out, "     {}", say!(say, VOID_ANEW, marks))?;
    } else if i > 0 {
        writeln!(out, "     {}", say.word(VOID))?;
    }
    Ok(())
}

/// "Procedure: Setup".
pub fn setup_name(found: &Siting, s: usize) -> String {
    let setup = &found.layout.setups[s];
    format!("{}: {}", found.layout.bundle.procedures[setup.procedure].name, setup.name)
}
