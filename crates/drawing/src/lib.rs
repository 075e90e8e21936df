//! Drawings: a paper model in real-world units, a solid model, views of the stages, and the writers.
//!
//! Views know the stages; writers know only the models. Nothing here computes a size: it draws what the stages
//! say, and every number it prints comes from a [`dryfit_measure::Figure`].

pub mod paper;
pub mod solid;
mod hidden;
mod metrics;
mod patch;
mod hatch;
mod spread;
mod sketch;
mod rows;
mod tape;
pub mod views;
mod svg;
mod covered;
mod dxf;
mod gltf;

pub use dxf::dxf;
pub use gltf::glb;
pub use metrics::{figure_width, text_width, words_height, words_width};
pub use paper::*;
pub use patch::{Patch, patch, patches};
pub use rows::{RowMark, Side, row_room};
pub use sketch::{Frame, Margins, Sketch};
pub use svg::svg;
