//! Drawings: a paper model in real-world units, a solid model, views of the stages, and the writers.
//!
//! Views know the stages; writers know only the models. Nothing here computes a size: it draws what the stages
//! say, and every number it prints comes from a [`dryfit_measure::Figure`].

pub mod paper;
mod hatch;
mod spread;
mod sketch;
pub mod views;
mod svg;

pub use paper::*;
pub use sketch::{Frame, Margins, RowMark, Sketch};
pub use svg::svg;
