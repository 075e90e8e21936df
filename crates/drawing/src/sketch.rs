//! A sketch: a drawing while it is being made. It knows its scale, so that what is sized in points (text, gaps,
//! rows of marks) can be placed among what is sized in millimetres.

use dryfit_measure::Figure;

use crate::hatch::hatch;
use crate::paper::{Anchor, Drawing, HatchKind, Mark, Pen, Point, Shape, Stroke, TableRow, Weight, Words};
use crate::spread::spread;

/// Paper that a drawing has to fit on, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Left to right.
    pub width: f64,
    /// Bottom to top.
    pub height: f64,
}

/// Paper kept free round the thing drawn, in points: left, right, bottom, top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    /// For heights and their names.
    pub left: f64,
    /// For level lines and their names.
    pub right: f64,
    /// For the row of cumulative marks.
    pub bottom: f64,
    /// For a title or nothing.
    pub top: f64,
}

/// A drawing while it is being made.
#[derive(Clone, Debug)]
pub struct Sketch {
    drawing: Drawing,
    layer: &'static str,
    about: Option<String>,
}

/// A number on a row of cumulative marks.
#[derive(Clone, Debug)]
pub struct RowMark {
    /// Where on the thing, mm along the row.
    pub at: f64,
    /// What the tape reads there.
    pub figure: Figure,
    /// What is there, for the table beside the drawing.
    pub what: String,
}

impl Sketch {
    /// A sketch of things between two corners (mm), as large as the frame allows.
    pub fn new(alt: impl Into<String>, things: [Point; 2], margins: Margins, frame: Frame) -> Sketch {
        let [[x1, y1], [x2, y2]] = things;
        let (width, height) = ((x2 - x1).max(1.0), (y2 - y1).max(1.0));
        let across = (frame.width - margins.left - margins.right).max(1.0) / width;
        let up = (frame.height - margins.bottom - margins.top).max(1.0) / height;
        let scale = across.min(up);
        let extent = [
            [x1 - margins.left / scale, y1 - margins.bottom / scale],
            [x2 + margins.right / scale, y2 + margins.top / scale],
        ];
        Sketch {
            drawing: Drawing {
                alt: alt.into(),
                extent,
                points_per_mm: scale,
                marks: Vec::new(),
                table: Vec::new(),
            },
            layer: "drawing",
            about: None,
        }
    }

    /// Points as millimetres of this drawing.
    pub fn pt(&self, points: f64) -> f64 {
        points / self.drawing.points_per_mm
    }

    /// What follows is on this layer.
    pub fn layer(&mut self, layer: &'static str) -> &mut Sketch {
        self.layer = layer;
        self.about = None;
        self
    }

    /// What follows stands for this plan key or role path.
    pub fn about(&mut self, about: impl Into<String>) -> &mut Sketch {
        self.about = Some(about.into());
        self
    }

    /// Puts a shape down.
    pub fn shape(&mut self, shape: Shape) -> &mut Sketch {
        self.drawing.marks.push(Mark { layer: self.layer, about: self.about.clone(), shape });
        self
    }

    /// An open solid line.
    pub fn line(&mut self, points: &[Point], pen: Pen) -> &mut Sketch {
        self.stroke(points, pen, Stroke::Solid)
    }

    /// An open line, broken.
    pub fn stroke(&mut self, points: &[Point], pen: Pen, stroke: Stroke) -> &mut Sketch {
        self.shape(Shape::Line { points: points.to_vec(), closed: false, pen, stroke, paper: false })
    }

    /// A closed outline.
    pub fn outline(&mut self, points: &[Point], pen: Pen, stroke: Stroke) -> &mut Sketch {
        self.shape(Shape::Line { points: points.to_vec(), closed: true, pen, stroke, paper: false })
    }

    /// A closed outline filled with paper: it hides what was put down before.
    pub fn face(&mut self, points: &[Point], pen: Pen) -> &mut Sketch {
        self.shape(Shape::Line {
            points: points.to_vec(),
            closed: true,
            pen,
            stroke: Stroke::Solid,
            paper: true,
        })
    }

    /// A rectangle between two corners.
    pub fn rectangle(&mut self, a: Point, b: Point, pen: Pen, stroke: Stroke) -> &mut Sketch {
        self.outline(&rectangle(a, b), pen, stroke)
    }

    /// Hatching inside an outline.
    pub fn hatched(&mut self, outline: &[Point], kind: HatchKind) -> &mut Sketch {
        let lines = hatch(outline, kind, 1.0 / self.drawing.points_per_mm);
        self.shape(Shape::Hatch { kind, lines })
    }

    /// Words on one line.
    pub fn words(
        &mut self,
        at: Point,
        words: Vec<Words>,
        size: f64,
        weight: Weight,
        anchor: Anchor,
    ) -> &mut Sketch {
        self.shape(Shape::Text { at, words, size, weight, anchor, turn: 0.0, halo: true })
    }

    /// Plain words on one line.
    pub fn text(
        &mut self,
        at: Point,
        text: impl Into<String>,
        size: f64,
        weight: Weight,
        anchor: Anchor,
    ) -> &mut Sketch {
        self.words(at, vec![Words::Plain(text.into())], size, weight, anchor)
    }

    /// A number.
    pub fn figure(&mut self, at: Point, figure: Figure, size: f64, anchor: Anchor) -> &mut Sketch {
        self.words(at, vec![Words::Figure(figure)], size, Weight::Bold, anchor)
    }

    /// A row of the table beside the drawing.
    pub fn row(&mut self, what: impl Into<String>, figure: Figure) -> &mut Sketch {
        self.drawing.table.push(TableRow { what: what.into(), figure });
        self
    }

    /// Cumulative marks to the right of a hook at `zero`, on a line at height `y` under the thing; the numbers
    /// stand under the line, pushed apart where they crowd, each joined to its tick.
    pub fn row_below(&mut self, zero: f64, y: f64, marks: &[RowMark], size: f64) -> &mut Sketch {
        let Some(last) = marks.last() else { return self };
        let end = last.at;
        self.line(&[[zero, y], [end, y]], Pen::Thin);
        self.shape(Shape::Hook { at: [zero, y], turn: 0.0 });
        let (tick, drop, down) = (self.pt(5.0), self.pt(14.0), self.pt(14.0 + size * 0.8));
        let wanted: Vec<f64> = marks.iter().map(|mark| mark.at).collect();
        let widths: Vec<f64> =
            marks.iter().map(|mark| self.pt(figure_width(&mark.figure, size) + size * 0.35)).collect();
        for (mark, x) in marks.iter().zip(spread(&wanted, &widths)) {
            self.line(&[[mark.at, y - tick], [mark.at, y + tick]], Pen::Edge);
            if (x - mark.at).abs() > self.pt(1.0) {
                self.line(&[[mark.at, y - tick], [x, y - drop]], Pen::Hair);
            }
            self.figure([x, y - down], mark.figure, size, Anchor::Centre);
            self.row(mark.what.clone(), mark.figure);
        }
        self
    }

    /// Cumulative marks upwards from a hook at `zero`, on a line at `x` left of the thing; the numbers stand
    /// left of the line.
    pub fn row_left(&mut self, zero: f64, x: f64, marks: &[RowMark], size: f64) -> &mut Sketch {
        let Some(last) = marks.last() else { return self };
        let end = last.at;
        self.line(&[[x, zero], [x, end]], Pen::Thin);
        self.shape(Shape::Hook { at: [x, zero], turn: 90.0 });
        let (tick, out) = (self.pt(5.0), self.pt(13.0));
        let wanted: Vec<f64> = marks.iter().map(|mark| mark.at).collect();
        let heights: Vec<f64> = marks
            .iter()
            .map(|mark| self.pt(size * if mark.figure.numerator > 0 { 1.55 } else { 1.05 }))
            .collect();
        for (mark, y) in marks.iter().zip(spread(&wanted, &heights)) {
            self.line(&[[x - tick, mark.at], [x + tick, mark.at]], Pen::Edge);
            if (y - mark.at).abs() > self.pt(1.0) {
                self.line(&[[x - tick, mark.at], [x - out, y]], Pen::Hair);
            }
            self.figure([x - out, y], mark.figure, size, Anchor::Right);
            self.row(mark.what.clone(), mark.figure);
        }
        self
    }

    /// The finished drawing.
    pub fn finish(self) -> Drawing {
        self.drawing
    }
}

/// The corners of a rectangle, counter-clockwise.
pub fn rectangle(a: Point, b: Point) -> [Point; 4] {
    [[a[0], a[1]], [b[0], a[1]], [b[0], b[1]], [a[0], b[1]]]
}

/// About how wide a number is set, in points: figures of the face are .6 em, a stacked fraction .74 of that.
pub fn figure_width(figure: &Figure, size: f64) -> f64 {
    let digits = |n: i64| n.abs().max(1).ilog10() + 1;
    let whole = figure.whole.map_or(0, digits);
    let fraction = if figure.numerator > 0 {
        f64::from(digits(figure.denominator.into()).max(digits(figure.numerator.into()))) * 0.74
    } else {
        0.0
    };
    let tenths = if figure.tenths > 0 { 0.9 } else { 0.0 };
    let sign = if figure.negative { 1.0 } else { 0.0 };
    size * 0.6 * (f64::from(whole) + fraction + tenths + sign + 0.2)
}

/// About how wide plain words are set, in points.
pub fn text_width(text: &str, size: f64) -> f64 {
    let letters = u32::try_from(text.chars().count()).unwrap_or(u32::MAX);
    size * 0.56 * f64::from(letters)
}
