//! The answer as a page a person reads in a terminal.

use std::fmt::Write;

use super::figures::Show;
use super::setting::setting;
use super::words::{self, capital};
use super::{advice as help, floor_text};
use crate::advice::Advice;
use crate::checks::{Finding, Judgement, Outcome, RULES};
use crate::layout::{self, Layout};
use crate::model::{called, called_all};
use crate::units::{Round, format_fixed, norm_deg, printable};

/// Verdict and number first, then what binds, what to do, conditions, what is missing, then the rest by rule, and the
/// cautions.
pub fn check(layout: &Layout, judgement: &Judgement, advice: &Advice, show: Show) -> String {
    let mut page = String::new();
    let _ = write_check(&mut page, layout, judgement, advice, show);
    page
}

fn write_check(
    out: &mut String,
    layout: &Layout,
    j: &Judgement,
    advice: &Advice,
    show: Show,
) -> std::fmt::Result {
    writeln!(out, "{}", words::headline(j, show).to_uppercase())?;
    if let Some(f) = j.decisive() {
        writeln!(out, "Binds: {}", full(f, layout, show))?;
        if let Some(help) = help::whole(j, advice, layout, show) {
            writeln!(out, "Helps: {help}")?;
        }
    }
    let job = &layout.bundle.job;
    let (s, bundle) = (layout.stance, &layout.bundle);
    writeln!(out)?;
    writeln!(out, "{}: {} in {}", job.name, bundle.vehicle.name, bundle.bay.name)?;
    writeln!(
        out,
        "Front axle {} from the left edge line, {} into the bay, heading {:.1} degrees",
        show.one(s.x),
        show.one(s.y),
        norm_deg(s.heading)
    )?;
    if let Some(thrust) = layout.thrust_angle() {
        writeln!(
            out,
            "Thrust angle {} degrees (positive points right of the centreline, toe-in positive)",
            format_fixed(thrust, 3, Round::Nearest)
        )?;
    }
    for line in floor_text::lines(layout, show) {
        writeln!(out, "{line}")?;
    }
    for w in &j.ways {
        let name = &layout.bundle.procedures[w.procedure].name;
        writeln!(out, "{name}: done {}", w.way)?;
        for (other, why) in &w.others {
            writeln!(out, "  not {other}: {}", printable(why))?;
        }
    }
    list(out, "CONDITIONS", &j.conditions)?;
    let missing: Vec<String> = j.missing.iter().map(|m| called(m).to_owned()).collect();
    list(out, "MISSING", &missing)?;
    for (outcome, heading) in [
        (Outcome::Fail, "WILL NOT WORK"),
        (Outcome::Movable, "IN THE WAY, CAN BE MOVED"),
        (Outcome::Unknown, "NOT KNOWN"),
        (Outcome::Tight, "TIGHT"),
        (Outcome::Accepted, "ACCEPTED"),
        (Outcome::Confirm, "TO CONFIRM ON THE DAY"),
    ] {
        section(out, layout, j, advice, (outcome, heading), show)?;
    }
    writeln!(out, "\nFITS, BY RULE")?;
    for rule in RULES {
        let passed: Vec<&Finding> =
            j.findings.iter().filter(|f| f.rule == rule.id && f.outcome == Outcome::Pass).collect();
        let judged = passed.iter().filter(|f| !f.items.is_empty()).count();
        let aside = j.findings.iter().filter(|f| f.rule == rule.id && f.outcome == Outcome::NotApplicable);
        let least = passed
            .iter()
            .filter(|f| f.margin.is_some())
            .min_by(|a, b| a.margin.unwrap_or(0.0).total_cmp(&b.margin.unwrap_or(0.0)));
        match (judged, least) {
            (0, _) if !passed.is_empty() => writeln!(out, "  {:<14} nothing to judge", rule.id.word())?,
            (0, _) => {}
            (n, Some(f)) => {
                writeln!(out, "  {:<14} {n} passed; least: {}", rule.id.word(), full(f, layout, show))?
            }
            (n, None) => writeln!(out, "  {:<14} {n} passed", rule.id.word())?,
        }
        for f in aside {
            writeln!(out, "  {:<14} not applicable: {}", rule.id.word(), words::title(f, layout, show))?;
        }
    }
    settings(out, layout, j, show)?;
    lengths(out, layout, j, show)?;
    writeln!(out, "\nALWAYS")?;
    for line in super::CAUTIONS {
        writeln!(out, "  {line}")?;
    }
    Ok(())
}

/// What to mind while the targets are set, setup by setup.
fn settings(out: &mut String, layout: &Layout, j: &Judgement, show: Show) -> std::fmt::Result {
    let idle: Vec<usize> = j.ways.iter().flat_map(|w| w.idle.iter().copied()).collect();
    let mut headed = false;
    for (s, setup) in layout.setups.iter().enumerate().filter(|(s, _)| !idle.contains(s)) {
        let lines = setting(layout, setup, show);
        if lines.is_empty() {
            continue;
        }
        if !headed {
            writeln!(out, "\nTO SET AND TO DRAW")?;
            headed = true;
        }
        writeln!(out, "  {}: {}", layout.bundle.procedures[setup.procedure].name, layout.setups[s].name)?;
        for line in lines {
            writeln!(out, "    {}", capital(&line))?;
        }
    }
    Ok(())
}

/// Lengths for the tape, setup by setup.
fn lengths(out: &mut String, layout: &Layout, j: &Judgement, show: Show) -> std::fmt::Result {
    let idle: Vec<usize> = j.ways.iter().flat_map(|w| w.idle.iter().copied()).collect();
    let mut headed = false;
    for (s, setup) in layout.setups.iter().enumerate() {
        let procedure = &layout.bundle.procedures[setup.procedure];
        let all = layout::lengths::lengths(setup);
        if all.is_empty() || idle.contains(&s) {
            continue;
        }
        if !headed {
            writeln!(out, "\nLENGTHS TO CHECK WITH THE TAPE")?;
            headed = true;
        }
        writeln!(out, "  {}: {}", procedure.name, setup.name)?;
        for length in all {
            match &length.mm {
                Ok(mm) => writeln!(out, "    {}-{}  {}", length.from, length.to, show.tenth(*mm))?,
                Err(missing) => {
                    let missing = called_all(&missing.0);
                    writeln!(out, "    {}-{}  not known: {}", length.from, length.to, printable(&missing))?
                }
            }
        }
    }
    Ok(())
}

fn full(f: &Finding, layout: &Layout, show: Show) -> String {
    let title = words::title(f, layout, show);
    match words::figures(f, show) {
        Some(figures) => format!("{title} ({figures})"),
        None => title,
    }
}

fn list(out: &mut String, heading: &str, lines: &[String]) -> std::fmt::Result {
    if lines.is_empty() {
        return Ok(());
    }
    writeln!(out, "\n{heading}")?;
    for line in lines {
        writeln!(out, "  - {}", capital(line))?;
    }
    Ok(())
}

fn section(
    out: &mut String,
    layout: &Layout,
    j: &Judgement,
    advice: &Advice,
    (outcome, heading): (Outcome, &str),
    show: Show,
) -> std::fmt::Result {
    let mut found = j.findings.iter().enumerate().filter(|(_, f)| f.outcome == outcome).peekable();
    if found.peek().is_none() {
        return Ok(());
    }
    writeln!(out, "\n{heading}")?;
    let mut last = None;
    for (at, f) in found {
        let place = (f.procedure, f.setup);
        if last != Some(place) {
            last = Some(place);
            writeln!(out, "  {}", whose(f, layout))?;
        }
        writeln!(out, "    [{}] {}", f.rule.word(), full(f, layout, show))?;
        if let Some(help) = help::of(at, j, Some(advice), layout, show) {
            writeln!(out, "        {help}")?;
        }
    }
    Ok(())
}

/// The procedure and setup a finding belongs to.
pub fn whose(f: &Finding, layout: &Layout) -> String {
    match (f.procedure, f.setup) {
        (Some(p), Some(s)) => format!("{}: {}", layout.bundle.procedures[p].name, layout.setups[s].name),
        (Some(p), None) => layout.bundle.procedures[p].name.to_string(),
        _ => "The vehicle in the bay".into(),
    }
}

/// The page of a rule, as `explain` prints it.
pub fn rule_page(rule: &crate::checks::Rule) -> String {
    let p = &rule.page;
    format!(
        "{}: {}\n\nWhat it checks\n  {}\n\nWhy it matters on the shop floor\n  {}\n\nHow it is measured\n  {}\n\nWhat to do\n  {}\n\nWhere the number comes from\n  {}\n",
        rule.id.word(),
        p.title,
        p.checks,
        p.matters,
        p.measured,
        p.remedy,
        p.source
    )
}
