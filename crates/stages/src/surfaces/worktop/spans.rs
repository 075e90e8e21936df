//! What carries a worktop: boxes, and where there is none, cleats on the wall.

use dryfit_measure::{Dim, Key};
use dryfit_plan::{TopRole, UnitKind};

use super::leg::Shape;
use super::{LegEnd, Span, TopPart, TopPiece, WorkLeg};
use crate::casework::Purpose;
use crate::placement::{PlacedUnit, Placement, thickness};

/// Kinds of unit that carry a worktop.
fn carries(kind: UnitKind) -> bool {
    matches!(kind, UnitKind::Base | UnitKind::Sink | UnitKind::EndPanel)
}

/// Stretches of a leg that no box carries, left to right.
pub(super) fn spans(shape: &Shape<'_>, placement: &Placement, leg: &WorkLeg) -> Vec<Span> {
    let under = |unit: &&PlacedUnit| {
        unit.along.length() < leg.back[1].length() && unit.right().length() > leg.back[0].length()
    };
    let units: Vec<&PlacedUnit> = placement.units_of(&leg.run).filter(under).collect();
    let least = shape.figures.dim("top-cleat-from");
    let mut spans = Vec::new();
    let mut bare: Vec<&PlacedUnit> = Vec::new();
    let mut from = (leg.back[0].clone(), matches!(leg.ends[0], LegEnd::Free | LegEnd::Unit));
    let mut close = |from: &(Dim, bool), to: Dim, bare: &mut Vec<&PlacedUnit>, open: bool| {
        let width = (&to - &from.0).named("bare span").placed(leg.name.as_str());
        if !bare.is_empty() && width.length() > shape.plan.fineness.step() && !(from.1 && open) {
            let first = &bare[0].key;
            let cleat = (width.length() > least.length()).then(|| format!("cleat.{}.{first}", leg.name));
            let units = bare.iter().map(|unit| unit.key.clone()).collect();
            spans.push(Span { units, along: [from.0.clone(), to], width, cleat });
        }
        bare.clear();
    };
    for unit in units {
        if carries(unit.kind) {
            close(&from, unit.along.clone(), &mut bare, false);
            from = (unit.right(), false);
        } else {
            bare.push(unit);
        }
    }
    close(&from, leg.back[1].clone(), &mut bare, false);
    spans
}

/// The boards on the wall that carry the back edge over bare spans.
pub(super) fn cleats(shape: &Shape<'_>, leg: &WorkLeg) -> Vec<TopPiece> {
    let Some(good) = shape.top.roles.get(&TopRole::Cleat) else { return Vec::new() };
    let Some(thick) = thickness(shape.plan, good) else { return Vec::new() };
    let Some(width) = board_width(shape, good) else { return Vec::new() };
    let cleat = |span: &Span| {
        let role = span.cleat.clone()?;
        let place = format!("{}/{role}", shape.placed.key);
        Some(TopPiece {
            name: role.replace('.', " "),
            role,
            what: TopPart::Cleat,
            layer: 0,
            run: leg.run.clone(),
            good: good.clone(),
            length: span.width.clone().named("length").placed(place.clone()),
            width: width.clone().named("width").placed(place.clone()),
            thickness: thick.clone().named("thickness").placed(place),
            purpose: [Purpose::Into, Purpose::Mates],
            outline: Vec::new(),
        })
    };
    leg.spans.iter().filter_map(cleat).collect()
}

fn board_width(shape: &Shape<'_>, good: &Key) -> Option<Dim> {
    let dryfit_plan::Form::Board(board) = &shape.plan.goods.get(good)?.form else { return None };
    let at = dryfit_measure::Pointer::root().child("goods").child(good.as_str()).child("form").child("board");
    Some(Dim::taped(board.width.length, at.child("width")))
}
