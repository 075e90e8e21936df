//! How much solid wood moves across its grain.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use crate::Source;

/// Change of a board's dimension, as a part of it, per percent of moisture content (valid from 6 to 14 %).
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Movement {
    /// From the heart outwards: the width of quarter-sawn boards.
    pub radial: f64,
    /// Along the growth rings: the width of flat-sawn boards.
    pub tangential: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    source: Source,
    moisture_change: f64,
    species: BTreeMap<String, Movement>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/wood.toml")).expect("our own table reads; a test proves it")
});

/// How a species moves; `None` when the handbook does not know it.
pub fn movement(species: &str) -> Option<Movement> {
    TABLE.species.get(species).copied()
}

/// The names of all species that the handbook knows.
pub fn species() -> impl Iterator<Item = &'static str> {
    TABLE.species.keys().map(String::as_str)
}

/// The change of moisture content that panels are given room for, in percent.
pub fn moisture_change() -> f64 {
    TABLE.moisture_change
}

/// Where the coefficients come from.
pub fn movement_source() -> &'static Source {
    &TABLE.source
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Shrinkage from green to oven-dry in percent, radial and tangential: FPL-GTR-190, Table 4-3.
    const SHRINKAGE: [(&str, f64, f64); 11] = [
        ("red alder", 4.4, 7.3),
        ("ash, white", 4.9, 7.8),
        ("beech, American", 5.5, 11.9),
        ("cherry, black", 3.7, 7.1),
        ("walnut, black", 5.5, 7.8),
        ("yellow-poplar", 4.6, 8.2),
        ("Douglas-fir, coast", 4.8, 7.6),
        ("white fir", 3.3, 7.0),
        ("western redcedar", 2.4, 5.0),
        ("aspen, quaking", 3.5, 6.7),
        ("basswood", 6.6, 9.3),
    ];

    #[test]
    fn coefficients_follow_from_shrinkage() {
        // B-shr-*: C = S / (3000 - 20 S) regenerates Table 13-5 from Table 4-3 to 1e-5
        for (name, radial, tangential) in SHRINKAGE {
            let known = movement(name).expect(name);
            for (coefficient, shrinkage) in [(known.radial, radial), (known.tangential, tangential)] {
                let regenerated = shrinkage / (3000.0 - 20.0 * shrinkage);
                assert!((coefficient - regenerated).abs() < 1.01e-5, "{name}: {coefficient} {regenerated}");
            }
        }
    }

    #[test]
    fn table_13_5_is_carried_over() {
        // B-dcc-*: FPL-GTR-190, Table 13-5
        let table = [
            ("birch, paper", 0.00219, 0.00304),
            ("birch, yellow", 0.00256, 0.00338),
            ("elm, American", 0.00144, 0.00338),
            ("hickory, pecan", 0.00169, 0.00315),
            ("maple, red", 0.00137, 0.00289),
            ("maple, silver", 0.00102, 0.00252),
            ("maple, sugar", 0.00165, 0.00353),
            ("red oak, commercial", 0.00158, 0.00369),
            ("white oak, commercial", 0.0018, 0.00365),
            ("sweetgum", 0.00183, 0.00365),
            ("sycamore", 0.00172, 0.00296),
            ("butternut", 0.00116, 0.00223),
            ("cherry, black", 0.00126, 0.00248),
            ("walnut, black", 0.0019, 0.00274),
            ("beech, American", 0.0019, 0.00431),
        ];
        for (name, radial, tangential) in table {
            let known = movement(name).expect(name);
            assert!((known.radial - radial).abs() < 5e-9, "{name}");
            assert!((known.tangential - tangential).abs() < 5e-9, "{name}");
        }
        assert!(matches!(movement_source(), Source::Standard { .. }));
        assert_eq!(species().count(), 23);
        assert!(movement("plywood").is_none());
    }
}
