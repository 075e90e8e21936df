//! What can be asked of a dimension's reason: what it names, how it would move, what it would be.
//!
//! Reasons are a shared graph; every walk here visits a shared reason once.

use crate::dim::Dim;
use crate::length::Length;
use crate::pointer::Pointer;
use crate::reason::Reason;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The distinct dimensions behind one, found once and asked many times; the free functions of this module
/// make one for a single question.
///
/// ```
/// use dryfit_measure::{Dim, Length, Pointer, Trace};
/// let r1 = Pointer::root().child("readings").child("r1");
/// let width = Dim::taped(Length::mm(600), r1.clone());
/// let trace = Trace::of(&width);
/// let draws = [-1, 0, 2].map(|mm| trace.evaluate(&|at| (*at == r1).then_some(Length::mm(mm))));
/// assert_eq!(draws, [599, 600, 602].map(Length::mm));
/// ```
pub struct Trace<'d> {
    /// Inputs always before what uses them; the last is the dimension that was asked about.
    pub(crate) dims: Vec<&'d Dim>,
    /// For each of the dims, which dims it is made from, and its change per change of them.
    pub(crate) inputs: Vec<Vec<(usize, f64)>>,
}

impl<'d> Trace<'d> {
    /// Walks the graph behind a dimension.
    pub fn of(root: &'d Dim) -> Trace<'d> {
        let mut trace = Trace { dims: Vec::new(), inputs: Vec::new() };
        let mut places: BTreeMap<*const (), usize> = BTreeMap::new();
        // a stack of its own, for a chain may be longer than the thread's
        let mut open = vec![(root, false)];
        while let Some((dim, inputs_done)) = open.pop() {
            if places.contains_key(&dim.address()) {
                continue;
            }
            let inputs = dim.reason().inputs();
            if inputs_done || inputs.is_empty() {
                places.insert(dim.address(), trace.dims.len());
                trace
                    .inputs
                    .push(inputs.iter().map(|(input, slope)| (places[&input.address()], *slope)).collect());
                trace.dims.push(dim);
            } else {
                open.push((dim, true));
                open.extend(inputs.into_iter().rev().map(|(input, _)| (input, false)));
            }
        }
        trace
    }

    /// The change of the asked dimension per change of each of the dims.
    pub(crate) fn weights(&self) -> Vec<f64> {
        let mut weights = vec![0.0; self.dims.len()];
        if let Some(root) = weights.last_mut() {
            *root = 1.0;
        }
        for (i, inputs) in self.inputs.iter().enumerate().rev() {
            for &(input, slope) in inputs {
                weights[input] += weights[i] * slope;
            }
        }
        weights
    }

    /// As [`sources`].
    pub fn sources(&self) -> BTreeSet<Pointer> {
        let mut places = BTreeSet::new();
        for dim in &self.dims {
            match dim.reason() {
                Reason::Taped { at } | Reason::Chosen { at } => {
                    places.insert(at.clone());
                }
                Reason::Adjusted { readings } => places.extend(readings.iter().map(|(at, _)| at.clone())),
                Reason::Decided { by, .. } => places.extend(by.iter().cloned()),
                _ => {}
            }
        }
        places
    }

    /// As [`rules`].
    pub fn rules(&self) -> BTreeSet<Arc<str>> {
        let id = |dim: &&Dim| match dim.reason() {
            Reason::Rule { id } => Some(id.clone()),
            _ => None,
        };
        self.dims.iter().filter_map(id).collect()
    }

    /// As [`slopes`].
    pub fn slopes(&self) -> BTreeMap<Pointer, f64> {
        let mut slopes = BTreeMap::new();
        for (dim, weight) in self.dims.iter().zip(self.weights()) {
            let mut add = |at: &Pointer, slope: f64| {
                if slope != 0.0 {
                    *slopes.entry(at.clone()).or_insert(0.0) += slope;
                }
            };
            match dim.reason() {
                Reason::Taped { at } | Reason::Chosen { at } => add(at, weight),
                Reason::Adjusted { readings } => {
                    for (at, slope) in readings.iter() {
                        add(at, weight * slope);
                    }
                }
                _ => {}
            }
        }
        slopes
    }

    /// As [`evaluate`].
    pub fn evaluate(&self, change: &dyn Fn(&Pointer) -> Option<Length>) -> Length {
        let mut values: Vec<Length> = Vec::with_capacity(self.dims.len());
        for (dim, inputs) in self.dims.iter().zip(&self.inputs) {
            let value = afresh(dim, inputs.iter().map(|&(input, _)| values[input]), change);
            values.push(value);
        }
        values.pop().unwrap_or_default()
    }
}

/// What a dimension is when its inputs have these values, in the order of [`Reason::inputs`].
fn afresh(
    dim: &Dim,
    mut values: impl Iterator<Item = Length>,
    change: &dyn Fn(&Pointer) -> Option<Length>,
) -> Length {
    let changed = |at: &Pointer| change(at).unwrap_or_default();
    let moved = |slope: f64, by: Length| by.as_mm_f64() * slope;
    let mut first = || values.next().unwrap_or_default();
    match dim.reason() {
        Reason::Taped { at } | Reason::Chosen { at } => dim.length() + changed(at),
        Reason::Rule { .. } => dim.length(),
        Reason::Adjusted { readings } => {
            let mm: f64 = readings.iter().map(|(at, slope)| moved(*slope, changed(at))).sum();
            dim.length() + Length::from_mm_f64(mm)
        }
        Reason::Sum { terms } => terms.iter().zip(values).map(|(term, value)| value * term.times).sum(),
        Reason::Share { parts, index, .. } => first().part(*parts, *index),
        Reason::Extreme { least: true, .. } => values.min().unwrap_or_default(),
        Reason::Extreme { least: false, .. } => values.max().unwrap_or_default(),
        Reason::Rounded { fineness, toward, .. } => first().round_to(*fineness, *toward),
        Reason::Scaled { factor, .. } => first().scaled(*factor),
        Reason::Decided { .. } => first(),
        Reason::From { inputs, .. } => {
            let by = |((dim, slope), value): (&(Dim, f64), Length)| moved(*slope, value - dim.length());
            dim.length() + Length::from_mm_f64(inputs.iter().zip(values).map(by).sum())
        }
    }
}

/// Every place in the plan that a dimension's reason names: what was taped and chosen, all the readings of an
/// adjustment, the choices that decided, and the losers of every least and greatest, which would win if they
/// were nudged.
pub fn sources(dim: &Dim) -> BTreeSet<Pointer> {
    Trace::of(dim).sources()
}

/// The id of every handbook rule that a dimension's reason names.
pub fn rules(dim: &Dim) -> BTreeSet<Arc<str>> {
    Trace::of(dim).rules()
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
    Trace::of(dim).slopes()
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
    Trace::of(dim).evaluate(change)
}
