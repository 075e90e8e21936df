//! Floor and ceiling heights against the datum.
//!
//! The datum is the high point of the floor under the units, on the floor as it will be finished: everything
//! vertical hangs from it. A build-up lies evenly on the floor as found, so that heights of the floor against
//! the datum are the same before and after it; the ceiling loses it. A floor reading counts as under the units
//! when a run on the floor stands along its wall and it lies no further out than a base and its front (30 in);
//! where none does, all floor readings count.
//!
//! Readings count that were taken in the state of the room that is adjusted; where it has none of a kind, those of the
//! others do.
//!
//! A ceiling reading is taken from the floor beside it; the height of the floor there is that of the nearest
//! floor reading.

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::{Level, Place, Plan, Reading, Subject};
use nalgebra::{Matrix3, Vector3};

use super::observe::place;
use super::{LevelPoint, Levels, Survey};

/// How far out from its wall a floor reading still counts as under the units.
const UNDER: Length = Length::inches(30, 0, 1);

/// The heights that a plan's readings give; `epoch` is the state of the room that is adjusted.
pub(crate) fn levels(plan: &Plan, survey: &Survey, epoch: Option<&Key>) -> Levels {
    let read = |want: fn(&Subject) -> Option<&Place>| {
        let of_kind = move |reading: &Reading| reading.set_aside.is_none() && want(&reading.of).is_some();
        let here = move |reading: &Reading| epoch.is_none_or(|epoch| reading.epoch == *epoch);
        let any = plan.readings.values().any(|reading| of_kind(reading) && here(reading));
        let found =
            plan.readings.iter().filter(move |(_, reading)| of_kind(reading) && (!any || here(reading)));
        let found = found.filter_map(move |(key, reading)| want(&reading.of).map(|at| (key, reading, at)));
        found.filter_map(|(key, reading, at)| {
            let taped = Dim::taped(reading.length.length, place(key)).named("reading").placed(key.as_str());
            Some((key, at, spot(survey, at)?, taped))
        })
    };
    let floor: Vec<_> = read(|of| if let Subject::Floor { at } = of { Some(at) } else { None }).collect();
    let under: Vec<bool> = floor.iter().map(|(_, at, ..)| is_under_units(plan, at)).collect();
    let any = under.contains(&true);
    let counts = |i: usize| under[i] || !any;
    let high = Dim::least_of((0..floor.len()).filter(|&i| counts(i)).map(|i| floor[i].3.clone()));
    let high = high.map(|dim| dim.named("high point of the floor below the level line"));
    let datum = high.as_ref().and_then(|high| {
        let first = (0..floor.len()).find(|&i| counts(i) && floor[i].3.length() == high.length());
        first.map(|i| floor[i].0.clone())
    });
    let floor_points: Vec<LevelPoint> = floor
        .iter()
        .filter_map(|(key, _, at, taped)| {
            let height = (high.as_ref()? - taped).named("floor").placed(key.as_str());
            Some(LevelPoint { reading: (*key).clone(), at: *at, height })
        })
        .collect();
    let buildup = plan.room.floor_buildup.map(|buildup| {
        let at = Pointer::root().child("room").child("floor_buildup");
        Dim::chosen(buildup.length, at).named("floor build-up")
    });
    let above = |dim: Dim| buildup.as_ref().map_or(dim.clone(), |buildup| &dim - buildup);
    let ceiling = read(|of| if let Subject::Ceiling { at } = of { Some(at) } else { None });
    let ceiling = ceiling.map(|(key, _, at, taped)| {
        let from_floor = nearest(&floor_points, at).map_or(taped.clone(), |floor| &taped + &floor.height);
        let height = above(from_floor).named("ceiling").placed(key.as_str());
        LevelPoint { reading: key.clone(), at, height }
    });
    let about = plan.room.ceiling_about.map(|about| {
        let at = Pointer::root().child("room").child("ceiling_about");
        above(Dim::chosen(about.length, at)).named("ceiling, about")
    });
    let places = survey.nothing_long();
    Levels { ceiling: ceiling.collect(), floor: floor_points, datum, about, places }
}

/// Where in the room a place is, on the floor.
fn spot(survey: &Survey, at: &Place) -> Option<[f64; 2]> {
    let out = at.out.map_or(Length::ZERO, |out| out.length);
    survey.point_on_wall(&at.wall, at.along.length, -survey.rise, out)
}

fn is_under_units(plan: &Plan, at: &Place) -> bool {
    let near = at.out.is_none_or(|out| out.length <= UNDER);
    near && plan.runs.values().any(|run| run.along == at.wall && run.level == Level::Floor)
}

fn nearest(points: &[LevelPoint], at: [f64; 2]) -> Option<&LevelPoint> {
    let far = |p: &LevelPoint| (p.at[0] - at[0]).hypot(p.at[1] - at[1]);
    points.iter().reduce(|a, b| if far(b) < far(a) { b } else { a })
}

impl Levels {
    /// The finished floor against the datum at a place in the room (mm): that of the nearest reading.
    pub fn floor_at(&self, at: [f64; 2]) -> Option<Dim> {
        nearest(&self.floor, at).map(|point| point.height.clone())
    }

    /// The ceiling above the datum over a place in the room (mm), on the low side: the plane through all ceiling
    /// readings, lowered until no reading lies under it; with too few readings for a plane the least of them;
    /// with none the height that was given as about. None if nothing is known.
    pub fn ceiling_over(&self, at: [f64; 2]) -> Option<Dim> {
        let heights = || self.ceiling.iter().map(|point| point.height.clone());
        let Some(planes) = Plane::through(&self.ceiling) else {
            return Dim::least_of(heights()).or_else(|| self.about.clone()).map(|dim| dim.named("ceiling"));
        };
        let plane = |at: [f64; 2]| {
            // the places move with the room's readings, hardly enough to count and enough to be named
            let rest = (self.places.clone(), 0.0);
            let inputs: Vec<(Dim, f64)> = heights().zip(planes.weights(at)).chain([rest]).collect();
            let mm: f64 = inputs.iter().map(|(dim, weight)| dim.length().as_mm_f64() * weight).sum();
            Dim::worked(Length::from_mm_f64(mm), "plane through the ceiling readings", inputs)
        };
        let dip = |point: &LevelPoint| {
            (plane(point.at) - &point.height).named("ceiling under its plane").placed(point.reading.as_str())
        };
        let dips = Dim::greatest_of(self.ceiling.iter().map(dip))?;
        Some((plane(at) - dips).named("ceiling"))
    }
}

/// The plane that fits points best, as weights of their heights.
struct Plane {
    middle: [f64; 2],
    inverse: Matrix3<f64>,
    points: Vec<[f64; 2]>,
}

impl Plane {
    /// None where the points lie in one line or are too few.
    fn through(points: &[LevelPoint]) -> Option<Plane> {
        let points: Vec<[f64; 2]> = points.iter().map(|point| point.at).collect();
        let n = points.len() as f64;
        let middle = [0, 1].map(|k| points.iter().map(|p| p[k]).sum::<f64>() / n);
        let mut normal = Matrix3::zeros();
        for p in &points {
            let row = row(*p, middle);
            normal += row * row.transpose();
        }
        // narrower than a foot across, a plane would be a guess
        let spread = nalgebra::Matrix2::new(normal[(1, 1)], normal[(1, 2)], normal[(2, 1)], normal[(2, 2)]);
        let narrow = nalgebra::SymmetricEigen::new(spread).eigenvalues.min();
        if points.len() < 3 || narrow.is_nan() || narrow < 0.3 * 0.3 {
            return None;
        }
        Some(Plane { middle, inverse: normal.try_inverse()?, points })
    }

    fn weights(&self, at: [f64; 2]) -> Vec<f64> {
        let to = self.inverse * row(at, self.middle);
        self.points.iter().map(|p| to.dot(&row(*p, self.middle))).collect()
    }
}

/// One, and the place from the middle in metres.
fn row(at: [f64; 2], middle: [f64; 2]) -> Vector3<f64> {
    Vector3::new(1.0, (at[0] - middle[0]) / 1000.0, (at[1] - middle[1]) / 1000.0)
}
