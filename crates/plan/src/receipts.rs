//! Receipts: what was paid for what, what was taken back, and what of it is on hand.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Money, Stated, StatedAmount};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{Category, Day, Keyed};

/// One receipt, as the till printed it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Receipt {
    /// The day on it.
    pub date: Day,
    /// Where it was bought, in the builder's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shop: Option<String>,
    /// Its number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub number: Option<String>,
    /// Its lines, without tax.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub lines: Keyed<ReceiptLine>,
    /// The tax on it.
    #[serde(default, skip_serializing_if = "crate::plan::is_default")]
    pub tax: Money,
    /// Its total with tax, as printed: the lines are held against it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub total: Option<Money>,
    /// What went back to the shop of it, each time.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub returns: Keyed<Return>,
    /// The name of its photo.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub photo: Option<String>,
}

/// One line of a receipt: a good of the plan, or something else in the builder's words.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReceiptLine {
    /// The good of the plan that it is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub good: Option<Key>,
    /// Which pack of the good; absent, the only one that it has, or single pieces.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pack: Option<Key>,
    /// How many packs.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub count: u32,
    /// What it cost in all, without tax.
    pub money: Money,
    /// What the till calls it, or what it is where it is no good of the plan: "parking, delivery".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// What it counts as; absent, as its good does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub category: Option<Category>,
    /// Its batch, where that matters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<String>,
    /// Why it had to be bought again: "one panel cut across the grain".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub again: Option<String>,
}

/// Something of a receipt that went back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Return {
    /// The line of this receipt that it is of.
    pub line: Key,
    /// How many packs of it.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub count: u32,
    /// The day on which it went back.
    pub on: Day,
    /// What the shop gave back for it, without tax; absent while it has not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub credit: Option<Money>,
    /// The tax that the shop gave back.
    #[serde(default, skip_serializing_if = "crate::plan::is_default")]
    pub tax: Money,
    /// Why: "warped".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
}

/// Something on hand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Lot {
    /// Which good it is of.
    pub good: Key,
    /// How much of it: pieces as a bare number, or "200 ml", "12 ft".
    pub count: StatedAmount,
    /// Its own length, where it is not whole (along the grain).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<Stated>,
    /// Its own width, where it is not whole.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width: Option<Stated>,
    /// Where it stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stands: Option<String>,
    /// The receipt by which it was bought for this job; absent, it was there before and costs nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub receipt: Option<Key>,
    /// Its batch, where that matters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<String>,
}

const fn one() -> u32 {
    1
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks for a reference")]
const fn is_one(count: &u32) -> bool {
    *count == 1
}

impl Receipt {
    /// Its lines together, without tax.
    pub fn net(&self) -> Money {
        self.lines.values().map(|line| line.money).sum()
    }

    /// What was paid at the till: lines and tax.
    pub fn paid(&self) -> Money {
        self.net() + self.tax
    }

    /// What the shop gave back since, tax with it.
    pub fn credited(&self) -> Money {
        self.returns.values().filter_map(|back| Some(back.credit? + back.tax)).sum()
    }
}
