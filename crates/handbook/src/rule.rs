//! The rules that plans are held against: what each asks for and where it comes from.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use crate::Source;

/// One rule.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NamedRule {
    /// What it asks for, in a line.
    pub asks: String,
    /// Where it comes from.
    pub source: Source,
}

static RULES: LazyLock<BTreeMap<String, NamedRule>> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/rules.toml")).expect("our own table reads; a test proves it")
});

/// All rules by id.
pub fn rules() -> &'static BTreeMap<String, NamedRule> {
    &RULES
}

/// One rule; `None` when the handbook has no such id.
pub fn rule(id: &str) -> Option<&'static NamedRule> {
    RULES.get(id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rule_reads_and_says_what_it_asks() {
        for (id, rule) in rules() {
            assert!(id.contains('/'), "{id}: an id is `area/name`");
            assert!(!rule.asks.is_empty(), "{id}");
        }
    }
}
