//! Whole jobs: every file named, every fault collected, every name borne out.

use std::path::{Path, PathBuf};

use super::super::{FileFault, Severity, Source, open_held, open_job, read_job, relative_path, validate};
use super::samples;
use crate::model::{Fault, FileOf, Spot};

struct Shop(tempfile::TempDir);

impl Shop {
    fn new() -> Self {
        let shop = Shop(tempfile::tempdir().expect("folder"));
        shop.put("bays/bay.ron", samples::BAY);
        shop.put("vehicles/van.ron", samples::VEHICLE);
        shop.put("equipment/set.ron", samples::EQUIPMENT);
        shop.put("procedures/radar.ron", samples::PROCEDURE);
        shop.put("job.ron", samples::JOB);
        shop
    }
    fn at(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }
    fn put(&self, name: &str, text: &str) {
        let path = self.at(name);
        std::fs::create_dir_all(path.parent().expect("folder")).expect("folder");
        std::fs::write(path, text).expect("write");
    }
    fn change(&self, name: &str, from: &str, to: &str) {
        let text = std::fs::read_to_string(self.at(name)).expect("read");
        assert!(text.contains(from), "{from}");
        self.put(name, &text.replace(from, to));
    }
    fn faults(&self) -> Vec<String> {
        let faults = open_job(&self.at("job.ron")).expect_err("broken");
        faults.iter().map(|f| self.short(f)).collect()
    }
    fn short(&self, fault: &FileFault) -> String {
        format!(
            "{}:{}:{}: {}",
            relative_path(self.0.path(), &fault.path),
            fault.line,
            fault.column,
            fault.text
        )
    }
}

#[test]
fn a_whole_job_opens_and_places_later_faults() {
    let shop = Shop::new();
    let opened = open_job(&shop.at("job.ron")).expect("whole");
    assert_eq!(opened.bundle.bay.name, "Bay 2");
    assert_eq!(opened.bundle.procedures.len(), 1);
    assert_eq!(opened.bundle.needs().walk_around, 450.0);
    assert_eq!(opened.sources.paths().len(), 5);
    let mark = &opened.bundle.procedures[0].setups[0].marks[9].0;
    let fault = opened.fault(&Fault {
        file: FileOf::Procedure(0),
        spot: mark.spot,
        text: "the two tapes do not meet".into(),
        hint: None,
    });
    assert_eq!(shop.short(&fault), "procedures/radar.ron:31:14: the two tapes do not meet");
    let again = open_held(&opened.bundle.job, &shop.at("other.ron")).expect("whole");
    assert_eq!(again.bundle, opened.bundle);
    let lost = Fault { file: FileOf::Procedure(7), spot: Spot(3), text: "x".into(), hint: None };
    assert_eq!(opened.fault(&lost).to_string(), ": x");
    assert!(validate(&shop.at("job.ron")).iter().all(|n| n.severity == Severity::Warning));
}

#[test]
fn files_that_cannot_be_read_are_named_where_the_job_names_them() {
    let shop = Shop::new();
    shop.change("job.ron", "bays/bay.ron", "bays/bey.ron");
    shop.change("job.ron", "vehicles/van.ron", "vehicles");
    shop.change("job.ron", "equipment/set.ron", "gone/set.ron");
    std::fs::write(shop.at("procedures/radar.ron"), b"(name: \"\xff\")").expect("write");
    let faults = open_job(&shop.at("job.ron")).expect_err("broken");
    let said: Vec<String> = faults.iter().map(|f| shop.short(f)).collect();
    assert_eq!(
        said,
        [
            "job.ron:3:27: \"bays/bey.ron\" cannot be read as a bay: there is no such file",
            "job.ron:3:52: \"vehicles\" cannot be read as a vehicle: this is a folder, not a file",
            "job.ron:3:75: \"gone/set.ron\" cannot be read as equipment: there is no such file",
            "procedures/radar.ron:1:9: this file is not UTF-8 text: the byte here stands for no character",
        ]
    );
    let hints: Vec<_> = faults.iter().map(|f| f.hint.as_deref().unwrap_or("")).collect();
    assert_eq!(hints[0], "did you mean \"bay.ron\"?");
    assert_eq!(hints[1], "name a file in it");
    assert!(hints[2].starts_with("there is no folder"), "{}", hints[2]);
}

#[test]
fn a_job_half_made_can_be_kept_but_not_opened() {
    let shop = Shop::new();
    shop.change("job.ron", "bays/bay.ron", "");
    shop.change("job.ron", "vehicles/van.ron", " ");
    let half = read_job(&shop.at("job.ron")).expect("a job");
    assert!(crate::model::writing::spell_whole(&half).is_ok());
    assert_eq!(
        shop.faults(),
        ["job.ron:3:27: the job names no bay file", "job.ron:3:40: the job names no vehicle file"]
    );
    shop.change("job.ron", "bay: \"\"", "bay: 5");
    assert_eq!(shop.faults()[0], "job.ron:3:27: expected a name in quotes, found 5");
}

#[test]
fn the_faults_of_all_files_are_collected() {
    let shop = Shop::new();
    shop.change("job.ron", "support:", "suport:");
    shop.change("bays/bay.ron", "ceiling: 4200", "ceiling: -1");
    shop.change("vehicles/van.ron", "length: 4620", "length: 3000");
    shop.change("equipment/set.ron", "kind: Mat", "kind: Carpet");
    shop.change("procedures/radar.ron", "Midway(\"C\", \"E\")", "Midway(\"C\", \"EE\")");
    assert_eq!(
        shop.faults(),
        [
            "job.ron:6:5: a job has no field `suport`",
            "bays/bay.ron:6:14: expected a size above zero, found -1",
            "vehicles/van.ron:4:13: the length of 3000 is less than front_overhang and wheelbase together, 3620",
            "vehicles/van.ron:7:14: the outline reaches 3690 behind the front axle, where length and front_overhang say 2070",
            "equipment/set.ron:7:28: `Carpet` is not a word that may stand here",
            "procedures/radar.ron:28:31: there is no mark \"EE\"",
        ]
    );
    assert_eq!(validate(&shop.at("job.ron")).iter().filter(|n| n.severity == Severity::Error).count(), 6);
}

#[test]
fn a_file_of_another_kind_is_named() {
    let shop = Shop::new();
    shop.change("job.ron", "bays/bay.ron", "vehicles/van.ron");
    assert_eq!(
        shop.faults(),
        ["vehicles/van.ron:1:1: expected a bay, but the fields here are those of a vehicle"]
    );
}

#[test]
fn names_in_a_job_must_be_there() {
    for (from, to, said) in [
        ("\"with rails\"", "^\"with rials\"", "\"Example radar\" has no variant \"with rials\""),
        ("[\"roller door\"]", "[^\"rolling door\"]", "there is no doorway \"rolling door\""),
        ("[\"cabinet\"]", "[^\"cupboard\"]", "there is no fixture \"cupboard\""),
        ("[\"cabinet\"]", "[^\"roller door\"]", "\"roller door\" is a doorway and cannot be cleared away"),
        ("enter_by: \"roller door\"", "enter_by: ^\"window\"", "there is no doorway \"window\""),
        ("Lift(name: \"two-post\"", "Lift(name: ^\"scissor\"", "there is no lift \"scissor\""),
        ("height: 400.5", "height: ^400", "the lift \"two-post\" cannot hold a vehicle at 400"),
        ("\"gap\": 900", "^\"gap\": 799", "799 is not a choice for \"gap\""),
        ("\"side\": 400", "^\"side\": 350", "350 is not a choice for \"side\""),
        ("\"side\": 400", "^\"distance\": 400", "the value \"distance\" leaves no choice"),
        ("\"side\": 400", "^\"height\": 400", "the value \"height\" leaves no choice"),
        ("\"side\": 400", "^\"sides\": 400", "no procedure of this job has a value \"sides\" to choose"),
        (
            "{\"height\": (mm",
            "{^\"hight\": (mm",
            "no procedure of this job has a value \"hight\" that is missing",
        ),
        ("{\"height\": (mm", "{^\"gap\": (mm", "the value \"gap\" is not missing: the procedure gives it"),
        (
            "{\"lamp height\"",
            "{^\"lamp hight\"",
            "no procedure of this job asks for \"lamp hight\" to be measured",
        ),
        ("\"bench\"]", "^\"banch\"]", "there is no thing \"banch\""),
        ("rule: \"vehicle-clear\"", "rule: ^\"vehicle-clean\"", "there is no rule \"vehicle-clean\""),
    ] {
        let shop = Shop::new();
        let marked = samples::JOB.replacen(from, to, 1);
        let at = marked.find('^').expect("the place is marked");
        let text = marked.replacen('^', "", 1);
        let (line, column) = Source::new("job.ron", &text).place(at);
        shop.put("job.ron", &text);
        assert_eq!(shop.faults(), [format!("job.ron:{line}:{column}: {said}")], "{to}");
    }
    for (from, to) in [
        ("height: 400.5", "height: 0"),
        ("\"gap\": 900", "\"gap\": 1200"),
        ("\"bench\"]", "\"two-post post 1\"]"),
        ("\"bench\"]", "\"wall 3\"]"),
        ("\"bench\"]", "\"roller door apron\"]"),
        ("measured: {\"lamp height\": 702}", "measured: {\"lamp height\": 99999}"),
    ] {
        let shop = Shop::new();
        shop.change("job.ron", from, to);
        assert!(open_job(&shop.at("job.ron")).is_ok(), "{to}");
    }
}

#[test]
fn a_procedure_listed_in_two_variants_is_read_for_both() {
    let shop = Shop::new();
    let twice = "[(file: \"procedures/radar.ron\"), (file: \"procedures/radar.ron\", variant: \"with rails\", variants: [\"low\"], way: \"at once\")]";
    shop.change(
        "job.ron",
        "[(file: \"procedures/radar.ron\", variant: \"with rails\", variants: [\"low\"], way: \"at once\")]",
        twice,
    );
    let opened = open_job(&shop.at("job.ron")).expect("whole");
    assert_eq!(opened.bundle.procedures.len(), 2);
    assert!(opened.sources.path(FileOf::Procedure(1)).is_some_and(|p| p.ends_with("radar.ron")));
    assert_eq!(opened.sources.paths().len(), 5);
    shop.change("procedures/radar.ron", "distance\": 2017", "distance\": -inf");
    assert_eq!(shop.faults().len(), 1, "a file named twice is reported once");
}

#[test]
fn there_must_be_a_job() {
    let shop = Shop::new();
    let faults = open_job(&shop.at("none.ron")).expect_err("no file");
    assert_eq!(shop.short(&faults[0]), "none.ron:0:0: there is no such file");
    assert!(open_job(Path::new("")).is_err());
    let notices = validate(&shop.at("none.ron"));
    assert_eq!((notices.len(), notices[0].severity), (1, Severity::Error));
}
