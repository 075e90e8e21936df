//! How many hinges a door takes, by height and by mass.

use std::sync::LazyLock;

use dryfit_measure::{Mass, Stated};
use serde::Deserialize;

use crate::Source;

/// Doors up to this height and this mass take so many hinges.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HingeBand {
    /// The tallest door in the band.
    pub height: Stated,
    /// The heaviest door in the band, in pounds.
    pounds: f64,
    /// How many hinges.
    pub hinges: usize,
}

impl HingeBand {
    /// The heaviest door in the band.
    pub fn mass(&self) -> Mass {
        Mass::from_pounds(self.pounds)
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    source: Source,
    band: Vec<HingeBand>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/hinges.toml")).expect("our own table reads; a test proves it")
});

/// The bands, from the smallest door up.
pub fn hinge_bands() -> &'static [HingeBand] {
    &TABLE.band
}

/// Where the bands come from.
pub fn hinge_source() -> &'static Source {
    &TABLE.source
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bands_rise_in_every_column() {
        assert_eq!(hinge_bands().len(), 4);
        for pair in hinge_bands().windows(2) {
            assert!(pair[0].height < pair[1].height && pair[0].mass() < pair[1].mass());
            assert_eq!(pair[0].hinges + 1, pair[1].hinges);
        }
        assert!(matches!(hinge_source(), Source::Unverified { .. }));
    }
}
