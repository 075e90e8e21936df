//! Labels that fit: a few lines of words inside a rectangle, as large as it allows, upright or turned.

use crate::metrics::{words_height, words_width};
use crate::paper::{Anchor, Point, Shape, Weight, Words};
use crate::patch::{Patch, place};
use crate::sketch::Sketch;

/// One line of a label: its words, and its size against that of the first line.
#[derive(Clone, Debug)]
pub(crate) struct LabelLine {
    pub words: Vec<Words>,
    pub share: f64,
    pub weight: Weight,
}

impl LabelLine {
    /// A bold line as large as the label.
    pub fn bold(words: Vec<Words>) -> LabelLine {
        LabelLine { words, share: 1.0, weight: Weight::Bold }
    }

    fn size(&self, size: f64) -> f64 {
        self.share * size
    }
}

/// A label that has found its place.
#[derive(Clone, Debug)]
pub(crate) struct Label {
    lines: Vec<LabelLine>,
    size: f64,
    turned: bool,
    at: Point,
    half: Point,
    /// How far it reaches into what was taken; none if it stands free.
    pub clash: f64,
}

/// Paper between two lines, in parts of the letters' size.
const LEADING: f64 = 0.42;

/// Sizes that are tried, points.
const SIZES: [f64; 9] = [17.0, 16.0, 15.0, 14.0, 13.0, 12.0, 11.0, 9.5, 8.0];

impl Label {
    /// The best of several ways to set a label inside a box (mm): as large as may be, standing free of what is
    /// taken; turned only where that lets it be larger.
    pub fn fit(
        sketch: &Sketch,
        ways: &[Vec<LabelLine>],
        [low, high]: [Point; 2],
        largest: f64,
        taken: &[Patch],
    ) -> Option<Label> {
        let inner = sketch.pt(2.5);
        let room = [high[0] - low[0] - 2.0 * inner, high[1] - low[1] - 2.0 * inner];
        let near: Vec<Patch> =
            taken.iter().filter(|patch| patch.overlaps(&Patch::between(low, high))).copied().collect();
        let mut fallback: Option<Label> = None;
        for size in SIZES.into_iter().filter(|size| *size <= largest) {
            for (lines, turned) in
                [false, true].into_iter().flat_map(|t| ways.iter().map(move |way| (way, t)))
            {
                let flat = extent(lines, size).map(|points| sketch.pt(points));
                let half = if turned { [flat[1] / 2.0, flat[0] / 2.0] } else { flat.map(|side| side / 2.0) };
                if half[0] * 2.0 > room[0] || half[1] * 2.0 > room[1] {
                    continue;
                }
                let spots = spots([low, high], half, inner);
                let grown = half.map(|side| side + sketch.pt(1.5));
                let Some((at, clash)) = place(spots, grown, &near) else { continue };
                let label = Label { lines: lines.clone(), size, turned, at, half, clash };
                if clash <= 0.0 {
                    return Some(label);
                }
                if fallback.as_ref().is_none_or(|other| clash < other.clash * 0.8) {
                    fallback = Some(label);
                }
            }
        }
        fallback
    }

    /// A letter inside a box, where it stands free of what is taken; in a box too small even for a letter, on its
    /// middle.
    pub fn letter(sketch: &Sketch, letter: &str, room: [Point; 2], taken: &[Patch]) -> Label {
        let lines = vec![LabelLine::bold(vec![Words::Plain(letter.to_owned())])];
        let free = Label::fit(sketch, std::slice::from_ref(&lines), room, 14.0, taken);
        free.unwrap_or_else(|| {
            let size = SIZES[SIZES.len() - 1];
            let half = extent(&lines, size).map(|points| sketch.pt(points) / 2.0);
            let middle = [0, 1].map(|axis| f64::midpoint(room[0][axis], room[1][axis]));
            let spots = spots(room, half, 0.0);
            let (at, clash) = place(spots, half, taken).unwrap_or((middle, 0.0));
            Label { lines, size, turned: false, at, half, clash }
        })
    }

    /// Size of its first line, points.
    pub fn size(&self) -> f64 {
        self.size
    }

    /// The paper it covers.
    pub fn patch(&self) -> Patch {
        Patch { centre: self.at, half: self.half, turn: 0.0 }
    }

    /// Whether it runs up the page.
    pub fn is_turned(&self) -> bool {
        self.turned
    }

    /// Puts it down.
    pub fn draw(&self, sketch: &mut Sketch) {
        let heights: Vec<f64> =
            self.lines.iter().map(|line| words_height(&line.words, line.size(self.size))).collect();
        let total = extent(&self.lines, self.size)[1];
        let mut from_top = 0.0;
        for (line, height) in self.lines.iter().zip(heights) {
            let down = sketch.pt(from_top + height / 2.0 - total / 2.0);
            let at =
                if self.turned { [self.at[0] + down, self.at[1]] } else { [self.at[0], self.at[1] - down] };
            sketch.shape(Shape::Text {
                at,
                words: line.words.clone(),
                size: line.size(self.size),
                weight: line.weight,
                anchor: Anchor::Centre,
                turn: if self.turned { 90.0 } else { 0.0 },
                halo: true,
            });
            from_top += height + LEADING * self.size;
        }
    }
}

/// Width and height of a label, points.
fn extent(lines: &[LabelLine], size: f64) -> Point {
    let wide =
        lines.iter().map(|line| words_width(&line.words, line.size(size), line.weight)).fold(0.0, f64::max);
    let high: f64 = lines.iter().map(|line| words_height(&line.words, line.size(size))).sum();
    let gaps = f64::from(u32::try_from(lines.len().saturating_sub(1)).unwrap_or(u32::MAX));
    [wide, high + gaps * LEADING * size]
}

/// Centres to try inside a box: the middle first, then further and further from it.
pub(crate) fn spots([low, high]: [Point; 2], half: Point, inner: f64) -> Vec<Point> {
    let middle = [f64::midpoint(low[0], high[0]), f64::midpoint(low[1], high[1])];
    let free = [0, 1].map(|axis| ((high[axis] - low[axis]) / 2.0 - half[axis] - inner).max(0.0));
    let mut spots: Vec<Point> = Vec::new();
    for i in -10_i32..=10 {
        for j in -10_i32..=10 {
            let step = [f64::from(i) / 10.0, f64::from(j) / 10.0];
            spots.push([middle[0] + step[0] * free[0], middle[1] + step[1] * free[1]]);
        }
    }
    spots.sort_by(|a, b| {
        let far = |p: &Point| (p[0] - middle[0]).hypot(p[1] - middle[1]);
        far(a).total_cmp(&far(b))
    });
    spots
}
