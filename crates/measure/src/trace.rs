//! What can be asked of a dimension's reason: what it names, how it would move, what it would be.
//!
//! Reasons are a shared graph; every walk here visits a shared reason once.

use crate::dim::Dim;
use crate::length::Length;
use crate::pointer::Pointer;
use crate::reason::Reason;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The distinct dimensions behind one, inputs always before what uses them; the last is the dimension itself.
pub(crate) struct Graph<'d> {
    pub(crate) dims: Vec<&'d Dim>,
    index: BTreeMap<*const (), usize>,
}

impl<'d> Graph<'d> {
    pub(crate) fn of(root: &'d Dim) -> Graph<'d> {
        let mut graph = Graph { dims: Vec::new(), index: BTreeMap::new() };
        let mut entered = BTreeSet::new();
        // a stack of its own, for a chain may be longer than the thread's
        let mut open = vec![(root, false)];
        while let Some((dim, inputs_done)) = open.pop() {
            if graph.index.contains_key(&dim.address()) {
                continue;
            }
            if inputs_done {
                graph.index.insert(dim.address(), graph.dims.len());
                graph.dims.push(dim);
            } else if entered.insert(dim.address()) {
                open.push((dim, true));
                open.extend(dim.reason().inputs().into_iter().rev().map(|(input, _)| (input, false)));
            }
        }
        graph
    }

    /// Where a dimension of this graph stands in it.
    pub(crate) fn position(&self, dim: &Dim) -> usize {
        self.index[&dim.address()]
    }

    /// The change of the root per change of each dimension.
    pub(crate) fn weights(&self) -> Vec<f64> {
        let mut weights = vec![0.0; self.dims.len()];
        if let Some(root) = weights.last_mut() {
            *root = 1.0;
        }
        for (i, dim) in self.dims.iter().enumerate().rev() {
            for (input, slope) in dim.reason().inputs() {
                weights[self.position(input)] += weights[i] * slope;
            }
        }
        weights
    }
}

/// Every place in the plan that a dimension's reason names: what was taped and chosen, all the readings of an
/// adjustment, and the losers of every least and greatest, which would win if they were nudged.
pub fn sources(dim: &Dim) -> BTreeSet<Pointer> {
    let mut places = BTreeSet::new();
    for dim in Graph::of(dim).dims {
        match dim.reason() {
            Reason::Taped { at } | Reason::Chosen { at } => {
                places.insert(at.clone());
            }
            Reason::Adjusted { readings } => places.extend(readings.iter().map(|(at, _)| at.clone())),
            _ => {}
        }
    }
    places
}

/// The id of every handbook rule that a dimension's reason names.
pub fn rules(dim: &Dim) -> BTreeSet<Arc<str>> {
    let id = |dim: &Dim| match dim.reason() {
        Reason::Rule { id } => Some(id.clone()),
        _ => None,
    };
    Graph::of(dim).dims.into_iter().filter_map(id).collect()
}

/// The change of a dimension per change of each place that it depends on, as things stand.
///
/// Through a least or greatest it is the winner's; a rounding passes changes on as they are. A place that only
/// losers name is left out.
///
/// ```
/// use dryfit_measure::{Dim, Length, Pointer, slopes};
/// let at = |text: &str| Pointer::parse(text).unwrap();
/// let side = Dim::taped(Length::mm(18), at("/goods/ply"));
/// let inside = Dim::chosen(Length::mm(600), at("/units/b3/width")) - side * 2;
/// assert_eq!(slopes(&inside)[&at("/goods/ply")], -2.0);
/// ```
pub fn slopes(dim: &Dim) -> BTreeMap<Pointer, f64> {
    let graph = Graph::of(dim);
    let mut slopes = BTreeMap::new();
    for (dim, weight) in graph.dims.iter().zip(graph.weights()) {
        let mut add = |at: &Pointer, slope: f64| {
            if slope != 0.0 {
                *slopes.entry(at.clone()).or_insert(0.0) += slope;
            }
        };
        match dim.reason() {
            Reason::Taped { at } | Reason::Chosen { at } => add(at, weight),
            Reason::Adjusted { readings } => readings.iter().for_each(|(at, slope)| add(at, weight * slope)),
            _ => {}
        }
    }
    slopes
}

/// What a dimension would be if places in the plan changed: `change` gives how much is *added* to each, or
/// nothing where it stays.
///
/// Sums, splits, roundings, least and greatest are worked afresh; adjustments and what was
/// [`worked`](Dim::worked) follow their derivatives, so keep changes small. For sampling uncertainty: draw the
/// changes of all readings together and ask once a draw.
///
/// ```
/// use dryfit_measure::{Dim, Length, Pointer, evaluate};
/// let at = |text: &str| Pointer::parse(text).unwrap();
/// let low = Dim::taped(Length::mm(600), at("/readings/r1"));
/// let high = Dim::taped(Length::mm(602), at("/readings/r2"));
/// let clear = Dim::least([low, high]);
/// let longer = |place: &Pointer| (*place == at("/readings/r1")).then_some(Length::mm(5));
/// assert_eq!(evaluate(&clear, &longer), Length::mm(602));
/// ```
pub fn evaluate(dim: &Dim, change: &dyn Fn(&Pointer) -> Option<Length>) -> Length {
    let graph = Graph::of(dim);
    let mut values: Vec<Length> = Vec::with_capacity(graph.dims.len());
    let changed = |at: &Pointer| change(at).unwrap_or_default();
    for dim in &graph.dims {
        let value = |input: &Dim| values[graph.position(input)];
        let moved = |slope: f64, by: Length| by.as_mm_f64() * slope;
        let value = match dim.reason() {
            Reason::Taped { at } | Reason::Chosen { at } => dim.length() + changed(at),
            Reason::Rule { .. } => dim.length(),
            Reason::Adjusted { readings } => {
                let mm: f64 = readings.iter().map(|(at, slope)| moved(*slope, changed(at))).sum();
                dim.length() + Length::from_mm_f64(mm)
            }
            Reason::Sum { terms } => terms.iter().map(|term| value(&term.dim) * term.times).sum(),
            Reason::Share { of, parts, index } => value(of).part(*parts, *index),
            Reason::Extreme { least: true, of, .. } => of.iter().map(value).min().unwrap_or_default(),
            Reason::Extreme { least: false, of, .. } => of.iter().map(value).max().unwrap_or_default(),
            Reason::Rounded { of, fineness, toward } => value(of).round_to(*fineness, *toward),
            Reason::Scaled { of, factor, .. } => value(of).scaled(*factor),
            Reason::From { inputs, .. } => {
                let mm: f64 =
                    inputs.iter().map(|(dim, slope)| moved(*slope, value(dim) - dim.length())).sum();
                dim.length() + Length::from_mm_f64(mm)
            }
        };
        values.push(value);
    }
    values.pop().unwrap_or_default()
}
