//! Planks: courses over a field, every piece, and from how many planks they come.

use dryfit_cutting::{BarKind, Budget, LengthJob, LengthPart, solve_lengths};
use dryfit_measure::{Amount, Area, Dim, Key, Length, Pointer};
use dryfit_plan::{Form, Plan, PlankLaying};
use dryfit_tiling::{Courses, Framing, Net, PlankJob, Start, plank};

use crate::figures::Figures;
use crate::need::Need;

/// A field of planks.
#[derive(Clone, Debug)]
pub struct PlankField {
    /// The planks.
    pub good: Key,
    /// What a course covers.
    pub reveal: Dim,
    /// The longest piece that comes out of a plank.
    pub stock: Dim,
    /// Whether courses run upwards.
    pub upright: bool,
    /// Every course with its pieces.
    pub courses: Courses,
    /// How much is left of the reveal in the first and in the last course.
    pub ends: [Dim; 2],
    /// Planks to buy.
    pub bars: u32,
    /// No fewer would do than this.
    pub least_bars: u32,
    /// Nails, two at every stud.
    pub nails: Option<(Key, u32)>,
    /// What is covered.
    pub area: Area,
}

impl PlankField {
    /// The role path of a piece: course from below and place in it from the left.
    pub fn path(key: &Key, course: usize, number: u32) -> String {
        format!("{key}/r{}.p{number}", course + 1)
    }

    /// How many pieces.
    pub fn pieces(&self) -> usize {
        self.courses.courses.iter().map(|course| course.planks.len()).sum()
    }

    pub(super) fn needs(&self, key: &Key) -> Vec<Need> {
        let at = format!("/fields/{key}");
        let words = format!("{key}: {} pieces in {} courses", self.pieces(), self.courses.courses.len());
        let planks = Need::of(self.good.clone(), Amount::Pieces(self.bars), words, at.clone());
        let mut needs = vec![planks.because(vec![self.reveal.clone(), self.stock.clone()])];
        if let Some((good, count)) = &self.nails {
            needs.push(Need::pieces(good.clone(), *count, format!("{key}, two at every stud"), at));
        }
        needs
    }
}

/// Sixteen inches apart where the studs are not stated. Common practice, no source.
const STUDS: Length = Length::inches(16, 0, 1);

/// Lays planks. None where the good is no plank, or its sizes make no sense.
pub(super) fn planks(
    plan: &Plan,
    key: &Key,
    laying: &PlankLaying,
    wall: Option<&Key>,
    net: &Net,
) -> Option<PlankField> {
    let Form::Plank(form) = &plan.goods.get(&laying.good)?.form else { return None };
    let figures = Figures::of_field(plan, key);
    let at = Pointer::root().child("goods").child(laying.good.as_str()).child("form").child("plank");
    let taped = |name: &str, what: &'static str, length: Length| {
        Dim::taped(length, at.child(name)).named(what).placed(laying.good.as_str())
    };
    let reveal = taped("reveal", "reveal of the plank", form.reveal.length);
    let stock = taped("length", "plank length", form.length.length);
    let studs = wall.and_then(|wall| plan.walls.get(wall)?.framing.as_ref());
    let framing = studs.filter(|studs| !laying.upright && studs.studs.length.is_positive());
    let job = PlankJob {
        along: usize::from(laying.upright),
        reveal: reveal.length().nm(),
        longest: stock.length().nm(),
        shortest: figures.dim("plank-shortest").length().nm(),
        stagger: figures.dim("plank-stagger").length().nm(),
        framing: framing
            .map(|studs| Framing { first: studs.first.length.nm(), apart: studs.studs.length.nm() }),
        start: if laying.whole_first { Start::Whole } else { Start::Balanced },
    };
    let courses = plank(net, &job)?;
    let lengths: Vec<i64> =
        courses.courses.iter().flat_map(|course| &course.planks).map(|plank| plank.length).collect();
    let answer = solve_lengths(&length_job(&lengths, job.longest, saw(plan)), Budget { steps: 5, seed: 0 });
    let bars: i64 = answer.layout.bars.iter().map(|bar| bar.count).sum();
    let count = |n: i64| u32::try_from(n.max(0)).unwrap_or(u32::MAX);
    let ends = [courses.courses.first(), courses.courses.last()].map(|course| {
        let left = Length::from_nm(course.map_or(0, |course| course.reveal));
        let inputs = [(reveal.clone(), 0.0), (figures.dim("plank-gap"), 0.0)];
        Dim::worked(left, "what the courses leave", inputs).placed(key.as_str())
    });
    let apart = studs.map_or(STUDS, |studs| studs.studs.length);
    let nails = laying.nails.as_ref().map(|good| {
        let crossings: i64 = lengths.iter().map(|length| Length::from_nm(*length).needs(apart) + 1).sum();
        (good.clone(), count(crossings * 2))
    });
    let open2: i128 = net.open.iter().map(dryfit_tiling::Shape::area2).sum();
    Some(PlankField {
        good: laying.good.clone(),
        ends: [ends[0].clone().named("first course"), ends[1].clone().named("last course")],
        bars: count(bars),
        least_bars: count(answer.bound.count.unwrap_or(0)),
        reveal,
        stock,
        upright: laying.upright,
        courses,
        nails,
        area: Area::from_nm2(open2 / 2),
    })
}

/// The widest kerf in the shop; an eighth where none is stated.
fn saw(plan: &Plan) -> i64 {
    let widest = plan.shop.kerfs.values().map(|kerf| kerf.length.nm()).max();
    widest.unwrap_or(Length::inches(0, 1, 8).nm())
}

/// Pieces that are longer than a plank cannot come out of one: they are told by the check, and left out here.
fn length_job(lengths: &[i64], stock: i64, kerf: i64) -> LengthJob {
    let mut sizes: std::collections::BTreeMap<i64, i64> = std::collections::BTreeMap::new();
    for length in lengths.iter().filter(|length| **length > 0 && **length <= stock) {
        *sizes.entry(*length).or_default() += 1;
    }
    let part = |(at, (length, qty)): (usize, (i64, i64))| LengthPart { id: format!("p{at}"), length, qty };
    LengthJob {
        name: String::new(),
        unit: String::new(),
        kerf,
        end_trim: 0,
        stocks: vec![BarKind { id: "plank".to_owned(), length: stock, qty: None, price: 1 }],
        parts: sizes.into_iter().rev().enumerate().map(part).collect(),
    }
}
