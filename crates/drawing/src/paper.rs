//! The paper model: what is drawn, before anybody asks in which file format.
//!
//! Coordinates are millimetres in the world, x to the right, y up. Pens, text and the marks of the trade are
//! sized in points on paper and do not scale; `points_per_mm` joins the two.

use dryfit_measure::Figure;
use serde::Serialize;

/// A point, mm.
pub type Point = [f64; 2];

/// One drawing.
#[derive(Clone, Debug, Serialize)]
pub struct Drawing {
    /// What it shows, for those who cannot see it.
    pub alt: String,
    /// Least x, y and greatest x, y of everything on it, dimension rows included (mm).
    pub extent: [Point; 2],
    /// Scale.
    pub points_per_mm: f64,
    /// What is on it, from the bottom up.
    pub marks: Vec<Mark>,
    /// The same numbers in the same order, for a table beside the drawing or instead of it.
    pub table: Vec<TableRow>,
}

/// A row of the drawing as a table.
#[derive(Clone, Debug, Serialize)]
pub struct TableRow {
    /// What is measured: "right edge of b2, from corner A".
    pub what: String,
    /// The number.
    pub figure: Figure,
}

/// One thing on the paper.
#[derive(Clone, Debug, Serialize)]
pub struct Mark {
    /// The layer: "walls", "units", "dimensions".
    pub layer: &'static str,
    /// The role path or plan key of what it stands for: it can be pressed on the page.
    pub about: Option<String>,
    /// Its shape.
    pub shape: Shape,
}

/// Pens, by what they say (points: heavy 2, edge 1.1, thin .6, hair .4, named 3.6).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Pen {
    /// Sections, walls, snapped lines.
    Heavy,
    /// Outlines of parts.
    Edge,
    /// Dimension lines, holes.
    Thin,
    /// Leaders and hatches.
    Hair,
    /// The edge to measure from.
    Named,
}

impl Pen {
    /// What it is called where it has to be told by a word: a layer, a class.
    pub fn name(self) -> &'static str {
        match self {
            Pen::Heavy => "heavy",
            Pen::Edge => "edge",
            Pen::Thin => "thin",
            Pen::Hair => "hair",
            Pen::Named => "named",
        }
    }

    /// How thick it draws, in points.
    pub fn width(self) -> f64 {
        match self {
            Pen::Heavy => 2.0,
            Pen::Edge => 1.1,
            Pen::Thin => 0.6,
            Pen::Hair => 0.4,
            Pen::Named => 3.6,
        }
    }
}

/// How a line is broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stroke {
    /// Unbroken.
    Solid,
    /// 4-2.5: hidden, or held back.
    Dash,
    /// .8-2.6: diagonals and centre lines.
    Dots,
    /// 10-2-2-2: level and snap lines.
    Chain,
}

/// What a hatch says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum HatchKind {
    /// 45 degrees: cut through.
    Cut,
    /// 135 degrees: waste, filler and scribe.
    Waste,
    /// Crossed: do not drill.
    Crossed,
    /// Along the piece, close: dado, groove, ply.
    Along,
}

/// A run of text.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Words {
    /// Plain words.
    Plain(String),
    /// A number, with its fraction stacked.
    Figure(Figure),
}

/// Weight of the face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Weight {
    /// 400.
    Regular,
    /// 600.
    Semibold,
    /// 700.
    Bold,
}

/// Which point of the text stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Anchor {
    /// Left end, middle of the capitals' height.
    Left,
    /// Centre.
    Centre,
    /// Right end.
    Right,
}

/// The shapes that writers have to know.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Shape {
    /// An open or closed line through points.
    Line {
        /// Through these.
        points: Vec<Point>,
        /// Back to the first.
        closed: bool,
        /// With this pen.
        pen: Pen,
        /// Broken so.
        stroke: Stroke,
        /// Filled with paper, so that it hides what is below it.
        paper: bool,
    },
    /// Filled with ink.
    Fill {
        /// Outline.
        points: Vec<Point>,
    },
    /// A circle.
    Circle {
        /// Centre.
        at: Point,
        /// Radius (mm).
        radius: f64,
        /// Pen.
        pen: Pen,
        /// Broken so.
        stroke: Stroke,
    },
    /// A circular arc, counter-clockwise.
    Arc {
        /// Centre.
        at: Point,
        /// Radius (mm).
        radius: f64,
        /// From, radians from x.
        from: f64,
        /// To, radians from x, greater than `from`.
        to: f64,
        /// Pen.
        pen: Pen,
        /// Broken so.
        stroke: Stroke,
    },
    /// Hatching, as lines already clipped to their outline.
    Hatch {
        /// What it says.
        kind: HatchKind,
        /// The lines.
        lines: Vec<[Point; 2]>,
    },
    /// Text.
    Text {
        /// Where.
        at: Point,
        /// What.
        words: Vec<Words>,
        /// Size of the letters in points.
        size: f64,
        /// Weight.
        weight: Weight,
        /// Which point of it stands there.
        anchor: Anchor,
        /// Turned by so many degrees, counter-clockwise.
        turn: f64,
        /// A halo of paper round it.
        halo: bool,
    },
    /// A number in a ring: a balloon local to the page.
    Balloon {
        /// Centre.
        at: Point,
        /// The number.
        number: u32,
    },
    /// A white number in a black flag on a saw line.
    Flag {
        /// Centre.
        at: Point,
        /// The number.
        number: u32,
    },
    /// A filled dot, the end of a leader.
    Dot {
        /// Centre.
        at: Point,
    },
    /// The tape's hook at the zero of a row of cumulative marks; it lies on the side that `turn` says.
    Hook {
        /// The zero.
        at: Point,
        /// Degrees, counter-clockwise; 0: the row runs to the right.
        turn: f64,
    },
    /// The bench's looped mark of the good face.
    FaceMark {
        /// Where.
        at: Point,
        /// Height in points.
        size: f64,
    },
    /// A two-headed arrow along the grain.
    Grain {
        /// Centre.
        at: Point,
        /// Length in points.
        length: f64,
        /// Degrees.
        turn: f64,
    },
}
