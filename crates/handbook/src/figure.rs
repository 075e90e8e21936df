//! Named lengths of the trade.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use dryfit_measure::Stated;
use serde::Deserialize;

use crate::Source;

/// One length that the trade uses unless the builder says otherwise.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NamedFigure {
    /// The value.
    pub value: Stated,
    /// The value in plans that are entered in millimetres: a round number of its own, never a conversion.
    pub metric: Stated,
    /// What it is called in a reason: "toe kick height".
    pub what: String,
    /// Where it comes from.
    pub source: Source,
}

static FIGURES: LazyLock<BTreeMap<String, NamedFigure>> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/figures.toml")).expect("our own table reads; a test proves it")
});

/// All named lengths by id.
pub fn figures() -> &'static BTreeMap<String, NamedFigure> {
    &FIGURES
}

/// One named length; `None` when the handbook has no such id.
pub fn figure(id: &str) -> Option<&'static NamedFigure> {
    FIGURES.get(id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_reads_and_is_positive() {
        assert!(figures().len() > 40);
        for (id, figure) in figures() {
            assert!(figure.value.length.is_positive(), "{id}");
            let ratio = figure.metric.length.as_mm_f64() / figure.value.length.as_mm_f64();
            assert!((0.6..1.4).contains(&ratio), "{id}: {} is far from {}", figure.metric, figure.value);
            assert!(!figure.what.is_empty(), "{id}");
        }
    }
}
