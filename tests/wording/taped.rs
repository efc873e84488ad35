//! What is said of bays measured by tape. The bays are named in Greek, so that what Latin is left is English.

use std::path::Path;

use baywright::files::read_text;
use baywright::layout::taped::{TapeError, corners};
use baywright::model::Bay;
use baywright::phrases::{Say, Words};
use baywright::report::{self, Show};

use crate::nonsense::{Names, english_left, words};
use crate::unsaid;
use crate::workshop::workshop;

const SIX: &str =
    "(0, 1, 5500), (1, 2, 12000), (2, 3, 5500), (3, 0, 12000), (0, 2, 13200.4), (1, 3, 13200.4)";
const JAMBS: &str = "(2, Jamb(\"πύλη\", From), 12851.5), (3, Jamb(\"πύλη\", From), 12033.7),
    (2, Jamb(\"πύλη\", To), 12041.6), (3, Jamb(\"πύλη\", To), 12816.0), (0, Jamb(\"πύλη\", From), 900),
    (1, Jamb(\"πύλη\", From), 4600)";

fn page(floor: &str, taped: &str, words: &'static Words) -> String {
    let text = format!(
        "(name: \"στοά\", floor: [{floor}], ceiling: 3000, taped: [{taped}],
            doorways: [(name: \"πύλη\", side: 0, from: 900, width: 3600, height: 3000)])"
    );
    let bay: Bay = read_text(&text, Path::new("bay.ron")).unwrap_or_else(|f| panic!("{f:?}"));
    report::corners::page(&bay, &corners(&bay, TapeError::default()), Say::new(Show::Mm, words))
}

/// The page of each case there is.
pub(crate) fn said(words: &'static Words) -> String {
    let floor = "(0, 0), (5500, 0), (5500, 12000), (0, 12000)";
    let wrong = SIX.replace("(1, 3, 13200.4)", "(1, 3, 13240)");
    let circle: Vec<String> = (0..12)
        .map(|i| f64::from(i) * std::f64::consts::TAU / 12.0)
        .map(|a| format!("({:?}, {:?})", 9000.0 * a.cos(), 9000.0 * a.sin()))
        .collect();
    let cases = [
        (floor, String::new()),
        (floor, "(0, 1, 5500)".into()),
        (&circle.join(", "), "(0, 1, 4658.7)".into()),
        (floor, SIX.replace("12000", "900000")),
        (floor, SIX.replace("(0, 1, 5500)", "(0, 1, 1000000)").replace("13200.4", "0.001")),
        (
            "(0, 0), (5500, 0), (5500, 12000), (0, 12000), (900, 6000)",
            format!("{SIX}, (3, 4, 8500), (4, 0, 8500)"),
        ),
        (floor, format!("{SIX}, (0, Jamb(\"πύλη\", To), 4500)")),
        (floor, SIX.replace(", (1, 3, 13200.4)", "")),
        (floor, SIX.into()),
        (floor, format!("{SIX}, (0, Jamb(\"πύλη\", From), 900)")),
        (floor, wrong.clone()),
        (floor, format!("{wrong}, {JAMBS}")),
        (floor, format!("{}, {JAMBS}", SIX.replace("(1, 3, 13200.4)", "(1, 3, 13160)"))),
    ];
    cases.iter().map(|(floor, taped)| page(floor, taped, words)).collect()
}

#[test]
fn no_english_is_left_on_the_page_of_a_taped_bay() {
    let all = report::phrases();
    let words = words(&all);
    let text = said(words);
    let names = Names::of(&baywright::layout::Layout::new(&workshop(None)).unwrap(), &[]);
    let left = english_left(&text, &names);
    assert!(left.is_empty(), "{left:#?}");
    let unsaid: Vec<String> =
        unsaid(&all, &text).into_iter().filter(|key| key.starts_with("corners.")).collect();
    assert!(unsaid.is_empty(), "{unsaid:?}");
}
