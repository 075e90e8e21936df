//! Lengths, areas, angles, mass, money, and the reason behind every number.
//!
//! The crate knows nothing of rooms, units, files or the clock, and imports nothing of ours. It holds
//! - quantities: [`Length`] (whole nanometres), [`Area`], [`Volume`], [`Angle`], [`Mass`], [`Density`],
//!   [`Money`], [`Rate`]; how much of a good, [`Amount`];
//! - how they stand in a plan and on paper: [`Stated`], [`read_length`], [`Fineness`], [`Figure`];
//! - addresses: [`Key`] and [`Pointer`];
//! - the traced dimension: [`Dim`], its [`Reason`], and what can be asked of it ([`sources`], [`rules`],
//!   [`slopes`], [`evaluate`], [`explain`], [`because`], or [`Trace`] for many questions).

mod text;

mod amount;
mod angle;
mod area;
mod currency;
mod dim;
mod explain;
mod fault;
mod figure;
mod key;
mod length;
mod mass;
mod money;
mod natural;
mod pointer;
mod rate;
mod read;
mod reason;
mod stated;
mod token;
mod trace;
mod unit;

pub use amount::{Amount, Measure, StatedAmount};
pub use angle::Angle;
pub use area::{Area, Volume};
pub use currency::Currency;
pub use dim::Dim;
pub use explain::{Line, because, explain};
pub use fault::{LengthFault, TextFault};
pub use figure::{Bare, Figure, Rounding};
pub use key::Key;
pub use length::Length;
pub use mass::{Density, Mass, StatedDensity, StatedMass};
pub use money::{Money, Priced, share};
pub use natural::natural_order;
pub use pointer::Pointer;
pub use rate::Rate;
pub use read::{LONGEST, read_length};
pub use reason::{Reason, Term};
pub use stated::Stated;
pub use trace::{Trace, evaluate, rules, slopes, sources};
pub use unit::{Fineness, Rounded, Toward, Unit};
