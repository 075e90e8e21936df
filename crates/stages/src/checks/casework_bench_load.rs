//! `casework/bench-load`: a bench's seat carries who sits on it between its supports.
//!
//! What it checks: the seat as a beam over the widest space between sides and dividers, under 1200 N in its middle
//! (a heavy man who drops down), against one part in 144 of the span. What stretchers help is not counted on.
//!
//! Why it matters: a seat that gives way is felt at once, and cracks at the first jump.
//!
//! Source: the load is common practice, no source; the limit of L/144 is that of the Architectural Woodwork
//! Standards for shelves; the moduli are those of `casework/shelf-sag`.
//!
//! Example: 26.8 mm ply, 439 deep, may span 1.1 m.
//!
//! Remedy: one divider more, or a thicker seat.

use dryfit_measure::{Dim, Length, Toward};
use dryfit_plan::{Build, Edit, Role};

use super::Checked;
use super::casework_shelf_sag::modulus;
use super::found::{found, unit_at};
use crate::casework::{BuiltUnit, Part};
use crate::finding::{Finding, Fix, Severity};

/// Newtons in the middle of the seat.
const LOAD: f64 = 1200.0;
/// The span over what it may give.
const PART: f64 = 144.0;
/// Pounds a square inch in newtons a square millimetre.
const PSI: f64 = 0.006_894_757;

/// Benches whose seats span too far.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.casework.units.iter().filter_map(|built| too_far(checked, built)).collect()
}

/// How far a seat sags in the middle of its span under a load there, in millimetres: `P L^3 / 48 E I` (beam theory).
fn sag(span: f64, [width, thickness]: [f64; 2], modulus: f64) -> f64 {
    LOAD * span.powi(3) / (48.0 * modulus * width * thickness.powi(3) / 12.0)
}

/// How far it may span, in millimetres: where its sag is one part in 144 of it.
fn may_span([width, thickness]: [f64; 2], modulus: f64) -> f64 {
    (48.0 * modulus * width * thickness.powi(3) / 12.0 / (LOAD * PART)).sqrt()
}

fn too_far(checked: &Checked<'_>, built: &BuiltUnit) -> Option<Finding> {
    let seat = built.parts.iter().find(|part| part.role == "seat")?;
    let modulus = modulus(checked, seat)? * PSI;
    let span = widest(built)?;
    let depth = (seat.solid.max[1] - seat.solid.min[1]).as_mm_f64();
    let section = [depth, seat.thickness.length().as_mm_f64()];
    let most = may_span(section, modulus);
    let mm = span.length().as_mm_f64();
    if mm <= most {
        return None;
    }
    let inch = |mm: f64, toward| Length::from_mm_f64(mm).figure(checked.plan.fineness, toward).to_string();
    let what = format!(
        "the seat of `{}` spans {}, and may span {}: it gives {} under who sits down hard",
        built.key,
        checked.available(&span),
        inch(most, Toward::Down),
        inch(sag(mm, section, modulus), Toward::Up)
    );
    let unit = checked.plan.units.get(&built.key)?;
    let recipe = checked.plan.recipes.get(unit.recipe.as_ref()?)?;
    let at = unit_at(&built.key).child("dividers");
    let mut finding = found("casework/bench-load", Severity::Look, vec![built.key.clone()], at.clone(), what);
    if recipe.build == Build::Frameless {
        // each of n spaces is a little under a part in n of all of them
        let spaces = |dividers: u8| f64::from(dividers) + 1.0;
        let enough = |dividers: &u8| mm * spaces(unit.dividers) / spaces(*dividers) <= most;
        if let Some(dividers) = (unit.dividers.saturating_add(1)..20).find(enough) {
            let label = match dividers - unit.dividers {
                1 => format!("put one divider more under the seat of `{}`", built.key),
                n => format!("put {n} dividers more under the seat of `{}`", built.key),
            };
            finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, dividers, label)));
        }
    }
    let place = unit_at(&built.key).child("roles").child("seat");
    let thick = |form: &dryfit_plan::Form| match form {
        dryfit_plan::Form::Sheet(sheet) => Some(sheet.thickness.length),
        _ => None,
    };
    let own = crate::placement::role(checked.plan, unit, Role::Seat);
    let others = checked.plan.goods.iter().filter(|(key, good)| {
        let enough = |thickness: Length| may_span([depth, thickness.as_mm_f64()], modulus) >= mm;
        Some(*key) != own && thick(&good.form).is_some_and(enough) && grained(&good.form)
    });
    finding.fixes.extend(others.take(2).map(|(key, good)| {
        Fix::of(Edit::set(checked.plan, &place, key.as_str(), format!("sit on `{key}`, {}", good.name)))
    }));
    finding.because = vec![span, seat.thickness.clone()];
    Some(finding)
}

/// Whether a sheet is as stiff as ply: its modulus is taken for it.
fn grained(form: &dryfit_plan::Form) -> bool {
    matches!(form, dryfit_plan::Form::Sheet(sheet) if sheet.grain == dryfit_plan::Grain::Length)
}

/// The widest space between two uprights that the seat lies on.
fn widest(built: &BuiltUnit) -> Option<Dim> {
    let mut uprights: Vec<&Part> =
        built.parts.iter().filter(|part| matches!(part.name.as_str(), "side" | "divider")).collect();
    uprights.sort_by_key(|part| part.solid.min[0]);
    let spans = uprights.windows(2).map(|pair| (pair[1].solid.min[0] - pair[0].solid.max[0], pair[0]));
    let (span, left) = spans.max_by_key(|(span, _)| *span)?;
    // the bottom lies between the same sides, and its length tells why they stand so far apart
    let bottom = built.parts.iter().find(|part| part.role == "bottom")?;
    let inputs = [(bottom.length.clone(), 1.0), (left.thickness.clone(), 0.0)];
    Some(Dim::worked(span, "between the supports of the seat", inputs).named("span of the seat"))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{every_remedy_clears, found, frameless, with};
    use super::*;

    const RULE: &str = "casework/bench-load";

    #[test]
    fn the_benches_of_the_demo_carry() {
        assert!(found(&frameless(), RULE).is_empty());
    }

    #[test]
    fn without_its_dividers_the_long_bench_gives_way() {
        let plan = with(&frameless(), "/units/n1/dividers", 0);
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1, "{findings:?}");
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn at_the_limit_it_gives_just_so_much() {
        let section = [439.0, 26.8];
        let span = may_span(section, 6550.0);
        assert!((sag(span, section, 6550.0) - span / PART).abs() < 1e-9);
        assert!((1100.0..1150.0).contains(&span), "{span}");
        // half the beam formula's own case: P L^3 / 48 E I, 1000 mm of 100 x 20 at 10 000 N/mm2 under 1200 N
        let by_hand = 1200.0 * 1e9 / (48.0 * 1e4 * 100.0 * 8000.0 / 12.0);
        assert!((sag(1000.0, [100.0, 20.0], 1e4) - by_hand).abs() < 1e-9);
    }
}
