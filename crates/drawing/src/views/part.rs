//! One part, good face up, with what is done to it: rows of cumulative marks from two named edges, and what each
//! operation is beside it.
//!
//! An upright part stands as it will stand in its unit. What is worked from the other face is dashed.

use dryfit_measure::{Dim, Figure, Length};
use dryfit_plan::{Hand, Plan};
use dryfit_stages::casework::{BuiltUnit, Edge, Face, Operation, OperationKind, Part};

use crate::paper::{Anchor, Drawing, HatchKind, Pen, Point, Shape, Stroke, Weight, Words};
use crate::rows::{RowMark, Side};
use crate::sketch::{Frame, Margins, Sketch, rectangle};
use crate::spread::spread;
use crate::tape::sized;

/// Size of the marks, points.
const MARK: f64 = 18.0;
/// Size of what stands beside the drawing, points.
const NOTE: f64 = 15.0;
/// A line of a note, points.
const NOTE_LINE: f64 = 22.0;
/// Narrower than this on the paper (points), a part holds fewer words.
const NARROW: f64 = 190.0;

/// How a part's own coordinates lie on the paper.
struct Lie {
    /// Along the paper's y, else along its x.
    upright: bool,
    /// Whether the part's length runs towards greater paper coordinates.
    forward: bool,
    length: f64,
    width: f64,
}

impl Lie {
    fn of(part: &Part) -> Lie {
        let upright = part.solid.axes[0] == 2;
        Lie {
            upright,
            forward: part.solid.forward[0],
            length: part.length.length().as_mm_f64(),
            width: part.width.length().as_mm_f64(),
        }
    }

    /// Width and height on the paper, mm.
    fn size(&self) -> Point {
        if self.upright { [self.width, self.length] } else { [self.length, self.width] }
    }

    fn is_narrow(&self, sketch: &Sketch) -> bool {
        self.size()[0] / sketch.pt(1.0) < NARROW
    }

    /// A place on the part, seen on its good face: a turn of the part as it lies, never a mirror image.
    fn place(&self, along: f64, across: f64) -> Point {
        match (self.upright, self.forward) {
            (true, true) => [self.width - across, along],
            (true, false) => [across, self.length - along],
            (false, true) => [along, across],
            (false, false) => [self.length - along, self.width - across],
        }
    }
}

/// A part with its operations. `size` is what it is once its edges are banded, along the grain and across.
pub fn part(plan: &Plan, unit: &BuiltUnit, part: &Part, size: [Length; 2], frame: Frame) -> Drawing {
    let lie = Lie::of(part);
    let [width, height] = lie.size();
    let margins = Margins { left: 92.0, right: 128.0, bottom: 62.0, top: 24.0 };
    let alt = alt(plan, unit, part, size);
    let mut sketch = Sketch::new(alt, [[0.0, 0.0], [width, height]], margins, frame);

    let outline = outline(part, &lie);
    sketch.layer("part").about(format!("{}/{}", unit.key, part.role)).outline(
        &outline,
        Pen::Edge,
        Stroke::Solid,
    );
    let mut row = Rows { along: vec![], across: vec![] };
    row.whole(plan, &lie, size);
    let named = lettered(&part.operations);
    for (_, operations) in &named {
        for operation in operations {
            work(&mut sketch, &lie, operation);
            row.add(plan, &lie, part, operation);
        }
    }
    notes(&mut sketch, plan, &lie, &named);
    edges(&mut sketch, &lie, part);
    bands(&mut sketch, &lie, part);
    inscription(&mut sketch, &lie, unit, part);
    let below = -sketch.pt(22.0);
    let beside = -sketch.pt(if lie.is_narrow(&sketch) { 32.0 } else { 22.0 });
    let (across, along) = row.sorted(&lie);
    sketch.layer("dimensions");
    sketch.marks_row(Side::Below, 0.0, below, &across, MARK);
    sketch.marks_row(Side::Left, 0.0, beside, &along, MARK);
    sketch.finish()
}

fn alt(plan: &Plan, unit: &BuiltUnit, part: &Part, [length, width]: [Length; 2]) -> String {
    let hand = match part.hand {
        Some(Hand::Left) => ", left",
        Some(Hand::Right) => ", right",
        None => "",
    };
    format!(
        "{} {}{hand}, {} × {}, good face up, with {} operations marked from its edges",
        unit.key,
        part.name,
        figure(plan, length).bare(),
        figure(plan, width).bare(),
        part.operations.len()
    )
}

fn figure(plan: &Plan, length: Length) -> Figure {
    sized(length, plan.fineness)
}

fn mm(dim: &Dim) -> f64 {
    dim.length().as_mm_f64()
}

/// The corners of an operation on the paper: low and high.
fn area(lie: &Lie, operation: &Operation) -> [Point; 2] {
    let a = lie.place(mm(&operation.along[0]), mm(&operation.across[0]));
    let b = lie.place(mm(&operation.along[1]), mm(&operation.across[1]));
    [[a[0].min(b[0]), a[1].min(b[1])], [a[0].max(b[0]), a[1].max(b[1])]]
}

/// The outline without what is notched out of its corners.
fn outline(part: &Part, lie: &Lie) -> Vec<Point> {
    let [w, h] = lie.size();
    let mut corners: Vec<Vec<Point>> =
        rectangle([0.0, 0.0], [w, h]).iter().map(|corner| vec![*corner]).collect();
    for operation in part.operations.iter().filter(|operation| operation.kind == OperationKind::Notch) {
        let [low, high] = area(lie, operation);
        let at = |x: f64, y: f64| low[0] <= x && x <= high[0] && low[1] <= y && y <= high[1];
        if at(0.0, 0.0) {
            corners[0] = vec![[0.0, high[1]], [high[0], high[1]], [high[0], 0.0]];
        } else if at(w, 0.0) {
            corners[1] = vec![[low[0], 0.0], [low[0], high[1]], [w, high[1]]];
        } else if at(w, h) {
            corners[2] = vec![[w, low[1]], [low[0], low[1]], [low[0], h]];
        } else if at(0.0, h) {
            corners[3] = vec![[high[0], h], [high[0], low[1]], [0.0, low[1]]];
        }
    }
    corners.concat()
}

/// Operations under letters, equal sorts of the same thing together, notches last: they take away the edge that
/// the marks are made from.
fn lettered(operations: &[Operation]) -> Vec<(char, Vec<&Operation>)> {
    let mut sorts: Vec<Vec<&Operation>> = Vec::new();
    for operation in operations {
        let alike = |sort: &&mut Vec<&Operation>| {
            let first = sort[0];
            first.kind == operation.kind
                && first.depth.length() == operation.depth.length()
                && narrow(first) == narrow(operation)
        };
        match sorts.iter_mut().find(alike) {
            Some(sort) => sort.push(operation),
            None => sorts.push(vec![operation]),
        }
    }
    sorts.sort_by_key(|sort| sort[0].kind == OperationKind::Notch);
    ('a'..='z').zip(sorts).collect()
}

/// The lesser side of an operation: how wide a dado or groove is.
fn narrow(operation: &Operation) -> Length {
    let side = |of: &[Dim; 2]| of[1].length() - of[0].length();
    side(&operation.along).min(side(&operation.across))
}

/// Draws one operation.
fn work(sketch: &mut Sketch, lie: &Lie, operation: &Operation) {
    let [low, high] = area(lie, operation);
    let stroke = if operation.on_good_face { Stroke::Solid } else { Stroke::Dash };
    sketch.layer("operations");
    match (operation.kind, &operation.holes) {
        (OperationKind::Notch, _) => {
            sketch.rectangle(low, high, Pen::Thin, Stroke::Dash);
            sketch.line(&[low, high], Pen::Thin);
            sketch.line(&[[low[0], high[1]], [high[0], low[1]]], Pen::Thin);
        }
        (_, Some(holes)) => {
            let radius = (mm(&holes.bit) / 2.0).max(sketch.pt(2.0));
            let gaps = f64::from(holes.count.max(2) - 1);
            sketch.stroke(&[low, high], Pen::Hair, Stroke::Dash);
            for i in 0..holes.count {
                let share = f64::from(i) / gaps;
                let at = [0, 1].map(|k| low[k] + share * (high[k] - low[k]));
                sketch.shape(Shape::Circle { at, radius, pen: Pen::Thin, stroke });
            }
        }
        _ => {
            sketch.rectangle(low, high, Pen::Thin, stroke);
            let thin = sketch.pt(6.0);
            if operation.on_good_face && (high[0] - low[0]).min(high[1] - low[1]) > thin {
                sketch.hatched(&rectangle(low, high), HatchKind::Along);
            }
        }
    }
}

/// Marks of both rows.
struct Rows {
    along: Vec<RowMark>,
    across: Vec<RowMark>,
}

impl Rows {
    /// The ends.
    fn whole(&mut self, plan: &Plan, lie: &Lie, [length, width]: [Length; 2]) {
        let mark = |at: f64, length: Length, what: &str| RowMark {
            at,
            figure: figure(plan, length),
            what: what.into(),
        };
        self.along.push(mark(0.0, Length::ZERO, "end"));
        self.along.push(mark(lie.length, length, "length"));
        self.across.push(mark(0.0, Length::ZERO, "edge"));
        self.across.push(mark(lie.width, width, "width"));
    }

    /// The edges of an operation that have to be marked; ends of the part are marked already.
    fn add(&mut self, plan: &Plan, lie: &Lie, part: &Part, operation: &Operation) {
        let what = &operation.what;
        for (marks, of, whole, is_along) in [
            (&mut self.along, &operation.along, &part.length, true),
            (&mut self.across, &operation.across, &part.width, false),
        ] {
            for dim in of {
                // measured from the end that the hook is on
                let from_hook =
                    if lie.counts_from_far(is_along) { whole.length() - dim.length() } else { dim.length() };
                if from_hook.is_positive() && from_hook < whole.length() {
                    marks.push(RowMark {
                        at: from_hook.as_mm_f64(),
                        figure: figure(plan, from_hook),
                        what: what.clone(),
                    });
                }
            }
        }
    }

    /// The row under the part and the row beside it.
    fn sorted(mut self, lie: &Lie) -> (Vec<RowMark>, Vec<RowMark>) {
        for marks in [&mut self.along, &mut self.across] {
            marks.sort_by(|a, b| a.at.total_cmp(&b.at));
            marks.dedup_by(|b, a| (a.at - b.at).abs() < 0.05);
        }
        if lie.upright { (self.across, self.along) } else { (self.along, self.across) }
    }
}

impl Lie {
    /// Whether the paper's zero is at the far end of the part's own length (or width).
    fn counts_from_far(&self, along: bool) -> bool {
        let origin = self.place(0.0, 0.0);
        let axis = usize::from(self.upright == along);
        origin[axis] > 0.0
    }
}

/// Named edges, with the v of the face edge on the one that shows.
fn edges(sketch: &mut Sketch, lie: &Lie, part: &Part) {
    let [width, height] = lie.size();
    sketch.layer("edges");
    if let Some(edge) = front_edge(lie, part) {
        sketch.line(&edge, Pen::Named);
        let [x, y] = edge[0];
        // a narrow part is full of marks near its edges: there the name stands beside it
        let inwards = sketch.pt(if lie.is_narrow(sketch) { -14.0 } else { 14.0 });
        let inside = |at: f64, whole: f64| if at < whole / 2.0 { inwards } else { whole - inwards };
        if (x - edge[1][0]).abs() < 0.01 {
            label(sketch, [inside(x, width), height * 0.66], "FRONT EDGE", 13.0, 90.0);
            let (at, arm) = (height - sketch.pt(30.0), sketch.pt(6.0));
            sketch.line(&[[x - arm, at + arm], [x + arm, at], [x - arm, at - arm]], Pen::Edge);
        } else {
            label(sketch, [width / 2.0, inside(y, height)], "FRONT EDGE", 13.0, 0.0);
        }
    }
    if lie.upright {
        label(sketch, [width / 2.0, height + sketch.pt(12.0)], "TOP", 13.0, 0.0);
        label(sketch, [width / 2.0, sketch.pt(12.0)], "BOTTOM EDGE", 13.0, 0.0);
    }
}

/// The ends of an edge on the paper.
fn edge_line(lie: &Lie, edge: Edge) -> [Point; 2] {
    match edge {
        Edge::Near => [lie.place(0.0, 0.0), lie.place(lie.length, 0.0)],
        Edge::Far => [lie.place(0.0, lie.width), lie.place(lie.length, lie.width)],
        Edge::LeftEnd => [lie.place(0.0, 0.0), lie.place(0.0, lie.width)],
        Edge::RightEnd => [lie.place(lie.length, 0.0), lie.place(lie.length, lie.width)],
    }
}

/// Edge bands: a second line along each edge that gets one, with its place in the order.
fn bands(sketch: &mut Sketch, lie: &Lie, part: &Part) {
    let size = lie.size();
    sketch.layer("bands");
    for (n, band) in (1..).zip(&part.bands) {
        banded(sketch, edge_line(lie, band.edge), size, n);
    }
}

/// A band on an edge of a thing of this size, the `n`th that is put on: off the edge, so that both lines show.
pub(super) fn banded(sketch: &mut Sketch, edge: [Point; 2], size: Point, n: u32) {
    let upright = usize::from((edge[0][1] - edge[1][1]).abs() < 0.01);
    // the axis across the edge, and which way is out
    let axis = upright;
    let out = if edge[0][axis] < size[axis] / 2.0 { -1.0 } else { 1.0 };
    let off = |by: f64| sketch.pt(by) * out;
    let (line, name) = (off(3.2), off(11.0));
    let moved = |mut at: Point, by: f64| {
        at[axis] += by;
        at
    };
    let middle = [0, 1].map(|k| edge[0][k] + 0.22 * (edge[1][k] - edge[0][k]));
    sketch.line(&edge.map(|at| moved(at, line)), Pen::Edge);
    label(sketch, moved(middle, name), &format!("band {n}"), 10.5, if upright == 1 { 0.0 } else { 90.0 });
}

/// The front edge on the paper, as far as no notch takes it away.
fn front_edge(lie: &Lie, part: &Part) -> Option<[Point; 2]> {
    let mut edge = edge_line(lie, part.front_edge?);
    let axis = usize::from((edge[0][0] - edge[1][0]).abs() < 0.01);
    for notch in part.operations.iter().filter(|operation| operation.kind == OperationKind::Notch) {
        let [low, high] = area(lie, notch);
        for end in &mut edge {
            if (0..2).all(|k| end[k] >= low[k] - 0.01 && end[k] <= high[k] + 0.01) {
                end[axis] = if end[axis] <= low[axis] + 0.01 { high[axis] } else { low[axis] };
            }
        }
    }
    Some(edge)
}

fn label(sketch: &mut Sketch, at: Point, text: &str, size: f64, turn: f64) {
    let words = vec![Words::Plain(text.to_owned())];
    sketch.shape(Shape::Text {
        at,
        words,
        size,
        weight: Weight::Semibold,
        anchor: Anchor::Centre,
        turn,
        halo: true,
    });
}

/// Its name, the good face and the grain, inside it.
fn inscription(sketch: &mut Sketch, lie: &Lie, unit: &BuiltUnit, part: &Part) {
    let [w, h] = lie.size();
    let narrow = lie.is_narrow(sketch);
    let size = if narrow { 17.0 } else { 24.0 };
    let hand = match part.hand {
        Some(Hand::Left) => "LEFT",
        Some(Hand::Right) => "RIGHT",
        None => "",
    };
    let (x, y) = (w / 2.0, h * 0.36);
    sketch.layer("words");
    sketch.text(
        [x, y + sketch.pt(size * 0.62)],
        format!("{} {}", unit.key, part.name),
        size,
        Weight::Bold,
        Anchor::Centre,
    );
    sketch.text([x, y - sketch.pt(size * 0.62)], hand, size, Weight::Bold, Anchor::Centre);
    let face = match part.good_face {
        Face::Inside => "inside the box",
        Face::Outside => "outside",
        Face::Up => "up",
        Face::Down => "down",
        Face::Front => "to the front",
        Face::Back => "to the back",
    };
    let top = h * 0.86;
    let left = if narrow { w * 0.34 } else { w * 0.42 };
    sketch.shape(Shape::FaceMark { at: [left - sketch.pt(20.0), top], size: 30.0 });
    sketch.text([left, top + sketch.pt(8.0)], "GOOD FACE", 13.0, Weight::Semibold, Anchor::Left);
    sketch.text([left, top - sketch.pt(8.0)], face, 13.0, Weight::Semibold, Anchor::Left);
    if !part.grain {
        return;
    }
    let turn = if lie.upright { 90.0 } else { 0.0 };
    let at = if lie.upright { [w * 0.70, h * 0.62] } else { [w * 0.5, h * 0.6] };
    sketch.shape(Shape::Grain { at, length: 64.0, turn });
    label(sketch, [at[0] - if lie.upright { sketch.pt(11.0) } else { 0.0 }, at[1]], "grain", 11.0, turn);
}

/// What each letter is, at the right of the part, joined to it.
fn notes(sketch: &mut Sketch, plan: &Plan, lie: &Lie, named: &[(char, Vec<&Operation>)]) {
    let [w, h] = lie.size();
    let middle = |operation: &Operation| {
        let [low, high] = area(lie, operation);
        // towards the right, where its note is
        [high[0] - (high[0] - low[0]) * 0.12, f64::midpoint(low[1], high[1])]
    };
    let mut order: Vec<(Point, Vec<Vec<Words>>)> = named
        .iter()
        .map(|(letter, operations)| (middle(operations[0]), told(plan, *letter, operations)))
        .collect();
    order.sort_by(|a, b| a.0[1].total_cmp(&b.0[1]));
    let heights: Vec<f64> =
        order.iter().map(|(_, lines)| sketch.pt(NOTE_LINE * lines.len() as f64 + 4.0)).collect();
    let wanted: Vec<f64> = order.iter().map(|(at, _)| at[1].min(h - sketch.pt(NOTE_LINE))).collect();
    let mut places = spread(&wanted, &heights);
    // pushed back where pushing apart moved them off the paper
    let over = places.last().zip(heights.last()).map_or(0.0, |(top, height)| top + height / 2.0 - h);
    let under = places.first().zip(heights.first()).map_or(0.0, |(low, height)| height / 2.0 - low);
    let shift = if over > 0.0 { -over } else { under.max(0.0) };
    for place in &mut places {
        *place += shift;
    }
    let x = w + sketch.pt(24.0);
    sketch.layer("words");
    for (((anchor, lines), y), height) in order.into_iter().zip(places).zip(heights) {
        let first = y + height / 2.0 - sketch.pt(NOTE_LINE / 2.0 + 2.0);
        sketch.line(&[anchor, [x - sketch.pt(4.0), first]], Pen::Hair);
        sketch.shape(Shape::Dot { at: anchor });
        for (line, words) in lines.into_iter().enumerate() {
            let (indent, weight) = if line == 0 { (0.0, Weight::Bold) } else { (15.0, Weight::Semibold) };
            let at = [x + sketch.pt(indent), first - sketch.pt(NOTE_LINE * line as f64)];
            sketch.words(at, words, NOTE, weight, Anchor::Left);
        }
    }
    for (_, operations) in named {
        let first = operations[0];
        sketch.row(format!("{}, depth", name(first.kind)), figure(plan, first.depth.length()));
    }
}

/// The lines of a note: letter and name, then what to set.
fn told(plan: &Plan, letter: char, operations: &[&Operation]) -> Vec<Vec<Words>> {
    let first = operations[0];
    let said = |text: &str| Words::Plain(text.to_owned());
    let number = |dim: &Dim| Words::Figure(figure(plan, dim.length()));
    let mut lines = vec![vec![said(&format!("{letter}  {}", name(first.kind)))]];
    match (first.kind, &first.holes) {
        (OperationKind::Notch, _) => lines.push(vec![said("saw last")]),
        (_, Some(holes)) => {
            let count: u32 =
                operations.iter().filter_map(|op| op.holes.as_ref()).map(|holes| holes.count).sum();
            lines.push(vec![said(&count.to_string()), said("of"), number(&holes.bit)]);
            if holes.count > 1 {
                lines.push(vec![said("every"), number(&holes.pitch)]);
            }
            lines.push(vec![number(&first.depth), said("deep")]);
        }
        _ => {
            lines.push(vec![Words::Figure(figure(plan, narrow(first))), said("wide")]);
            lines.push(vec![number(&first.depth), said("deep")]);
        }
    }
    if !first.on_good_face {
        lines.push(vec![said("other face")]);
    }
    lines
}

/// What the bench calls an operation.
fn name(kind: OperationKind) -> &'static str {
    match kind {
        OperationKind::Dado => "dado",
        OperationKind::Groove | OperationKind::Stick => "groove",
        OperationKind::Rabbet => "rabbet",
        OperationKind::Notch => "notch",
        OperationKind::PinHoles => "pin holes",
        OperationKind::HingeCup => "hinge cup",
        OperationKind::PocketHoles => "pockets",
        OperationKind::ScrewHoles => "screw holes",
        OperationKind::PlateHoles => "hinge plates",
        OperationKind::SlideHoles => "slide holes",
        OperationKind::HookHoles => "hook holes",
        OperationKind::Cope => "tongue",
        OperationKind::PullHoles => "pull holes",
    }
}
