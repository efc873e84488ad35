//! Small signs drawn as lines, in the colour of the text: no font has to know them.

use egui::{Pos2, Response, Sense, Stroke, Ui, Vec2, pos2, vec2};

use crate::app::widgets::style;

/// A sign on a button.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Icon {
    Cross,
    Up,
    Down,
    Undo,
    Redo,
    /// Points at what is folded.
    Right,
    Left,
}

impl Icon {
    /// Its lines in a box from -1 to 1, y down.
    fn lines(self) -> Vec<Vec<[f32; 2]>> {
        let head = |[x, y]: [f32; 2], a: [f32; 2], b: [f32; 2]| {
            vec![[x + a[0], y + a[1]], [x, y], [x + b[0], y + b[1]]]
        };
        match self {
            Icon::Cross => vec![vec![[-0.7, -0.7], [0.7, 0.7]], vec![[-0.7, 0.7], [0.7, -0.7]]],
            Icon::Up => vec![vec![[0.0, 0.9], [0.0, -0.8]], head([0.0, -0.9], [-0.6, 0.65], [0.6, 0.65])],
            Icon::Down => vec![vec![[0.0, -0.9], [0.0, 0.8]], head([0.0, 0.9], [-0.6, -0.65], [0.6, -0.65])],
            Icon::Right => vec![vec![[-0.4, -0.75], [0.45, 0.0], [-0.4, 0.75]]],
            Icon::Left => vec![vec![[0.4, -0.75], [-0.45, 0.0], [0.4, 0.75]]],
            Icon::Undo => {
                let arc = (0..=9).map(|i| {
                    let a = (-90.0 + 20.0 * i as f32).to_radians();
                    [0.1 + 0.75 * a.cos(), 0.2 + 0.65 * a.sin()]
                });
                let bow =
                    [[-0.9, -0.45], [0.1, -0.45]].into_iter().chain(arc).chain([[-0.5, 0.85]]).collect();
                vec![bow, head([-0.95, -0.45], [0.5, -0.45], [0.5, 0.45])]
            }
            Icon::Redo => {
                let turned = Icon::Undo.lines().into_iter();
                turned.map(|line| line.into_iter().map(|[x, y]| [-x, y]).collect()).collect()
            }
        }
    }

    /// Draws it `half` points to each side of its middle.
    pub(crate) fn draw(self, painter: &egui::Painter, middle: Pos2, half: f32, pen: Stroke) {
        for line in self.lines() {
            let points: Vec<Pos2> =
                line.iter().map(|[x, y]| pos2(middle.x + x * half, middle.y + y * half)).collect();
            painter.add(egui::Shape::line(points, pen));
        }
    }
}

/// A button with a sign; `words` say what it does, for the ear and on pointing at it.
pub(crate) fn button(ui: &mut Ui, icon: Icon, words: &str, can: bool) -> Response {
    ui.add_enabled_ui(can, |ui| {
        let (rect, response) = ui.allocate_exact_size(Vec2::splat(style::row_height(ui)), Sense::click());
        let visuals = ui.style().interact(&response);
        if response.hovered() || response.has_focus() {
            ui.painter().rect(
                rect.shrink(2.0),
                visuals.corner_radius,
                visuals.weak_bg_fill,
                visuals.bg_stroke,
                egui::StrokeKind::Inside,
            );
        }
        let mut pen = visuals.fg_stroke;
        pen.width = 1.4;
        if !can {
            pen.color = pen.color.gamma_multiply(0.35);
        }
        icon.draw(ui.painter(), rect.center(), 5.0, pen);
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, can, words));
        response
    })
    .inner
    .on_hover_text(words)
}

/// A row's sign that tells whether something is unfolded.
pub(crate) fn fold(ui: &mut Ui, open: bool) {
    let (rect, _) = ui.allocate_exact_size(vec2(14.0, style::row_height(ui)), Sense::hover());
    let icon = if open { Icon::Down } else { Icon::Right };
    let half = if open { 3.5 } else { 4.5 };
    icon.draw(ui.painter(), rect.center(), half, Stroke::new(1.4, ui.visuals().weak_text_color()));
}
