//! Backs: captured in a groove, laid in a rabbet, or nailed on.

use dryfit_measure::Dim;
use dryfit_plan::{BackJoint, UnitKind};

use super::carcass::Carcass;
use super::job::Job;
use super::part::{UPRIGHT_FRONT, part};
use super::{Part, Purpose};

/// The back, with its play in the joint that holds it.
pub(super) fn back(job: &Job<'_>, carcass: &Carcass) -> Option<Part> {
    let back = carcass.back.as_ref()?;
    let (bottom, top) = (carcass.stock.thick("bottom"), carcass.stock.thick("top"));
    let slack = &back.reach - &back.play;
    let width = match back.joint {
        BackJoint::Groove | BackJoint::Rabbet => &carcass.inside + &slack * 2,
        BackJoint::Applied => carcass.width.clone(),
    }
    .named("back width");
    // A captured back reaches into bottom and top; any other covers their edges, and one that air passes goes by.
    let held = back.joint == BackJoint::Groove && job.placed.kind != UnitKind::Drying;
    let low: Dim = if held { &carcass.floor - &slack } else { &carcass.floor - bottom };
    let high = match (&carcass.ceiling, held) {
        (None, _) => carcass.height.clone(),
        (Some(ceiling), true) => ceiling + &slack,
        (Some(ceiling), false) => ceiling + top,
    };
    let length = (high - &low).named("back length");
    let x = match back.joint {
        BackJoint::Applied => dryfit_measure::Length::ZERO,
        _ => carcass.inside_left() - slack.length(),
    };
    let sizes = [width, back.stock.thick("back"), length];
    Some(
        part(&back.stock, "back", UPRIGHT_FRONT, sizes, [x, back.front.length(), low.length()])
            .serves(Purpose::Into, Purpose::Into),
    )
}
