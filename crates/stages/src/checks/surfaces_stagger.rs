//! `surfaces/stagger`: joints in the layers of a worktop lie apart.
//!
//! What it checks: joints of two layers of one leg against the figure `build-up-stagger`.
//!
//! Why it matters: two joints in line are a hinge. The top breaks there when it is carried, and the laminate
//! cracks over it.
//!
//! Source: common practice.
//!
//! Example: layers of 136 in, each joined in the middle.
//!
//! Remedy: whole sheets long enough that no joint is needed; the handbook's distance, where a greater one is
//! stated that cannot be kept.

use dryfit_handbook::figure;
use dryfit_measure::{Dim, Length, Pointer};
use dryfit_plan::{Draft, Form};

use super::Checked;
use super::found::found;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::surfaces::worktop::{TopPart, TopPiece, WorkLeg, Worktop};

const RULE: &str = "surfaces/stagger";

/// Legs whose joints lie too near each other.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let of_top =
        |top: &Worktop| top.legs.iter().filter_map(|leg| in_line(checked, top, leg)).collect::<Vec<_>>();
    checked.surfaces.worktops.iter().flat_map(of_top).collect()
}

/// Where the pieces of one row of a layer end, from its left-hand end; what comes first, and each row by itself.
fn joints(top: &Worktop, leg: &WorkLeg) -> Vec<(u8, Vec<Length>)> {
    let mut rows: Vec<(String, u8, Vec<Length>)> = Vec::new();
    let is_row = |piece: &&TopPiece| {
        let edge = piece.role.contains(".front") || piece.role.contains(".rear");
        piece.run == leg.run
            && (piece.what == TopPart::Substrate || (piece.what == TopPart::Strip && edge))
            && piece.role.contains(&format!(".{}", leg.name))
    };
    for piece in top.pieces.iter().filter(is_row) {
        // `substrate.1.back.2` goes on where `substrate.1.back.1` ended
        let Some((row, number)) = piece.role.rsplit_once('.') else { continue };
        if number.parse::<u32>().is_err() {
            continue;
        }
        let end = |ends: &[Length]| ends.last().copied().unwrap_or_default() + piece.length.length();
        match rows.iter_mut().find(|(known, ..)| known == row) {
            Some((_, _, ends)) => ends.push(end(ends)),
            None => rows.push((row.to_owned(), piece.layer, vec![piece.length.length()])),
        }
    }
    // the last end is that of the layer
    rows.into_iter().map(|(_, layer, ends)| (layer, ends[..ends.len() - 1].to_vec())).collect()
}

fn in_line(checked: &Checked<'_>, top: &Worktop, leg: &WorkLeg) -> Option<Finding> {
    let least = Figures::of_top(checked.plan, &top.key).dim("build-up-stagger");
    let rows = joints(top, leg);
    let mut nearest: Option<Length> = None;
    for (i, (layer, here)) in rows.iter().enumerate() {
        for (_, there) in rows[i + 1..].iter().filter(|(other, _)| other != layer) {
            for apart in here.iter().flat_map(|a| there.iter().map(move |b| (*a - *b).abs())) {
                nearest = Some(nearest.map_or(apart, |known| known.min(apart)));
            }
        }
    }
    let apart = nearest.filter(|apart| *apart < least.length())?;
    let apart =
        Dim::worked(apart, "distance of joints", [(leg.back[0].clone(), 0.0), (leg.back[1].clone(), 0.0)]);
    let what = format!(
        "joints in the layers of `{}` over `{}` should lie {} apart, and two are {} apart",
        top.key,
        leg.run,
        checked.needed(&least),
        checked.available(&apart)
    );
    let at = Pointer::root().child("tops").child(top.key.as_str());
    let mut finding = found(RULE, Severity::Look, vec![top.key.clone(), leg.run.clone()], at.clone(), what);
    let stated = checked.plan.tops.get(&top.key)?;
    if let Some(usual) = figure("build-up-stagger")
        && usual.value.length < least.length()
    {
        let at = at.child("figures").child("build-up-stagger");
        let label = "let joints lie as far apart as the handbook asks";
        finding.fixes.push(Fix::of(Draft::of(checked.plan).remove(&at).edit(label)));
    }
    let long = leg.back[1].length() - leg.back[0].length();
    let thick = |form: &Form| match form {
        Form::Sheet(sheet) => Some((sheet.thickness.length, sheet.length.length)),
        _ => None,
    };
    let own = thick(&checked.plan.goods.get(&stated.substrate)?.form);
    let longer = checked.plan.goods.iter().filter(|(_, good)| {
        let other = thick(&good.form);
        other.zip(own).is_some_and(|((thick, length), (own, _))| thick == own && length > long + Length::INCH)
    });
    finding.fixes.extend(longer.take(1).map(|(key, good)| {
        let label = format!("make the substrate from `{key}`, {}", good.name);
        Fix::of(Draft::of(checked.plan).set(&at.child("substrate"), key.as_str()).edit(label))
    }));
    finding.short_by = Some((&least - &apart).named("too near by").placed(leg.run.as_str()));
    finding.because = vec![least];
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use std::collections::BTreeMap;

    const RULE: &str = "surfaces/stagger";

    #[test]
    fn the_layers_of_the_demo_are_joined_apart() {
        assert!(found(&demo(), RULE).is_empty());
        let top = &derive(&demo()).surfaces.worktops[0];
        let rows = super::joints(top, &top.legs[1]);
        assert!(rows.iter().all(|(_, joints)| joints.len() == 1), "{rows:?}");
        assert!(rows.len() == 3, "the upper layer, and a strip at the front and at the rear");
    }

    #[test]
    fn a_distance_that_cannot_be_kept_is_said_and_the_usual_one_offered() {
        let stagger =
            |value: &str| with(&demo(), "/tops/slate/figures", BTreeMap::from([("build-up-stagger", value)]));
        // three strips still lie 40 in off a joint at 84; no number of them lies ten feet off
        assert!(found(&stagger("16 in"), RULE).is_empty());
        let plan = stagger("120 in");
        let findings = found(&plan, RULE);
        assert!(
            findings[0]
                .what
                .starts_with("joints in the layers of `slate` over `back` should lie 120 in apart")
        );
        every_remedy_clears(&plan, &findings[0]);
    }
}
