//! The printed packet: the data of each page and the template that sets it in type.
//!
//! [`pages`] fills the pages from the stages and needs no typesetting; [`packet`] sets them and gives a PDF. The
//! template is a small program in the typesetting language (`template/`), which anyone can restyle: it knows
//! the data of [`PacketData`] and nothing else. Equal input gives equal bytes; no clock is read.

mod data;
mod pages;
mod paper;
mod template;
mod words;

pub use data::{Blank, Body, GateNote, PacketData, Page};
pub use pages::*;
pub use paper::Paper;
pub use template::{PacketFault, Printed, print};
pub use words::{Span, Words};
