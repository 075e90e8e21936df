//! Sides: a left and a right one, mirror images of each other.

use dryfit_measure::{Dim, Length};
use dryfit_plan::{BackJoint, Hand, ToeBuild};

use super::carcass::Carcass;
use super::job::Job;
use super::part::{Span, UPRIGHT_FACING_LEFT, UPRIGHT_FACING_RIGHT, part, pocket_depth, spaces};
use super::shelf::{PinRow, pins};
use super::{Holes, OperationKind, Part, Purpose};

/// The side on one hand, with the dadoes of everything that stands in it (lower faces, in unit heights), its
/// groove or rabbet, its shelf pins, the holes of screws through it, the pocket holes of the frame, and its notch.
pub(super) fn side(
    job: &Job<'_>,
    carcass: &Carcass,
    hand: Hand,
    dadoes: &[(Dim, &str)],
    screws: &[(&'static str, [[Dim; 2]; 2])],
    rows: &[PinRow],
) -> Part {
    let stock = &carcass.stock;
    let length = carcass.side_length(job).named("side length");
    let width = carcass.side_depth().named("side width");
    let (word, lay, x) = match hand {
        Hand::Left => ("left", UPRIGHT_FACING_RIGHT, Length::ZERO),
        Hand::Right => ("right", UPRIGHT_FACING_LEFT, carcass.width.length() - stock.thickness.length()),
    };
    // The inner face of a left side is its high x, of a right side its low x.
    let inner = |depth: Dim| if hand == Hand::Left { Span::High(depth) } else { Span::Low(depth) };
    let outer = |depth: Dim| if hand == Hand::Left { Span::Low(depth) } else { Span::High(depth) };

    let sizes = [stock.thick("side"), width, length];
    let mut side = part(stock, format!("side.{word}"), lay, sizes, [x, Length::ZERO, carcass.foot.length()])
        .called("side")
        .serves(Purpose::Mates, Purpose::Mates)
        .with_front_edge();
    side.hand = Some(hand);

    if carcass.dadoed() {
        for (at, what) in dadoes {
            let low = at - &carcass.foot;
            let high = &low + stock.thick("bottom");
            let spans = [inner(carcass.dado.clone()), Span::All, Span::FromLow(low, high)];
            side = side.cut(OperationKind::Dado, format!("for the {what}"), &spans);
        }
    }
    if let Some(back) = &carcass.back {
        let front = back.front.clone();
        let behind = &front + back.stock.thick("back");
        side = match back.joint {
            BackJoint::Groove => {
                let spans = [inner(back.reach.clone()), Span::FromLow(front, behind), Span::All];
                side.grooved("for the back", &spans, job.passes(back.stock.thickness.length()))
            }
            BackJoint::Rabbet => {
                let spans = [inner(back.reach.clone()), Span::High(back.stock.thick("back")), Span::All];
                side.cut(OperationKind::Rabbet, "for the back", &spans)
            }
            BackJoint::Applied => side,
        };
    }
    side = pins(job, side, [&carcass.foot, &carcass.behind], &inner, rows.iter());
    for (what, [deep, up]) in screws {
        side = screwed(job, side, what, deep, [&up[0] - &carcass.foot, &up[1] - &carcass.foot]);
    }
    if carcass.frame.is_some() {
        let first = (&carcass.frame_foot - &carcass.foot) + job.figure("frame-screw-end");
        let last = job.figure("frame-screw-end");
        let run = carcass.height.length() - carcass.frame_foot.length() - last.length() * 2;
        let gaps = spaces(run, job.figure("frame-screw-spacing").length());
        let stretch = (&carcass.height - &carcass.frame_foot - &last * 2).named("row of frame screws");
        let holes = Holes {
            count: u32::from(gaps) + 1,
            pitch: stretch.split(usize::from(gaps)).remove(0),
            bit: job.figure("pocket-bit"),
        };
        if run.is_positive() {
            let rows = Span::FromLow(first.clone(), first + &stretch);
            let spans = [outer(pocket_depth(stock)), Span::at(job.figure("pocket-from-end")), rows];
            side = side.drill(OperationKind::PocketHoles, "for the frame", &spans, holes);
        }
    }
    match &carcass.toe {
        Some((height, depth)) if job.recipe.toe == ToeBuild::Notched => side.cut(
            OperationKind::Notch,
            "toe kick; saw it last",
            &[Span::All, Span::Low(depth.clone()), Span::Low(height.clone())],
        ),
        _ => side,
    }
}

/// A row of holes through the side for the screws that hold what stands against it; `up` is told from the side's
/// own lower end.
fn screwed(job: &Job<'_>, side: Part, what: &str, deep: &[Dim; 2], up: [Dim; 2]) -> Part {
    let stretch = |[from, to]: &[Dim; 2]| to - from;
    let (along, across) = (stretch(&up), stretch(deep));
    let row = if along.length() > across.length() { along } else { across };
    let gaps = spaces(row.length(), job.figure("joint-spacing").length());
    let single = !row.length().is_positive();
    let holes = Holes {
        count: if single { 1 } else { u32::from(gaps) + 1 },
        pitch: if single { Dim::zero() } else { row.split(usize::from(gaps)).remove(0) },
        bit: job.figure("joint-screw-bit"),
    };
    let [low, high] = up;
    let across =
        if single { Span::at(deep[0].clone()) } else { Span::FromLow(deep[0].clone(), deep[1].clone()) };
    let spans = [Span::All, across, Span::FromLow(low, high)];
    side.drill(OperationKind::ScrewHoles, format!("for the {what}"), &spans, holes)
}
