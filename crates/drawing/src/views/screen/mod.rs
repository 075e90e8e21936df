//! Views for a screen, where the drawing is the form: each number stands for a dimension or a place in the plan and
//! can be pressed. What a number stands for is its mark's `about`: `b4.width` (see `stages::dims`), or a place such
//! as `/readings/r4/length`. Sizes in points are pixels here.

mod chain;
mod room;
mod wall;

pub use room::{layout_room, ring_scale, survey_room};
pub use wall::layout_wall;
