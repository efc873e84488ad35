//! A scene on an egui painter.
//!
//! Fills are meshes of triangles without feathering (filled concave polygons of egui itself come out wrong); their edges
//! are smoothed by the stroke on top. Dashes and hatching are cut to the page before they are made.

use egui::epaint::{Mesh, Shape, StrokeKind, Vertex, WHITE_UV};
use egui::{Color32, CornerRadius, FontId, Painter, Pos2, Rect, Stroke, Vec2, pos2};

use super::labels::PageBox;
use super::outline::{between, clip};
use super::surface::Surface;
use super::theme::{Hatch, Lettering, Pen, Plate, Rgba, Theme};
use super::{Painted, View};
use crate::geometry::{P2, V2, triangles_around};
use crate::scene::{Scene, spans_along};

/// Draws the scene into `rect`; the view's page lies at its upper left corner. Gives where the texts came to stand,
/// in page coordinates. No text comes to stand in the boxes of `kept`, page px.
pub fn draw(
    painter: &Painter,
    rect: Rect,
    view: &View,
    scene: &Scene,
    theme: &Theme,
    kept: &[PageBox],
) -> Painted {
    let painter = painter.with_clip_rect(painter.clip_rect().intersect(rect));
    if let Some(ground) = theme.ink(crate::scene::Role::Ground).fill {
        painter.rect_filled(rect, CornerRadius::ZERO, colour(ground));
    }
    let size = rect.size();
    let mut screen = Screen {
        painter: &painter,
        corner: rect.min.to_vec2(),
        page: PageBox::new([0.0; 2], [size.x, size.y]).grown(8.0),
        shapes: Vec::with_capacity(1024),
        ring: Vec::new(),
        cuts: Vec::new(),
    };
    let painted = super::draw(scene, view, theme, kept, &mut screen);
    let shapes = std::mem::take(&mut screen.shapes);
    painter.extend(shapes);
    painted
}

/// A theme's colour for egui.
pub fn colour(c: Rgba) -> Color32 {
    let [r, g, b, a] = c.0;
    Color32::from_rgba_unmultiplied(r, g, b, a)
}

struct Screen<'p> {
    painter: &'p Painter,
    corner: Vec2,
    page: PageBox,
    shapes: Vec<Shape>,
    ring: Vec<P2>,
    cuts: Vec<f64>,
}

impl Screen<'_> {
    fn at(&self, p: [f32; 2]) -> Pos2 {
        pos2(p[0], p[1]) + self.corner
    }

    fn segment(&mut self, a: [f32; 2], b: [f32; 2], stroke: Stroke) {
        let points = [self.at(a), self.at(b)];
        self.shapes.push(Shape::LineSegment { points, stroke });
    }

    /// One straight stretch of a dashed line, cut to the page; `phase` is how far into the dashes it begins.
    fn dashes(&mut self, a: [f32; 2], b: [f32; 2], pen: &Pen, phase: f32) {
        let length = (b[0] - a[0]).hypot(b[1] - a[1]);
        let Some((from, to)) = clip(a, b, &self.page) else {
            return;
        };
        let cycle: f32 = pen.dash.iter().sum();
        if length <= 0.0 || cycle <= 0.5 {
            return;
        }
        let stroke = Stroke::new(pen.width, colour(pen.colour));
        let (start, end) = (from * length, to * length);
        let mut at = start - (phase + start).rem_euclid(cycle);
        while at < end {
            for (i, part) in pen.dash.iter().enumerate() {
                if i % 2 == 0 && at + part > start && at < end {
                    let (s, t) = (at.max(start) / length, (at + part).min(end) / length);
                    self.segment(between(a, b, s), between(a, b, t), stroke);
                }
                at += part;
            }
        }
    }

    /// One set of hatch lines over the ring in `self.ring`.
    fn lines(&mut self, about: &PageBox, hatch: &Hatch, angle: f64, origin: [f32; 2]) {
        let way = V2::new(angle.cos(), angle.sin());
        let normal = V2::new(-way.y, way.x);
        let origin = P2::new(f64::from(origin[0]), f64::from(origin[1]));
        let seen = about.meet(&self.page);
        let (mut lo, mut hi) = (f64::INFINITY, f64::NEG_INFINITY);
        for x in [seen.min[0], seen.max[0]] {
            for y in [seen.min[1], seen.max[1]] {
                let off = normal.dot(&(P2::new(f64::from(x), f64::from(y)) - origin));
                (lo, hi) = (lo.min(off), hi.max(off));
            }
        }
        let step = f64::from(hatch.spacing).max(1.0);
        let stroke = Stroke::new(hatch.width, colour(hatch.colour));
        let mut n = (lo / step).ceil();
        while n * step < hi {
            let at = origin + normal * (n * step);
            for (from, to) in spans_along(&self.ring, at, way, &mut self.cuts) {
                let [a, b] = [at + way * from, at + way * to].map(|p| [p.x as f32, p.y as f32]);
                if let Some((s, t)) = clip(a, b, &self.page) {
                    let points = [between(a, b, s), between(a, b, t)].map(|p| pos2(p[0], p[1]) + self.corner);
                    self.shapes.push(Shape::LineSegment { points, stroke });
                }
            }
            n += 1.0;
        }
    }
}

impl Surface for Screen<'_> {
    fn measure(&mut self, text: &str, letters: &Lettering) -> [f32; 2] {
        let size = self.galley(text, letters).size();
        [size.x, size.y]
    }

    fn fill(&mut self, outline: &[[f32; 2]], fill: Rgba) {
        if !is_convex(outline) {
            // also an outline that touches itself once its points are rounded to the page
            return self.fill_around(outline, &[], fill);
        }
        let mut mesh = Mesh::default();
        let tint = colour(fill);
        for p in outline {
            mesh.vertices.push(Vertex { pos: self.at(*p), uv: WHITE_UV, color: tint });
        }
        for i in 1..outline.len().saturating_sub(1) as u32 {
            mesh.add_triangle(0, i, i + 1);
        }
        self.shapes.push(Shape::mesh(mesh));
    }

    fn fill_around(&mut self, outline: &[[f32; 2]], holes: &[Vec<[f32; 2]>], fill: Rgba) {
        let ring = |points: &[[f32; 2]]| -> Vec<P2> {
            points.iter().map(|p| P2::new(f64::from(p[0]), f64::from(p[1]))).collect()
        };
        let holes: Vec<Vec<P2>> = holes.iter().map(|h| ring(h)).collect();
        let mut mesh = Mesh::default();
        let tint = colour(fill);
        for (i, triangle) in triangles_around(&ring(outline), &holes).iter().enumerate() {
            for p in triangle {
                let pos = self.at([p.x as f32, p.y as f32]);
                mesh.vertices.push(Vertex { pos, uv: WHITE_UV, color: tint });
            }
            let first = i as u32 * 3;
            mesh.add_triangle(first, first + 1, first + 2);
        }
        self.shapes.push(Shape::mesh(mesh));
    }

    fn hatch(&mut self, outline: &[[f32; 2]], hatch: &Hatch, origin: [f32; 2]) {
        self.ring.clear();
        self.ring.extend(outline.iter().map(|p| P2::new(f64::from(p[0]), f64::from(p[1]))));
        let about = PageBox::about(outline);
        let angle = f64::from(hatch.angle).to_radians();
        self.lines(&about, hatch, angle, origin);
        if hatch.crossed {
            self.lines(&about, hatch, angle + std::f64::consts::FRAC_PI_2, origin);
        }
    }

    fn stroke(&mut self, points: &[[f32; 2]], closed: bool, pen: &Pen) {
        let stroke = Stroke::new(pen.width, colour(pen.colour));
        if !pen.dash.is_empty() {
            let mut phase = 0.0;
            let last = if closed { points.len() } else { points.len().saturating_sub(1) };
            for i in 0..last {
                let (a, b) = (points[i], points[(i + 1) % points.len()]);
                self.dashes(a, b, pen, phase);
                phase += (b[0] - a[0]).hypot(b[1] - a[1]);
            }
        } else if let [a, b] = points {
            self.segment(*a, *b, stroke);
        } else if has_spike(points, closed) {
            let last = if closed { points.len() } else { points.len().saturating_sub(1) };
            for i in 0..last {
                self.segment(points[i], points[(i + 1) % points.len()], stroke);
            }
        } else {
            let points: Vec<Pos2> = points.iter().map(|p| self.at(*p)).collect();
            self.shapes.push(if closed {
                Shape::closed_line(points, stroke)
            } else {
                Shape::line(points, stroke)
            });
        }
    }

    fn circle(&mut self, at: [f32; 2], radius: f32, fill: Option<Rgba>, pen: Option<&Pen>) {
        let centre = self.at(at);
        if let Some(fill) = fill {
            self.shapes.push(Shape::circle_filled(centre, radius, colour(fill)));
        }
        if let Some(pen) = pen {
            let stroke = Stroke::new(pen.width, colour(pen.colour));
            self.shapes.push(Shape::circle_stroke(centre, radius, stroke));
        }
    }

    fn plate(&mut self, at: PageBox, plate: &Plate) {
        let rect = Rect::from_min_max(self.at(at.min), self.at(at.max));
        let corners = CornerRadius::same(3);
        self.shapes.push(Shape::rect_filled(rect, corners, colour(plate.fill)));
        if let Some(edge) = &plate.edge {
            let stroke = Stroke::new(edge.width, colour(edge.colour));
            self.shapes.push(Shape::rect_stroke(rect, corners, stroke, StrokeKind::Inside));
        }
    }

    fn text(&mut self, at: [f32; 2], text: &str, letters: &Lettering) {
        let galley = self.galley(text, letters);
        let tint = colour(letters.colour);
        let at = self.at(at);
        self.shapes.push(Shape::galley(at, galley, tint));
    }
}

impl Screen<'_> {
    fn galley(&self, text: &str, letters: &Lettering) -> std::sync::Arc<egui::Galley> {
        let font = FontId::proportional(letters.size);
        self.painter.layout_no_wrap(text.to_owned(), font, colour(letters.colour))
    }
}

/// Whether all turns of the ring go one way.
fn is_convex(ring: &[[f32; 2]]) -> bool {
    let n = ring.len();
    let mut sign = 0.0f32;
    for i in 0..n {
        let [a, b, c] = [ring[i], ring[(i + 1) % n], ring[(i + 2) % n]];
        let turn = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
        if turn.abs() > 1e-3 {
            if sign * turn < 0.0 {
                return false;
            }
            sign = turn;
        }
    }
    true
}

/// Whether a line turns back on itself somewhere: joined there, its corner would shoot far out of the line.
fn has_spike(points: &[[f32; 2]], closed: bool) -> bool {
    let n = points.len();
    let corners = if closed { 0..n } else { 1..n.saturating_sub(1) };
    corners.into_iter().any(|i| {
        let (a, b, c) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
        let (u, v) = ([b[0] - a[0], b[1] - a[1]], [c[0] - b[0], c[1] - b[1]]);
        let (along, lengths) = (u[0] * v[0] + u[1] * v[1], u[0].hypot(u[1]) * v[0].hypot(v[1]));
        // turned by more than 150 degrees, the corner is longer than four widths of the line
        along < -0.866 * lengths
    })
}

#[cfg(test)]
mod tests;
