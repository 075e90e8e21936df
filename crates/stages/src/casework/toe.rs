//! Toe kicks: a board before the notches, or a loose base that the box stands on.

use dryfit_measure::{Dim, Length};
use dryfit_plan::{Role, ToeBuild};

use super::carcass::Carcass;
use super::job::Job;
use super::part::{DEEP_FACING_RIGHT, Stock, WIDE_FRONT, part, spaces};
use super::{Part, Purpose};

/// The toe board, and for a loose base its back and cross pieces.
pub(super) fn toe(job: &Job<'_>, carcass: &Carcass) -> Vec<Part> {
    let (Some((height, depth)), Some(stock)) = (&carcass.toe, job.stock(Role::Toe)) else {
        return Vec::new();
    };
    let left = -carcass.overhang[0].length();
    let mut parts = vec![board(&stock, &carcass.over_all, height, left, depth.length())];
    if job.recipe.toe == ToeBuild::Loose {
        parts.extend(base(job, carcass, height, depth));
    }
    parts
}

/// A board whose back lies at the depth of the toe kick, so that it covers the edges of the notches.
pub(super) fn board(stock: &Stock, length: &Dim, height: &Dim, left: Length, back: Length) -> Part {
    let sizes = [length.clone().named("toe board length"), stock.thick("toe board"), height.clone()];
    part(stock, "toe", WIDE_FRONT.outside(), sizes, [left, back - stock.thickness.length(), Length::ZERO])
        .called("toe board")
        .serves(Purpose::Mates, Purpose::Into)
}

/// The loose base: front and back from side to side, cross pieces between them, no wider apart than stated.
fn base(job: &Job<'_>, carcass: &Carcass, height: &Dim, depth: &Dim) -> Vec<Part> {
    let stock = &carcass.stock;
    let thick = stock.thickness.length();
    let back = carcass.side_depth();
    let long = |role: &str, y: Length| {
        let sizes = [carcass.width.clone().named("base length"), stock.thick("base"), height.clone()];
        part(stock, role, WIDE_FRONT, sizes, [Length::ZERO, y, Length::ZERO])
            .called("base, long piece")
            .serves(Purpose::Mates, Purpose::Mates)
    };
    let mut parts = vec![long("base.front", depth.length()), long("base.back", back.length() - thick)];
    let cross = (&back - depth - stock.thick("base") * 2).named("base cross piece");
    let most = job.figure("base-cross-spacing").length();
    let span = carcass.width.length() - thick;
    let gaps = i64::from(spaces(span, most));
    for k in 0..=gaps {
        let x = span.proportion(Length::from_nm(k), Length::from_nm(gaps));
        let sizes = [stock.thick("base"), cross.clone(), height.clone()];
        parts.push(
            part(
                stock,
                format!("base.cross.{}", k + 1),
                DEEP_FACING_RIGHT,
                sizes,
                [x, depth.length() + thick, Length::ZERO],
            )
            .called("base, cross piece")
            .serves(Purpose::Mates, Purpose::Mates),
        );
    }
    parts
}
