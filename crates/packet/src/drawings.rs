//! Which view of the stages stands on which page, and how much paper it gets.

use dryfit_drawing::views::Numbered;
use dryfit_drawing::{Drawing, Frame, views};
use dryfit_measure::Key;
use dryfit_stages::casework::{BuiltUnit, Part};
use dryfit_stages::layouts::SheetStack;

use crate::material::Material;
use crate::pages::{Leaf, PartRow, Setting};
use crate::words::Words;

/// The cover's: the room from above and one side, what is cut today hatched.
pub(crate) fn cover(m: &Material<'_>) -> Option<Drawing> {
    if m.plain {
        return None;
    }
    views::isometric(m.plan, m.derived, Frame { width: m.frame(0.0).width * 0.46, height: 300.0 })
}

/// The plan of the room with what was measured, above so many rows of readings.
pub(crate) fn room(m: &Material<'_>, rows: usize) -> Option<Drawing> {
    if m.plain {
        return None;
    }
    let rows = if rows > 8 { rows.div_ceil(2) } else { rows };
    let boxes = if m.derived.survey.next.is_empty() { 0.0 } else { 56.0 };
    let mut frame = m.frame(rows as f64 * READING_ROW + ROOM_FOOT + boxes);
    frame.height = frame.height.max(220.0);
    views::measured(m.plan, m.derived, frame)
}

/// Points that a row of readings takes, and what the room's page keeps for caption and boxes.
const READING_ROW: f64 = 19.5;
const ROOM_FOOT: f64 = 60.0;

/// A wall from inside.
pub(crate) fn wall(m: &Material<'_>, wall: &Key) -> Option<Drawing> {
    if m.plain {
        return None;
    }
    views::wall(m.plan, m.derived, wall, m.frame(WALL_FOOT))
}

/// A wall before it is closed, above so many rows and beside the caution so many notes.
pub(crate) fn rough_in(m: &Material<'_>, wall: &Key, rows: usize, notes: usize) -> Option<Drawing> {
    let foot = ROUGH_FOOT.max(notes as f64 * 16.0 + 26.0);
    let kept = if rows > 0 { 20.0 + rows as f64 * ROUGH_ROW } else { 0.0 };
    let mut frame = m.frame(kept + foot + 50.0);
    frame.height = frame.height.max(190.0);
    views::rough_in(m.plan, m.derived, wall, frame)
}

/// Points that a row of its table takes, and what is kept for the caution and the notes.
const ROUGH_ROW: f64 = 23.5;
const ROUGH_FOOT: f64 = 150.0;

/// Points kept on a wall's page for its steps, reasons and boxes.
const WALL_FOOT: f64 = 165.0;

/// Whether drawing, steps and parts of a unit go on one page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Paging {
    /// They do, the steps beside the drawing.
    One,
    /// They do not.
    Two,
}

/// Points that a row of the parts table takes.
const PART_ROW: f64 = 21.5;
/// Points that a line of steps takes.
const STEP_LINE: f64 = 14.7;
/// Points that the foot of a unit's page takes: rows of five boxes, the gate below them, and a band that says
/// what is held back.
pub(crate) fn unit_foot(boxes: usize, held: bool) -> f64 {
    let rows = boxes.div_ceil(5) as f64 * 46.0;
    rows + if boxes > 0 { 44.0 } else { 12.0 } + if held { 36.0 } else { 0.0 }
}

impl Paging {
    pub(crate) fn of(m: &Material<'_>, parts: &[PartRow], steps: &[Words], foot: f64) -> Self {
        let space = m.frame(parts_height(parts) + foot);
        // beside the drawing a line of steps holds about 34 letters
        if space.height >= 220.0 && steps_height(steps, 34) <= space.height {
            Paging::One
        } else {
            Paging::Two
        }
    }
}

/// About how high a parts table is set.
fn parts_height(parts: &[PartRow]) -> f64 {
    let row = |part: &PartRow| {
        let lines = part.note.text().chars().count().div_ceil(22).max(part.name.chars().count().div_ceil(18));
        (13.0 * lines as f64 + 5.0).max(PART_ROW)
    };
    if parts.is_empty() { 0.0 } else { 26.0 + parts.iter().map(row).sum::<f64>() }
}

/// About how high steps are set, a line holding so many letters.
fn steps_height(steps: &[Words], letters: usize) -> f64 {
    steps
        .iter()
        .map(|step| STEP_LINE * step.text().chars().count().div_ceil(letters).max(1) as f64 + 2.0)
        .sum()
}

/// Least points in which a unit is drawn.
const UNIT_LEAST: f64 = 150.0;
/// The same where a page shows it only again, beside the steps.
const STEPS_LEAST: f64 = 185.0;

/// A unit taken apart, on a page with so many rows of parts and these steps.
pub(crate) fn unit(
    m: &Material<'_>,
    unit: &BuiltUnit,
    numbered: &Numbered<'_>,
    parts: &[PartRow],
    steps: &[Words],
    foot: f64,
) -> Option<Drawing> {
    if m.plain {
        return None;
    }
    let whole = m.frame(0.0);
    let rows = parts_height(parts);
    let (width, kept) = match (parts.len(), steps.len()) {
        (_, 0) => (whole.width, rows + foot),
        (0, _) => (whole.width, steps_height(steps, 78) + foot + 12.0),
        _ => (whole.width * 0.56, rows + foot),
    };
    let height = (whole.height - kept).min(400.0);
    // smaller, its numbers would hide it; the page of its parts shows it
    if height < STEPS_LEAST && parts.is_empty() {
        return None;
    }
    let height = height.max(UNIT_LEAST);
    let told: Vec<String> = numbered
        .lots
        .iter()
        .map(|lot| {
            let number = numbered.numbers[lot[0].role.as_str()];
            format!("{number} {} {}", crate::pages::handed(lot[0]), m.size(&unit.key, lot[0]))
        })
        .collect();
    let alt = format!(
        "{} {} taken apart, seen from the front, the right and above. Its parts: {}",
        unit.key,
        m.names.what_unit(&unit.key),
        told.join("; ")
    );
    views::exploded(unit, &numbered.numbers, alt, Frame { width, height })
}

/// A part, good face up.
pub(crate) fn part(m: &Material<'_>, unit: &BuiltUnit, part: &Part) -> Drawing {
    let foot = PART_FOOT + if part.bands.is_empty() { 0.0 } else { BAND_LINE };
    views::part(m.plan, unit, part, m.finished_size(part), m.frame(foot))
}

/// Points that the line about edge bands takes.
const BAND_LINE: f64 = 34.0;
/// Points kept on a part's page for its notes and boxes.
const PART_FOOT: f64 = 110.0;

/// More settings than these stand in two columns.
const ONE_COLUMN: usize = 7;
/// Least points that a row of settings takes.
const SETTING_ROW: f64 = 26.0;
/// Points that a board's bar may take beside others, and alone on its page.
const BAR_HEIGHT: f64 = 132.0;
const BAR_ALONE: f64 = 210.0;
/// Least points that a sheet is drawn in: below them its numbers cannot be read.
const SHEET_LEAST: f64 = 165.0;

/// About how high settings are set.
pub(crate) fn settings_height(settings: &[Setting]) -> f64 {
    let two = settings.len() > ONE_COLUMN;
    let letters = if two { 18 } else { 44 };
    let row = |setting: &Setting| {
        let lines = setting.gives.text().chars().count().div_ceil(letters);
        (13.5 * lines as f64 + 5.0).max(SETTING_ROW)
    };
    let column = |part: &[Setting]| part.iter().map(row).sum::<f64>();
    let (first, second) = settings.split_at(if two { settings.len().div_ceil(2) } else { settings.len() });
    if settings.is_empty() { 0.0 } else { 20.0 + column(first).max(column(second)) }
}

/// About how high the lines at the foot of a sheet's page are set.
fn foot_height(lines: &[Words], why: &[Words]) -> f64 {
    let letters = |words: &Words| words.text().chars().count();
    let lines: f64 = lines.iter().map(|line| 16.5 * letters(line).div_ceil(40) as f64 + 4.0).sum();
    let why: f64 = why.iter().map(|line| 13.0 * (letters(line) + 4).div_ceil(52) as f64 + 5.0).sum();
    (lines + why + 8.0).max(50.0)
}

/// Points that a sheet with many cuts is drawn in at least, when its settings stand above it.
const SHEET_WANTED: f64 = 195.0;
/// The same for a sheet with more cuts than these.
const DENSE: (usize, f64) = (24, 285.0);

/// Whether a sheet is drawn large enough on one page with its settings and these lines.
pub(crate) fn sheet_fits(
    m: &Material<'_>,
    cuts: usize,
    settings: &[Setting],
    [lines, why]: [&[Words]; 2],
) -> bool {
    let kept = settings_height(settings) + foot_height(lines, why) + 46.0;
    m.frame(kept).height >= if cuts > DENSE.0 { DENSE.1 } else { SHEET_WANTED }
}

/// A sheet as it lies, on a page with these settings above it and these lines below.
pub(crate) fn sheet(
    m: &Material<'_>,
    stack: &SheetStack,
    index: usize,
    settings: &[Setting],
    [lines, why]: [&[Words]; 2],
) -> Option<Drawing> {
    if m.plain {
        return None;
    }
    let mut frame = m.frame(settings_height(settings) + foot_height(lines, why) + 46.0);
    frame.height = frame.height.max(SHEET_LEAST);
    views::sheet(m.plan, stack, index, frame)
}

/// A board as a bar.
pub(crate) fn bar(m: &Material<'_>, stack: &SheetStack, index: usize, alone: bool) -> Option<Drawing> {
    let height = if alone { BAR_ALONE } else { BAR_HEIGHT };
    let frame = Frame { height, ..m.frame(0.0) };
    views::board(m.plan, stack, index, frame)
}

/// A door or drawer, its parts in place, beside its steps.
pub(crate) fn leaf(m: &Material<'_>, leaf: &Leaf<'_>, numbered: &Numbered<'_>) -> Option<Drawing> {
    if m.plain {
        return None;
    }
    let space = m.frame(leaf.parts.len() as f64 * DOOR_ROW + DOOR_FOOT);
    let told: Vec<String> = leaf
        .parts
        .iter()
        .map(|part| {
            format!("{} {} {}", numbered.numbers[part.role.as_str()], part.name, m.size(&leaf.unit.key, part))
        })
        .collect();
    let alt = format!("{}, its parts in place: {}", leaf.name(m), told.join("; "));
    let frame = Frame { width: space.width * 0.54, height: space.height.clamp(180.0, 400.0) };
    views::leaf(m.plan, leaf.unit, &leaf.parts, &numbered.numbers, alt, frame)
}

/// Its joint in section.
pub(crate) fn section(m: &Material<'_>, leaf: &Leaf<'_>) -> Option<Drawing> {
    if m.plain {
        return None;
    }
    // a drawer's page is full, and its front is joined like the doors
    if leaf.path.starts_with("drawer") {
        return None;
    }
    views::joint(m.plan, &leaf.parts, Frame { width: m.frame(0.0).width * 0.40, height: 130.0 })
}

/// Points that a row of a door's parts takes, and what its page keeps for boxes and reasons.
const DOOR_ROW: f64 = 21.8;
const DOOR_FOOT: f64 = 135.0;

/// Points that a worktop's page keeps besides its lines and boxes.
const TOP_FOOT: f64 = 60.0;

/// A worktop from above, on a page with these lines and so many boxes.
pub(crate) fn worktop(
    m: &Material<'_>,
    top: &dryfit_stages::surfaces::Worktop,
    notes: &[Words],
    boxes: usize,
) -> Option<Drawing> {
    let lines: f64 =
        notes.iter().map(|note| 16.0 * note.text().chars().count().div_ceil(84) as f64 + 7.0).sum();
    let boxes = boxes.div_ceil(5) as f64 * 46.0;
    let mut frame = m.frame(lines + boxes + TOP_FOOT);
    frame.height = frame.height.clamp(220.0, 420.0);
    views::worktop(m.plan, m.derived, top, frame)
}
