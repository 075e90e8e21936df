//! Casework against hand-worked parts, published values, and plans at random.

mod findings;
mod golden;
mod honest;
mod made;
mod published;
mod steps;
mod wild;
