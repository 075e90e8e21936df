//! The adjustment: Gauss-Newton on weighted least squares, damped while it is far from the answer, with the
//! covariance of the unknowns and how they move with each reading.

use nalgebra::{Cholesky, DMatrix, DVector, SymmetricEigen};

use super::network::{Equation, Network, Observation};

/// Most steps that are tried.
const STEPS: usize = 200;
/// Steps below this, in standard deviations, are too short for the squares to show them.
const SHORT: f64 = 1e-5;
/// A direction whose information falls short of the best one's by this factor counts as not determined.
const LOOSE: f64 = 1e-9;
/// Standard deviation (mm) of a corner's place that is taken from the walk because no reading settles it.
pub(crate) const SHAPE_DOUBT: f64 = 150.0;

/// The outcome. Rows and columns over `free` follow [`Network::free`].
#[derive(Clone, Debug)]
pub(crate) struct Adjusted {
    /// All unknowns.
    pub x: Vec<f64>,
    /// Derivative of each observation by each free unknown, at the answer.
    pub jacobian: DMatrix<f64>,
    /// Covariance of the free unknowns from the standard deviations that were given.
    pub covariance: DMatrix<f64>,
    /// What each observation should have said, less what it did.
    pub residuals: Vec<f64>,
    /// Weighted sum of squared residuals.
    pub ssq: f64,
    /// Whether the last step was as short as arithmetic allows.
    pub converged: bool,
    /// Directions in the free unknowns that no observation settles.
    pub loose: Vec<DVector<f64>>,
}

impl Adjusted {
    /// How many observations there are beyond the unknowns they determine.
    pub fn redundancy(&self) -> usize {
        (self.jacobian.nrows() + self.loose.len()).saturating_sub(self.jacobian.ncols())
    }

    /// Derivative of each free unknown by each observed value.
    pub fn gain(&self, observations: &[Observation]) -> DMatrix<f64> {
        let mut gain = &self.covariance * self.jacobian.transpose();
        for (mut column, observation) in gain.column_iter_mut().zip(observations) {
            column /= observation.sigma * observation.sigma;
        }
        gain
    }
}

/// The unknowns that fit the observations best, from a first guess of all of them.
pub(crate) fn adjust(network: &Network, first: &[f64]) -> Adjusted {
    let mut x = first.to_vec();
    let mut now = Linear::at(network, &x);
    let mut damping = 0.0_f64;
    let mut converged = false;
    let mut last = f64::INFINITY;
    for _ in 0..STEPS {
        let Some(step) = now.step(damping) else {
            damping = (damping * 10.0).max(1e-8);
            if damping > 1e12 {
                break;
            }
            continue;
        };
        let mut tried = x.clone();
        for (k, &unknown) in network.free.iter().enumerate() {
            tried[unknown] += step[k];
        }
        let size = now.size(&step);
        // once steps are short the squares no longer tell better from worse: go on while they shorten
        let short = size < SHORT && damping < 1e-7;
        if short && size >= last * 0.5 {
            converged = true;
            break;
        }
        let next = Linear::at(network, &tried);
        if short || (next.ssq.is_finite() && next.ssq <= now.ssq) {
            (x, now) = (tried, next);
            last = if short { size } else { f64::INFINITY };
            damping = if damping < 1e-7 { 0.0 } else { damping / 10.0 };
        } else {
            damping = (damping * 10.0).max(1e-4);
            if damping > 1e12 {
                break;
            }
        }
    }
    let (covariance, loose) = now.invert();
    Adjusted {
        x,
        jacobian: now.jacobian,
        covariance,
        residuals: now.residuals,
        ssq: now.ssq,
        converged: converged || !loose.is_empty(),
        loose,
    }
}

/// The observations for each loose direction that would hold one corner's coordinate where it stands: the
/// fewest that make the rest determined.
pub(crate) fn hold_loose(network: &Network, adjusted: &Adjusted) -> Vec<Observation> {
    let mut directions = adjusted.loose.clone();
    let mut held = Vec::new();
    let coordinate = |k: usize| network.coordinates().contains(&network.free[k]);
    while let Some(first) = directions.first() {
        let size = |k: usize| directions.iter().map(|d| d[k].abs()).fold(0.0, f64::max);
        let pick = (0..first.len()).filter(|&k| coordinate(k)).max_by(|&a, &b| size(a).total_cmp(&size(b)));
        let Some(pick) = pick.filter(|&k| size(k) > 1e-9) else { break };
        let unknown = network.free[pick];
        held.push(Observation {
            equation: Equation::Assumed { unknown },
            read: adjusted.x[unknown],
            sigma: SHAPE_DOUBT,
        });
        // what is left loose once this coordinate is held
        let lead = (0..directions.len())
            .max_by(|&a, &b| directions[a][pick].abs().total_cmp(&directions[b][pick].abs()))
            .unwrap_or(0);
        let lead = directions.swap_remove(lead);
        for direction in &mut directions {
            *direction -= &lead * (direction[pick] / lead[pick]);
        }
    }
    held
}

/// The equations at one point: derivatives, residuals and normal matrix.
struct Linear {
    jacobian: DMatrix<f64>,
    residuals: Vec<f64>,
    ssq: f64,
    /// Normal matrix with a unit diagonal, and the factors that scaled it so.
    normal: DMatrix<f64>,
    scales: DVector<f64>,
    right: DVector<f64>,
}

impl Linear {
    fn at(network: &Network, x: &[f64]) -> Linear {
        let (m, u) = (network.observations.len(), network.free.len());
        let mut jacobian = DMatrix::zeros(m, u);
        let mut weighted = DMatrix::zeros(m, u);
        let mut misfit = DVector::zeros(m);
        let mut residuals = vec![0.0; m];
        let mut row = vec![0.0; x.len()];
        for (i, observation) in network.observations.iter().enumerate() {
            row.fill(0.0);
            residuals[i] = network.evaluate(x, observation.equation, &mut row) - observation.read;
            misfit[i] = residuals[i] / observation.sigma;
            for (k, &unknown) in network.free.iter().enumerate() {
                jacobian[(i, k)] = row[unknown];
                weighted[(i, k)] = row[unknown] / observation.sigma;
            }
        }
        let mut normal = weighted.tr_mul(&weighted);
        let mut right = -weighted.tr_mul(&misfit);
        let scale = |d: f64| if d > 0.0 { d.sqrt() } else { 1.0 };
        let scales = DVector::from_iterator(u, (0..u).map(|k| scale(normal[(k, k)])));
        for a in 0..u {
            right[a] /= scales[a];
            for b in 0..u {
                normal[(a, b)] /= scales[a] * scales[b];
            }
        }
        let ssq = misfit.norm_squared();
        Linear { jacobian, residuals, ssq, normal, scales, right }
    }

    /// The step towards the answer, none where the equations cannot be solved.
    fn step(&self, damping: f64) -> Option<DVector<f64>> {
        let mut normal = self.normal.clone();
        for k in 0..normal.nrows() {
            normal[(k, k)] += damping;
        }
        let factor = Cholesky::new(normal)?;
        // a pivot at the level of rounding is none
        let weak = factor.l_dirty().diagonal().iter().any(|pivot| *pivot < 1e-7);
        if weak && damping < 1e-8 {
            return None;
        }
        let step = factor.solve(&self.right).component_div(&self.scales);
        step.iter().all(|s| s.is_finite()).then_some(step)
    }

    /// How far a step goes, in standard deviations of what it moves (the Newton decrement): the squares are to
    /// fall by the square of it.
    fn size(&self, step: &DVector<f64>) -> f64 {
        step.component_mul(&self.scales).dot(&self.right).max(0.0).sqrt()
    }

    /// The covariance, with loose directions left out of it, and those directions.
    fn invert(&self) -> (DMatrix<f64>, Vec<DVector<f64>>) {
        let u = self.normal.nrows();
        let unscale = |mut matrix: DMatrix<f64>| {
            for a in 0..u {
                for b in 0..u {
                    matrix[(a, b)] /= self.scales[a] * self.scales[b];
                }
            }
            matrix
        };
        if let Some(factor) = Cholesky::new(self.normal.clone())
            && factor.l_dirty().diagonal().iter().all(|pivot| *pivot > 1e-3)
        {
            return (unscale(factor.inverse()), vec![]);
        }
        if self.normal.iter().any(|v| !v.is_finite()) {
            return (DMatrix::zeros(u, u), vec![]);
        }
        let eigen = SymmetricEigen::new(self.normal.clone());
        let most = eigen.eigenvalues.amax().max(f64::MIN_POSITIVE);
        let mut inverse = DMatrix::zeros(u, u);
        let mut loose = Vec::new();
        for (value, vector) in eigen.eigenvalues.iter().zip(eigen.eigenvectors.column_iter()) {
            if *value > most * LOOSE {
                inverse += vector * vector.transpose() / *value;
            } else {
                loose.push(vector.component_div(&self.scales));
            }
        }
        (unscale(inverse), loose)
    }
}
