//! Mass: volume times the density of the good, without what joints cut away.

use std::collections::BTreeSet;

use dryfit_measure::{Density, Length, Mass, Volume};
use dryfit_plan::{Form, Plan};

use super::{Part, Solid};

/// The mass of a part as cut; nothing where its good is unknown.
pub(super) fn of_part(plan: &Plan, part: &Part) -> Mass {
    let density = match plan.goods.get(&part.good).map(|good| &good.form) {
        Some(Form::Sheet(sheet)) => sheet.density,
        Some(Form::Board(board)) => board.density,
        _ => return Mass::ZERO,
    };
    volume(&part.solid) * Density::from_kilograms_per_cubic_metre(f64::from(density))
}

/// What is left of a solid: cells of the grid that all its faces make, counted once each.
pub(super) fn volume(solid: &Solid) -> Volume {
    let marks = [0, 1, 2].map(|axis| {
        let cuts = solid.cut.iter().flat_map(|cut| [cut[0][axis], cut[1][axis]]);
        let inside = cuts.filter(|at| *at > solid.min[axis] && *at < solid.max[axis]);
        let all: BTreeSet<Length> = inside.chain([solid.min[axis], solid.max[axis]]).collect();
        all.into_iter().collect::<Vec<Length>>()
    });
    let mut sum = Volume::ZERO;
    for x in marks[0].windows(2) {
        for y in marks[1].windows(2) {
            for z in marks[2].windows(2) {
                let (low, high) = ([x[0], y[0], z[0]], [x[1], y[1], z[1]]);
                let gone = solid
                    .cut
                    .iter()
                    .any(|cut| (0..3).all(|axis| cut[0][axis] <= low[axis] && high[axis] <= cut[1][axis]));
                if !gone {
                    sum += (x[1] - x[0]) * (y[1] - y[0]) * (z[1] - z[0]);
                }
            }
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cuts_that_cross_are_taken_away_once() {
        let mm = Length::mm;
        let solid = Solid {
            min: [Length::ZERO; 3],
            max: [mm(100), mm(100), mm(10)],
            axes: [0, 1, 2],
            forward: [true; 3],
            cut: vec![
                [[mm(0), mm(40), mm(5)], [mm(100), mm(50), mm(10)]],
                [[mm(40), mm(0), mm(5)], [mm(50), mm(100), mm(10)]],
            ],
        };
        // 100 x 100 x 10 less two grooves of 100 x 10 x 5, their crossing of 10 x 10 x 5 once
        let left = 100_000 - 2 * 5_000 + 500;
        assert_eq!(volume(&solid), Volume::from_nm3(i128::from(left) * 1_000_000_000_000_000_000));
    }

    #[test]
    fn a_full_sheet_weighs_its_volume_by_its_density() {
        // B-panel-wt: 4 x 8 ft x 3/4 in at 45 lb/ft3 weigh 90 lb (density x volume)
        let solid = Solid {
            min: [Length::ZERO; 3],
            max: [Length::feet(8), Length::feet(4), Length::inches(0, 3, 4)],
            axes: [0, 1, 2],
            forward: [true; 3],
            cut: Vec::new(),
        };
        let mass = volume(&solid) * Density::from_pounds_per_cubic_foot(45.0);
        assert!((mass.as_pounds_f64() - 90.0).abs() < 1e-3);
    }
}
