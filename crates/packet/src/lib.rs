//! The printed packet: the data of each page and the template that sets it in type.
//!
//! [`pages`] fills the pages from the stages and needs no typesetting; [`packet`] sets them and gives a PDF. The
//! template is a small program in the typesetting language (`template/`), which anyone can restyle: it knows
//! the data of [`PacketData`] and nothing else. Equal input gives equal bytes; no clock is read.

mod data;
mod drawings;
mod fill;
mod fronts;
mod material;
mod names;
mod pages;
mod paper;
mod template;
mod words;

use dryfit_plan::Plan;
use dryfit_stages::Derived;

pub use data::{Blank, Body, GateNote, PacketData, Page};
pub use names::kind;
pub use pages::{
    AisleRows, Aside, Bar, Bars, Board, Buy, BuyRow, CostRow, Costs, Cover, CutList, CutRows, Door, DoorRow,
    Field, FieldCount, FieldRow, FindingRow, Findings, HeldBack, List, Lists, Order, OrderRow, OutletRow,
    Part, PartRow, PieceRow, ReadingRow, Room, RoughIn, Setting, Sheet, Task, Top, Total, Unit, Wall,
};
pub use paper::Paper;
pub use template::{PacketFault, Printed, print};
pub use words::{Span, Words};

/// What a plan does not say about its packet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PacketOptions {
    /// The day, as it is to be printed: "12 March". Without it the bytes depend on the plan alone.
    pub date: Option<String>,
    /// The paper; none is what is usual with the plan's unit.
    pub paper: Option<Paper>,
    /// Leaves the drawings of single things out, for who draws them at another size.
    pub plain: bool,
}

/// The pages of a packet as data.
pub fn pages(plan: &Plan, derived: &Derived, options: &PacketOptions) -> PacketData {
    fill::fill(plan, derived, options)
}

/// The packet of a plan as a tagged PDF (PDF/UA-1), on Letter or A4.
///
/// # Errors
/// When the template cannot set the pages; a plan cannot bring this about, however bad it is.
pub fn packet(plan: &Plan, derived: &Derived, options: &PacketOptions) -> Result<Printed, PacketFault> {
    print(&pages(plan, derived, options))
}
