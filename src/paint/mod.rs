//! From a scene to marks on a surface: one theme table, one way of painting, several surfaces.
//!
//! [`draw`] walks a [`Scene`](crate::scene::Scene) once and calls a [`Surface`] with lines, fills, hatching and texts in
//! page pixels (x right, y down). Screen and SVG are surfaces, so that they show the same.

mod drawing;
mod outline;

pub mod hit;
pub mod labels;
pub mod surface;
pub mod svg;
pub mod symbol;
pub mod theme;
pub mod view;

#[cfg(feature = "gui")]
pub mod screen;

pub use drawing::{Painted, draw, draw_symbol};
pub use hit::{pick, under};
pub use surface::Surface;
pub use svg::to_svg;
pub use symbol::Symbol;
pub use theme::{Ink, Rgba, Theme};
pub use view::View;
