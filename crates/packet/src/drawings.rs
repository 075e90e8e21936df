//! Which view of the stages stands on which page, and how much paper it gets.

use dryfit_drawing::Drawing;
use dryfit_measure::Key;
use dryfit_stages::casework::{BuiltUnit, Part};
use dryfit_stages::layouts::SheetStack;

use crate::material::Material;
use crate::pages::{Leaf, Numbered};
use crate::words::Words;

/// The cover's: the room, what is cut today hatched.
pub(crate) fn cover(_m: &Material<'_>) -> Option<Drawing> {
    None
}

/// The plan of the room with what was measured.
pub(crate) fn room(_m: &Material<'_>, _rows: usize) -> Option<Drawing> {
    None
}

/// A wall from inside.
pub(crate) fn wall(_m: &Material<'_>, _wall: &Key) -> Option<Drawing> {
    None
}

/// Whether drawing, steps and parts of a unit go on one page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Paging {
    /// They do, the steps beside the drawing.
    One,
    /// They do not.
    Two,
}

/// Points that a row of the parts table takes.
const PART_ROW: f64 = 22.0;
/// Points that a line of steps takes.
const STEP_LINE: f64 = 17.5;
/// Points kept for the foot of a unit's page: boxes and gate.
const UNIT_FOOT: f64 = 110.0;

impl Paging {
    pub(crate) fn of(m: &Material<'_>, parts: usize, steps: &[Words]) -> Self {
        let space = m.frame(parts as f64 * PART_ROW + UNIT_FOOT);
        // beside the drawing a line of steps holds about 34 letters
        if space.height >= 220.0 && steps_height(steps, 34) <= space.height {
            Paging::One
        } else {
            Paging::Two
        }
    }
}

/// About how high steps are set, a line holding so many letters.
fn steps_height(steps: &[Words], letters: usize) -> f64 {
    steps
        .iter()
        .map(|step| STEP_LINE * step.text().chars().count().div_ceil(letters).max(1) as f64 + 2.0)
        .sum()
}

/// A unit taken apart, beside so many rows of parts and these steps.
pub(crate) fn unit(
    _m: &Material<'_>,
    _unit: &BuiltUnit,
    _numbered: &Numbered<'_>,
    _parts: usize,
    _steps: &[Words],
) -> Option<Drawing> {
    None
}

/// A part, good face up.
pub(crate) fn part(_m: &Material<'_>, _unit: &BuiltUnit, _part: &Part) -> Option<Drawing> {
    None
}

/// A sheet as it lies.
pub(crate) fn sheet(
    _m: &Material<'_>,
    _stack: &SheetStack,
    _index: usize,
    _settings: usize,
) -> Option<Drawing> {
    None
}

/// A board as a bar.
pub(crate) fn bar(_m: &Material<'_>, _stack: &SheetStack, _index: usize) -> Option<Drawing> {
    None
}

/// A door or drawer, its parts in place.
pub(crate) fn leaf(_m: &Material<'_>, _leaf: &Leaf<'_>) -> Option<Drawing> {
    None
}

/// Its joint in section.
pub(crate) fn section(_m: &Material<'_>, _leaf: &Leaf<'_>) -> Option<Drawing> {
    None
}
