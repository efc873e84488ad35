//! What a person is told while setting the targets of one setup: order, tolerances, lines to draw.

use super::words;
use crate::checks::wording::{feature, lacks_all, things};
use crate::layout::drawn::{FaceRun, Through, chalk, on_faces};
use crate::layout::{Layout, Setup, Station};
use crate::model::Figure;
use crate::phrases::{Say, phrases, say};

phrases! { pub in "setting";
    IN_TURN = "one piece in turn: {targets}";
    AND_THEN = ", then ";
    MOVE_IT = "{target}: move it from {way}";
    TO = " to ";
    FIXED = "{target}: {how}";
    UPRIGHT = "{target}: upright line through {mark}, in its middle";
    UPRIGHT_LEFT = "{target}: upright line through {mark}, {mm} to its own left of its middle";
    UPRIGHT_RIGHT = "{target}: upright line through {mark}, {mm} to its own right of its middle";
    LEVEL = "{target}: level line at {at}, {edge} above its lower edge ({height} above the tyres' plane)";
    LINE_UNKNOWN = "{target}: line at {at} not known: {missing}";
    CHALK = "chalk from {from} to {to}, {length}";
    CHALK_WIDE = "chalk from {from} to {to}, {length}, {width} wide";
    CHALK_UNKNOWN = "chalk from {from} to {to}: not known: {missing}";
    WITHIN = "{target}: within {limits}";
    ALONG = "along ±{limit}";
    ACROSS = "across ±{limit}";
    UP = "up ±{limit}";
    TURN = "turn ±{limit}";
    ROLL = "roll ±{limit}";
    TILT = "tilt ±{limit}";
    HEIGHT_GIVEN = "the height given";
}

/// One sentence each; empty where the procedure asks nothing beyond the places themselves.
pub fn setting(layout: &Layout, setup: &Setup, say: Say) -> Vec<String> {
    let mut lines = Vec::new();
    if setup.def.in_turn && setup.stations.len() > 1 {
        let targets = say.list(setup.stations.iter().map(|s| &s.name), AND_THEN);
        lines.push(say!(say, IN_TURN, targets));
    }
    for station in &setup.stations {
        let target = &station.name;
        if !station.def.path.is_empty() {
            let marks = std::iter::once(&station.mark).chain(station.def.path.iter().map(|m| &m.text));
            let mut way: Vec<&str> = marks.map(|m| &**m).collect();
            way.dedup();
            lines.push(say!(say, MOVE_IT, target, way = say.list(way, TO)));
        }
        if let Some(fixed) = &station.def.fixed_to {
            lines.push(say!(say, FIXED, target, how = words::fixed_to(fixed, say)));
        }
        lines.extend(tolerance(layout, setup, station, say));
    }
    for line in on_faces(layout, setup) {
        let (target, at) = (&line.station, through(&line.through, say));
        lines.push(match line.run {
            Ok(FaceRun::Upright { left }) => {
                let phrase = match left {
                    left if left.abs() < 0.05 => UPRIGHT,
                    left if left < 0.0 => UPRIGHT_RIGHT,
                    _ => UPRIGHT_LEFT,
                };
                say!(say, phrase, target, mark = at, mm = say.tenth(left.abs()))
            }
            Ok(FaceRun::Level { above_edge, height }) => {
                let (edge, height) = (say.tenth(above_edge), say.tenth(height));
                say!(say, LEVEL, target, at, edge, height)
            }
            Err(missing) => say!(say, LINE_UNKNOWN, target, at, missing = lacks_all(&missing.0, say)),
        });
    }
    for line in chalk(layout, setup) {
        let (from, to) = (&line.from, &line.to);
        lines.push(match line.ends {
            Ok((a, b)) => {
                let length = say.tenth(nalgebra::distance(&a, &b));
                match &line.width {
                    Ok(Some(width)) => say!(say, CHALK_WIDE, from, to, length, width = say.one(*width)),
                    _ => say!(say, CHALK, from, to, length),
                }
            }
            Err(missing) => say!(say, CHALK_UNKNOWN, from, to, missing = lacks_all(&missing.0, say)),
        });
    }
    lines
}

/// What a line on a face goes through.
pub fn through(through: &Through, say: Say) -> String {
    match through {
        Through::Mark(mark) => mark.to_string(),
        Through::Feature(of) => feature(of, say),
        Through::HeightGiven => say.word(HEIGHT_GIVEN),
    }
}

fn tolerance(layout: &Layout, setup: &Setup, station: &Station, say: Say) -> Option<String> {
    let t = &station.def.tolerance;
    let values = layout.values(setup.procedure);
    let known = |figure: &Option<Figure>| figure.as_ref().and_then(|f| values.of(f).ok());
    let mm = |phrase, figure| known(figure).map(|v| say!(say, phrase, limit = say.tenth(v.abs())));
    let deg = |phrase, figure| known(figure).map(|v| say!(say, phrase, limit = format!("{:.2}°", v.abs())));
    let all = [
        mm(ALONG, &t.along),
        mm(ACROSS, &t.across),
        mm(UP, &t.up),
        deg(TURN, &t.turn),
        deg(ROLL, &t.roll),
        deg(TILT, &t.tilt),
    ];
    let told: Vec<String> = all.into_iter().flatten().collect();
    (!told.is_empty())
        .then(|| say!(say, WITHIN, target = station.name, limits = say.list(told, things::COMMA)))
}
