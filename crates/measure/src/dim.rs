//! A dimension that knows why it has its value.

use crate::length::Length;
use crate::pointer::Pointer;
use crate::reason::{Node, Reason, Term};
use crate::unit::{Fineness, Toward};
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};
use std::sync::Arc;

/// A length and the reason behind it. The clone is cheap: the reason is shared.
///
/// Arithmetic builds the reason as it goes: unnamed sums are folded into one list of terms, so that a printed
/// line shows what a builder would write down. Name a dimension where it means something on its own; from then
/// on it is printed by that name, and its own line says where it comes from.
///
/// Dims are for the borders of a stage; inner loops and solvers take bare [`Length`]s.
///
/// ```
/// use dryfit_measure::{Dim, Fineness, Length, Pointer, explain, sources};
/// let at = |text: &str| Pointer::parse(text).unwrap();
/// let width = Dim::chosen(Length::inches(24, 0, 1), at("/units/b3/width")).named("unit width");
/// let side = Dim::taped(Length::inches(0, 23, 32), at("/goods/ply-18/measured/thickness")).named("side");
/// let inside = (&width - &side - &side).named("inside width");
/// let lines = explain(&inside, Fineness::In32, 10);
/// assert_eq!(lines[0].text, "inside width 22 9/16 in = unit width 24 in - 2 x side 23/32 in");
/// assert_eq!(lines[1].text, "unit width 24 in: chosen at /units/b3/width");
/// assert_eq!(sources(&inside).len(), 2);
/// ```
#[derive(Clone)]
pub struct Dim {
    length: Length,
    node: Arc<Node>,
}

impl Dim {
    /// A dimension with any reason. Prefer the constructors below, which cannot contradict the length.
    pub fn new(length: Length, reason: Reason) -> Dim {
        Dim { length, node: Arc::new(Node { name: None, place: None, reason }) }
    }

    /// Measured, at this place in the plan.
    pub fn taped(length: Length, at: Pointer) -> Dim {
        Dim::new(length, Reason::Taped { at })
    }

    /// Wished for, at this place in the plan.
    pub fn chosen(length: Length, at: Pointer) -> Dim {
        Dim::new(length, Reason::Chosen { at })
    }

    /// What a rule of the handbook says.
    pub fn rule(length: Length, id: impl Into<Arc<str>>) -> Dim {
        Dim::new(length, Reason::Rule { id: id.into() })
    }

    /// Adjusted from readings, each with the change of this length per change of it.
    pub fn adjusted(length: Length, readings: impl Into<Arc<[(Pointer, f64)]>>) -> Dim {
        Dim::new(length, Reason::Adjusted { readings: readings.into() })
    }

    /// Worked out from `inputs`, each with the change of the result per change of it; `how` is a noun phrase
    /// that "of" can follow: "diagonal".
    pub fn worked(length: Length, how: impl Into<Arc<str>>, inputs: impl Into<Arc<[(Dim, f64)]>>) -> Dim {
        Dim::new(length, Reason::From { how: how.into(), inputs: inputs.into() })
    }

    /// No length, for no reason: the sum of nothing.
    pub fn zero() -> Dim {
        Dim::combination(vec![])
    }

    /// The diagonal of a rectangle with these sides.
    pub fn hypot(a: &Dim, b: &Dim) -> Dim {
        let length = a.length.hypot(b.length);
        let slope = |side: Length| if length.is_zero() { 0.0 } else { side.as_mm_f64() / length.as_mm_f64() };
        Dim::worked(length, "diagonal", [(a.clone(), slope(a.length)), (b.clone(), slope(b.length))])
    }

    /// The least of at least one dimension; the first of equals wins.
    pub fn least<const N: usize>(of: [Dim; N]) -> Dim {
        const { assert!(N > 0, "the least of nothing") }
        extreme(true, of.into())
    }

    /// The greatest of at least one dimension; the first of equals wins.
    pub fn greatest<const N: usize>(of: [Dim; N]) -> Dim {
        const { assert!(N > 0, "the greatest of nothing") }
        extreme(false, of.into())
    }

    /// The least of as many as there are, if any.
    ///
    /// ```
    /// use dryfit_measure::{Dim, Length};
    /// let widths = [903, 900, 902].map(|mm| Dim::rule(Length::mm(mm), "a test"));
    /// assert_eq!(Dim::least_of(widths).map(|dim| dim.length()), Some(Length::mm(900)));
    /// assert!(Dim::least_of([]).is_none());
    /// ```
    pub fn least_of(of: impl IntoIterator<Item = Dim>) -> Option<Dim> {
        let of: Vec<Dim> = of.into_iter().collect();
        if of.is_empty() { None } else { Some(extreme(true, of)) }
    }

    /// The greatest of as many as there are, if any.
    pub fn greatest_of(of: impl IntoIterator<Item = Dim>) -> Option<Dim> {
        let of: Vec<Dim> = of.into_iter().collect();
        if of.is_empty() { None } else { Some(extreme(false, of)) }
    }

    /// The length.
    pub fn length(&self) -> Length {
        self.length
    }

    /// Why it is so long.
    pub fn reason(&self) -> &Reason {
        &self.node.reason
    }

    /// What it is called: "inside width".
    pub fn name(&self) -> Option<&str> {
        self.node.name.as_deref()
    }

    /// Where it is, as it is printed before the name: "b3".
    pub fn place(&self) -> Option<&str> {
        self.node.place.as_deref()
    }

    /// The same dimension under a name. One that has a name already keeps it, and is named as the cause.
    ///
    /// ```
    /// use dryfit_measure::{Dim, Fineness, Length, because};
    /// let kick = Dim::rule(Length::inches(4, 0, 1), "kick/height").named("toe kick");
    /// let notch = kick.clone().named("notch height");
    /// assert_eq!(because(&kick, Fineness::In16), "toe kick 4 in: rule kick/height");
    /// assert_eq!(because(&notch, Fineness::In16), "notch height 4 in = toe kick 4 in");
    /// ```
    #[must_use]
    pub fn named(self, name: impl Into<Arc<str>>) -> Dim {
        let name = Some(name.into());
        if self.node.name.is_none() {
            return self.called(name, self.node.place.clone());
        }
        if self.node.name == name { self } else { self.alias(name, None) }
    }

    /// The same dimension at a place of its own, such as a unit's key or a part's role path.
    #[must_use]
    pub fn placed(self, place: impl Into<Arc<str>>) -> Dim {
        let place = Some(place.into());
        if self.node.place.is_none() {
            return self.called(self.node.name.clone(), place);
        }
        let name = self.node.name.clone();
        if self.node.place == place { self } else { self.alias(name, place) }
    }

    /// At the nearest mark in this direction.
    #[must_use]
    pub fn rounded(&self, fineness: Fineness, toward: Toward) -> Dim {
        let length = self.length.round_to(fineness, toward);
        Dim::new(length, Reason::Rounded { of: self.clone(), fineness, toward })
    }

    /// `n` parts that sum exactly, as [`Length::split`] makes them.
    pub fn split(&self, n: usize) -> Vec<Dim> {
        let part = |index| {
            let reason = Reason::Share { of: self.clone(), parts: n, index };
            Dim::new(self.length.part(n, index), reason)
        };
        (0..n).map(part).collect()
    }

    /// Times a factor, to the nearest nanometre; `why` says in a few words where the factor comes from.
    #[must_use]
    pub fn scaled(&self, factor: f64, why: impl Into<Arc<str>>) -> Dim {
        let reason = Reason::Scaled { of: self.clone(), factor, why: why.into() };
        Dim::new(self.length.scaled(factor), reason)
    }

    /// The same length, taken because of stated choices at these places that are no lengths themselves: a
    /// joint, a hand, a count. Whoever changes one of them may move it.
    ///
    /// ```
    /// use dryfit_measure::{Dim, Fineness, Length, Pointer, because};
    /// let dado = Dim::rule(Length::inches(0, 3, 8), "dado/depth").named("dado");
    /// let joint = Pointer::parse("/recipes/k1/joints/bottom").unwrap();
    /// assert_eq!(
    ///     because(&dado.decided_by([joint]).named("let in"), Fineness::In16),
    ///     "let in 3/8 in = dado 3/8 in, as chosen at /recipes/k1/joints/bottom"
    /// );
    /// ```
    #[must_use]
    pub fn decided_by(&self, by: impl Into<Arc<[Pointer]>>) -> Dim {
        Dim::new(self.length, Reason::Decided { of: self.clone(), by: by.into() })
    }

    /// Whether both are one shared dimension, not merely equally long.
    pub fn is_same(&self, other: &Dim) -> bool {
        Arc::ptr_eq(&self.node, &other.node)
    }

    /// The address that all clones of this dimension share; good for telling them apart, never for order.
    pub(crate) fn address(&self) -> *const () {
        Arc::as_ptr(&self.node).cast()
    }

    /// The node, if no other dimension shares it.
    pub(crate) fn into_last_node(self) -> Option<Node> {
        Arc::into_inner(self.node)
    }

    /// The same reason by another name.
    fn called(&self, name: Option<Arc<str>>, place: Option<Arc<str>>) -> Dim {
        let reason = self.node.reason.clone();
        Dim { length: self.length, node: Arc::new(Node { name, place, reason }) }
    }

    /// A dimension of its own, with this one as its cause.
    fn alias(self, name: Option<Arc<str>>, place: Option<Arc<str>>) -> Dim {
        let length = self.length;
        let terms = [Term { times: 1, dim: self }].into();
        Dim { length, node: Arc::new(Node { name, place, reason: Reason::Sum { terms } }) }
    }

    fn is_anonymous(&self) -> bool {
        self.node.name.is_none() && self.node.place.is_none()
    }

    /// The terms this dimension adds to a sum that takes it so many times.
    fn terms(&self, times: i64) -> Vec<Term> {
        match &self.node.reason {
            Reason::Sum { terms } if self.is_anonymous() => {
                let scaled =
                    |term: &Term| Term { times: term.times.saturating_mul(times), dim: term.dim.clone() };
                terms.iter().map(scaled).collect()
            }
            _ => vec![Term { times, dim: self.clone() }],
        }
    }

    /// The sum of terms: the same dimension once, none that is taken no times.
    fn combination(terms: Vec<Term>) -> Dim {
        let mut merged: Vec<Term> = Vec::with_capacity(terms.len());
        for term in terms {
            match merged.iter_mut().find(|known| known.dim.is_interchangeable(&term.dim)) {
                Some(known) => known.times = known.times.saturating_add(term.times),
                None => merged.push(term),
            }
        }
        merged.retain(|term| term.times != 0);
        if let [Term { times: 1, dim }] = merged.as_slice() {
            return dim.clone();
        }
        let length = merged.iter().map(|term| term.dim.length * term.times).sum();
        Dim::new(length, Reason::Sum { terms: merged.into() })
    }

    /// One shared dimension, or two leaves that say the same in the same words.
    fn is_interchangeable(&self, other: &Dim) -> bool {
        if self.is_same(other) {
            return true;
        }
        let alike = match (&self.node.reason, &other.node.reason) {
            (Reason::Taped { at: a }, Reason::Taped { at: b })
            | (Reason::Chosen { at: a }, Reason::Chosen { at: b }) => a == b,
            (Reason::Rule { id: a }, Reason::Rule { id: b }) => a == b,
            _ => false,
        };
        let (a, b) = (&self.node, &other.node);
        alike && self.length == other.length && a.name == b.name && a.place == b.place
    }
}

/// The least or greatest of at least one.
fn extreme(least: bool, of: Vec<Dim>) -> Dim {
    let better = |a: Length, b: Length| if least { a < b } else { a > b };
    let mut winner = 0;
    for (i, dim) in of.iter().enumerate() {
        if better(dim.length, of[winner].length) {
            winner = i;
        }
    }
    let length = of[winner].length;
    Dim::new(length, Reason::Extreme { least, winner, of: of.into() })
}

impl Default for Dim {
    fn default() -> Dim {
        Dim::zero()
    }
}

impl fmt::Debug for Dim {
    /// The name, the length and the last step, never the graph behind it.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let words = [self.place(), self.name()];
        words.iter().flatten().try_for_each(|word| write!(f, "{word} "))?;
        write!(f, "{:?} ({:?})", self.length, self.node.reason)
    }
}

impl Add<&Dim> for &Dim {
    type Output = Dim;
    fn add(self, other: &Dim) -> Dim {
        let mut terms = self.terms(1);
        terms.extend(other.terms(1));
        Dim::combination(terms)
    }
}

impl Sub<&Dim> for &Dim {
    type Output = Dim;
    fn sub(self, other: &Dim) -> Dim {
        let mut terms = self.terms(1);
        terms.extend(other.terms(-1));
        Dim::combination(terms)
    }
}

impl Mul<i64> for &Dim {
    type Output = Dim;
    fn mul(self, times: i64) -> Dim {
        Dim::combination(self.terms(times))
    }
}

impl Neg for &Dim {
    type Output = Dim;
    fn neg(self) -> Dim {
        self * -1
    }
}

/// The same operation for owned operands.
macro_rules! owned_operands {
    ($trait:ident, $method:ident) => {
        impl $trait<Dim> for Dim {
            type Output = Dim;
            fn $method(self, other: Dim) -> Dim {
                (&self).$method(&other)
            }
        }

        impl $trait<&Dim> for Dim {
            type Output = Dim;
            fn $method(self, other: &Dim) -> Dim {
                (&self).$method(other)
            }
        }

        impl $trait<Dim> for &Dim {
            type Output = Dim;
            fn $method(self, other: Dim) -> Dim {
                self.$method(&other)
            }
        }
    };
}

owned_operands!(Add, add);
owned_operands!(Sub, sub);

impl Mul<i64> for Dim {
    type Output = Dim;
    fn mul(self, times: i64) -> Dim {
        &self * times
    }
}

impl Neg for Dim {
    type Output = Dim;
    fn neg(self) -> Dim {
        -&self
    }
}

impl AddAssign<&Dim> for Dim {
    fn add_assign(&mut self, other: &Dim) {
        *self = &*self + other;
    }
}

impl SubAssign<&Dim> for Dim {
    fn sub_assign(&mut self, other: &Dim) {
        *self = &*self - other;
    }
}

impl Sum for Dim {
    fn sum<I: Iterator<Item = Dim>>(dims: I) -> Dim {
        Dim::combination(dims.flat_map(|dim| dim.terms(1)).collect())
    }
}

impl<'a> Sum<&'a Dim> for Dim {
    fn sum<I: Iterator<Item = &'a Dim>>(dims: I) -> Dim {
        Dim::combination(dims.flat_map(|dim| dim.terms(1)).collect())
    }
}
