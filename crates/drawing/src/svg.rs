//! SVG from the paper model (SVG 1.1, W3C). Knows nothing of what is drawn.

use std::fmt::Write;

use dryfit_measure::Figure;

use crate::paper::{Anchor, Drawing, Pen, Point, Shape, Stroke, Weight, Words};
use crate::sketch::{figure_width, text_width};

/// A drawing as one SVG document; lengths are points on paper.
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
                let fill = if *paper { r#" fill="Canvas""# } else { "" };
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
                    r#"<circle cx="{x:.2}" cy="{y:.2}" r="9" fill="Canvas" stroke-width="1.1"/>"#
                ));
                self.label([x, y], &number.to_string(), 11.0, "currentColor");
            }
            Shape::Flag { at, number } => {
                let [x, y] = (self.place)(*at);
                let half = 4.0 + text_width(&number.to_string(), 11.0) / 2.0;
                self.put(format_args!(
                    r#"<rect x="{:.2}" y="{:.2}" width="{:.2}" height="15" fill="currentColor" stroke="none"/>"#,
                    x - half,
                    y - 7.5,
                    half * 2.0
                ));
                self.label([x, y], &number.to_string(), 11.0, "Canvas");
            }
            Shape::Dot { at } => {
                let [x, y] = (self.place)(*at);
                self.put(format_args!(
                    r#"<circle cx="{x:.2}" cy="{y:.2}" r="1.8" fill="currentColor" stroke="none"/>"#
                ));
            }
            Shape::Hook { at, turn } => {
                let [x, y] = (self.place)(*at);
                self.put(format_args!(
                    r#"<path transform="translate({x:.2} {y:.2}) rotate({:.1})" d="M-6 -6H0V6H-2V-3H-6Z" fill="currentColor" stroke="none"/>"#,
                    -turn
                ));
            }
            Shape::FaceMark { at, size } => {
                let [x, y] = (self.place)(*at);
                let s = size / 20.0;
                self.put(format_args!(
                    r#"<path transform="translate({x:.2} {y:.2}) scale({s:.3})" d="M-2 -4C-8 -4 -8 -10 -2 -10C5 -10 5 -2 -1 -2C-5 -2 -4 -8 0 -6L3 3L-1 10" stroke-width="{:.2}"/>"#,
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
        let width: f64 = words.iter().map(|words| width_of(words, size)).sum();
        let mut pen = match anchor {
            Anchor::Left => 0.0,
            Anchor::Centre => -width / 2.0,
            Anchor::Right => -width,
        };
        let weight = match weight {
            Weight::Regular => 400,
            Weight::Semibold => 600,
            Weight::Bold => 700,
        };
        let halo = if halo {
            r#" style="paint-order:stroke" stroke="Canvas" stroke-width="3""#
        } else {
            r#" stroke="none""#
        };
        self.put(format_args!(
            r#"<g transform="translate({x:.2} {y:.2}) rotate({:.1})" fill="currentColor" font-weight="{weight}"{halo}>"#,
            -turn
        ));
        // Capitals of the face are .7 em high; the middle of a capital stands at the place.
        let base = size * 0.35;
        for run in words {
            match run {
                Words::Plain(text) => {
                    self.put(format_args!(
                        r#"<text x="{pen:.2}" y="{base:.2}" font-size="{size:.2}" xml:space="preserve">{}</text>"#,
                        escaped(text)
                    ));
                }
                Words::Figure(figure) => self.figure(figure, pen, size, base),
            }
            pen += width_of(run, size);
        }
        self.put(format_args!("</g>"));
    }

    /// A number with its fraction stacked.
    fn figure(&mut self, figure: &Figure, x: f64, size: f64, base: f64) {
        let whole = whole_of(figure);
        if !whole.is_empty() {
            self.put(format_args!(r#"<text x="{x:.2}" y="{base:.2}" font-size="{size:.2}">{whole}</text>"#));
        }
        if figure.numerator > 0 {
            let small = size * 0.74;
            let width = figure_width(figure, size);
            let part = small * 0.6 * digits(figure.denominator);
            let centre = x + width - part / 2.0 - size * 0.06;
            for (text, y) in
                [(figure.numerator, -size * 0.06), (figure.denominator, small * 0.7 + size * 0.08)]
            {
                self.put(format_args!(
                    r#"<text x="{centre:.2}" y="{y:.2}" font-size="{small:.2}" text-anchor="middle">{text}</text>"#
                ));
            }
            self.put(format_args!(
                r#"<path d="M{:.2} 0H{:.2}" stroke="currentColor" stroke-width=".9"/>"#,
                centre - part / 2.0,
                centre + part / 2.0
            ));
        }
    }

    fn label(&mut self, [x, y]: Point, text: &str, size: f64, ink: &str) {
        self.put(format_args!(
            r#"<text x="{x:.2}" y="{:.2}" font-size="{size}" font-weight="700" text-anchor="middle" fill="{ink}" stroke="none">{text}</text>"#,
            y + size * 0.35
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

fn width_of(words: &Words, size: f64) -> f64 {
    match words {
        Words::Plain(text) => text_width(text, size),
        Words::Figure(figure) => figure_width(figure, size),
    }
}

/// What stands before the fraction.
fn whole_of(figure: &Figure) -> String {
    let mut text = String::new();
    if figure.negative {
        text.push('\u{2212}');
    }
    if let Some(whole) = figure.whole {
        let _ = write!(text, "{whole}");
    }
    if figure.tenths > 0 {
        let _ = write!(text, ".{}", figure.tenths);
    }
    text
}

fn digits(n: u32) -> f64 {
    f64::from(n.max(1).ilog10() + 1)
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
