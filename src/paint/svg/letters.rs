//! How much room a text takes in a picture whose viewer sets it in its own sans-serif fonts: the widths are those of a
//! wide one, so that no text grows out of its place.

/// Baseline below the upper edge, in parts of the size.
pub(super) const ASCENT: f32 = 0.93;
const HEIGHT: f32 = 1.17;
/// Bold letters are wider by this factor.
const STRONG: f32 = 1.16;

/// Advance widths of the letters from blank to tilde in thousandths of the size, as in DejaVu Sans.
const WIDTHS: [u16; 95] = [
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
    636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
    295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838,
    500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
    392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
];

/// Width and height of a text of one line, px.
pub(super) fn measure(text: &str, size: f32, strong: bool) -> [f32; 2] {
    let sum: f32 = text.chars().map(width).sum();
    let factor = if strong { STRONG } else { 1.0 };
    [sum * size * factor, size * HEIGHT]
}

fn width(c: char) -> f32 {
    let thousandths = match c {
        ' '..='~' => WIDTHS[c as usize - 32],
        '\u{2009}' | '\u{202f}' => 200,
        '°' => 500,
        _ if (c as u32) < 0x2000 => 838,
        _ => 1000,
    };
    f32::from(thousandths) / 1000.0
}
