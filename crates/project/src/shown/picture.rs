//! Drawings as shapes ready to be drawn: pixels, y downwards, each number with what stands behind it.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use dryfit_drawing::{
    self as drawing, Drawing, Pen, Point, Stroke, Weight, Words, words_height, words_width,
};
use serde::Serialize;

use super::number::{Held, Number, Run};

/// One drawing.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Picture {
    /// What it shows, for those who cannot see it.
    pub alt: String,
    /// Width, pixels.
    pub width: f64,
    /// Height, pixels.
    pub height: f64,
    /// What is on it, from the bottom up.
    pub shapes: Vec<Shape>,
    /// The same numbers in the same order, as a table.
    pub table: Vec<PictureRow>,
}

/// A row of the drawing as a table.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PictureRow {
    /// What is measured.
    pub what: String,
    /// The number.
    pub number: Number,
    /// What stands behind it, if it can be pressed.
    pub held: Option<Held>,
}

/// One thing on a drawing.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Shape {
    /// A path.
    Path {
        /// SVG path data.
        d: String,
        /// heavy, edge, thin, hair, named.
        pen: &'static str,
        /// solid, dash, dots, chain.
        stroke: &'static str,
        /// none, paper, ink.
        fill: &'static str,
        /// The layer.
        layer: &'static str,
        /// What it stands for: a unit's key, a corner.
        about: Option<String>,
    },
    /// Words with numbers among them.
    Text {
        /// Middle of the capitals' height, at the anchor.
        x: f64,
        /// See `x`.
        y: f64,
        /// Degrees, clockwise.
        turn: f64,
        /// start, middle, end.
        anchor: &'static str,
        /// Size of the letters.
        size: f64,
        /// 400, 500, 600, 700.
        weight: u16,
        /// About how wide it is set.
        width: f64,
        /// About how high.
        height: f64,
        /// The words.
        runs: Vec<Run>,
        /// The layer.
        layer: &'static str,
        /// What it stands for.
        about: Option<String>,
        /// What stands behind it, if it can be pressed.
        held: Option<Held>,
    },
    /// A number in a ring, or white in a black flag on a saw line.
    Ring {
        /// Centre.
        x: f64,
        /// Centre.
        y: f64,
        /// The number.
        number: u32,
        /// Filled with ink.
        filled: bool,
        /// The layer.
        layer: &'static str,
        /// What it stands for.
        about: Option<String>,
    },
}

/// A drawing as a picture; `held` knows what stands behind the numbers, by what their marks are about.
pub(super) fn picture(drawing: &Drawing, held: &BTreeMap<String, Held>) -> Picture {
    let scale = drawing.points_per_mm;
    let [[x1, y1], [x2, y2]] = drawing.extent;
    let view = Paper { low: x1, high: y2, scale };
    let shapes = drawing.marks.iter().flat_map(|mark| view.shapes(mark, held)).collect();
    let mut numbers = drawing.marks.iter().filter(|mark| mark.layer == "numbers" || mark.layer == "chain");
    let table = drawing
        .table
        .iter()
        .map(|row| {
            // numbers are put down in the order of the rows
            let mark = numbers.by_ref().find(|mark| {
                matches!(&mark.shape, drawing::Shape::Text { words, .. }
                    if words.iter().any(|word| matches!(word, Words::Figure(figure) if *figure == row.figure)))
            });
            let held = mark.and_then(|mark| held.get(mark.about.as_ref()?)).cloned();
            PictureRow { what: row.what.clone(), number: row.figure.into(), held }
        })
        .collect();
    Picture {
        alt: drawing.alt.clone(),
        width: round((x2 - x1) * scale),
        height: round((y2 - y1) * scale),
        shapes,
        table,
    }
}

fn round(pixels: f64) -> f64 {
    (pixels * 100.0).round() / 100.0
}

struct Paper {
    low: f64,
    high: f64,
    scale: f64,
}

impl Paper {
    fn at(&self, [x, y]: Point) -> [f64; 2] {
        [round((x - self.low) * self.scale), round((self.high - y) * self.scale)]
    }

    fn path(&self, points: &[Point], closed: bool) -> String {
        let mut d = String::new();
        for (i, point) in points.iter().enumerate() {
            let [x, y] = self.at(*point);
            let _ = write!(d, "{}{x} {y}", if i == 0 { "M" } else { "L" });
        }
        if closed {
            d.push('Z');
        }
        d
    }

    #[expect(clippy::many_single_char_names, reason = "points are x and y, path data d")]
    fn shapes(&self, mark: &drawing::Mark, held: &BTreeMap<String, Held>) -> Vec<Shape> {
        let (layer, about) = (mark.layer, mark.about.clone());
        let path = |d: String, pen: Pen, stroke: Stroke, fill: &'static str| Shape::Path {
            d,
            pen: pen.name(),
            stroke: stroke_name(stroke),
            fill,
            layer,
            about: about.clone(),
        };
        let solid = |d: String, fill| path(d, Pen::Edge, Stroke::Solid, fill);
        match &mark.shape {
            drawing::Shape::Line { points, closed, pen, stroke, paper } => {
                let fill = if *paper { "paper" } else { "none" };
                vec![path(self.path(points, *closed), *pen, *stroke, fill)]
            }
            drawing::Shape::Fill { points } => vec![solid(self.path(points, true), "ink")],
            drawing::Shape::Circle { at, radius, pen, stroke } => {
                vec![path(circle(self.at(*at), radius * self.scale), *pen, *stroke, "none")]
            }
            drawing::Shape::Arc { at, radius, from, to, pen, stroke } => {
                let end = |angle: f64| self.at([at[0] + radius * angle.cos(), at[1] + radius * angle.sin()]);
                let ([ax, ay], [bx, by]) = (end(*from), end(*to));
                let (r, large) = (round(radius * self.scale), u8::from(to - from > std::f64::consts::PI));
                vec![path(format!("M{ax} {ay}A{r} {r} 0 {large} 0 {bx} {by}"), *pen, *stroke, "none")]
            }
            drawing::Shape::Hatch { lines, .. } => {
                let d: String = lines.iter().map(|line| self.path(line, false)).collect();
                vec![Shape::Path {
                    d,
                    pen: "hatch",
                    stroke: "solid",
                    fill: "none",
                    layer,
                    about: about.clone(),
                }]
            }
            drawing::Shape::Text { at, words, size, weight, anchor, turn, .. } => {
                let [x, y] = self.at(*at);
                let held = about.as_ref().and_then(|about| held.get(about)).cloned();
                vec![Shape::Text {
                    x,
                    y,
                    turn: -turn,
                    anchor: match anchor {
                        drawing::Anchor::Left => "start",
                        drawing::Anchor::Centre => "middle",
                        drawing::Anchor::Right => "end",
                    },
                    size: *size,
                    weight: match weight {
                        Weight::Regular => 400,
                        Weight::Semibold | Weight::Bold => 600,
                    },
                    width: round(words_width(words, *size, *weight)),
                    height: round(words_height(words, *size)),
                    runs: words.iter().map(run).collect(),
                    layer,
                    about,
                    held,
                }]
            }
            drawing::Shape::Balloon { at, number } => vec![self.ring(*at, *number, false, layer, about)],
            drawing::Shape::Flag { at, number } => vec![self.ring(*at, *number, true, layer, about)],
            drawing::Shape::Dot { at } => vec![solid(circle(self.at(*at), 2.4), "ink")],
            drawing::Shape::Hook { at, turn } => {
                let [x, y] = self.at(*at);
                let (sin, cos) = turn.to_radians().sin_cos();
                let corner = |u: f64, v: f64| {
                    format!("{} {}", round(x + u * cos + v * sin), round(y - u * sin + v * cos))
                };
                let corners =
                    [(0.0, -7.0), (0.0, 7.0), (-4.0, 7.0), (-4.0, -4.0), (-7.0, -4.0), (-7.0, -7.0)];
                let d: Vec<String> = corners.iter().map(|(u, v)| corner(*u, *v)).collect();
                vec![solid(format!("M{}Z", d.join("L")), "ink")]
            }
            drawing::Shape::FaceMark { at, size } => {
                let ([x, y], s) = (self.at(*at), size / 24.0);
                let p = |u: f64, v: f64| {
                    format!("{} {}", round(x - size / 4.0 + u * s), round(y - size / 2.0 + v * s))
                };
                let d = format!(
                    "M{}C{} {} {}C{} {} {}C{} {} {}L{}L{}",
                    p(1.0, 9.0),
                    p(2.0, 2.0),
                    p(7.0, 0.0),
                    p(9.5, 2.0),
                    p(12.0, 5.0),
                    p(9.0, 12.0),
                    p(5.0, 12.0),
                    p(0.0, 12.0),
                    p(-0.5, 5.0),
                    p(3.0, 4.0),
                    p(7.5, 15.0),
                    p(3.5, 24.0)
                );
                vec![solid(d, "none")]
            }
            drawing::Shape::Grain { at, length, turn } => {
                let [x, y] = self.at(*at);
                let (sin, cos) = turn.to_radians().sin_cos();
                let p = |u: f64, v: f64| {
                    format!("{} {}", round(x + u * cos + v * sin), round(y - u * sin + v * cos))
                };
                let h = length / 2.0;
                let d = format!(
                    "M{}L{}M{}L{}L{}M{}L{}L{}",
                    p(-h, 0.0),
                    p(h, 0.0),
                    p(h - 5.0, -3.0),
                    p(h, 0.0),
                    p(h - 5.0, 3.0),
                    p(5.0 - h, -3.0),
                    p(-h, 0.0),
                    p(5.0 - h, 3.0)
                );
                vec![path(d, Pen::Thin, Stroke::Solid, "none")]
            }
        }
    }

    fn ring(
        &self,
        at: Point,
        number: u32,
        filled: bool,
        layer: &'static str,
        about: Option<String>,
    ) -> Shape {
        let [x, y] = self.at(at);
        Shape::Ring { x, y, number, filled, layer, about }
    }
}

fn circle([x, y]: [f64; 2], radius: f64) -> String {
    let r = round(radius);
    format!("M{} {y}a{r} {r} 0 1 0 {} 0a{r} {r} 0 1 0 {} 0Z", round(x - r), 2.0 * r, -2.0 * r)
}

fn run(word: &Words) -> Run {
    match word {
        Words::Plain(text) => Run::Text(text.clone()),
        Words::Figure(figure) => Run::Number((*figure).into()),
    }
}

fn stroke_name(stroke: Stroke) -> &'static str {
    match stroke {
        Stroke::Solid => "solid",
        Stroke::Dash => "dash",
        Stroke::Dots => "dots",
        Stroke::Chain => "chain",
    }
}
