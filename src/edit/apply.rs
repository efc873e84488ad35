//! What each change does to a job: the one place where jobs change.

use std::sync::Arc;

use super::change::{Edit, FileValue};
use super::keep;
use crate::model::figure::Value;
use crate::model::job::{Chosen, Reading, Support, Toe};
use crate::model::{Bundle, Item, ItemKind, Items, Job, List, Name, Pose};

impl Edit {
    /// The bundle after this change, or one sentence why it cannot be made.
    #[allow(clippy::wildcard_enum_match_arm, reason = "`apply_to_job` meets every other edit")]
    pub fn apply(&self, to: &Bundle) -> Result<Bundle, String> {
        let mut next = to.clone();
        match self {
            Edit::ChooseBay { file, bay } => {
                next.bay = bay.clone();
                job(&mut next).bay = file.clone();
                keep::known(to, &mut next);
            }
            Edit::ChooseVehicle { file, vehicle } => {
                next.vehicle = vehicle.clone();
                job(&mut next).vehicle = file.clone();
                keep::known(to, &mut next);
            }
            Edit::ChooseEquipment { file, equipment } => {
                next.equipment = equipment.clone();
                job(&mut next).equipment = file.clone();
                keep::known(to, &mut next);
            }
            Edit::AddProcedure { file, procedure } => {
                if next.job.procedures.iter().any(|p| p.file == *file) {
                    return Err(format!("{} is already part of the job", procedure.name));
                }
                next.procedures.push(procedure.clone());
                job(&mut next).procedures.push(Chosen {
                    file: file.clone(),
                    variant: None,
                    variants: List::default(),
                    way: None,
                });
            }
            Edit::RemoveProcedure(at) => {
                in_list(*at, &next)?;
                next.procedures.remove(*at);
                job(&mut next).procedures.remove(*at);
                keep::known(to, &mut next);
            }
            Edit::MoveProcedure { from, to } => {
                in_list(*from, &next)?;
                in_list(*to, &next)?;
                let moved = next.procedures.remove(*from);
                next.procedures.insert(*to, moved);
                let list = &mut job(&mut next).procedures;
                let moved = list.remove(*from);
                list.insert(*to, moved);
            }
            Edit::Variants { procedure, variants } => {
                in_list(*procedure, &next)?;
                let of = &next.procedures[*procedure];
                if let Some(name) = variants.iter().find(|v| of.variants.get(v.as_str()).is_none()) {
                    return Err(format!("{} has no variant {name:?}", of.name));
                }
                let chosen = &mut job(&mut next).procedures[*procedure];
                chosen.variant = None;
                chosen.variants = List::default();
                match &variants[..] {
                    [one] => chosen.variant = Some(one.clone()),
                    many => chosen.variants = many.iter().cloned().collect(),
                }
                keep::known(to, &mut next);
            }
            Edit::Way { procedure, way } => {
                in_list(*procedure, &next)?;
                let of = &next.procedures[*procedure];
                if let Some(name) = way
                    && of.ways.get(name.as_str()).is_none()
                {
                    return Err(format!("{} has no way {name:?}", of.name));
                }
                job(&mut next).procedures[*procedure].way = way.clone();
            }
            Edit::Survey { spots, error } => {
                let bay = Arc::make_mut(&mut next.bay);
                bay.heights = spots.iter().copied().collect();
                bay.reading_error = *error;
            }
            Edit::RenameFixture { from, to: new } => rename_fixture(&mut next, from, new)?,
            Edit::Rewrite { file, .. } => {
                match file {
                    FileValue::Bay(bay) => next.bay = bay.clone(),
                    FileValue::Vehicle(vehicle) => next.vehicle = vehicle.clone(),
                    FileValue::Equipment(equipment) => next.equipment = equipment.clone(),
                    FileValue::Procedure(at, procedure) => {
                        in_list(*at, &next)?;
                        next.procedures[*at] = procedure.clone();
                    }
                }
                keep::known(to, &mut next);
            }
            simple => simple.apply_to_job(job(&mut next), to)?,
        }
        Ok(next)
    }

    fn apply_to_job(&self, job: &mut Job, bundle: &Bundle) -> Result<(), String> {
        match self {
            Edit::Stand { x, y, heading, .. } => {
                job.pose = Pose::At {
                    x: finite("x", *x)?,
                    y: finite("y", *y)?,
                    heading: finite("the heading", *heading)?.rem_euclid(360.0),
                };
            }
            Edit::Measured { name, value } => {
                if !bundle.procedures.iter().any(|p| p.measured.get(name.as_str()).is_some()) {
                    return Err(format!("no procedure of the job asks for {name:?}"));
                }
                match value {
                    Some(v) => job.measured.set(name.as_str(), Reading(finite(name.as_str(), *v)?)),
                    None => job.measured.remove(name.as_str()),
                }
            }
            Edit::Choose { name, value } => match value {
                Some(v) => {
                    chosen_fits(bundle, name, finite(name.as_str(), *v)?)?;
                    job.choose.set(name.as_str(), Reading(*v));
                }
                None => job.choose.remove(name.as_str()),
            },
            Edit::Figure { name, found } => match found {
                Some(found) => {
                    finite(name.as_str(), found.mm)?;
                    job.figures.set(name.as_str(), found.clone());
                }
                None => job.figures.remove(name.as_str()),
            },
            Edit::RearToe(toe) => job.rear_toe = toe_of(*toe)?,
            Edit::FrontToe(toe) => job.front_toe = toe_of(*toe)?,
            Edit::Door { name, open } => {
                if !bundle.bay.doorways.iter().any(|d| d.name == *name) {
                    return Err(format!("the bay has no doorway {name:?}"));
                }
                listed(&mut job.doors_open.0, name, *open);
            }
            Edit::Clear { name, away } => {
                if !bundle.bay.fixtures.iter().any(|f| f.name == *name && (f.movable || !away)) {
                    return Err(format!("{name} cannot be moved"));
                }
                listed(&mut job.cleared.0, name, *away);
            }
            Edit::Accept(accepted) => {
                if accepted.reason.trim().is_empty() {
                    return Err("say why it is accepted".into());
                }
                take_back(job, &accepted.rule, &accepted.items);
                job.accepted.push(accepted.clone());
            }
            Edit::TakeBack { rule, items } => take_back(job, rule, items),
            Edit::Rename(name) => {
                if name.trim().is_empty() {
                    return Err("a job needs a name".into());
                }
                job.name = name.trim().into();
            }
            Edit::ShopFigure { which, mm } => {
                if let Some(mm) = mm
                    && !(mm.is_finite() && *mm >= 0.0)
                {
                    return Err(format!("{} cannot be {mm}", which.words()));
                }
                *which.of(&mut job.rules) = *mm;
            }
            Edit::Support(support) => {
                if let Support::Lift { name, height } = support {
                    if !bundle.bay.lifts.iter().any(|l| l.name == *name) {
                        return Err(format!("the bay has no lift {name:?}"));
                    }
                    finite("the height", *height)?;
                }
                job.support = support.clone();
            }
            Edit::EnterBy(door) => {
                if let Some(name) = door
                    && !bundle.bay.doorways.iter().any(|d| d.name == *name)
                {
                    return Err(format!("the bay has no doorway {name:?}"));
                }
                job.enter_by = door.clone();
            }
            Edit::DriveIn(asked) => job.drive_in = *asked,
            Edit::StraightRun(mm) => {
                if mm.is_some_and(|mm| !(mm >= 0.0 && mm.is_finite())) {
                    return Err("a straight run is a length of at least 0".into());
                }
                job.straight_run = *mm;
            }
            Edit::Market(market) => job.market = market.clone(),
            Edit::When(when) => job.when = when.clone(),
            // these change more than the job and are done above
            Edit::ChooseBay { .. }
            | Edit::ChooseVehicle { .. }
            | Edit::ChooseEquipment { .. }
            | Edit::AddProcedure { .. }
            | Edit::RemoveProcedure(_)
            | Edit::MoveProcedure { .. }
            | Edit::Variants { .. }
            | Edit::Way { .. }
            | Edit::Survey { .. }
            | Edit::RenameFixture { .. }
            | Edit::Rewrite { .. } => return Err("this is no change of the job alone".into()),
        }
        Ok(())
    }
}

fn job(bundle: &mut Bundle) -> &mut Job {
    Arc::make_mut(&mut bundle.job)
}

fn finite(what: &str, value: f64) -> Result<f64, String> {
    if value.is_finite() { Ok(value) } else { Err(format!("{what} is not a number that can be drawn")) }
}

fn in_list(at: usize, bundle: &Bundle) -> Result<(), String> {
    if at < bundle.procedures.len() && at < bundle.job.procedures.len() {
        Ok(())
    } else {
        Err("the job has no such procedure".into())
    }
}

/// Renames a fixture in the bay and wherever the job names it: what was cleared stays cleared, what was accepted about it
/// stays accepted.
fn rename_fixture(next: &mut Bundle, from: &Name, to: &Name) -> Result<(), String> {
    let named = |name: &Name| next.bay.fixtures.iter().any(|f| f.name == *name);
    if to.as_str().trim().is_empty() {
        return Err("a thing needs a name".into());
    }
    if !named(from) {
        return Err(format!("the bay has no fixture {from:?}"));
    }
    if from != to && named(to) {
        return Err(format!("there is a fixture {to:?} already"));
    }
    let before = Items::of(next);
    let rename = |name: &mut Name| {
        if name == from {
            *name = to.clone();
        }
    };
    for fixture in &mut Arc::make_mut(&mut next.bay).fixtures.0 {
        rename(&mut fixture.name);
    }
    job(next).cleared.0.iter_mut().for_each(rename);
    // a name that another thing bears too is left alone, or said with its kind
    let (old, new) = (Item::new(ItemKind::Fixture, from.as_str()), Item::new(ItemKind::Fixture, to.as_str()));
    let after = Items::of(next);
    let alone = |items: &Items, name: &Name, item: &Item| items.called(name.as_str()).all(|i| i == item);
    let spelt = if alone(&after, to, &new) { to.clone() } else { new.spelt().into() };
    let meant = alone(&before, from, &old);
    for word in job(next).accepted.0.iter_mut().flat_map(|a| &mut a.items) {
        if *word == old.spelt().as_str() || (word == from && meant) {
            *word = spelt.clone();
        }
    }
    Ok(())
}

fn toe_of(toe: Option<Toe>) -> Result<Option<Toe>, String> {
    if let Some(t) = toe {
        finite("toe", t.left)?;
        finite("toe", t.right)?;
    }
    Ok(toe)
}

fn listed(list: &mut Vec<Name>, name: &Name, on: bool) {
    list.retain(|n| n != name);
    if on {
        list.push(name.clone());
    }
}

fn take_back(job: &mut Job, rule: &Name, items: &[Name]) {
    job.accepted.0.retain(|a| !(a.rule == *rule && same_words(&a.items, items)));
}

/// Whether two lists name the same things in whatever order: a plain name and the same with its kind before it count as
/// one, two kinds do not.
fn same_words(these: &[Name], others: &[Name]) -> bool {
    let mut left: Vec<&str> = others.iter().map(Name::as_str).collect();
    let mut take = |word: &Name, same: fn(&str, &str) -> bool| {
        let at = left.iter().position(|other| same(word.as_str(), other));
        at.map(|at| left.swap_remove(at)).is_some()
    };
    let rest: Vec<&Name> = these.iter().filter(|word| !take(word, |a, b| a == b)).collect();
    these.len() == others.len() && rest.into_iter().all(|word| take(word, is_same_name))
}

fn is_same_name(a: &str, b: &str) -> bool {
    ItemKind::ALL.iter().any(|kind| {
        let plain = |word: &str, other: &str| {
            word.strip_prefix(kind.word()).and_then(|rest| rest.strip_prefix(": ")) == Some(other)
        };
        plain(a, b) || plain(b, a)
    })
}

/// Whether every procedure that leaves this value free takes this choice.
fn chosen_fits(bundle: &Bundle, name: &Name, value: f64) -> Result<(), String> {
    let mut asked = false;
    for of in keep::free_values(bundle, name.as_str()) {
        asked = true;
        match of {
            free if free.offers(value) => {}
            Value::Between(lo, hi) => {
                return Err(format!("{name} must be from {lo} to {hi}, not {value}"));
            }
            Value::OneOf(list) => {
                let list: Vec<String> = list.iter().map(f64::to_string).collect();
                return Err(format!("{name} must be {}, not {value}", list.join(" or ")));
            }
            // not free: never asked
            Value::Is(_) | Value::Missing(_) => {}
        }
    }
    if asked { Ok(()) } else { Err(format!("no procedure of the job leaves {name:?} free")) }
}
