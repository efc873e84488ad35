//! A rule is one file: nobody else has a case for it.

use super::sources;

/// Who names a rule outside its own file, each with the reason. Everybody else asks the rule: its policy, its words.
const NAMES_A_RULE: [(&str, &str); 11] = [
    ("src/checks/verdict.rs", "what was accepted in vain, and that nothing is placed, is to be confirmed"),
    ("src/report/words.rs", "lengths that disagree are told apart from room"),
    ("src/scene/way.rs", "the least room is drawn on the way in"),
    ("src/app/panels/job/missing_figures.rs", "which targets nobody counted"),
    ("src/app/panels/job/readiness.rs", "the list of what is to be confirmed"),
    ("src/app/state/view_state.rs", "what is nearest on the way in is told only once the way is found"),
    (
        "src/advice/cards.rs",
        "a place the bay fixes is cured by its own miss; the way in is not driven in a trial",
    ),
    ("src/advice/standing.rs", "what a trial leaves of lengths, of the floor and of the way in"),
    ("src/siting/heading.rs", "of equals the lift is told"),
    ("src/siting/maker/mod.rs", "walls driven up to, boxes round faces"),
    ("src/siting/maker/", "the lift, a place the bay fixes, zones, targets on a wall"),
];

/// A new rule touches its own file and the one list: nobody else has a case for it.
#[test]
fn rules_are_asked_not_named() {
    let mut met = Vec::new();
    for source in sources("src").iter().filter(|s| !s.name.starts_with("src/checks/rules") && !s.is_test()) {
        let code = source.code.split("#[cfg(test)]").next().unwrap_or_default();
        let named = code.split("RuleId::").skip(1).any(|rest| {
            let word: String = rest.chars().take_while(|c| c.is_alphanumeric()).collect();
            word != "ALL" && word.starts_with(char::is_uppercase)
        });
        if named {
            let excused = NAMES_A_RULE.iter().find(|(name, _)| source.name.starts_with(name));
            let (name, _) = excused.unwrap_or_else(|| panic!("{} names a rule: ask the rule", source.name));
            met.push(*name);
        }
    }
    for (name, reason) in NAMES_A_RULE {
        assert!(met.contains(&name) && !reason.is_empty(), "{name} needs no exception");
    }
}
