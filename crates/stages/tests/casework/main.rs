//! Casework against hand-worked parts, published values, and plans at random.

mod golden;
mod made;
