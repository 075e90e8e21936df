//! How the length of a run is shared out among its units.
//!
//! Chosen widths stand on the tape's marks. What does not come out even goes to a scribe, else to the filler in a
//! corner, so that those that share stay alike; without either the first of them get a mark more. Knows nothing
//! of walls or of a plan: it is given wishes and two ends.

use dryfit_measure::{Dim, Fineness, Length, Toward};

use super::stack::on_mark;

/// What one unit of a run wants.
#[derive(Clone, Debug)]
pub(super) enum Want {
    /// So wide.
    Given(Dim),
    /// An equal share.
    Share,
    /// An equal share within limits.
    Within {
        /// Not less.
        least: Dim,
        /// Not more.
        most: Dim,
    },
    /// So wide, and what is left over; rather less than go without, down to `least`.
    Scribe {
        /// To begin with.
        wanted: Dim,
        /// Not less.
        least: Dim,
    },
    /// From its end of the run up to this place at least: what stands in a corner.
    UpTo(Dim),
}

/// A run shared out.
#[derive(Clone, Debug)]
pub(super) struct Shared {
    /// Left edge of each unit.
    pub edges: Vec<Dim>,
    /// Width of each unit.
    pub widths: Vec<Dim>,
    /// Where the last unit ends.
    pub end: Dim,
}

impl Shared {
    /// Right edge of unit `k`.
    pub fn right(&self, k: usize) -> Dim {
        self.edges.get(k + 1).unwrap_or(&self.end).clone()
    }
}

/// The stretch of a run between what stands in its corners.
struct Middle<'w> {
    /// Its wants, none of them [`Want::UpTo`] save by mistake.
    wants: &'w [Want],
    names: &'w [&'w str],
    begin: Dim,
    finish: Dim,
    /// How many units stand before it, and after it.
    lead: usize,
    tail: usize,
}

impl<'w> Middle<'w> {
    fn of(
        wants: &'w [Want],
        names: &'w [&'w str],
        left: &Dim,
        right: &Dim,
        fineness: Fineness,
    ) -> Middle<'w> {
        let corner = |want: &&Want| matches!(want, Want::UpTo(_));
        let lead = wants.iter().take_while(corner).count();
        let tail = wants[lead..].iter().rev().take_while(corner).count();
        let inner = lead..wants.len() - tail;
        let place = |want: Option<&Want>| match want {
            Some(Want::UpTo(place)) => Some(place.clone()),
            _ => None,
        };
        let scribed = |want: Option<&Want>| matches!(want, Some(Want::Scribe { .. }));
        // a scribe takes up the fraction of a mark at a wall; without one it is left as a gap
        let begin = place(wants[..lead].last()).unwrap_or_else(|| {
            if scribed(wants.first()) { left.clone() } else { on_mark(left, fineness, Toward::Up) }
        });
        let finish = place(wants[inner.end..].first()).unwrap_or_else(|| {
            if scribed(wants.last()) { right.clone() } else { on_mark(right, fineness, Toward::Down) }
        });
        Middle { wants: &wants[inner.clone()], names: &names[inner], begin, finish, lead, tail }
    }

    /// The widths that do not hang on what is left; a scribe's to begin with, so much at the left end of a run
    /// that its inner edge stands at a mark.
    fn fixed(&self, i: usize, fineness: Fineness) -> Option<Dim> {
        match &self.wants[i] {
            Want::Given(width) => Some(width.clone()),
            Want::Scribe { wanted, .. } if i == 0 && self.lead == 0 && self.wants.len() > 1 => {
                let inner = on_mark(&(&self.begin + wanted), fineness, Toward::Up);
                let inner = inner.named("inner edge").placed(self.names[i]);
                Some((inner - &self.begin).named("width").placed(self.names[i]))
            }
            Want::Scribe { wanted, .. } => Some(wanted.clone()),
            Want::UpTo(_) => Some(Dim::zero()),
            Want::Share | Want::Within { .. } => None,
        }
    }

    /// The widths where nothing says where the run ends: as wished, nothing to share.
    fn as_wished(&self, fineness: Fineness) -> Vec<Dim> {
        (0..self.wants.len()).map(|i| self.fixed(i, fineness).unwrap_or_default()).collect()
    }

    fn widths(&self, fineness: Fineness) -> Vec<Dim> {
        let mut widths: Vec<Option<Dim>> = (0..self.wants.len()).map(|i| self.fixed(i, fineness)).collect();
        let scribes: Vec<usize> =
            (0..widths.len()).filter(|&i| matches!(self.wants[i], Want::Scribe { .. })).collect();
        let sharers: Vec<usize> = (0..widths.len()).filter(|&i| widths[i].is_none()).collect();
        let rest = &self.finish - &self.begin - widths.iter().flatten().sum::<Dim>();
        let spread = scribes.is_empty() && self.lead + self.tail == 0;
        let limits: Vec<Limits<'_>> = sharers.iter().map(|&i| Limits::of(&self.wants[i])).collect();
        for (&i, share) in sharers.iter().zip(shares(&limits, &rest, spread, fineness)) {
            widths[i] = Some(share.named("width").placed(self.names[i]));
        }
        let mut widths: Vec<Dim> = widths.into_iter().map(Option::unwrap_or_default).collect();
        let over = &self.finish - &self.begin - widths.iter().sum::<Dim>();
        self.take_up(&mut widths, &scribes, over, fineness);
        widths
    }

    /// Lets the scribes take what is over in equal parts, or give what is missing, the right-hand one first.
    fn take_up(&self, widths: &mut [Dim], scribes: &[usize], over: Dim, fineness: Fineness) {
        let mut rest = over;
        for (k, &i) in scribes.iter().enumerate().rev() {
            let Want::Scribe { least, .. } = &self.wants[i] else { continue };
            let part = if rest.length().is_negative() {
                Dim::greatest([rest.clone(), Dim::least([least - &widths[i], Dim::zero()])])
            } else if k == 0 {
                rest.clone()
            } else {
                // the exact rest stays with the right-hand one, whole marks go to the others
                let others =
                    rest.split(k + 1).into_iter().skip(1).map(|part| on_mark(&part, fineness, Toward::Down));
                &rest - others.sum::<Dim>()
            };
            rest -= &part;
            widths[i] = (&widths[i] + part).named("width").placed(self.names[i]);
        }
    }
}

/// The least and most that one of those that share will have.
#[derive(Clone, Copy)]
struct Limits<'w>(Option<[&'w Dim; 2]>);

impl<'w> Limits<'w> {
    fn of(want: &'w Want) -> Limits<'w> {
        match want {
            Want::Within { least, most } => Limits(Some([least, most])),
            _ => Limits(None),
        }
    }

    fn least(self) -> Length {
        self.0.map_or(Length::ZERO, |[least, _]| least.length())
    }

    fn most(self) -> Length {
        self.0.map_or(Length::from_nm(i64::MAX), |[_, most]| most.length())
    }
}

/// What one share came to: which of its limits binds, if any.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Bound {
    Free,
    Least,
    Most,
}

/// Shares out `left` to `right`, or without it goes from `left` as far as the wishes go; each unit is called by
/// its name.
pub(super) fn share_out(
    wants: &[Want],
    names: &[&str],
    left: &Dim,
    right: Option<&Dim>,
    fineness: Fineness,
) -> Shared {
    let mut middle = Middle::of(wants, names, left, right.unwrap_or(left), fineness);
    let inner = if right.is_some() { middle.widths(fineness) } else { middle.as_wished(fineness) };
    if right.is_none() {
        middle.finish = &middle.begin + inner.iter().sum::<Dim>();
    }
    let right = right.unwrap_or(&middle.finish);
    let sum: Dim = inner.iter().sum();
    let over = middle.finish.length() - middle.begin.length() - sum.length();
    let begin = if over.is_positive() && middle.tail == 0 && middle.lead > 0 {
        // the filler in the left-hand corner takes what nobody else does
        &middle.finish - sum
    } else {
        middle.begin.clone()
    };
    let mut edges: Vec<Dim> = Vec::with_capacity(wants.len() + 1);
    if middle.lead > 0 {
        edges.push(left.clone());
        let places = wants[..middle.lead - 1].iter().filter_map(|want| match want {
            Want::UpTo(place) => Some(place.clone()),
            _ => None,
        });
        edges.extend(places);
    }
    edges.push(begin);
    for (width, name) in inner.iter().zip(middle.names) {
        let edge = edges.last().map(|edge| edge + width).unwrap_or_default();
        edges.push(edge.named("right edge").placed(*name));
    }
    // where too much stands before it, a corner's filler keeps its width and is pushed on
    let push = over.is_negative().then(|| edges.last().map(|edge| edge - &middle.finish).unwrap_or_default());
    for i in wants.len() - middle.tail..wants.len() {
        let next = match wants.get(i + 1) {
            Some(Want::UpTo(place)) => place,
            _ => right,
        };
        edges.push(push.as_ref().map_or_else(|| next.clone(), |push| next + push));
    }
    let end = edges.pop().unwrap_or_default();
    let right_of = |i: usize| edges.get(i + 1).unwrap_or(&end);
    let width = |i: usize| match i.checked_sub(middle.lead).and_then(|i| inner.get(i)) {
        Some(width) => width.clone(),
        None => (right_of(i) - &edges[i]).named("width").placed(names[i]),
    };
    let widths = (0..wants.len()).map(width).collect();
    Shared { edges, widths, end }
}

/// Where a run begins that ends at `right` and has nothing to share.
pub(super) fn natural_begin(wants: &[Want], right: &Dim, fineness: Fineness) -> Dim {
    let names = vec![""; wants.len()];
    let middle = Middle::of(wants, &names, right, right, fineness);
    let wanted = |want: &Want| match want {
        Want::Given(width) | Want::Scribe { wanted: width, .. } => Some(width.clone()),
        _ => None,
    };
    on_mark(&(&middle.finish - middle.wants.iter().filter_map(wanted).sum::<Dim>()), fineness, Toward::Down)
}

/// Equal shares of `rest`, at marks and within limits.
///
/// Where no filler takes up the marks that do not come out even (`spread`), the first ones get one more each.
fn shares(limits: &[Limits<'_>], rest: &Dim, spread: bool, fineness: Fineness) -> Vec<Dim> {
    let whole = rest.clone().named("what is left");
    let (lengths, bounds) = even(limits, whole.length(), spread, fineness);
    let limited = limits.iter().any(|limits| limits.0.is_some());
    let share = |k: usize| {
        if limited {
            return within_limits(&whole, limits, &bounds, k, lengths[k]);
        }
        let part = if limits.len() == 1 { whole.clone() } else { whole.split(limits.len()).swap_remove(k) };
        let toward = if lengths[k] > part.length() { Toward::Up } else { Toward::Down };
        let part = on_mark(&part, fineness, toward);
        if part.length().is_negative() { Dim::greatest([part, Dim::zero()]) } else { part }
    };
    (0..limits.len()).map(share).collect()
}

/// One share where some have limits: it hangs on the whole and on every limit, whichever of them bind now.
fn within_limits(whole: &Dim, limits: &[Limits<'_>], bounds: &[Bound], k: usize, length: Length) -> Dim {
    let free = bounds.iter().filter(|bound| **bound == Bound::Free).count().max(1) as f64;
    let own = bounds[k] == Bound::Free;
    let mut inputs = vec![(whole.clone(), if own { 1.0 / free } else { 0.0 })];
    for (j, (Limits(limit), bound)) in limits.iter().zip(bounds).enumerate() {
        for (limit, binding) in limit.iter().flatten().zip([Bound::Least, Bound::Most]) {
            let slope = match (*bound == binding, j == k, own) {
                (true, true, _) => 1.0,
                (true, false, true) => -1.0 / free,
                _ => 0.0,
            };
            inputs.push(((*limit).clone(), slope));
        }
    }
    Dim::worked(length, "equal share, within limits,", inputs)
}

/// Equal shares as bare lengths, none below zero, and which limits bind.
fn even(limits: &[Limits<'_>], whole: Length, spread: bool, fineness: Fineness) -> (Vec<Length>, Vec<Bound>) {
    let mut bounds = vec![Bound::Free; limits.len()];
    let at_limit = |bounds: &[Bound], k: usize| match bounds[k] {
        Bound::Free => Length::ZERO,
        Bound::Least => limits[k].least(),
        Bound::Most => limits[k].most(),
    };
    let (share, rest, free) = loop {
        let free: Vec<usize> = (0..limits.len()).filter(|&k| bounds[k] == Bound::Free).collect();
        let taken: Length = (0..limits.len()).map(|k| at_limit(&bounds, k)).sum();
        let rest = whole - taken;
        // the last of an exact split is the least
        let share = rest.split(free.len()).pop().unwrap_or_default();
        // bind the limits that together ask for more: that can only bring the share nearer to the others
        let lack = |k: usize| (limits[k].least() - share).max(Length::ZERO);
        let excess = |k: usize| (share - limits[k].most()).max(Length::ZERO);
        let lacking: Length = free.iter().map(|&k| lack(k)).sum();
        let exceeding: Length = free.iter().map(|&k| excess(k)).sum();
        if lacking.is_zero() && exceeding.is_zero() {
            break (share, rest, free);
        }
        for k in free {
            if lacking >= exceeding && lack(k).is_positive() {
                bounds[k] = Bound::Least;
            } else if lacking < exceeding && excess(k).is_positive() {
                bounds[k] = Bound::Most;
            }
        }
    };
    let mark = share.round_to(fineness, Toward::Down);
    let over = rest - free.iter().map(|_| mark).sum::<Length>();
    let mut marks = if spread { over.fits(fineness.step()) } else { 0 };
    let mut lengths: Vec<Length> = (0..limits.len()).map(|k| at_limit(&bounds, k)).collect();
    for k in free {
        let more = if marks > 0 { fineness.step() } else { Length::ZERO };
        lengths[k] = (mark + more).min(limits[k].most()).max(limits[k].least());
        marks -= 1;
    }
    (lengths, bounds)
}

#[cfg(test)]
mod tests;
