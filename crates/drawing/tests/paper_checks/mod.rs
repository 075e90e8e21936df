//! What must be true of every drawing, whatever is on it.
#![allow(dead_code, reason = "each test file uses some of it")]

use std::sync::{Arc, OnceLock};

use dryfit_drawing::{Drawing, Patch, Point, Shape, Words, patch, svg};
use resvg::{tiny_skia, usvg};

/// It stays on its paper, is well-formed SVG that a rasteriser draws with ink on it, and comes out the same twice.
pub fn sound(drawing: &Drawing) {
    assert_eq!(off_paper(drawing), Vec::<String>::new(), "{}", drawing.alt);
    let text = svg(drawing);
    assert_eq!(text, svg(&drawing.clone()));
    let document = roxmltree::Document::parse(&text).expect("well-formed XML");
    assert_eq!(document.root_element().tag_name().name(), "svg");
    assert!(ink(&text) > 0.001, "nothing is drawn: {}", drawing.alt);
    assert!(!drawing.alt.is_empty());
}

/// What lies beyond the paper, by more than half a point.
pub fn off_paper(drawing: &Drawing) -> Vec<String> {
    let [low, high] = drawing.extent;
    let slack = 0.5 / drawing.points_per_mm;
    let mut off = Vec::new();
    for mark in &drawing.marks {
        let beyond = |point: &Point| {
            (0..2).any(|axis| point[axis] < low[axis] - slack || point[axis] > high[axis] + slack)
        };
        if points(&mark.shape).iter().any(beyond) {
            off.push(format!("{} is off the paper", said(&mark.shape)));
        } else if patch(&mark.shape, drawing.points_per_mm)
            .is_some_and(|patch| !patch.grown(-slack).is_inside(drawing.extent))
        {
            off.push(format!("{} runs off the paper", said(&mark.shape)));
        }
    }
    off
}

/// No words or balloons on each other or on a flag.
pub fn nothing_overlaps(drawing: &Drawing) {
    assert_eq!(overlaps(drawing), Vec::<String>::new(), "{}", drawing.alt);
}

/// What lies on what. Flags of crowded cuts may touch, as long as both numbers can be read: by less than half a
/// flag.
pub fn overlaps(drawing: &Drawing) -> Vec<String> {
    let points = |points: f64| points / drawing.points_per_mm;
    let read: Vec<(&Shape, Patch)> = drawing
        .marks
        .iter()
        .filter_map(|mark| Some((&mark.shape, patch(&mark.shape, drawing.points_per_mm)?)))
        .collect();
    let is_flag = |shape: &Shape| matches!(shape, Shape::Flag { .. });
    let mut lie = Vec::new();
    for (index, (a, on)) in read.iter().enumerate() {
        for (b, under) in &read[..index] {
            let slack = if is_flag(a) && is_flag(b) { 7.5 } else { 0.4 };
            let clash = on.clash(under);
            if clash >= points(slack) {
                lie.push(format!("{} on {}, {:.1} pt", said(a), said(b), clash * drawing.points_per_mm));
            }
        }
    }
    lie
}

/// A mark in words, for a message.
fn said(shape: &Shape) -> String {
    match shape {
        Shape::Text { words, .. } => {
            let one = |words: &Words| match words {
                Words::Plain(text) => text.clone(),
                Words::Figure(figure) => figure.bare().to_string(),
            };
            format!("`{}`", words.iter().map(one).collect::<Vec<_>>().join(" "))
        }
        Shape::Balloon { number, .. } => format!("balloon {number}"),
        Shape::Flag { number, .. } => format!("flag {number}"),
        other => format!("{other:?}").chars().take(60).collect(),
    }
}

/// Coordinates of a shape.
fn points(shape: &Shape) -> Vec<Point> {
    match shape {
        Shape::Line { points, .. } | Shape::Fill { points } => points.clone(),
        Shape::Hatch { lines, .. } => lines.iter().flatten().copied().collect(),
        Shape::Circle { at, radius, .. } => {
            Patch { centre: *at, half: [*radius, *radius], turn: 0.0 }.corners().to_vec()
        }
        Shape::Arc { at, radius, from, to, .. } => (0..=8)
            .map(|i| from + (to - from) * f64::from(i) / 8.0)
            .map(|angle| [at[0] + radius * angle.cos(), at[1] + radius * angle.sin()])
            .collect(),
        Shape::Text { at, .. }
        | Shape::Balloon { at, .. }
        | Shape::Flag { at, .. }
        | Shape::Dot { at }
        | Shape::Hook { at, .. }
        | Shape::FaceMark { at, .. }
        | Shape::Grain { at, .. } => vec![*at],
    }
}

/// The share of the paper that is inked.
fn ink(svg: &str) -> f64 {
    static FONTS: OnceLock<Arc<usvg::fontdb::Database>> = OnceLock::new();
    let fonts = FONTS.get_or_init(|| {
        let mut fonts = usvg::fontdb::Database::new();
        for face in dryfit_fonts::FACES {
            fonts.load_font_data(face.bytes.to_vec());
        }
        Arc::new(fonts)
    });
    let options = usvg::Options { fontdb: Arc::clone(fonts), ..usvg::Options::default() };
    let tree = usvg::Tree::from_str(svg, &options).expect("an SVG document");
    let size = tree.size().to_int_size();
    let mut paper = tiny_skia::Pixmap::new(size.width(), size.height()).expect("paper");
    paper.fill(tiny_skia::Color::WHITE);
    resvg::render(&tree, tiny_skia::Transform::identity(), &mut paper.as_mut());
    let dark = paper.pixels().iter().filter(|pixel| pixel.red() < 128).count();
    dark as f64 / paper.pixels().len() as f64
}
