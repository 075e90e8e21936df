//! Views: one function a picture.

mod all;
mod costs;
mod exploded;
mod field;
mod floor;
mod isometric;
mod leaf;
mod key;
mod label;
mod numbers;
mod order;
mod part;
mod rough_in;
mod scale;
pub mod screen;
mod sheet;
mod wall;
mod worktop;

pub use all::{PAGE, Picture, all};
pub use costs::costs;
pub use exploded::exploded;
pub use field::field;
pub use floor::{floor, measured};
pub use isometric::{isometric, together};
pub use leaf::{joint, leaf};
pub use numbers::Numbered;
pub use order::order;
pub use part::part;
pub use rough_in::rough_in;
pub use sheet::{board, sheet};
pub use wall::wall;
pub use worktop::worktop;
