//! A sheet as it lies: pieces, cuts with their numbers, what is kept and what is waste.

use dryfit_measure::{Figure, Length, Toward};
use dryfit_plan::Plan;
use dryfit_stages::layouts::{CutWay, PlacedPiece, Rect, SawCut, SheetLayout, SheetStack};

use super::key::{Key, Told};
use super::label::{Label, LabelLine};
use crate::paper::{Drawing, HatchKind, Pen, Point, Shape, Stroke, Weight, Words};
use crate::patch::{FLAG, Patch, flag_width, place};
use crate::sketch::{Frame, Margins, Sketch, rectangle};
use crate::tape::{plain_size, sized};

/// Points kept round the sheet: half a flag and a little.
const AROUND: f64 = 12.0;

/// One sheet of a stack, its length from left to right, its first corner at the lower left. `None` if there is no
/// such sheet.
///
/// Each cut carries its number in a flag; the edge that goes to the fence first is drawn thick. No words lie
/// under a flag: where a piece is too small for both, the flag moves along its cut.
pub fn sheet(plan: &Plan, stack: &SheetStack, index: usize, frame: Frame) -> Option<Drawing> {
    drawn(plan, stack, index, frame, 1.0)
}

/// One board of a stack. A board is long and narrow: it is drawn so many times too wide that the names of its
/// pieces find room, as far as the frame is high. `None` if there is no such board.
pub fn board(plan: &Plan, stack: &SheetStack, index: usize, frame: Frame) -> Option<Drawing> {
    drawn(plan, stack, index, frame, 24.0)
}

/// A sheet, drawn up to so many times too wide; its numbers stay what they are.
///
/// What is too small for its name carries a letter, and the letter stands with name and size under the sheet. That
/// takes paper from the sheet, so that more may be too small: it is tried until no name is missing.
fn drawn(plan: &Plan, stack: &SheetStack, index: usize, frame: Frame, most: f64) -> Option<Drawing> {
    let told = stack.sheets.get(index)?;
    let mut key = Key::default();
    loop {
        let bottom = AROUND + key.height(frame);
        let scale = (frame.width - 2.0 * AROUND) / told.length.as_mm_f64().max(1.0);
        let times = (frame.height - AROUND - bottom) / (told.width.as_mm_f64() * scale).max(0.1);
        let times = times.floor().clamp(1.0, most) as i64;
        let layout = &widened(told, times);
        let size = [layout.length.as_mm_f64(), layout.width.as_mm_f64()];
        // the key is as wide as the paper, however narrow the sheet above it has become
        let high = (frame.height - AROUND - bottom) / size[1].max(1.0);
        let beside =
            AROUND + ((frame.width - 2.0 * AROUND - size[0] * high.max(0.0).min(scale)) / 2.0).max(0.0);
        let beside = if key.is_empty() { AROUND } else { beside };
        let margins = Margins { left: beside, right: beside, bottom, top: AROUND };
        let mut sketch = Sketch::new(alt(plan, stack, index, told), [[0.0, 0.0], size], margins, frame);
        let texts = texts(plan, told, layout);
        let placed = place_words(&sketch, layout, &texts, &key);
        let missing = placed.missing(&texts, &key);
        if !missing.is_empty() {
            for text in missing {
                key.add(&text.told);
            }
            continue;
        }
        draw_waste(&mut sketch, layout);
        draw_pieces(&mut sketch, layout);
        draw_cuts(&mut sketch, layout);
        draw_edges(&mut sketch, told, times);
        placed.draw(&mut sketch, layout, &texts);
        key.draw(&mut sketch, frame);
        for piece in &told.pieces {
            let [length, width] = sides(piece);
            sketch.row(format!("{}, length", piece.label), sized(length, plan.fineness));
            sketch.row(format!("{}, width", piece.label), sized(width, plan.fineness));
        }
        return Some(sketch.finish());
    }
}

/// The layout with everything across the sheet so many times as wide.
fn widened(layout: &SheetLayout, times: i64) -> SheetLayout {
    let mut wide = layout.clone();
    wide.width = wide.width * times;
    let rects = wide.pieces.iter_mut().map(|piece| &mut piece.rect);
    let rects = rects.chain(wide.offcuts.iter_mut().map(|offcut| &mut offcut.rect)).chain(&mut wide.waste);
    for rect in rects {
        rect.y = rect.y * times;
        rect.width = rect.width * times;
    }
    for [_, across] in wide.cuts.iter_mut().flat_map(|cut| &mut cut.line) {
        *across = *across * times;
    }
    wide
}

fn alt(plan: &Plan, stack: &SheetStack, index: usize, layout: &SheetLayout) -> String {
    let good = plan.goods.get(&stack.good).map_or(stack.good.as_str(), |good| good.name.as_str());
    let pieces: Vec<String> = layout
        .pieces
        .iter()
        .map(|piece| {
            let [length, width] = sides(piece);
            format!("{} {}", piece.label, plain_size(length, width, plan.fineness))
        })
        .collect();
    let kept: Vec<String> = layout
        .offcuts
        .iter()
        .map(|offcut| {
            let Rect { length, width, .. } = offcut.rect;
            format!("; offcut {} {} to keep", offcut.name, plain_size(length, width, plan.fineness))
        })
        .collect();
    format!(
        "Sheet {} of {} of {good}, {}, as it lies, with {} cuts in order: {}{}",
        index + 1,
        stack.sheets.len(),
        plain_size(layout.length, layout.width, plan.fineness),
        layout.cuts.len(),
        pieces.join(", "),
        kept.concat()
    )
}

/// Length and width of a piece as it will be used, however it lies.
pub(crate) fn sides(piece: &PlacedPiece) -> [Length; 2] {
    let Rect { length, width, .. } = piece.rect;
    if piece.turned { [width, length] } else { [length, width] }
}

/// The corners of a rectangle on a sheet, mm.
pub(crate) fn corners(rect: &Rect) -> [Point; 2] {
    let low = [rect.x.as_mm_f64(), rect.y.as_mm_f64()];
    [low, [low[0] + rect.length.as_mm_f64(), low[1] + rect.width.as_mm_f64()]]
}

fn draw_waste(sketch: &mut Sketch, layout: &SheetLayout) {
    sketch.layer("waste");
    for waste in &layout.waste {
        let [low, high] = corners(waste);
        sketch.hatched(&rectangle(low, high), HatchKind::Waste);
    }
}

fn draw_pieces(sketch: &mut Sketch, layout: &SheetLayout) {
    for piece in &layout.pieces {
        let [low, high] = corners(&piece.rect);
        sketch.layer("pieces").about(piece.path.clone()).face(&rectangle(low, high), Pen::Hair);
    }
    let inset = sketch.pt(1.6);
    for offcut in &layout.offcuts {
        let [low, high] = corners(&offcut.rect);
        let inner = [[low[0] + inset, low[1] + inset], [high[0] - inset, high[1] - inset]];
        sketch.layer("offcuts").rectangle(inner[0], inner[1], Pen::Edge, Stroke::Dash);
    }
}

fn ends(cut: &SawCut) -> [Point; 2] {
    cut.line.map(|[x, y]| [x.as_mm_f64(), y.as_mm_f64()])
}

fn draw_cuts(sketch: &mut Sketch, layout: &SheetLayout) {
    sketch.layer("cuts");
    for cut in &layout.cuts {
        let [a, b] = ends(cut);
        let through = match cut.way {
            CutWay::Rip => (a[0] - b[0]).abs() > layout.length.as_mm_f64() * 0.9,
            CutWay::Cross => (a[1] - b[1]).abs() > layout.width.as_mm_f64() * 0.9,
        };
        sketch.line(&[a, b], if through && !cut.trim { Pen::Heavy } else { Pen::Edge });
    }
}

/// The outline, and the edge that goes to the fence first.
fn draw_edges(sketch: &mut Sketch, layout: &SheetLayout, times: i64) {
    let (l, w) = (layout.length.as_mm_f64(), layout.width.as_mm_f64());
    let high = w * times as f64;
    sketch.layer("sheet").rectangle([0.0, 0.0], [l, high], Pen::Edge, Stroke::Solid);
    let Some(first) = layout.cuts.first() else { return };
    let [a, _] = ends(first);
    // A factory edge is trimmed from the far one; any other setting is read from the edge it lies so far from.
    let low = |at: f64, whole: f64| match first.setting {
        Some(setting) if !first.trim => {
            (at - setting.as_mm_f64()).abs() <= (whole - at - setting.as_mm_f64()).abs()
        }
        _ => at > whole / 2.0,
    };
    let edge = match first.way {
        CutWay::Rip if low(a[1], w) => [[0.0, 0.0], [l, 0.0]],
        CutWay::Rip => [[0.0, high], [l, high]],
        CutWay::Cross if low(a[0], l) => [[0.0, 0.0], [0.0, high]],
        CutWay::Cross => [[l, 0.0], [l, high]],
    };
    sketch.line(&edge, Pen::Named);
}

/// Flags and labels that have found their places.
struct PlacedWords {
    flags: Vec<Patch>,
    labels: Vec<Option<Label>>,
}

/// Places flags and labels. Whoever finds no place free the first time is placed first the next.
fn place_words(sketch: &Sketch, layout: &SheetLayout, texts: &[Text], key: &Key) -> PlacedWords {
    let fit = |text: &Text, largest: f64, taken: &[Patch]| match key.letter(&text.told) {
        Some(letter) => Some(Label::letter(sketch, letter, text.room, taken)),
        None => Label::fit(sketch, &text.ways, text.room, largest, taken),
    };
    let mut first: Vec<Patch> = Vec::new();
    let mut best: Option<(f64, PlacedWords)> = None;
    for _ in 0..5 {
        let flags = place_flags(sketch, layout, &first);
        let labels: Vec<Option<Label>> = texts.iter().map(|text| fit(text, 17.0, &flags)).collect();
        let clash: f64 = labels.iter().map(|label| label.as_ref().map_or(0.0, |label| label.clash)).sum();
        let crowded: Vec<Patch> = labels
            .iter()
            .zip(texts)
            .filter(|(label, _)| label.as_ref().is_some_and(|label| label.clash > 0.0))
            .filter_map(|(_, text)| fit(text, LEAST, &[]))
            .map(|label| label.patch().grown(sketch.pt(1.5)))
            .collect();
        if best.as_ref().is_none_or(|(least, _)| clash < *least) {
            best = Some((clash, PlacedWords { flags, labels }));
        }
        if crowded.is_empty() {
            break;
        }
        first.extend(crowded);
    }
    best.map_or_else(|| PlacedWords { flags: Vec::new(), labels: Vec::new() }, |(_, placed)| placed)
}

impl PlacedWords {
    /// What has no name yet that can be read, and no letter either.
    fn missing<'t>(&self, texts: &'t [Text], key: &Key) -> Vec<&'t Text> {
        let reads = |label: &Label| label.clash <= 0.0 && label.size() >= LEAST;
        let unread = self.labels.iter().zip(texts).filter(|(label, _)| !label.as_ref().is_some_and(reads));
        unread.map(|(_, text)| text).filter(|text| key.letter(&text.told).is_none()).collect()
    }

    fn draw(&self, sketch: &mut Sketch, layout: &SheetLayout, texts: &[Text]) {
        for (label, text) in self.labels.iter().zip(texts) {
            sketch.layer("words");
            if let Some(about) = &text.about {
                sketch.about(about.clone());
            }
            let Some(label) = label else { continue };
            label.draw(sketch);
            if let Some(turned) = text.arrow {
                draw_grain(sketch, label, text.room, turned, &self.flags);
            }
        }
        sketch.layer("flags");
        for (cut, flag) in layout.cuts.iter().zip(&self.flags) {
            sketch.shape(Shape::Flag { at: flag.centre, number: cut.number });
        }
    }
}

/// The least size, points, at which a name and its size are still read on a sheet that lies on the bench.
const LEAST: f64 = 11.0;

/// What is written in one rectangle.
pub(crate) struct Text {
    about: Option<String>,
    /// Name and size, as the key tells them.
    pub told: Told,
    room: [Point; 2],
    ways: Vec<Vec<LabelLine>>,
    /// A grain arrow, and whether the grain runs up the page.
    arrow: Option<bool>,
}

/// What is written in the rectangles of a layout: sizes as they are told, rooms as they are drawn.
fn texts(plan: &Plan, told: &SheetLayout, drawn: &SheetLayout) -> Vec<Text> {
    let number = |length: Length| sized(length, plan.fineness);
    let pieces = told.pieces.iter().zip(&drawn.pieces).map(|(piece, drawn)| {
        let [length, width] = sides(piece).map(number);
        Text {
            about: Some(piece.path.clone()),
            told: Told { name: piece.label.clone(), size: [length, width] },
            room: corners(&drawn.rect),
            ways: ways(&piece.label, length, width),
            arrow: Some(piece.turned),
        }
    });
    let offcuts = told.offcuts.iter().zip(&drawn.offcuts).map(|(offcut, drawn)| {
        // What is left over is told to the nearest mark below.
        let size =
            [offcut.rect.length, offcut.rect.width].map(|length| length.figure(plan.fineness, Toward::Down));
        Text {
            about: None,
            told: Told { name: format!("{} keep", offcut.name), size },
            room: corners(&drawn.rect),
            ways: ways(&format!("{} keep", offcut.name), size[0], size[1]),
            arrow: None,
        }
    });
    pieces.chain(offcuts).collect()
}

/// Name and size under each other, beside each other, or the name alone.
fn ways(name: &str, length: Figure, width: Figure) -> Vec<Vec<LabelLine>> {
    let title = || vec![Words::Plain(name.to_owned())];
    let size = || vec![Words::Figure(length), Words::Plain("\u{d7}".to_owned()), Words::Figure(width)];
    let small = |words| LabelLine { words, share: 0.94, weight: Weight::Semibold };
    let beside = title().into_iter().chain(size()).collect();
    vec![vec![LabelLine::bold(title()), small(size())], vec![LabelLine::bold(beside)]]
}

/// A flag on each cut, near an end of it, apart from all others and from what is placed already. The shortest cuts
/// have the fewest places and choose first.
fn place_flags(sketch: &Sketch, layout: &SheetLayout, first: &[Patch]) -> Vec<Patch> {
    let mut taken = first.to_vec();
    let mut order: Vec<usize> = (0..layout.cuts.len()).collect();
    let length = |cut: &SawCut| {
        let [a, b] = ends(cut);
        (b[0] - a[0]).hypot(b[1] - a[1])
    };
    order.sort_by(|a, b| length(&layout.cuts[*a]).total_cmp(&length(&layout.cuts[*b])));
    let mut flags = vec![Patch { centre: [0.0; 2], half: [0.0; 2], turn: 0.0 }; layout.cuts.len()];
    for index in order {
        let cut = &layout.cuts[index];
        let half = [sketch.pt(flag_width(cut.number)) / 2.0, sketch.pt(FLAG) / 2.0];
        let [a, b] = ends(cut);
        let axis = usize::from(cut.way == CutWay::Cross);
        let (low, high) = (a[axis].min(b[axis]), a[axis].max(b[axis]));
        let other = a[1 - axis];
        let free = (high - low - 2.0 * half[axis] - sketch.pt(8.0)).max(0.0);
        let middle = f64::midpoint(low, high);
        // Rips carry their flags at a sixth from the left, crosscuts at an eighth from the far edge.
        let wanted = if axis == 0 { -0.33 } else { 0.38 };
        let mut shares: Vec<f64> = (0..=40).map(|i| f64::from(i) / 40.0 - 0.5).collect();
        shares.sort_by(|p, q| (p - wanted).abs().total_cmp(&(q - wanted).abs()));
        // Where cuts crowd, a flag stands beside its line, still touching it.
        let beside = half[1 - axis];
        let [least, most] = sketch.extent();
        let across = |off: f64| (other + off).clamp(least[1 - axis] + beside, most[1 - axis] - beside);
        let on = |along: f64, across: f64| if axis == 0 { [along, across] } else { [across, along] };
        let on_it = [0.0, beside, -beside]
            .into_iter()
            .map(across)
            .flat_map(|across| shares.iter().map(move |share| on(middle + share * free, across)));
        // Where even that is taken, it stands before or behind the line's end.
        let past = [low - half[axis], high + half[axis]]
            .map(|along| along.clamp(least[axis] + half[axis], most[axis] - half[axis]));
        let past =
            past.into_iter().flat_map(|along| [0.0, beside, -beside].map(|off| on(along, across(off))));
        let spots = on_it.chain(past);
        let at = place(spots, half.map(|side| side + sketch.pt(1.0)), &taken).map_or(a, |(at, _)| at);
        let flag = Patch { centre: at, half, turn: 0.0 };
        taken.push(flag);
        flags[index] = flag;
    }
    flags
}

/// A grain arrow under its label, or after it where there is no room below.
fn draw_grain(sketch: &mut Sketch, label: &Label, [low, high]: [Point; 2], up: bool, flags: &[Patch]) {
    let words = label.patch();
    for length in [50.0, 36.0, 24.0] {
        let (long, thick) = (sketch.pt(length), sketch.pt(8.0));
        let half = if up { [thick / 2.0, long / 2.0] } else { [long / 2.0, thick / 2.0] };
        let gap = sketch.pt(7.0);
        let [w, h] = words.half;
        let [x, y] = words.centre;
        let below = [x, y - h - gap - half[1]];
        let above = [x, y + h + gap + half[1]];
        let after = [x + w + gap + half[0], y];
        let before = [x - w - gap - half[0], y];
        let spots =
            if label.is_turned() { [after, before, above, below] } else { [below, after, above, before] };
        for at in spots {
            let arrow = Patch { centre: at, half, turn: 0.0 };
            let clear = flags.iter().all(|flag| !flag.overlaps(&arrow));
            let inset = sketch.pt(3.0);
            if clear && arrow.is_inside([low.map(|v| v + inset), high.map(|v| v - inset)]) {
                sketch.shape(Shape::Grain { at, length, turn: if up { 90.0 } else { 0.0 } });
                return;
            }
        }
    }
}
