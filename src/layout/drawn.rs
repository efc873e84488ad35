//! Lines a person draws: on the face of a target, and on the floor.

use std::sync::Arc;

use super::Layout;
use super::body;
use super::lengths;
use super::setup::Setup;
use super::solid::{Known, Missing, both};
use crate::geometry::P2;
use crate::model::further::FaceLine;
use crate::model::language::Feature;
use crate::model::{Lack, Name};

/// A line to put on a face.
#[derive(Clone, Debug, PartialEq)]
pub struct OnFace {
    pub station: Arc<str>,
    /// What it goes through: a mark, a feature, or the height as given.
    pub through: Through,
    pub run: Known<FaceRun>,
}

/// What a line on a face goes through.
#[derive(Clone, Debug, PartialEq)]
pub enum Through {
    Mark(Arc<str>),
    Feature(Feature),
    /// The procedure gives its height alone.
    HeightGiven,
}

/// Where it runs on the face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FaceRun {
    /// Upright; mm to the target's own left of its middle.
    Upright { left: f64 },
    /// Level; mm above the face's lower edge, and above the plane of the tyre contacts.
    Level { above_edge: f64, height: f64 },
}

/// A line to chalk on the floor, bay axes.
#[derive(Clone, Debug, PartialEq)]
pub struct Chalk {
    pub from: Arc<str>,
    pub to: Arc<str>,
    pub ends: Known<(P2, P2)>,
    /// mm; absent: as thin as chalk draws.
    pub width: Known<Option<f64>>,
}

/// The lines on the faces of one setup of the layout.
pub fn on_faces(layout: &Layout, setup: &Setup) -> Vec<OnFace> {
    let values = layout.values(setup.procedure);
    let mut all = Vec::new();
    for station in &setup.stations {
        for line in &station.def.on_face {
            let stand = station.place.clone();
            let (through, run) = match line {
                FaceLine::Upright(mark) => {
                    let run = both(stand, lengths::at(setup, mark));
                    (
                        Through::Mark(mark.text.clone()),
                        run.map(|(s, p)| FaceRun::Upright { left: s.frame.to_local(p).y }),
                    )
                }
                FaceLine::Level(feature, plus) => {
                    let height = both(feature_height(layout, &values, feature), values.of(plus))
                        .map(|(z, plus)| z + plus);
                    let run = both(stand, height).map(|(s, h)| level(s.lower - layout.raise, h));
                    (Through::Feature(feature.clone()), run)
                }
                FaceLine::At(height) => {
                    let run = both(stand, values.of(height)).map(|(s, h)| level(s.lower - layout.raise, h));
                    (Through::HeightGiven, run)
                }
            };
            all.push(OnFace { station: station.name.clone(), through, run });
        }
    }
    all
}

/// The lines to chalk for one setup of the layout.
pub fn chalk(layout: &Layout, setup: &Setup) -> Vec<Chalk> {
    let values = layout.values(setup.procedure);
    let line = |from: &Name, to: &Name| both(lengths::at(setup, from), lengths::at(setup, to));
    setup
        .def
        .draw
        .iter()
        .map(|d| Chalk {
            from: d.from.text.clone(),
            to: d.to.text.clone(),
            ends: line(&d.from, &d.to),
            width: values.maybe(&d.width),
        })
        .collect()
}

fn level(lower: f64, height: f64) -> FaceRun {
    FaceRun::Level { above_edge: height - lower, height }
}

fn feature_height(layout: &Layout, values: &super::values::Values, feature: &Feature) -> Known<f64> {
    if let Some(z) = values.height_of(feature) {
        return Ok(z);
    }
    body::feature(&layout.bundle.vehicle, feature)?
        .1
        .ok_or_else(|| Missing::one(Lack::HeightOfFeature(feature.clone())))
}
