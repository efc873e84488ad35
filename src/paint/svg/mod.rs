//! A scene as an SVG picture: stable text, one group for each run of items of one role.

mod letters;

use std::fmt::Write;

use super::labels::PageBox;
use super::surface::Surface;
use super::theme::{Hatch, Lettering, Pen, Plate, Rgba, Theme};
use super::{View, draw};
use crate::scene::{Role, Scene};

/// Draws the scene as an SVG document of the view's size.
pub fn to_svg(scene: &Scene, view: &View, theme: &Theme) -> String {
    let mut svg = Svg::default();
    draw(scene, view, theme, &[], &mut svg);
    svg.close();
    let (w, h) = (number(view.size.0 as f32), number(view.size.1 as f32));
    let mut out = String::with_capacity(svg.body.len() + 1024);
    let _ = writeln!(
        out,
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{w}" height="{h}" viewBox="0 0 {w} {h}" font-family="DejaVu Sans, Verdana, sans-serif">"#
    );
    if !svg.hatches.is_empty() {
        out.push_str("<defs>\n");
        for (i, (hatch, origin)) in svg.hatches.iter().enumerate() {
            pattern(&mut out, i, hatch, *origin);
        }
        out.push_str("</defs>\n");
    }
    if let Some(ground) = theme.ink(Role::Ground).fill {
        let _ = writeln!(out, r#"<rect width="{w}" height="{h}"{}/>"#, filled(Some(ground)));
    }
    out.push_str(&svg.body);
    out.push_str("</svg>\n");
    out
}

#[derive(Default)]
struct Svg {
    body: String,
    role: Option<Role>,
    hatches: Vec<(Hatch, [f32; 2])>,
}

impl Svg {
    fn close(&mut self) {
        if self.role.take().is_some() {
            self.body.push_str("</g>\n");
        }
    }

    fn path(&mut self, points: &[[f32; 2]], closed: bool, attributes: &str) {
        self.body.push_str(r#"<path d=""#);
        self.trace(points);
        let tail = if closed { " Z" } else { "" };
        let _ = writeln!(self.body, r#"{tail}"{attributes}/>"#);
    }

    fn trace(&mut self, points: &[[f32; 2]]) {
        for (i, p) in points.iter().enumerate() {
            let head = if i == 0 { "M" } else { " L" };
            let _ = write!(self.body, "{head}{} {}", number(p[0]), number(p[1]));
        }
    }
}

impl Surface for Svg {
    fn begin(&mut self, role: Role) {
        if self.role != Some(role) {
            self.close();
            self.role = Some(role);
            let _ = writeln!(self.body, r#"<g class="{role:?}">"#);
        }
    }

    fn measure(&mut self, text: &str, letters: &Lettering) -> [f32; 2] {
        letters::measure(text, letters.size, letters.strong)
    }

    fn fill(&mut self, outline: &[[f32; 2]], colour: Rgba) {
        self.path(outline, true, &filled(Some(colour)));
    }

    fn fill_around(&mut self, outline: &[[f32; 2]], holes: &[Vec<[f32; 2]>], colour: Rgba) {
        self.body.push_str(r#"<path fill-rule="evenodd" d=""#);
        for ring in std::iter::once(outline).chain(holes.iter().map(Vec::as_slice)) {
            self.trace(ring);
            self.body.push_str(" Z");
        }
        let _ = writeln!(self.body, r#""{}/>"#, filled(Some(colour)));
    }

    fn hatch(&mut self, outline: &[[f32; 2]], hatch: &Hatch, origin: [f32; 2]) {
        let known = self.hatches.iter().position(|(h, _)| h == hatch);
        let index = known.unwrap_or_else(|| {
            self.hatches.push((*hatch, origin));
            self.hatches.len() - 1
        });
        self.path(outline, true, &format!(r#" fill="url(#hatch{index})""#));
    }

    fn stroke(&mut self, points: &[[f32; 2]], closed: bool, pen: &Pen) {
        self.path(points, closed, &format!(r#" fill="none"{}"#, stroked(Some(pen))));
    }

    fn circle(&mut self, at: [f32; 2], radius: f32, fill: Option<Rgba>, pen: Option<&Pen>) {
        let _ = writeln!(
            self.body,
            r#"<circle cx="{}" cy="{}" r="{}"{}{}/>"#,
            number(at[0]),
            number(at[1]),
            number(radius),
            filled(fill),
            stroked(pen)
        );
    }

    fn plate(&mut self, at: PageBox, plate: &Plate) {
        let [w, h] = at.size();
        let _ = writeln!(
            self.body,
            r#"<rect x="{}" y="{}" width="{}" height="{}" rx="3"{}{}/>"#,
            number(at.min[0]),
            number(at.min[1]),
            number(w),
            number(h),
            filled(Some(plate.fill)),
            stroked(plate.edge.as_ref())
        );
    }

    fn text(&mut self, at: [f32; 2], text: &str, letters: &Lettering) {
        let weight = if letters.strong { r#" font-weight="bold""# } else { "" };
        let _ = writeln!(
            self.body,
            r#"<text x="{}" y="{}" font-size="{}"{weight}{}>{}</text>"#,
            number(at[0]),
            number(at[1] + letters.size * letters::ASCENT),
            number(letters.size),
            filled(Some(letters.colour)),
            escaped(text)
        );
    }
}

/// Hatching as a pattern whose lines pass the origin.
fn pattern(out: &mut String, index: usize, hatch: &Hatch, origin: [f32; 2]) {
    let step = number(hatch.spacing);
    let pen = Pen { colour: hatch.colour, width: hatch.width, dash: &[] };
    let _ = write!(
        out,
        r#"<pattern id="hatch{index}" patternUnits="userSpaceOnUse" width="{step}" height="{step}" patternTransform="translate({} {}) rotate({})"><path d="M0 {m} H{step}"#,
        number(origin[0]),
        number(origin[1]),
        number(hatch.angle),
        m = number(hatch.spacing / 2.0),
    );
    if hatch.crossed {
        let _ = write!(out, " M{} 0 V{step}", number(hatch.spacing / 2.0));
    }
    let _ = writeln!(out, r#""{}/></pattern>"#, stroked(Some(&pen)));
}

fn filled(colour: Option<Rgba>) -> String {
    match colour {
        None => r#" fill="none""#.into(),
        Some(Rgba([r, g, b, a])) => {
            let mut text = format!(r##" fill="#{r:02x}{g:02x}{b:02x}""##);
            if a < 255 {
                let _ = write!(text, r#" fill-opacity="{}""#, number(f32::from(a) / 255.0));
            }
            text
        }
    }
}

fn stroked(pen: Option<&Pen>) -> String {
    let Some(pen) = pen else { return String::new() };
    let Rgba([r, g, b, a]) = pen.colour;
    let mut text = format!(r##" stroke="#{r:02x}{g:02x}{b:02x}" stroke-width="{}""##, number(pen.width));
    if a < 255 {
        let _ = write!(text, r#" stroke-opacity="{}""#, number(f32::from(a) / 255.0));
    }
    if !pen.dash.is_empty() {
        let dashes: Vec<String> = pen.dash.iter().map(|d| number(*d)).collect();
        let _ = write!(text, r#" stroke-dasharray="{}""#, dashes.join(" "));
    }
    text
}

/// At most three decimals, no trailing zeros, never "-0".
fn number(v: f32) -> String {
    let mut text = format!("{v:.3}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".into() } else { text }
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests;
