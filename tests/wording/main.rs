//! A second language is one more table: words of nonsense are made of every English template, and page and plan of every
//! job are said in them. What Latin letters are then left come from the job's own files, or are units.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]

mod literals;
mod nonsense;

#[allow(dead_code, reason = "shared with the tests of the rules")]
#[path = "../common/workshop.rs"]
mod workshop;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use baywright::advice::{Advice, advise};
use baywright::checks::{Judgement, check_driven};
use baywright::driving::drive_in;
use baywright::files::open_job;
use baywright::layout::Layout;
use baywright::model::{Bundle, Pose};
use baywright::paint::{Theme, View, to_svg};
use baywright::phrases::{ENGLISH, Say, Words};
use baywright::report::{self, Show};
use baywright::scene::{self, plan};
use baywright::siting::{Ask, Progress, Siting, find, headings_of, judged_pose, openings};
use nonsense::{Names, unsaid, words};
use workshop::{FIRES, workshop};

/// Units and standards' marks that stand in every language.
const UNITS: [&str; 3] = ["mm", "MM", "in"];

/// What is still English where it is said, each with the reason. This list may only get shorter.
const LEFT: [&str; 0] = [];

/// Everything that is said of one job: its pages and its plan.
fn said(
    layout: &Layout,
    judgement: &Judgement,
    advice: &Advice,
    siting: Option<&Siting>,
    words: &'static Words,
) -> String {
    let mut all = String::new();
    for show in [Show::Mm, Show::FeetInches] {
        let say = Say::new(show, words);
        all += &report::text::nowhere(say);
        all += &report::text::check(layout, judgement, advice, say);
        all += &siting.map_or(String::new(), |found| report::siting::page(found, say));
        let shown = scene::Show { feet: show == Show::FeetInches, words, ..scene::Show::default() };
        let mut drawn = plan(layout, Some(judgement), &shown);
        if let Some(path) = judgement_path(layout) {
            scene::way::way(&mut drawn, &path, judgement, &shown);
        }
        let view = View::fit(drawn.bounds(), (2400.0, 1800.0), 30.0);
        all += &letters(&to_svg(&drawn, &view, Theme::day()));
        for rule in baywright::checks::RULES {
            all += &report::text::rule_page(rule, say);
        }
    }
    all
}

fn judgement_path(layout: &Layout) -> Option<baywright::driving::Path> {
    layout.bundle.job.drive_in.then(|| drive_in(layout, &|| false)).flatten()?.path().cloned()
}

/// What is written on a picture.
fn letters(svg: &str) -> String {
    let texts = svg.split("</text>").filter_map(|part| part.rsplit_once('>').map(|(_, text)| text));
    let mut all: String = texts.map(|t| format!("{t}\n")).collect();
    for (spelt, is) in [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&amp;", "&")] {
        all = all.replace(spelt, is);
    }
    all
}

/// A job judged as the program does it.
fn judged(bundle: &Bundle) -> (Layout, Judgement, Advice) {
    let mut layout = Layout::new(bundle).unwrap_or_else(|faults| panic!("{faults:?}"));
    if bundle.job.pose == Pose::Anywhere
        && let Ok((Some(place), _)) = judged_pose(bundle, &Progress::new())
    {
        layout = layout.at(place.stance);
    }
    let driven = bundle.job.drive_in.then(|| drive_in(&layout, &|| false)).flatten();
    let judgement = check_driven(&layout, driven.as_ref());
    let openings =
        openings(bundle, &headings_of(layout.stance.heading), &mut std::iter::empty(), &Progress::new()).ok();
    let advice = advise(&layout, &judgement, openings.as_ref(), &|| false).unwrap_or_default();
    (layout, judgement, advice)
}

fn jobs() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    for folder in ["demo/jobs", "tests/cases/jobs", "tests/scenarios"] {
        for entry in std::fs::read_dir(root.join(folder)).unwrap() {
            let path = entry.unwrap().path();
            found.push(if path.is_dir() { path.join("job.ron") } else { path });
        }
    }
    found.sort();
    found
}

/// Words of two letters or more that neither the job's files nor a unit account for.
fn english_left(text: &str, names: &Names) -> BTreeSet<String> {
    let mut left = BTreeSet::new();
    for line in names.taken_out_of(text).lines() {
        for word in line.split(|c: char| !c.is_ascii_alphabetic()) {
            if word.len() > 1 && !UNITS.contains(&word) && !LEFT.contains(&word) {
                left.insert(format!("{word:?} in {line:?}"));
            }
        }
    }
    left
}

#[test]
fn no_english_is_left_on_page_and_plan_of_any_job() {
    let words = words();
    let jobs = jobs();
    assert!(jobs.len() >= 30, "{}", jobs.len());
    let next = std::sync::atomic::AtomicUsize::new(0);
    let work = || {
        let (mut left, mut all) = (Vec::new(), String::new());
        loop {
            let i = next.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
            let Some(job) = jobs.get(i) else { return (left, all) };
            let opened = open_job(job).unwrap_or_else(|f| panic!("{f:?}"));
            let bundle = opened.bundle;
            let (layout, judgement, advice) = judged(&bundle);
            let siting = find(&bundle, &Ask::usual(), &Progress::new()).ok();
            let text = said(&layout, &judgement, &advice, siting.as_ref(), words);
            let files: Vec<String> = opened.sources.texts().values().map(|s| s.text.to_string()).collect();
            let names = Names::of(&layout, &files);
            all += &text;
            left.extend(english_left(&text, &names).into_iter().map(|w| format!("{}: {w}", job.display())));
        }
    };
    let found: Vec<(Vec<String>, String)> = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..2).map(|_| scope.spawn(work)).collect();
        threads.into_iter().map(|t| t.join().unwrap()).collect()
    });
    let left: Vec<&String> = found.iter().flat_map(|f| &f.0).collect();
    assert!(left.is_empty(), "{} words: {left:#?}", left.len());
    let all: String = found.into_iter().map(|f| f.1).collect();
    let unsaid = unsaid(&all);
    println!("{} of {} phrases were not said: {unsaid:#?}", unsaid.len(), report::phrases().len());
}

#[test]
fn no_english_is_left_where_each_rule_speaks_up() {
    let words = words();
    for (rule, change) in FIRES {
        let bundle = workshop(Some(*change));
        let (layout, judgement, advice) = judged(&bundle);
        let text = said(&layout, &judgement, &advice, None, words);
        let left = english_left(&text, &Names::of(&layout, &workshop::texts(Some(*change))));
        assert!(left.is_empty(), "{}: {left:#?}", rule.word());
    }
}

/// The look for English finds it: the same page in English is full of it.
#[test]
fn the_look_finds_english() {
    let bundle = workshop(None);
    let (layout, judgement, advice) = judged(&bundle);
    let names = Names::of(&layout, &workshop::texts(None));
    let text = said(&layout, &judgement, &advice, None, &ENGLISH);
    assert!(english_left(&text, &names).len() > 100);
}
