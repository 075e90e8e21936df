//! What must be true of every drawing, whatever is on it.
#![allow(dead_code, reason = "each test file uses some of it")]

use std::sync::{Arc, OnceLock};

use dryfit_drawing::{Drawing, Patch, Point, Shape, patches, svg};
use resvg::{tiny_skia, usvg};

/// It stays on its paper, is well-formed SVG that a rasteriser draws with ink on it, and comes out the same twice.
pub fn sound(drawing: &Drawing) {
    let [low, high] = drawing.extent;
    let slack = 0.5 / drawing.points_per_mm;
    for point in drawing.marks.iter().flat_map(|mark| points(&mark.shape)) {
        for axis in 0..2 {
            assert!(
                point[axis] >= low[axis] - slack && point[axis] <= high[axis] + slack,
                "{point:?} is off the paper {:?}: {}",
                drawing.extent,
                drawing.alt
            );
        }
    }
    for patch in patches(drawing) {
        assert!(patch.grown(-slack).is_inside([low, high]), "{patch:?} is off the paper: {}", drawing.alt);
    }
    let text = svg(drawing);
    assert_eq!(text, svg(&drawing.clone()));
    let document = roxmltree::Document::parse(&text).expect("well-formed XML");
    assert_eq!(document.root_element().tag_name().name(), "svg");
    assert!(ink(&text) > 0.001, "nothing is drawn: {}", drawing.alt);
    assert!(!drawing.alt.is_empty());
}

/// No words or balloons on each other or on a flag. Flags of crowded cuts may touch, as long as both numbers can be
/// read: by less than half a flag.
pub fn nothing_overlaps(drawing: &Drawing) {
    let only = |flags: bool| {
        let mut some = drawing.clone();
        some.marks.retain(|mark| matches!(mark.shape, Shape::Flag { .. }) == flags);
        patches(&some)
    };
    let (words, flags) = (only(false), only(true));
    let points = |points: f64| points / drawing.points_per_mm;
    let apart = |a: &Patch, b: &Patch, slack: f64| {
        assert!(a.clash(b) < points(slack), "{a:?} lies on {b:?}: {}", drawing.alt);
    };
    for (index, a) in words.iter().enumerate() {
        words[..index].iter().chain(&flags).for_each(|b| apart(a, b, 0.4));
    }
    for (index, a) in flags.iter().enumerate() {
        flags[..index].iter().for_each(|b| apart(a, b, 7.5));
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
