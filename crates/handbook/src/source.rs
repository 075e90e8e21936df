//! Where a figure or a rule comes from.

use serde::{Deserialize, Serialize};

/// The origin of a figure or a rule; printed with it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Source {
    /// A published standard or handbook, with the clause.
    Standard {
        /// "ANSI A108.02-2017"
        name: String,
        /// "4.3.8"
        clause: String,
    },
    /// Common practice, with no source.
    #[serde(rename = "common practice")]
    Practice,
    /// It follows from geometry or arithmetic alone.
    #[serde(rename = "geometry")]
    Geometry,
    /// It follows from what the plan states.
    #[serde(rename = "the plan")]
    Plan,
    /// Thought to stand in this standard, which was not seen; from memory.
    Unverified {
        /// What it is thought to stand in.
        name: String,
    },
}

impl std::fmt::Display for Source {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Source::Standard { name, clause } => write!(f, "{name}, {clause}"),
            Source::Practice => f.write_str("common practice, no source"),
            Source::Geometry => f.write_str("geometry"),
            Source::Plan => f.write_str("what the plan states"),
            Source::Unverified { name } => write!(f, "{name}, from memory, unverified"),
        }
    }
}
