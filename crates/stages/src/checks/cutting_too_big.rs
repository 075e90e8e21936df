//! `cutting/too-big`: every piece comes out of the stock it is to be cut from.
//!
//! What it checks: pieces that no sheet or board of their good takes, its factory edges trimmed off.
//!
//! Why it matters: a side an inch longer than the sheet is found at the saw, after everything else is cut.
//!
//! Source: geometry.
//!
//! Example: a sheet of 96 in trimmed by 1/4 in at both ends gives 95 1/2 in, and a side of 96 in does not come
//! out of it.
//!
//! Remedy: a unit as much smaller; another good as thick, of which there are larger sheets.

use std::collections::BTreeMap;

use dryfit_handbook::figure;
use dryfit_measure::{Dim, Key, Length, Pointer, Stated, Toward, slopes};
use dryfit_plan::{Draft, Form, Good, Role};

use super::Checked;
use super::found::{found, unit_at};
use super::surfaces_laminate::tells_of;
use crate::cutlist::{CutGroup, CutPiece};
use crate::finding::{Finding, Fix, Severity};
use crate::layouts::SheetStack;

/// The most other goods that are offered.
const OFFERED: usize = 3;

/// Pieces that cannot be cut, one finding for each unit and good.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for stack in checked.layouts.sheets.iter().chain(&checked.layouts.boards) {
        let group = checked.cut_list.groups.iter().find(|group| group.good == stack.good);
        let Some(group) = group.filter(|_| !stack.unplaced.is_empty()) else { continue };
        let mut owners = of_owners(stack, group);
        // a worktop's blanks have a rule of their own, which offers a seam
        owners.retain(|_, pieces| !pieces.iter().all(|piece| tells_of(checked, &piece.path)));
        findings.extend(owners.values().filter_map(|pieces| too_big(checked, group, pieces)));
    }
    findings
}

/// The pieces that are not placed, by what they belong to.
fn of_owners<'a>(stack: &SheetStack, group: &'a CutGroup) -> BTreeMap<&'a str, Vec<&'a CutPiece>> {
    let mut owners: BTreeMap<&str, Vec<&CutPiece>> = BTreeMap::new();
    for piece in group.pieces.iter().filter(|piece| stack.unplaced.contains(&piece.path)) {
        owners.entry(owner(piece)).or_default().push(piece);
    }
    owners
}

fn owner(piece: &CutPiece) -> &str {
    piece.path.split('/').next().unwrap_or_default()
}

/// What a sheet or board gives, its trim taken off: along the grain, across.
fn usable(checked: &Checked<'_>, key: &Key, good: &Good) -> Option<[Dim; 2]> {
    let at = Pointer::root().child("goods").child(key.as_str()).child("form");
    let whole = |form: &str, name: &'static str, stated: Stated| {
        Dim::taped(stated.length, at.child(form).child(name)).named(name).placed(good.name.as_str())
    };
    match &good.form {
        Form::Board(board) => {
            Some([whole("board", "length", board.length), whole("board", "width", board.width)])
        }
        Form::Sheet(sheet) => {
            let trim = match checked.plan.shop.factory_trim {
                Some(trim) => Dim::chosen(trim.length, Pointer::root().child("shop").child("factory_trim")),
                None => Dim::rule(figure("factory-trim")?.value.length, "factory-trim"),
            };
            let both = trim.named("trim") * 2;
            let gives = |name: &'static str, stated: Stated| {
                let left = whole("sheet", name, stated) - &both;
                left.named(format!("{name} that it gives")).placed(good.name.as_str())
            };
            Some([gives("length", sheet.length), gives("width", sheet.width)])
        }
        _ => None,
    }
}

/// The sides of a piece that are longer than what there is, each with that, lying the way it lacks least.
fn lacks<'a>(piece: &'a CutPiece, [long, wide]: &'a [Dim; 2]) -> Vec<(&'a Dim, &'a Dim)> {
    let lying = |a: &'a Dim, b: &'a Dim| {
        let over = |(size, room): &(&Dim, &Dim)| size.length() > room.length();
        [(&piece.length, a), (&piece.width, b)].into_iter().filter(over).collect::<Vec<_>>()
    };
    let (along, across) = (lying(long, wide), lying(wide, long));
    if piece.grain || sum(&along) <= sum(&across) { along } else { across }
}

fn sum(lacks: &[(&Dim, &Dim)]) -> Length {
    lacks.iter().map(|(size, room)| size.length() - room.length()).sum()
}

fn too_big(checked: &Checked<'_>, group: &CutGroup, pieces: &[&CutPiece]) -> Option<Finding> {
    let good = checked.plan.goods.get(&group.good)?;
    let usable = usable(checked, &group.good, good)?;
    let worst = pieces.iter().min_by_key(|piece| std::cmp::Reverse(sum(&lacks(piece, &usable))))?;
    let more = match pieces.len() - 1 {
        0 => String::new(),
        1 => "; so is one more piece".to_owned(),
        more => format!("; so are {more} more pieces"),
    };
    let noun = if matches!(good.form, Form::Board(_)) { "board" } else { "sheet" };
    let what = format!(
        "`{}` is too big for `{}`: it is {} by {}, and a {noun} gives {} by {}{more}",
        worst.path,
        group.good,
        checked.needed(&worst.length),
        checked.needed(&worst.width),
        checked.available(&usable[0]),
        checked.available(&usable[1])
    );
    let owner: Option<Key> = owner(worst).parse().ok();
    let owner = owner.filter(|owner| checked.plan.units.contains_key(owner));
    let subjects = owner.iter().cloned().chain([group.good.clone()]).collect();
    let at = Pointer::root().child("goods").child(group.good.as_str()).child("form");
    let mut finding = found("cutting/too-big", Severity::Stop, subjects, at, what);
    let lacks = lacks(worst, &usable);
    if let Some(owner) = &owner {
        finding.fixes.extend(smaller(checked, owner, &lacks));
        finding.fixes.extend(from_larger(checked, owner, &group.good, pieces));
    }
    finding.because = lacks.iter().flat_map(|(size, room)| [(*size).clone(), (*room).clone()]).collect();
    let short = lacks.first().map(|(size, room)| *size - *room);
    finding.short_by = short.map(|short| short.named("too big by").placed(worst.path.as_str()));
    Some(finding)
}

/// The unit as much smaller, by whichever of its stated sizes each side follows.
fn smaller(checked: &Checked<'_>, owner: &Key, lacks: &[(&Dim, &Dim)]) -> Option<Fix> {
    let stated = checked.plan.to_json();
    let unit = unit_at(owner);
    let mut draft = Draft::of(checked.plan);
    let mut sizes = Vec::new();
    for (size, room) in lacks {
        let own = |at: &Pointer| {
            at.is_within(&unit) && at.last().is_some_and(|last| last == "given" || last == "depth")
        };
        let (at, slope) = slopes(size).into_iter().find(|(at, slope)| own(at) && *slope > 0.1)?;
        let now: Stated = stated.pointer(at.as_str())?.as_str()?.parse().ok()?;
        let over = (size.length() - room.length()).scaled(1.0 / slope);
        let new = checked.mark(now.length - over, Toward::Down);
        // less than half a unit is another unit
        if new.length * 2 < now.length {
            return None;
        }
        let word = at.segments().rev().find_map(|part| match &*part {
            "width" => Some("wide"),
            "height" => Some("high"),
            "depth" => Some("deep"),
            _ => None,
        })?;
        sizes.push(format!("{new} {word}"));
        draft = draft.set(&at, new);
    }
    let label = format!("make `{owner}` {}", sizes.join(" and "));
    (!sizes.is_empty()).then(|| Fix::of(draft.edit(label)))
}

/// The unit from another good of the same thickness that takes all of these pieces.
fn from_larger(checked: &Checked<'_>, owner: &Key, good: &Key, pieces: &[&CutPiece]) -> Vec<Fix> {
    let plan = checked.plan;
    let Some(unit) = plan.units.get(owner) else { return Vec::new() };
    let recipe = unit.recipe.as_ref().and_then(|key| plan.recipes.get(key));
    let of_recipe = recipe.into_iter().flat_map(|recipe| &recipe.roles);
    let of_recipe = of_recipe.filter(|(role, _)| !unit.roles.contains_key(role));
    let roles: Vec<&Role> = unit
        .roles
        .iter()
        .chain(of_recipe)
        .filter(|(_, serves)| *serves == good)
        .map(|(role, _)| role)
        .collect();
    let thickness = |good: &Good| match &good.form {
        Form::Sheet(sheet) => Some((true, sheet.thickness.length)),
        Form::Board(board) => Some((false, board.thickness.length)),
        _ => None,
    };
    let wanted = plan.goods.get(good).and_then(thickness);
    let takes = |(key, other): &(&Key, &Good)| {
        let usable = usable(checked, key, other).filter(|_| thickness(other) == wanted);
        usable.is_some_and(|usable| pieces.iter().all(|piece| lacks(piece, &usable).is_empty()))
    };
    let use_it = |(key, other): (&Key, &Good)| {
        let at = unit_at(owner).child("roles");
        let draft = roles.iter().fold(Draft::of(plan), |draft, role| match serde_json::to_value(role) {
            Ok(serde_json::Value::String(role)) => draft.set(&at.child(role), key.as_str()),
            _ => draft,
        });
        Fix::of(draft.edit(format!("make `{owner}` from `{key}`, {}", other.name)))
    };
    plan.goods.iter().filter(takes).take(OFFERED).map(use_it).collect()
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use crate::finding::Finding;
    use dryfit_plan::Plan;

    const RULE: &str = "cutting/too-big";

    /// The demo under a ceiling out of the way, with its tall cupboard so high; a sheet gives 95 1/2 in.
    fn high(height: &str) -> Plan {
        let raised = |plan: Plan, key: &str| with(&plan, &format!("/readings/{key}/length"), "140 in");
        let plan = ["c1", "c2", "c3", "c4"].into_iter().fold(demo(), raised);
        with(&plan, "/units/t1/height/given", height)
    }

    fn of_sides(plan: &Plan) -> Finding {
        let of_ply = |finding: &Finding| finding.subjects[1].as_str() == "ply-18";
        found(plan, RULE).into_iter().find(of_ply).expect("its sides")
    }

    #[test]
    fn everything_in_the_demo_comes_out_of_its_stock() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn a_side_as_long_as_the_sheet_gives_passes_and_a_mark_longer_does_not() {
        assert!(found(&high("95 1/2 in"), RULE).is_empty());
        let plan = high("95 9/16 in");
        let finding = of_sides(&plan);
        assert_eq!(
            finding.what,
            "`t1/side.left` is too big for `ply-18`: it is 95 9/16 in by 23 1/4 in, and a sheet gives 95 1/2 in \
             by 47 1/2 in; so is one more piece"
        );
        assert_eq!(finding.fixes[0].label, "make `t1` 95 1/2 in high");
        every_remedy_clears(&plan, &finding);
    }

    #[test]
    fn another_good_as_thick_and_longer_is_offered() {
        let plan = high("96 in");
        let mut long = plan.to_json()["goods"]["ply-18"].clone();
        long["form"]["sheet"]["length"] = "120 in".into();
        long["name"] = "birch ply, long".into();
        let plan = with(&plan, "/goods/ply-18-long", long);
        let finding = of_sides(&plan);
        assert_eq!(finding.fixes.len(), 2);
        assert_eq!(finding.fixes[1].label, "make `t1` from `ply-18-long`, birch ply, long");
        every_remedy_clears(&plan, &finding);
        let (mended, _) = plan.apply(&finding.fixes[1].edit).expect("it applies");
        let stacks = derive(&mended).layouts.sheets;
        assert!(stacks.iter().any(|stack| stack.good.as_str() == "ply-18-long" && stack.unplaced.is_empty()));
    }
}
