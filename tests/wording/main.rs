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
mod made;
#[path = "../common/nonsense.rs"]
mod nonsense;
mod taped;

#[allow(dead_code, reason = "shared with the tests of the rules")]
#[path = "../common/workshop.rs"]
mod workshop;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

use baywright::advice::{Advice, advise};
use baywright::checks::wording::notes::note;
use baywright::checks::{Judgement, check_driven};
use baywright::driving::{DriveIn, drive_in};
use baywright::files::open_job;
use baywright::geometry::P2;
use baywright::layout::Layout;
use baywright::model::{Bundle, Pose};
use baywright::paint::{Theme, View, to_svg};
use baywright::phrases::{ENGLISH, Phrase, Say, Words};
use baywright::report::{self, Show};
use baywright::scene::{self, plan};
use baywright::siting::{Ask, Progress, Siting, find, headings_of, judged_pose, openings};
use made::Made;
use nonsense::{Names, english_left, words};
use workshop::{FIRES, workshop};

/// Phrases that none of these jobs says. The number may only get smaller.
const UNSAID: usize = 132;

/// Everything that is said of one job: its pages and its plan.
fn said(
    layout: &Layout,
    judgement: &Judgement,
    advice: &Advice,
    path: Option<&baywright::driving::Path>,
    siting: Option<&Siting>,
    words: &'static Words,
) -> String {
    let mut all = String::new();
    for show in [Show::Mm, Show::FeetInches] {
        let say = Say::new(show, words);
        all += &report::text::nowhere(say);
        all += &report::text::check(layout, judgement, advice, say);
        for (i, finding) in judgement.findings.iter().enumerate() {
            all += &report::words::title(finding, layout, say);
            all += &format!("\n{}\n", report::words::figures(finding, say).unwrap_or_default());
            all += &format!("{}\n", report::label::label(finding, say));
            all += &format!("{}\n", finding.note.as_ref().map_or(String::new(), |n| note(n, say)));
            let help = report::advice::of(i, judgement, Some(advice), layout, say);
            all += &format!("{}\n", help.unwrap_or_default());
        }
        all += &siting.map_or(String::new(), |found| report::siting::page(found, say));
        let shown = scene::Show { feet: show == Show::FeetInches, words, ..scene::Show::default() };
        let mut drawn = plan(layout, Some(judgement), &shown);
        if let Some(path) = path {
            scene::way::way(&mut drawn, path, judgement, &shown);
        }
        if let Some(best) = siting.and_then(|s| s.best.as_ref()) {
            let (x, y) = (best.place.stance.x, best.place.stance.y);
            let corner = |dx: f64, dy: f64| P2::new(x + dx, y + dy);
            let ring =
                vec![corner(-90.0, -90.0), corner(90.0, -90.0), corner(90.0, 90.0), corner(-90.0, 90.0)];
            let found = scene::place::Found { rings: vec![ring], best: None };
            scene::place::place(&mut drawn, layout, &found, &shown);
        }
        let view = View::fit(drawn.bounds(), (2400.0, 1800.0), 30.0);
        all += &letters(&to_svg(&drawn, &view, Theme::day()));
        for rule in baywright::checks::RULES {
            all += &report::text::rule_page(rule, say);
        }
    }
    all
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
fn judged(bundle: &Bundle) -> (Layout, Option<DriveIn>, Judgement, Advice) {
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
    (layout, driven, judgement, advice)
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

/// One job said whole: what Latin words are left, and the text.
fn look_at(job: &Made, words: &'static Words) -> (Vec<String>, String) {
    let (layout, driven, judgement, advice) = judged(&job.bundle);
    let path = driven.as_ref().and_then(|d| d.path());
    let siting = job.searched.then(|| find(&job.bundle, &Ask::usual(), &Progress::new()).ok()).flatten();
    let text = said(&layout, &judgement, &advice, path, siting.as_ref(), words);
    let left = english_left(&text, &Names::of(&layout, &job.files));
    (left.into_iter().map(|word| format!("{}: {word}", job.name)).collect(), text)
}

/// The jobs of the demonstration and of the cases.
fn given() -> Vec<Made> {
    let open = |path: PathBuf| {
        let opened = open_job(&path).unwrap_or_else(|f| panic!("{f:?}"));
        let files = opened.sources.texts().values().map(|s| s.text.to_string()).collect();
        Made { name: path.display().to_string(), bundle: opened.bundle, files, searched: true }
    };
    jobs().into_iter().map(open).collect()
}

#[test]
fn no_english_is_left_on_page_and_plan_of_any_job() {
    let words = words(&report::phrases());
    let (given, made) = (given(), made::jobs());
    assert!(given.len() >= 30 && made.len() >= 40, "{} given, {} made", given.len(), made.len());
    let jobs: Vec<Made> = given.into_iter().chain(made).collect();
    let next = AtomicUsize::new(0);
    let work = || {
        let (mut left, mut all) = (Vec::new(), String::new());
        while let Some(job) = jobs.get(next.fetch_add(1, Ordering::Relaxed)) {
            let (found, text) = look_at(job, words);
            left.extend(found);
            all += &text;
        }
        (left, all)
    };
    let found: Vec<(Vec<String>, String)> = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..2).map(|_| scope.spawn(work)).collect();
        threads.into_iter().map(|t| t.join().unwrap()).collect()
    });
    let left: Vec<&String> = found.iter().flat_map(|f| &f.0).collect();
    assert!(left.is_empty(), "{} words: {left:#?}", left.len());
    let text: String = found.iter().map(|f| f.1.as_str()).chain([taped::said(words).as_str()]).collect();
    let unsaid = unsaid(&report::phrases(), &text);
    assert!(unsaid.len() <= UNSAID, "{} phrases are said by no job: {unsaid:#?}", unsaid.len());
}

#[test]
fn no_english_is_left_where_each_rule_speaks_up() {
    let words = words(&report::phrases());
    for (rule, change) in FIRES {
        let bundle = workshop(Some(*change));
        let (layout, _, judgement, advice) = judged(&bundle);
        let text = said(&layout, &judgement, &advice, None, None, words);
        let left = english_left(&text, &Names::of(&layout, &workshop::texts(Some(*change))));
        assert!(left.is_empty(), "{}: {left:#?}", rule.word());
    }
}

/// The keys of the phrases that a text does not hold.
fn unsaid(all: &[Phrase], text: &str) -> Vec<String> {
    let said: BTreeSet<usize> =
        text.split('⟨').filter_map(|part| part.split_once('⟩')?.0.parse().ok()).collect();
    all.iter().enumerate().filter(|(i, _)| !said.contains(i)).map(|(_, p)| p.key()).collect()
}

/// The look for English finds it: the same page in English is full of it.
#[test]
fn the_look_finds_english() {
    let bundle = workshop(None);
    let (layout, _, judgement, advice) = judged(&bundle);
    let names = Names::of(&layout, &workshop::texts(None));
    let text = said(&layout, &judgement, &advice, None, None, &ENGLISH);
    assert!(english_left(&text, &names).len() > 100);
}
