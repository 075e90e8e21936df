//! What remedies share: making a unit wider without making its run too wide.

use dryfit_measure::{Key, Length, Stated, Toward};
use dryfit_plan::{Draft, End, Width};

use super::Checked;
use super::found::unit_at;
use crate::figures::Figures;
use crate::finding::Fix;
use crate::placement::PlacedUnit;

impl Checked<'_> {
    /// A length that is at least so much, on the builder's marks.
    pub(super) fn mark(&self, length: Length, toward: Toward) -> Stated {
        let fineness = self.plan.fineness;
        Stated::new(length.round_to(fineness, toward), fineness.unit())
    }

    /// A length to its own exact mark where inches or millimetres write it, else to the builder's marks.
    pub(super) fn exact(&self, length: Length, toward: Toward) -> Stated {
        let stated = Stated::new(length, self.plan.fineness.unit());
        let written = stated.to_string().parse::<Stated>();
        if written.is_ok_and(|written| written == stated) { stated } else { self.mark(length, toward) }
    }

    /// Ways to state a unit's width anew, `width` being how wide it then is: alone where the rest of its run can
    /// give way, else together with the widest of its neighbours, which is made as much narrower.
    pub(super) fn widen(&self, unit: &PlacedUnit, to: Width, width: Length, kept: &[Key]) -> Vec<Fix> {
        let by = width - unit.width.length();
        let at = unit_at(&unit.key).child("width");
        let wide = match to {
            Width::ClearsCorner => format!("let `{}` be as wide as clears the corner", unit.key),
            Width::Scribe => format!("let `{}` be a scribe", unit.key),
            _ => format!("make `{}` {} wide", unit.key, self.mark(width, Toward::Up)),
        };
        let run = self.plan.runs.get(&unit.run);
        let grows = run.is_some_and(|run| run.right == End::Open && run.left != End::Open);
        let lacking = if grows { Length::ZERO } else { by - self.gives_way(unit) };
        if !lacking.is_positive() {
            return vec![Fix::of(Draft::of(self.plan).set(&at, to).edit(wide))];
        }
        let mut others: Vec<&PlacedUnit> = self
            .placement
            .units_of(&unit.run)
            .filter(|other| other.key != unit.key && !kept.contains(&other.key) && other.kind.is_box())
            .filter(|other| matches!(self.plan.units[&other.key].width, Width::Given(_)))
            .collect();
        others.sort_by_key(|other| std::cmp::Reverse(other.width.length()));
        let narrower = |other: &PlacedUnit| {
            let left = self.mark(other.width.length() - by, Toward::Down);
            // less than half a unit is another unit
            (left.length * 2 >= other.width.length()).then(|| {
                let label = format!("{wide}, and `{}` only {left}", other.key);
                let both = Draft::of(self.plan).set(&at, to);
                let both = both.set(&unit_at(&other.key).child("width"), Width::Given(left));
                Fix::of(both.edit(label))
            })
        };
        others.into_iter().filter_map(narrower).take(2).collect()
    }

    /// How much the rest of a unit's run can give way to it; of a share no more than half.
    fn gives_way(&self, unit: &PlacedUnit) -> Length {
        let give = |other: &PlacedUnit| match &self.plan.units[&other.key].width {
            Width::LeftOver => other.width.length().halves().1,
            Width::Within { least, .. } => other.width.length() - least.length,
            Width::Scribe => {
                let least = Figures::of_unit(self.plan, &other.key).dim("wall-scribe-least");
                other.width.length() - least.length()
            }
            Width::Given(_) | Width::ClearsCorner => Length::ZERO,
        };
        let others = self.placement.units_of(&unit.run).filter(|other| other.key != unit.key);
        let given: Length = others.map(|other| give(other).max(Length::ZERO)).sum();
        let spare = self.placement.run(&unit.run).map_or(Length::ZERO, |run| run.spare.length());
        given + spare
    }
}
