//! Jobs saved and read back.

use std::path::Path;

use proptest::prelude::*;

use super::super::{Source, read_job, read_text, save};
use super::samples::JOB;
use crate::model::bay::ShopRules;
use crate::model::job::{Accepted, Chosen, Found, Reading, Support, Toe};
use crate::model::writing::{rewrite, spell_whole};
use crate::model::{Job, List, Name, Pose, Table};
use crate::units::is_unprintable;

fn sample() -> Job {
    read_text(JOB, Path::new("job.ron")).expect("a job")
}

/// A job as the text of a file that holds `over`, or of a new one.
fn saved(job: &Job, over: Option<&str>) -> String {
    let dir = tempfile::tempdir().expect("folder");
    let path = dir.path().join("job.ron");
    let text = match over {
        Some(old) => {
            std::fs::write(&path, old).expect("write");
            let source = Source::load(&path).expect("read");
            source.with_text(&rewrite(&source.text, job).expect("it can be said"))
        }
        None => Source::new(&path, &spell_whole(job).expect("it can be said")),
    };
    save(&text).expect("saved");
    assert_eq!(std::fs::read_dir(dir.path()).expect("folder").count(), 1, "nothing else is left behind");
    std::fs::read_to_string(&path).expect("read")
}

#[test]
fn what_says_nothing_is_left_out_and_numbers_are_short() {
    let least: Job = read_text(
        "(name: \"J\", bay: \"b\", vehicle: \"v\", equipment: \"e\", procedures: [(file: \"p\")],
          pose: At(x: 2750.0, y: -0.0, heading: 0.1))",
        Path::new("job.ron"),
    )
    .expect("a job");
    assert_eq!(
        saved(&least, None),
        "(
    format: 1,
    name: \"J\",
    bay: \"b\",
    vehicle: \"v\",
    equipment: \"e\",
    procedures: [
        (file: \"p\"),
    ],
    pose: At(x: 2750, y: 0, heading: 0.1),
)
"
    );
}

/// A file as a person writes it, with every kind of note between its parts.
const BY_HAND: &str = "/* head /* nested */ still */
(
    name: \"J\", // a name
    vehicle: \"v.ron\", bay: \"b.ron\",  equipment: \"e.ron\",
    drive_in: false,
    // two of them
    procedures: [ (file: \"p.ron\", variant: Some(\"roof\")), /* second */ (file: \"q.ron\") ],
    pose: At(x: 2_750.0, y: -0, heading: 1e1),
    choose: {\"gap\": 9_00},
    accepted: [(rule: \"headroom\", items: [\"vehicle\", \"beam\"], reason: \"low\", by: \"A. N.\", on: \"2026-11-24\")], // signed
)
// the end
";

#[test]
fn what_the_job_says_no_differently_stays_to_the_byte() {
    for text in [BY_HAND.to_owned(), BY_HAND.replace('\n', "\r\n"), format!("\u{feff}{BY_HAND}")] {
        let job = read_text::<Job>(&text, Path::new("job.ron")).expect("a job");
        assert_eq!(saved(&job, Some(&text)), text, "nothing changed");
        for (change, was, is) in [
            ((|j| j.pose = Pose::At { x: 2750.0, y: 0.0, heading: 190.0 }) as fn(&mut Job), "1e1", "190"),
            (|j| j.pose = Pose::Anywhere, "At(x: 2_750.0, y: -0, heading: 1e1)", "Anywhere"),
            (|j| j.choose.set("gap", Reading(950.0)), "9_00", "950"),
            (|j| j.drive_in = true, "drive_in: false", "drive_in: true"),
            (|j| j.procedures[0].variant = None, ", variant: Some(\"roof\")", ""),
            (|j| j.procedures[0].variant = Some("rails".into()), "Some(\"roof\")", "\"rails\""),
            (|j| drop(j.procedures.remove(1)), "(file: \"q.ron\")", ""),
            (|j| j.accepted.clear(), "accepted: [", "accepted: ["),
        ] {
            let mut changed = job.clone();
            change(&mut changed);
            let got = saved(&changed, Some(&text));
            if was != is {
                assert_eq!(got, text.replacen(was, is, 1), "{is}");
            }
            let back = read_text::<Job>(&got, Path::new("job.ron"));
            assert_eq!(back.as_ref(), Ok(&changed), "{got}");
            for note in ["/* head /* nested */ still */", "// a name", "// two of them", "// the end"] {
                assert!(got.contains(note), "{note} is gone: {got}");
            }
        }
    }
}

#[test]
fn a_job_that_would_not_read_back_is_not_written() {
    let mut job = sample();
    job.pose = Pose::At { x: f64::NAN, y: 0.0, heading: 0.0 };
    assert_eq!(spell_whole(&job), Err("expected a finite number, found NaN".into()));
    assert_eq!(rewrite(JOB, &job), None);
}

#[cfg(unix)]
#[test]
fn links_and_permissions_stay() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let dir = tempfile::tempdir().expect("folder");
    let (real, link) = (dir.path().join("real/job.ron"), dir.path().join("job.ron"));
    let put = |path: &Path| save(&Source::new(path, &spell_whole(&sample()).expect("it can be said")));
    std::fs::create_dir(dir.path().join("real")).expect("folder");
    std::fs::write(&real, "old").expect("write");
    std::fs::set_permissions(&real, std::fs::Permissions::from_mode(0o640)).expect("mode");
    symlink(&real, &link).expect("link");
    put(&link).expect("saved");
    assert!(std::fs::symlink_metadata(&link).expect("link").is_symlink());
    assert_eq!(read_job(&real).expect("a job"), sample());
    let mode = std::fs::metadata(&real).expect("mode").permissions().mode();
    assert_eq!(mode & 0o777, 0o640);
    std::fs::set_permissions(&real, std::fs::Permissions::from_mode(0o440)).expect("mode");
    assert!(put(&link).expect_err("write-protected").text.contains("write-protected"));
    assert!(put(&dir.path().join("no/such/folder/job.ron")).is_err());
    let new = dir.path().join("new.ron");
    put(&new).expect("saved");
    assert_ne!(
        std::fs::metadata(&new).expect("mode").permissions().mode() & 0o044,
        0,
        "others may read a new file"
    );
}

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        (-1_000_000i64..=1_000_000).prop_map(|v| v as f64),
        -1e6..1e6,
        Just(0.1 + 0.2),
        Just(f64::MIN_POSITIVE),
        Just(-0.0),
    ]
}

fn text() -> impl Strategy<Value = String> {
    prop_oneof!["[a-z ]{1,12}", "\\PC{1,12}", Just("a \"b\" \\ c\n\td\u{85}".to_owned())]
}

/// A name is one line of plain text.
fn plain() -> impl Strategy<Value = String> {
    text().prop_map(|text| text.replace(is_unprintable, " "))
}

fn name() -> impl Strategy<Value = Name> {
    plain().prop_map(Name::from)
}

fn table<T: Clone + std::fmt::Debug>(value: impl Strategy<Value = T>) -> impl Strategy<Value = Table<T>> {
    proptest::collection::btree_map(plain(), value, 0..4)
        .prop_map(|map| Table(map.into_iter().map(|(n, v)| (n.into(), v)).collect()))
}

prop_compose! {
    fn a_job()(
        names in (name(), name(), name(), name()),
        procedures in proptest::collection::btree_map(plain(), (proptest::option::of(name()), proptest::collection::vec(name(), 0..3), proptest::option::of(name())), 0..4),
        market in proptest::option::of(name()),
        pose in proptest::option::of((number(), number(), number())),
        support in proptest::option::of((name(), 0.0..1e6)),
        toes in (proptest::option::of((number(), number())), proptest::option::of((number(), number()))),
        tables in (table(number()), table(number()), table((number(), text()))),
        lists in (proptest::collection::vec(name(), 0..3), proptest::collection::vec(name(), 0..3)),
        rules in proptest::array::uniform5(proptest::option::of(0.0..1e6)),
        accepted in proptest::collection::vec((proptest::collection::vec(name(), 0..3), text(), text(), text()), 0..3),
        enter_by in proptest::option::of(name()),
        way_in in (any::<bool>(), proptest::option::of(0.0..1e6)),
    ) -> Job {
        let toe = |t: (f64, f64)| Toe { left: t.0, right: t.1 };
        let reading = |t: Table<f64>| Table(t.0.into_iter().map(|(n, v)| (n, Reading(v))).collect());
        Job {
            format: 1,
            name: names.0,
            bay: names.1,
            vehicle: names.2,
            equipment: names.3,
            procedures: procedures.into_iter().map(|(f, (variant, variants, way))| Chosen { file: f.into(), variant, variants: List(variants), way }).collect(),
            pose: pose.map_or(Pose::Anywhere, |(x, y, heading)| Pose::At { x, y, heading }),
            support: support.map_or(Support::Floor, |(name, height)| Support::Lift { name, height }),
            rear_toe: toes.0.map(toe),
            front_toe: toes.1.map(toe),
            measured: reading(tables.0),
            choose: reading(tables.1),
            figures: Table(tables.2.0.into_iter().map(|(n, (mm, from))| (n, Found { mm, from })).collect()),
            doors_open: lists.0.into_iter().collect(),
            cleared: lists.1.into_iter().collect(),
            rules: ShopRules {
                walk_around: rules[0],
                clearance: rules[1],
                headroom: rules[2],
                measuring: rules[3],
                level: rules[4],
            },
            accepted: accepted
                .into_iter()
                .map(|(items, reason, by, on)| Accepted { rule: "headroom".into(), items, reason, by, on })
                .collect(),
            enter_by,
            when: None,
            market,
            drive_in: way_in.0,
            straight_run: way_in.1,
        }
    }
}

proptest! {
    #![proptest_config(crate::seeds::cases(300))]

    /// Every job that can be saved reads back equal, and saving it again gives the same text.
    #[test]
    fn jobs_read_back_equal(job in a_job()) {
        let text = spell_whole(&job).expect("saved");
        let back: Job = read_text(&text, Path::new("job.ron")).expect("read");
        prop_assert_eq!(&back, &job);
        prop_assert_eq!(spell_whole(&back).expect("saved"), text);
    }
}
