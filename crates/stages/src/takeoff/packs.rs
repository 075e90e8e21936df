//! Packs: how many of which, so that what is needed is covered for the least money.

use dryfit_measure::{Key, Money};
use dryfit_plan::Good;

/// A number of equal packs.
pub(super) struct Choice {
    pub pack: Key,
    pub packs: u32,
    pub price: Option<Money>,
}

/// The cheapest single sort of pack that covers `missing`: packs without a price only where none has one, then
/// the fewest packs, then the first by key.
pub(super) fn cheapest(good: &Good, missing: u32) -> Option<Choice> {
    good.packs
        .iter()
        .filter(|(_, pack)| pack.holds > 0)
        .map(|(key, pack)| {
            let packs = missing.div_ceil(pack.holds);
            Choice { pack: key.clone(), packs, price: pack.price.map(|price| price * i64::from(packs)) }
        })
        .min_by_key(|choice| (choice.price.is_none(), choice.price, choice.packs))
}
