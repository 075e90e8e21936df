//! One body as flat facets, each counter-clockwise as seen from outside.
#![allow(clippy::many_single_char_names, reason = "corners, axes and shares, as geometry calls them")]

use std::collections::BTreeMap;

use dryfit_measure::Length;

use super::Place;

/// A flat facet of a body.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Facet {
    /// Its outline, counter-clockwise as seen from outside.
    pub outline: Vec<Place>,
    /// Holes in it, clockwise.
    pub holes: Vec<Vec<Place>>,
}

/// A body: closed, or the one side of a surface that can be seen.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Body {
    /// What bounds it.
    pub facets: Vec<Facet>,
}

impl Facet {
    /// Its direction outwards, of length one; nothing long where it has no area.
    pub fn normal(&self) -> [f64; 3] {
        let points: Vec<[f64; 3]> = self.outline.iter().map(|at| at.map(Length::as_mm_f64)).collect();
        let mut sum = [0.0; 3];
        for (i, a) in points.iter().enumerate() {
            let b = points[(i + 1) % points.len()];
            for (axis, total) in sum.iter_mut().enumerate() {
                let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
                *total += (a[u] - b[u]) * (a[v] + b[v]);
            }
        }
        let length = sum.iter().map(|x| x * x).sum::<f64>().sqrt();
        if length > 0.0 { sum.map(|x| x / length) } else { [0.0; 3] }
    }

    /// The same with every point moved.
    #[must_use]
    pub fn moved(&self, to: impl Fn(Place) -> Place) -> Facet {
        let ring = |points: &Vec<Place>| points.iter().map(|at| to(*at)).collect();
        Facet { outline: ring(&self.outline), holes: self.holes.iter().map(ring).collect() }
    }

    /// Outline and holes.
    pub fn rings(&self) -> impl Iterator<Item = &Vec<Place>> {
        std::iter::once(&self.outline).chain(&self.holes)
    }

    /// Triangles that cover it, as points of [`Facet::rings`] in a row.
    pub fn triangles(&self) -> Vec<[usize; 3]> {
        if self.holes.is_empty() && self.outline.len() == 4 {
            return vec![[0, 1, 2], [0, 2, 3]];
        }
        let normal = self.normal();
        // seen along its greatest component, so that nothing collapses
        let axis = (0..3).max_by(|a, b| normal[*a].abs().total_cmp(&normal[*b].abs())).unwrap_or(2);
        let (u, v) = if normal[axis] < 0.0 {
            ((axis + 2) % 3, (axis + 1) % 3)
        } else {
            ((axis + 1) % 3, (axis + 2) % 3)
        };
        let flat: Vec<[f64; 2]> =
            self.rings().flatten().map(|at| [at[u].as_mm_f64(), at[v].as_mm_f64()]).collect();
        let mut starts = Vec::new();
        let mut count = self.outline.len();
        for hole in &self.holes {
            starts.push(count);
            count += hole.len();
        }
        let mut indices: Vec<usize> = Vec::new();
        earcut::Earcut::new().earcut(flat.iter().copied(), &starts, &mut indices);
        let turn = |[a, b, c]: [usize; 3]| {
            let [a, b, c] = [flat[a], flat[b], flat[c]];
            (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        };
        let mut triangles = Vec::new();
        for three in indices.chunks_exact(3) {
            let three = [three[0], three[1], three[2]];
            triangles.push(if turn(three) < 0.0 { [three[0], three[2], three[1]] } else { three });
        }
        triangles
    }
}

impl Body {
    /// A box between two corners, without what lies in `cuts`.
    pub fn cut_box(min: Place, max: Place, cuts: &[[Place; 2]]) -> Body {
        let clamp = |axis: usize, at: Length| at.clamp(min[axis], max[axis]);
        let marks: [Vec<Length>; 3] = [0, 1, 2].map(|axis| {
            let ends = cuts.iter().flatten().map(|corner| clamp(axis, corner[axis]));
            let mut marks: Vec<Length> = ends.chain([min[axis], max[axis]]).collect();
            marks.sort_unstable();
            marks.dedup();
            marks
        });
        let filled = |cell: [usize; 3]| {
            let inside = (0..3).all(|axis| cell[axis] + 1 < marks[axis].len());
            let gone = |[low, high]: &[Place; 2]| {
                (0..3).all(|axis| {
                    let at = cell[axis];
                    low[axis] <= marks[axis][at] && marks[axis][at + 1] <= high[axis]
                })
            };
            inside && !cuts.iter().any(gone)
        };
        let mut facets = Vec::new();
        let counts = [0, 1, 2].map(|axis| marks[axis].len().saturating_sub(1));
        for index in 0..counts.iter().product() {
            let cell = [index % counts[0], index / counts[0] % counts[1], index / (counts[0] * counts[1])];
            if !filled(cell) {
                continue;
            }
            for axis in 0..3 {
                for high in [false, true] {
                    let mut beside = cell;
                    // beyond the last cell there is none, and before the first the index wraps past the end
                    beside[axis] = if high { cell[axis] + 1 } else { cell[axis].wrapping_sub(1) };
                    if beside[axis] < counts[axis] && filled(beside) {
                        continue;
                    }
                    let at = |u: usize, v: usize| {
                        let mut step = [0; 3];
                        (step[axis], step[(axis + 1) % 3], step[(axis + 2) % 3]) = (usize::from(high), u, v);
                        [0, 1, 2].map(|k| marks[k][cell[k] + step[k]])
                    };
                    let round = [at(0, 0), at(1, 0), at(1, 1), at(0, 1)];
                    let outline: Vec<Place> =
                        if high { round.to_vec() } else { round.iter().rev().copied().collect() };
                    facets.push(Facet { outline, holes: Vec::new() });
                }
            }
        }
        Body { facets }
    }

    /// The inside of an open box: its bottom and sides as seen from above.
    pub fn bowl(min: Place, max: Place) -> Body {
        let whole = Body::cut_box(min, max, &[]);
        let open = |facet: &Facet| !facet.outline.iter().all(|at| at[2] == max[2]);
        let turned = |facet: Facet| Facet { outline: facet.outline.into_iter().rev().collect(), ..facet };
        Body { facets: whole.facets.into_iter().filter(open).map(turned).collect() }
    }

    /// An upright prism over an outline (counter-clockwise from above) with holes (clockwise) through it.
    pub fn prism(outline: &[[Length; 2]], holes: &[Vec<[Length; 2]>], up: [Length; 2]) -> Body {
        let level =
            |ring: &[[Length; 2]], z: Length| ring.iter().map(|[x, y]| [*x, *y, z]).collect::<Vec<_>>();
        let mut facets = Vec::new();
        let turned = |ring: Vec<Place>| ring.into_iter().rev().collect::<Vec<_>>();
        facets.push(Facet {
            outline: level(outline, up[1]),
            holes: holes.iter().map(|hole| level(hole, up[1])).collect(),
        });
        facets.push(Facet {
            outline: turned(level(outline, up[0])),
            holes: holes.iter().map(|hole| turned(level(hole, up[0]))).collect(),
        });
        for ring in std::iter::once(outline).chain(holes.iter().map(Vec::as_slice)) {
            for (i, a) in ring.iter().enumerate() {
                let b = ring[(i + 1) % ring.len()];
                let at = |[x, y]: [Length; 2], z| [x, y, z];
                let outline = vec![at(*a, up[0]), at(b, up[0]), at(b, up[1]), at(*a, up[1])];
                facets.push(Facet { outline, holes: Vec::new() });
            }
        }
        Body { facets }
    }
}

/// The edges of facets that can be seen as such, each with the facets (by index) that meet in it: not the seams of
/// facets that lie in one plane.
pub(crate) fn edges(facets: &[Facet]) -> Vec<([Place; 2], Vec<usize>)> {
    let mut shared: BTreeMap<[Place; 2], Vec<usize>> = BTreeMap::new();
    for (index, facet) in facets.iter().enumerate() {
        for ring in facet.rings() {
            for (i, a) in ring.iter().enumerate() {
                let b = ring[(i + 1) % ring.len()];
                shared.entry(if *a < b { [*a, b] } else { [b, *a] }).or_default().push(index);
            }
        }
    }
    let normals: Vec<[f64; 3]> = facets.iter().map(Facet::normal).collect();
    let flat = |of: &Vec<usize>| {
        let same = |a: [f64; 3], b: [f64; 3]| (0..3).map(|k| a[k] * b[k]).sum::<f64>() > 1.0 - 1e-9;
        matches!(of.as_slice(), [a, b] if same(normals[*a], normals[*b]))
    };
    shared.into_iter().filter(|(_, of)| !flat(of)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(at: [i64; 3]) -> Place {
        at.map(Length::mm)
    }

    /// Six times the volume that facets enclose, mm3 (divergence theorem over their triangles).
    fn volume6(body: &Body) -> f64 {
        let mut sum = 0.0;
        for facet in &body.facets {
            let points: Vec<[f64; 3]> = facet.rings().flatten().map(|at| at.map(Length::as_mm_f64)).collect();
            for [a, b, c] in facet.triangles() {
                let [a, b, c] = [points[a], points[b], points[c]];
                sum += a[0] * (b[1] * c[2] - b[2] * c[1])
                    + a[1] * (b[2] * c[0] - b[0] * c[2])
                    + a[2] * (b[0] * c[1] - b[1] * c[0]);
            }
        }
        sum
    }

    #[test]
    fn a_box_has_six_facets_that_look_outwards_and_twelve_edges() {
        let body = Body::cut_box(mm([0, 0, 0]), mm([3, 4, 5]), &[]);
        assert_eq!((body.facets.len(), edges(&body.facets).len()), (6, 12));
        assert!((volume6(&body) - 360.0).abs() < 1e-9);
        for facet in &body.facets {
            let normal = facet.normal();
            let middle = [1.5, 2.0, 2.5];
            let out: f64 = (0..3).map(|k| normal[k] * (facet.outline[0][k].as_mm_f64() - middle[k])).sum();
            assert!(out > 0.0, "{facet:?}");
        }
    }

    /// A side with a toe notch is an L: 18 edges, as a solid of eight walls has.
    #[test]
    fn a_notch_leaves_no_seams() {
        let body = Body::cut_box(mm([0, 0, 0]), mm([18, 560, 870]), &[[mm([-1, -1, -1]), mm([19, 75, 100])]]);
        let kept = 18.0 * (560.0 * 870.0 - 75.0 * 100.0);
        assert!((volume6(&body) / 6.0 - kept).abs() < 1e-6);
        // straight edges that the cells break: count them by their lines
        let whole: BTreeMap<(usize, [Length; 2]), u32> = {
            let mut lines = BTreeMap::new();
            for ([a, b], _) in edges(&body.facets) {
                let axis = (0..3).find(|k| a[*k] != b[*k]).expect("an edge has a length");
                let rest = [a[(axis + 1) % 3], a[(axis + 2) % 3]];
                *lines.entry((axis, rest)).or_default() += 1;
            }
            lines
        };
        assert_eq!(whole.len(), 18);
    }

    #[test]
    fn a_top_with_a_hole_weighs_what_is_left() {
        let ring = |points: &[[i64; 2]]| -> Vec<[Length; 2]> {
            points.iter().map(|at| at.map(Length::mm)).collect()
        };
        let top = ring(&[[0, 0], [100, 0], [100, 60], [60, 60], [60, 90], [0, 90]]);
        let hole = ring(&[[10, 10], [10, 40], [50, 40], [50, 10]]);
        let body = Body::prism(&top, &[hole], [Length::mm(0), Length::mm(10)]);
        let area = 100.0 * 60.0 + 60.0 * 30.0 - 40.0 * 30.0;
        assert!((volume6(&body) / 6.0 - area * 10.0).abs() < 1e-6, "{}", volume6(&body) / 6.0);
    }

    proptest! {
        /// What is left of a box is the box less the union of its cuts, whatever they are.
        #[test]
        fn cutting_takes_away_the_union(
            cuts in proptest::collection::vec((0_i64..12, 0_i64..12, 0_i64..12, 1_i64..8, 1_i64..8, 1_i64..8), 0..5),
        ) {
            let boxes: Vec<[Place; 2]> = cuts
                .iter()
                .map(|(x, y, z, a, b, c)| [mm([x - 2, y - 2, z - 2]), mm([x - 2 + a, y - 2 + b, z - 2 + c])])
                .collect();
            let body = Body::cut_box(mm([0, 0, 0]), mm([10, 9, 8]), &boxes);
            let mut cells = 0;
            for x in 0..10 {
                for y in 0..9 {
                    for z in 0..8 {
                        let at = mm([x, y, z]);
                        let gone = boxes.iter().any(|[low, high]| {
                            (0..3).all(|k| low[k] <= at[k] && at[k] < high[k])
                        });
                        cells += i32::from(!gone);
                    }
                }
            }
            prop_assert!((volume6(&body) / 6.0 - f64::from(cells)).abs() < 1e-6);
        }
    }
}
