//! The walk round the room, brought counter-clockwise, with the wall that leaves each corner.

use std::collections::BTreeMap;

use dryfit_measure::{Key, Pointer};
use dryfit_plan::{Plan, Sense};

/// The corners and walls in the order of the adjustment.
#[derive(Clone, Debug)]
pub(crate) struct Ring {
    /// Corners, counter-clockwise from the first of the walk, each once.
    pub corners: Vec<Key>,
    /// Where each corner stands in the plan's list.
    pub listed: Vec<usize>,
    /// The wall from each corner to the next; none where the plan has none.
    pub walls: Vec<Option<Key>>,
    corner_of: BTreeMap<Key, usize>,
    wall_of: BTreeMap<Key, usize>,
}

impl Ring {
    /// The ring of a plan. A corner that is named twice counts the first time.
    pub fn of(plan: &Plan) -> Ring {
        let mut listed: Vec<usize> = Vec::new();
        for (i, key) in plan.room.walk.iter().enumerate() {
            if !listed.iter().any(|&known| plan.room.walk[known] == *key) {
                listed.push(i);
            }
        }
        if plan.room.sense == Sense::Clockwise && !listed.is_empty() {
            listed[1..].reverse();
        }
        let corners: Vec<Key> = listed.iter().map(|&i| plan.room.walk[i].clone()).collect();
        let n = corners.len();
        let joins = |i: usize| {
            let ends = [&corners[i], &corners[(i + 1) % n]];
            let join = |from: &Key, to: &Key| ends == [from, to] || ends == [to, from];
            plan.walls.iter().find(|(_, wall)| join(&wall.from, &wall.to)).map(|(key, _)| key.clone())
        };
        let walls: Vec<Option<Key>> = (0..n).map(joins).collect();
        let corner_of = corners.iter().cloned().zip(0..).collect();
        let wall_of = walls.iter().cloned().zip(0..).filter_map(|(key, i)| key.map(|key| (key, i))).collect();
        Ring { corners, listed, walls, corner_of, wall_of }
    }

    /// How many corners.
    pub fn len(&self) -> usize {
        self.corners.len()
    }

    /// The index of a corner.
    pub fn corner(&self, key: &Key) -> Option<usize> {
        self.corner_of.get(key).copied()
    }

    /// The index of a wall.
    pub fn wall(&self, key: &Key) -> Option<usize> {
        self.wall_of.get(key).copied()
    }

    /// The wall between two corners that are neighbours.
    pub fn between(&self, from: usize, to: usize) -> Option<usize> {
        let n = self.len();
        if (from + 1) % n == to {
            Some(from)
        } else if (to + 1) % n == from {
            Some(to)
        } else {
            None
        }
    }

    /// The plan's own place of a wall, or of the corner that it leaves where the plan has no such wall.
    pub fn place(&self, wall: usize) -> Pointer {
        match &self.walls[wall] {
            Some(key) => Pointer::root().child("walls").child(key),
            None => self.corner_place(wall),
        }
    }

    /// Where a corner stands in the walk.
    pub fn corner_place(&self, corner: usize) -> Pointer {
        Pointer::root().child("room").child("walk").index(self.listed[corner])
    }

    /// A wall's key; where the plan has none, its corners' keys joined.
    pub fn wall_key(&self, wall: usize) -> Key {
        let join = || {
            let (from, to) = (&self.corners[wall], &self.corners[(wall + 1) % self.len()]);
            Key::new(&format!("{from}-{to}")).unwrap_or_else(|_| from.clone())
        };
        self.walls[wall].clone().unwrap_or_else(join)
    }
}
