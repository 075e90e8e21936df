//! Solid wood moves: how much a panel still swells or shrinks across its grain.

use dryfit_measure::Dim;

use super::part::Stock;

/// What a solid panel may still swell in a clear width: width x coefficient x change of moisture content (Wood
/// Handbook, chapter 13, valid between 6 and 14 %). Nothing for plywood. For boards the tangential coefficient,
/// the greater one, since a flat-sawn board cannot be ruled out.
pub(super) fn movement(stock: &Stock, clear: &Dim) -> Option<Dim> {
    stock.board_width.as_ref()?;
    let species = stock.species.as_deref()?;
    let coefficient = dryfit_handbook::movement(species)?.tangential;
    let change = dryfit_handbook::moisture_change();
    let why = format!("{species} across the grain, {change} % of moisture");
    Some(clear.scaled(change_by_coefficient(1.0, coefficient, change), why).named("panel movement"))
}

/// Change of a dimension by its dimensional-change coefficient (per percent) and change of moisture content in
/// percent, from the dimension at the beginning (Wood Handbook, chapter 13; 6 to 14 %).
fn change_by_coefficient(dimension: f64, coefficient: f64, change: f64) -> f64 {
    dimension * coefficient * change
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_wood_handbooks_worked_examples() {
        // B-dcc-wf: white fir, flat-sawn, 232 mm, 8 to 11 % (Wood Handbook, chapter 13; from memory, the
        // coefficient confirmed by Table 4-3)
        assert!((change_by_coefficient(232.0, 0.00245, 3.0) - 1.7052).abs() < 1e-4);
        // B-dcc-alder8: 8 in of flat-sawn red alder over 6 % (a woodworking magazine's chart example)
        assert!((change_by_coefficient(8.0, 0.0026, 6.0) - 0.1248).abs() < 1e-9);
    }
}
