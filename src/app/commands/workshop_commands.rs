//! Opening, making and showing workshops. What lies in their folders is read beside the window.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::Context;

use crate::app::background::workshop_query::ShopFound;
use crate::app::commands::command::ShopAct;
use crate::app::commands::load;
use crate::app::panels::workshop::draft_id;
use crate::app::shell::file_dialog::Purpose;
use crate::app::state::after_saving::AfterSaving;
use crate::app::state::dialog::Dialog;
use crate::app::state::shop_place::{ShopDraft, ShopPlace};
use crate::app::window::Window;
use crate::edit::Document;
use crate::files::{
    NewShop, ShopContents, demo_job, is_demonstration, named_path, open_held, open_job, plain_path, read_bay,
    relative_path, write_new,
};
use crate::geometry::{Bounds, P2};
use crate::model::{Bay, Job, Pose};
use crate::report::words::capital;

/// A bay to begin with; that its size is not measured yet stands in it.
const BEGUN: &str = "\
// Begun in the window: 6 m by 12 m until its real size is typed or measured.
(
    name: \"New bay\",
    floor: [(0, 0), (6000, 0), (6000, 12000), (0, 12000)],
    doorways: [(name: \"doorway\", side: 0, from: 1500, width: 3000, height: 3000)],
)
";

impl Window {
    /// Carries out what was asked of a workshop.
    pub(in crate::app) fn shop_act(&mut self, ctx: &Context, act: ShopAct) {
        match act {
            ShopAct::OpenFolder(folder) => self.open_folder(&folder),
            ShopAct::AskFolder => self.ask(Purpose::Folder),
            ShopAct::Forget(folder) => {
                self.persistence.forget_workshop(&folder);
                self.shops = self.persistence.workshops();
            }
            ShopAct::Make(new) => {
                let folder = self.path_of(&new.folder.to_string_lossy());
                self.shop.make(&NewShop { folder, ..new }, ctx);
            }
            ShopAct::OpenBay(bay) => self.unless_changed(ctx, AfterSaving::OpenBay(bay)),
            ShopAct::NewBay => self.new_bay_of_shop(ctx),
            ShopAct::Unfold(shown) => self.view_state.shop_open = shown,
            ShopAct::Demonstration => match demo_job() {
                Ok(job) => self.unless_changed(ctx, AfterSaving::Open(job)),
                Err(why) => self.note = Some(capital(&why)),
            },
        }
    }

    /// Turns to one of the window's places.
    pub(in crate::app) fn show_place(&mut self, place: ShopPlace) {
        let of_a_shop = ShopPlace::OF_THE_SHOP.contains(&place);
        if of_a_shop && self.shop.shop().is_none() {
            self.view_state.place = ShopPlace::Start;
            self.note = Some("No workshop is open yet: open one, or make one".into());
            return;
        }
        if of_a_shop && self.view_state.place == ShopPlace::Plan {
            // what was saved meanwhile stands in the lists
            self.shop.look_again();
        }
        self.view_state.place = place;
    }

    /// Opens the workshop in a folder; whether it is one shows once it was read.
    pub(in crate::app) fn open_folder(&mut self, folder: &Path) {
        self.close_dialog();
        self.shop.open(folder);
        self.view_state.place = ShopPlace::Jobs;
        self.note = None;
    }

    /// Takes up what was read or made; tells whether there is something new.
    pub(in crate::app) fn shop_beside(&mut self, ctx: &Context) -> bool {
        let judge = self.view_state.place != ShopPlace::Plan && self.view_state.place != ShopPlace::Start;
        let (fresh, mut new) = self.shop.update(judge, ctx);
        match fresh {
            Some(ShopFound::Shop(shop)) => {
                let note = self.persistence.opened_workshop(&shop.root);
                self.shops = self.persistence.workshops();
                self.note = self.note.take().or(note);
            }
            Some(ShopFound::Refused(folder, why)) => self.no_workshop(ctx, &folder, why),
            Some(ShopFound::None) | None => {}
        }
        if let Some(made) = self.shop.made() {
            new = true;
            match made {
                Ok(root) => {
                    ctx.data_mut(|d| d.remove_temp::<ShopDraft>(draft_id()));
                    self.open_folder(&root);
                }
                Err(why) => self.refuse("The workshop cannot be made".into(), vec![capital(&why)]),
            }
        }
        new
    }

    /// A folder that is no workshop, or not there: says so, and offers to make one there.
    fn no_workshop(&mut self, ctx: &Context, folder: &Path, why: String) {
        self.view_state.place = ShopPlace::Start;
        let draft = ShopDraft {
            name: folder.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default(),
            folder: folder.display().to_string(),
            bare: false,
        };
        ctx.data_mut(|d| d.insert_temp(draft_id(), draft));
        let offer = "Under \"New workshop\" its name and folder are filled in: there it can be made one.";
        let why = format!("{}. {offer}", capital(&why));
        self.refuse("This folder cannot be opened as a workshop".into(), vec![why]);
    }

    /// Shows a bay on the plan: with a job that stands in it, or with a new one that nothing is written of yet.
    pub(in crate::app) fn open_bay(&mut self, ctx: &Context, bay: &Path) {
        let Some(shop) = self.shop.shop().cloned() else { return };
        let stands = shop.jobs.iter().find(|j| {
            j.value.as_ref().is_some_and(|v| plain_path(&named_path(&j.path, v.bay.as_str())) == *bay)
                && open_job(&j.path).is_ok()
        });
        if let Some(job) = stands {
            return self.carry_on(ctx, AfterSaving::Open(job.path.clone()));
        }
        match with_a_job(&shop, bay) {
            Ok((path, job)) => match open_held(&job, &path) {
                Ok(opened) => {
                    let document = Document::opened(opened);
                    let document = Document::unsaved(path, document.bundle().clone(), &document);
                    match load::laid(document, &self.view_state) {
                        Ok(job) => {
                            self.take_over(job);
                            self.change_bay();
                        }
                        Err(faults) => {
                            let faults = faults.iter().map(ToString::to_string).collect();
                            self.refuse("The bay cannot be shown".into(), faults);
                        }
                    }
                }
                Err(faults) => {
                    let faults = faults.iter().map(ToString::to_string).collect();
                    self.refuse("The bay cannot be shown".into(), faults);
                }
            },
            Err(why) => self.refuse("The bay cannot be shown".into(), vec![why]),
        }
    }

    /// A bay begun in the workshop's folder, under a name that nothing there bears.
    fn new_bay_of_shop(&mut self, ctx: &Context) {
        let Some(shop) = self.shop.shop().cloned() else { return };
        let free = |n: usize| {
            let name = if n == 1 { "new-bay.ron".into() } else { format!("new-bay-{n}.ron") };
            Some(shop.bay_folder.join(name)).filter(|path| !path.exists())
        };
        let Some(path) = (1..1000).find_map(free) else { return };
        if self.spares_the_demonstration(std::iter::once(&path)) {
            return;
        }
        match write_new(&path, BEGUN.as_bytes()) {
            Ok(()) => {
                self.shop.look_again();
                self.unless_changed(ctx, AfterSaving::OpenBay(path));
            }
            Err(fault) => self.refuse("No bay can be begun there".into(), vec![fault.to_string()]),
        }
    }

    /// Whether something would be written into the demonstration, which stays as it is; says so then.
    pub(in crate::app) fn spares_the_demonstration<'a>(
        &mut self,
        mut paths: impl Iterator<Item = &'a PathBuf>,
    ) -> bool {
        let spared = paths.any(|p| is_demonstration(p));
        if spared {
            self.after_saving = None;
            self.dialog = Some(Dialog::Demonstration);
        }
        spared
    }
}

/// A job that stands in the middle of a bay with the workshop's first vehicle and equipment, and the path it would have.
fn with_a_job(shop: &ShopContents, bay: &Path) -> Result<(PathBuf, Job), String> {
    let vehicle = shop.vehicles.iter().find(|v| v.value.is_some());
    let vehicle = vehicle
        .ok_or("A bay is shown with a vehicle in it, and the workshop has none that can be used yet.")?;
    let equipment = shop.equipment.iter().find(|e| e.value.is_some());
    let equipment =
        equipment.ok_or("A bay is shown with a list of equipment, and the workshop has none yet.")?;
    let value: Option<&Arc<Bay>> = shop.bays.iter().find(|b| b.path == bay).and_then(|b| b.value.as_ref());
    let begun = if value.is_none() { read_bay(bay).ok().map(Arc::new) } else { None };
    let middle = value
        .or(begun.as_ref())
        .map(|b| Bounds::of(b.floor.outline.0.points()).centre())
        .unwrap_or_else(P2::origin);
    let folder = shop.job_folder.clone();
    let named = |path: &Path| relative_path(&folder, path).into();
    let pose = Pose::At { x: middle.x, y: middle.y, heading: 0.0 };
    let job = Job::begun([named(bay), named(&vehicle.path), named(&equipment.path)], pose);
    Ok((folder.join("new-job.ron"), job))
}
