//! The answer as a page a person reads in a terminal.

use std::fmt::Write;

use super::setting::setting;
use super::words::{self, capital};
use super::{advice as help, floor_text};
use crate::advice::Advice;
use crate::checks::wording::{lack, lacks_all, outcome};
use crate::checks::{Finding, Judgement, Outcome, RULES};
use crate::layout::{self, Layout};
use crate::phrases::{Phrase, Say, phrases, say};
use crate::units::{Round, format_fixed, norm_deg, printable};

phrases! { pub in "page";
    NO_PLACE_FITS = "No place fits, nose in or backed in; judged where it misses by least.";
    BINDS = "Binds: {what}";
    HELPS = "Helps: {what}";
    JOB = "{job}: {vehicle} in {bay}";
    STANDS = "Front axle {x} from the left edge line, {y} into the bay, heading {deg} degrees";
    THRUST = "Thrust angle {deg} degrees (positive points right of the centreline, toe-in positive)";
    DONE = "{procedure}: done {way}";
    NOT_DONE = "not {way}: {why}";
    CONDITIONS = "CONDITIONS";
    MISSING = "MISSING";
    FAILS = "WILL NOT WORK";
    MOVABLE = "IN THE WAY, CAN BE MOVED";
    UNKNOWN = "NOT KNOWN";
    TIGHT = "TIGHT";
    ACCEPTED = "ACCEPTED";
    CONFIRM = "TO CONFIRM ON THE DAY";
    BY_RULE = "FITS, BY RULE";
    NOTHING_TO_JUDGE = "nothing to judge";
    PASSED = "{n} passed";
    PASSED_LEAST = "{n} passed; least: {least}";
    NOT_APPLICABLE = "not applicable: {why}";
    TO_SET = "TO SET AND TO DRAW";
    LENGTHS = "LENGTHS TO CHECK WITH THE TAPE";
    LENGTH_NOT_KNOWN = "not known: {missing}";
    ALWAYS = "ALWAYS";
    VEHICLE_IN_BAY = "The vehicle in the bay";
    WITH_FIGURES = "{title} ({figures})";
    WHAT_IT_CHECKS = "What it checks";
    WHY_IT_MATTERS = "Why it matters on the shop floor";
    HOW_MEASURED = "How it is measured";
    WHAT_TO_DO = "What to do";
    WHERE_FROM = "Where the number comes from";
    CAUTION_AID = "Planning aid only: the vehicle maker's current procedure and local codes rule, and a qualified person decides.";
    CAUTION_CHOCK = "Chock the wheels and set the brake unless the procedure says otherwise.";
    CAUTION_LASER = "Do not look into a laser beam.";
    CAUTION_VOLTAGE = "High-voltage vehicles and lifts: only trained people, as their maker says.";
    CAUTION_EXITS = "Keep exits and electrical working spaces free at all times.";
    CAUTION_FIT = "A good fit is not a calibration.";
}

/// Printed with every answer.
const CAUTIONS: [Phrase; 6] =
    [CAUTION_AID, CAUTION_CHOCK, CAUTION_LASER, CAUTION_VOLTAGE, CAUTION_EXITS, CAUTION_FIT];

/// The lines printed with every answer.
pub fn cautions(say: Say) -> Vec<String> {
    CAUTIONS.map(|c| say.word(c)).into()
}

/// Said before the page where nothing fits: the job is judged all the same.
pub fn nowhere(say: Say) -> String {
    say.word(NO_PLACE_FITS) + "\n"
}

/// Verdict and number first, then what binds, what to do, conditions, what is missing, then the rest by rule, and the
/// cautions.
pub fn check(layout: &Layout, judgement: &Judgement, advice: &Advice, say: Say) -> String {
    let mut page = String::new();
    let _ = write_check(&mut page, layout, judgement, advice, say);
    page
}

fn write_check(
    out: &mut String,
    layout: &Layout,
    j: &Judgement,
    advice: &Advice,
    say: Say,
) -> std::fmt::Result {
    writeln!(out, "{}", words::headline(j, say).to_uppercase())?;
    if let Some(f) = j.decisive() {
        writeln!(out, "{}", say!(say, BINDS, what = full(f, layout, say)))?;
        if let Some(what) = help::whole(j, advice, layout, say) {
            writeln!(out, "{}", say!(say, HELPS, what))?;
        }
    }
    let job = &layout.bundle.job;
    let (s, bundle) = (layout.stance, &layout.bundle);
    writeln!(out)?;
    let (vehicle, bay) = (&bundle.vehicle.name, &bundle.bay.name);
    writeln!(out, "{}", say!(say, JOB, job = job.name, vehicle, bay))?;
    let deg = format!("{:.1}", norm_deg(s.heading));
    writeln!(out, "{}", say!(say, STANDS, x = say.one(s.x), y = say.one(s.y), deg))?;
    if let Some(thrust) = layout.thrust_angle() {
        writeln!(out, "{}", say!(say, THRUST, deg = format_fixed(thrust, 3, Round::Nearest)))?;
    }
    for line in floor_text::lines(layout, say) {
        writeln!(out, "{line}")?;
    }
    for w in &j.ways {
        let procedure = &layout.bundle.procedures[w.procedure].name;
        writeln!(out, "{}", say!(say, DONE, procedure, way = w.way))?;
        for (way, against) in &w.others {
            let why = outcome::against(against, say);
            writeln!(out, "  {}", say!(say, NOT_DONE, way, why = printable(&why)))?;
        }
    }
    list(out, &say.word(CONDITIONS), &outcome::conditions(&j.conditions, say))?;
    let missing: Vec<String> = j.missing.iter().map(|m| lack(m, say)).collect();
    list(out, &say.word(MISSING), &missing)?;
    for (outcome, heading) in [
        (Outcome::Fail, FAILS),
        (Outcome::Movable, MOVABLE),
        (Outcome::Unknown, UNKNOWN),
        (Outcome::Tight, TIGHT),
        (Outcome::Accepted, ACCEPTED),
        (Outcome::Confirm, CONFIRM),
    ] {
        section(out, layout, j, advice, (outcome, heading), say)?;
    }
    writeln!(out, "\n{}", say.word(BY_RULE))?;
    for rule in RULES {
        let name = rule.id.said(say);
        let passed: Vec<&Finding> =
            j.findings.iter().filter(|f| f.rule == rule.id && f.outcome == Outcome::Pass).collect();
        let judged = passed.iter().filter(|f| !f.items.is_empty()).count();
        let aside = j.findings.iter().filter(|f| f.rule == rule.id && f.outcome == Outcome::NotApplicable);
        let least = passed
            .iter()
            .filter(|f| f.margin.is_some())
            .min_by(|a, b| a.margin.unwrap_or(0.0).total_cmp(&b.margin.unwrap_or(0.0)));
        match (judged, least) {
            (0, _) if !passed.is_empty() => writeln!(out, "  {name:<14} {}", say.word(NOTHING_TO_JUDGE))?,
            (0, _) => {}
            (n, Some(f)) => {
                let least = full(f, layout, say);
                writeln!(out, "  {name:<14} {}", say!(say, PASSED_LEAST, n, least))?
            }
            (n, None) => writeln!(out, "  {name:<14} {}", say!(say, PASSED, n))?,
        }
        for f in aside {
            let why = words::title(f, layout, say);
            writeln!(out, "  {name:<14} {}", say!(say, NOT_APPLICABLE, why))?;
        }
    }
    settings(out, layout, j, say)?;
    lengths(out, layout, j, say)?;
    writeln!(out, "\n{}", say.word(ALWAYS))?;
    for line in cautions(say) {
        writeln!(out, "  {line}")?;
    }
    Ok(())
}

/// What to mind while the targets are set, setup by setup.
fn settings(out: &mut String, layout: &Layout, j: &Judgement, say: Say) -> std::fmt::Result {
    let idle: Vec<usize> = j.ways.iter().flat_map(|w| w.idle.iter().copied()).collect();
    let mut headed = false;
    for (s, setup) in layout.setups.iter().enumerate().filter(|(s, _)| !idle.contains(s)) {
        let lines = setting(layout, setup, say);
        if lines.is_empty() {
            continue;
        }
        if !headed {
            writeln!(out, "\n{}", say.word(TO_SET))?;
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
fn lengths(out: &mut String, layout: &Layout, j: &Judgement, say: Say) -> std::fmt::Result {
    let idle: Vec<usize> = j.ways.iter().flat_map(|w| w.idle.iter().copied()).collect();
    let mut headed = false;
    for (s, setup) in layout.setups.iter().enumerate() {
        let procedure = &layout.bundle.procedures[setup.procedure];
        let all = layout::lengths::lengths(setup);
        if all.is_empty() || idle.contains(&s) {
            continue;
        }
        if !headed {
            writeln!(out, "\n{}", say.word(LENGTHS))?;
            headed = true;
        }
        writeln!(out, "  {}: {}", procedure.name, setup.name)?;
        for length in all {
            match &length.mm {
                Ok(mm) => writeln!(out, "    {}-{}  {}", length.from, length.to, say.tenth(*mm))?,
                Err(missing) => {
                    let missing = lacks_all(&missing.0, say);
                    let told = say!(say, LENGTH_NOT_KNOWN, missing = printable(&missing));
                    writeln!(out, "    {}-{}  {told}", length.from, length.to)?
                }
            }
        }
    }
    Ok(())
}

fn full(f: &Finding, layout: &Layout, say: Say) -> String {
    let title = words::title(f, layout, say);
    match words::figures(f, say) {
        Some(figures) => say!(say, WITH_FIGURES, title, figures),
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
    (outcome, heading): (Outcome, Phrase),
    say: Say,
) -> std::fmt::Result {
    let mut found = j.findings.iter().enumerate().filter(|(_, f)| f.outcome == outcome).peekable();
    if found.peek().is_none() {
        return Ok(());
    }
    writeln!(out, "\n{}", say.word(heading))?;
    let mut last = None;
    for (at, f) in found {
        let place = (f.procedure, f.setup);
        if last != Some(place) {
            last = Some(place);
            writeln!(out, "  {}", whose(f, layout, say))?;
        }
        writeln!(out, "    [{}] {}", f.rule.said(say), full(f, layout, say))?;
        if let Some(help) = help::of(at, j, Some(advice), layout, say) {
            writeln!(out, "        {help}")?;
        }
    }
    Ok(())
}

/// The procedure and setup a finding belongs to.
pub fn whose(f: &Finding, layout: &Layout, say: Say) -> String {
    match (f.procedure, f.setup) {
        (Some(p), Some(s)) => format!("{}: {}", layout.bundle.procedures[p].name, layout.setups[s].name),
        (Some(p), None) => layout.bundle.procedures[p].name.to_string(),
        _ => say.word(VEHICLE_IN_BAY),
    }
}

/// The page of a rule, as `explain` prints it.
pub fn rule_page(rule: &crate::checks::Rule, say: Say) -> String {
    let [title, parts @ ..] = rule.page(say);
    let heads = [WHAT_IT_CHECKS, WHY_IT_MATTERS, HOW_MEASURED, WHAT_TO_DO, WHERE_FROM];
    let mut page = format!("{}: {title}\n", rule.id.said(say));
    for (head, part) in heads.into_iter().zip(parts) {
        let _ = write!(page, "\n{}\n  {part}\n", say.word(head));
    }
    page
}
