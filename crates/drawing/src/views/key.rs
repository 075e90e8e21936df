//! The key under a drawing: letters for what is too small to carry its own name.

use dryfit_measure::Figure;

use crate::metrics::words_width;
use crate::paper::{Anchor, Weight, Words};
use crate::sketch::{Frame, Sketch};

/// A name and its size, along the grain and across.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Told {
    pub name: String,
    pub size: [Figure; 2],
}

/// Letters in order, each with what it stands for. What has the same name and size shares a letter.
#[derive(Debug, Default)]
pub(crate) struct Key {
    rows: Vec<(String, Told)>,
}

/// Size of its words: as on the sheet itself, where they are smallest, and a little more.
const SIZE: f64 = 13.0;
/// From one row to the next, points: with fractions that stand, and without.
const ROW: [f64; 2] = [21.0, 17.0];
/// Paper for a letter before its words, points.
const LETTER: f64 = 22.0;

impl Key {
    /// Whether everything carries its own name.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The letter of something, if it has one.
    pub fn letter(&self, wanted: &Told) -> Option<&str> {
        self.rows.iter().find(|(_, told)| told == wanted).map(|(letter, _)| letter.as_str())
    }

    /// Gives it a letter, unless it has one.
    pub fn add(&mut self, told: &Told) {
        if self.letter(told).is_none() {
            self.rows.push((letter(self.rows.len()), told.clone()));
        }
    }

    /// Paper that it takes, points.
    pub fn height(&self, frame: Frame) -> f64 {
        let rows = self.rows.len().div_ceil(self.columns(frame));
        if rows == 0 { 0.0 } else { f64::from(u32::try_from(rows).unwrap_or(u32::MAX)) * self.row() + 6.0 }
    }

    fn row(&self) -> f64 {
        let stands = |(_, told): &(String, Told)| told.size.iter().any(|figure| figure.denominator > 1);
        ROW[usize::from(!self.rows.iter().any(stands))]
    }

    /// As many as every row is narrow enough for, up to three.
    fn columns(&self, frame: Frame) -> usize {
        let widest = self.rows.iter().map(|(_, told)| words_width(&words(told), SIZE, Weight::Semibold));
        let column = widest.fold(0.0, f64::max) + LETTER + 8.0;
        [3, 2].into_iter().find(|count| column * *count as f64 <= frame.width).unwrap_or(1)
    }

    /// Puts it down, filled column by column, from the lower edge of the drawing upwards.
    pub fn draw(&self, sketch: &mut Sketch, frame: Frame) {
        let columns = self.columns(frame);
        let high = self.rows.len().div_ceil(columns).max(1);
        let [low, far] = sketch.extent();
        let wide = (far[0] - low[0]) / columns as f64;
        sketch.layer("key");
        for (index, (letter, told)) in self.rows.iter().enumerate() {
            let row = high - 1 - index % high;
            let x = low[0] + wide * (index / high) as f64 + sketch.pt(4.0);
            let y = low[1] + sketch.pt(self.row() * (row as f64 + 0.5));
            sketch.text([x, y], letter.clone(), SIZE, Weight::Bold, Anchor::Left);
            let at = [x + sketch.pt(LETTER), y];
            sketch.words(at, words(told), SIZE, Weight::Semibold, Anchor::Left);
        }
    }
}

fn words(told: &Told) -> Vec<Words> {
    let [length, width] = told.size;
    vec![
        Words::Plain(told.name.clone()),
        Words::Figure(length),
        Words::Plain("\u{d7}".to_owned()),
        Words::Figure(width),
    ]
}

/// a to z, then aa, ab: never a number, which a cut's flag might be taken for.
fn letter(index: usize) -> String {
    let last = char::from(b'a' + u8::try_from(index % 26).unwrap_or(0));
    if index < 26 { last.to_string() } else { letter(index / 26 - 1) + &last.to_string() }
}

#[cfg(test)]
mod tests {
    use super::letter;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!([0, 25, 26, 27, 52].map(letter), ["a", "z", "aa", "ab", "ba"]);
    }
}
