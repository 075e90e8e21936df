//! `safety/wall-hung`: what hangs on a wall is screwed into two studs.
//!
//! What it checks: how many studs of its wall the screws of each wall unit and floating shelf reach, those no
//! nearer to its edges than the figure `stud-screw-edge`. Of a wall whose studs are not stated nothing can be
//! said, and that is said.
//!
//! Why it matters: a cabinet that a test loads with 600 lb hangs from its screws alone. Board holds nothing;
//! one stud lets it turn.
//!
//! Source: common practice, no source: two studs, two screws each; the load is that of ANSI/KCMA A161.1.
//!
//! Example: with studs 16 in apart from 15 1/4 in, a unit of 24 in from 1 in on reaches only the first.
//!
//! Severity: *stop* where no stud is reached, else *look*.
//!
//! Remedy: a unit wide enough to reach the next stud. Blocking between the studs does it too, while the wall is
//! open; mind wires and pipes, which are fastened to studs.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Length, Pointer, Toward};
use dryfit_plan::{End, Width};

use super::Checked;
use super::found::{found, unit_at};
use crate::finding::{Finding, Fix, Severity};
use crate::placement::{PlacedUnit, Studs, reach};

const RULE: &str = "safety/wall-hung";

/// Units that hang from fewer than two studs.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let hangs = |unit: &&PlacedUnit| unit.kind.hangs();
    checked.screwed(RULE, 2, "should hang from", hangs)
}

impl Checked<'_> {
    /// Units of some sort whose screws reach fewer studs than `least`, and walls of which no studs are stated.
    pub(super) fn screwed(
        &self,
        rule: &'static str,
        least: i64,
        should: &str,
        of_sort: impl Fn(&&PlacedUnit) -> bool,
    ) -> Vec<Finding> {
        let mut findings = Vec::new();
        let mut blind: BTreeMap<&Key, Vec<&PlacedUnit>> = BTreeMap::new();
        for unit in self.placement.units.iter().filter(of_sort) {
            match Studs::of(self.plan, &unit.wall) {
                Some(studs) => findings.extend(self.loose(rule, (least, should), unit, &studs)),
                None => blind.entry(&unit.wall).or_default().push(unit),
            }
        }
        findings.extend(blind.into_iter().map(|(wall, units)| not_stated(rule, wall, &units)));
        findings
    }

    fn loose(
        &self,
        rule: &'static str,
        (least, should): (i64, &str),
        unit: &PlacedUnit,
        studs: &Studs,
    ) -> Option<Finding> {
        let screws = reach(self.plan, unit);
        let behind = studs.behind(&screws);
        let count = behind.end - behind.start;
        if count >= least {
            return None;
        }
        let reached = match count {
            0 => "no stud".to_owned(),
            1 => "1 stud".to_owned(),
            more => format!("{more} studs"),
        };
        let [first, last] = &screws;
        let next = studs.next_after(last.length());
        let centre = studs.centre(next).named("next stud").placed(unit.wall.as_str());
        let what = format!(
            "`{}` reaches {reached} of `{}`, and {should} {least}: its screws end at {}, the next stud is at {}",
            unit.key,
            unit.wall,
            self.available(last),
            self.needed(&centre)
        );
        let hangs_free = count == 0 && !unit.kind.is_tall();
        let severity = if hangs_free { Severity::Stop } else { Severity::Look };
        let at = unit_at(&unit.key).child("width");
        let mut finding = found(rule, severity, vec![unit.key.clone()], at, what);
        let wanted = least - count;
        finding.fixes = match self.grows(unit) {
            [_, true] => self.wider_by(unit, studs.centre(next + wanted - 1).length() - last.length()),
            [true, _] => match studs.next_after(first.length() - Length::from_nm(1)) - wanted {
                stud if stud >= 0 => self.wider_by(unit, first.length() - studs.centre(stud).length()),
                _ => Vec::new(),
            },
            _ => Vec::new(),
        };
        finding.because = vec![centre, last.clone()];
        Some(finding)
    }

    /// Which of its edges moves when a unit is made wider, left and right: that on whose side its run gives way.
    fn grows(&self, unit: &PlacedUnit) -> [bool; 2] {
        let Some(run) = self.plan.runs.get(&unit.run) else { return [false; 2] };
        let width = |key: &Key| self.plan.units.get(key).map(|unit| unit.width);
        let Some(place) = run.order.iter().position(|key| *key == unit.key) else { return [false; 2] };
        if !matches!(width(&unit.key), Some(Width::Given(_))) || run.left == End::Open {
            return [false; 2];
        }
        if run.right == End::Open {
            return [false, true];
        }
        let gives = |keys: &[Key]| {
            keys.iter().any(|key| matches!(width(key), Some(Width::LeftOver | Width::Within { .. })))
        };
        match [gives(&run.order[..place]), gives(&run.order[place + 1..])] {
            // where both give, or neither, which way it grows follows from more than its order
            [true, true] => [false; 2],
            one => one,
        }
    }

    fn wider_by(&self, unit: &PlacedUnit, by: Length) -> Vec<Fix> {
        let width = self.mark(unit.width.length() + by, Toward::Up);
        // half as wide again is another unit
        if width.length * 2 > unit.width.length() * 3 {
            return Vec::new();
        }
        self.widen(unit, Width::Given(width), width.length, &[])
    }
}

fn not_stated(rule: &'static str, wall: &Key, units: &[&PlacedUnit]) -> Finding {
    let names: Vec<String> = units.iter().map(|unit| format!("`{}`", unit.key)).collect();
    let (names, verb) = match names.as_slice() {
        [most @ .., last] if !most.is_empty() => (format!("{} and {last}", most.join(", ")), "are screwed"),
        one => (one.concat(), "is screwed"),
    };
    let what = format!("{names} {verb} to studs of `{wall}`, and where those are is not stated");
    let at = Pointer::root().child("walls").child(wall.as_str()).child("framing");
    found(rule, Severity::Look, vec![wall.clone()], at, what)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, with};
    use crate::finding::Severity;
    use dryfit_measure::{Key, Length, Pointer, Stated, Unit};
    use dryfit_plan::{Draft, Plan};

    fn found(plan: &Plan) -> Vec<crate::finding::Finding> {
        super::super::trial::found(plan, super::RULE)
    }

    /// The demo with the first stud of its house wall so far from the corner.
    fn first(at: Length) -> Plan {
        with(&demo(), "/walls/CD/framing/first", Stated { length: at, unit: Unit::Inch })
    }

    #[test]
    fn a_stud_at_the_last_screw_counts_and_one_a_mark_further_does_not() {
        let right = derive(&demo()).placement.unit(&Key::literal("u1")).expect("placed").right().length();
        let last = right - Length::inches(1, 1, 2);
        let sixteen = Length::inches(16, 0, 1);
        let told = |plan: &Plan| found(plan).into_iter().find(|finding| finding.subjects[0].as_str() == "u1");
        assert!(told(&first(last - sixteen)).is_none());
        let plan = first(last - sixteen + Length::inches(0, 1, 16));
        let finding = told(&plan).expect("it is told");
        assert!(
            finding
                .what
                .starts_with("`u1` reaches 1 stud of `CD`, and should hang from 2: its screws end at "),
            "{}",
            finding.what
        );
        assert_eq!(finding.severity, Severity::Look);
        assert_eq!(finding.fixes.len(), 1);
        every_remedy_clears(&plan, &finding);
    }

    #[test]
    fn what_reaches_no_stud_must_not_be_hung() {
        let plan = with(&first(Length::inches(20, 0, 1)), "/walls/CD/framing/studs", "90 in");
        let plan = with(&plan, "/units/u1/width/given", "15 in");
        let findings = found(&plan);
        let finding =
            findings.iter().find(|finding| finding.subjects[0].as_str() == "u1").expect("it is told");
        assert_eq!(finding.severity, Severity::Stop);
        assert!(finding.fixes.is_empty(), "the second stud is seven feet away");
    }

    #[test]
    fn a_wall_with_unknown_studs_is_told_once() {
        let plan = demo();
        let at = Pointer::parse("/walls/CD/framing").expect("a pointer");
        let (plan, _) =
            plan.apply(&Draft::of(&plan).remove(&at).edit("not found yet")).expect("still a plan");
        let findings = found(&plan);
        assert_eq!(findings.len(), 1);
        assert_eq!(
            findings[0].what,
            "`s2`, `s1` and `u1` are screwed to studs of `CD`, and where those are is not stated"
        );
    }
}
