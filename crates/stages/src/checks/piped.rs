//! What rules about services share: where they are stated, and how their nodes are moved.

use dryfit_measure::{Key, Length, Pointer, Stated, Toward};
use dryfit_plan::{BoxPurpose, Draft, Form, Node, OutletBox, Place, Plan, Service, WallFace};

use super::Checked;
use crate::services::{NodeKind, PlacedNode, PlacedRun, service_at};

/// Where a service is stated, its sort included; its map where there is none of that key.
pub(super) fn stated_at(plan: &Plan, key: &Key) -> Pointer {
    match plan.services.get(key) {
        Some(service) => service_at(key, service),
        None => Pointer::root().child("services").child(key.as_str()),
    }
}

/// A new receptacle, flush with what the wall will be finished with, behind a ground-fault device.
pub(super) fn receptacle_at(wall: &Key, along: Stated, up: Stated, serves: Option<Key>) -> Service {
    let at = Place { wall: wall.clone(), along, up: Some(up), out: None, face: WallFace::Finish };
    Service::Box(OutletBox {
        name: None,
        purpose: BoxPurpose::Receptacle,
        at,
        good: None,
        devices: Vec::new(),
        with: Vec::new(),
        proud: None,
        serves,
        through: None,
        ground_fault: true,
        found: false,
    })
}

/// Whether a node has a place of its own in its service.
fn is_own(node: &PlacedNode) -> bool {
    !matches!(node.kind, NodeKind::Joins | NodeKind::Box)
}

/// The nodes from `from` on as far as the run goes on level, not up or down.
pub(super) fn level_nodes(run: &PlacedRun, from: usize) -> std::ops::RangeInclusive<usize> {
    let mut to = from;
    while let Some([a, b]) = run.nodes.get(to..to + 2) {
        let rise = (b.spot.up.length() - a.spot.up.length()).abs();
        let along = (b.spot.along.length() - a.spot.along.length()).abs();
        let deep = (b.spot.deep.length() - a.spot.deep.length()).abs();
        if rise > along.max(deep) {
            break;
        }
        to += 1;
    }
    from..=to
}

impl Checked<'_> {
    /// Some nodes of a run so much higher, each at a mark.
    pub(super) fn raised(
        &self,
        mut draft: Draft,
        run: &PlacedRun,
        nodes: impl IntoIterator<Item = usize>,
        by: Length,
        toward: Toward,
    ) -> Draft {
        for node in nodes.into_iter().filter_map(|i| run.nodes.get(i)).filter(|node| is_own(node)) {
            draft = draft.set(&node.at.child("up"), self.mark(node.spot.up.length() + by, toward));
        }
        draft
    }

    /// Everything that stands over or under a place of a wall, pipes and cables that begin there included, so much
    /// further along: all nodes of runs of that key, and of those that join them, at this very place along.
    pub(super) fn slid(&self, mut draft: Draft, run: &PlacedRun, along: Length, to: Length) -> Draft {
        let joined = self.services.runs.iter().filter(|other| self.joins(other, &run.key));
        for run in std::iter::once(run).chain(joined) {
            let here = |node: &&PlacedNode| is_own(node) && node.spot.along.length() == along;
            for node in run.nodes.iter().filter(here) {
                draft = draft.set(&node.at.child("along"), self.mark(to, Toward::Nearest));
            }
        }
        draft
    }

    fn joins(&self, run: &PlacedRun, other: &Key) -> bool {
        let Some(Service::Pipe(stated)) = self.plan.services.get(&run.key) else { return false };
        stated.nodes.values().any(|node| matches!(node, Node::Joins { service, .. } if service == other))
    }

    /// The pipe with the least size that is at least so large, among the goods of the plan.
    pub(super) fn pipe_of(&self, least: Length) -> Option<Key> {
        let sized = self.plan.goods.iter().filter_map(|(key, good)| match good.form {
            Form::Pipe { nominal, .. } if nominal.length >= least => Some((nominal.length, key)),
            _ => None,
        });
        sized.min().map(|(_, key)| key.clone())
    }
}
