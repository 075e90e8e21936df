//! What a worktop uses up: contact adhesive, glue, screws, bolts.

use dryfit_measure::{Amount, Area, Dim, Volume};
use dryfit_plan::TopRole;

use super::leg::Shape;
use super::{Seam, TopPart, TopPiece, WorkLeg};
use crate::need::Need;
use crate::placement::{PlacedUnit, Placement};
use crate::surfaces::coating::Coat;
use dryfit_plan::UnitKind;

/// Screws up through one box: front and back, at both sides. Common practice, no source.
const SCREWS_A_BOX: u32 = 4;

/// Everything but sheets.
pub(super) fn needs(
    shape: &Shape<'_>,
    placement: &Placement,
    legs: &[WorkLeg],
    seams: &[Seam],
    pieces: &[TopPiece],
) -> Vec<Need> {
    let at = shape.placed.key.to_string();
    let role = |role| shape.top.roles.get(&role);
    let mut needs = Vec::new();
    if let Some(good) = role(TopRole::Adhesive) {
        let faced = area(pieces, |what| matches!(what, TopPart::Facing | TopPart::Edge));
        let coat = Coat::of(shape.plan, good);
        // both faces: the blank and what it goes on
        let both = Area::from_nm2(faced.nm2() * 2);
        needs.push(Need::of(good.clone(), coat.needs(both), "laminate, both faces", at.clone()));
    }
    let layered = area(pieces, |what| what == TopPart::Strip).nm2()
        + layers(pieces).map(|piece| (piece.length.length() * piece.width.length()).nm2()).sum::<i128>();
    if let Some(good) = role(TopRole::Glue)
        && layered > 0
    {
        let film = shape.figures.dim("glue-film").length();
        let glue = Amount::Volume(Volume::from_nm3(layered.saturating_mul(i128::from(film.nm()))));
        needs.push(Need::of(good.clone(), glue, "build-up layers", at.clone()));
    }
    if let Some(good) = role(TopRole::LayerScrew) {
        let pitch = shape.figures.dim("layer-screw-pitch").length();
        let rows = |piece: &TopPiece| piece.length.length().needs(pitch).max(1) + 1;
        let strips = pieces.iter().filter(|piece| piece.what == TopPart::Strip).map(rows);
        let count: i64 = strips.chain(layers(pieces).map(|piece| rows(piece) * 3)).sum();
        if count > 0 {
            needs.push(Need::pieces(good.clone(), pieces_of(count), "build-up layers", at.clone()));
        }
    }
    if let Some(good) = role(TopRole::FixScrew) {
        let boxes = legs.iter().map(|leg| carried(placement, leg)).sum::<u32>();
        needs.push(Need::pieces(good.clone(), boxes * SCREWS_A_BOX, "worktop to boxes", at.clone()));
    }
    if let Some(good) = role(TopRole::SeamBolt) {
        let bolts: u32 = seams.iter().map(|seam| seam.bolts).sum();
        let because: Vec<Dim> = seams.iter().map(|seam| seam.length.clone()).collect();
        if bolts > 0 {
            needs.push(Need::pieces(good.clone(), bolts, "worktop seams", at).because(because));
        }
    }
    needs
}

/// Whole layers below the upper one.
fn layers(pieces: &[TopPiece]) -> impl Iterator<Item = &TopPiece> {
    pieces.iter().filter(|piece| piece.what == TopPart::Substrate && piece.layer > 1)
}

fn area(pieces: &[TopPiece], is: impl Fn(TopPart) -> bool) -> Area {
    let of = pieces.iter().filter(|piece| is(piece.what));
    Area::from_nm2(of.map(|piece| (piece.length.length() * piece.width.length()).nm2()).sum())
}

/// Boxes under a leg that it is screwed to.
fn carried(placement: &Placement, leg: &WorkLeg) -> u32 {
    let is = |unit: &&PlacedUnit| {
        matches!(unit.kind, UnitKind::Base | UnitKind::Sink)
            && unit.along.length() < leg.back[1].length()
            && unit.right().length() > leg.back[0].length()
    };
    u32::try_from(placement.units_of(&leg.run).filter(is).count()).unwrap_or(u32::MAX)
}

fn pieces_of(count: i64) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
