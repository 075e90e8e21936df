//! Floating shelves: a ledger with arms, screwed to the studs, and a hollow shelf that slides over it.

use dryfit_measure::{Dim, Length, Toward};
use dryfit_plan::{Hand, Role};

use super::job::Job;
use super::part::{
    DEEP_UP, FLAT_DOWN, FLAT_UP, Stock, UPRIGHT_FACING_LEFT, UPRIGHT_FACING_RIGHT, WIDE_FRONT, part, spaces,
};
use super::{Part, Purpose};
use crate::finding::{Finding, Severity};
use crate::placement::Beside;

/// Skins above and below, a front that covers their edges, ends where it ends free, ledger and arms.
pub(super) fn floating(job: &Job<'_>) -> (Vec<Part>, Vec<Finding>) {
    let (Some(skin), Some(ledger)) = (job.stock(Role::Skin), job.stock(Role::Ledger)) else {
        return (Vec::new(), Vec::new());
    };
    let (width, height) = (job.placed.width.clone(), job.placed.height.clone());
    let depth = job.placed.depth.clone().named("shelf depth");
    let thick = skin.thickness.length();
    let flat = (&depth - skin.thick("front")).named("skin width");
    let sheet = |role: &str, name: &str, lay, z: Length| {
        let sizes = [width.clone().named("skin length"), flat.clone(), skin.thick("skin")];
        part(&skin, role, lay, sizes, [Length::ZERO, thick, z])
            .called(name)
            .serves(Purpose::Into, Purpose::Mates)
            .with_front_edge()
    };
    let front = part(
        &skin,
        "front",
        WIDE_FRONT,
        [width.clone().named("front length"), skin.thick("front"), height.clone().named("front width")],
        [Length::ZERO; 3],
    )
    .serves(Purpose::Into, Purpose::Covers);
    let mut parts = vec![
        sheet("skin.top", "upper skin", FLAT_UP, height.length() - thick),
        sheet("skin.bottom", "lower skin", FLAT_DOWN, Length::ZERO),
        front,
    ];

    let hollow = (&height - skin.thick("skin") * 2).named("hollow height");
    let mut ends = [Dim::zero(), Dim::zero()];
    for (side, hand, word) in [(0, Hand::Left, "left"), (1, Hand::Right, "right")] {
        if *job.placed.beside(hand) != Beside::Free {
            continue;
        }
        ends[side] = skin.thick("end");
        let (lay, x) = match hand {
            Hand::Left => (UPRIGHT_FACING_LEFT, Length::ZERO),
            Hand::Right => (UPRIGHT_FACING_RIGHT, width.length() - thick),
        };
        let sizes = [skin.thick("end"), flat.clone().named("end length"), hollow.clone().named("end width")];
        let lay = lay.outside().lengthwise();
        let mut end = part(&skin, format!("end.{word}"), lay, sizes, [x, thick, thick])
            .called("end")
            .serves(Purpose::Mates, Purpose::Into);
        end.hand = Some(hand);
        parts.push(end);
    }
    parts.extend(ledger_frame(job, &ledger, [&width, &flat], &ends, thick));
    (parts, too_thin(job, &height, &hollow, &ledger).into_iter().collect())
}

/// A ledger that does not go into the hollow: a stop, with the height that would take it.
fn too_thin(job: &Job<'_>, height: &Dim, hollow: &Dim, ledger: &Stock) -> Option<Finding> {
    let short = (ledger.thick("ledger") - hollow).named("too thin by");
    if !short.length().is_positive() {
        return None;
    }
    let need = (height.length() + short.length()).round_to(job.plan.fineness, Toward::Up);
    let what = format!(
        "the ledger of `{}` is {} thick, and its shelf is {} high inside",
        job.placed.key,
        job.show(ledger.thickness.length()),
        job.show(hollow.length())
    );
    let mut finding = job.finding(Severity::Stop, "casework/shelf-hollow", what);
    let at = job.pointer().child("figures").child("shelf-thick");
    let label = format!("make `{}` {} thick", job.placed.key, job.show(need));
    finding.fixes = job.put_length(label, &at, need).into_iter().collect();
    finding.because = vec![ledger.thickness.clone(), hollow.clone()];
    finding.short_by = Some(short);
    Some(finding)
}

/// The ledger on the wall and its arms, right under the upper skin, which rests on them.
fn ledger_frame(
    job: &Job<'_>,
    stock: &Stock,
    [width, flat]: [&Dim; 2],
    ends: &[Dim; 2],
    skin: Length,
) -> Vec<Part> {
    let play = job.figure("ledger-play");
    let deep = job.figure("ledger-width");
    let length = (width - &ends[0] - &ends[1] - &play * 2).named("ledger length");
    let z = job.placed.height.length() - skin - stock.thickness.length();
    let back = skin + flat.length();
    let left = ends[0].length() + play.length();
    let sizes = [length.clone(), deep.clone(), stock.thick("ledger")];
    let mut parts = vec![
        part(stock, "ledger", FLAT_UP, sizes, [left, back - deep.length(), z])
            .serves(Purpose::Into, Purpose::Mates),
    ];
    let reach = (flat - &deep - &play).named("arm length");
    let span = length.length() - deep.length();
    let gaps = i64::from(spaces(span, job.figure("ledger-arm-spacing").length()));
    for k in 0..=gaps {
        let x = left + span.proportion(Length::from_nm(k), Length::from_nm(gaps));
        let sizes = [deep.clone(), reach.clone(), stock.thick("ledger")];
        parts.push(
            part(stock, format!("arm.{}", k + 1), DEEP_UP, sizes, [x, skin + play.length(), z])
                .called("arm")
                .serves(Purpose::Into, Purpose::Mates),
        );
    }
    parts
}
