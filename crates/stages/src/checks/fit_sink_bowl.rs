//! `fit/sink-bowl`: a sink's cut-out and bowl are clear of the box under them.
//!
//! What it checks: the cut-out between the sides of the unit's box, and between what stands at its back and at
//! its front; the bowl, down from the worktop's upper face, against shelves, drawers and stretchers.
//!
//! Why it matters: the cut-out is sawn with the worktop in place, when the side under it can no longer be moved.
//!
//! Source: geometry; the template and the bowl as they stand in the sink's record.
//!
//! Example: a cut-out of 24 1/4 in does not go between sides of 23/32 in in a unit of 24 in: they are 22 9/16
//! apart.
//!
//! Remedy: a wider unit; the cut-out further forward or back; no shelf or drawer under the bowl, or a sink unit.

use dryfit_measure::{Dim, Key, Pointer, Toward};
use dryfit_plan::{Draft, Form, Front, Role, Unit, UnitKind, Width};

use super::Checked;
use super::found::{found, unit_at};
use crate::casework::{BuiltUnit, Part};
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::placement::{Cutout, PlacedTop, PlacedUnit, role, thickness};

const RULE: &str = "fit/sink-bowl";

/// Sinks that hit the box under them.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.placement.tops.iter().flat_map(|top| of_top(checked, top)).collect()
}

fn of_top(checked: &Checked<'_>, top: &PlacedTop) -> Vec<Finding> {
    let mut findings = Vec::new();
    for cutout in top.legs.iter().flat_map(|leg| &leg.cutouts) {
        let Some(sink) = Sink::of(checked, top, cutout) else { continue };
        findings.extend(sink.between_the_sides());
        findings.extend(sink.front_to_back());
        findings.extend(sink.over_what_is_under());
    }
    findings
}

/// A sink in its unit.
struct Sink<'a> {
    checked: &'a Checked<'a>,
    top: &'a PlacedTop,
    cutout: &'a Cutout,
    unit: &'a PlacedUnit,
    stated: &'a Unit,
    built: &'a BuiltUnit,
    /// The good, and how far its bowl reaches down from the upper face.
    good: &'a Key,
    bowl: Dim,
}

impl<'a> Sink<'a> {
    fn of(checked: &'a Checked<'a>, top: &'a PlacedTop, cutout: &'a Cutout) -> Option<Sink<'a>> {
        let unit = checked.placement.unit(&cutout.unit)?;
        let stated = checked.plan.units.get(&cutout.unit)?;
        let built = checked.casework.units.iter().find(|built| built.key == cutout.unit)?;
        let (good, record) = checked.plan.goods.get_key_value(stated.holds.as_ref()?)?;
        let Form::Sink { bowl, .. } = &record.form else { return None };
        let at =
            Pointer::root().child("goods").child(good.as_str()).child("form").child("sink").child("bowl");
        let bowl = Dim::taped(bowl.length, at).named("bowl").placed(record.name.as_str());
        Some(Sink { checked, top, cutout, unit, stated, built, good, bowl })
    }

    fn between_the_sides(&self) -> Option<Finding> {
        let (unit, cutout) = (self.unit, self.cutout);
        let side = thickness(self.checked.plan, role(self.checked.plan, self.stated, Role::Box)?)?;
        let left = &cutout.left - (&unit.along + &unit.overhang[0] + &side);
        let right = (unit.right() - &unit.overhang[1] - &side) - (&cutout.left + &cutout.width);
        let short = -Dim::least([left, right]);
        if !short.length().is_positive() {
            return None;
        }
        let inside = (unit.box_width() - &side * 2).named("inside width").placed(unit.key.as_str());
        // it is centred in its unit, so that what lacks at one side is needed twice
        let needed = &inside + &short * 2;
        let what = format!(
            "the cut-out over `{}` needs its sides {} apart, and they are {}",
            unit.key,
            self.checked.needed(&needed),
            self.checked.available(&inside)
        );
        let at = unit_at(&unit.key).child("width");
        let mut finding = found(RULE, Severity::Stop, vec![unit.key.clone()], at, what);
        let width = self.checked.mark(unit.width.length() + short.length() * 2, Toward::Up);
        finding.fixes = self.checked.widen(unit, Width::Given(width), width.length, &[]);
        finding.because = vec![cutout.width.clone(), inside];
        finding.short_by = Some(short.named("into a side by").placed(unit.key.as_str()));
        Some(finding)
    }

    /// Parts of the box that the cut-out or the bowl under it takes in.
    fn hit(&self) -> impl Iterator<Item = &'a Part> {
        let front = self.unit.depth.length() - self.cutout.back.length() - self.cutout.depth.length();
        let back = front + self.cutout.depth.length();
        self.in_line().filter(move |part| part.solid.min[1] < back && part.solid.max[1] > front)
    }

    /// Parts of the box that it would take in somewhere on its way from the front to the back.
    fn in_line(&self) -> impl Iterator<Item = &'a Part> {
        let (unit, cutout) = (self.unit, self.cutout);
        let left = cutout.left.length() - unit.along.length() - self.built.overhang[0].length();
        let right = left + cutout.width.length();
        let low = self.lowest().length() - unit.up.length();
        self.built.parts.iter().filter(move |part| {
            let [min, max] = [part.solid.min, part.solid.max];
            min[0] < right && max[0] > left && min[2] < unit.height.length() && max[2] > low
        })
    }

    /// Whether the cut-out finds room anywhere between the back and the front of the box.
    fn goes_in(&self) -> bool {
        let back = self.in_line().filter(|part| is_behind(part)).map(|part| part.solid.min[1]).min();
        let front = self.in_line().filter(|part| self.is_before(part)).map(|part| part.solid.max[1]).max();
        let [back, front] = [back.unwrap_or(self.unit.depth.length()), front.unwrap_or_default()];
        self.cutout.depth.length() <= back - front
    }

    /// Where the bowl ends, up from the datum.
    fn lowest(&self) -> Dim {
        (&self.top.upper - &self.bowl).named("bottom of the bowl").placed(self.unit.key.as_str())
    }

    /// What the back and the front of the box leave, out from the wall.
    fn front_to_back(&self) -> Option<Finding> {
        let (unit, cutout) = (self.unit, self.cutout);
        let back = self.hit().filter(|part| is_behind(part)).min_by_key(|part| part.solid.min[1]);
        let front = self.hit().filter(|part| self.is_before(part)).max_by_key(|part| part.solid.max[1]);
        let (part, face, edge, short) = match (back, front) {
            (Some(part), _) => {
                let face = unit.depth.length() - part.solid.min[1];
                let face = Dim::worked(face, "thickness", [(part.thickness.clone(), 1.0)]);
                (part, face.clone(), &cutout.back, face - &cutout.back)
            }
            (None, Some(part)) => {
                let face = unit.depth.length() - part.solid.max[1];
                let inputs = [(unit.depth.clone(), 1.0), (part.thickness.clone(), -1.0)];
                let face = Dim::worked(face, "depth and thickness", inputs);
                let edge = &cutout.back + &cutout.depth;
                return Some(self.moved(part, false, &face, &edge, &(&edge - &face)));
            }
            (None, None) => return None,
        };
        Some(self.moved(part, true, &face, edge, &short))
    }

    fn moved(&self, part: &Part, behind: bool, face: &Dim, edge: &Dim, short: &Dim) -> Finding {
        let (unit, top) = (self.unit, self.top);
        let (begins, face_out) = if edge.length().is_negative() {
            (
                format!("begins {} behind the face of the wall", self.checked.needed(&-edge)),
                self.checked.needed(face),
            )
        } else if behind {
            (format!("begins {} out from the wall", self.checked.available(edge)), self.checked.needed(face))
        } else {
            (format!("ends {} out from the wall", self.checked.needed(edge)), self.checked.available(face))
        };
        let what =
            format!("the cut-out over `{}` {begins}, and the {} is {face_out} out", unit.key, called(part));
        let at =
            Pointer::root().child("tops").child(top.key.as_str()).child("figures").child("sink-web-front");
        let subjects = vec![unit.key.clone(), top.key.clone()];
        let mut finding = found(RULE, Severity::Stop, subjects, at.clone(), what);
        let web = Figures::of_top(self.checked.plan, &top.key).dim("sink-web-front").length();
        let web = if behind {
            self.checked.mark(web - short.length(), Toward::Down)
        } else {
            self.checked.mark(web + short.length(), Toward::Up)
        };
        if web.length.is_positive() && self.goes_in() {
            let label = format!("leave {web} of worktop before the cut-out");
            finding.fixes.push(Fix::of(Draft::of(self.checked.plan).set(&at, web).edit(label)));
        }
        let place = unit.key.as_str();
        let face = face.clone().named(format!("face of its {}", called(part))).placed(place);
        finding.because = vec![edge.clone().named("edge of the cut-out").placed(place), face];
        finding.short_by = Some(short.clone().named("into it by").placed(place));
        finding
    }

    /// Parts that stand on edge before the bowl. The flat stretcher of a base unit lies under the cut-out.
    fn is_before(&self, part: &Part) -> bool {
        part.role.starts_with("frame")
            || (self.unit.kind == UnitKind::Sink && part.role.starts_with("stretcher"))
    }

    fn over_what_is_under(&self) -> Option<Finding> {
        let under =
            |part: &&Part| !is_behind(part) && !self.is_before(part) && !part.role.starts_with("side");
        let part = self.hit().filter(under).max_by_key(|part| part.solid.max[2])?;
        let unit = self.unit;
        let high = part.solid.max[2];
        let inputs = [(unit.up.clone(), 1.0), (part.thickness.clone(), 1.0)];
        let high = Dim::worked(unit.up.length() + high, "place in the box", inputs);
        let high = high.named(format!("top of its {}", called(part))).placed(unit.key.as_str());
        let lowest = self.lowest();
        let short = (&high - &lowest).named("too low by").placed(unit.key.as_str());
        let what = format!(
            "the bowl in `{}` comes down to {}, and the {} under it is at {}",
            unit.key,
            self.checked.available(&lowest),
            called(part),
            self.checked.needed(&high)
        );
        let (at, fix) = self.out_of_the_way(part);
        let subjects = vec![unit.key.clone(), self.good.clone()];
        let mut finding = found(RULE, Severity::Stop, subjects, at, what);
        finding.fixes = fix.into_iter().collect();
        finding.because = vec![lowest, high];
        finding.short_by = Some(short);
        Some(finding)
    }

    /// Where a part is stated, and how to do without it.
    fn out_of_the_way(&self, part: &Part) -> (Pointer, Option<Fix>) {
        let (plan, key) = (self.checked.plan, &self.unit.key);
        let at = unit_at(key);
        let fix = |draft: Draft, label: String| Some(Fix::of(draft.edit(label)));
        if part.role.starts_with("stretcher") {
            let at = at.child("kind");
            let draft = Draft::of(plan).set(&at, UnitKind::Sink);
            return (at, fix(draft, format!("make `{key}` a sink unit")));
        }
        if part.role.starts_with("shelf") && self.stated.shelves > 0 {
            let at = at.child("shelves");
            let draft = Draft::of(plan).remove(&at);
            return (at, fix(draft, format!("make `{key}` without shelves")));
        }
        let drawer = part.role.strip_prefix("drawer").and_then(|rest| rest.split('/').next());
        let Some(path) = drawer else { return (at.child("holds"), None) };
        let mut place = at.child("fronts");
        let mut front = self.stated.fronts.as_ref();
        for name in path.split('.').filter(|name| !name.is_empty()) {
            let Some(Front::Down { parts, .. }) = front else { return (at.child("holds"), None) };
            place = place.child("down").child("parts").child(name);
            front = parts.iter().find_map(|(key, part)| (key.as_str() == name).then_some(part));
        }
        let Some(Front::Drawer { height, .. }) = front else { return (at.child("holds"), None) };
        let draft = Draft::of(plan).set(&place, Front::Fixed { height: *height });
        (place, fix(draft, format!("put a front that does not open before the bowl in `{key}`")))
    }
}

/// What the bench calls a part, without how it stands.
fn called(part: &Part) -> &str {
    part.name.split(',').next().unwrap_or(&part.name)
}

/// Parts at the back of a box.
fn is_behind(part: &Part) -> bool {
    part.role == "back" || part.role.starts_with("nailer")
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::{Plan, UnitKind};

    const RULE: &str = "fit/sink-bowl";

    fn only(plan: &Plan) -> crate::finding::Finding {
        let mut findings = found(plan, RULE);
        assert_eq!(findings.len(), 1, "{:?}", findings.iter().map(|f| &f.what).collect::<Vec<_>>());
        findings.remove(0)
    }

    #[test]
    fn the_sink_of_the_demo_is_clear() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn exactly_between_the_sides_it_passes_and_a_mark_narrower_it_does_not() {
        // 24 1/4 and twice 23/32 make 25 11/16
        assert!(found(&with(&demo(), "/units/b4/width/given", "25 11/16 in"), RULE).is_empty());
        let plan = with(&demo(), "/units/b4/width/given", "25 5/8 in");
        let finding = only(&plan);
        assert_eq!(
            finding.what,
            "the cut-out over `b4` needs its sides 24 1/4 in apart, and they are 24 3/16 in"
        );
        every_remedy_clears(&plan, &finding);
    }

    #[test]
    fn a_cut_out_that_meets_the_nailer_is_moved_forward() {
        // 25 - 4 - 19 7/8 = 1 1/8, and back and nailer are 1/4 + 7/32 + 23/32 = 1 3/16 out
        let deep = |depth: &str| with(&demo(), "/goods/sink/form/sink/cutout_depth", depth);
        assert!(found(&deep("19 13/16 in"), RULE).is_empty());
        let plan = deep("19 7/8 in");
        let finding = only(&plan);
        assert_eq!(
            finding.what,
            "the cut-out over `b4` begins 1 1/8 in out from the wall, and the nailer is 1 3/16 in out"
        );
        every_remedy_clears(&plan, &finding);
    }

    #[test]
    fn a_cut_out_that_meets_the_front_stretcher_is_moved_back() {
        // boxes of 23 1/4 less a stretcher of 23/32: 22 17/32, and 25 - 2 7/16 = 22 9/16
        let web = |web: &str| {
            with(&demo(), "/tops/slate/figures", std::collections::BTreeMap::from([("sink-web-front", web)]))
        };
        assert!(found(&web("2 15/32 in"), RULE).is_empty());
        let plan = web("2 7/16 in");
        let finding = only(&plan);
        assert_eq!(
            finding.what,
            "the cut-out over `b4` ends 22 9/16 in out from the wall, and the stretcher is 22 1/2 in out"
        );
        every_remedy_clears(&plan, &finding);
    }

    #[test]
    fn a_cut_out_too_deep_for_the_box_is_not_moved() {
        // 22 17/32 less 1 3/16 leave 21 11/32
        let deep = |depth: &str| with(&demo(), "/goods/sink/form/sink/cutout_depth", depth);
        assert_eq!(only(&deep("21 5/16 in")).fixes.len(), 1);
        every_remedy_clears(&deep("21 5/16 in"), &only(&deep("21 5/16 in")));
        assert!(only(&deep("21 3/8 in")).fixes.is_empty());
        assert!(
            only(&deep("22 in")).what.starts_with("the cut-out over `b4` begins 1 in behind the face of")
        );
    }

    #[test]
    fn a_drawer_under_the_bowl_gives_way_to_a_fixed_front() {
        let drawer = serde_json::json!({ "drawer": { "slide": "slide-21", "height": "5 in" } });
        let plan = with(&demo(), "/units/b4/fronts/down/parts/x1", drawer);
        let finding = only(&plan);
        assert!(finding.what.starts_with("the bowl in `b4` comes down to "), "{}", finding.what);
        every_remedy_clears(&plan, &finding);
    }

    #[test]
    fn a_base_unit_with_its_stretchers_in_the_way_becomes_a_sink_unit() {
        let plan = with(&demo(), "/units/b4/kind", UnitKind::Base);
        let finding = only(&plan);
        assert_eq!(finding.fixes[0].label, "make `b4` a sink unit");
        every_remedy_clears(&plan, &finding);
    }

    #[test]
    fn a_bowl_that_touches_the_shelf_passes_and_a_mark_deeper_does_not() {
        let shelved = with(&demo(), "/units/b4/shelves", 1);
        let deep = |sixteenths: i64| {
            let bowl = dryfit_measure::Stated {
                length: dryfit_measure::Length::sixty_fourths(sixteenths * 4),
                unit: dryfit_measure::Unit::Inch,
            };
            with(&shelved, "/goods/sink/form/sink/bowl", bowl)
        };
        let last = (9 * 16..30 * 16).find(|&bowl| !found(&deep(bowl + 1), RULE).is_empty());
        let last = last.expect("a bowl of 30 in meets the shelf");
        let finding = only(&deep(last + 1));
        assert!(finding.what.contains("the shelf under it is at "), "{}", finding.what);
        assert!(
            finding.short_by.as_ref().expect("a length").length() <= dryfit_measure::Length::inches(0, 1, 16)
        );
        every_remedy_clears(&deep(last + 1), &finding);
    }
}
