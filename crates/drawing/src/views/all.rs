//! Every picture there is of a job, by key: one list for the exports, the packet and the tests.
//!
//! A new view is one more [`Picture`] here; then it is exported, and held to what is asked of every drawing.

use std::collections::BTreeMap;

use dryfit_measure::Length;
use dryfit_plan::Plan;
use dryfit_stages::Derived;
use dryfit_stages::casework::{BuiltUnit, Gate, Part};
use dryfit_stages::layouts::SheetStack;

use super::{
    Numbered, board, exploded, field, floor, isometric, joint, leaf, measured, part, rough_in, sheet,
    together, wall, worktop,
};
use crate::paper::Drawing;
use crate::sketch::Frame;

/// The paper of a picture that stands by itself, points: a page of the packet without its words.
pub const PAGE: Frame = Frame { width: 540.0, height: 560.0 };

/// One picture, not drawn yet.
pub struct Picture<'a> {
    /// What it is called, unique in its job and usable as a path: `wall/BC`, `part/b1/side.left`, `sheet/ply-18/1`.
    pub key: String,
    draw: Box<dyn Fn(Frame) -> Option<Drawing> + 'a>,
}

impl<'a> Picture<'a> {
    fn new(key: impl Into<String>, draw: impl Fn(Frame) -> Option<Drawing> + 'a) -> Self {
        Picture { key: key.into(), draw: Box::new(draw) }
    }

    /// Draws it on so much paper; `None` where the job has nothing to show in it.
    pub fn draw(&self, frame: Frame) -> Option<Drawing> {
        (self.draw)(frame)
    }
}

/// Every picture of a job, in the order of the packet.
pub fn all<'a>(plan: &'a Plan, derived: &'a Derived) -> Vec<Picture<'a>> {
    let mut all = vec![
        Picture::new("room/measured", |frame| measured(plan, derived, frame)),
        Picture::new("room/floor", |frame| floor(plan, derived, frame)),
        Picture::new("room/isometric", |frame| isometric(plan, derived, frame)),
    ];
    for line in &derived.survey.walls {
        let key = &line.key;
        all.push(Picture::new(format!("wall/{key}"), move |frame| wall(plan, derived, key, frame)));
        all.push(Picture::new(format!("rough-in/{key}"), move |frame| rough_in(plan, derived, key, frame)));
    }
    for (i, top) in derived.surfaces.worktops.iter().enumerate() {
        let key = format!("worktop/{}/{}", top.key, i + 1);
        all.push(Picture::new(key, move |frame| worktop(plan, derived, top, frame)));
    }
    for laid in &derived.surfaces.fields {
        let key = &laid.key;
        all.push(Picture::new(format!("field/{key}"), move |frame| field(plan, derived, key, frame)));
    }
    let cut = cut_sizes(derived);
    for unit in &derived.casework.units {
        all.extend(of_unit(plan, unit, &cut));
        all.push(Picture::new(format!("unit/{}/together", unit.key), move |frame| {
            together(plan, derived, unit, frame)
        }));
    }
    for stack in &derived.layouts.sheets {
        all.extend(of_stack("sheet", plan, stack, sheet));
    }
    for stack in &derived.layouts.boards {
        all.extend(of_stack("board", plan, stack, board));
    }
    all
}

/// What parts are cut to, by their paths.
type CutSizes<'a> = BTreeMap<&'a str, [Length; 2]>;

fn cut_sizes(derived: &Derived) -> CutSizes<'_> {
    let pieces = derived.cut_list.groups.iter().flat_map(|group| &group.pieces);
    pieces.map(|piece| (piece.path.as_str(), [piece.length.length(), piece.width.length()])).collect()
}

/// A unit taken apart, each of its parts, and its doors and drawers put together.
fn of_unit<'a>(plan: &'a Plan, unit: &'a BuiltUnit, cut: &CutSizes<'_>) -> Vec<Picture<'a>> {
    let key = &unit.key;
    let size = |part: &Part| {
        let path = format!("{key}/{}", part.role);
        cut.get(path.as_str()).copied().unwrap_or([part.length.length(), part.width.length()])
    };
    let of_box = Numbered::new(unit.parts.iter().filter(|part| part.gate != Some(Gate::Openings)), size);
    let alt = format!("{key} taken apart, seen from the front, the right and above");
    let mut all = vec![Picture::new(format!("unit/{key}"), move |frame| {
        exploded(unit, &of_box.numbers, alt.clone(), frame)
    })];
    for one in &unit.parts {
        let size = size(one);
        all.push(Picture::new(format!("part/{key}/{}", one.role), move |frame| {
            Some(part(plan, unit, one, size, frame))
        }));
    }
    let mut fronts: Vec<(&str, Vec<&Part>)> = Vec::new();
    for part in unit.parts.iter().filter(|part| part.gate == Some(Gate::Openings)) {
        let front = part.role.split('/').next().unwrap_or_default();
        match fronts.iter_mut().find(|(known, _)| *known == front) {
            Some((_, parts)) => parts.push(part),
            None => fronts.push((front, vec![part])),
        }
    }
    for (front, parts) in fronts {
        let alt = format!("{key} {front}, its parts in place");
        let section = parts.clone();
        all.push(Picture::new(format!("front/{key}/{front}"), move |frame| {
            leaf(plan, unit, &parts, &Numbered::single(&parts).numbers, alt.clone(), frame)
        }));
        all.push(Picture::new(format!("front/{key}/{front}/joint"), move |frame| {
            joint(plan, &section, Frame { height: frame.height.min(200.0), ..frame })
        }));
    }
    all
}

/// How a stack's views draw one of its sheets.
type OfSheet = fn(&Plan, &SheetStack, usize, Frame) -> Option<Drawing>;

/// Every sheet or board of a good, from one.
fn of_stack<'a>(kind: &str, plan: &'a Plan, stack: &'a SheetStack, draw: OfSheet) -> Vec<Picture<'a>> {
    let one = |index: usize| {
        Picture::new(format!("{kind}/{}/{}", stack.good, index + 1), move |frame| {
            draw(plan, stack, index, frame)
        })
    };
    (0..stack.sheets.len()).map(one).collect()
}
