//! What gets used up on a job and is in no part of it: rags, blades, discs, tape, masks, bags.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::{Deserialize, Deserializer, de};

use crate::Source;

/// One thing that gets used up, or a small tool that the work asks for.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Consumable {
    /// What a builder calls it.
    pub name: String,
    /// What it is for.
    pub what_for: String,
    /// The category of a plan's goods that it belongs to.
    pub category: String,
    /// How many as soon as there is any of the work that asks for it.
    pub first: u32,
    /// How many for each of what the job counts.
    pub per: BTreeMap<Driver, Share>,
    /// What its usual pack is called.
    pub pack: String,
    /// How many its usual pack holds.
    pub holds: u32,
    /// Where the rate comes from.
    pub source: Source,
}

/// What a job counts that uses things up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Driver {
    /// Units that are made.
    Units,
    /// Sheets and boards that are cut.
    Sheets,
    /// Screws.
    Screws,
    /// Whole tiles.
    Tiles,
    /// Litres of paint and primer.
    Paint,
    /// Tubes of sealant or adhesive, by what a common one holds.
    Tubes,
    /// Sinks.
    Sinks,
    /// Fittings and traps of pipes.
    Fittings,
    /// Boxes in walls.
    Boxes,
    /// Feet of cable.
    Cable,
    /// Walls that are opened and closed again.
    Walls,
    /// Worktops that are faced with laminate.
    Tops,
}

/// So many for each, as a fraction: `2`, `1/150`; nothing for what is wanted once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share {
    over: u64,
    under: u64,
}

impl Share {
    /// How many for so many, in thousandths, so that shares of several kinds add up before they are rounded.
    pub const fn thousandths(self, of: u64) -> u64 {
        of.saturating_mul(self.over).saturating_mul(1_000).div_ceil(self.under)
    }
}

impl<'de> Deserialize<'de> for Share {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Share, D::Error> {
        let text = String::deserialize(deserializer)?;
        let (over, under) = text.split_once('/').unwrap_or((&text, "1"));
        match (over.parse(), under.parse()) {
            (Ok(over), Ok(under)) if under > 0 => Ok(Share { over, under }),
            _ => Err(de::Error::custom(format!("`{text}` is no share"))),
        }
    }
}

static CONSUMABLES: LazyLock<BTreeMap<String, Consumable>> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/consumables.toml")).expect("our own table reads; a test proves it")
});

/// All of them by id.
pub fn consumables() -> &'static BTreeMap<String, Consumable> {
    &CONSUMABLES
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_one_reads_and_is_asked_for_by_something() {
        assert!(consumables().len() > 30);
        for (id, consumable) in consumables() {
            assert!(!consumable.per.is_empty() && consumable.holds > 0, "{id}");
            assert!(!consumable.name.is_empty() && !consumable.what_for.is_empty(), "{id}");
        }
    }

    #[test]
    fn shares_round_up_once() {
        let share = Share { over: 1, under: 150 };
        assert_eq!(share.thousandths(150), 1_000);
        assert_eq!(share.thousandths(151), 1_007);
        assert_eq!(Share { over: 0, under: 1 }.thousandths(9), 0);
    }
}
