//! Where a layer that is longer than its sheet is joined: evenly, but off the cut-outs and off other joints.

use dryfit_measure::Length;

/// How many pieces more than the fewest are tried before a joint is put where it should not be.
const MORE: i64 = 3;

/// Places of the joints of a layer so long, from its left-hand end, on marks of `step`: as few pieces as `most`
/// allows, as even as can be, none inside a stretch of `off`.
///
/// Where no place will do, they are even all the same; a check says so.
pub(super) fn joints(length: Length, most: Length, step: Length, off: &[[Length; 2]]) -> Vec<Length> {
    if !most.is_positive() || length <= most {
        return Vec::new();
    }
    let fewest = length.needs(most);
    let found = (fewest..=fewest + MORE).find_map(|pieces| placed(length, most, step, off, pieces));
    found.unwrap_or_else(|| (1..fewest).map(|i| even(length, i, fewest)).collect())
}

/// Where joint `i` of so many pieces would be if all were equal.
fn even(length: Length, i: i64, pieces: i64) -> Length {
    Length::from_nm(length.nm() / pieces * i)
}

fn placed(
    length: Length,
    most: Length,
    step: Length,
    off: &[[Length; 2]],
    pieces: i64,
) -> Option<Vec<Length>> {
    let down = |at: Length| Length::from_nm(at.nm().div_euclid(step.nm()) * step.nm());
    let up = |at: Length| Length::from_nm(-((-at.nm()).div_euclid(step.nm())) * step.nm());
    let mut at: Vec<Length> = Vec::new();
    for i in 1..pieces {
        let wanted = even(length, i, pieces);
        let before = at.last().copied().unwrap_or(Length::ZERO);
        let fits = |&at: &Length| {
            let taken = off.iter().any(|[from, to]| at > *from && at < *to);
            !taken && at > before && at - before <= most && length - at <= most * (pieces - i) && at < length
        };
        let edges = off.iter().flat_map(|[from, to]| [down(*from), up(*to)]);
        // as far as the sheet reaches, and as near as the rest of the sheets allow
        let limits = [down(before + most), up(length - most * (pieces - i))];
        let places = [down(wanted), up(wanted)].into_iter().chain(edges).chain(limits);
        at.push(places.filter(fits).min_by_key(|at| ((*at - wanted).abs(), *at))?);
    }
    Some(at)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(n: i64) -> Length {
        Length::inches(n, 0, 1)
    }

    const STEP: Length = Length::sixty_fourths(4);

    #[test]
    fn what_comes_out_of_one_sheet_has_no_joint() {
        assert!(joints(inches(96), inches(96), STEP, &[]).is_empty());
        assert_eq!(joints(inches(97), inches(96), STEP, &[]), [Length::inches(48, 1, 2)]);
    }

    #[test]
    fn a_joint_keeps_off_a_cut_out_and_off_the_joint_above_it() {
        // the even joint at 68 lies in the cut-out; 54 and 82 are equally far, the lesser wins
        let off = [[inches(54), inches(82)]];
        assert_eq!(joints(inches(136), inches(96), STEP, &off), [inches(54)]);
        // a foot off the joint at 54 on both sides, and no nearer the end than the other sheet reaches
        let off = [[inches(42), inches(66)]];
        assert_eq!(joints(inches(136), inches(96), STEP, &off), [inches(68)]);
    }

    #[test]
    fn where_two_pieces_do_not_go_three_are_tried() {
        // two pieces need a joint from 40 to 96, and all of that is taken
        let off = [[inches(39), inches(97)]];
        let found = joints(inches(136), inches(96), STEP, &off);
        assert_eq!(found.len(), 2);
        assert!(found.iter().all(|at| *at <= inches(39) || *at >= inches(97)), "{found:?}");
    }

    #[test]
    fn pieces_are_never_longer_than_the_sheet_and_add_up() {
        for length in 1..400 {
            for most in [40, 96, 143] {
                let found = joints(inches(length), inches(most), STEP, &[[inches(30), inches(60)]]);
                let mut ends = vec![Length::ZERO];
                ends.extend(&found);
                ends.push(inches(length));
                for pair in ends.windows(2) {
                    let piece = pair[1] - pair[0];
                    assert!(piece.is_positive() && piece <= inches(most), "{length} of {most}: {found:?}");
                }
            }
        }
    }
}
