//! Views: one function a picture.

mod exploded;
mod leaf;
mod part;

pub use exploded::exploded;
pub use leaf::{joint, leaf};
pub use part::part;
