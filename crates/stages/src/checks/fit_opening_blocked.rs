//! `fit/opening-blocked`: nothing stands before a door or a window.
//!
//! What it checks: units along the wall of an opening, and units that end against that wall in a corner, against
//! the opening with its casing, along the wall and up. Touching the casing is legal.
//!
//! Why it matters: a casing that has to be cut back shows for good; a door that is stood before is none.
//!
//! Source: common practice.
//!
//! Example: a window from 46 to 90 in along with casings of 2 1/4 in keeps 43 3/4 to 92 1/4 in clear, from
//! 41 3/4 in up where its sill is at 44.
//!
//! Severity: *stop* before a door or a plain opening, *look* before a window.
//!
//! Remedy: a unit that ends under the window; a gap in its place.

use dryfit_measure::{Dim, Key, Length, Pointer, Toward};
use dryfit_plan::{Draft, End, Hand, Height, Opening, UnitKind};

use super::Checked;
use super::found::{found, unit_at};
use crate::finding::{Finding, Fix, Severity};
use crate::placement::{Beside, PlacedUnit};

/// Units before doors and windows.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let openings: Vec<Frame<'_>> =
        checked.plan.openings.iter().map(|(key, opening)| Frame::of(checked, key, opening)).collect();
    let units = checked.placement.units.iter().filter(|unit| unit.kind != UnitKind::Gap);
    units.flat_map(|unit| openings.iter().filter_map(move |frame| blocked(checked, unit, frame))).collect()
}

/// An opening with its casing, on its wall.
struct Frame<'a> {
    key: &'a Key,
    opening: &'a Opening,
    along: [Dim; 2],
    up: [Dim; 2],
}

impl<'a> Frame<'a> {
    fn of(checked: &Checked<'_>, key: &'a Key, opening: &'a Opening) -> Frame<'a> {
        let at = Pointer::root().child("openings").child(key.as_str());
        let taped = |name: &str, length: Length| {
            Dim::taped(length, at.child(name)).named(name.to_owned()).placed(opening.name.as_str())
        };
        let casing = opening.casing.map(|casing| taped("casing", casing.length)).unwrap_or_default();
        let left = taped("along", opening.along.length);
        let right = &left + taped("width", opening.width.length);
        // its heights count from the finished floor before it
        let middle = opening.along.length + opening.width.length.halves().0;
        let floor = checked
            .survey
            .point_on_wall(&opening.wall, middle, Length::ZERO, Length::ZERO)
            .and_then(|at| checked.survey.levels.floor_at(at))
            .unwrap_or_default();
        let head = &floor + taped("head", opening.head.length) + &casing;
        let sill = opening.sill.map(|sill| &floor + taped("sill", sill.length) - &casing);
        Frame { key, opening, along: [left - &casing, right + &casing], up: [sill.unwrap_or(floor), head] }
    }
}

/// The stretch of an opening's wall that a unit stands before; none where it stands elsewhere.
fn stretch(checked: &Checked<'_>, unit: &PlacedUnit, wall: &Key) -> Option<[Dim; 2]> {
    if unit.wall == *wall {
        return Some([unit.along.clone(), unit.right()]);
    }
    let ends = |side: usize| unit.beside[side] == Beside::Wall(wall.clone());
    // the corner at this wall's left is at the other's right
    let hand = if ends(0) && checked.survey.beside(&unit.wall, Hand::Left) == Some(wall) {
        Hand::Left
    } else if ends(1) && checked.survey.beside(&unit.wall, Hand::Right) == Some(wall) {
        Hand::Right
    } else {
        return None;
    };
    let out = unit.frame_plane();
    match hand {
        Hand::Left => {
            let length = checked.survey.wall_length(wall)?;
            Some([&length - out, length])
        }
        Hand::Right => Some([Dim::zero(), out]),
    }
}

fn blocked(checked: &Checked<'_>, unit: &PlacedUnit, frame: &Frame<'_>) -> Option<Finding> {
    let along = stretch(checked, unit, &frame.opening.wall)?;
    let up = [unit.up.clone(), unit.top()];
    let over = |a: &[Dim; 2], b: &[Dim; 2]| Dim::least([&a[1] - &b[0], &b[1] - &a[0]]);
    let (across, high) = (over(&along, &frame.along), over(&up, &frame.up));
    if !across.length().is_positive() || !high.length().is_positive() {
        return None;
    }
    let casing = frame.opening.casing.map_or(Length::ZERO, |casing| casing.length);
    let on_casing = across.length() <= casing || high.length() <= casing;
    let name = &frame.opening.name;
    let before = if on_casing { format!("the casing of the {name}") } else { format!("the {name}") };
    let window = frame.opening.sill.is_some();
    let (severity, what) = if window {
        let what = format!(
            "`{}` stands before {before}: its top is at {}, and the {name} begins at {}",
            unit.key,
            checked.needed(&up[1]),
            checked.available(&frame.up[0])
        );
        (Severity::Look, what)
    } else {
        let what = format!("`{}` stands {} before {before}", unit.key, checked.needed(&across));
        (Severity::Stop, what)
    };
    let subjects = vec![unit.key.clone(), frame.key.clone()];
    let at = unit_at(&unit.key).child(if window { "height" } else { "width" });
    let mut finding = found("fit/opening-blocked", severity, subjects, at, what);
    finding.fixes = remedies(checked, unit, frame);
    let [begin, end] = along;
    let place = unit.key.as_str();
    finding.because = if window {
        let [sill, _] = &frame.up;
        vec![up[1].clone().placed(place), sill.clone().named("begins").placed(name.as_str())]
    } else {
        vec![begin.named("begins").placed(place), end.named("ends").placed(place)]
    };
    let least = if window && high.length() < across.length() { high } else { across };
    finding.short_by = Some(least.named("before it by").placed(place));
    Some(finding)
}

fn remedies(checked: &Checked<'_>, unit: &PlacedUnit, frame: &Frame<'_>) -> Vec<Fix> {
    let mut fixes = Vec::new();
    let under = checked.mark(frame.up[0].length() - unit.up.length(), Toward::Down);
    // less than half a unit is another unit
    if under.length * 2 >= unit.height.length() {
        let label = format!("make `{}` {under} high", unit.key);
        let at = unit_at(&unit.key).child("height");
        fixes.push(Fix::of(Draft::of(checked.plan).set(&at, Height::Given(under)).edit(label)));
    }
    if unit.wall == frame.opening.wall && !is_named(checked, &unit.key) {
        let at = unit_at(&unit.key);
        let mut draft = Draft::of(checked.plan).set(&at.child("kind"), UnitKind::Gap);
        for of_a_box in ["recipe", "holds", "height", "depth", "fronts", "shelves", "roles", "figures"] {
            draft = draft.remove(&at.child(of_a_box));
        }
        fixes.push(Fix::of(draft.edit(format!("leave the place of `{}` empty", unit.key))));
    }
    fixes
}

/// Whether heights or ends of runs hang on a unit.
fn is_named(checked: &Checked<'_>, key: &Key) -> bool {
    let clears = |height: &Option<Height>| matches!(height, Some(Height::Clears(unit)) if unit == key);
    let ends = |end: &End| matches!(end, End::Unit(unit) if unit == key);
    checked.plan.units.values().any(|unit| clears(&unit.height))
        || checked.plan.runs.values().any(|run| clears(&run.height) || ends(&run.left) || ends(&run.right))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use crate::finding::Severity;
    use dryfit_measure::{Length, Stated, Unit};
    use dryfit_plan::Plan;

    const RULE: &str = "fit/opening-blocked";

    #[test]
    fn nothing_stands_before_the_door_or_the_window_of_the_demo() {
        assert!(found(&demo(), RULE).is_empty());
    }

    /// The demo with its window's sill so many sixteenths of an inch up, in a casing of 2 1/4 in.
    fn sill(sixteenths: i64) -> Plan {
        let sill = Stated { length: Length::sixty_fourths(sixteenths * 4), unit: Unit::Inch };
        with(&demo(), "/openings/window/sill", sill)
    }

    #[test]
    fn boxes_may_touch_the_casing_and_a_mark_higher_they_stand_before_it() {
        // boxes of 35 1/4, a casing of 2 1/4, and the floor 1/8 or 1/16 lower at the reading nearest to the window
        let limit = (36 * 16..40 * 16).find(|sixteenths| found(&sill(*sixteenths), RULE).is_empty());
        let limit = limit.expect("40 in is high enough");
        assert!((37 * 16 + 9..=37 * 16 + 10).contains(&limit), "{limit}");
        let plan = sill(limit - 1);
        let findings = found(&plan, RULE);
        assert!(findings.iter().any(|finding| finding.subjects[0].as_str() == "b4"));
        for finding in &findings {
            assert_eq!(finding.severity, Severity::Look);
            every_remedy_clears(&plan, finding);
        }
    }

    #[test]
    fn what_stands_before_a_door_is_a_stop() {
        let doored = |along: &str| {
            let plan = with(&demo(), "/openings/door/wall", "AB");
            with(&plan, "/openings/door/along", along)
        };
        // 32 in wide and 2 1/4 in of casing; the run begins 24 in from that corner with its panel
        let findings = found(&doored("0 in"), RULE);
        let told: Vec<&str> = findings.iter().map(|finding| finding.subjects[0].as_str()).collect();
        assert_eq!(told, ["b1", "e1"]);
        assert!(findings.iter().all(|finding| finding.severity == Severity::Stop));
        let plan = with(&doored("0 in"), "/openings/door/width", "21 3/4 in");
        assert!(found(&plan, RULE).is_empty(), "the casing touches the panel");
        let plan = with(&doored("0 in"), "/openings/door/width", "21 13/16 in");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].what, "`e1` stands 1/16 in before the casing of the door");
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn what_ends_against_the_wall_of_a_door_stands_before_it_too() {
        // the house wall's run ends at the door wall's left corner and is 24 in deep there
        let near = |along: &str| with(&demo(), "/openings/door/along", along);
        let told = |plan: &Plan| {
            let findings = found(plan, RULE);
            findings.iter().map(|finding| finding.subjects[0].to_string()).collect::<Vec<_>>()
        };
        assert_eq!(told(&near("26 3/16 in")), ["f3"]);
        assert!(told(&near("26 1/4 in")).is_empty(), "the casing touches its face");
    }
}
