//! Views: one function a picture.

mod exploded;
mod floor;
mod leaf;
mod key;
mod label;
mod part;
mod scale;
mod sheet;
mod wall;

pub use exploded::exploded;
pub use floor::{floor, measured};
pub use leaf::{joint, leaf};
pub use part::part;
pub use sheet::{board, sheet};
pub use wall::wall;
