//! How sure a derived length is, from the covariance of the readings behind it.

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Length, Pointer, evaluate, slopes};
use nalgebra::{Cholesky, DVector};

use super::Survey;

impl Survey {
    /// Standard deviation (mm) of a dimension from the readings of the room, as things stand: the winners of a
    /// least or greatest are taken to stay winners. What else it rests on counts as exact.
    pub fn sigma(&self, dim: &Dim) -> f64 {
        let slopes = slopes(dim);
        let by = self.used.iter().map(|at| slopes.get(at).copied().unwrap_or(0.0));
        let by = DVector::from_iterator(self.used.len(), by);
        by.dot(&(&self.used_covariance * &by)).max(0.0).sqrt()
    }

    /// `draws` lengths (mm) that a dimension might as well have, had the readings come out otherwise, in the order
    /// they were drawn. Least and greatest are worked afresh each time. The seed is fixed: the same survey gives
    /// the same draws.
    pub fn draws(&self, dim: &Dim, draws: usize) -> Vec<f64> {
        let k = self.used.len();
        let Some(factor) = Cholesky::new(self.used_covariance.clone()) else {
            return vec![dim.length().as_mm_f64(); draws];
        };
        let mut normal = Normal { state: 0x5EED_0F00_D1CE, spare: None };
        let draw = |_| {
            let z = DVector::from_iterator(k, (0..k).map(|_| normal.next()));
            let off = factor.l_dirty().lower_triangle() * z;
            let mut change: BTreeMap<&Pointer, f64> = BTreeMap::new();
            for (at, mm) in self.used.iter().zip(off.iter()) {
                *change.entry(at).or_default() += mm;
            }
            let by = |at: &Pointer| change.get(at).map(|mm| Length::from_mm_f64(*mm));
            evaluate(dim, &by).as_mm_f64()
        };
        (0..draws).map(draw).collect()
    }

    /// Standard deviation (mm) about the dimension's own length, from [`Survey::draws`]: what [`Survey::sigma`]
    /// misses where a least or greatest is close run.
    pub fn sampled_sigma(&self, dim: &Dim, draws: usize) -> f64 {
        let length = dim.length().as_mm_f64();
        let squares: f64 = self.draws(dim, draws).into_iter().map(|mm| (mm - length) * (mm - length)).sum();
        (squares / draws.max(1) as f64).sqrt()
    }
}

/// Standard normal numbers: splitmix64 (Steele, Lea, Flood 2014) through Box and Muller (1958).
struct Normal {
    state: u64,
    spare: Option<f64>,
}

impl Normal {
    fn uniform(&mut self) -> f64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn next(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * (1.0 - self.uniform()).ln()).sqrt();
        let angle = std::f64::consts::TAU * self.uniform();
        self.spare = Some(radius * angle.sin());
        radius * angle.cos()
    }
}
