//! What a person is told while setting the targets of one setup: order, tolerances, lines to draw.

use super::figures::Show;
use super::words;
use crate::layout::drawn::{FaceRun, chalk, on_faces};
use crate::layout::{Layout, Setup, Station};
use crate::model::{Figure, called_all};

/// One sentence each; empty where the procedure asks nothing beyond the places themselves.
pub fn setting(layout: &Layout, setup: &Setup, show: Show) -> Vec<String> {
    let mut lines = Vec::new();
    if setup.def.in_turn && setup.stations.len() > 1 {
        let order: Vec<&str> = setup.stations.iter().map(|s| &*s.name).collect();
        lines.push(format!("one piece in turn: {}", order.join(", then ")));
    }
    for station in &setup.stations {
        if !station.def.path.is_empty() {
            let marks = std::iter::once(&station.mark).chain(station.def.path.iter().map(|m| &m.text));
            let mut way: Vec<&str> = marks.map(|m| &**m).collect();
            way.dedup();
            lines.push(format!("{}: move it from {}", station.name, way.join(" to ")));
        }
        if let Some(fixed) = &station.def.fixed_to {
            lines.push(format!("{}: {}", station.name, words::fixed_to(fixed)));
        }
        lines.extend(tolerance(layout, setup, station, show));
    }
    for line in on_faces(layout, setup) {
        lines.push(match line.run {
            Ok(FaceRun::Upright { left }) => {
                let side = if left < 0.0 { "right" } else { "left" };
                let beside = match left.abs() < 0.05 {
                    true => "in its middle".to_string(),
                    false => format!("{} to its own {side} of its middle", show.tenth(left.abs())),
                };
                format!("{}: upright line through {}, {beside}", line.station, line.through)
            }
            Ok(FaceRun::Level { above_edge, height }) => format!(
                "{}: level line at {}, {} above its lower edge ({} above the tyres' plane)",
                line.station,
                line.through,
                show.tenth(above_edge),
                show.tenth(height)
            ),
            Err(missing) => {
                format!("{}: line at {} not known: {}", line.station, line.through, called_all(&missing.0))
            }
        });
    }
    for line in chalk(layout, setup) {
        let wide = match &line.width {
            Ok(Some(width)) => format!(", {} wide", show.one(*width)),
            _ => String::new(),
        };
        lines.push(match line.ends {
            Ok((a, b)) => format!(
                "chalk from {} to {}, {}{wide}",
                line.from,
                line.to,
                show.tenth(nalgebra::distance(&a, &b))
            ),
            Err(missing) => {
                format!("chalk from {} to {}: not known: {}", line.from, line.to, called_all(&missing.0))
            }
        });
    }
    lines
}

fn tolerance(layout: &Layout, setup: &Setup, station: &Station, show: Show) -> Option<String> {
    let t = &station.def.tolerance;
    let values = layout.values(setup.procedure);
    let known = |figure: &Option<Figure>| figure.as_ref().and_then(|f| values.of(f).ok());
    let mm = |word: &str, figure| known(figure).map(|v| format!("{word} ±{}", show.tenth(v.abs())));
    let deg = |word: &str, figure| known(figure).map(|v| format!("{word} ±{:.2}°", v.abs()));
    let all = [
        mm("along", &t.along),
        mm("across", &t.across),
        mm("up", &t.up),
        deg("turn", &t.turn),
        deg("roll", &t.roll),
        deg("tilt", &t.tilt),
    ];
    let told: Vec<String> = all.into_iter().flatten().collect();
    (!told.is_empty()).then(|| format!("{}: within {}", station.name, told.join(", ")))
}
