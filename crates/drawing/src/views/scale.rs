//! The scale of a drawing, as two bars along its edges.

use dryfit_measure::{Length, Unit};

use crate::paper::{Anchor, Pen, Shape, Stroke, Weight};
use crate::sketch::{Sketch, rectangle};

/// An L of two bars at the lower left: each 24 in or 500 mm long, half of it black.
pub(super) fn scale_bars(sketch: &mut Sketch, unit: Unit) {
    let (length, name) = match unit {
        Unit::Inch => (Length::inches(24, 0, 1), "24 in"),
        Unit::Millimetre => (Length::mm(500), "500 mm"),
    };
    let long = length.as_mm_f64();
    let [low, high] = sketch.extent();
    if long > (high[0] - low[0]) * 0.6 || long > (high[1] - low[1]) * 0.6 {
        return;
    }
    let (thick, gap) = (sketch.pt(3.0), sketch.pt(2.0));
    let corner = [low[0] + gap, low[1] + gap];
    sketch.layer("scale");
    for upright in [false, true] {
        let at = |along: f64, across: f64| {
            if upright {
                [corner[0] + across, corner[1] + along]
            } else {
                [corner[0] + along, corner[1] + across]
            }
        };
        sketch.shape(Shape::Fill { points: rectangle(at(0.0, 0.0), at(long / 2.0, thick)).to_vec() });
        sketch.rectangle(at(0.0, 0.0), at(long, thick), Pen::Thin, Stroke::Solid);
    }
    let beside = [corner[0] + long + sketch.pt(5.0), corner[1] + thick * 1.5];
    sketch.text(beside, name, 9.0, Weight::Regular, Anchor::Left);
}
