//! Looking for a wrong reading: redundancy numbers, standardized residuals, least detectable errors, and which
//! readings cannot be told apart.
//!
//! Baarda, *A testing procedure for use in geodetic networks*, 1968: a reading with standardized residual beyond
//! 3.29 (two-sided, alpha 0.001) is suspect; an error of `sigma sqrt(17.07 / r)` is found with power 0.80.

use nalgebra::DMatrix;
use statrs::distribution::{ChiSquared, ContinuousCDF};

use super::adjust::Adjusted;
use super::network::Observation;

/// Two-sided limit of a standardized residual at alpha 0.001.
pub(crate) const SUSPECT: f64 = 3.290_526_731_491_925_5;
/// Noncentrality at which an error is found with power 0.80 when alpha is 0.001.
pub(crate) const DETECTABLE: f64 = 17.074_646_805_189_502;
/// Below this redundancy nothing checks a reading.
const UNCHECKED: f64 = 1e-6;

/// How the network checks one observation.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Check {
    /// Redundancy number, 0 to 1.
    pub redundancy: f64,
    /// Standardized residual, of the sign "should have said less than it did" negative.
    pub w: f64,
    /// Least error (in the observation's own unit) that would be found; none where nothing checks it.
    pub least_detectable: Option<f64>,
}

/// All observations checked, and how their standardized residuals go together.
#[derive(Clone, Debug)]
pub(crate) struct Checks {
    pub each: Vec<Check>,
    /// Covariance of the residuals, each divided by its observation's standard deviation.
    residual: DMatrix<f64>,
}

/// Checks every observation of an adjusted network.
pub(crate) fn check(observations: &[Observation], adjusted: &Adjusted) -> Checks {
    let mut scaled = adjusted.jacobian.clone();
    for (mut row, observation) in scaled.row_iter_mut().zip(observations) {
        row /= observation.sigma;
    }
    let m = observations.len();
    let residual = DMatrix::identity(m, m) - &scaled * &adjusted.covariance * scaled.transpose();
    let each = observations.iter().enumerate().map(|(i, observation)| {
        let redundancy = residual[(i, i)].clamp(0.0, 1.0);
        if redundancy < UNCHECKED {
            return Check { redundancy, w: 0.0, least_detectable: None };
        }
        let w = adjusted.residuals[i] / (observation.sigma * redundancy.sqrt());
        let least_detectable = Some(observation.sigma * (DETECTABLE / redundancy).sqrt());
        Check { redundancy, w, least_detectable }
    });
    Checks { each: each.collect(), residual }
}

impl Checks {
    /// Correlation of two standardized residuals.
    pub fn correlation(&self, i: usize, j: usize) -> f64 {
        let scale = (self.each[i].redundancy * self.each[j].redundancy).sqrt();
        if scale < UNCHECKED { 0.0 } else { (self.residual[(i, j)] / scale).clamp(-1.0, 1.0) }
    }

    /// The observations that cannot be told apart from `suspect`: suspect too, and smaller by no more than
    /// chance would make them. The difference of two standardized residuals has variance `2 (1 - |rho|)`; the
    /// limit is 1.96 of its standard deviations.
    pub fn ties(&self, suspect: usize) -> Vec<usize> {
        let top = self.each[suspect].w.abs();
        let tied = |&j: &usize| {
            let w = self.each[j].w.abs();
            let spread = (2.0 * (1.0 - self.correlation(suspect, j).abs())).max(0.0).sqrt();
            j != suspect && w > SUSPECT && top - w <= 1.96 * spread + 1e-6 * top
        };
        (0..self.each.len()).filter(tied).collect()
    }
}

/// Whether a weighted sum of squared residuals is one that chance makes nineteen times out of twenty.
pub(crate) fn passes(ssq: f64, redundancy: usize) -> bool {
    redundancy == 0 || ssq <= limit(redundancy)
}

/// The global test's limit: chi squared, 95 %.
pub(crate) fn limit(redundancy: usize) -> f64 {
    ChiSquared::new(redundancy.max(1) as f64).map_or(f64::INFINITY, |chi| chi.inverse_cdf(0.95))
}

#[cfg(test)]
mod tests {
    use super::*;
    use statrs::distribution::Normal;

    /// Baarda 1968 (A-crit-999, A-lambda0) and any table of chi squared (A-chi2-95-*).
    #[test]
    fn limits_are_the_published_ones() {
        let normal = Normal::standard();
        assert!((normal.inverse_cdf(0.9995) - SUSPECT).abs() < 1e-9);
        let lambda = (normal.inverse_cdf(0.9995) + normal.inverse_cdf(0.80)).powi(2);
        assert!((lambda - DETECTABLE).abs() < 1e-8);
        for (df, expect) in [3.841, 5.991, 7.815, 9.488, 11.07, 12.592].into_iter().enumerate() {
            assert!((limit(df + 1) - expect).abs() < 1e-3, "{}", limit(df + 1));
        }
    }
}
