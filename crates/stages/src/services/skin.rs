//! What lies on a wall's framing at a place: board, furring, tile, planks.

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::Plan;

/// How far the faces of a wall are out from its framing.
#[derive(Clone, Debug)]
pub struct Skin {
    /// The face that the survey measured to.
    pub measured: Dim,
    /// Its layers, without tile or planks.
    pub board: Dim,
    /// As it will be seen.
    pub finish: Dim,
}

impl Skin {
    /// The skin of a wall at a place.
    pub fn of(plan: &Plan, wall: &Key, _along: Length, _up: Length) -> Skin {
        let at = Pointer::root().child("walls").child(wall.as_str()).child("layers");
        let layers = plan.walls.get(wall).into_iter().flat_map(|wall| &wall.layers);
        let (mut measured, mut later) = (Dim::zero(), Dim::zero());
        for (key, layer) in layers {
            let at = at.child(key).child("thickness");
            if layer.measured {
                measured += &Dim::taped(layer.thickness.length, at).named(layer.name.as_str());
            } else {
                later += &Dim::chosen(layer.thickness.length, at).named(layer.name.as_str());
            }
        }
        let board = (&measured + &later).named("layers").placed(wall.as_str());
        Skin { finish: board.clone().named("finish"), measured, board }
    }
}
