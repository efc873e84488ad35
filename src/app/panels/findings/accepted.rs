//! Who took responsibility for a finding.

use crate::app::state::panel_context::PanelContext;
use crate::checks::Finding;
use crate::checks::acceptance::entry;

/// Who accepted a finding, and why.
pub(super) fn accepted_words(cx: PanelContext, finding: &Finding) -> Option<String> {
    let accepted = entry(cx.document.bundle(), finding)?;
    let mut words = accepted.reason.clone();
    for part in [&accepted.by, &accepted.on] {
        if !part.is_empty() {
            words += &format!(", {part}");
        }
    }
    Some(words)
}
