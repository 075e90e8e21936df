//! The tools, what they can do, and what was decided.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Stated};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the shop can do. Absent limits are not known, and are not checked.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Shop {
    /// The saws, by key; layouts are planned with the widest kerf among those used.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub kerfs: BTreeMap<Key, Stated>,
    /// Cut off a factory edge before anything is measured from it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub factory_trim: Option<Stated>,
    /// The longest cut along a guide.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub straightedge: Option<Stated>,
    /// The widest rip between blade and fence.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rip: Option<Stated>,
    /// The widest crosscut.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub crosscut: Option<Stated>,
    /// Offcuts with both sides at least so long are kept.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub keep_offcuts: Option<Stated>,
    /// The most that one person lifts, in kilograms.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lift: Option<u16>,
    /// Whether a second person can help.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub helper: Option<bool>,
}

/// A waiver: a finding that was seen and is left as it is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Decision {
    /// The rule, by its id: "fit/tip-up".
    pub rule: String,
    /// Keys of what it is about.
    pub subjects: Vec<Key>,
    /// Why it is left.
    pub reason: String,
    /// The length that was short when it was decided; the waiver lapses when it gets worse.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub short_by: Option<Stated>,
}
