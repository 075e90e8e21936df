//! SVG from the paper model (SVG 1.1, W3C). Knows nothing of what is drawn.

use std::fmt::Write;

use dryfit_measure::Figure;

use crate::metrics::{
    BEFORE_FRACTION, BETWEEN_RUNS, CAP, FRACTION, figure_width, fraction_width, text_width, whole_of,
    words_height, words_width,
};
use crate::paper::{Anchor, Drawing, Pen, Point, Shape, Stroke, Weight, Words};
use crate::patch::{BALLOON, FLAG, HALO, LABEL, flag_width};

/// A drawing as one SVG document; lengths are points on paper.
///
/// Ink is `currentColor` and paper is white with the class `paper`, so that a page that has its own colours can
/// give both.
pub fn svg(drawing: &Drawing) -> String {
    let scale = drawing.points_per_mm;
    let [[x1, y1], [x2, y2]] = drawing.extent;
    let (width, height) = ((x2 - x1) * scale, (y2 - y1) * scale);
    let mut page =
        Page { out: String::new(), place: |[x, y]: Point| [(x - x1) * scale, (y2 - y) * scale], scale };
    let _ = write!(
        page.out,
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{width:.2}pt" height="{height:.2}pt" viewBox="0 0 {width:.2} {height:.2}" role="img"><title>{}</title><g fill="none" stroke="currentColor" stroke-linejoin="round" font-family="IBM Plex Sans, sans-serif">"#,
        escaped(&drawing.alt)
    );
    let mut layer = "";
    for mark in &drawing.marks {
        if mark.layer != layer {
            if !layer.is_empty() {
                page.out.push_str("</g>");
            }
            layer = mark.layer;
            let _ = write!(page.out, r#"<g class="{layer}">"#);
        }
        if let Some(about) = &mark.about {
            let _ = write!(page.out, r#"<g data-about="{}">"#, escaped(about));
        }
        page.shape(&mark.shape);
        if mark.about.is_some() {
            page.out.push_str("</g>");
        }
    }
    if !layer.is_empty() {
        page.out.push_str("</g>");
    }
    page.out.push_str("</g></svg>\n");
    page.out
}

struct Page<F: Fn(Point) -> Point> {
    out: String,
    place: F,
    scale: f64,
}

impl<F: Fn(Point) -> Point> Page<F> {
    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Line { points, closed, pen, stroke, paper } => {
                let path = self.path(points, *closed);
                let fill = if *paper { r##" class="paper" fill="#fff""## } else { "" };
                self.put(format_args!(r#"<path d="{path}"{fill}{}/>"#, pen_of(*pen, *stroke)));
            }
            Shape::Fill { points } => {
                let path = self.path(points, true);
                self.put(format_args!(r#"<path d="{path}" fill="currentColor" stroke="none"/>"#));
            }
            Shape::Circle { at, radius, pen, stroke } => {
                let ([x, y], r) = ((self.place)(*at), radius * self.scale);
                let pen = pen_of(*pen, *stroke);
                self.put(format_args!(r#"<circle cx="{x:.2}" cy="{y:.2}" r="{r:.2}"{pen}/>"#));
            }
            Shape::Arc { at, radius, from, to, pen, stroke } => {
                let end =
                    |angle: f64| (self.place)([at[0] + radius * angle.cos(), at[1] + radius * angle.sin()]);
                let ([x1, y1], [x2, y2]) = (end(*from), end(*to));
                let (r, large) = (radius * self.scale, u8::from(to - from > std::f64::consts::PI));
                let pen = pen_of(*pen, *stroke);
                self.put(format_args!(
                    r#"<path d="M{x1:.2} {y1:.2}A{r:.2} {r:.2} 0 {large} 0 {x2:.2} {y2:.2}"{pen}/>"#
                ));
            }
            Shape::Hatch { lines, .. } => {
                let path: String = lines.iter().map(|line| self.path(line, false)).collect();
                self.put(format_args!(r#"<path d="{path}"{}/>"#, pen_of(Pen::Hair, Stroke::Solid)));
            }
            Shape::Text { at, words, size, weight, anchor, turn, halo } => {
                self.text(*at, words, *size, *weight, *anchor, *turn, *halo);
            }
            Shape::Balloon { at, number } => {
                let [x, y] = (self.place)(*at);
                self.put(format_args!(
                    r##"<circle cx="{x:.2}" cy="{y:.2}" r="{BALLOON}" class="paper" fill="#fff" stroke-width="1.1"/>"##
                ));
                self.label([x, y], *number, r#"fill="currentColor""#);
            }
            Shape::Flag { at, number } => {
                let [x, y] = (self.place)(*at);
                let width = flag_width(*number);
                self.put(format_args!(
                    r#"<rect x="{:.2}" y="{:.2}" width="{width:.2}" height="{FLAG}" fill="currentColor" stroke="none"/>"#,
                    x - width / 2.0,
                    y - FLAG / 2.0,
                ));
                self.label([x, y], *number, r##"class="paper" fill="#fff""##);
            }
            Shape::Dot { at } => {
                let [x, y] = (self.place)(*at);
                self.put(format_args!(
                    r#"<circle cx="{x:.2}" cy="{y:.2}" r="2" fill="currentColor" stroke="none"/>"#
                ));
            }
            Shape::Hook { at, turn } => {
                let [x, y] = (self.place)(*at);
                self.put(format_args!(
                    r#"<path transform="translate({x:.2} {y:.2}) rotate({:.1})" d="M0 -7V7H-4V-4H-7V-7Z" fill="currentColor" stroke="none"/>"#,
                    -turn
                ));
            }
            Shape::FaceMark { at, size } => {
                let [x, y] = (self.place)(*at);
                let s = size / 24.0;
                // A loop with a tail that runs down and back to the left.
                self.put(format_args!(
                    r#"<path transform="translate({:.2} {:.2}) scale({s:.3})" d="M1 9C2 2 7 0 9.5 2C12 5 9 12 5 12C0 12 -.5 5 3 4L7.5 15L3.5 24" stroke-width="{:.2}"/>"#,
                    x - size / 4.0,
                    y - size / 2.0,
                    1.6 / s
                ));
            }
            Shape::Grain { at, length, turn } => {
                let [x, y] = (self.place)(*at);
                let h = length / 2.0;
                self.put(format_args!(
                    r#"<path transform="translate({x:.2} {y:.2}) rotate({:.1})" d="M{:.2} 0H{h:.2}M{:.2} -3L{h:.2} 0L{:.2} 3M{:.2} -3L{:.2} 0L{:.2} 3" stroke-width=".8"/>"#,
                    -turn, -h, h - 5.0, h - 5.0, 5.0 - h, -h, 5.0 - h
                ));
            }
        }
    }

    #[expect(clippy::too_many_arguments, reason = "the fields of one shape")]
    fn text(
        &mut self,
        at: Point,
        words: &[Words],
        size: f64,
        weight: Weight,
        anchor: Anchor,
        turn: f64,
        halo: bool,
    ) {
        let [x, y] = (self.place)(at);
        let width = words_width(words, size, weight);
        let mut pen = match anchor {
            Anchor::Left => 0.0,
            Anchor::Centre => -width / 2.0,
            Anchor::Right => -width,
        };
        let thick = match weight {
            Weight::Regular => 400,
            Weight::Semibold => 600,
            Weight::Bold => 700,
        };
        self.put(format_args!(
            r#"<g transform="translate({x:.2} {y:.2}) rotate({:.1})" fill="currentColor" font-weight="{thick}" stroke="none">"#,
            -turn
        ));
        if halo {
            let height = words_height(words, size);
            self.put(format_args!(
                r##"<rect x="{:.2}" y="{:.2}" width="{:.2}" height="{:.2}" class="paper" fill="#fff"/>"##,
                pen - HALO,
                -height / 2.0 - HALO,
                width + 2.0 * HALO,
                height + 2.0 * HALO
            ));
        }
        for run in words {
            pen += match run {
                Words::Plain(text) => {
                    self.put(format_args!(
                        r#"<text x="{pen:.2}" y="{:.2}" font-size="{size:.2}" xml:space="preserve">{}</text>"#,
                        size * CAP / 2.0,
                        escaped(text)
                    ));
                    text_width(text, size, weight)
                }
                Words::Figure(figure) => {
                    self.figure(figure, pen, size);
                    figure_width(figure, size)
                }
            } + BETWEEN_RUNS * size;
        }
        self.put(format_args!("</g>"));
    }

    /// A number with its fraction stacked.
    fn figure(&mut self, figure: &Figure, x: f64, size: f64) {
        let whole = whole_of(figure);
        let mut left = x;
        if !whole.is_empty() {
            let base = size * CAP / 2.0;
            self.put(format_args!(
                r#"<text x="{x:.2}" y="{base:.2}" font-size="{size:.2}" font-weight="700">{whole}</text>"#
            ));
            left += text_width(&whole, size, Weight::Bold) + BEFORE_FRACTION * size;
        }
        if figure.numerator > 0 {
            let (small, bar) = (size * FRACTION, fraction_width(figure, size));
            let centre = left + bar / 2.0;
            let away = size * 0.116;
            for (number, y) in [(figure.numerator, -away), (figure.denominator, away + small * CAP)] {
                self.put(format_args!(
                    r#"<text x="{centre:.2}" y="{y:.2}" font-size="{small:.2}" font-weight="700" text-anchor="middle">{number}</text>"#
                ));
            }
            self.put(format_args!(
                r#"<path d="M{left:.2} 0H{:.2}" stroke="currentColor" stroke-width="{:.2}"/>"#,
                left + bar,
                size * 0.062
            ));
        }
    }

    /// The number in a balloon or flag.
    fn label(&mut self, [x, y]: Point, number: u32, ink: &str) {
        self.put(format_args!(
            r#"<text x="{x:.2}" y="{:.2}" font-size="{LABEL}" font-weight="700" text-anchor="middle" {ink} stroke="none">{number}</text>"#,
            y + LABEL * CAP / 2.0
        ));
    }

    fn path(&self, points: &[Point], closed: bool) -> String {
        let mut path = String::new();
        for (index, point) in points.iter().enumerate() {
            let [x, y] = (self.place)(*point);
            let _ = write!(path, "{}{x:.2} {y:.2}", if index == 0 { 'M' } else { 'L' });
        }
        if closed {
            path.push('Z');
        }
        path
    }

    fn put(&mut self, text: std::fmt::Arguments<'_>) {
        let _ = self.out.write_fmt(text);
    }
}

fn pen_of(pen: Pen, stroke: Stroke) -> String {
    let dashes = match stroke {
        Stroke::Solid => "",
        Stroke::Dash => r#" stroke-dasharray="4 2.5""#,
        Stroke::Dots => r#" stroke-dasharray=".8 2.6""#,
        Stroke::Chain => r#" stroke-dasharray="10 2 2 2""#,
    };
    format!(r#" stroke-width="{}"{dashes}"#, pen.width())
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
