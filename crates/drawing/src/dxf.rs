//! DXF (Release 2000) from the paper model, in real-world units: an inch is an inch, a millimetre a millimetre.
//!
//! A layer is what is drawn and the pen it is drawn with: `units-edge`, `dimensions-thin`. Knows nothing else of
//! what is drawn.

use std::collections::BTreeMap;

use dryfit_measure::Unit;
use dxf::entities::{Arc, Circle, Entity, EntityType, Line, LwPolyline, Solid, Text};
use dxf::enums::{AcadVersion, DrawingUnits, HorizontalTextJustification, Units, VerticalTextJustification};
use dxf::tables::{Layer, LineType};
use dxf::{LineWeight, LwPolylineVertex, Point as At};

use crate::covered::uncovered;
use crate::metrics::CAP;
use crate::paper::{Anchor, Drawing, Pen, Point, Shape, Stroke, Words};
use crate::patch::{BALLOON, FLAG, LABEL, flag_width};

/// A drawing as one DXF document.
///
/// Equal drawings give equal bytes: the header carries no date and no identity.
pub fn dxf(drawing: &Drawing, unit: Unit) -> Vec<u8> {
    let mut sheet = Sheet {
        out: dxf::Drawing::new(),
        per_unit: match unit {
            Unit::Inch => 25.4,
            Unit::Millimetre => 1.0,
        },
        point: 1.0 / drawing.points_per_mm,
        layers: BTreeMap::new(),
    };
    let header = &mut sheet.out.header;
    header.version = AcadVersion::R2000;
    (header.default_drawing_units, header.drawing_units) = match unit {
        Unit::Inch => (Units::Inches, DrawingUnits::English),
        Unit::Millimetre => (Units::Millimeters, DrawingUnits::Metric),
    };
    let [low, high] = drawing.extent.map(|at| sheet.at(at));
    sheet.out.header.minimum_drawing_extents = low;
    sheet.out.header.maximum_drawing_extents = high;
    for stroke in [Stroke::Dash, Stroke::Dots, Stroke::Chain] {
        sheet.line_type(stroke);
    }
    for mark in uncovered(drawing) {
        sheet.shape(mark.layer, &mark.shape);
    }
    sheet.finish()
}

/// Variables of the header that a clock or a die would set.
const UNSETTLED: [&str; 6] =
    ["$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE", "$FINGERPRINTGUID", "$VERSIONGUID"];

struct Sheet {
    out: dxf::Drawing,
    /// Millimetres in a unit.
    per_unit: f64,
    /// A point on paper, mm of the drawing.
    point: f64,
    /// Layers that are there, each with its pen.
    layers: BTreeMap<String, Pen>,
}

impl Sheet {
    fn at(&self, [x, y]: Point) -> At {
        At::new(x / self.per_unit, y / self.per_unit, 0.0)
    }

    /// So many points in units of the drawing.
    fn points(&self, points: f64) -> f64 {
        points * self.point / self.per_unit
    }

    fn line_type(&mut self, stroke: Stroke) {
        let (description, pattern): (&str, &[f64]) = match stroke {
            Stroke::Solid => return,
            Stroke::Dash => ("hidden, or held back", &[4.0, -2.5]),
            Stroke::Dots => ("diagonals and centre lines", &[0.8, -2.6]),
            Stroke::Chain => ("lines to snap", &[10.0, -2.0, 2.0, -2.0]),
        };
        let lengths: Vec<f64> = pattern.iter().map(|points| self.points(*points)).collect();
        self.out.add_line_type(LineType {
            name: line_type_name(stroke).to_owned(),
            description: description.to_owned(),
            element_count: i32::try_from(lengths.len()).unwrap_or_default(),
            total_pattern_length: lengths.iter().map(|length| length.abs()).sum(),
            dash_dot_space_lengths: lengths,
            ..LineType::default()
        });
    }

    fn put(&mut self, layer: &str, pen: Pen, stroke: Stroke, specific: EntityType) {
        let layer = format!("{layer}-{}", pen.name());
        self.layers.entry(layer.clone()).or_insert(pen);
        let mut entity = Entity::new(specific);
        entity.common.layer = layer;
        line_type_name(stroke).clone_into(&mut entity.common.line_type_name);
        self.out.add_entity(entity);
    }

    fn line(&mut self, layer: &str, pen: Pen, stroke: Stroke, [a, b]: [Point; 2]) {
        let line = Line { p1: self.at(a), p2: self.at(b), ..Line::default() };
        self.put(layer, pen, stroke, EntityType::Line(line));
    }

    fn polyline(&mut self, layer: &str, pen: Pen, stroke: Stroke, points: &[Point], closed: bool) {
        if let ([a, b], false) = (points, closed) {
            self.line(layer, pen, stroke, [*a, *b]);
            return;
        }
        let vertex = |at: &Point| {
            let at = self.at(*at);
            LwPolylineVertex { x: at.x, y: at.y, ..LwPolylineVertex::default() }
        };
        let vertices = points.iter().map(vertex).collect();
        let polyline = LwPolyline { vertices, flags: i32::from(closed), ..LwPolyline::default() };
        self.put(layer, pen, stroke, EntityType::LwPolyline(polyline));
    }

    fn circle(&mut self, layer: &str, pen: Pen, stroke: Stroke, at: Point, radius: f64) {
        let circle = Circle { center: self.at(at), radius: radius / self.per_unit, ..Circle::default() };
        self.put(layer, pen, stroke, EntityType::Circle(circle));
    }

    fn text(&mut self, layer: &str, at: Point, text: String, size: f64, anchor: Anchor, turn: f64) {
        let at = self.at(at);
        let text = Text {
            location: at.clone(),
            second_alignment_point: at,
            text_height: self.points(size * CAP),
            value: text,
            rotation: turn,
            horizontal_text_justification: match anchor {
                Anchor::Left => HorizontalTextJustification::Left,
                Anchor::Centre => HorizontalTextJustification::Center,
                Anchor::Right => HorizontalTextJustification::Right,
            },
            vertical_text_justification: VerticalTextJustification::Middle,
            ..Text::default()
        };
        self.put(layer, Pen::Thin, Stroke::Solid, EntityType::Text(text));
    }

    fn shape(&mut self, layer: &str, shape: &Shape) {
        let point = self.point;
        match shape {
            Shape::Line { points, closed, pen, stroke, .. } => {
                self.polyline(layer, *pen, *stroke, points, *closed);
            }
            Shape::Fill { points } => match points.as_slice() {
                [a, b, c] => self.filled(layer, [*a, *b, *c, *c]),
                [a, b, c, d] => self.filled(layer, [*a, *b, *c, *d]),
                _ => self.polyline(layer, Pen::Edge, Stroke::Solid, points, true),
            },
            Shape::Circle { at, radius, pen, stroke } => self.circle(layer, *pen, *stroke, *at, *radius),
            Shape::Arc { at, radius, from, to, pen, stroke } => {
                let arc = Arc {
                    center: self.at(*at),
                    radius: radius / self.per_unit,
                    start_angle: from.to_degrees().rem_euclid(360.0),
                    end_angle: to.to_degrees().rem_euclid(360.0),
                    ..Arc::default()
                };
                self.put(layer, *pen, *stroke, EntityType::Arc(arc));
            }
            Shape::Hatch { lines, .. } => {
                for line in lines {
                    self.line(layer, Pen::Hair, Stroke::Solid, *line);
                }
            }
            Shape::Text { at, words, size, anchor, turn, .. } => {
                self.text(layer, *at, said(words), *size, *anchor, *turn);
            }
            Shape::Balloon { at, number } => {
                self.circle(layer, Pen::Edge, Stroke::Solid, *at, BALLOON * point);
                self.text(layer, *at, number.to_string(), LABEL, Anchor::Centre, 0.0);
            }
            Shape::Flag { at, number } => {
                let half = [flag_width(*number) / 2.0 * point, FLAG / 2.0 * point];
                let corner = |x: f64, y: f64| [at[0] + x * half[0], at[1] + y * half[1]];
                let outline = [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
                self.polyline(layer, Pen::Edge, Stroke::Solid, &outline, true);
                self.text(layer, *at, number.to_string(), LABEL, Anchor::Centre, 0.0);
            }
            Shape::Dot { at } => self.circle(layer, Pen::Edge, Stroke::Solid, *at, 2.0 * point),
            Shape::Hook { at, turn } => {
                // the tape's end: it hangs over the edge that the marks are made from
                let points = [[0.0, 7.0], [0.0, -7.0], [-4.0, -7.0], [-4.0, 4.0], [-7.0, 4.0], [-7.0, 7.0]];
                let points = points.map(|local| turned(*at, local, *turn, point));
                self.polyline(layer, Pen::Edge, Stroke::Solid, &points, true);
            }
            Shape::FaceMark { at, size } => {
                let unit = size / 24.0 * point;
                // a loop with a tail that runs down and back to the left
                let points: Vec<Point> = [
                    [1.0, 9.0],
                    [4.0, 3.0],
                    [8.5, 1.5],
                    [10.0, 6.0],
                    [8.0, 10.5],
                    [5.0, 12.0],
                    [1.5, 9.5],
                    [1.2, 6.0],
                    [3.0, 4.0],
                    [7.5, 15.0],
                    [3.5, 24.0],
                ]
                .iter()
                .map(|[x, y]| [at[0] + (x - 6.0) * unit, at[1] + (12.0 - y) * unit])
                .collect();
                self.polyline(layer, Pen::Edge, Stroke::Solid, &points, false);
            }
            Shape::Grain { at, length, turn } => {
                let half = length / 2.0;
                let place = |x: f64, y: f64| turned(*at, [x, y], *turn, point);
                self.line(layer, Pen::Thin, Stroke::Solid, [place(-half, 0.0), place(half, 0.0)]);
                for side in [-1.0, 1.0] {
                    let barb = [
                        place(side * (half - 5.0), -3.0),
                        place(side * half, 0.0),
                        place(side * (half - 5.0), 3.0),
                    ];
                    self.polyline(layer, Pen::Thin, Stroke::Solid, &barb, false);
                }
            }
        }
    }

    /// A filled triangle or quadrangle; the format counts its corners crosswise.
    fn filled(&mut self, layer: &str, [a, b, c, d]: [Point; 4]) {
        let solid = Solid {
            first_corner: self.at(a),
            second_corner: self.at(b),
            third_corner: self.at(d),
            fourth_corner: self.at(c),
            ..Solid::default()
        };
        self.put(layer, Pen::Edge, Stroke::Solid, EntityType::Solid(solid));
    }

    fn finish(mut self) -> Vec<u8> {
        let weights = weights();
        for (name, pen) in std::mem::take(&mut self.layers) {
            let line_weight = weights.get(pen.name()).cloned().unwrap_or_else(LineWeight::by_layer);
            self.out.add_layer(Layer { name, line_weight, ..Layer::default() });
        }
        let mut bytes = Vec::new();
        // writing into memory does not fail
        let written = self.out.save(&mut bytes);
        debug_assert!(written.is_ok(), "{written:?}");
        settled(&String::from_utf8_lossy(&bytes)).into_bytes()
    }
}

/// The document without the variables that differ from run to run, its lines ended alike.
fn settled(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut lines = text.lines().peekable();
    while let (Some(code), Some(value)) = (lines.next(), lines.next()) {
        if code.trim() == "9" && UNSETTLED.contains(&value.trim()) {
            // its own code and value
            lines.next();
            lines.next();
            continue;
        }
        for line in [code, value] {
            out.push_str(line);
            out.push_str("\r\n");
        }
    }
    out
}

/// What the pens weigh in the format's hundredths of a millimetre, by name: the nearest it knows to their points.
///
/// The library makes weights only by reading them, so it is given a layer a pen to read.
fn weights() -> BTreeMap<String, LineWeight> {
    let pens = [(Pen::Heavy, 70), (Pen::Edge, 40), (Pen::Thin, 20), (Pen::Hair, 15), (Pen::Named, 120)];
    let layer = |(pen, hundredths): (Pen, u32)| {
        format!(
            "0\nLAYER\n100\nAcDbLayerTableRecord\n2\n{}\n70\n0\n62\n7\n6\nCONTINUOUS\n370\n{hundredths}\n",
            pen.name()
        )
    };
    let layers = pens.map(layer).concat();
    let text = format!("0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n{layers}0\nENDTAB\n0\nENDSEC\n0\nEOF\n");
    let read = dxf::Drawing::load(&mut text.as_bytes());
    debug_assert!(read.is_ok(), "the layers of the pens are read");
    let layers: Vec<Layer> = read.map(|read| read.layers().cloned().collect()).unwrap_or_default();
    layers.into_iter().map(|layer| (layer.name, layer.line_weight)).collect()
}

fn line_type_name(stroke: Stroke) -> &'static str {
    match stroke {
        Stroke::Solid => "BYLAYER",
        Stroke::Dash => "DASH",
        Stroke::Dots => "DOTS",
        Stroke::Chain => "CHAIN",
    }
}

/// A place so many points from another, turned.
fn turned(at: Point, [x, y]: Point, degrees: f64, point: f64) -> Point {
    let (sin, cos) = degrees.to_radians().sin_cos();
    [at[0] + (x * cos - y * sin) * point, at[1] + (x * sin + y * cos) * point]
}

/// Words and numbers in one line, as they are typed.
fn said(words: &[Words]) -> String {
    let one = |words: &Words| match words {
        Words::Plain(text) => text.clone(),
        Words::Figure(figure) => figure.bare().to_string(),
    };
    words.iter().map(one).collect::<Vec<_>>().join(" ")
}
