//! Heights of the floor that are not in the bay's file yet: a table as it is typed.

use std::collections::HashSet;

use crate::app::widgets::number_field;
use crate::edit::Document;
use crate::files::{Bare, HeightTable, Typed, write_heights};
use crate::geometry::P2;
use crate::model::bay::SpotHeight;
use crate::model::{Bay, Name};
use crate::units::format_height;

/// Endings of files that are read as a table of heights.
pub(crate) const TABLES: [&str; 3] = ["csv", "tsv", "txt"];

/// A height that is being typed for a place of the floor.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Height {
    pub at: P2,
    /// Which of the bay's heights this is, where it is one.
    pub spot: Option<usize>,
    pub text: String,
    pub fault: Option<String>,
    pub focused: bool,
}

/// Heights of the floor under change.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SurveyDraft {
    /// The bay's file, as the job names it.
    bay: Name,
    pub(in crate::app) typed: Typed,
    /// Text and error as the bay's file has them.
    before: (String, String),
}

impl SurveyDraft {
    pub(in crate::app) fn of(file: &Name, bay: &Bay) -> SurveyDraft {
        let text = write_heights(&bay.heights);
        let error = bay.reading_error.map(|e| e.to_string()).unwrap_or_default();
        SurveyDraft {
            bay: file.clone(),
            before: (text.clone(), error.clone()),
            typed: Typed { text, error, places: Bare::Mm, heights: Bare::Mm },
        }
    }

    /// Whether it was entered for the bay the job stands in.
    pub(crate) fn is_for(&self, document: &Document) -> bool {
        self.bay == document.job().bay
    }

    /// Whether it says something else than the bay's file.
    pub(crate) fn is_changed(&self) -> bool {
        (self.typed.text.trim(), self.typed.error.trim()) != (self.before.0.trim(), self.before.1.trim())
    }

    /// Bare figures are in other units from now on; the lines of the bay's file say the same as before.
    pub(in crate::app) fn read_in(&mut self, places: Bare, heights: Bare) {
        let own: HashSet<&str> = self.before.0.lines().collect();
        let line = |l: &str| match own.contains(l) {
            true => format!("{} mm\n", l.replace(',', " mm,")),
            false => format!("{l}\n"),
        };
        self.typed.text = self.typed.text.lines().map(line).collect();
        (self.typed.places, self.typed.heights) = (places, heights);
    }

    /// The job names its files in another way.
    pub(crate) fn rename(&mut self, rename: impl Fn(&str) -> String) {
        self.bay = rename(self.bay.as_str()).into();
    }

    pub(in crate::app) fn table(&self) -> HeightTable {
        HeightTable::read(&self.typed.text, self.typed.places, self.typed.heights)
    }

    pub(in crate::app) fn reading_error(&self) -> Result<Option<f64>, String> {
        match self.typed.error.trim() {
            "" => Ok(None),
            text => match number_field::read_length(text) {
                Ok(mm) if mm >= 0.0 => Ok(Some(mm)),
                Ok(_) => Err("a reading error is not below 0".into()),
                Err(why) => Err(why),
            },
        }
    }
}

/// How much there is in a table, in words. `faults`: how many of its lines cannot be used.
pub(in crate::app) fn summary(heights: &[SpotHeight], faults: usize, feet: bool) -> String {
    let spots = match heights.len() {
        1 => "1 spot".to_owned(),
        n => format!("{n} spots"),
    };
    let figures = || heights.iter().map(|s| s.2);
    let lo = figures().min_by(f64::total_cmp);
    let range = lo.zip(figures().max_by(f64::total_cmp));
    let unit = if feet { "" } else { " mm" };
    let range = range.map_or(String::new(), |(lo, hi)| {
        format!(", {} to {}{unit}", format_height(lo, feet), format_height(hi, feet))
    });
    let faults = match faults {
        0 => String::new(),
        1 => "; 1 line cannot be used".into(),
        n => format!("; {n} lines cannot be used"),
    };
    let few = match heights.len() {
        1 | 2 => "; it takes at least three to know the floor between them",
        _ => "",
    };
    format!("{spots}{range}{faults}{few}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::read_text;

    const BAY: &str = r#"(name: "Shed", floor: [(0, 0), (4000, 0), (4000, 9000), (0, 9000)], ceiling: 3000,
        heights: [(0, 0, 1), (4000, 0, -2.5)], reading_error: 0.5)"#;

    fn draft() -> SurveyDraft {
        let bay: Bay = read_text(BAY, std::path::Path::new("bay.ron")).unwrap();
        SurveyDraft::of(&"bay.ron".into(), &bay)
    }

    #[test]
    fn it_is_told_how_much_there_is() {
        let d = draft();
        assert!(!d.is_changed());
        assert!(summary(&d.table().spots, 0, false).starts_with("2 spots, -2.5 to +1 mm;"));
        assert!(summary(&d.table().spots, 2, false).contains("; 2 lines cannot be used"));
    }

    #[test]
    fn another_unit_is_for_what_is_pasted_not_for_the_bays_own_heights() {
        let mut d = draft();
        d.typed.text += "1.5 2 -0.003\n";
        d.read_in(Bare::Metre, Bare::Metre);
        let spots: Vec<(f64, f64, f64)> = d.table().spots.iter().map(|s| (s.0, s.1, s.2)).collect();
        assert_eq!(spots, [(0.0, 0.0, 1.0), (4000.0, 0.0, -2.5), (1500.0, 2000.0, -3.0)]);
    }

    #[test]
    fn the_reading_error_of_the_file_stays_whole() {
        let bay: Bay = read_text(&BAY.replace("0.5)", "0.396875)"), std::path::Path::new("bay.ron")).unwrap();
        assert_eq!(SurveyDraft::of(&"bay.ron".into(), &bay).reading_error(), Ok(Some(0.396875)));
    }

    fn draft_of_error(text: &str) -> SurveyDraft {
        let mut d = draft();
        d.typed.error = text.into();
        d
    }

    #[test]
    fn a_reading_error_is_a_length_of_at_least_nothing() {
        for (text, read) in [("", Ok(None)), ("0.3", Ok(Some(0.3))), ("0,3 mm", Ok(Some(0.3)))] {
            assert_eq!(draft_of_error(text).reading_error(), read, "{text}");
        }
        for text in ["-1", "a"] {
            assert!(draft_of_error(text).reading_error().is_err(), "{text}");
        }
    }
}
