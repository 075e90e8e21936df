//! The studs behind a unit, as far as the plan knows them.

use std::ops::Range;

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::Plan;

use super::PlacedUnit;
use crate::figures::Figures;

/// The studs of one wall.
pub(crate) struct Studs {
    first: Dim,
    apart: Dim,
}

impl Studs {
    /// The studs of a wall; none where they are not stated, or no distance apart.
    pub fn of(plan: &Plan, wall: &Key) -> Option<Studs> {
        let framing = plan.walls.get(wall)?.framing.as_ref()?;
        let at = Pointer::root().child("walls").child(wall.as_str()).child("framing");
        let taped = |length: Length, name: &str, what: &'static str| {
            Dim::taped(length, at.child(name)).named(what).placed(wall.as_str())
        };
        framing.studs.length.is_positive().then(|| Studs {
            first: taped(framing.first.length, "first", "first stud"),
            apart: taped(framing.studs.length, "studs", "studs apart"),
        })
    }

    /// The numbers of those between the first and the last screw of a unit. Stud 0 is the first that is stated;
    /// there is none to its left but in the corner.
    pub fn behind(&self, screws: &[Dim; 2]) -> Range<i64> {
        let [from, to] = screws.each_ref().map(|screw| screw.length() - self.first.length());
        if to < from || to.is_negative() {
            return 0..0;
        }
        let apart = self.apart.length();
        let (first, last) = (from.needs(apart), to.fits(apart));
        first..(last + 1).max(first)
    }

    /// The number of the first one beyond a place along the wall.
    pub fn next_after(&self, along: Length) -> i64 {
        let from = along - self.first.length();
        if from.is_negative() { 0 } else { from.fits(self.apart.length()) + 1 }
    }

    /// The centre of one, along the wall.
    pub fn centre(&self, number: i64) -> Dim {
        (&self.first + &self.apart * number).named("centre of the stud")
    }
}

/// Where along the wall the first and the last screw in a unit can be.
pub(crate) fn reach(plan: &Plan, unit: &PlacedUnit) -> [Dim; 2] {
    let edge = Figures::of_unit(plan, &unit.key).dim("stud-screw-edge");
    let named = |dim: Dim, name: &'static str| dim.named(name).placed(unit.key.as_str());
    [named(&unit.along + &edge, "first screw"), named(unit.right() - &edge, "last screw")]
}
