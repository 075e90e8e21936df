//! Patterns of pieces laid over polygons with holes: tiles with joints, planks in courses, the start that cuts them
//! best, and the pieces that come out of offcuts.
//!
//! Knows nothing of rooms, plans, goods or trades: whole nanometres in, whole nanometres out, areas exact. Knows no
//! clock and no files; equal input gives equal output. On fields whose sides run along x and y every size and area
//! is exact; where a side is slanted, a corner lies within a nanometre of where it should.

mod shape;
mod field;
mod pattern;
mod lay;
mod start;
mod offcuts;
mod courses;

pub use courses::{Course, Courses, Framing, Plank, PlankJob, Start, plank};
pub use field::{Field, Hole, Net, Side};
pub use lay::{Areas, Laid, Piece, lay};
pub use offcuts::{From, Reused, reuse};
pub use pattern::{Cell, MOST_CELLS, Pattern, Tiling};
pub use shape::{Point, Rect, Ring, Shape, area2, difference, intersection, union};
pub use start::{Best, Quality, Sight, Trial, search};
