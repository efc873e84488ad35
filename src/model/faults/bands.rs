//! Bands of a figure that pick a variant.

use crate::model::procedure::Procedure;

use super::{Defects, figures, plain};

/// A figure that is not there, variants that are not there, bands turned round, gaps between bands.
///
/// A procedure without any variants may pick plain settings, which are shown and change nothing here.
pub(super) fn pick(p: &Procedure, out: &mut Defects) {
    let Some(pick) = &p.pick else { return };
    let known = figures::known(p);
    if !known.contains(&pick.by.as_str()) {
        out.unknown(&pick.by, "value or measured figure", known.iter().copied());
    }
    for band in &pick.from {
        if !p.variants.is_empty() && p.variants.get(band.2.as_str()).is_none() {
            out.unknown(&band.2, "variant", p.variants.names());
        }
        if band.0 > band.1 {
            let text = format!("the band of {:?} ends below where it starts", band.2);
            out.at(band.2.spot, text, None);
        }
    }
    let mut bands: Vec<_> = pick.from.iter().filter(|b| b.0 <= b.1).collect();
    bands.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut reached = bands.first().map_or(f64::INFINITY, |b| b.1);
    for band in bands.iter().skip(1) {
        if band.0 > reached {
            let text = format!(
                "the bands of {:?} leave a gap from {} to {}",
                pick.by,
                plain(reached),
                plain(band.0)
            );
            let hint = "let each band start where the one below it ends".to_string();
            out.at(band.2.spot, text, Some(hint));
        }
        reached = reached.max(band.1);
    }
}
