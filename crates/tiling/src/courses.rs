//! Courses: planks in rows, balanced between their first and their last, their end joints staggered.

use crate::field::Net;
use crate::shape::{Rect, Shape, intersection};

/// How the rows are divided.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Start {
    /// The first and the last course equally wide.
    Balanced,
    /// Whole courses from the lower end; the last is what is left.
    Whole,
    /// A first course so wide.
    First(i64),
}

/// Where end joints may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Framing {
    /// One place, anywhere along.
    pub first: i64,
    /// From one to the next.
    pub apart: i64,
}

/// What is to be laid in courses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlankJob {
    /// Courses run along x (0) or y (1).
    pub along: usize,
    /// What a course covers across.
    pub reveal: i64,
    /// The longest piece there is.
    pub longest: i64,
    /// The shortest that an end joint may make.
    pub shortest: i64,
    /// How far an end joint is from those of the course before, at least.
    pub stagger: i64,
    /// Where end joints may be; none is anywhere.
    pub framing: Option<Framing>,
    /// How the rows are divided.
    pub start: Start,
}

/// One piece of a course.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plank {
    /// Its place in the course, from one.
    pub number: u32,
    /// Its exact outline.
    pub shape: Shape,
    /// Along the course.
    pub length: i64,
    /// Across.
    pub width: i64,
    /// Whether its far end is an end joint.
    pub jointed: bool,
}

/// One row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Course {
    /// From and to, across.
    pub across: [i64; 2],
    /// What of its reveal is left, less than all of it only in the first and the last.
    pub reveal: i64,
    /// Its pieces.
    pub planks: Vec<Plank>,
    /// Where its end joints are.
    pub joints: Vec<i64>,
}

/// All rows, from the lower end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Courses {
    /// The rows.
    pub courses: Vec<Course>,
    /// How many end joints are nearer than the stagger to one of the course before.
    pub crowded: usize,
    /// How many stretches are longer than the longest piece and could not be jointed.
    pub unjointed: usize,
}

/// Most courses, and most places for joints in one stretch, that are looked at.
const MOST: i64 = 2_000;

/// Lays planks. None where the sizes make no sense or there would be too many.
pub fn plank(net: &Net, job: &PlankJob) -> Option<Courses> {
    let across = 1 - job.along.min(1);
    let sound = job.reveal > 0 && job.longest > 0 && job.shortest >= 0 && job.stagger >= 0;
    if !sound || job.framing.is_some_and(|framing| framing.apart <= 0) {
        return None;
    }
    let points: Vec<_> = net.open.iter().flat_map(|shape| shape.outer.iter().copied()).collect();
    let Some(bounds) = Rect::around(&points) else {
        return Some(Courses { courses: Vec::new(), crowded: 0, unjointed: 0 });
    };
    let lines = lines(bounds.low[across], bounds.high[across], job)?;
    let mut done = Courses { courses: Vec::new(), crowded: 0, unjointed: 0 };
    for pair in lines.windows(2) {
        let before: Vec<&[i64]> =
            done.courses.iter().rev().take(2).map(|course| course.joints.as_slice()).collect();
        let course = course(net, job, [pair[0], pair[1]], &bounds, &before);
        done.crowded += course.1;
        done.unjointed += course.2;
        done.courses.push(course.0);
    }
    Some(done)
}

/// The lines between courses, the ends included.
fn lines(low: i64, high: i64, job: &PlankJob) -> Option<Vec<i64>> {
    let whole = high - low;
    let count = (whole - 1).div_euclid(job.reveal) + 1;
    if count > MOST {
        return None;
    }
    let first = match job.start {
        Start::Balanced if count > 1 => (whole - (count - 2) * job.reveal + 1) / 2,
        Start::Balanced | Start::Whole => job.reveal,
        Start::First(first) if first > 0 => first.min(job.reveal),
        Start::First(_) => return None,
    };
    let mut lines = vec![low];
    let mut at = low + first;
    while at < high {
        lines.push(at);
        at += job.reveal;
    }
    lines.push(high);
    Some(lines)
}

/// One course, how many of its joints are crowded, and how many stretches could not be jointed.
fn course(
    net: &Net,
    job: &PlankJob,
    band: [i64; 2],
    bounds: &Rect,
    before: &[&[i64]],
) -> (Course, usize, usize) {
    let (along, across) = (job.along.min(1), 1 - job.along.min(1));
    let cut = |from: i64, to: i64, of: &[Shape]| {
        let mut rect = *bounds;
        (rect.low[across], rect.high[across]) = (band[0], band[1]);
        (rect.low[along], rect.high[along]) = (from, to);
        intersection(of, &[rect.shape()])
    };
    let mut stretches = cut(bounds.low[along], bounds.high[along], &net.open);
    stretches.sort_by_key(|shape| (shape.bounds().low[along], shape.bounds().low[across]));
    let mut course =
        Course { across: band, reveal: band[1] - band[0], planks: Vec::new(), joints: Vec::new() };
    let (mut crowded, mut unjointed) = (0, 0);
    for stretch in stretches {
        let rect = stretch.bounds();
        let (from, to) = (rect.low[along], rect.high[along]);
        let found = joints(job, from, to, before);
        unjointed += usize::from(found.is_none());
        let joints = found.unwrap_or_default();
        crowded += joints.iter().filter(|joint| is_crowded(**joint, before.first(), job.stagger)).count();
        let ends: Vec<i64> = std::iter::once(from).chain(joints.iter().copied()).chain([to]).collect();
        for (k, pair) in ends.windows(2).enumerate() {
            let whole = std::slice::from_ref(&stretch);
            let parts = if ends.len() == 2 { whole.to_vec() } else { cut(pair[0], pair[1], whole) };
            for shape in parts {
                let size = shape.bounds().size();
                course.planks.push(Plank {
                    number: u32::try_from(course.planks.len() + 1).unwrap_or(u32::MAX),
                    length: size[along],
                    width: size[across],
                    jointed: k + 2 < ends.len(),
                    shape,
                });
            }
        }
        course.joints.extend(joints);
    }
    (course, crowded, unjointed)
}

fn is_crowded(joint: i64, before: Option<&&[i64]>, stagger: i64) -> bool {
    before.is_some_and(|joints| joints.iter().any(|other| (joint - other).abs() < stagger))
}

/// What a way to a place has in it: joints that are crowded, joints, joints in line with the course before the last,
/// and what its pieces are short of the longest.
type Way = (usize, usize, usize, i64);

/// Where a stretch is jointed: with fewest joints crowded, then fewest joints, then fewest in line with those of the
/// course before the last, then the longest pieces first. None where no places do.
fn joints(job: &PlankJob, from: i64, to: i64, before: &[&[i64]]) -> Option<Vec<i64>> {
    if to - from <= job.longest {
        return Some(Vec::new());
    }
    let mut places: Vec<i64> = if let Some(Framing { first, apart }) = job.framing {
        let begin = first + (from - first).div_euclid(apart) * apart;
        let count = ((to - begin) / apart).min(MOST);
        (0..=count).map(|k| begin + k * apart).collect()
    } else {
        let step = (job.stagger / 2).max((to - from) / MOST).max(1);
        let count = ((to - from) / step).min(MOST);
        let ends = (1..8).flat_map(|k| [from + k * job.longest, to - k * job.longest]);
        (1..=count).map(|k| from + k * step).chain(ends).collect()
    };
    places.retain(|at| *at - from >= job.shortest && to - *at >= job.shortest && *at > from && *at < to);
    places.sort_unstable();
    places.dedup();
    places.push(to);
    let mut best: Vec<Option<(Way, Option<usize>)>> = vec![None; places.len()];
    for (i, at) in places.iter().enumerate() {
        let joint = i + 1 < places.len();
        let crowded = usize::from(joint && is_crowded(*at, before.first(), job.stagger));
        let in_line = usize::from(joint && before.get(1).is_some_and(|joints| joints.contains(at)));
        let add = |way: Way, since: i64| {
            (
                way.0 + crowded,
                way.1 + usize::from(joint),
                way.2 + in_line,
                way.3 + (job.longest - (at - since)),
            )
        };
        let reach = |since: i64| at - since <= job.longest && at - since >= job.shortest;
        let mut found = reach(from).then(|| (add((0, 0, 0, 0), from), None));
        for (k, since) in places[..i].iter().enumerate() {
            if let (true, Some((way, _))) = (reach(*since), best[k]) {
                let new = add(way, *since);
                if found.is_none_or(|(known, _)| new < known) {
                    found = Some((new, Some(k)));
                }
            }
        }
        best[i] = found;
    }
    let mut at = best.last().copied().flatten()?.1;
    let mut joints = Vec::new();
    while let Some(k) = at {
        joints.push(places[k]);
        at = best[k].and_then(|(_, before)| before);
    }
    joints.reverse();
    Some(joints)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::field::{Field, Hole};
    use crate::shape::total2;

    const JOB: PlankJob = PlankJob {
        along: 0,
        reveal: 100,
        longest: 1000,
        shortest: 100,
        stagger: 200,
        framing: None,
        start: Start::Balanced,
    };

    fn covers(net: &Net, courses: &Courses) {
        let planks = courses.courses.iter().flat_map(|course| &course.planks);
        let shapes: Vec<Shape> = planks.map(|plank| plank.shape.clone()).collect();
        assert_eq!(total2(&shapes), total2(&net.open));
    }

    #[test]
    fn first_and_last_are_balanced_and_never_less_than_half() {
        for height in 101..700 {
            let net = Field::rectangle([500, height], 0).net();
            let laid = plank(&net, &JOB).expect("laid");
            covers(&net, &laid);
            let (first, last) = (laid.courses[0].reveal, laid.courses[laid.courses.len() - 1].reveal);
            assert!((first - last).abs() <= 1 && first <= 100 && last >= 50, "{height}: {first} {last}");
        }
    }

    #[test]
    fn an_opening_parts_the_courses_beside_it() {
        let mut field = Field::rectangle([900, 600], 0);
        field.holes = vec![Hole { ring: Rect::at([300, -50], [200, 500]).ring(), gap: 10, bounds: true }];
        let net = field.net();
        let laid = plank(&net, &PlankJob { start: Start::Whole, ..JOB }).expect("laid");
        covers(&net, &laid);
        let counts: Vec<usize> = laid.courses.iter().map(|course| course.planks.len()).collect();
        assert_eq!(counts, [2, 2, 2, 2, 1, 1]);
        assert_eq!([0, 1].map(|k| laid.courses[0].planks[k].length), [290, 390]);
        // over the head the piece is notched: 60 of its 100 are gone there
        assert_eq!(laid.courses[4].planks[0].shape.outer.len(), 8);
    }

    #[test]
    fn joints_are_on_the_framing_and_staggered() {
        let net = Field::rectangle([2500, 800], 0).net();
        let framing = Some(Framing { first: 150, apart: 400 });
        let laid = plank(&net, &PlankJob { framing, stagger: 350, ..JOB }).expect("laid");
        covers(&net, &laid);
        assert_eq!((laid.crowded, laid.unjointed), (0, 0));
        for course in &laid.courses {
            assert!(!course.joints.is_empty());
            for joint in &course.joints {
                assert_eq!((joint - 150) % 400, 0);
            }
            assert!(course.planks.iter().all(|plank| plank.length <= 1000 && plank.length >= 100));
        }
        for pair in laid.courses.windows(2) {
            for a in &pair[0].joints {
                assert!(pair[1].joints.iter().all(|b| (a - b).abs() >= 350));
            }
        }
    }

    #[test]
    fn what_cannot_be_jointed_is_told() {
        let net = Field::rectangle([2500, 100], 0).net();
        let framing = Some(Framing { first: 50, apart: 1200 });
        let laid = plank(&net, &PlankJob { framing, ..JOB }).expect("laid");
        assert_eq!((laid.unjointed, laid.courses[0].planks.len()), (1, 1));
    }

    #[test]
    fn courses_may_run_upwards() {
        let net = Field::rectangle([450, 900], 0).net();
        let laid = plank(&net, &PlankJob { along: 1, ..JOB }).expect("laid");
        covers(&net, &laid);
        assert_eq!(laid.courses.len(), 5);
        assert!(laid.courses.iter().all(|course| course.planks[0].length == 900));
    }

    #[test]
    fn senseless_sizes_are_refused() {
        let net = Field::rectangle([450, 900], 0).net();
        assert!(plank(&net, &PlankJob { reveal: 0, ..JOB }).is_none());
        assert!(plank(&net, &PlankJob { start: Start::First(0), ..JOB }).is_none());
        assert!(plank(&Field::rectangle([1 << 40, 1 << 40], 0).net(), &JOB).is_none());
    }
}
