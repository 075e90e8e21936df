//! Hinges: how many a door takes, and cups that miss the shelves behind it.

use dryfit_handbook::hinge_bands;
use dryfit_measure::{Dim, Length, Mass};
use dryfit_plan::{Form, Hand, Role};

use super::front::Leaf;
use super::job::{Job, goods_pointer};
use super::part::Span;
use super::{Holes, OperationKind, Part};

/// How many hinges a door of this height and mass takes: the greater of what its height and what its mass ask
/// for, by the handbook's bands (hinge makers' charts; makers differ).
pub(super) fn count(height: Length, mass: Mass) -> usize {
    let bands = hinge_bands();
    let most = bands.last().map_or(2, |band| band.hinges);
    let by_height = bands.iter().find(|band| height <= band.height.length).map_or(most, |band| band.hinges);
    let by_mass = bands.iter().find(|band| mass <= band.mass()).map_or(most, |band| band.hinges);
    by_height.max(by_mass)
}

/// Centres of the cups from the lower end of the door.
pub(super) fn cups(job: &Job<'_>, leaf: &Leaf, mass: Mass, shelves: &[[Dim; 2]]) -> Vec<Dim> {
    let count = count(leaf.height.length(), mass);
    let quarter = leaf.height.split(4).remove(0);
    let end = Dim::least([job.figure("hinge-from-end"), quarter]).named("hinge from the end");
    let between = &leaf.height - &end * 2;
    let step = between.split(count.saturating_sub(1).max(1)).remove(0);
    let evenly = (0..count).map(|k| {
        if k + 1 == count { &leaf.height - &end } else { &end + &step * i64::try_from(k).unwrap_or(0) }
    });
    let clear = job.figure("hinge-shelf-clear");
    let edge = cup_radius(job) + Length::INCH;
    evenly.map(|place| clear_of(place, leaf, shelves, &clear, edge)).collect()
}

/// The nearest place to `place` at which no shelf comes closer to the cup's centre than `clear`.
fn clear_of(place: Dim, leaf: &Leaf, shelves: &[[Dim; 2]], clear: &Dim, edge: Length) -> Dim {
    let zones: Vec<[Dim; 2]> =
        shelves.iter().map(|[low, high]| [low - &leaf.bottom - clear, high - &leaf.bottom + clear]).collect();
    let blocked = |at: Length| zones.iter().any(|[low, high]| low.length() < at && at < high.length());
    if !blocked(place.length()) {
        return place;
    }
    let within = |at: Length| at >= edge && at <= leaf.height.length() - edge;
    zones
        .iter()
        .flatten()
        .filter(|side| !blocked(side.length()) && within(side.length()))
        .min_by_key(|side| ((side.length() - place.length()).abs(), side.length()))
        .map_or(place.clone(), |side| side.clone().named("cup clear of the shelf"))
}

fn cup_radius(job: &Job<'_>) -> Length {
    match job.good(Role::Hinge).map(|good| &good.form) {
        Some(Form::Hinge { cup, .. }) => cup.length.div_floor(2),
        _ => Length::ZERO,
    }
}

/// Bores one cup into the back of the stile on the hinge side.
pub(super) fn bore(job: &Job<'_>, stile: Part, hand: Hand, place: &Dim) -> Part {
    let (Some(key), Some(Form::Hinge { cup, cup_in, .. })) =
        (job.good_key(Role::Hinge), job.good(Role::Hinge).map(|good| &good.form))
    else {
        return stile;
    };
    let record = goods_pointer(key).child("form").child("hinge");
    let bit = Dim::taped(cup.length, record.child("cup")).named("hinge cup");
    let inset = Dim::taped(cup_in.length, record.child("cup_in")).named("cup centre from the edge");
    let line = match hand {
        Hand::Left => Span::at(inset),
        Hand::Right => Span::at_high(inset),
    };
    let spans = [line, Span::High(job.figure("hinge-cup-depth")), Span::at(place.clone())];
    let holes = Holes { count: 1, pitch: Dim::zero(), bit };
    stile.drill(OperationKind::HingeCup, "for a hinge", &spans, holes)
}
