//! The kinds of page, one file each: what it holds, and how it is filled from the stages.

mod bars;
mod board;
mod buy;
mod costs;
mod cover;
mod cut_list;
mod door;
mod field;
mod findings;
mod lists;
mod order;
mod part;
mod room;
mod rough_in;
mod sheet;
mod unit;
mod wall;
mod worktop;

pub use bars::*;
pub use board::*;
pub use buy::*;
pub use costs::*;
pub use cover::*;
pub use cut_list::*;
pub use door::*;
pub use field::*;
pub use findings::*;
pub use lists::*;
pub use order::*;
pub use part::*;
pub use room::*;
pub use rough_in::*;
pub use sheet::*;
pub use unit::*;
pub use wall::*;
pub use worktop::*;

/// The numbers that gates have throughout the packet, in the order in which they open.
pub(crate) fn gate_number(gate: dryfit_stages::casework::Gate) -> u32 {
    match gate {
        dryfit_stages::casework::Gate::Openings => 1,
        dryfit_stages::casework::Gate::UnitsSet => 2,
    }
}
