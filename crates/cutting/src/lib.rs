//! Domain-free solvers for sheets (2-D guillotine) and lengths (1-D), their lower bounds, and an independent
//! verifier.
//!
//! Knows nothing of units, plans, goods or trades: whole numbers in, whole numbers out. Knows no clock and no
//! files: a search is paid in steps, and the same job, steps and seed give the same bytes.

#![allow(
    clippy::cast_possible_wrap,
    clippy::cast_sign_loss,
    reason = "counts are capped on reading, far from the ends of every integer type"
)]
#![allow(clippy::many_single_char_names, reason = "x, y, w, h are the names of the forms")]

mod answer;
mod job;
mod length_job;
mod length_layout;
mod lengths;
mod read;
mod rng;
mod sequence;
mod sheet_job;
mod sheet_layout;
mod sheets;
mod verify_lengths;
mod verify_sheets;

pub use answer::{Bound, Budget, LengthAnswer, LengthReport, SheetAnswer, SheetReport};
pub use job::Job;
pub use length_job::{BarKind, LengthJob, LengthPart};
pub use length_layout::{Bar, LengthClaims, LengthLayout};
pub use lengths::{LengthSearch, solve_lengths};
pub use read::{MAX_ENTRIES, MAX_LENGTH, MAX_PIECES, MAX_PRICE, ReadFault};
pub use sequence::{
    BarCut, BarSequence, Cut, CutKind, CutSequence, Edge, Freed, Offcut, Purpose, Setting, Stop,
    bar_sequences, cut_sequence, cut_sequences,
};
pub use sheet_job::{Axis, MAX_STAGES, Member, Part, SheetJob, SheetKind};
pub use sheet_layout::{Becomes, Claims, MemberPlacement, Piece, Placement, Sheet, SheetLayout, Unplaced};
pub use sheets::{SheetSearch, solve_sheets};
pub use verify_lengths::{LengthFault, verify_lengths};
pub use verify_sheets::{SheetFault, verify_sheets};
