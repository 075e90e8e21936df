//! Views: one function a picture.

mod exploded;
mod leaf;
mod label;
mod part;
mod sheet;

pub use exploded::exploded;
pub use leaf::{joint, leaf};
pub use part::part;
pub use sheet::sheet;
