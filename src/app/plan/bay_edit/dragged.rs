//! Things of the bay while the pointer holds them.

use std::sync::Arc;

use egui::{Event, Key, Ui};

use crate::app::commands::command::Command;
use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::number_field;
use crate::edit::Step;
use crate::edit::bay::snap::{Guides, SnapTo};
use crate::edit::bay::{BayThing, several, to_walls};
use crate::geometry::{Bounds, P2, V2};
use crate::model::Bay;

/// How near to a line that draws the pointer must be, points.
const REACH: f64 = 8.0;

/// What is being dragged.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::app::plan) struct Dragged {
    pub things: Vec<BayThing>,
    /// Where it was taken, in the bay.
    from: P2,
    /// The bay before.
    before: Arc<Bay>,
    /// The box about all of them before.
    own: Bounds,
    guides: Guides,
    /// How far it was dragged so far, whole mm unless something draws it.
    by: V2,
    /// What draws it, across and along.
    pub drawn: [Option<SnapTo>; 2],
    /// A length typed meanwhile takes over that to the nearest wall, across (0) or along (1).
    pub typed: String,
    pub typed_along: usize,
    /// Where its corners would be, and why they cannot.
    pub refused: Option<(Vec<P2>, String)>,
    moved: bool,
}

/// How the pointer drags.
#[derive(Clone, Copy, Debug)]
pub(in crate::app::plan) struct Hand {
    /// Along one bay axis only.
    pub straight: bool,
    /// Nothing draws.
    pub free: bool,
    /// Points a mm.
    pub scale: f64,
}

impl Dragged {
    /// None where they have no place.
    pub(in crate::app::plan) fn start(cx: PanelContext, things: Vec<BayThing>, from: P2) -> Option<Dragged> {
        let before = cx.document.bundle().bay.clone();
        let stance = cx.layout().stance;
        let along_an_axis = stance.heading.rem_euclid(90.0) == 0.0;
        let axle = along_an_axis.then(|| P2::new(stance.x, stance.y));
        Some(Dragged {
            own: several::bounds(&before, &things)?,
            guides: Guides::new(&before, &things, axle),
            things,
            from,
            before,
            by: V2::zeros(),
            drawn: [None, None],
            typed: String::new(),
            typed_along: 0,
            refused: None,
            moved: false,
        })
    }

    /// Digits typed while it is held: they say how far it is from the nearest wall; Tab: from the other one.
    pub(in crate::app::plan) fn type_into(&mut self, ui: &Ui) {
        let events = ui.input(|i| i.events.clone());
        for event in events {
            match event {
                Event::Text(text) => {
                    let of_a_length = |c: &char| c.is_ascii_digit() || ".,'\"/- ".contains(*c);
                    let begins = !self.typed.is_empty() || text.starts_with(|c: char| c.is_ascii_digit());
                    if begins {
                        if self.typed.is_empty() {
                            self.typed_along = usize::from(self.by.y.abs() > self.by.x.abs());
                        }
                        self.typed.extend(text.chars().filter(of_a_length));
                    }
                }
                Event::Key { key: Key::Backspace, pressed: true, .. } => drop(self.typed.pop()),
                Event::Key { key: Key::Tab, pressed: true, .. } if !self.typed.is_empty() => {
                    self.typed_along = 1 - self.typed_along;
                }
                _ => {}
            }
        }
    }

    /// The pointer is over another place.
    pub(in crate::app::plan) fn drag(&mut self, to: P2, hand: Hand, out: &mut Vec<Command>) {
        let by = to - self.from;
        let by = match hand.straight {
            true if by.x.abs() < by.y.abs() => V2::new(0.0, by.y),
            true => V2::new(by.x, 0.0),
            false => by,
        };
        // to whole millimetres, where it moves at all
        let place = self.own.centre();
        let whole = |at: f64, by: f64| if by.round() == 0.0 { 0.0 } else { (at + by).round() - at };
        let mut by = V2::new(whole(place.x, by.x), whole(place.y, by.y));
        self.drawn = [None, None];
        // a doorway only slides along its wall
        let slides = self.things.iter().any(|t| matches!(t, BayThing::Doorway(_)));
        if by != V2::zeros() && !hand.free && !slides {
            let found = self.guides.snapped(&self.own, by, REACH / hand.scale.max(1e-9));
            for (at, (new, to)) in [found.by.x, found.by.y].into_iter().zip(found.to).enumerate() {
                if by[at] != 0.0 {
                    (by[at], self.drawn[at]) = (new, to);
                }
            }
        }
        if let Some(mm) = self.typed_length() {
            let moved = Bounds { min: self.own.min + by, max: self.own.max + by };
            if let Some((now, _, way)) = to_walls(&self.before, &moved)[self.typed_along] {
                by += way * (now - mm);
                self.drawn[self.typed_along] = None;
            }
        }
        if by == self.by {
            return;
        }
        self.by = by;
        match several::moved(&self.before, &self.things, by) {
            Ok(next) => {
                let step = if self.moved { Step::Same } else { Step::New };
                (self.moved, self.refused) = (true, None);
                out.push(Command::bay_rewritten(self.title(), Ok(next), step));
            }
            Err(why) => {
                let points = self.before.floor.points.iter().enumerate().map(|(i, p)| {
                    let at = P2::new(p.0, p.1);
                    if self.things.contains(&BayThing::Corner(i)) { at + by } else { at }
                });
                self.refused = Some((points.collect(), why));
            }
        }
    }

    /// The length typed, where it can be read.
    pub(in crate::app::plan) fn typed_length(&self) -> Option<f64> {
        if self.typed.is_empty() { None } else { number_field::read_length(self.typed.trim()).ok() }
    }

    fn title(&self) -> String {
        format!("move {}", several::names(&self.before, &self.things))
    }

    /// Back to where it was.
    pub(in crate::app::plan) fn let_go(&self, out: &mut Vec<Command>) {
        if self.moved {
            out.push(Command::bay_rewritten(self.title(), Ok((*self.before).clone()), Step::Same));
        }
    }
}
