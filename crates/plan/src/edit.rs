//! Edits: JSON Patches (RFC 6902) with a name, tests of what they change, and their inverse.

use serde::{Deserialize, Serialize};

/// One named change of a plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Edit {
    /// What it is called in the history: "make b4 23 1/2 in wide".
    pub label: String,
    /// The operations, each change preceded by a `test` of what it replaces.
    pub patch: json_patch::Patch,
}
