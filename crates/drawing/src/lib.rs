//! Drawings: a paper model in real-world units, a solid model, views of the stages, and the writers.
//!
//! Views know the stages; writers know only the models. Nothing here computes a size: it draws what the stages
//! say, and every number it prints comes from a [`dryfit_measure::Figure`].

pub mod paper;
pub mod views;

pub use paper::*;
