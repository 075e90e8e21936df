//! What the builder stated, and nothing that follows from it.
//!
//! Keys never move, order lives in lists of keys, and every place has an address (a JSON Pointer, RFC 6901).
//! This crate knows nothing of rules, of geometry, or of files: it turns text into a typed [`Plan`] or into
//! all of its faults at once, and a plan back into text.

mod edit;
mod goods;
mod plan;
mod readings;
mod recipes;
mod room;
mod shop;
mod units;

pub use edit::*;
pub use goods::*;
pub use plan::*;
pub use readings::*;
pub use recipes::*;
pub use room::*;
pub use shop::*;
pub use units::*;
