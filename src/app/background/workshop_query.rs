//! The workshop, read and judged beside the window: its folders once they are asked for, its jobs once they are looked at,
//! a new one while it is made.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::Context;

use crate::app::background::question::Question;
use crate::checks::{Verdict, check_driven};
use crate::driving::drive_in;
use crate::files::{NewShop, ShopContents, make_shop, nearest_workshop, open_job, shop_contents};
use crate::layout::Layout;
use crate::model::Pose;
use crate::report::{Say, Show, words};
use crate::siting::{Progress, judged_pose};

/// What is to be read.
#[derive(Clone, Debug, PartialEq)]
enum ShopWish {
    /// The workshop in this folder.
    Folder(PathBuf, u64),
    /// The workshop a job lies in.
    Of(PathBuf, u64),
}

/// What was found.
#[derive(Clone, Debug)]
pub(crate) enum ShopFound {
    Shop(Arc<ShopContents>),
    /// The job lies in no workshop.
    None,
    /// Why a folder cannot be opened as a workshop, and which.
    Refused(PathBuf, String),
}

/// How a job comes out as its file has it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum JobFate {
    /// The verdict, and its headline in both ways of showing lengths.
    Judged(Verdict, String, String),
    /// What is wrong with it or with a file it names.
    Faulty(Vec<String>),
}

/// The reading, the judging and the making.
pub(crate) struct WorkshopQuery {
    reading: Question<ShopWish, ShopFound>,
    judging: Question<ShopWish, BTreeMap<PathBuf, JobFate>>,
    making: Question<NewShop, Result<PathBuf, String>>,
    wish: Option<ShopWish>,
    times: u64,
    /// What the window was told of already.
    told: Option<ShopWish>,
}

impl Default for WorkshopQuery {
    fn default() -> Self {
        WorkshopQuery {
            reading: Question::new("workshop"),
            judging: Question::new("jobs of the workshop"),
            making: Question::new("new workshop"),
            wish: None,
            times: 0,
            told: None,
        }
    }
}

impl WorkshopQuery {
    /// The workshop, once it was read.
    pub(crate) fn shop(&self) -> Option<&Arc<ShopContents>> {
        match self.reading.last() {
            Some((_, ShopFound::Shop(shop))) => Some(shop),
            Some((_, ShopFound::None | ShopFound::Refused(..))) | None => None,
        }
    }

    /// How the jobs come out; those of the reading before until the new answer is there.
    pub(crate) fn fates(&self) -> Option<&BTreeMap<PathBuf, JobFate>> {
        self.judging.last().map(|(_, fates)| fates)
    }

    pub(crate) fn is_judging(&self) -> bool {
        self.judging.is_busy()
    }

    pub(crate) fn is_busy(&self) -> bool {
        let untold = self.wish.is_some() && self.told != self.wish;
        untold || self.judging.is_busy() || self.making.is_busy()
    }

    /// Opens the workshop in a folder, beginning with the next frame.
    pub(crate) fn open(&mut self, folder: &Path) {
        self.times += 1;
        self.wish = Some(ShopWish::Folder(folder.to_owned(), self.times));
    }

    /// Finds and reads the workshop a job lies in, unless it is open already.
    pub(crate) fn follow(&mut self, job: &Path) {
        let inside = self.shop().is_some_and(|s| s.jobs.iter().any(|j| j.path == job));
        if !inside {
            self.times += 1;
            self.wish = Some(ShopWish::Of(job.to_owned(), self.times));
        }
    }

    /// Reads the workshop again where one is open.
    pub(crate) fn look_again(&mut self) {
        if let Some(root) = self.shop().map(|s| s.root.clone()) {
            self.open(&root);
        }
    }

    pub(crate) fn make(&mut self, new: &NewShop, ctx: &Context) {
        let wanted = new.clone();
        self.making.ask(new, ctx, || move |_: &Progress| make_shop(&wanted));
    }

    /// What has become of the workshop that was to be made.
    pub(crate) fn made(&mut self) -> Option<Result<PathBuf, String>> {
        self.making.taken().and_then(|(_, made)| made)
    }

    /// Starts and collects. What was read, once, where it is new; and whether there is anything new to show.
    /// `judge`: the jobs are looked at.
    pub(crate) fn update(&mut self, judge: bool, ctx: &Context) -> (Option<ShopFound>, bool) {
        let Some(wish) = self.wish.clone() else { return (None, false) };
        let mut new = self.reading.ask(&wish, ctx, || {
            let wish = wish.clone();
            move |progress: &Progress| find(&wish, progress)
        });
        if self.reading.is_given_up() {
            self.told = Some(wish.clone());
        }
        let mut fresh = None;
        if self.told.as_ref() != Some(&wish)
            && let Some(found) = self.reading.answer_to(&wish)
        {
            fresh = Some(found.clone());
            self.told = Some(wish.clone());
            new = true;
        }
        if judge && let Some(ShopFound::Shop(shop)) = self.reading.answer_to(&wish) {
            new |= self.judging.ask(&wish, ctx, || {
                let jobs: Vec<PathBuf> = shop.jobs.iter().map(|j| j.path.clone()).collect();
                move |progress: &Progress| {
                    let go_on = |_: &PathBuf| !progress.is_stopped();
                    let judged = |path: PathBuf| (path.clone(), fate(&path, progress));
                    jobs.into_iter().take_while(go_on).map(judged).collect()
                }
            });
        } else {
            new |= self.judging.collect();
        }
        (fresh, new)
    }
}

fn find(wish: &ShopWish, progress: &Progress) -> ShopFound {
    let stop = || progress.is_stopped();
    let read = |folder: &Path| match shop_contents(folder, &stop) {
        Ok(shop) => ShopFound::Shop(Arc::new(shop)),
        Err(why) => ShopFound::Refused(folder.to_owned(), why),
    };
    match wish {
        ShopWish::Folder(folder, _) => read(folder),
        ShopWish::Of(job, _) => match nearest_workshop(job).as_deref().and_then(Path::parent) {
            Some(root) => read(root),
            None => ShopFound::None,
        },
    }
}

/// A job judged as its file has it: where it has no place, at the best one.
fn fate(path: &Path, progress: &Progress) -> JobFate {
    let opened = match open_job(path) {
        Ok(opened) => opened,
        Err(faults) => return JobFate::Faulty(faults.iter().map(ToString::to_string).collect()),
    };
    let mut layout = match Layout::new(&opened.bundle) {
        Ok(layout) => layout,
        Err(faults) => {
            return JobFate::Faulty(faults.iter().map(|f| opened.fault(f).to_string()).collect());
        }
    };
    let mut fits = true;
    if layout.bundle.job.pose == Pose::Anywhere {
        match judged_pose(&layout.bundle, progress) {
            Ok((place, does)) => {
                fits = does;
                layout = place.map_or(layout.clone(), |p| layout.at(p.stance));
            }
            Err(_) => {
                return JobFate::Faulty(vec!["the search for its place ended without an answer".into()]);
            }
        }
    }
    let asks = layout.bundle.job.drive_in;
    let driven = asks.then(|| drive_in(&layout, &|| progress.is_stopped())).flatten();
    let mut judgement = check_driven(&layout, driven.as_ref());
    if !fits {
        judgement.verdict = Verdict::DoesNotFit;
    }
    let said = |show| words::headline(&judgement, Say::english(show));
    JobFate::Judged(judgement.verdict, said(Show::Mm), said(Show::FeetInches))
}
