//! The road from the plan to the findings: one module a stage, in reading order.
//!
//! Each stage is a pure function over the slices of the plan and of the earlier stages that it needs. It
//! returns its value and its findings, never an error: a unit that is too wide stays in the output, flagged,
//! so that later stages still show something. Nothing here knows of files, of the clock or of paper.

pub mod finding;
mod fix;
pub mod likely;
pub mod figures;
pub mod need;
pub mod survey;
pub mod placement;
pub mod casework;
pub mod surfaces;
pub mod dims;
pub mod services;
pub mod cutlist;
pub mod layouts;
pub mod takeoff;
pub mod order;
pub mod ledger;
pub mod release;
pub mod checks;
pub mod run;

pub use finding::{Finding, Fix, Severity};
pub use need::Need;
pub use run::{Derived, run};
