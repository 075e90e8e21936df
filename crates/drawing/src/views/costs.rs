//! What it costs: a bar for each category, paid in black, still to pay hatched, planned as an outline.

use dryfit_measure::{Currency, Money};
use dryfit_stages::ledger::{Ledger, Row};

use crate::metrics::words_width;
use crate::paper::{Anchor, Drawing, HatchKind, Pen, Shape, Stroke, Weight, Words};
use crate::sketch::{Frame, Margins, Sketch, rectangle};

/// From one bar to the next, points.
const ROW: f64 = 28.0;
/// Height of a bar, points.
const BAR: f64 = 19.0;
/// How far what fills a bar stays inside its outline, points.
const INSET: f64 = 3.0;
/// Size of the names, points.
const NAME: f64 = 13.0;
/// Size of the amounts, points.
const AMOUNT: f64 = 15.0;
/// Between a bar and what stands beside it, points.
const GAP: f64 = 8.0;
/// Size of a legend's swatch, points.
const SWATCH: [f64; 2] = [22.0, 11.0];

/// The bars; `None` where nothing is planned and nothing was paid.
pub fn costs(ledger: &Ledger, currency: Currency, frame: Frame) -> Option<Drawing> {
    let rows: Vec<&Row<_>> =
        ledger.categories.iter().filter(|row| long(row.planned.max(row.forecast())) > 0.0).collect();
    let most = rows.iter().map(|row| long(row.planned.max(row.forecast()))).fold(0.0, f64::max);
    if most <= 0.0 {
        return None;
    }
    let wide = |text: &str, size: f64, weight| words_width(&[Words::Plain(text.to_owned())], size, weight);
    let names = rows.iter().map(|row| wide(row.of.name(), NAME, Weight::Semibold)).fold(0.0, f64::max);
    let amounts = rows.iter().map(|row| wide(&amount(row), AMOUNT, Weight::Bold)).fold(0.0, f64::max);
    let left = names + GAP;
    let bars = (frame.width - left - amounts - 2.0 * GAP).max(40.0);
    let high = ROW * (rows.len() as f64 + 1.0);
    let margins = Margins { left: 0.0, right: 0.0, bottom: 0.0, top: 0.0 };
    let told: Vec<String> = rows
        .iter()
        .map(|row| {
            let money = |it: Money| it.with(currency).to_string();
            format!(
                "{}: {} paid, {} still to pay, {} planned",
                row.of.name(),
                money(row.paid),
                money(row.to_pay),
                money(row.planned)
            )
        })
        .collect();
    let alt = format!("A bar for each category. {}", told.join("; "));
    let fits = Frame { height: high, ..frame };
    let mut sketch = Sketch::new(alt, [[0.0, 0.0], [frame.width, high]], margins, fits);
    for (index, row) in rows.iter().enumerate() {
        let y = high - ROW * (index as f64 + 0.5);
        let at = |money: Money| left + long(money).max(0.0) / most * bars;
        let (low, top) = (y - BAR / 2.0, y + BAR / 2.0);
        sketch.layer("bars");
        sketch.rectangle([left, low], [at(row.planned), top], Pen::Edge, Stroke::Solid);
        let (low, top) = (low + INSET, top - INSET);
        let (paid, all) = (at(row.paid), at(row.forecast()));
        if paid > left {
            sketch.shape(Shape::Fill { points: rectangle([left, low], [paid, top]).to_vec() });
        }
        if all > paid {
            let rest = rectangle([paid, low], [all, top]);
            sketch.hatched(&rest, HatchKind::Waste).outline(&rest, Pen::Edge, Stroke::Solid);
        }
        sketch.layer("words");
        sketch.text([left - GAP, y], row.of.name(), NAME, Weight::Semibold, Anchor::Right);
        let end = at(row.planned.max(row.forecast())) + GAP;
        sketch.text([end, y], amount(row), AMOUNT, Weight::Bold, Anchor::Left);
    }
    legend(&mut sketch, left);
    Some(sketch.finish())
}

/// Hundredths, as a length to draw.
fn long(money: Money) -> f64 {
    money.hundredths() as f64
}

/// "612 of 940", in whole units of the currency.
fn amount(row: &Row<dryfit_plan::Category>) -> String {
    let whole = |money: Money| (money.hundredths() + 50).div_euclid(100);
    format!("{} of {}", whole(row.paid), whole(row.planned))
}

fn legend(sketch: &mut Sketch, left: f64) {
    let y = ROW * 0.4;
    let mut x = left;
    for (what, kind) in [("paid", 0), ("still to pay", 1), ("planned", 2)] {
        let swatch = rectangle([x, y - SWATCH[1] / 2.0], [x + SWATCH[0], y + SWATCH[1] / 2.0]);
        sketch.layer("legend");
        match kind {
            0 => {
                sketch.shape(Shape::Fill { points: swatch.to_vec() });
            }
            1 => {
                sketch.hatched(&swatch, HatchKind::Waste).outline(&swatch, Pen::Edge, Stroke::Solid);
            }
            _ => {
                sketch.outline(&swatch, Pen::Edge, Stroke::Solid);
            }
        }
        x += SWATCH[0] + GAP * 0.75;
        sketch.text([x, y], what, NAME, Weight::Semibold, Anchor::Left);
        x += words_width(&[Words::Plain(what.to_owned())], NAME, Weight::Semibold) + 3.0 * GAP;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> (dryfit_plan::Plan, dryfit_stages::Derived) {
        let plan = dryfit_plan::Plan::from_toml(include_str!("../../../../demos/potting-room.toml"));
        let plan = plan.expect("the demo reads").plan;
        let budget = dryfit_cutting::Budget { steps: 0, seed: 1 };
        let derived = dryfit_stages::run(&plan, &dryfit_stages::layouts::Answers::new(), budget);
        (plan, derived)
    }

    #[test]
    fn bars_are_as_long_as_their_money() {
        let (plan, derived) = demo();
        let ledger = &derived.ledger;
        let frame = Frame { width: 540.0, height: 400.0 };
        let drawing = costs(ledger, plan.money.currency, frame).expect("there is something to pay");
        let filled = drawing.marks.iter().filter(|mark| mark.layer == "bars").filter_map(|mark| {
            let Shape::Fill { points } = &mark.shape else { return None };
            let across = points.iter().map(|point| point[0]);
            let (low, high) = across.fold((f64::MAX, f64::MIN), |(l, h), x| (l.min(x), h.max(x)));
            Some(high - low)
        });
        let paid: Vec<f64> = filled.collect();
        let rows: Vec<_> = ledger.categories.iter().filter(|row| row.paid > Money::ZERO).collect();
        assert!(rows.len() > 1 && paid.len() == rows.len(), "{paid:?}");
        let scale = paid[0] / long(rows[0].paid);
        for (wide, row) in paid.iter().zip(&rows) {
            assert!((wide / long(row.paid) / scale - 1.0).abs() < 1e-6, "{}", row.of.name());
        }
    }

    #[test]
    fn nothing_to_pay_is_no_picture() {
        let (plan, mut derived) = demo();
        derived.ledger.categories.clear();
        let frame = Frame { width: 540.0, height: 400.0 };
        assert!(costs(&derived.ledger, plan.money.currency, frame).is_none());
    }
}
