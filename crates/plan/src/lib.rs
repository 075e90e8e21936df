//! What the builder stated, and nothing that follows from it.
//!
//! Keys never move, order lives in lists of keys, and every place has an address (a JSON Pointer, RFC 6901).
//! This crate knows nothing of rules, of geometry, or of files: it turns text into a typed [`Plan`] or into
//! all of its faults at once, and a plan back into text.

mod plan;
mod keys;
mod day;
mod hours;
mod calendar;
mod capacity;
mod readings;
mod room;
mod goods;
mod receipts;
mod recipes;
mod units;
mod services;
mod tops;
mod finishes;
mod fields;
mod shop;

mod dom;
mod near;
mod fault;
mod typed;
mod statement;
mod syntax;
mod migrate;
mod read;
mod write;
mod edit;
mod splice;
mod schema;

pub use calendar::*;
pub use capacity::Capacity;
pub use day::Day;
pub use edit::*;
pub use fault::{Fault, Spot};
pub use fields::*;
pub use finishes::*;
pub use goods::*;
pub use hours::{Lasting, OnClock, WorkingHours};
pub use plan::*;
pub use read::{LONGEST_TEXT, ReadPlan};
pub use readings::*;
pub use receipts::*;
pub use recipes::*;
pub use room::*;
pub use schema::schema;
pub use services::*;
pub use shop::*;
pub use splice::apply_to_text;
pub use tops::*;
pub use units::*;
