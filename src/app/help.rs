//! Who took responsibility for a finding.

use super::cx::Cx;
use crate::checks::Finding;

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
