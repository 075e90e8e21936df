//! The order of work as bars, on a page beside the rail.

use dryfit_drawing::{Drawing, views};
use serde::Serialize;

use crate::data::{Body, Page};
use crate::material::Material;
use crate::words::Words;

/// Bars over weeks.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Bars {
    /// The bars.
    pub drawing: Option<Drawing>,
    /// What their looks mean.
    pub legend: Words,
}

/// Points kept for the legend.
const FOOT: f64 = 40.0;

/// The page of the bars; none where there is nothing to do.
pub(crate) fn bars(m: &Material<'_>) -> Option<Page> {
    let order = &m.derived.order;
    let first = order.tasks.first()?;
    let legend = Words::from(
        "Black: may not slip. The thin line after a bar: how far it may. Hatched: done. Octagon: stop until it is seen; \
         square: a gate.",
    );
    let body = Body::Bars(Bars { drawing: views::order(order, m.frame(FOOT)), legend });
    let inputs = format!("{} to {}", order.day_name(first.times[0]), order.day_name(order.end - 1));
    Some(Page::new("order/bars", "Order of work: bars", inputs, body))
}
