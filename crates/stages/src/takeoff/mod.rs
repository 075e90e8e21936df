//! Stage 6, takeoff: what has to be bought, why so much of it, and what it costs.

use dryfit_measure::{Key, Money};

/// The buying list.
#[derive(Clone, Debug)]
pub struct Takeoff {
    /// Lines, by aisle.
    pub lines: Vec<BuyLine>,
    /// Sum of what has a price, without tax.
    pub total: Money,
    /// Tax on it.
    pub tax: Money,
    /// Goods without a price.
    pub unpriced: Vec<Key>,
}

/// One line of the buying list.
#[derive(Clone, Debug)]
pub struct BuyLine {
    /// The good.
    pub good: Key,
    /// The shop's aisle: sheets and boards, screws and fittings, finish, ...
    pub aisle: Aisle,
    /// What is needed, in pieces of the good.
    pub needed: u32,
    /// Of which on hand.
    pub on_hand: u32,
    /// Packs to buy.
    pub packs: u32,
    /// Which pack.
    pub pack: Option<Key>,
    /// Why so many: "3 needed, 1 in the shed".
    pub why: String,
    /// What it costs, without tax.
    pub price: Option<Money>,
}

/// Where in the shop it is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Aisle {
    /// Sheets and boards.
    SheetsAndBoards,
    /// Screws and fittings.
    ScrewsAndFittings,
    /// Appliances and sinks.
    Appliances,
    /// Glue, finish, tape.
    Supplies,
}
