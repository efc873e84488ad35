//! The texts of a drawing: asked for while it is walked, placed and set when all else is drawn.

use super::{Painted, Pass, burden};
use crate::paint::labels::{PageBox, Placed, Want, Wish};
use crate::paint::outline::inside;
use crate::paint::surface::Surface;
use crate::paint::symbol::Symbol;
use crate::paint::theme::{Ink, Pen, Plate};
use crate::scene::{Role, Tag};

/// Half the size of a symbol, px.
const SYMBOL: f32 = 5.0;
/// Padding of a text on its plate, px.
const PAD: [f32; 2] = [3.0, 1.5];

/// A text that waits for its place.
pub(super) struct Text<'s> {
    role: Role,
    text: &'s str,
    tag: Option<&'s Tag>,
    wish: Wish,
    /// Where its symbol stays when the text finds no room.
    at: [f32; 2],
}

impl<'s> Pass<'_, 's> {
    /// Notes a text that asks for a place.
    pub(super) fn wish(&mut self, role: Role, text: &'s str, weight: u8, tag: Option<&'s Tag>, want: Want) {
        let ink = self.theme.ink(role);
        let near = match want {
            Want::Near(p) => PageBox::new(p, p),
            Want::Beside(b) | Want::Within(b) => b,
            Want::Along(a, b) => PageBox::about(&[a, b]),
        };
        let at = near.centre();
        if text.is_empty() || !near.grown(1.0).overlaps(&self.page) {
            return;
        }
        let (mut w, mut h) = (0.0f32, 0.0);
        for line in text.lines() {
            let size = self.surface.measure(line, &ink.text);
            w = w.max(size[0]);
            h += size[1];
        }
        let symbol = if ink.symbol.is_some() { SYMBOL * 2.0 + 5.0 } else { 0.0 };
        // inside its own area a text may stand freely
        let own = if matches!(want, Want::Within(_)) { burden(role).0 } else { 0 };
        let wish = Wish { want, size: [w + symbol + PAD[0] * 2.0, h + PAD[1] * 2.0], weight, own };
        self.texts.push(Text { role, text, tag, wish, at });
    }

    /// Places and draws all texts; those of findings come last, so that nothing lies on them.
    pub(super) fn letter(mut self) -> Painted {
        let wishes: Vec<Wish> = self.texts.iter().map(|t| t.wish).collect();
        let places = self.field.place(&wishes);
        let mut painted = Painted::default();
        for findings in [false, true] {
            for (text, place) in self.texts.iter().zip(&places) {
                if text.role.is_outcome() != findings {
                    continue;
                }
                let ink = self.theme.ink(text.role);
                let drawn = match place {
                    Some(place) => {
                        let plate = ink.text.plate.map(|p| self.behind(p, place));
                        set(self.surface, text, place, ink, plate);
                        Some(place.at)
                    }
                    None => ink.symbol.filter(|_| self.page.holds(text.at)).map(|symbol| {
                        lone(self.surface, symbol, text.at, ink);
                        PageBox::centred(text.at, [SYMBOL * 3.2; 2])
                    }),
                };
                if let (Some(at), Some(tag)) = (drawn, text.tag) {
                    painted.texts.push((at, tag.clone()));
                }
            }
        }
        painted
    }

    /// A plate without an edge takes the colour of the ground where the text stands off the floor.
    fn behind(&self, plate: Plate, place: &Placed) -> Plate {
        let at = place.at.centre();
        match self.theme.ink(Role::Ground).fill {
            Some(ground) if plate.edge.is_none() && !self.floors.iter().any(|f| inside(at, f)) => {
                Plate { fill: ground.at(plate.fill.0[3]), ..plate }
            }
            _ => plate,
        }
    }
}

fn set(surface: &mut dyn Surface, text: &Text, place: &Placed, ink: &Ink, plate: Option<Plate>) {
    surface.begin(text.role);
    if let Some(leader) = &place.leader {
        let pen = Pen { colour: ink.pen.map_or(ink.text.colour, |p| p.colour), width: 0.8, dash: &[] };
        surface.stroke(leader, false, &pen);
    }
    if let Some(plate) = &plate {
        surface.plate(place.at, plate);
    }
    let mut left = place.at.min[0] + PAD[0];
    if let Some(symbol) = ink.symbol {
        let middle = [left + SYMBOL, place.at.centre()[1]];
        draw_symbol(surface, symbol, middle, SYMBOL, ink);
        left += SYMBOL * 2.0 + 5.0;
    }
    let room = place.at.max[0] - PAD[0] - left;
    let mut top = place.at.min[1] + PAD[1];
    for line in text.text.lines() {
        let [w, h] = surface.measure(line, &ink.text);
        surface.text([left + ((room - w) / 2.0).max(0.0), top], line, &ink.text);
        top += h;
    }
}

/// A finding's symbol without its text.
fn lone(surface: &mut dyn Surface, symbol: Symbol, at: [f32; 2], ink: &Ink) {
    if let Some(plate) = &ink.text.plate {
        surface.circle(at, SYMBOL * 1.6, Some(plate.fill), plate.edge.as_ref());
    }
    draw_symbol(surface, symbol, at, SYMBOL * 0.85, ink);
}

/// Draws an outcome's symbol, `half` px to each side of its middle.
pub fn draw_symbol(surface: &mut dyn Surface, symbol: Symbol, at: [f32; 2], half: f32, ink: &Ink) {
    let pen = Pen {
        colour: ink.pen.map_or(ink.text.colour, |p| p.colour),
        width: (half * 0.42).max(1.4),
        dash: &[],
    };
    let mut points = [[0.0; 2]; 16];
    for stroke in symbol.strokes() {
        let n = stroke.points.len().min(points.len());
        for (to, from) in points.iter_mut().zip(stroke.points) {
            *to = [at[0] + from[0] * half, at[1] + from[1] * half];
        }
        surface.stroke(&points[..n], stroke.closed, &pen);
    }
}
