//! Whatever is wished for, a run is filled exactly, in order, and no share is less than its neighbour by more
//! than a mark.

use dryfit_measure::Pointer;
use proptest::prelude::*;

use super::*;

const NAMES: [&str; 10] = ["u0", "u1", "u2", "u3", "u4", "u5", "u6", "u7", "u8", "u9"];

fn chosen(length: Length) -> Dim {
    Dim::chosen(length, Pointer::root().child("test"))
}

/// Any length of so many nanometres: survey edges stand at no mark.
fn any_length(from: i64, to: i64) -> impl Strategy<Value = Dim> {
    (from..to).prop_map(|nm| chosen(Length::from_nm(nm)))
}

fn any_want() -> impl Strategy<Value = Want> {
    let inch = Length::INCH.nm();
    prop_oneof![
        3 => any_length(0, 40 * inch).prop_map(Want::Given),
        3 => Just(Want::Share),
        1 => (any_length(0, 30 * inch), any_length(0, 30 * inch)).prop_map(|(a, b)| {
            let (least, most) = if a.length() <= b.length() { (a, b) } else { (b, a) };
            Want::Within { least, most }
        }),
        1 => Just(Want::Scribe {
            wanted: chosen(Length::inches(1, 0, 1)),
            least: chosen(Length::inches(0, 3, 4)),
        }),
    ]
}

/// Wishes between what stands in the corners, if anything does there.
fn any_wants() -> impl Strategy<Value = Vec<Want>> {
    let inner = proptest::collection::vec(any_want(), 0..7);
    (proptest::option::of(20i64..30), inner, proptest::option::of(20i64..30)).prop_map(
        |(lead, inner, tail)| {
            let place = |inches: i64| Want::UpTo(chosen(Length::inches(inches, 0, 1)));
            let mut wants: Vec<Want> = lead.map(place).into_iter().collect();
            wants.extend(inner);
            wants.extend(tail.map(|from_right| place(200 - from_right)));
            wants
        },
    )
}

fn any_fineness() -> impl Strategy<Value = Fineness> {
    proptest::sample::select(Fineness::ALL.to_vec())
}

fn shared(wants: &[Want], left: &Dim, right: Option<&Dim>, fineness: Fineness) -> Shared {
    share_out(wants, &NAMES[..wants.len()], left, right, fineness)
}

proptest! {
    #[test]
    fn units_stand_side_by_side_in_order(
        wants in any_wants(),
        left in any_length(0, 500_000_000),
        right in any_length(5_000_000_000, 5_600_000_000),
        open: bool,
        fineness in any_fineness(),
    ) {
        let shared = shared(&wants, &left, (!open).then_some(&right), fineness);
        prop_assert_eq!((shared.edges.len(), shared.widths.len()), (wants.len(), wants.len()));
        for (i, want) in wants.iter().enumerate() {
            prop_assert_eq!(shared.edges[i].length() + shared.widths[i].length(), shared.right(i).length());
            prop_assert!(!shared.widths[i].length().is_negative(), "{:?} {:?}", want, shared.widths[i]);
        }
    }

    #[test]
    fn a_run_with_two_ends_is_filled_exactly(
        wants in any_wants(),
        left in any_length(0, 500_000_000),
        right in any_length(5_000_000_000, 5_600_000_000),
        fineness in any_fineness(),
    ) {
        let shared = shared(&wants, &left, Some(&right), fineness);
        let spare = right.length() - shared.end.length();
        let takes = |want: &Want| matches!(want, Want::Scribe { .. } | Want::UpTo(_));
        let shares = |want: &Want| matches!(want, Want::Share);
        if spare.is_negative() {
            // only where no share is left to give: each has come down to nothing or to its least
            for (want, width) in wants.iter().zip(&shared.widths) {
                match want {
                    Want::Share => prop_assert!(width.length().is_zero()),
                    Want::Within { least, .. } => prop_assert_eq!(width.length(), least.length()),
                    Want::Scribe { least, .. } => prop_assert_eq!(width.length(), least.length()),
                    Want::Given(_) | Want::UpTo(_) => {}
                }
            }
        } else if wants.iter().any(takes) {
            let first = shared.edges.first().map_or(left.length(), Dim::length);
            // a scribe or a corner's filler leaves nothing over but the fraction of a mark at the other end
            let begins = first - left.length();
            prop_assert!(!begins.is_negative() && begins < fineness.step());
            prop_assert!(spare < fineness.step(), "{:?}", spare);
        } else if wants.iter().any(shares) {
            // a fraction of a mark at each wall, and of those that share
            prop_assert!(spare < fineness.step() * 2, "{:?}", spare);
        }
    }

    #[test]
    fn shares_are_alike_and_stand_at_marks(
        wants in any_wants(),
        left in any_length(0, 500_000_000),
        right in any_length(5_000_000_000, 5_600_000_000),
        fineness in any_fineness(),
    ) {
        let shared = shared(&wants, &left, Some(&right), fineness);
        let mut shares = Vec::new();
        for (want, width) in wants.iter().zip(&shared.widths) {
            let width = width.length();
            match want {
                Want::Share => shares.push(width),
                Want::Within { least, most } => {
                    prop_assert!(least.length() <= width && width <= most.length());
                }
                Want::Given(given) => prop_assert_eq!(given.length(), width),
                Want::Scribe { least, .. } => prop_assert!(least.length() <= width),
                Want::UpTo(_) => {}
            }
        }
        for share in &shares {
            prop_assert_eq!(share.round_to(fineness, Toward::Down), *share);
        }
        if let (Some(least), Some(most)) = (shares.iter().min(), shares.iter().max()) {
            let filled = wants.iter().any(|want| matches!(want, Want::Scribe { .. } | Want::UpTo(_)));
            let apart = if filled { Length::ZERO } else { fineness.step() };
            prop_assert!(*most - *least <= apart, "{:?}", shares);
        }
    }
}
