//! First guesses: where the corners may be, from lengths along the walk and across the room.
//!
//! Two ways are tried, and the adjustment goes on from the best of each. *By headings*: walls follow each other
//! at multiples of 45 degrees, square corners preferred, and the walk that closes best with the measured chords
//! wins; this settles a room of spans alone. *By chords*: corners are placed one after another where two measured
//! lengths meet; this settles a room with no square corner, given enough diagonals.

/// A guess of all corners (mm), and how badly it fits (mm2).
#[derive(Clone, Debug)]
pub(crate) struct Guess {
    pub at: Vec<[f64; 2]>,
    pub misfit: f64,
}

/// What is known before anything is adjusted: each wall's length, and distances between corners that are no
/// neighbours.
#[derive(Clone, Debug)]
pub(crate) struct Sketch {
    pub walls: Vec<Option<f64>>,
    pub chords: Vec<(usize, usize, f64)>,
}

/// How many partial walks are kept at each corner.
const BEAM: usize = 400;
/// Beyond so many corners the walk is no room that headings could settle.
const MOST_CORNERS: usize = 48;
/// What an unusual turn costs (mm2): as much as a misfit of 60 mm for each degree of oddity.
const ODDITY: f64 = 3600.0;
/// Turns in eighths of a full one, positive to the left, with their oddity.
const TURNS: [(i32, f64); 7] = [(2, 0.0), (-2, 1.0), (1, 2.0), (-1, 2.5), (0, 3.0), (3, 6.0), (-3, 8.0)];

/// Guesses worth adjusting, best first: counter-clockwise, the first corner at the origin, the second on the
/// x axis.
pub(crate) fn guesses(sketch: &Sketch) -> Vec<Guess> {
    let mut all = by_headings(sketch);
    all.extend(by_chords(sketch));
    let mut fair: Vec<Guess> = all.into_iter().filter_map(|guess| settled(guess, sketch)).collect();
    fair.sort_by(|a, b| a.misfit.total_cmp(&b.misfit));
    let mut kept: Vec<Guess> = Vec::new();
    for guess in fair {
        let near =
            |a: &Guess| a.at.iter().zip(&guess.at).all(|(p, q)| (p[0] - q[0]).hypot(p[1] - q[1]) < 50.0);
        if !kept.iter().any(near) {
            kept.push(guess);
        }
        if kept.len() == 4 {
            break;
        }
    }
    if kept.is_empty() {
        kept.push(Guess { at: regular(sketch), misfit: f64::INFINITY });
    }
    kept
}

/// Twice the area, positive when counter-clockwise.
pub(crate) fn twice_area(at: &[[f64; 2]]) -> f64 {
    let n = at.len();
    (0..n).map(|i| at[i][0] * at[(i + 1) % n][1] - at[(i + 1) % n][0] * at[i][1]).sum()
}

/// Whether no two walls cross.
pub(crate) fn is_simple(at: &[[f64; 2]]) -> bool {
    let n = at.len();
    let side =
        |a: [f64; 2], b: [f64; 2], c: [f64; 2]| (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    for i in 0..n {
        for j in i + 2..n {
            if i == 0 && j == n - 1 {
                continue;
            }
            let (a, b, c, d) = (at[i], at[(i + 1) % n], at[j], at[(j + 1) % n]);
            if side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0 {
                return false;
            }
        }
    }
    true
}

/// The guess moved, turned and if need be mirrored into the room's own axes; none if it crosses itself.
fn settled(mut guess: Guess, sketch: &Sketch) -> Option<Guess> {
    if twice_area(&guess.at) < 0.0 {
        for p in &mut guess.at {
            p[1] = -p[1];
        }
    }
    into_axes(&mut guess.at);
    guess.misfit += closing(&guess.at, sketch);
    (guess.misfit.is_finite() && is_simple(&guess.at)).then_some(guess)
}

/// Moves and turns a polygon so that its first corner is the origin and its second lies on the x axis.
pub(crate) fn into_axes(at: &mut [[f64; 2]]) {
    let (o, e) = (at[0], at[1]);
    let length = (e[0] - o[0]).hypot(e[1] - o[1]).max(1e-9);
    let (c, s) = ((e[0] - o[0]) / length, (e[1] - o[1]) / length);
    for p in at.iter_mut() {
        let d = [p[0] - o[0], p[1] - o[1]];
        *p = [d[0] * c + d[1] * s, d[1] * c - d[0] * s];
    }
    (at[0], at[1][1]) = ([0.0, 0.0], 0.0);
}

/// Squared misfit of all known lengths.
fn closing(at: &[[f64; 2]], sketch: &Sketch) -> f64 {
    let n = at.len();
    let gap = |i: usize, j: usize, read: f64| {
        let d = (at[i][0] - at[j][0]).hypot(at[i][1] - at[j][1]) - read;
        d * d
    };
    let walls = sketch.walls.iter().enumerate().filter_map(|(i, l)| l.map(|l| gap(i, (i + 1) % n, l)));
    walls.sum::<f64>() + sketch.chords.iter().map(|&(i, j, l)| gap(i, j, l)).sum::<f64>()
}

/// The length to walk along a wall that nobody measured: its opposite in a room of four, else the mean.
fn assumed_lengths(sketch: &Sketch) -> Vec<f64> {
    let known: Vec<f64> = sketch.walls.iter().flatten().copied().collect();
    let chords: Vec<f64> = sketch.chords.iter().map(|c| c.2).collect();
    let mean = |of: &[f64]| of.iter().sum::<f64>() / of.len() as f64;
    let usual = match (known.is_empty(), chords.is_empty()) {
        (false, _) => mean(&known),
        (true, false) => mean(&chords) / std::f64::consts::SQRT_2,
        (true, true) => 3000.0,
    };
    let opposite = |i: usize| if sketch.walls.len() == 4 { sketch.walls[(i + 2) % 4] } else { None };
    let length = |(i, l): (usize, &Option<f64>)| l.or_else(|| opposite(i)).unwrap_or(usual).max(1.0);
    sketch.walls.iter().enumerate().map(length).collect()
}

/// A part of a walk: where it has come to, which way it faces.
#[derive(Clone)]
struct Walk {
    at: Vec<[f64; 2]>,
    heading: i32,
    cost: f64,
    odd: f64,
}

/// Corners still to be turned, as a number that headings can be compared with.
fn left_to_turn(corners: usize) -> i32 {
    i32::try_from(corners).unwrap_or(i32::MAX / 3)
}

fn by_headings(sketch: &Sketch) -> Vec<Guess> {
    let n = sketch.walls.len();
    if n > MOST_CORNERS {
        return vec![];
    }
    let lengths = assumed_lengths(sketch);
    let ahead: Vec<f64> = (0..=n).map(|i| lengths[i.min(n)..].iter().sum()).collect();
    let mut beam = vec![Walk { at: vec![[0.0, 0.0], [lengths[0], 0.0]], heading: 0, cost: 0.0, odd: 0.0 }];
    for wall in 1..n {
        let mut next: Vec<Walk> = Vec::with_capacity(beam.len() * TURNS.len());
        for walk in &beam {
            for (turn, odd) in TURNS {
                let heading = walk.heading + turn;
                // what is left to turn must be possible
                if (8 - heading).abs() > 3 * left_to_turn(n - wall) {
                    continue;
                }
                let angle = f64::from(heading) * std::f64::consts::FRAC_PI_4;
                let last = walk.at[wall];
                let to = [last[0] + lengths[wall] * angle.cos(), last[1] + lengths[wall] * angle.sin()];
                let beyond = (to[0].hypot(to[1]) - ahead[wall + 1]).max(0.0);
                let corner = (wall + 1) % n;
                let chord = |&(i, j, read): &(usize, usize, f64)| {
                    let other = if i.max(j) == corner && corner != 0 { i.min(j) } else { return 0.0 };
                    let d = (to[0] - walk.at[other][0]).hypot(to[1] - walk.at[other][1]) - read;
                    d * d
                };
                let misfit: f64 = sketch.chords.iter().map(chord).sum();
                let mut odd = walk.odd + odd * ODDITY;
                let mut cost = walk.cost - walk.odd + misfit;
                if wall == n - 1 {
                    cost += to[0] * to[0] + to[1] * to[1];
                    let closing = TURNS.iter().find(|t| t.0 == 8 - heading);
                    odd += closing.map_or(f64::INFINITY, |t| t.1 * ODDITY);
                } else {
                    cost += beyond * beyond;
                }
                let mut at = walk.at.clone();
                at.push(to);
                next.push(Walk { at, heading, cost: cost + odd, odd });
            }
        }
        next.retain(|walk| walk.cost.is_finite());
        next.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        next.truncate(BEAM);
        beam = next;
    }
    let closed = |walk: Walk| {
        let gap = walk.at[n];
        let share = |(i, p): (usize, &[f64; 2])| {
            let part = i as f64 / n as f64;
            [p[0] - gap[0] * part, p[1] - gap[1] * part]
        };
        let at = walk.at[..n].iter().enumerate().map(share).collect();
        Guess { at, misfit: walk.odd }
    };
    beam.into_iter().take(12).map(closed).collect()
}

/// Corners placed where two measured lengths meet; both places are followed.
fn by_chords(sketch: &Sketch) -> Vec<Guess> {
    let n = sketch.walls.len();
    let mut known = vec![vec![None; n]; n];
    let walls = sketch.walls.iter().enumerate().filter_map(|(i, l)| l.map(|l| (i, (i + 1) % n, l)));
    for (i, j, l) in walls.chain(sketch.chords.iter().copied()) {
        (known[i][j], known[j][i]) = (Some(l), Some(l));
    }
    let Some(first) = (0..n).find(|&i| sketch.walls[i].is_some()) else { return vec![] };
    let second = (first + 1) % n;
    let mut places = vec![None; n];
    places[first] = Some([0.0, 0.0]);
    places[second] = Some([sketch.walls[first].unwrap_or(0.0), 0.0]);
    let mut beam = vec![(places, 0.0_f64)];
    for _ in 2..n {
        // every walk of the beam has the same corners placed
        let placed: Vec<usize> = (0..n).filter(|&i| beam[0].0[i].is_some()).collect();
        let ties = |i: usize| placed.iter().filter(|&&j| known[i][j].is_some()).count();
        let Some(corner) = (0..n).filter(|i| !placed.contains(i)).max_by_key(|&i| (ties(i), n - i)) else {
            break;
        };
        let from: Vec<(usize, f64)> =
            placed.iter().filter_map(|&j| known[corner][j].map(|l| (j, l))).collect();
        if from.len() < 2 {
            return vec![];
        }
        let mut next = Vec::new();
        for (places, cost) in &beam {
            let spot = |j: usize| places[j].unwrap_or([0.0, 0.0]);
            // the two anchors that lie farthest apart cross most squarely
            let apart = |a: usize, b: usize| (spot(a)[0] - spot(b)[0]).hypot(spot(a)[1] - spot(b)[1]);
            let pairs = (0..from.len()).flat_map(|i| (i + 1..from.len()).map(move |j| (i, j)));
            let best = pairs
                .max_by(|a, b| apart(from[a.0].0, from[a.1].0).total_cmp(&apart(from[b.0].0, from[b.1].0)));
            let Some((a, b)) = best else { continue };
            for at in crossing(spot(from[a].0), from[a].1, spot(from[b].0), from[b].1) {
                let off = |&(j, l): &(usize, f64)| {
                    let d = (at[0] - spot(j)[0]).hypot(at[1] - spot(j)[1]) - l;
                    d * d
                };
                let mut places = places.clone();
                places[corner] = Some(at);
                next.push((places, cost + from.iter().map(off).sum::<f64>()));
            }
        }
        next.sort_by(|a, b| a.1.total_cmp(&b.1));
        next.truncate(64);
        beam = next;
        if beam.is_empty() {
            return vec![];
        }
    }
    let guess = |(places, _): (Vec<Option<[f64; 2]>>, f64)| {
        let at: Option<Vec<[f64; 2]>> = places.into_iter().collect();
        at.map(|at| Guess { at, misfit: 0.0 })
    };
    beam.into_iter().filter_map(guess).collect()
}

/// Where two circles cross; where they miss each other, the place between them.
fn crossing(p: [f64; 2], r: f64, q: [f64; 2], s: f64) -> [[f64; 2]; 2] {
    let d = [q[0] - p[0], q[1] - p[1]];
    let apart = d[0].hypot(d[1]).max(1e-6);
    let along = (r * r - s * s + apart * apart) / (2.0 * apart);
    let aside = (r * r - along * along).max(0.0).sqrt();
    let u = [d[0] / apart, d[1] / apart];
    let foot = [p[0] + u[0] * along, p[1] + u[1] * along];
    [[foot[0] - u[1] * aside, foot[1] + u[0] * aside], [foot[0] + u[1] * aside, foot[1] - u[0] * aside]]
}

/// A regular polygon with the walls' mean length: a shape to show when nothing else can be said.
fn regular(sketch: &Sketch) -> Vec<[f64; 2]> {
    let n = sketch.walls.len();
    let lengths = assumed_lengths(sketch);
    let side = lengths.iter().sum::<f64>() / n as f64;
    let mut at = vec![[0.0, 0.0]];
    for i in 1..n {
        let angle = std::f64::consts::TAU * (i - 1) as f64 / n as f64;
        let last = at[i - 1];
        at.push([last[0] + side * angle.cos(), last[1] + side * angle.sin()]);
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dist(p: [f64; 2], q: [f64; 2]) -> f64 {
        (p[0] - q[0]).hypot(p[1] - q[1])
    }

    #[test]
    fn spans_of_an_l_close_at_square_corners() {
        let walls = [4000.0, 1800.0, 1800.0, 1200.0, 2200.0, 3000.0].map(Some).to_vec();
        let best = &guesses(&Sketch { walls, chords: vec![] })[0];
        assert!(dist(best.at[3], [2200.0, 1800.0]) < 1.0, "{:?}", best.at);
    }

    #[test]
    fn chords_settle_a_room_without_square_corners() {
        let room = [[0.0, 0.0], [2900.0, 0.0], [3600.0, 2100.0], [1500.0, 3300.0], [-700.0, 1400.0]];
        let walls = (0..5).map(|i| Some(dist(room[i], room[(i + 1) % 5]))).collect();
        let chords = [(0, 2), (0, 3), (1, 3)].map(|(i, j)| (i, j, dist(room[i], room[j]))).to_vec();
        let best = &guesses(&Sketch { walls, chords })[0];
        for (p, q) in best.at.iter().zip(room) {
            assert!(dist(*p, q) < 1e-6, "{:?}", best.at);
        }
    }

    #[test]
    fn nothing_known_still_gives_a_room() {
        for n in 3..12 {
            let best = &guesses(&Sketch { walls: vec![None; n], chords: vec![] })[0];
            assert_eq!(best.at.len(), n);
            assert!(twice_area(&best.at) > 0.0);
        }
    }
}
