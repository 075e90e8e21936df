//! What is shown of a job: texts and numbers ready to be set, drawings as shapes ready to be drawn.
//!
//! Whoever shows it computes no size and formats none. Every type here goes over the wire as JSON; the page's
//! TypeScript types are made from them, which a test holds fresh.

mod change;
mod dry_fit;
mod finding;
mod frame;
mod layout;
mod leaf;
mod names;
mod number;
mod past;
mod picture;
mod receipt;
mod slip;
mod start;
mod survey;
mod typed;
mod wish;

#[cfg(test)]
mod fresh;

pub use change::{Changed, Moved, note};
pub use dry_fit::{DryFitPage, dry_fit};
pub use finding::{Card, Repair};
pub use frame::{Frame, PageMark, Sum, frame};
pub use layout::{Bare, LayoutPage, Offer, View, layout};
pub use leaf::{Block, Leaf, LeafPage, Row, Table, leaf_page};
pub use number::{Held, HeldState, Number, Run, rich};
pub use past::{HistoryPage, PastRow, history, when};
pub use picture::{Picture, PictureRow, Shape};
pub use receipt::{ReceiptLineWish, ReceiptWish};
pub use slip::{Slip, SlipLine, slip};
pub use start::{DemoCard, Recent, Start, demos};
pub use survey::{ReadingRow, SurveyPage, Walk, survey};
pub use typed::{Echo, TypedFault, echo, given};
pub use wish::{Done, PlaceWish, Preview, ReadingWish, Wish, WishFault, edit_of};

/// The drawing room on a page, in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Left to right.
    pub width: f64,
    /// Top to bottom.
    pub height: f64,
}

impl Room {
    /// The paper of a small picture, as it is.
    fn frame_small(self) -> dryfit_drawing::Frame {
        dryfit_drawing::Frame { width: self.width, height: self.height }
    }

    fn frame(self) -> dryfit_drawing::Frame {
        dryfit_drawing::Frame {
            width: self.width.clamp(280.0, 2400.0),
            height: self.height.clamp(200.0, 2400.0),
        }
    }
}
