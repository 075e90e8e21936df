//! Edge banding: which edges of a part get which band, in which order, and what is taken off its cut size for it.
//!
//! Ends are banded before long edges, so that the long bands cover the ends of the short ones and no joint shows
//! from the front. Each strip is cut longer than its edge and trimmed off.

use dryfit_measure::{Dim, Key};
use dryfit_plan::{Form, Role, UnitKind};

use super::job::{Job, goods_pointer};
use super::{Band, Edge, Part};

/// A side of a part, seen in its unit: an axis, and whether it is the side at the lower coordinate.
type Side = (u8, bool);
const FRONT: Side = (1, true);
const LEFT: Side = (0, true);
const RIGHT: Side = (0, false);
const LOW: Side = (2, true);
const HIGH: Side = (2, false);

/// Whose edges a part's are, and which of them show.
pub(crate) fn shown(kind: UnitKind, part: &Part) -> Option<(Role, Vec<Side>)> {
    let shown = match part.name.as_str() {
        // a wall unit is seen from below, too
        "side" if kind == UnitKind::Wall => (Role::Box, vec![FRONT, LOW]),
        "side" | "bottom" | "top" | "fixed shelf" | "shelf for hats" | "divider" => (Role::Box, vec![FRONT]),
        "stretcher" if part.front_edge.is_some() => (Role::Box, vec![FRONT]),
        "shelf" => (Role::Shelf, vec![FRONT]),
        "seat" => (Role::Seat, vec![LEFT, RIGHT, FRONT]),
        "end panel" => (Role::Skin, vec![FRONT]),
        "hook rail" => (Role::Skin, vec![LEFT, RIGHT, LOW, HIGH]),
        "drawer side" | "drawer box front" | "drawer box back" => (Role::DrawerBox, vec![HIGH]),
        "door" | "front" if part.role.ends_with("/face") => (Role::Door, vec![LEFT, RIGHT, LOW, HIGH]),
        _ => return None,
    };
    Some(shown)
}

/// Parts with their bands.
pub(super) fn all_banded(job: &Job<'_>, parts: Vec<Part>) -> Vec<Part> {
    parts.into_iter().map(|part| banded(job, part)).collect()
}

/// The part with its bands, as its recipe names them; without, where no band of the plan serves.
fn banded(job: &Job<'_>, mut part: Part) -> Part {
    let Some((role, sides)) = shown(job.placed.kind, &part) else { return part };
    let Some((good, thickness)) = band(job, role) else { return part };
    let trim = job.figure("band-trim");
    let edge_of = |(axis, low): Side| {
        let k = (0..2).find(|&k| part.solid.axes[k] == axis)?;
        Some(match (k, part.solid.forward[k] == low) {
            (0, true) => Edge::LeftEnd,
            (0, false) => Edge::RightEnd,
            (_, true) => Edge::Near,
            (_, false) => Edge::Far,
        })
    };
    let mut edges: Vec<Edge> = sides.into_iter().filter_map(edge_of).collect();
    // ends first, then long edges
    edges.sort_by_key(|edge| (!edge.is_end(), *edge));
    let across = i64::try_from(edges.iter().filter(|edge| !edge.is_end()).count()).unwrap_or(0);
    let strip = |edge: Edge| {
        let own = if edge.is_end() { &part.width - &thickness * across } else { part.length.clone() };
        (own + &trim).named("strip of edge band")
    };
    part.bands = edges
        .iter()
        .map(|&edge| Band { edge, good: good.clone(), thickness: thickness.clone(), length: strip(edge) })
        .collect();
    part
}

/// The band that serves the parts of a role.
fn band(job: &Job<'_>, role: Role) -> Option<(Key, Dim)> {
    let key = job.recipe.edges.get(&role)?;
    let Form::EdgeBand(form) = &job.plan.goods.get(key)?.form else { return None };
    let at = goods_pointer(key).child("form").child("edge-band").child("thickness");
    let chosen = job.recipe_pointer().child("edges");
    let thickness = Dim::taped(form.thickness.length, at).decided_by([chosen]);
    Some((key.clone(), thickness.named("edge band")))
}
