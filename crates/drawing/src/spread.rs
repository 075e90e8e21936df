//! Pushing crowded labels apart with the least movement.

/// Centres for labels of the given sizes that are wanted at ascending places: none overlap, the order is kept,
/// and the sum of the squared moves is least (isotonic regression by pooling adjacent violators).
pub fn spread(wanted: &[f64], sizes: &[f64]) -> Vec<f64> {
    // With the sizes before a label taken off, "no overlap" becomes "not decreasing".
    let mut offset = Vec::with_capacity(wanted.len());
    let mut sum = 0.0;
    for (index, size) in sizes.iter().enumerate() {
        if index > 0 {
            sum += f64::midpoint(sizes[index - 1], *size);
        }
        offset.push(sum);
    }
    let mut pools: Vec<(f64, f64)> = Vec::new();
    for (place, offset) in wanted.iter().zip(&offset) {
        let mut pool = (place - offset, 1.0);
        while let Some(&(mean, count)) = pools.last().filter(|(mean, _)| *mean > pool.0) {
            pools.pop();
            pool = ((mean * count + pool.0 * pool.1) / (count + pool.1), count + pool.1);
        }
        pools.push(pool);
    }
    let mut offsets = offset.iter();
    let mut centres = Vec::with_capacity(wanted.len());
    for (mean, count) in pools {
        let mut left = count;
        while left > 0.5 {
            centres.push(mean + offsets.next().unwrap_or(&0.0));
            left -= 1.0;
        }
    }
    centres
}

/// The same, all of it between `low` and `high`: where it has to, the row is pushed back in as a whole. What is
/// longer than the room runs over at the high end.
pub fn spread_between(wanted: &[f64], sizes: &[f64], low: f64, high: f64) -> Vec<f64> {
    let mut centres = spread(wanted, sizes);
    let mut edge = high;
    for (centre, size) in centres.iter_mut().zip(sizes).rev() {
        *centre = centre.min(edge - size / 2.0);
        edge = *centre - size / 2.0;
    }
    let mut edge = low;
    for (centre, size) in centres.iter_mut().zip(sizes) {
        *centre = centre.max(edge + size / 2.0);
        edge = *centre + size / 2.0;
    }
    centres
}

#[cfg(test)]
mod tests {
    use super::{spread, spread_between};
    use proptest::prelude::*;

    #[test]
    fn leaves_labels_that_have_room_where_they_are() {
        assert_eq!(spread(&[0.0, 20.0, 50.0], &[10.0, 10.0, 10.0]), vec![0.0, 20.0, 50.0]);
    }

    #[test]
    fn moves_two_crowded_labels_equally() {
        assert_eq!(spread(&[0.0, 4.0], &[10.0, 10.0]), vec![-3.0, 7.0]);
    }

    proptest! {
        #[test]
        fn stays_between_its_ends(
            mut wanted in proptest::collection::vec(-20.0_f64..120.0, 1..10),
            size in 0.5_f64..10.0,
        ) {
            wanted.sort_by(f64::total_cmp);
            let placed = spread_between(&wanted, &vec![size; wanted.len()], 0.0, 100.0);
            prop_assert!(placed.iter().all(|at| (size / 2.0 - 1e-9..=100.0 - size / 2.0 + 1e-9).contains(at)));
            for pair in placed.windows(2) {
                prop_assert!(pair[1] - pair[0] > size - 1e-9);
            }
        }

        #[test]
        fn never_overlaps_and_keeps_the_order(
            mut wanted in proptest::collection::vec(0.0_f64..100.0, 1..30),
            size in 0.5_f64..20.0,
        ) {
            wanted.sort_by(f64::total_cmp);
            let placed = spread(&wanted, &vec![size; wanted.len()]);
            prop_assert_eq!(placed.len(), wanted.len());
            for pair in placed.windows(2) {
                prop_assert!(pair[1] - pair[0] > size - 1e-9);
            }
        }
    }
}
