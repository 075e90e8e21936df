//! A door: its parts in place, its joint in section, and the parts to cut. Drawers take the same page.

use dryfit_drawing::Drawing;
use dryfit_drawing::views::Numbered;
use dryfit_stages::casework::{BuiltUnit, FrontOpening, Gate, OperationKind, Part as BuiltPart};
use serde::Serialize;

use crate::data::{Blank, Body, Page};
use crate::drawings;
use crate::fronts::front_name;
use crate::material::{Material, key};
use crate::pages::{gate_number, handed, steps_of, told};
use crate::words::{Span, Words};

/// A door or a drawer.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Door {
    /// The parts in place.
    pub drawing: Option<Drawing>,
    /// The joint.
    pub section: Option<Drawing>,
    /// The steps.
    pub steps: Vec<Words>,
    /// What its stock is: the head of the parts table.
    pub goods: String,
    /// The parts, spares and set-up stock.
    pub parts: Vec<DoorRow>,
}

/// A row of its parts.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DoorRow {
    /// The letter and number in the drawing; empty for spares.
    pub label: String,
    /// What it is.
    pub name: Words,
    /// How many.
    pub count: u32,
    /// Along the grain by across.
    pub size: String,
}

/// One front of a unit with everything that is made for it, and those of the same unit that are alike.
pub(crate) struct Leaf<'a> {
    /// The unit.
    pub(crate) unit: &'a BuiltUnit,
    /// What its role paths begin with: `door.d2`.
    pub(crate) path: &'a str,
    /// Its parts.
    pub(crate) parts: Vec<&'a BuiltPart>,
    /// Paths of the others.
    pub(crate) alike: Vec<&'a str>,
}

/// The fronts of a unit, alike ones together.
pub(crate) fn leaves<'a>(m: &Material<'_>, unit: &'a BuiltUnit) -> Vec<Leaf<'a>> {
    let mut leaves: Vec<Leaf<'a>> = Vec::new();
    for part in unit.parts.iter().filter(|part| part.gate == Some(Gate::Openings)) {
        let path = part.role.split('/').next().unwrap_or_default();
        match leaves.iter_mut().find(|leaf| leaf.path == path) {
            Some(leaf) => leaf.parts.push(part),
            None => leaves.push(Leaf { unit, path, parts: vec![part], alike: Vec::new() }),
        }
    }
    let made = |leaf: &Leaf<'_>| {
        let mut parts: Vec<_> = leaf
            .parts
            .iter()
            .map(|part| (part.name.clone(), m.size(&unit.key, part), part.operations.len()))
            .collect();
        parts.sort();
        parts
    };
    let like = |a: &Leaf<'_>, b: &Leaf<'_>| kind_of(a.path) == kind_of(b.path) && made(a) == made(b);
    let mut distinct: Vec<Leaf<'a>> = Vec::new();
    for leaf in leaves {
        match distinct.iter_mut().find(|known| like(known, &leaf)) {
            Some(known) => known.alike.push(leaf.path),
            None => distinct.push(leaf),
        }
    }
    distinct
}

fn kind_of(path: &str) -> &str {
    path.split('.').next().unwrap_or_default()
}

impl Leaf<'_> {
    fn count(&self) -> usize {
        1 + self.alike.len()
    }

    /// "b2 lower drawer", "b2 drawer 2, drawer 3", "b1 doors".
    pub(crate) fn name(&self, m: &Material<'_>) -> String {
        let paths = std::iter::once(self.path).chain(self.alike.iter().copied());
        let mut names: Vec<String> = Vec::new();
        for path in paths {
            let name = m
                .plan
                .units
                .get(&self.unit.key)
                .map_or_else(|| path.to_owned(), |unit| front_name(unit, path));
            if !names.contains(&name) {
                names.push(name);
            }
        }
        format!("{} {}", self.unit.key, names.join(", "))
    }
}

/// The page of a leaf.
pub(crate) fn door(m: &Material<'_>, leaf: &Leaf<'_>) -> Page {
    let unit = &leaf.unit.key;
    let inputs = match opening(leaf) {
        Some(opening) => format!(
            "sizes as planned, for an opening {} × {}",
            m.names.dim(&opening.width),
            m.names.dim(&opening.height)
        ),
        None => "sizes as planned".to_owned(),
    };
    let goods: Vec<String> = leaf.parts.first().map(|part| m.names.good(&part.good)).into_iter().collect();
    let body = Body::Door(Door {
        drawing: drawings::leaf(m, leaf, &Numbered::single(&leaf.parts)),
        section: drawings::section(m, leaf),
        steps: steps(m, leaf),
        goods: goods.concat(),
        parts: rows(m, leaf),
    });
    let mut page = Page::new(key::front(unit, leaf.path), leaf.name(m), inputs, body);
    page.why = leaf
        .parts
        .iter()
        .filter(|part| part.operations.iter().any(|operation| operation.kind == OperationKind::Cope))
        .take(1)
        .filter_map(|part| m.why(&part.length))
        .collect();
    page.blanks = blanks(m, leaf);
    page.held = Words::new()
        .with(Span::Gate(gate_number(Gate::Openings)))
        .plain(" measure the opening as built, ")
        .pages([key::unit(unit), key::steps(unit)])
        .plain(", and type it in");
    page
}

/// The opening that a leaf closes.
pub(crate) fn opening<'a>(leaf: &Leaf<'a>) -> Option<&'a FrontOpening> {
    let path = leaf.path.split_once('.').map_or("", |(_, rest)| rest);
    let of = |path: &str| leaf.unit.openings.iter().find(|opening| opening.front == path);
    let base = path
        .strip_suffix("left")
        .or_else(|| path.strip_suffix("right"))
        .map(|base| base.trim_end_matches('.'));
    of(path).or_else(|| of(base?)).or(match leaf.unit.openings.as_slice() {
        [only] => Some(only),
        _ => None,
    })
}

fn rows(m: &Material<'_>, leaf: &Leaf<'_>) -> Vec<DoorRow> {
    let main = leaf.parts.first().map(|part| &part.good);
    let count = u32::try_from(leaf.count()).unwrap_or(u32::MAX);
    (1..)
        .zip(&leaf.parts)
        .map(|(n, part)| {
            let goods = if Some(&part.good) == main {
                String::new()
            } else {
                format!(", {}", m.names.good(&part.good))
            };
            DoorRow {
                label: n.to_string(),
                name: format!("{}{goods}", handed(part)).into(),
                count,
                size: m.size(&leaf.unit.key, part),
            }
        })
        .collect()
}

/// The steps of the first of those alike, from the unit's own, its parts by their numbers.
fn steps(m: &Material<'_>, leaf: &Leaf<'_>) -> Vec<Words> {
    let numbered = Numbered::single(&leaf.parts);
    let mut steps: Vec<Words> = Vec::new();
    if leaf.parts.iter().any(|part| part.operations.iter().any(|op| op.kind == OperationKind::Cope)) {
        steps
            .push("Set the cutters on set-up stock of the same board; rails: ends first, then edges.".into());
    }
    steps.extend(
        steps_of(leaf.unit, Some(leaf.path)).into_iter().map(|step| told(m, leaf.unit, &numbered, step)),
    );
    steps
}

fn blanks(m: &Material<'_>, leaf: &Leaf<'_>) -> Vec<Blank> {
    let mut blanks = Vec::new();
    if let Some(opening) = opening(leaf) {
        blanks.push(Blank::planned("opening wide", m.names.dim(&opening.width)));
        blanks.push(Blank::planned("opening high", m.names.dim(&opening.height)));
    }
    let tongue =
        leaf.parts.iter().flat_map(|part| &part.operations).find(|op| op.kind == OperationKind::Cope);
    if let Some(tongue) = tongue {
        blanks.push(Blank::planned("tongue", m.names.stock(tongue.depth.length())));
    }
    blanks.push(Blank::empty("diagonals differ"));
    blanks
}
