//! Drawers: a box from the built opening and the slide's record, its front, and what the slides are screwed to.

use dryfit_measure::{Dim, Key, Length};
use dryfit_plan::{Form, Front, Hand, Role};

use super::carcass::Carcass;
use super::door::{five_piece, has_inside, leaf_front, pull_on_front, purposes};
use super::front::{Leaf, Row, role};
use super::job::Job;
use super::part::{DEEP_FACING_LEFT, DEEP_FACING_RIGHT, DEEP_UP, Span, Stock, WIDE_BACK, WIDE_FRONT, part};
use super::{Gate, Part, Purpose};
use crate::finding::{Finding, Severity};

/// Outside width of a drawer box on side-mount slides: what the slides leave of the opening.
pub(super) fn box_width(opening: &Dim, each_side: &Dim) -> Dim {
    (opening - each_side * 2).named("drawer box width")
}

/// All parts of one drawer, and whether its slides fit the depth.
pub(super) fn drawer(
    job: &Job<'_>,
    carcass: &Carcass,
    row: &Row<'_>,
    leaf: &Leaf,
) -> (Vec<Part>, Vec<Finding>) {
    let frame = carcass.frame_thickness();
    let mut parts = front(job, leaf, frame);
    let mut findings = Vec::new();
    if let Some(Front::Drawer { slide, .. }) = row.front
        && let Some((record, at)) = job.slide(slide)
    {
        let figure =
            |length: Length, name: &str, what: &'static str| Dim::taped(length, at.child(name)).named(what);
        let fit = SlideFit {
            length: figure(record.length.length, "length", "slide length"),
            each_side: figure(record.each_side.length, "each_side", "slide at each side"),
            off_height: figure(record.off_height.length, "off_height", "off the opening's height"),
            behind: figure(record.behind.length, "behind", "free behind the box"),
        };
        parts.extend(drawer_box(job, carcass, row, leaf, &fit));
        findings.extend(too_deep(job, carcass, row, slide, &fit));
        parts.extend(cleats(job, carcass, row));
    }
    (parts, findings)
}

/// A slide's record.
struct SlideFit {
    length: Dim,
    each_side: Dim,
    off_height: Dim,
    behind: Dim,
}

/// Where the drawer box begins: level with the face of the frame, or behind an inset front.
fn box_front(job: &Job<'_>, frame: Length) -> Dim {
    let stock = job.stock(Role::Door);
    match (job.overlays(), stock) {
        (false, Some(stock)) => stock.thick("front"),
        _ => Dim::zero(),
    }
    .named(if frame.is_zero() { "box behind the side" } else { "box behind the frame" })
}

/// Slides that are longer than the box is deep: a stop, with those on the list that would fit.
fn too_deep(job: &Job<'_>, carcass: &Carcass, row: &Row<'_>, key: &Key, fit: &SlideFit) -> Vec<Finding> {
    let frame = carcass.frame.as_ref().map_or_else(Dim::zero, |stock| stock.thick("frame"));
    let start = box_front(job, carcass.frame_thickness());
    let clear = (&carcass.clear_depth + frame - start).named("depth for slides");
    let need = (&fit.length + &fit.behind).named("slide and air behind it");
    let short = (&need - &clear).named("too deep by");
    if !short.length().is_positive() {
        return Vec::new();
    }
    let what = format!(
        "the slides of `{}` in `{}` need {} from the face of the frame, and there are {}",
        row.path,
        job.placed.key,
        job.show(need.length()),
        job.show(clear.length())
    );
    let mut finding = job.finding(Severity::Stop, "casework/slide-depth", what);
    let at = row.at.child("drawer").child("slide");
    let others = job.plan.goods.iter().filter(|(other, good)| {
        let Form::Slide(slide) = &good.form else { return false };
        *other != key && slide.length.length + slide.behind.length <= clear.length()
    });
    finding.fixes = others
        .map(|(other, _)| job.put(format!("use `{other}` for `{}`", row.path), &at, other.as_str()))
        .collect();
    finding.at = at;
    finding.because = vec![need, clear];
    finding.short_by = Some(short);
    vec![finding]
}

/// Sides, front and back of the box, and its bottom in a groove on all four.
fn drawer_box(job: &Job<'_>, carcass: &Carcass, row: &Row<'_>, leaf: &Leaf, fit: &SlideFit) -> Vec<Part> {
    let (Some(stock), Some(thin)) = (job.stock(Role::DrawerBox), job.stock(Role::DrawerBottom)) else {
        return Vec::new();
    };
    let Some(bay) = row.bays.get(super::uprights::bay_of(row, leaf)) else { return Vec::new() };
    let path = |piece: &str| format!("{}/{piece}", role("drawer", &leaf.path));
    let width = box_width(&bay.width, &fit.each_side);
    let height = (&row.height - &fit.off_height).named("drawer box height");
    let inside = (&width - stock.thick("drawer side") * 2).named("drawer inside width");
    let thick = stock.thickness.length();
    let left = bay.left + fit.each_side.length();
    let right = left + width.length() - thick;
    let y = box_front(job, carcass.frame_thickness()).length() - carcass.frame_thickness();
    let z = row.bottom.length() + fit.off_height.length().div_floor(2);
    let (deep, up) = (job.figure("drawer-bottom-groove-depth"), job.figure("drawer-bottom-groove-up"));
    let play = job.figure("drawer-bottom-play");
    let passes = job.passes(thin.thickness.length());
    let groove = Span::FromLow(up.clone(), &up + thin.thick("drawer bottom"));
    let made =
        |part: Part, name: &str| part.called(name).serves(Purpose::Into, Purpose::Into).after(Gate::Openings);

    let mut parts = Vec::new();
    for (word, hand, x) in [("left", Hand::Left, left), ("right", Hand::Right, right)] {
        let (lay, inner) = match hand {
            Hand::Left => (DEEP_FACING_RIGHT, Span::High(deep.clone())),
            Hand::Right => (DEEP_FACING_LEFT, Span::Low(deep.clone())),
        };
        let sizes =
            [stock.thick("drawer side"), fit.length.clone().named("drawer side length"), height.clone()];
        let mut side =
            made(part(&stock, path(&format!("side.{word}")), lay, sizes, [x, y, z]), "drawer side");
        side.hand = Some(hand);
        parts.push(side.grooved("for the bottom", &[inner, Span::All, groove.clone()], passes));
    }
    let ends = [
        ("front", "drawer box front", WIDE_BACK.inside(), y, Span::High(deep.clone())),
        (
            "back",
            "drawer box back",
            WIDE_FRONT.inside(),
            y + fit.length.length() - thick,
            Span::Low(deep.clone()),
        ),
    ];
    for (word, name, lay, y, inner) in ends {
        let sizes = [inside.clone(), stock.thick("drawer end"), height.clone()];
        let end = made(part(&stock, path(word), lay, sizes, [left + thick, y, z]), name);
        parts.push(end.grooved("for the bottom", &[Span::All, inner, groove.clone()], passes));
    }
    let slack = &deep - &play;
    let across = (&inside + &slack * 2).named("drawer bottom width");
    let ends = stock.thick("drawer end") * 2;
    let along = (&fit.length - ends + &slack * 2).named("drawer bottom length");
    let at = [left + thick - slack.length(), y + thick - slack.length(), z + up.length()];
    let sizes = [across, along, thin.thick("drawer bottom")];
    parts.push(made(part(&thin, path("bottom"), DEEP_UP, sizes, at), "drawer bottom"));
    parts
}

/// The front: one piece where the board is wide enough for it, else stiles, rails and a panel.
fn front(job: &Job<'_>, leaf: &Leaf, frame: Length) -> Vec<Part> {
    let Some(stock) = job.stock(Role::Door) else { return Vec::new() };
    if in_one_piece(job, &stock, leaf) {
        return vec![pull_on_front(job, slab(job, &stock, leaf, frame, "drawer"))];
    }
    let Some(mut pieces) = five_piece(job, leaf, frame, "drawer", &job.figure("drawer-front-rail")) else {
        return Vec::new();
    };
    pieces.panel = pull_on_front(job, pieces.panel);
    pieces.into_parts()
}

/// Whether a front is a slab: where it comes out of one board (sheets are wide enough for any), or where stiles
/// and rails would leave no panel between them.
pub(super) fn in_one_piece(job: &Job<'_>, stock: &Stock, leaf: &Leaf) -> bool {
    let out_of_board = stock.board_width.as_ref().is_none_or(|width| leaf.height.length() <= width.length());
    out_of_board || !has_inside(job, leaf, &job.figure("drawer-front-rail"))
}

/// A front in one piece, its grain from side to side.
pub(super) fn slab(job: &Job<'_>, stock: &Stock, leaf: &Leaf, frame: Length, kind: &str) -> Part {
    let y = leaf_front(job, frame, stock.thickness.length());
    let sizes = [
        leaf.width.clone().named("front width"),
        stock.thick("front"),
        leaf.height.clone().named("front height"),
    ];
    let [across, upright] = purposes(job, leaf);
    part(
        stock,
        format!("{}/face", role(kind, &leaf.path)),
        WIDE_FRONT,
        sizes,
        [leaf.left, y, leaf.bottom.length()],
    )
    .called("front")
    .serves(across, upright)
    .after(Gate::Openings)
}

/// Strips between side and opening that bring the slides out to the frame's inner edge; as many layers as go in.
fn cleats(job: &Job<'_>, carcass: &Carcass, row: &Row<'_>) -> Vec<Part> {
    let Some(bay) = row.bays.first() else { return Vec::new() };
    let thick = carcass.stock.thickness.length();
    let width = Dim::least([job.figure("drawer-cleat-width"), row.height.clone()]).named("cleat width");
    let length = carcass.clear_depth.clone().named("cleat length");
    let mut parts = Vec::new();
    let space = |hand: Hand| match hand {
        Hand::Left => bay.left - thick,
        Hand::Right => carcass.width.length() - thick - row.right(),
    };
    for (word, hand) in [("left", Hand::Left), ("right", Hand::Right)] {
        for layer in 0..space(hand).fits(thick).min(3) {
            let (lay, x) = match hand {
                Hand::Left => (DEEP_FACING_RIGHT, thick + thick * layer),
                Hand::Right => (DEEP_FACING_LEFT, carcass.width.length() - thick * 2 - thick * layer),
            };
            let more = if layer == 0 { String::new() } else { format!(".{}", layer + 1) };
            let sizes = [carcass.stock.thick("cleat"), length.clone(), width.clone()];
            let role = format!("{}/cleat.{word}{more}", role("drawer", &row.path));
            let mut cleat = part(&carcass.stock, role, lay, sizes, [x, Length::ZERO, row.bottom.length()])
                .called("slide cleat")
                .serves(Purpose::Into, Purpose::Mates);
            cleat.hand = Some(hand);
            parts.push(cleat);
        }
    }
    parts
}

/// What is still to be packed out between the cleats and the frame's inner edge, left and right.
pub(super) fn packing(carcass: &Carcass, row: &Row<'_>) -> [Length; 2] {
    let thick = carcass.stock.thickness.length();
    let left = row.bays.first().map_or(Length::ZERO, |bay| bay.left - thick);
    let right = carcass.width.length() - thick - row.right();
    [left, right].map(|space| space - thick * space.fits(thick).min(3))
}

#[cfg(test)]
mod tests {
    use dryfit_measure::Pointer;

    use super::*;

    fn dim(length: Length) -> Dim {
        Dim::taped(length, Pointer::root().child("tested"))
    }

    #[test]
    fn side_mount_takes_an_inch() {
        // C-side-15: opening 15 in, side-mount slides 1/2 in a side (custom-drawer measuring guide)
        let width = box_width(&dim(Length::inches(15, 0, 1)), &dim(Length::inches(0, 1, 2)));
        assert_eq!(width.length(), Length::inches(14, 0, 1));
    }

    #[test]
    fn undermount_takes_42_mm_less_both_sides() {
        // C-under-*: deduction from the opening, by side thickness in micrometres (custom-drawer measuring
        // guide; its own figures are rounded to 1/32 in). Each side loses 21 mm less the side itself.
        for (side, deduction) in [(15_875, 10_250), (12_700, 16_600), (15_000, 12_000), (12_319, 17_362)] {
            let opening = Length::mm(400);
            let each = Length::mm(21) - Length::um(side);
            let off = opening - box_width(&dim(opening), &dim(each)).length();
            assert_eq!(off, Length::um(deduction), "{side} um");
        }
        // C-under-1575: 15 3/4 in, sides 5/8: 15.375 in nominal, to 0.04 in
        let each = Length::mm(21) - Length::inches(0, 5, 8);
        let width = box_width(&dim(Length::inches(15, 3, 4)), &dim(each)).length().as_inches_f64();
        assert!((width - 15.375).abs() < 0.04, "{width}");
    }
}
