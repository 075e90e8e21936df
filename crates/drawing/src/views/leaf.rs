//! A door or drawer: its front with its parts in place, a drawer's box from above below it, and the joint of
//! stile and panel in section.

use std::collections::BTreeMap;

use dryfit_measure::{Figure, Length};
use dryfit_plan::Plan;
use dryfit_stages::casework::{BuiltUnit, Edge, Operation, OperationKind, Part};

use crate::metrics::figure_width;
use crate::paper::{Anchor, Drawing, HatchKind, Pen, Point, Shape, Stroke, Weight, Words};
use crate::rows::{RowMark, Side};
use crate::sketch::{Frame, Margins, Sketch, rectangle};
use crate::tape::sized;

/// Size of the marks, points.
const MARK: f64 = 17.0;

/// Points from a front to the numbers beside it, with the leaders between them.
const BESIDE: f64 = 40.0;

/// How deep a drawer's box is drawn at most, as a share of its front's width.
const BOX_SHARE: f64 = 0.45;

/// Points up to which a front is low: what is written on it stands side by side.
const LOW: f64 = 130.0;

/// A part's box in its unit, mm.
fn solid(part: &Part) -> [[f64; 3]; 2] {
    [part.solid.min, part.solid.max].map(|corner| corner.map(Length::as_mm_f64))
}

/// Whether a part is of the front: it stands before the box, its broad side to the front.
pub(super) fn is_front(part: &Part) -> bool {
    part.solid.axes[2] == 1
        && part.role.split('/').next_back() != Some("back")
        && part.good_face == dryfit_stages::casework::Face::Front
}

/// A place on a part in unit coordinates, across the unit (x) and up (z).
fn in_unit(part: &Part, along: f64, across: f64) -> Point {
    let [min, max] = solid(part);
    let mut at =
        [f64::midpoint(min[0], max[0]), f64::midpoint(min[1], max[1]), f64::midpoint(min[2], max[2])];
    for (index, value) in [(0, along), (1, across)] {
        let axis = usize::from(part.solid.axes[index]);
        at[axis] = if part.solid.forward[index] { min[axis] + value } else { max[axis] - value };
    }
    [at[0], at[2]]
}

/// One leaf of a unit: `parts` are its parts, `numbers` what each is called on the page. `None` without a front.
pub fn leaf(
    plan: &Plan,
    unit: &BuiltUnit,
    parts: &[&Part],
    numbers: &BTreeMap<&str, u32>,
    alt: impl Into<String>,
    frame: Frame,
) -> Option<Drawing> {
    let (fronts, boxed): (Vec<&Part>, Vec<&Part>) = parts.iter().copied().partition(|part| is_front(part));
    let bounds = |parts: &[&Part], axis: usize| {
        let low = parts.iter().map(|part| solid(part)[0][axis]).fold(f64::MAX, f64::min);
        let high = parts.iter().map(|part| solid(part)[1][axis]).fold(f64::MIN, f64::max);
        (low, high)
    };
    if fronts.is_empty() {
        return None;
    }
    let ((left, right), (bottom, top)) = (bounds(&fronts, 0), bounds(&fronts, 2));
    let (width, height) = (right - left, top - bottom);
    // no mark beside it is wider than that of its height, but for a half that another place may have
    let widest = [height, height - 0.5].map(|at| figure_width(&figure(plan, Length::from_mm_f64(at)), MARK));
    let beside = (BESIDE + widest[0].max(widest[1])).max(66.0);
    let margins =
        Margins { left: beside, right: 30.0, bottom: if boxed.is_empty() { 58.0 } else { 16.0 }, top: 22.0 };
    // the box lies under the front, its row of marks between them
    let (near, deep) = if boxed.is_empty() { (0.0, 0.0) } else { bounds(&boxed, 1) };
    // nothing is measured on it: a deep box is drawn shortened, so that the front stays large
    let squeeze = (BOX_SHARE * width / (deep - near).max(1.0)).min(1.0);
    let depth = (deep - near) * squeeze;
    let row_points = 84.0;
    let scale = ((frame.width - margins.left - margins.right) / width).min(
        (frame.height - margins.top - margins.bottom - if boxed.is_empty() { 0.0 } else { row_points })
            / (height + depth),
    );
    let gap = if boxed.is_empty() { 0.0 } else { row_points / scale.max(1e-9) };
    let things = [[0.0, -gap - depth], [width, height]];
    let mut sketch = Sketch::new(alt, things, margins, frame);

    let mut labels: Vec<(u32, Point)> = Vec::new();
    sketch.layer("front");
    // panels lie in grooves behind stiles and rails
    for part in fronts
        .iter()
        .filter(|part| part.name == "panel")
        .chain(fronts.iter().filter(|part| part.name != "panel"))
    {
        let [min, max] = solid(part);
        let (low, high) = ([min[0] - left, min[2] - bottom], [max[0] - left, max[2] - bottom]);
        sketch.about(format!("{}/{}", unit.key, part.role));
        let [low, high] = shoulders(part, low, high);
        sketch.face(&rectangle(low, high), Pen::Edge);
        if let Some(number) = numbers.get(part.role.as_str()) {
            // the middle of a low panel is the pull's
            let share = if part.name == "panel" && height / sketch.pt(1.0) <= LOW { 0.25 } else { 0.5 };
            labels.push((*number, [low[0] + share * (high[0] - low[0]), f64::midpoint(low[1], high[1])]));
        }
    }
    sketch.layer("bands");
    for part in fronts.iter().filter(|part| !part.bands.is_empty()) {
        for (n, band) in (1..).zip(&part.bands) {
            let (long, wide) = (part.length.length().as_mm_f64(), part.width.length().as_mm_f64());
            let ends = match band.edge {
                Edge::Near => [[0.0, 0.0], [long, 0.0]],
                Edge::Far => [[0.0, wide], [long, wide]],
                Edge::LeftEnd => [[0.0, 0.0], [0.0, wide]],
                Edge::RightEnd => [[long, 0.0], [long, wide]],
            };
            let edge = ends.map(|[along, across]| {
                let [x, z] = in_unit(part, along, across);
                [x - left, z - bottom]
            });
            super::part::banded(&mut sketch, edge, [width, height], n);
        }
    }
    if fronts.len() > 1 {
        let inset = sketch.pt(7.0);
        let triangle = [[inset, inset], [width - inset, inset], [width / 2.0, height - inset]];
        sketch.layer("triangle").outline(&triangle, Pen::Thin, Stroke::Dash);
    }
    let (mut across, mut up) = (Vec::new(), Vec::new());
    marks(plan, &fronts, [left, bottom], [width, height], &mut across, &mut up);
    bore(&mut sketch, plan, &fronts, [left, bottom], &mut across, &mut up);
    words(&mut sketch, &fronts, &labels, [width, height]);
    if !boxed.is_empty() {
        from_above(&mut sketch, unit, &boxed, numbers, [left, -gap, near], squeeze);
    }
    sketch.layer("dimensions");
    let (below, beside) = (-sketch.pt(18.0), -sketch.pt(18.0));
    sketch.marks_row(Side::Below, 0.0, below, &across, MARK);
    sketch.marks_row(Side::Left, 0.0, beside, &up, MARK);
    Some(sketch.finish())
}

/// A rail without its tongues: what is seen of it between the stiles.
fn shoulders(part: &Part, mut low: Point, mut high: Point) -> [Point; 2] {
    for operation in part.operations.iter().filter(|operation| operation.kind == OperationKind::Cope) {
        let depth = operation.depth.length().as_mm_f64();
        let at_start = operation.along[0].length().is_zero();
        let axis = usize::from(part.solid.axes[0] == 2);
        if at_start == part.solid.forward[0] { low[axis] += depth } else { high[axis] -= depth }
    }
    [low, high]
}

fn figure(plan: &Plan, length: Length) -> Figure {
    sized(length, plan.fineness)
}

fn mark(plan: &Plan, at: f64, what: &str) -> RowMark {
    RowMark { at, figure: figure(plan, Length::from_mm_f64(at)), what: what.to_owned() }
}

/// Ends of the front, and the inner edges of stiles and rails.
fn marks(
    plan: &Plan,
    fronts: &[&Part],
    [left, bottom]: Point,
    [width, height]: Point,
    across: &mut Vec<RowMark>,
    up: &mut Vec<RowMark>,
) {
    across.push(mark(plan, 0.0, "left edge"));
    up.push(mark(plan, 0.0, "lower edge"));
    for part in fronts.iter().filter(|part| part.name.starts_with("stile")) {
        let [min, max] = solid(part);
        let inner = if min[0] - left < width / 2.0 { max[0] - left } else { min[0] - left };
        across.push(mark(plan, inner, &part.name));
    }
    for part in fronts.iter().filter(|part| part.name == "rail") {
        let [min, max] = solid(part);
        let inner = if min[2] - bottom < height / 2.0 { max[2] - bottom } else { min[2] - bottom };
        up.push(mark(plan, inner, &part.name));
    }
    across.push(mark(plan, width, "right edge"));
    up.push(mark(plan, height, "upper edge"));
}

/// Hinge cups and pull holes, with their centres in the rows.
fn bore(
    sketch: &mut Sketch,
    plan: &Plan,
    fronts: &[&Part],
    [left, bottom]: Point,
    across: &mut Vec<RowMark>,
    up: &mut Vec<RowMark>,
) {
    let bored =
        |operation: &&Operation| matches!(operation.kind, OperationKind::HingeCup | OperationKind::PullHoles);
    sketch.layer("holes");
    for part in fronts {
        for operation in part.operations.iter().filter(bored) {
            let Some(holes) = &operation.holes else { continue };
            let ends = [0, 1].map(|i| {
                let at = in_unit(
                    part,
                    operation.along[i].length().as_mm_f64(),
                    operation.across[i].length().as_mm_f64(),
                );
                [at[0] - left, at[1] - bottom]
            });
            let stroke = if operation.on_good_face { Stroke::Solid } else { Stroke::Dash };
            let radius = (holes.bit.length().as_mm_f64() / 2.0).max(sketch.pt(2.2));
            for i in 0..holes.count {
                let share = if holes.count > 1 { f64::from(i) / f64::from(holes.count - 1) } else { 0.0 };
                let at = [0, 1].map(|k| ends[0][k] + share * (ends[1][k] - ends[0][k]));
                sketch.shape(Shape::Circle { at, radius, pen: Pen::Thin, stroke });
                let arm = radius + sketch.pt(3.0);
                sketch.line(&[[at[0] - arm, at[1]], [at[0] + arm, at[1]]], Pen::Hair);
                sketch.line(&[[at[0], at[1] - arm], [at[0], at[1] + arm]], Pen::Hair);
                up.push(mark(plan, at[1], &operation.what));
                across.push(mark(plan, at[0], &operation.what));
            }
        }
    }
    for row in [across, up] {
        row.sort_by(|a, b| a.at.total_cmp(&b.at));
        row.dedup_by(|b, a| (a.at - b.at).abs() < 0.05);
    }
}

/// Numbers of the parts, the good face and the grain of the panel or of the front in one piece.
fn words(sketch: &mut Sketch, fronts: &[&Part], labels: &[(u32, Point)], [width, height]: Point) {
    sketch.layer("words");
    for (number, at) in labels {
        sketch.shape(Shape::Balloon { at: *at, number: *number });
    }
    let Some(broad) = fronts.iter().find(|part| part.name == "panel").or(fronts.first()) else { return };
    let upright = broad.solid.axes[0] == 2;
    let points = sketch.pt(1.0);
    let (x, y) = (width / 2.0, height / 2.0);
    if height / points > LOW {
        sketch.shape(Shape::Grain {
            at: [x, y + sketch.pt(42.0)],
            length: 44.0,
            turn: if upright { 90.0 } else { 0.0 },
        });
        sketch.shape(Shape::FaceMark { at: [x - sketch.pt(42.0), y - sketch.pt(32.0)], size: 26.0 });
        sketch.text(
            [x - sketch.pt(26.0), y - sketch.pt(32.0)],
            "GOOD FACE",
            12.5,
            Weight::Semibold,
            Anchor::Left,
        );
    } else {
        sketch.shape(Shape::Grain {
            at: [x + width / 4.0, y],
            length: if upright { (0.6 * height / points).min(40.0) } else { 40.0 },
            turn: if upright { 90.0 } else { 0.0 },
        });
    }
}

/// A drawer's box from above, its front edge uppermost, under the front that it carries.
fn from_above(
    sketch: &mut Sketch,
    unit: &BuiltUnit,
    boxed: &[&Part],
    numbers: &BTreeMap<&str, u32>,
    [left, top, near]: [f64; 3],
    squeeze: f64,
) {
    let place = |part: &Part| {
        let [min, max] = solid(part);
        let y = |deep: f64| top - (deep - near) * squeeze;
        ([min[0] - left, y(max[1])], [max[0] - left, y(min[1])])
    };
    let lies = |part: &Part| part.solid.axes[2] == 2;
    sketch.layer("box");
    for part in boxed.iter().filter(|part| !lies(part)) {
        let (low, high) = place(part);
        sketch.about(format!("{}/{}", unit.key, part.role)).face(&rectangle(low, high), Pen::Edge);
    }
    for part in boxed.iter().filter(|part| lies(part)) {
        let (low, high) = place(part);
        sketch.about(format!("{}/{}", unit.key, part.role)).rectangle(low, high, Pen::Thin, Stroke::Dash);
    }
    let inside = sketch.pt(15.0);
    let middle_of = |parts: &[&Part]| {
        let low = parts.iter().map(|part| place(part).0[0]).fold(f64::MAX, f64::min);
        let high = parts.iter().map(|part| place(part).1[0]).fold(f64::MIN, f64::max);
        f64::midpoint(low, high)
    };
    let middle = middle_of(boxed);
    for part in boxed {
        let Some(number) = numbers.get(part.role.as_str()) else { continue };
        let (low, high) = place(part);
        let [x, y] = [f64::midpoint(low[0], high[0]), f64::midpoint(low[1], high[1])];
        // thin pieces have their number beside them, inside the box
        let at = match part.solid.axes[2] {
            0 => [if x < middle { high[0] + inside } else { low[0] - inside }, y - (high[1] - low[1]) / 5.0],
            1 => [
                x,
                if y > top - 0.5 * (high[1] - low[1]) - inside { low[1] - inside } else { high[1] + inside },
            ],
            // clear of the numbers of front, back and sides, however shallow the box is drawn
            _ => [x - (high[0] - low[0]) / 4.0, y + (high[1] - low[1]) / 5.0],
        };
        sketch.shape(Shape::Balloon { at, number: *number });
    }
    let called = if squeeze < 1.0 { "box from above, shortened" } else { "box from above" };
    sketch.text([middle, top + sketch.pt(9.0)], called, 12.0, Weight::Semibold, Anchor::Centre);
}

/// The joint of a stile and the panel, cut across, so many times full size. `None` where there is none.
pub fn joint(plan: &Plan, parts: &[&Part], frame: Frame) -> Option<Drawing> {
    let stile = parts.iter().find(|part| part.name.starts_with("stile"))?;
    let panel = parts.iter().find(|part| part.name == "panel")?;
    let stick = stile.operations.iter().find(|operation| operation.kind == OperationKind::Stick)?;
    let [from, to] = stick.in_thickness.as_ref()?.each_ref().map(|dim| dim.length().as_mm_f64());
    let (width, thick) = (stile.width.length().as_mm_f64(), stile.thickness.length().as_mm_f64());
    let depth = stick.depth.length().as_mm_f64();
    let [[left, ..], [right, ..]] = solid(stile);
    let [[panel_left, ..], [panel_right, ..]] = solid(panel);
    // how far the panel stays off the bottom of the groove
    let gap = if panel_left < right && left < panel_left {
        panel_left - (right - depth)
    } else {
        left + depth - panel_right
    };
    let shown = width * 0.75;
    let past = width * 0.55;
    let margins = Margins { left: 8.0, right: 8.0, bottom: 30.0, top: 34.0 };
    let alt = format!(
        "Stile and panel in section: groove {} deep and {} wide, the panel {} off its bottom",
        figure(plan, stick.depth.length()).bare(),
        figure(plan, panel.thickness.length()).bare(),
        figure(plan, Length::from_mm_f64(gap)).bare()
    );
    let mut sketch = Sketch::new(alt, [[0.0, 0.0], [shown + past, thick]], margins, frame);
    let y = |from_good_face: f64| thick - from_good_face;
    let groove = shown - depth;
    let outline = [
        [0.0, 0.0],
        [shown, 0.0],
        [shown, y(to)],
        [groove, y(to)],
        [groove, y(from)],
        [shown, y(from)],
        [shown, thick],
        [0.0, thick],
    ];
    sketch.layer("stile").hatched(&outline, HatchKind::Cut).outline(&outline, Pen::Heavy, Stroke::Solid);
    let board = rectangle([groove + gap, y(to)], [shown + past, y(from)]);
    sketch.layer("panel").hatched(&board, HatchKind::Along).outline(&board, Pen::Edge, Stroke::Solid);
    sketch.layer("dimensions");
    let (line, slant) = (thick + sketch.pt(10.0), sketch.pt(4.0));
    sketch.line(&[[groove, line], [shown, line]], Pen::Thin);
    for x in [groove, shown] {
        sketch.line(&[[x - slant, line - slant], [x + slant, line + slant]], Pen::Edge);
    }
    let number = |length: Length| Words::Figure(figure(plan, length));
    let said = |text: &str| Words::Plain(text.to_owned());
    sketch.figure(
        [f64::midpoint(groove, shown), line + sketch.pt(13.0)],
        figure(plan, stick.depth.length()),
        15.0,
        Anchor::Centre,
    );
    sketch.words(
        [shown + past, line + sketch.pt(13.0)],
        vec![said("panel"), number(panel.thickness.length())],
        15.0,
        Weight::Semibold,
        Anchor::Right,
    );
    sketch.text([sketch.pt(8.0), thick / 2.0], "stile", 13.0, Weight::Semibold, Anchor::Left);
    let at = [groove + gap / 2.0, y(f64::midpoint(from, to))];
    sketch.line(&[at, [at[0], -sketch.pt(8.0)]], Pen::Hair);
    sketch.words(
        [at[0], -sketch.pt(19.0)],
        vec![said("gap"), number(Length::from_mm_f64(gap)), said("each end")],
        15.0,
        Weight::Semibold,
        Anchor::Centre,
    );
    sketch.row("groove, depth", figure(plan, stick.depth.length()));
    Some(sketch.finish())
}
