//! `safety/tall-anchored`: a tall unit is screwed to a stud, so that it cannot tip.
//!
//! What it checks: how many studs of its wall the screws of each tall unit reach; one is enough.
//!
//! Why it matters: whoever pulls at the top shelf of a tall cupboard that only stands pulls it over.
//!
//! Source: common practice, no source. 16 CFR 1261 and ASTM F2057-23 ask as much of free-standing clothing units
//! from 27 in high and 30 lb; what is fastened to the building is out of their scope.
//!
//! Example: with studs 24 in apart, a cupboard of 18 in between two of them reaches none.
//!
//! Severity: *look*.
//!
//! Remedy: a unit wide enough to reach the next stud. Blocking does it too, while the wall is open.

use super::Checked;
use crate::finding::Finding;

/// Tall units that reach no stud.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.screwed("safety/tall-anchored", 1, "has to be screwed to", |unit| unit.kind.is_tall())
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use dryfit_measure::{Key, Length, Stated, Unit};
    use dryfit_plan::Plan;

    const RULE: &str = "safety/tall-anchored";

    /// The demo with the only stud of its house wall there.
    fn only(at: Length) -> Plan {
        let stated = Stated { length: at, unit: Unit::Inch };
        let plan = with(&demo(), "/walls/CD/framing/first", stated);
        with(&plan, "/walls/CD/framing/studs", "120 in")
    }

    #[test]
    fn the_tall_cupboard_of_the_demo_reaches_a_stud() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn a_stud_at_its_first_or_last_screw_is_enough_and_one_a_mark_beyond_is_none() {
        let t1 = Key::literal("t1");
        let derived = derive(&demo());
        let unit = derived.placement.unit(&t1).expect("placed");
        let (edge, mark) = (Length::inches(1, 1, 2), Length::inches(0, 1, 16));
        let (first, last) = (unit.along.length() + edge, unit.right().length() - edge);
        assert!(found(&only(first), RULE).is_empty());
        assert!(found(&only(last), RULE).is_empty());
        for (beyond, fixes) in [(first - mark, 1), (last + mark, 0)] {
            let plan = only(beyond);
            let findings = found(&plan, RULE);
            assert_eq!(findings.len(), 1);
            assert!(
                findings[0].what.starts_with("`t1` reaches no stud of `CD`, and has to be screwed to 1: "),
                "{}",
                findings[0].what
            );
            // against the wall on its right it grows to the left alone
            assert_eq!(findings[0].fixes.len(), fixes);
            if fixes > 0 {
                every_remedy_clears(&plan, &findings[0]);
            }
        }
    }
}
