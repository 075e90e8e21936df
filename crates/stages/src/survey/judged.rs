//! The adjustment against an independent one on a hundred random rooms: corners, leans and covariance.
//!
//! The judge (`judges/adjust.py`) states the observation equations in its own way (it crosses the raised wall
//! lines), takes exact derivatives by complex steps, and solves with a reference library from the same start. The
//! library goes by the sum of squares, which shows a step only down to some 1e-6 of a standard deviation; the judge
//! goes on from there by plain least-squares steps. Both answers are compared.

use std::fmt::Write as _;
use std::io::Write as _;
use std::process::{Command, Stdio};

use super::adjust::{Adjusted, adjust};
use super::network::{Equation, Network, Observation};

/// splitmix64, so that every run judges the same rooms.
pub(super) struct Random(pub u64);

impl Random {
    pub fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    pub fn below(&mut self, n: usize) -> usize {
        let at = self.unit() * n as f64;
        (1..n).filter(|&i| at >= i as f64).count()
    }

    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.unit()).cos()
    }
}

/// A room seen from its middle: corners at uneven angles and distances, in the room's own axes. No corner is
/// nearly straight: where two such walls lean, they cross anywhere, and the squares have more than one least.
pub(super) fn corners(random: &mut Random, n: usize) -> Vec<[f64; 2]> {
    loop {
        let at = star(random, n);
        let step = |i: usize| [at[(i + 1) % n][0] - at[i % n][0], at[(i + 1) % n][1] - at[i % n][1]];
        let sine = |i: usize| {
            let (a, b) = (step(i), step(i + 1));
            (a[0] * b[1] - a[1] * b[0]).abs() / (a[0].hypot(a[1]) * b[0].hypot(b[1]))
        };
        if (0..n).all(|i| sine(i) > 0.3) {
            return at;
        }
    }
}

fn star(random: &mut Random, n: usize) -> Vec<[f64; 2]> {
    let mut at: Vec<[f64; 2]> = (0..n)
        .map(|i| {
            let angle = (i as f64 + random.between(-0.3, 0.3)) * std::f64::consts::TAU / n as f64;
            let radius = random.between(1600.0, 3600.0);
            [radius * angle.cos(), radius * angle.sin()]
        })
        .collect();
    super::start::into_axes(&mut at);
    at
}

/// A network over a random room, with more readings than unknowns, and a start some centimetres off.
fn room(random: &mut Random, most: usize) -> (Network, Vec<f64>) {
    let n = 4 + random.below(most - 3);
    let mut network = Network::new(n, 1);
    let mut truth: Vec<f64> = corners(random, n).into_iter().flatten().collect();
    truth.extend((0..n).map(|_| random.between(-0.01, 0.01)));
    truth.extend([random.between(-3e-4, 3e-4), random.between(-0.5, 0.5)]);
    let distance = |random: &mut Random, from: usize, to: usize| {
        let height = random.between(0.0, 2200.0);
        Equation::Distance { from, to, height, tape: Some(0), hook: random.unit() < 0.7 }
    };
    let mut equations = Vec::new();
    for from in 0..n {
        for _ in 0..2 {
            equations.push(distance(random, from, (from + 1) % n));
        }
        for _ in 0..2 {
            let to = (from + 2 + random.below(n - 3)) % n;
            equations.push(distance(random, from, to));
        }
        if random.unit() < 0.5 {
            equations.push(Equation::Lean { wall: from, height: random.between(1000.0, 2200.0) });
        }
    }
    for equation in equations {
        let sigma = random.between(0.4, 1.6);
        let value = network.evaluate(&truth, equation, &mut vec![0.0; truth.len()]);
        network.observations.push(Observation { equation, read: value + sigma * random.normal(), sigma });
    }
    for wall in 0..n {
        let equation = Equation::Assumed { unknown: network.lean(wall) };
        network.observations.push(Observation { equation, read: 0.0, sigma: 0.0052 });
    }
    for (step, sigma) in [1.15e-4, 0.17].into_iter().enumerate() {
        let equation = Equation::Assumed { unknown: network.scale(0) + step };
        network.observations.push(Observation { equation, read: 0.0, sigma });
    }
    let mut start = truth.clone();
    for &unknown in &network.free {
        start[unknown] += if unknown < 2 * n { random.between(-30.0, 30.0) } else { 0.0 };
    }
    for value in &mut start[2 * n..] {
        *value = 0.0;
    }
    (network, start)
}

/// Whether the worst-known corner, lean (over two and a half metres) and tape are known to 5 mm.
fn is_well_known(network: &Network, adjusted: &Adjusted) -> bool {
    let variances = adjusted.covariance.diagonal();
    network
        .free
        .iter()
        .zip(variances.iter())
        .all(|(&unknown, variance)| in_mm(network, unknown, variance.sqrt()) < 5.0)
}

/// An unknown's difference in mm: a lean by what it does over two and a half metres, a scale over ten.
fn in_mm(network: &Network, unknown: usize, off: f64) -> f64 {
    if network.coordinates().contains(&unknown) || unknown == network.scale(0) + 1 {
        off
    } else if unknown == network.scale(0) {
        off * 10_000.0
    } else {
        off * 2500.0
    }
}

fn numbers(of: impl IntoIterator<Item = f64>) -> String {
    // shortest digits that read back as the same number
    of.into_iter().map(|v| format!("{v:?}")).collect::<Vec<_>>().join(",")
}

fn as_json(network: &Network, start: &[f64]) -> String {
    let mut observations = Vec::new();
    for observation in &network.observations {
        let equation = match observation.equation {
            Equation::Distance { from, to, height, tape, hook } => {
                let (tape, hook) = (u8::from(tape.is_some()), u8::from(hook));
                format!("\"distance\",{from},{to},{height:?},{tape},{hook}")
            }
            Equation::Lean { wall, height } => format!("\"lean\",{wall},{height:?}"),
            Equation::Assumed { unknown } => format!("\"assumed\",{unknown}"),
        };
        observations.push(format!("[{:?},{:?},{equation}]", observation.read, observation.sigma));
    }
    let free: Vec<String> = network.free.iter().map(usize::to_string).collect();
    format!(
        "{{\"corners\":{},\"free\":[{}],\"start\":[{}],\"observations\":[{}]}}",
        network.corners,
        free.join(","),
        numbers(start.iter().copied()),
        observations.join(",")
    )
}

/// Asks the judge; its program is run by the Python of `cargo xtask test`.
#[expect(clippy::disallowed_methods, reason = "a test may ask which Python judges it")]
fn judge(input: &str) -> serde_json::Value {
    let folder = env!("CARGO_MANIFEST_DIR");
    let python = std::env::var("DRYFIT_JUDGES").ok().filter(|path| std::path::Path::new(path).exists());
    let python = python.expect(
        "this test asks an independent library: run it by `cargo xtask test`, or make the judges by \
         `cargo xtask tools`, which sets `DRYFIT_JUDGES` to their Python",
    );
    let mut child = Command::new(python)
        .arg(format!("{folder}/judges/adjust.py"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the judge starts");
    let mut pipe = child.stdin.take().expect("a pipe");
    pipe.write_all(input.as_bytes()).expect("the judge reads");
    drop(pipe);
    let output = child.wait_with_output().expect("the judge ends");
    assert!(output.status.success(), "the judge failed");
    serde_json::from_slice(&output.stdout).expect("the judge answers in JSON")
}

#[test]
#[expect(clippy::disallowed_methods, reason = "the time is printed, never asserted")]
fn a_hundred_random_rooms_agree_with_the_judge() {
    let mut random = Random(2026);
    let mut rooms = Vec::new();
    while rooms.len() < 100 {
        let (network, start) = room(&mut random, 16);
        let adjusted = adjust(&network, &start);
        assert!(adjusted.converged && adjusted.loose.is_empty(), "room {}", rooms.len());
        if is_well_known(&network, &adjusted) {
            rooms.push((network, start, adjusted));
        }
    }
    // and the demo, from its own first guess
    let plan = super::tests::demo();
    let ring = super::walk::Ring::of(&plan);
    let demo = super::observe::observe(&plan, &ring).network;
    let guess = &super::start::guesses(&super::observe::sketch(&demo, &ring))[0];
    let mut start: Vec<f64> = guess.at.iter().flatten().copied().collect();
    start.resize(demo.unknowns(), 0.0);
    let adjusted = adjust(&demo, &start);
    let survey = super::survey(&plan).0;
    for (corner, at) in survey.corners.iter().zip(adjusted.x.chunks(2)) {
        assert!((corner.at[0] - at[0]).hypot(corner.at[1] - at[1]) < 1e-9);
    }
    rooms.push((demo, start, adjusted));
    let mut input = String::from("[");
    for (k, (network, start, _)) in rooms.iter().enumerate() {
        let _ = write!(input, "{}{}", if k == 0 { "" } else { "," }, as_json(network, start));
    }
    input.push(']');
    let answer = judge(&input);
    let begun = std::time::Instant::now();
    for (network, start, _) in &rooms {
        std::hint::black_box(adjust(network, start));
    }
    let ours = begun.elapsed().as_secs_f64();
    let theirs = answer["seconds"].as_f64().expect("a number");
    println!("a hundred rooms: {:.1} ms here, {:.0} times as fast as the judge", ours * 1e3, theirs / ours);
    let mut worst = [0.0_f64; 3];
    for (k, ((network, _, adjusted), judged)) in
        rooms.iter().zip(answer["rooms"].as_array().expect("a list")).enumerate()
    {
        let list = |name: &str| -> Vec<f64> {
            judged[name].as_array().expect("a list").iter().filter_map(serde_json::Value::as_f64).collect()
        };
        let (x, library, covariance) = (list("x"), list("library"), list("covariance"));
        let u = network.free.len();
        assert_eq!((x.len(), covariance.len()), (u, u * u), "room {k}");
        for (a, &unknown) in network.free.iter().enumerate() {
            let mm = in_mm(network, unknown, (x[a] - adjusted.x[unknown]).abs());
            worst[0] = worst[0].max(mm);
            let before = in_mm(network, unknown, (library[a] - adjusted.x[unknown]).abs());
            worst[2] = worst[2].max(before);
            assert!(before < 1e-5, "room {k}, unknown {unknown}: the library stops {before} mm off");
            assert!(mm < 1e-6, "room {k}, unknown {unknown}: {mm} mm apart");
            for b in 0..u {
                let (ours, theirs) = (adjusted.covariance[(a, b)], covariance[a * u + b]);
                let scale = (adjusted.covariance[(a, a)] * adjusted.covariance[(b, b)]).sqrt();
                worst[1] = worst[1].max((ours - theirs).abs() / scale);
                assert!((ours - theirs).abs() < 1e-6 * scale, "room {k}: covariance {ours} against {theirs}");
            }
        }
        let ssq = judged["ssq"].as_f64().expect("a number");
        assert!((ssq - adjusted.ssq).abs() < 1e-9 * ssq, "room {k}: squares {ssq}");
    }
    println!(
        "furthest apart: {:.1e} mm ({:.1e} mm where the library stops), covariance {:.1e} of itself",
        worst[0], worst[2], worst[1]
    );
}

/// A thousand rooms with one gross error each, of the size that theory finds four times in five (Baarda 1968): found
/// as often, within three binomial standard deviations.
#[test]
fn gross_errors_are_found_as_often_as_theory_says() {
    let mut random = Random(1968);
    let (mut tried, mut seen) = (0, 0);
    while tried < 1000 {
        let (mut network, start) = room(&mut random, 6);
        let wrong = random.below(network.observations.len());
        let is_reading = !matches!(network.observations[wrong].equation, Equation::Assumed { .. });
        let clean = adjust(&network, &start);
        let check = super::blunder::check(&network.observations, &clean).each[wrong];
        let Some(error) = check.least_detectable.filter(|_| is_reading && check.redundancy > 0.1) else {
            continue;
        };
        tried += 1;
        network.observations[wrong].read += if random.unit() < 0.5 { error } else { -error };
        let adjusted = adjust(&network, &clean.x);
        let w = super::blunder::check(&network.observations, &adjusted).each[wrong].w;
        seen += u32::from(w.abs() > super::blunder::SUSPECT);
    }
    let off = f64::from(seen) / 1000.0 - 0.80;
    println!("found {seen} of 1000");
    assert!(off.abs() < 3.0 * (0.8_f64 * 0.2 / 1000.0).sqrt(), "found {seen} of 1000");
}
