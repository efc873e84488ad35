//! Where nothing is placed, nothing fits: a job without procedures, a procedure nothing of which is set up here.

use std::sync::Arc;

use super::RuleId;
use crate::checks::finding::{Finding, Outcome};
use crate::checks::note::{Note, Ready};
use crate::checks::pairs::Cx;
use crate::layout::Way;
use crate::model::{Item, ItemKind, Lack};

/// What is missing for anything to be placed.
pub(super) fn unknowns(cx: &Cx, out: &mut Vec<Finding>) {
    let procedures = &cx.layout.bundle.procedures;
    if procedures.is_empty() {
        out.push(unknown(None, Lack::Procedure, Ready::NoProcedure));
        return;
    }
    let applying = || (0..procedures.len()).filter(|p| applies(cx, *p));
    if applying().next().is_none() {
        out.push(unknown(None, Lack::ProcedureThatApplies, Ready::NoneApplies));
    }
    for p in applying().filter(|p| !places(cx, *p)) {
        let missing = Lack::SetupOf(procedures[p].name.as_str().into());
        out.push(unknown(Some(p), missing, why(cx, p)));
    }
}

/// Whether the vehicle has what the procedure is about.
fn applies(cx: &Cx, procedure: usize) -> bool {
    !cx.layout.rig.without.iter().any(|(p, _)| *p == procedure)
}

/// Whether something of a procedure is placed; or its conditions lack a figure, which is told where it is missing.
fn places(cx: &Cx, procedure: usize) -> bool {
    let layout = cx.layout;
    let undecided = layout.rig.left_out.iter().any(|l| l.procedure == procedure && l.why.is_err());
    let ways: Vec<&Way> = layout.rig.ways.iter().filter(|w| w.procedure == procedure).collect();
    // where there are ways to do it, what every way has in common does not do it
    let counts = |s: usize| ways.is_empty() || ways.iter().any(|w| w.setups.contains(&s));
    let mut setups = layout.setups.iter().enumerate().filter(|(_, x)| x.procedure == procedure);
    undecided || setups.any(|(s, setup)| counts(s) && !cx.is_idle(s) && !setup.places_nothing())
}

fn why(cx: &Cx, procedure: usize) -> Ready {
    let name: Arc<str> = cx.layout.bundle.procedures[procedure].name.as_str().into();
    let left = cx.layout.rig.left_out.iter().filter(|l| l.procedure == procedure);
    let out: Vec<_> = left.filter_map(|l| Some((l.name.clone(), l.why.as_ref().ok()?.clone()))).collect();
    if out.is_empty() { Ready::SetsNothingUp(name) } else { Ready::NothingOf(name, out) }
}

fn unknown(procedure: Option<usize>, missing: Lack, why: Ready) -> Finding {
    Finding {
        procedure,
        items: vec![Item::new(ItemKind::Words, missing.word())],
        missing: vec![missing],
        note: Some(Note::Ready(Box::new(why))),
        ..Finding::new(RuleId::Readiness, Outcome::Unknown)
    }
}

#[cfg(test)]
mod tests {
    use super::RuleId::Readiness as RULE;
    use crate::checks::Verdict;
    use crate::checks::rules::workbench::{BOARD, Bench, Found, noted};

    const RADAR: &str = r#"sensors: {"front radar": (kind: Radar, at: (700, 0, 500))}"#;

    fn board(name: &str, condition: &str) -> String {
        format!("{}, {condition}", BOARD.replace("Board ahead", name))
    }

    #[track_caller]
    fn not_known(found: &Found, missing: &str, why: &str) {
        assert_eq!(found.judgement.verdict, Verdict::NotKnown);
        let names: Vec<_> = found.judgement.missing.iter().map(|m| m.word()).collect();
        assert_eq!(names, [missing]);
        found.lacks(missing, RULE, &[missing], &[missing]);
        let note = noted(found.one(missing, RULE, &[missing]));
        assert!(note.contains(why), "{note}");
        assert_eq!(found.judgement.decisive(), found.judgement.nothing_placed().next());
    }

    #[test]
    fn a_job_without_procedures() {
        let found = Bench::new().without_procedure().check();
        not_known(&found, "a procedure", "no procedure is chosen");
        // what does not fit does not fit all the same
        let narrow = Bench::new().without_procedure().pose(1000.0, 10000.0, 0.0).check();
        assert_eq!(narrow.judgement.verdict, Verdict::DoesNotFit);
        let both = Bench::new().without_procedure().ceiling(None).check();
        let names: Vec<_> = both.judgement.missing.iter().map(|m| m.word()).collect();
        assert_eq!(names, ["a procedure", "ceiling"]);
        assert_eq!(
            both.judgement.decisive(),
            both.judgement.nothing_placed().next(),
            "the verdict rests on it"
        );
    }

    #[test]
    fn every_setup_falls_away() {
        let missing = "a setup of P that applies";
        let bench = || Bench::new().vehicle(RADAR);
        // the radar sits in the middle: neither its left nor its right setup applies
        let on = |side: &str| board(side, &format!(r#"only_if: SensorOn("front radar", {side})"#));
        let sided = bench().setup(&on("Left")).setup(&on("Right"));
        not_known(&sided.clone().check(), missing, "only where front radar sits on the left");
        assert_eq!(sided.setup(&on("Middle")).check().judgement.verdict, Verdict::Fits);
        let off = |y: f64| {
            let radar = RADAR.replace("(700, 0, 500)", &format!("(700, {y:?}, 500)"));
            Bench::new().vehicle(&radar).setup(&on("Middle")).check()
        };
        assert_eq!(off(0.0).judgement.verdict, Verdict::Fits);
        not_known(&off(1.0), missing, "sits in the middle");
        let variant = r#"variants: {"rails": {}}"#;
        let only = bench().procedure(variant).setup(&board("Only", r#"only: ["rails"]"#));
        not_known(&only.check(), missing, "only with rails");
        // the one station of a setup falls away
        let station = BOARD.replace("looks:", r#"only: ["rails"], looks:"#);
        not_known(&bench().procedure(variant).setup(&station).check(), missing, "board: only with rails");
        // what cannot be told is missing by its own name
        let found = bench().setup(&board("Night", r#"only_if: SensorOn("night camera", Left)"#)).check();
        assert_eq!(found.judgement.missing.iter().map(|m| m.word()).collect::<Vec<_>>(), ["night camera"]);
    }

    #[test]
    fn a_setup_in_which_nothing_stands() {
        let missing = "a setup of P that applies";
        for setup in [
            r#"name: "S""#,
            r#"name: "S", marks: [("X", Along(line: Centre, from: "FA", by: 3000))]"#,
            r#"name: "S", vehicle_state: ["nobody inside"], readings: ["lamp height"]"#,
        ] {
            not_known(&Bench::new().setup(setup).check(), missing, "sets up no target");
        }
        for placed in [
            r#"name: "S", lines: [(line: Centre, from: "FA", reach: 3000)]"#,
            r#"name: "S", zones: [(name: "z", shape: AroundVehicle(ahead: 1, behind: 1, left: 1, right: 1), free_of: [Metal])]"#,
            BOARD,
        ] {
            assert_eq!(Bench::new().setup(placed).check().judgement.verdict, Verdict::Fits, "{placed}");
            // an empty one beside it does no harm
            let beside = Bench::new().setup(placed).setup(r#"name: "Empty""#).check();
            assert_eq!(beside.judgement.verdict, Verdict::Fits, "{placed}");
        }
    }

    #[test]
    fn no_procedure_that_applies_to_this_vehicle() {
        let setup = r#"name: "S", marks: [("X", Under(Sensor("front radar")))], stations: [(name: "b", target: "board", at: "X", looks: Backward, height: Floor(300))]"#;
        let found = Bench::new().vehicle(r#"without: ["front radar"]"#).setup(setup).check();
        not_known(&found, "a procedure that applies to this vehicle", "applies to this vehicle");
    }

    #[test]
    fn a_way_in_which_nothing_stands() {
        // the empty way is no way that fits: the other is taken though it is listed later
        let empty = r#"name: "Empty""#;
        let ways = r#"ways: {"at once": ["Empty"], "with the board": ["Board ahead"]}"#;
        let found = Bench::new().procedure(ways).setup(empty).setup(BOARD).check();
        assert_eq!(&*found.judgement.ways[0].way, "with the board");
        assert_eq!(found.judgement.verdict, Verdict::Fits);
        // what all ways have in common does not do the work
        let common = BOARD.replace("Board ahead", "Common");
        let ways = r#"ways: {"at once": ["Empty"]}"#;
        let found = Bench::new().procedure(ways).setup(empty).setup(&common).check();
        not_known(&found, "a setup of P that applies", "");
    }
}
