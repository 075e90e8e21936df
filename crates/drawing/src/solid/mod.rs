//! The solid model: what stands in the room as bodies in a tree, before anybody asks from where it is seen.
//!
//! Whole nanometres, right-handed, z up. The room's axes begin at its first corner on the datum; a unit's at the
//! front, left, bottom corner of its box, x to the right as seen from the front. A node says where its own axes
//! lie among its parent's, so that what is cut square stays exact however the wall runs.
#![allow(clippy::many_single_char_names, reason = "corners, axes and shares, as geometry calls them")]

mod assemble;
mod body;

pub use assemble::scene;
pub(crate) use assemble::{ceiling, on_wall};
pub(crate) use body::edges;
pub use body::{Body, Facet};

use dryfit_measure::Length;

/// A point: x, y, z.
pub type Place = [Length; 3];

/// A thing in the room, or a group of them.
#[derive(Clone, Debug)]
pub struct Node {
    /// Its role path (`b1/door.left/rail.top`), plan key, or name: unique in its scene.
    pub path: String,
    /// What it is.
    pub sort: Sort,
    /// What is known of it, as text: `size`, `good`, `name`.
    pub said: Vec<(&'static str, String)>,
    /// Where its own axes lie among its parent's.
    pub stand: Stand,
    /// Its own body, besides those of its children.
    pub body: Option<Body>,
    /// What it is made of.
    pub children: Vec<Node>,
}

/// Sorts of thing, as far as they look different.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    /// A group of others.
    Group,
    /// The floor as it will be finished.
    Floor,
    /// A wall's inside face.
    Wall,
    /// A part cut from a sheet.
    Sheet,
    /// A part cut from a board.
    Board,
    /// A worktop.
    Top,
    /// An appliance.
    Appliance,
    /// A sink.
    Sink,
}

/// Where axes lie among others: an origin, and the direction of x on the floor. They stand upright.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// The origin.
    pub origin: Place,
    /// Unit vector along x, seen from above; y is a quarter turn counter-clockwise from it.
    pub along: [f64; 2],
}

impl Stand {
    /// The same axes.
    pub const SAME: Stand = Stand { origin: [Length::ZERO; 3], along: [1.0, 0.0] };

    /// A place of these axes among the others, mm.
    pub fn mm(&self, at: [f64; 3]) -> [f64; 3] {
        let [x, y, z] = at;
        let [c, s] = self.along;
        let origin = self.origin.map(Length::as_mm_f64);
        [origin[0] + x * c - y * s, origin[1] + x * s + y * c, origin[2] + z]
    }

    /// The same in whole nanometres.
    pub fn place(&self, at: Place) -> Place {
        if *self == Stand::SAME { at } else { self.mm(at.map(Length::as_mm_f64)).map(Length::from_mm_f64) }
    }
}

impl Node {
    /// A group of others in the axes of its parent.
    pub fn group(path: impl Into<String>, children: Vec<Node>) -> Node {
        Node {
            path: path.into(),
            sort: Sort::Group,
            said: Vec::new(),
            stand: Stand::SAME,
            body: None,
            children,
        }
    }

    /// A body in the axes of its parent.
    pub fn solid(path: impl Into<String>, sort: Sort, body: Body) -> Node {
        Node { sort, body: Some(body), ..Node::group(path, Vec::new()) }
    }

    /// The same with one more thing said of it.
    #[must_use]
    pub fn saying(mut self, what: &'static str, text: impl Into<String>) -> Node {
        self.said.push((what, text.into()));
        self
    }

    /// The node of this path, itself or one below it.
    pub fn find(&self, path: &str) -> Option<&Node> {
        if self.path == path { Some(self) } else { self.children.iter().find_map(|child| child.find(path)) }
    }

    /// Calls `see` for it and everything below it, each with its body's facets in the axes that this node lies in.
    pub fn walk<'a>(&'a self, see: &mut impl FnMut(&'a Node, Vec<Facet>)) {
        self.walk_in(&[], see);
    }

    fn walk_in<'a>(&'a self, stands: &[Stand], see: &mut impl FnMut(&'a Node, Vec<Facet>)) {
        let mut within = vec![self.stand];
        within.extend_from_slice(stands);
        let out = |at: Place| within.iter().fold(at, |at, stand| stand.place(at));
        let facets = self.body.iter().flat_map(|body| &body.facets).map(|facet| facet.moved(out));
        see(self, facets.collect());
        for child in &self.children {
            child.walk_in(&within, see);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn axes_stay_right_handed_however_they_stand() {
        let stand = Stand { origin: [Length::mm(100), Length::mm(50), Length::ZERO], along: [0.0, 1.0] };
        let at = |x, y, z| stand.place([Length::mm(x), Length::mm(y), Length::mm(z)]);
        assert_eq!(at(10, 0, 0), [Length::mm(100), Length::mm(60), Length::ZERO]);
        assert_eq!(at(0, 10, 5), [Length::mm(90), Length::mm(50), Length::mm(5)]);
    }
}
