//! Boxes in whole nanometres, and what is left of one when others are taken away.

/// Least and greatest corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Box3 {
    pub min: [i64; 3],
    pub max: [i64; 3],
}

impl Box3 {
    pub fn size(&self, axis: usize) -> i64 {
        self.max[axis] - self.min[axis]
    }

    pub fn is_empty(&self) -> bool {
        (0..3).any(|k| self.size(k) <= 0)
    }

    pub fn volume(&self) -> i128 {
        if self.is_empty() { 0 } else { (0..3).map(|k| i128::from(self.size(k))).product() }
    }

    pub fn meet(&self, other: &Box3) -> Box3 {
        Box3 {
            min: [0, 1, 2].map(|k| self.min[k].max(other.min[k])),
            max: [0, 1, 2].map(|k| self.max[k].min(other.max[k])),
        }
    }

    pub fn contains(&self, other: &Box3) -> bool {
        (0..3).all(|k| self.min[k] <= other.min[k] && other.max[k] <= self.max[k])
    }

    pub fn moved(&self, by: [i64; 3]) -> Box3 {
        Box3 { min: [0, 1, 2].map(|k| self.min[k] + by[k]), max: [0, 1, 2].map(|k| self.max[k] + by[k]) }
    }

    /// Mirrored across the plane `x = about / 2`.
    pub fn mirrored(&self, about: i64) -> Box3 {
        let mut image = *self;
        image.min[0] = about - self.max[0];
        image.max[0] = about - self.min[0];
        image
    }

    /// Up to six boxes that fill this one outside of `hole`.
    fn without(&self, hole: &Box3) -> Vec<Box3> {
        let hole = self.meet(hole);
        if hole.is_empty() {
            return vec![*self];
        }
        let mut rest = *self;
        let mut left = Vec::new();
        for k in 0..3 {
            let mut below = rest;
            below.max[k] = hole.min[k];
            let mut above = rest;
            above.min[k] = hole.max[k];
            left.extend([below, above].into_iter().filter(|part| !part.is_empty()));
            rest.min[k] = hole.min[k];
            rest.max[k] = hole.max[k];
        }
        left
    }
}

/// What is left of a box outside of all `holes`, in boxes that do not overlap.
pub fn left_of(whole: Box3, holes: &[Box3]) -> Vec<Box3> {
    holes.iter().fold(vec![whole], |left, hole| left.iter().flat_map(|part| part.without(hole)).collect())
}

#[test]
fn what_is_left_fills_the_rest() {
    let whole = Box3 { min: [0; 3], max: [10; 3] };
    let holes = [Box3 { min: [2, 2, 2], max: [4, 12, 4] }, Box3 { min: [3, 0, 3], max: [5, 5, 5] }];
    let left: i128 = left_of(whole, &holes).iter().map(Box3::volume).sum();
    // 2 x 8 x 2, and 2 x 5 x 2 less what both share, 1 x 3 x 1
    assert_eq!(left, 1000 - 32 - (20 - 3));
    assert_eq!(left_of(whole, &[whole]), []);
}
