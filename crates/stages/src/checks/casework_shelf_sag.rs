//! `casework/shelf-sag`: a shelf does not sag more than a cabinet's test load may make it.
//!
//! What it checks: each loose shelf on its pins, under 15 pounds a square foot, against 1/16 in to the foot of
//! span and never more than 1/4 in.
//!
//! Why it matters: a shelf that is an inch too long looks straight on the day it is put in, and never again.
//!
//! Source: ANSI/KCMA A161.1-2012, 5.1 (load and limit); moduli of elasticity as the Architectural Woodwork
//! Standards' shelf table takes them for plywood (950,000 psi), and 326,300 psi for particleboard.
//!
//! Example: 23/32 in plywood may span 48 in; a shelf of 53 in sags too much.
//!
//! Remedy: a unit just narrow enough.

use dryfit_measure::{Dim, Length, Stated, Toward};
use dryfit_plan::{Edit, Form, Grain, Width};

use super::Checked;
use super::found::{found, unit_at};
use crate::casework::strength::{Ends, Shelf, longest_span, psf, sag_allowed};
use crate::casework::{BuiltUnit, Part};
use crate::finding::{Finding, Fix, Severity};

/// Load of the cabinet standard's shelf test, pounds a square foot.
const LOAD: f64 = 15.0;
/// The limit as a part of the span: 1/16 in to the foot.
const PART: f64 = 192.0;
/// Plywood of softwood, along its face grain, psi.
const PLYWOOD: f64 = 950e3;
/// Particleboard of a middle grade, psi.
const PARTICLEBOARD: f64 = 326_300.0;

/// Shelves that sag too much: the longest of each unit.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.casework.units.iter().filter_map(|unit| longest(checked, unit)).collect()
}

fn longest(checked: &Checked<'_>, unit: &BuiltUnit) -> Option<Finding> {
    let loose = |part: &&Part| part.role.split('.').next() == Some("shelf");
    let part = unit.parts.iter().filter(loose).max_by_key(|part| part.length.length())?;
    let modulus = modulus(checked, part)?;
    let inches = |dim: &Dim| dim.length().as_inches_f64();
    let shelf = Shelf {
        span: inches(&part.length),
        depth: inches(&part.width),
        thickness: inches(&part.thickness),
        modulus,
        ends: Ends::Resting,
    };
    let (sag, allowed) = (shelf.sag(psf(LOAD)), sag_allowed(shelf.span));
    if sag <= allowed {
        return None;
    }
    let inch = |inches: f64, toward| {
        let finest = match checked.plan.fineness.unit() {
            dryfit_measure::Unit::Inch => dryfit_measure::Fineness::In32,
            dryfit_measure::Unit::Millimetre => dryfit_measure::Fineness::HalfMm,
        };
        Length::from_inches_f64(inches).figure(finest, toward).to_string()
    };
    let what = format!(
        "the shelf of `{}`, {} long, sags {} under a cabinet's test load, may sag {}",
        unit.key,
        checked.available(&part.length),
        inch(sag, Toward::Up),
        inch(allowed, Toward::Down)
    );
    let at = unit_at(&unit.key).child("width");
    let mut finding = found("casework/shelf-sag", Severity::Look, vec![unit.key.clone()], at.clone(), what);
    let placed = checked.placement.unit(&unit.key)?;
    let fineness = checked.plan.fineness;
    let span = Length::from_inches_f64(may_span(&shelf));
    let width = (placed.width.length() - part.length.length() + span).rounded(fineness, Toward::Down).length;
    if width.is_positive() {
        let narrow = Stated { length: width, unit: fineness.unit() };
        let label = format!("make `{}` {narrow} wide", unit.key);
        finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, Width::Given(narrow), label)));
    }
    finding.because = vec![part.length.clone(), part.thickness.clone()];
    Some(finding)
}

/// The span at which a shelf just sags as much as it may, in inches: by its part of the span up to four feet,
/// by the fixed quarter inch beyond.
fn may_span(shelf: &Shelf) -> f64 {
    let by_part = longest_span(shelf.modulus, shelf.thickness, psf(LOAD), PART, shelf.ends);
    let most = 0.25 * PART;
    if by_part <= most {
        return by_part;
    }
    // sag grows with the fourth power of the span
    let at_most = Shelf { span: most, ..*shelf }.sag(psf(LOAD));
    most * (0.25 / at_most).powf(0.25)
}

/// Modulus of elasticity of the good along the shelf, psi.
pub(super) fn modulus(checked: &Checked<'_>, part: &Part) -> Option<f64> {
    match &checked.plan.goods.get(&part.good)?.form {
        Form::Sheet(sheet) if sheet.grain == Grain::Length => Some(PLYWOOD),
        Form::Sheet(_) => Some(PARTICLEBOARD),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use super::*;
    use dryfit_measure::Key;
    use dryfit_plan::Plan;

    /// The demo with its sink unit made a cupboard with a shelf, so wide.
    fn wide(width: &str) -> Plan {
        let plan = with(&demo(), "/units/b4/kind", "base");
        let plan = with(&plan, "/units/b4/shelves", 1);
        with(&plan, "/units/b4/width", serde_json::json!({ "given": width }))
    }

    #[test]
    fn the_demo_keeps_its_shelves_straight() {
        assert!(found(&demo(), "casework/shelf-sag").is_empty());
    }

    #[test]
    fn a_shelf_of_five_feet_sags_and_its_remedy_is_the_widest_that_does_not() {
        let plan = wide("60 in");
        let findings = found(&plan, "casework/shelf-sag");
        assert_eq!(findings.len(), 1, "{findings:?}");
        every_remedy_clears(&plan, &findings[0]);
        // one mark more than the remedy, and it is back
        let (mended, _) = plan.apply(&findings[0].fixes[0].edit).expect("it applies");
        let Width::Given(width) = mended.units[&Key::literal("b4")].width else { panic!("given") };
        let wider = width.length + Length::inches(0, 1, 16);
        let wider = wide(&Stated { length: wider, unit: width.unit }.to_string());
        assert_eq!(found(&wider, "casework/shelf-sag").len(), 1);
    }

    #[test]
    fn particleboard_of_the_published_table_spans_what_it_says() {
        // B-shelf-15: 3/4 in particleboard, E 326,300 psi, 15 psf, L/192: 35.32 in (formula; limit of A161.1)
        let shelf =
            Shelf { span: 0.0, depth: 11.0, thickness: 0.75, modulus: PARTICLEBOARD, ends: Ends::Resting };
        assert!((may_span(&shelf) - 35.32).abs() < 0.02, "{}", may_span(&shelf));
    }

    #[test]
    fn at_the_limit_it_passes() {
        let derived = derive(&wide("48 in"));
        let built = derived.casework.units.iter().find(|unit| unit.key == Key::literal("b4")).expect("built");
        let part = built.parts.iter().find(|part| part.role == "shelf").expect("its shelf");
        let thickness = part.thickness.length().as_inches_f64();
        let shelf = Shelf { span: 0.0, depth: 20.0, thickness, modulus: PLYWOOD, ends: Ends::Resting };
        let span = may_span(&shelf);
        let exact = Shelf { span, ..shelf };
        assert!((exact.sag(psf(LOAD)) - sag_allowed(span)).abs() < 1e-9);
    }
}
