//! A part with what is done to it, marked from its named edges.

use dryfit_drawing::Drawing;
use serde::Serialize;

use crate::words::Words;

/// A part.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Part {
    /// The part, good face up.
    pub drawing: Drawing,
    /// The order of the operations, and the test of a pair.
    pub notes: Vec<Words>,
}
