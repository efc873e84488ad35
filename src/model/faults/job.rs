//! What a job file says that cannot be used, whatever the files it names say.

use crate::model::job::Job;
use crate::model::{RuleId, words};

use super::{Defect, Defects};

/// A procedure listed twice in the same variant, findings accepted of a rule there is not.
pub fn job(job: &Job) -> Vec<Defect> {
    let mut out = Defects::default();
    for (i, chosen) in job.procedures.iter().enumerate() {
        if job.procedures[..i].contains(chosen) && !chosen.file.as_str().is_empty() {
            let text = match &chosen.variant {
                Some(variant) => format!("{:?} is listed twice in the variant {variant:?}", chosen.file),
                None => format!("{:?} is listed twice", chosen.file),
            };
            out.at(chosen.file.spot, text, Some("list it once".into()));
        }
    }
    for accepted in &job.accepted {
        if RuleId::read(accepted.rule.as_str()).is_none() && !accepted.rule.as_str().is_empty() {
            let known = RuleId::ALL.iter().map(|r| r.word());
            let hint = words::suggest(accepted.rule.as_str(), "rule", known);
            out.at(accepted.rule.spot, format!("there is no rule {:?}", accepted.rule), hint);
        }
    }
    out.0
}
