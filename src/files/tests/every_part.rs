//! Every field, number and word of a file, spoiled one by one.

use proptest::prelude::*;

use super::samples::{ALL, BAY, EQUIPMENT, JOB, PROCEDURE, VEHICLE};
use super::{Kind, faults, faults_as, kind_of};
use crate::syntax::{Id, Kind as Part, Tree};

/// Fields a file can do without; every other one is missed when it is gone. A wall's name, a station's height, a
/// figure's source and parts of a tolerance may go too, but other things cannot do without theirs.
const OPTIONAL: &[&str] = &[
    "format",
    "surveyed",
    "ceiling",
    "walls",
    "doorways",
    "fixtures",
    "lifts",
    "keep_clear",
    "heights",
    "rules",
    "apron",
    "leaf",
    "turn",
    "z",
    "surface",
    "movable",
    "overhead",
    "clear_by",
    "posts",
    "post_height",
    "runways",
    "because",
    "walk_around",
    "clearance",
    "headroom",
    "measuring",
    "level",
    "mirrors",
    "outline",
    "points",
    "sensors",
    "facing",
    "tilt",
    "view",
    "without",
    "turning_circle",
    "thickness",
    "stand",
    "stand_height",
    "room_behind",
    "owned",
    "code",
    "system",
    "source",
    "values",
    "variants",
    "measured",
    "ask",
    "unit",
    "between",
    "vehicle_state",
    "light_note",
    "floor_note",
    "ambient_note",
    "marks",
    "zones",
    "free_of",
    "may_move_between_setups",
    "missing",
    "stations",
    "looks",
    "anchor",
    "of",
    "tolerance",
    "faces",
    "stands_by",
    "tolerate_below",
    "seen",
    "beside",
    "above",
    "below",
    "sights",
    "within",
    "lines",
    "variant",
    "support",
    "rear_toe",
    "front_toe",
    "choose",
    "figures",
    "doors_open",
    "cleared",
    "accepted",
    "enter_by",
    "reason",
    "by",
    "on",
    "installed",
    "floor_lines",
    "serves",
    "pairs",
    "ways",
    "vehicle_state_in",
    "needs",
    "derived",
    "pick",
    "printed",
    "valid",
    "readings",
    "mirrored",
    "stand_on",
    "only",
    "only_if",
    "checks",
    "in_turn",
    "on_face",
    "draw",
    "fixed_to",
    "path",
    "over_vehicle",
    "is",
    "roll",
    "up",
    "market",
    "way",
    "swap",
    "kind",
    "width",
    "count",
    "until",
    "drive_in",
    "straight_run",
    "when",
];

/// Fields whose loss leaves others referring to nothing, or a shape without its size.
fn leaves_holes(field: &str) -> bool {
    matches!(
        field,
        "marks"
            | "stations"
            | "station"
            | "zones"
            | "values"
            | "measured"
            | "left"
            | "across"
            | "variants"
            | "derived"
            | "mirrored"
    )
}

struct Field {
    open: usize,
    name: std::ops::Range<usize>,
    whole: std::ops::Range<usize>,
}

fn every_part(tree: &Tree) -> Vec<Id> {
    let mut all: Vec<Id> = tree.root().into_iter().collect();
    let mut i = 0;
    while let Some(id) = all.get(i) {
        all.extend(tree.entries(*id).iter().map(|e| e.value));
        i += 1;
    }
    all
}

fn every_field(text: &str) -> Vec<Field> {
    let tree = Tree::new(text);
    let mut all = Vec::new();
    for id in every_part(&tree).into_iter().filter(|id| tree.kind(*id) == Part::Fields) {
        for entry in tree.entries(id) {
            let whole = tree.entry_range(entry);
            let comma = text[whole.end..].starts_with(',');
            all.push(Field {
                open: tree.bracket(id),
                name: whole.start..whole.start + tree.key(entry).len(),
                whole: whole.start..whole.end + usize::from(comma),
            });
        }
    }
    all
}

fn place(text: &str, offset: usize) -> String {
    let (line, column) = super::Source::new("x.ron", text).place(offset);
    format!("{line}:{column}: ")
}

#[test]
fn the_samples_are_whole() {
    let kinds = ALL.map(|text| kind_of(text).expect("a kind"));
    assert_eq!(kinds, Kind::ALL);
    for text in ALL {
        assert_eq!(faults(text), [""; 0]);
        let dos = text.replace('\n', "\r\n").replace("    ", "\t");
        assert_eq!(faults(&format!("\u{feff}{dos}")), [""; 0], "line ends, tabs and a mark at the start");
        assert_eq!(faults(&text.replace("format: 1,", "// no format\n")), [""; 0]);
    }
}

/// What a workshop's file may leave out.
const OPTIONAL_IN_A_WORKSHOP: &[&str] = &[
    "folders",
    "bays",
    "vehicles",
    "equipment",
    "procedures",
    "jobs",
    "records",
    "units",
    "tape",
    "error",
    "per_metre",
    "people",
    "identify",
    "note",
    "touches",
    "source",
    "coming_in",
    "money",
    "in_house",
    "sent_out",
    "days",
    "gear",
    "legal",
    "whole",
    "indoors",
];

/// A field that is missed is reported where its bracket opens; nothing else is.
#[test]
fn each_field_left_out_is_missed_once_or_not_at_all() {
    let mut missed = 0;
    for text in ALL {
        for field in every_field(text) {
            let name = &text[field.name.clone()];
            let bracket = &text[field.open..field.whole.end];
            let mut less = text.to_owned();
            let gone = " ".repeat(field.whole.len());
            less.replace_range(field.whole.clone(), &gone);
            let kind = kind_of(text).expect("a kind");
            let found = faults_as(kind, &less);
            let found: Vec<String> =
                found.iter().map(|f| format!("{}:{}: {}", f.line, f.column, f.text)).collect();
            let lacks = found.iter().filter(|f| f.contains(&format!("lacks the field `{name}`"))).count();
            let may_go = OPTIONAL.contains(&name)
                || kind == Kind::Workshop && OPTIONAL_IN_A_WORKSHOP.contains(&name)
                || matches!(
                    name,
                    "name" | "height" | "from" | "along" | "across" | "behind" | "ahead" | "station"
                );
            if lacks == 1 {
                missed += 1;
                let at = place(text, field.open);
                assert!(found.iter().any(|f| f.starts_with(&at)), "{name} in {bracket}: {found:#?}");
            }
            let others = found.len() - lacks;
            assert!(others == 0 || leaves_holes(name), "{name} in {bracket}: {found:#?}");
            assert!(lacks == 1 || may_go || leaves_holes(name), "{name} in {bracket}: {found:#?}");
        }
    }
    assert!(missed > 70, "only {missed} fields are missed");
}

/// A misspelt field is reported at its own place, with the right spelling, and what it holds is still read.
#[test]
fn each_field_misspelt_is_named_with_the_right_spelling() {
    for text in ALL {
        for field in every_field(text) {
            let name = &text[field.name.clone()];
            if name.len() < 3 {
                continue;
            }
            let mut wrong = name.to_owned();
            let last = wrong.pop().expect("a letter");
            wrong.insert(wrong.len() - 1, last);
            if wrong == name {
                wrong.push('x');
            }
            let mut spoiled = text.to_owned();
            spoiled.replace_range(field.name.clone(), &wrong);
            let found = faults_as(kind_of(text).expect("a kind"), &spoiled);
            assert_eq!(found.len(), 1, "{wrong}: {found:#?}");
            let said = found[0].to_string();
            assert!(said.contains(&place(text, field.name.start)), "{said}");
            assert!(said.contains(&format!("has no field `{wrong}`; did you mean `{name}`?")), "{said}");
        }
    }
}

/// A number that is no number is reported at its place and nowhere else, whatever it is a number of.
#[test]
fn each_number_spoiled_is_one_fault_at_its_place() {
    let mut spoiled_numbers = 0;
    for text in ALL {
        let tree = Tree::new(text);
        for id in every_part(&tree).into_iter().filter(|id| tree.kind(*id) == Part::Number) {
            let (range, word) = (tree.range(id), tree.source(id));
            for bad in ["NaN", "-inf", "1e300", "\"x y\" "] {
                let mut spoiled = text.to_owned();
                spoiled.replace_range(range.clone(), bad);
                let found = faults_as(kind_of(text).expect("a kind"), &spoiled);
                let at = place(text, range.start);
                assert_eq!(found.len(), 1, "{bad} for {word} at {at}: {found:#?}");
                assert!(found[0].to_string().contains(&at), "{bad} for {word} at {at}: {found:#?}");
                spoiled_numbers += 1;
            }
        }
    }
    assert!(spoiled_numbers > 500, "{spoiled_numbers}");
}

/// Several faults in one bracket are all reported.
#[test]
fn spoiling_two_fields_of_one_bracket_gives_two_faults() {
    for text in ALL {
        let fields = every_field(text);
        for pair in fields.windows(2) {
            if pair[0].open != pair[1].open || pair[0].name.len() < 5 || pair[1].name.len() < 5 {
                continue;
            }
            let mut spoiled = text.to_owned();
            for field in pair.iter().rev() {
                spoiled.insert(field.name.end, 'q');
            }
            let found = faults_as(kind_of(text).expect("a kind"), &spoiled);
            let two: Vec<_> = found.iter().filter(|f| f.text.contains("has no field")).collect();
            assert_eq!((two.len(), found.len()), (2, 2), "{found:#?}");
        }
    }
}

proptest! {
    #![proptest_config(crate::seeds::cases(400))]

    /// Whatever is done to a file, reading it ends, and ends with a value or with a fault, never a panic.
    #[test]
    fn torn_files_are_refused_or_read(
        which in 0usize..5,
        cuts in proptest::collection::vec((0usize..3000, 0usize..30, "[\\[\\](){},:\"'/*a-zA-Z0-9.\\-\\\\ \n#é]{0,6}"), 1..4),
    ) {
        let text = [BAY, VEHICLE, EQUIPMENT, PROCEDURE, JOB][which];
        let mut torn: Vec<char> = text.chars().collect();
        for (at, len, new) in cuts {
            let at = at % torn.len().max(1);
            let end = (at + len).min(torn.len());
            torn.splice(at..end, new.chars());
        }
        let torn: String = torn.into_iter().collect();
        let kind = kind_of(text).expect("a kind");
        let source = super::Source::new("x.ron", &torn);
        for fault in faults_as(kind, &torn) {
            prop_assert!(fault.line >= 1 && fault.column >= 1);
            prop_assert!(fault.line <= source.text.split('\n').count());
            prop_assert!(!fault.text.is_empty());
        }
    }
}
