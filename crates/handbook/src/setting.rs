//! What tile is set in and grouted with.

use std::sync::LazyLock;

use dryfit_measure::{Area, Density, Mass, Stated};
use serde::Deserialize;

use crate::Source;

/// A notched trowel: what a bag covers with it, and the tiles it is for.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrowelRow {
    /// Width of its notches.
    pub notch: Stated,
    /// Depth of them.
    pub deep: Stated,
    /// Least and most that a bag covers, square feet.
    covers: [f64; 2],
    /// For tiles whose longest side is shorter than this.
    pub tile_to: Stated,
    /// Whether the backs are spread too.
    pub back_butter: bool,
}

impl TrowelRow {
    /// The least that a bag covers: what is bought must be enough.
    pub fn covers(&self) -> Area {
        Area::from_square_metres_f64(self.covers[0] * 0.092_903_04)
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct GroutRow {
    sanded_pounds: f64,
    unsanded_pounds: f64,
    waste: f64,
    source: Source,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    bag_pounds: f64,
    mortar_source: Source,
    back_butter: f64,
    trowel: Vec<TrowelRow>,
    grout: GroutRow,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/setting.toml")).expect("our own table reads; a test proves it")
});

/// Trowels, from that for the smallest tile up.
pub fn trowels() -> &'static [TrowelRow] {
    &TABLE.trowel
}

/// The bag that coverage is told of.
pub fn mortar_bag() -> Mass {
    Mass::from_pounds(TABLE.bag_pounds)
}

/// Where coverage comes from.
pub fn mortar_source() -> &'static Source {
    &TABLE.mortar_source
}

/// What a skim on the backs adds, as a share.
pub fn back_butter_share() -> f64 {
    TABLE.back_butter
}

/// What grout weighs in its joint.
pub fn grout_density(sanded: bool) -> Density {
    let row = &TABLE.grout;
    Density::from_pounds_per_cubic_foot(if sanded { row.sanded_pounds } else { row.unsanded_pounds })
}

/// What is lost of grout, as a share.
pub fn grout_waste() -> f64 {
    TABLE.grout.waste
}

/// Where grout's figures come from.
pub fn grout_source() -> &'static Source {
    &TABLE.grout.source
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn trowels_go_from_small_tiles_to_large_and_cover_less_and_less() {
        for pair in trowels().windows(2) {
            assert!(pair[0].tile_to.length < pair[1].tile_to.length);
            assert!(pair[0].covers() > pair[1].covers());
        }
        // trade coverage articles: 85 to 100, 60 to 80, 40 to 50 sq ft a bag of 50 lb
        let least: Vec<f64> = trowels().iter().map(|row| row.covers().as_square_feet_f64().round()).collect();
        assert_eq!(least, [85.0, 60.0, 40.0]);
    }

    #[test]
    fn sand_makes_grout_heavier() {
        assert!(grout_density(true) > grout_density(false));
    }
}
