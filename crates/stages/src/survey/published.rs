//! The adjustment against published and independently computed values.

use super::adjust::{Adjusted, adjust};
use super::blunder::{Checks, check};
use super::network::{Equation, Network, Observation};

/// Distances between corners at the floor, all of one deviation; leans stay zero.
fn network(corners: usize, read: &[(usize, usize, f64)], sigma: f64) -> Network {
    let mut network = Network::new(corners, 0);
    let coordinates = network.coordinates();
    network.free.retain(|unknown| coordinates.contains(unknown));
    network.observations = read
        .iter()
        .map(|&(from, to, read)| {
            let equation = Equation::Distance { from, to, height: 0.0, tape: None, hook: false };
            Observation { equation, read, sigma }
        })
        .collect();
    network
}

fn solve(start: &[[f64; 2]], read: &[(usize, usize, f64)], sigma: f64) -> (Adjusted, Checks) {
    let network = network(start.len(), read, sigma);
    let mut x: Vec<f64> = start.iter().flatten().copied().collect();
    x.resize(network.unknowns(), 0.0);
    let adjusted = adjust(&network, &x);
    assert!(adjusted.converged && adjusted.loose.is_empty());
    let checks = check(&network.observations, &adjusted);
    (adjusted, checks)
}

fn near(got: f64, expect: f64, tolerance: f64) {
    assert!((got - expect).abs() <= tolerance, "{got} for {expect}");
}

/// Trilateration from three controls: *Adjustment Computations* (Wiley), chapter 14, example; distances from
/// memory, consistent to 0.08 ft (A-lin3-*).
#[test]
fn trilateration() {
    let controls = [[865.4, 4527.15], [2432.55, 2047.25], [2865.22, 27.15]];
    let start = [controls[0], controls[1], controls[2], [6548.0, 4547.0]];
    let read = [(0, 3, 6049.0), (1, 3, 4736.83), (2, 3, 5446.49)];
    let mut network = network(4, &read, 1.0);
    network.free = vec![6, 7];
    let mut x: Vec<f64> = start.iter().flatten().copied().collect();
    x.resize(network.unknowns(), 0.0);
    let adjusted = adjust(&network, &x);
    near(adjusted.x[6], 6_861.316_787_72, 1e-5);
    near(adjusted.x[7], 3_727.818_565_72, 1e-5);
    near(adjusted.ssq.sqrt(), 0.097_659_372_9, 1e-7);
    for (got, expect) in adjusted.residuals.iter().zip([-0.0374, 0.0768, -0.0474]) {
        near(*got, expect, 1e-4);
    }
}

/// Certified straight-line fit Norris, NIST Statistical Reference Datasets (A-norris-*): a tape read over known
/// distances has the intercept for its hook error and the slope for its scale.
#[test]
fn certified_line() {
    let x = [
        0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9,
        338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0,
        11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
    ];
    let y = [
        0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8,
        339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9,
        10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
    ];
    let mut network = Network::new(37, 1);
    let scale = network.scale(0);
    network.free = vec![scale, scale + 1];
    let mut at = vec![0.0; network.unknowns()];
    for (k, (x, y)) in x.into_iter().zip(y).enumerate() {
        at[2 * (k + 1)] = x;
        let equation = Equation::Distance { from: 0, to: k + 1, height: 0.0, tape: Some(0), hook: true };
        network.observations.push(Observation { equation, read: y, sigma: 1.0 });
    }
    let adjusted = adjust(&network, &at);
    near(adjusted.x[scale + 1], -0.262_323_073_774_029, 1e-9);
    near(1.0 + adjusted.x[scale], 1.002_116_818_020_45, 1e-11);
    assert_eq!(adjusted.redundancy(), 34);
    let s = (adjusted.ssq / 34.0).sqrt();
    near(s, 0.884_796_396_144_373, 1e-10);
    near(s * adjusted.covariance[(1, 1)].sqrt(), 0.232_818_234_301_152, 1e-9);
    near(s * adjusted.covariance[(0, 0)].sqrt(), 0.000_429_796_848_199_937, 1e-12);
}

const RECT: [[f64; 2]; 4] = [[0.0, 0.0], [3050.0, 0.0], [3050.0, 2440.0], [0.0, 2440.0]];
const RECT_READ: [(usize, usize, f64); 6] =
    [(0, 1, 3050.0), (1, 2, 2441.0), (2, 3, 3052.0), (3, 0, 2440.0), (0, 2, 3908.0), (1, 3, 3905.0)];

/// Own computation with an independent least-squares library (A-rect-*).
#[test]
fn four_walls_and_two_diagonals() {
    let (adjusted, checks) = solve(&RECT, &RECT_READ, 1.0);
    near(adjusted.ssq, 0.248_562_492_687, 1e-9);
    let at = [adjusted.x[2], adjusted.x[4], adjusted.x[5], adjusted.x[6], adjusted.x[7]];
    for (got, expect) in at.into_iter().zip([3049.80527, 3052.32674, 2440.84302, 0.52151, 2439.8442]) {
        near(got, expect, 1e-4);
    }
    let mut sum = 0.0;
    for (check, r) in checks.each.iter().zip([0.15255, 0.09751, 0.15235, 0.09759, 0.25019, 0.24981]) {
        near(check.w.abs(), 0.49856, 1e-4);
        near(check.redundancy, r, 2e-5);
        sum += check.redundancy;
    }
    near(sum, 1.0, 1e-9);
}

/// One redundancy: a blunder is seen, and nothing says where (A-rect-blunder-w, A-fact-dof1).
#[test]
fn one_redundancy_blames_nobody() {
    let mut read = RECT_READ;
    read[4].2 += 20.0;
    let (_, checks) = solve(&RECT, &read, 1.0);
    for (i, check) in checks.each.iter().enumerate() {
        near(check.w.abs(), 9.51803, 1e-4);
        assert_eq!(checks.ties(i).len(), 5);
    }
}

const ELL: [[f64; 2]; 6] =
    [[0.0, 0.0], [4000.0, 0.0], [4000.0, 1800.0], [2200.0, 1800.0], [2200.0, 3000.0], [0.0, 3000.0]];
const ELL_READ: [(usize, usize, f64); 13] = [
    (0, 1, 4001.0),
    (1, 2, 1799.0),
    (2, 3, 1800.0),
    (3, 4, 1202.0),
    (4, 5, 2199.0),
    (5, 0, 3001.0),
    (0, 2, 4386.3),
    (0, 3, 2843.5),
    (0, 4, 3718.2),
    (1, 3, 2546.6),
    (1, 5, 5000.0),
    (3, 5, 2505.0),
    (2, 5, 4178.1),
];

/// Own computation with an independent least-squares library (A-L-*); residuals are model less observed.
#[test]
fn an_l_of_thirteen_distances() {
    let (adjusted, checks) = solve(&ELL, &ELL_READ, 1.5);
    assert_eq!(adjusted.redundancy(), 4);
    near(adjusted.ssq, 4.187_156_293_79, 1e-8);
    let w = [
        -0.63038, -0.46086, 0.62336, -1.77353, -1.77353, -1.87199, 0.08488, -0.90009, 1.77353, -0.37009,
        0.76483, 1.05174, -0.82258,
    ];
    let r = [
        0.18279, 0.12424, 0.45367, 0.22773, 0.12281, 0.08373, 0.40028, 0.32893, 0.35007, 0.36758, 0.48967,
        0.51435, 0.35416,
    ];
    for (check, (w, r)) in checks.each.iter().zip(w.into_iter().zip(r)) {
        // the sixth value is given 2.2e-5 from what exact derivatives make it
        near(check.w, w, 3e-5);
        near(check.redundancy, r, 2e-5);
    }
    let at = [
        [4000.59573, 0.0],
        [4000.6012, 1798.75634],
        [2199.9721, 1800.33663],
        [2197.8004, 3001.06515],
        [-0.26715, 3000.18747],
    ];
    for (k, expect) in at.iter().enumerate() {
        near(adjusted.x[2 * (k + 1)], expect[0], 1e-4);
        near(adjusted.x[2 * (k + 1) + 1], expect[1], 1e-4);
    }
}

/// An inch too much on one wall is found there, with the runner-up within two per cent: both are named
/// (A-L-blunder).
#[test]
fn an_inch_in_an_l_is_found_with_its_runner_up() {
    let mut read = ELL_READ;
    read[1].2 += 25.4;
    let (adjusted, checks) = solve(&ELL, &read, 1.5);
    near(adjusted.ssq, 45.279_814_705_709, 1e-4);
    let mut order: Vec<usize> = (0..13).collect();
    order.sort_by(|&a, &b| checks.each[b].w.abs().total_cmp(&checks.each[a].w.abs()));
    assert_eq!(order[0], 1);
    near(checks.each[1].w, -6.42867, 1e-4);
    near(checks.each[order[1]].w, -6.31664, 1e-4);
    assert!(checks.ties(1).contains(&order[1]));
}
