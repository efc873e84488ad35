//! What a surface must be able to draw. All coordinates are page px, x right, y down.

use super::labels::PageBox;
use super::theme::{Hatch, Lettering, Pen, Plate, Rgba};
use crate::scene::Role;

/// Something to draw on.
pub trait Surface {
    /// What follows is drawn for this role.
    fn begin(&mut self, _role: Role) {}

    /// Width and height a text takes.
    fn measure(&mut self, text: &str, letters: &Lettering) -> [f32; 2];

    /// Fills a closed outline, which may be concave.
    fn fill(&mut self, outline: &[[f32; 2]], colour: Rgba);

    /// Fills what lies inside an outline and outside its holes.
    fn fill_around(&mut self, outline: &[[f32; 2]], holes: &[Vec<[f32; 2]>], colour: Rgba);

    /// Hatches the inside of a closed outline with lines, one of which passes `origin`.
    fn hatch(&mut self, outline: &[[f32; 2]], hatch: &Hatch, origin: [f32; 2]);

    fn stroke(&mut self, points: &[[f32; 2]], closed: bool, pen: &Pen);

    fn circle(&mut self, at: [f32; 2], radius: f32, fill: Option<Rgba>, pen: Option<&Pen>);

    /// A small panel behind a text.
    fn plate(&mut self, at: PageBox, plate: &Plate);

    /// A text with its upper left corner at `at`.
    fn text(&mut self, at: [f32; 2], text: &str, letters: &Lettering);
}
