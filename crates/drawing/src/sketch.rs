//! A sketch: a drawing while it is being made. It knows its scale, so that what is sized in points (text, gaps,
//! rows of marks) can be placed among what is sized in millimetres.

use dryfit_measure::Figure;

use crate::hatch::hatch;
use crate::paper::{Anchor, Drawing, HatchKind, Mark, Pen, Point, Shape, Stroke, TableRow, Weight, Words};
use crate::patch::{Patch, words_patch};

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

    /// The paper that a run of words would cover.
    pub fn patch(&self, at: Point, words: &[Words], face: (f64, Weight), anchor: Anchor) -> Patch {
        words_patch(at, words, face, anchor, 0.0, self.drawing.points_per_mm)
    }

    /// Words on one line, turned, with or without paper round them.
    pub fn turned(
        &mut self,
        at: Point,
        words: Vec<Words>,
        (size, weight): (f64, Weight),
        anchor: Anchor,
        turn: f64,
    ) -> &mut Sketch {
        self.shape(Shape::Text { at, words, size, weight, anchor, turn, halo: true })
    }

    /// The corners of the paper, mm.
    pub fn extent(&self) -> [Point; 2] {
        self.drawing.extent
    }

    /// What is on it so far.
    pub fn marks(&self) -> &[Mark] {
        &self.drawing.marks
    }

    /// Scale.
    pub fn points_per_mm(&self) -> f64 {
        self.drawing.points_per_mm
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
