//! Error ellipses of the corners from the minimum-trace solution, so that no corner looks perfect.
//!
//! The room's own axes put the first corner exactly at the origin. Those axes are a convention, not knowledge.
//! The S-transformation (Baarda 1973) `S C S'` with `S = I - G (G'G)^-1 G'` takes the covariance to the axes in
//! which all corners together are placed best: `G` holds what a shift and a turn of the whole room do to the
//! coordinates.

use nalgebra::{DMatrix, Matrix2, SymmetricEigen};

/// Covariance of the corners' coordinates in minimum-trace axes, from that in the room's own axes.
pub(crate) fn minimum_trace(at: &[[f64; 2]], covariance: &DMatrix<f64>) -> DMatrix<f64> {
    let n = at.len();
    let middle = at.iter().fold([0.0, 0.0], |m, p| [m[0] + p[0] / n as f64, m[1] + p[1] / n as f64]);
    let mut motions = DMatrix::zeros(2 * n, 3);
    for (i, p) in at.iter().enumerate() {
        motions[(2 * i, 0)] = 1.0;
        motions[(2 * i + 1, 1)] = 1.0;
        motions[(2 * i, 2)] = middle[1] - p[1];
        motions[(2 * i + 1, 2)] = p[0] - middle[0];
    }
    // about the middle the three motions are at right angles to each other
    for mut motion in motions.column_iter_mut() {
        let norm = motion.norm();
        if norm > 0.0 {
            motion /= norm;
        }
    }
    let s = DMatrix::identity(2 * n, 2 * n) - &motions * motions.transpose();
    &s * covariance.view((0, 0), (2 * n, 2 * n)) * &s
}

/// Half axes (one sigma, the greater first) and the direction of the greater, radians, of the ellipse of corner `i`.
pub(crate) fn ellipse(covariance: &DMatrix<f64>, i: usize) -> [f64; 3] {
    let block: Matrix2<f64> = covariance.fixed_view::<2, 2>(2 * i, 2 * i).into_owned();
    if block.iter().any(|v| !v.is_finite()) {
        return [0.0; 3];
    }
    let eigen = SymmetricEigen::new(block);
    let (major, minor) = if eigen.eigenvalues[0] >= eigen.eigenvalues[1] { (0, 1) } else { (1, 0) };
    let axis = eigen.eigenvectors.column(major);
    let direction = axis[1].atan2(axis[0]).rem_euclid(std::f64::consts::PI);
    let half = |k: usize| eigen.eigenvalues[k].max(0.0).sqrt();
    [half(major), half(minor), direction]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Shifting and turning the room cannot be told from its shape: the transformed covariance has none of it.
    #[test]
    fn no_whole_motion_is_left() {
        let at = [[0.0, 0.0], [3000.0, 0.0], [3100.0, 2400.0], [-20.0, 2300.0]];
        let mut c = DMatrix::zeros(8, 8);
        for k in [2, 4, 5, 6, 7] {
            c[(k, k)] = 0.5 + k as f64 / 10.0;
        }
        let free = minimum_trace(&at, &c);
        for motion in [
            [1.0, 0.0, 1.0, 0.0, 1.0, 0.0, 1.0, 0.0],
            [0.0, 1.0, 0.0, 1.0, 0.0, 1.0, 0.0, 1.0],
            [0.0, 0.0, 0.0, 3.0, -2.4, 3.1, -2.3, -0.02],
        ] {
            let moved = &free * nalgebra::DVector::from_row_slice(&motion);
            assert!(moved.amax() < 1e-9, "{moved}");
        }
        // least trace of all axes: in particular no more than the one we started from
        assert!(free.trace() <= c.trace());
        // and the first corner is no longer perfect
        assert!(ellipse(&free, 0)[0] > 0.1);
    }
}
