//! What a sensor sees.

use crate::layout::Layout;
use crate::scene::Scene;
use crate::scene::inset::inset;

/// What the sensor of one setup sees: made when the job changes, shown as it is.
pub(crate) struct SensorView {
    pub title: String,
    pub size: (f64, f64),
    pub scene: Scene,
}

impl SensorView {
    /// The picture of the first sight from a sensor with a view to something that has its place, of the setups shown;
    /// further ones are chosen by showing their setup alone.
    pub(crate) fn of(layout: &Layout, shown: Option<usize>) -> Option<SensorView> {
        let mut setups = layout.setups.iter().enumerate().filter(|(i, _)| shown.is_none_or(|s| s == *i));
        setups.find_map(|(i, setup)| {
            let has_view = |name: &str| layout.eye(setup, name).is_some_and(|eye| eye.view.is_some());
            let nowhere = |name: &str| setup.stations.iter().any(|s| *s.name == *name && s.place.is_err());
            let sights = || setup.def.sights.iter().filter(|s| !nowhere(s.to.as_str()));
            let from = sights().find(|s| has_view(s.from.as_str()))?.from.as_str();
            let seen: Vec<&str> =
                sights().filter(|s| s.from.as_str() == from).map(|s| s.to.as_str()).collect();
            let sight = setup.def.sights.iter().position(|s| s.from.as_str() == from)?;
            let picture = inset(layout, i, sight)?;
            let title = format!("What {from} sees: {}", seen.join(", "));
            Some(SensorView { title, size: picture.size, scene: picture.scene() })
        })
    }
}
