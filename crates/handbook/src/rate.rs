//! Named rates of the trade.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use dryfit_measure::Rate;
use serde::Deserialize;

use crate::Source;

/// One rate that the trade uses unless the builder says otherwise.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NamedRate {
    /// The value.
    pub value: Rate,
    /// What it is for.
    pub what: String,
    /// Where it comes from.
    pub source: Source,
}

static RATES: LazyLock<BTreeMap<String, NamedRate>> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/rates.toml")).expect("our own table reads; a test proves it")
});

/// One named rate; `None` when the handbook has no such id.
pub fn rate(id: &str) -> Option<&'static NamedRate> {
    RATES.get(id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rate_reads_and_says_what_it_is_for() {
        assert!(!RATES.is_empty());
        assert!(RATES.values().all(|rate| !rate.what.is_empty()));
    }
}
