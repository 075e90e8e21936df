//! How wide letters are set: the advances of IBM Plex Sans, so that a view knows what fits before it is drawn.
//!
//! The tests hold the tables against the face itself. Kerning is left out: it only ever narrows a run by a hair.

use dryfit_measure::Figure;

use crate::paper::{Weight, Words};

/// Height of capitals and of figures, in em (`OS/2` table: 698 of 1000).
pub(crate) const CAP: f64 = 0.698;
/// Size of the digits of a stacked fraction against that of whole numbers.
pub(crate) const FRACTION: f64 = 0.74;
/// From a whole number to its fraction, in em.
pub(crate) const BEFORE_FRACTION: f64 = 0.1;
/// From one run to the next, in em.
pub(crate) const BETWEEN_RUNS: f64 = 0.24;
/// A figure's advance in em, the same for all ten and in all weights.
const DIGIT: f64 = 0.6;
/// The bar of a fraction stands out past its digits by this much in all, in em.
pub(crate) const BAR: f64 = 0.08;

/// Advances of U+0020 to U+007E in thousandths of an em.
const REGULAR: [u16; 95] = [
    236, 284, 419, 713, 598, 927, 694, 242, 335, 335, 450, 600, 272, 399, 272, 383, 600, 600, 600, 600, 600,
    600, 600, 600, 600, 600, 292, 292, 600, 600, 600, 477, 891, 641, 653, 621, 671, 583, 559, 695, 707, 400,
    510, 634, 501, 812, 707, 708, 606, 708, 640, 581, 572, 678, 609, 891, 613, 593, 580, 317, 383, 317, 600,
    565, 600, 534, 580, 503, 580, 549, 324, 528, 568, 250, 250, 527, 272, 873, 568, 560, 580, 580, 367, 487,
    351, 568, 492, 768, 507, 499, 464, 343, 314, 343, 600,
];
const SEMIBOLD: [u16; 95] = [
    236, 309, 471, 656, 600, 960, 713, 260, 337, 337, 556, 600, 299, 402, 299, 437, 600, 600, 600, 600, 600,
    600, 600, 600, 600, 600, 319, 319, 600, 600, 600, 493, 899, 672, 663, 642, 689, 600, 577, 712, 719, 423,
    545, 678, 521, 817, 719, 712, 641, 712, 664, 611, 580, 689, 638, 949, 655, 632, 599, 329, 437, 329, 600,
    559, 600, 559, 600, 513, 600, 558, 350, 545, 588, 275, 275, 562, 294, 888, 588, 563, 600, 600, 393, 499,
    374, 588, 524, 819, 544, 524, 502, 363, 376, 363, 600,
];
const BOLD: [u16; 95] = [
    236, 320, 493, 632, 601, 974, 721, 268, 338, 338, 601, 600, 310, 403, 310, 460, 600, 600, 600, 600, 600,
    600, 600, 600, 600, 600, 330, 330, 600, 600, 600, 500, 903, 685, 667, 651, 697, 607, 585, 719, 724, 432,
    559, 696, 530, 819, 724, 714, 656, 714, 674, 624, 584, 694, 650, 973, 673, 649, 607, 334, 460, 334, 600,
    556, 600, 569, 608, 517, 608, 562, 361, 552, 596, 286, 286, 577, 303, 894, 596, 564, 608, 608, 404, 504,
    383, 596, 538, 841, 560, 534, 518, 372, 402, 372, 600,
];

/// How wide words are set, in points. A letter outside the table counts as a wide one.
pub fn text_width(text: &str, size: f64, weight: Weight) -> f64 {
    let table = match weight {
        Weight::Regular => &REGULAR,
        Weight::Semibold => &SEMIBOLD,
        Weight::Bold => &BOLD,
    };
    let advance = |letter: char| {
        let index = (letter as usize).checked_sub(0x20);
        index.and_then(|index| table.get(index)).map_or(0.65, |advance| f64::from(*advance) / 1000.0)
    };
    size * text.chars().map(advance).sum::<f64>()
}

/// How wide a number is set with its fraction stacked, in points.
pub fn figure_width(figure: &Figure, size: f64) -> f64 {
    let whole = text_width(&whole_of(figure), size, Weight::Bold);
    if figure.numerator == 0 {
        return whole;
    }
    let gap = if whole > 0.0 { BEFORE_FRACTION * size } else { 0.0 };
    whole + gap + fraction_width(figure, size)
}

/// How wide the bar of a stacked fraction is, in points.
pub(crate) fn fraction_width(figure: &Figure, size: f64) -> f64 {
    let digits = |n: u32| f64::from(n.max(1).ilog10() + 1);
    let most = digits(figure.denominator).max(digits(figure.numerator));
    size * (DIGIT * FRACTION * most + BAR)
}

/// How wide a run of words and numbers is set, in points.
pub fn words_width(words: &[Words], size: f64, weight: Weight) -> f64 {
    let one = |words: &Words| match words {
        Words::Plain(text) => text_width(text, size, weight),
        Words::Figure(figure) => figure_width(figure, size),
    };
    let gaps = f64::from(u32::try_from(words.len().saturating_sub(1)).unwrap_or(u32::MAX));
    words.iter().map(one).sum::<f64>() + gaps * BETWEEN_RUNS * size
}

/// How high a run is, in points: capitals, or a stacked fraction.
pub fn words_height(words: &[Words], size: f64) -> f64 {
    let stacked = words.iter().any(|words| matches!(words, Words::Figure(figure) if figure.numerator > 0));
    size * if stacked { 2.0 * CAP * FRACTION + 0.232 } else { CAP }
}

/// What stands before the fraction.
pub(crate) fn whole_of(figure: &Figure) -> String {
    let sign = if figure.negative { "\u{2212}" } else { "" };
    let feet = figure.feet.map_or_else(String::new, |feet| format!("{feet}\u{2032} "));
    let whole = figure.whole.map_or_else(String::new, |whole| whole.to_string());
    let tenths = if figure.tenths > 0 { format!(".{}", figure.tenths) } else { String::new() };
    format!("{sign}{feet}{whole}{tenths}")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The face itself says how wide its letters are.
    #[test]
    fn the_tables_are_those_of_the_face() {
        for (weight, class) in [(Weight::Regular, 400), (Weight::Semibold, 600), (Weight::Bold, 700)] {
            let face = dryfit_fonts::FACES.iter().find(|face| face.weight == class).map(|face| face.bytes);
            let face = ttf_parser::Face::parse(face.unwrap_or_default(), 0).expect("a face");
            let em = f64::from(face.units_per_em());
            for letter in ' '..='~' {
                let glyph = face.glyph_index(letter).and_then(|glyph| face.glyph_hor_advance(glyph));
                let advance = f64::from(glyph.expect("a letter")) / em;
                assert!((text_width(&letter.to_string(), 1.0, weight) - advance).abs() < 1e-9, "{letter}");
            }
            assert!((f64::from(face.capital_height().expect("capitals")) / em - CAP).abs() < 1e-9);
        }
    }
}
