//! What every page is filled from: the plan, what follows from it, and the manner of writing.

use std::collections::BTreeMap;

use dryfit_drawing::Frame;
use dryfit_measure::{Dim, Key, Length, because};
use dryfit_plan::Plan;
use dryfit_stages::Derived;
use dryfit_stages::casework::{BuiltUnit, Gate, Part};
use dryfit_stages::cutlist::CutPiece;
use dryfit_stages::layouts::SheetLayout;
use dryfit_stages::placement::PlacedUnit;
use dryfit_stages::release::Until;

use crate::names::Names;
use crate::pages::board_page;
use crate::paper::Paper;
use crate::words::Words;

/// How a release says that the whole of a unit is held back.
const ALL: &str = "all of it";

/// What a piece waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Wait {
    /// Readings of the room.
    Readings,
    /// A gate.
    Gate(Gate),
}

/// Plan, stages and paper, with the pieces of the cut list by path.
pub(crate) struct Material<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) derived: &'a Derived,
    pub(crate) names: Names<'a>,
    pub(crate) paper: Paper,
    /// Whether drawings are left out: whoever shows the pages draws them itself.
    pub(crate) plain: bool,
    pieces: BTreeMap<&'a str, &'a CutPiece>,
}

impl<'a> Material<'a> {
    pub(crate) fn new(plan: &'a Plan, derived: &'a Derived, paper: Paper) -> Self {
        let all = derived.cut_list.groups.iter().flat_map(|group| &group.pieces);
        let pieces = all.map(|piece| (piece.path.as_str(), piece)).collect();
        Material { plan, derived, names: Names::new(plan), paper, plain: false, pieces }
    }

    /// The piece of the cut list with this path: `b3/side.left`.
    pub(crate) fn piece(&self, path: &str) -> Option<&'a CutPiece> {
        self.pieces.get(path).copied()
    }

    /// The size a part is cut to, along the grain and across; its exact size where it is not in the cut list.
    pub(crate) fn cut_size(&self, unit: &Key, part: &Part) -> [Length; 2] {
        match self.piece(&format!("{unit}/{}", part.role)) {
            Some(piece) => [piece.length.length(), piece.width.length()],
            None => [part.length.length(), part.width.length()],
        }
    }

    /// The same in words: `35 1/4 × 22 1/4`.
    pub(crate) fn size(&self, unit: &Key, part: &Part) -> String {
        let [length, width] = self.cut_size(unit, part);
        self.names.size(length, width)
    }

    /// The size of a part over its edge bands, in words.
    pub(crate) fn finished(&self, part: &Part) -> String {
        let [length, width] = self.finished_size(part);
        self.names.size(length, width)
    }

    /// The size of a part over its edge bands, along the grain and across: what is cut, and what is put on.
    pub(crate) fn finished_size(&self, part: &Part) -> [Length; 2] {
        let cut = part.cut_size();
        let over = |k: usize, whole: &Dim| {
            let rounded = cut[k].length().round_to(self.plan.fineness, part.purpose[k].toward());
            rounded + (whole.length() - cut[k].length())
        };
        [over(0, &part.length), over(1, &part.width)]
    }

    pub(crate) fn placed(&self, unit: &Key) -> Option<&'a PlacedUnit> {
        self.derived.placement.units.iter().find(|placed| placed.key == *unit)
    }

    /// The units whose part in this role is cut and worked like this one, in the plan's order.
    pub(crate) fn units_with(&self, unit: &BuiltUnit, part: &Part) -> Vec<&'a BuiltUnit> {
        let worked = |part: &Part| -> Vec<_> {
            let at = |of: &[dryfit_measure::Dim; 2]| [of[0].length(), of[1].length()];
            part.operations
                .iter()
                .map(|op| (op.kind, at(&op.along), at(&op.across), op.depth.length()))
                .collect()
        };
        let size = self.size(&unit.key, part);
        let alike = |other: &&BuiltUnit| {
            other.parts.iter().any(|twin| {
                twin.role == part.role
                    && twin.good == part.good
                    && self.size(&other.key, twin) == size
                    && worked(twin) == worked(part)
            })
        };
        self.derived.casework.units.iter().filter(alike).collect()
    }

    /// The key of the page that shows this part: the first unit's that has it alike.
    pub(crate) fn part_page(&self, unit: &BuiltUnit, part: &Part) -> String {
        let first = self.units_with(unit, part).first().map_or(&unit.key, |first| &first.key);
        key::part(first, &part.role)
    }

    /// What all of a unit waits for, if it may not be cut today.
    pub(crate) fn unit_held(&self, unit: &Key) -> Option<&'a Until> {
        let held = self.derived.release.held.iter();
        held.clone().find(|held| held.subject == *unit && held.what == ALL).map(|held| &held.until)
    }

    /// What a piece waits for, if it may not be cut today: its unit's readings or gate, else its own gate.
    pub(crate) fn waits(&self, path: &str) -> Option<Wait> {
        let unit = path.split('/').next().unwrap_or_default();
        let held =
            self.derived.release.held.iter().find(|held| held.subject.as_str() == unit && held.what == ALL);
        let own = self.piece(path).and_then(|piece| piece.gate);
        match (held.map(|held| &held.until), own) {
            (Some(Until::Readings(_)), _) => Some(Wait::Readings),
            (Some(Until::UnitsSet), _) | (None, Some(Gate::UnitsSet)) => Some(Wait::Gate(Gate::UnitsSet)),
            (Some(Until::Openings), _) | (None, Some(Gate::Openings)) => Some(Wait::Gate(Gate::Openings)),
            (None, None) => None,
        }
    }

    /// Keys of the sheet and board pages that a piece is cut on.
    pub(crate) fn cut_on(&self, path: &str) -> Vec<String> {
        let layouts = &self.derived.layouts;
        let on = |sheet: &SheetLayout| sheet.pieces.iter().any(|piece| piece.path == path);
        let mut pages: Vec<String> = Vec::new();
        for stack in &layouts.sheets {
            let sheets = stack.sheets.iter().enumerate().filter(|(_, sheet)| on(sheet));
            pages.extend(sheets.map(|(index, _)| key::sheet(&stack.good, index)));
        }
        for stack in &layouts.boards {
            let boards = stack.sheets.iter().enumerate().filter(|(_, board)| on(board));
            pages.extend(boards.map(|(index, _)| board_page(self, stack, index)));
        }
        pages
    }

    /// Why a size is what it is; none where it is merely another's name.
    pub(crate) fn why(&self, dim: &Dim) -> Option<Words> {
        let line = self.names.tidy(&because(dim, self.names.finest()));
        let worked =
            [" − ", " + ", " × ", " least of ", " greatest of "].iter().any(|sign| line.contains(sign));
        worked.then(|| line.into())
    }

    /// Whether the plan is in millimetres.
    pub(crate) fn metric(&self) -> bool {
        self.plan.fineness.unit() == dryfit_measure::Unit::Millimetre
    }

    /// Paper for a drawing over the full width, so many points kept for what stands above and below it.
    pub(crate) fn frame(&self, kept: f64) -> Frame {
        let space = self.paper.space(kept);
        Frame { width: space.width, height: space.height }
    }
}

/// Keys of pages, by what they show.
pub(crate) mod key {
    use dryfit_measure::Key;

    pub(crate) fn wall(wall: &Key) -> String {
        format!("wall/{wall}")
    }
    pub(crate) fn rough_in(wall: &Key) -> String {
        format!("rough-in/{wall}")
    }
    pub(crate) fn unit(unit: &Key) -> String {
        format!("unit/{unit}")
    }
    pub(crate) fn part(unit: &Key, role: &str) -> String {
        format!("part/{unit}/{role}")
    }
    pub(crate) fn front(unit: &Key, front: &str) -> String {
        format!("front/{unit}/{front}")
    }
    pub(crate) fn sheet(good: &Key, index: usize) -> String {
        format!("sheet/{good}/{index}")
    }
    pub(crate) fn steps(unit: &Key) -> String {
        format!("unit/{unit}/steps")
    }
    pub(crate) fn boards(good: &Key, index: usize) -> String {
        format!("boards/{good}/{index}")
    }
}
