//! The changes a person can make to a job.

use std::sync::Arc;

use super::keep;
use super::shop::ShopFigure;
use crate::model::figure::Value;
use crate::model::job::{Accepted, Chosen, Found, Reading, Support, Toe};
use crate::model::when::When;
use crate::model::{Bay, Bundle, Equipment, Job, List, Name, Pose, Procedure, Vehicle};

/// One change of a job. Lengths are mm, angles degrees, as the job file holds them.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// The vehicle's origin in bay axes and its heading.
    Stand {
        x: f64,
        y: f64,
        heading: f64,
        how: Motion,
    },
    /// Files are named as the job file names them.
    ChooseBay {
        file: Name,
        bay: Arc<Bay>,
    },
    ChooseVehicle {
        file: Name,
        vehicle: Arc<Vehicle>,
    },
    ChooseEquipment {
        file: Name,
        equipment: Arc<Equipment>,
    },
    AddProcedure {
        file: Name,
        procedure: Arc<Procedure>,
    },
    RemoveProcedure(usize),
    /// Takes the procedure at `from` out and puts it in at `to`.
    MoveProcedure {
        from: usize,
        to: usize,
    },
    Variants {
        procedure: usize,
        variants: Vec<Name>,
    },
    /// One of the procedure's ways; `None`: the first that fits.
    Way {
        procedure: usize,
        way: Option<Name>,
    },
    /// A figure taken off the car or the bay, in its own unit; `None` forgets it.
    Measured {
        name: Name,
        value: Option<f64>,
    },
    /// A free value of a procedure; `None` leaves it open again.
    Choose {
        name: Name,
        value: Option<f64>,
    },
    /// A figure the procedure lacks, with who says so.
    Figure {
        name: Name,
        found: Option<Found>,
    },
    RearToe(Option<Toe>),
    FrontToe(Option<Toe>),
    Door {
        name: Name,
        open: bool,
    },
    /// A movable thing is out of the way, or stands.
    Clear {
        name: Name,
        away: bool,
    },
    Accept(Accepted),
    TakeBack {
        rule: Name,
        items: Vec<Name>,
    },
    Rename(String),
    /// One of the shop's own figures; `None` goes back to the bay's.
    ShopFigure {
        which: ShopFigure,
        mm: Option<f64>,
    },
    Support(Support),
    /// The doorway the vehicle comes in by; `None`: the first.
    EnterBy(Option<Name>),
    /// The market the vehicle was made for.
    Market(Option<Name>),
    /// When the work is done, for the light.
    When(Option<When>),
}

/// How a pose came about, for the words of undo.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Motion {
    Move,
    Turn,
    TurnRound,
    Nudge,
    Type,
}

impl Edit {
    /// What undo and redo call it: "Undo move vehicle".
    pub fn title(&self) -> String {
        match self {
            Edit::Stand { how, .. } => match how {
                Motion::Move | Motion::Nudge => "move vehicle".into(),
                Motion::Turn => "turn vehicle".into(),
                Motion::TurnRound => "turn vehicle round".into(),
                Motion::Type => "place vehicle".into(),
            },
            Edit::ChooseBay { .. } => "choose bay".into(),
            Edit::ChooseVehicle { .. } => "choose vehicle".into(),
            Edit::ChooseEquipment { .. } => "choose equipment".into(),
            Edit::AddProcedure { .. } => "add procedure".into(),
            Edit::RemoveProcedure(_) => "remove procedure".into(),
            Edit::MoveProcedure { .. } => "reorder procedures".into(),
            Edit::Variants { .. } => "choose variant".into(),
            Edit::Way { .. } => "choose way".into(),
            Edit::Market(_) => "choose market".into(),
            Edit::When(_) => "set date and time".into(),
            Edit::Measured { name, .. } | Edit::Choose { name, .. } | Edit::Figure { name, .. } => {
                format!("set {name}")
            }
            Edit::RearToe(_) => "set rear toe".into(),
            Edit::FrontToe(_) => "set front toe".into(),
            Edit::Door { name, open: true } => format!("open {name}"),
            Edit::Door { name, open: false } => format!("shut {name}"),
            Edit::Clear { name, away: true } => format!("clear {name}"),
            Edit::Clear { name, away: false } => format!("put {name} back"),
            Edit::Accept(_) => "accept finding".into(),
            Edit::TakeBack { .. } => "take back acceptance".into(),
            Edit::Rename(_) => "rename job".into(),
            Edit::ShopFigure { which, .. } => format!("set {}", which.words()),
            Edit::Support(_) => "choose support".into(),
            Edit::EnterBy(_) => "choose doorway".into(),
        }
    }

    /// The bundle after this change, or one sentence why it cannot be made.
    pub fn apply(&self, to: &Bundle) -> Result<Bundle, String> {
        let mut next = to.clone();
        match self {
            Edit::ChooseBay { file, bay } => {
                next.bay = bay.clone();
                job(&mut next).bay = file.clone();
                keep::known(&mut next);
            }
            Edit::ChooseVehicle { file, vehicle } => {
                next.vehicle = vehicle.clone();
                job(&mut next).vehicle = file.clone();
            }
            Edit::ChooseEquipment { file, equipment } => {
                next.equipment = equipment.clone();
                job(&mut next).equipment = file.clone();
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
                keep::known(&mut next);
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
                keep::known(&mut next);
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
            Edit::Market(market) => job.market = market.clone(),
            Edit::When(when) => job.when = when.clone(),
            _ => {}
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
    let sorted = |items: &[Name]| {
        let mut items = items.to_vec();
        items.sort();
        items
    };
    let wanted = sorted(items);
    job.accepted.0.retain(|a| !(a.rule == *rule && sorted(&a.items) == wanted));
}

/// Whether every procedure that leaves this value free takes this choice.
fn chosen_fits(bundle: &Bundle, name: &Name, value: f64) -> Result<(), String> {
    let mut asked = false;
    for of in keep::free_values(bundle, name.as_str()) {
        asked = true;
        match of {
            Value::Between(lo, hi) if value < *lo || *hi < value => {
                return Err(format!("{name} must be from {lo} to {hi}, not {value}"));
            }
            Value::OneOf(list) if !list.contains(&value) => {
                let list: Vec<String> = list.iter().map(f64::to_string).collect();
                return Err(format!("{name} must be {}, not {value}", list.join(" or ")));
            }
            _ => {}
        }
    }
    if asked { Ok(()) } else { Err(format!("no procedure of the job leaves {name:?} free")) }
}
