//! A drawing without what its own faces hide, for forms that know no paper to hide things behind.
#![allow(clippy::many_single_char_names, reason = "points and shares, as geometry calls them")]

use crate::paper::{Drawing, Mark, Point, Shape};

/// The same marks, less what a face that comes later lies over.
pub(crate) fn uncovered(drawing: &Drawing) -> Vec<Mark> {
    let mut kept: Vec<Mark> = Vec::new();
    for mark in &drawing.marks {
        if let Shape::Line { points, closed: true, paper: true, .. } = &mark.shape {
            kept = kept.into_iter().flat_map(|below| outside(below, points)).collect();
        }
        kept.push(mark.clone());
    }
    kept
}

/// What is left of a mark beyond a face.
fn outside(mark: Mark, face: &[Point]) -> Vec<Mark> {
    let hides = |at: &Point| inside(face, *at);
    let with = |shape: Shape| Mark { shape, ..mark.clone() };
    match &mark.shape {
        Shape::Line { points, closed, pen, stroke, .. } => {
            let ends = points.len() - usize::from(!closed);
            let segments: Vec<[Point; 2]> =
                (0..ends).map(|i| [points[i], points[(i + 1) % points.len()]]).collect();
            let left: Vec<Vec<[Point; 2]>> = segments.iter().map(|segment| clipped(*segment, face)).collect();
            let untouched = left.iter().zip(&segments).all(|(left, whole)| left.as_slice() == [*whole]);
            if untouched {
                return vec![mark];
            }
            let line = |[a, b]: [Point; 2]| Shape::Line {
                points: vec![a, b],
                closed: false,
                pen: *pen,
                stroke: *stroke,
                paper: false,
            };
            left.into_iter().flatten().map(|segment| with(line(segment))).collect()
        }
        Shape::Hatch { kind, lines } => {
            let lines = lines.iter().flat_map(|line| clipped(*line, face)).collect();
            vec![with(Shape::Hatch { kind: *kind, lines })]
        }
        Shape::Fill { points } if points.iter().all(hides) => Vec::new(),
        Shape::Circle { at, .. }
        | Shape::Text { at, .. }
        | Shape::Balloon { at, .. }
        | Shape::Flag { at, .. }
        | Shape::Dot { at }
        | Shape::Hook { at, .. }
        | Shape::FaceMark { at, .. }
        | Shape::Grain { at, .. }
            if hides(at) =>
        {
            Vec::new()
        }
        _ => vec![mark],
    }
}

/// The stretches of a segment that lie outside an outline; what runs along its edge stays.
fn clipped([a, b]: [Point; 2], outline: &[Point]) -> Vec<[Point; 2]> {
    let cross = |p: Point, q: Point| p[0] * q[1] - p[1] * q[0];
    let along = [b[0] - a[0], b[1] - a[1]];
    let mut marks = vec![0.0, 1.0];
    for (i, p) in outline.iter().enumerate() {
        let q = outline[(i + 1) % outline.len()];
        let edge = [q[0] - p[0], q[1] - p[1]];
        let turn = cross(along, edge);
        if turn.abs() > 1e-12 {
            let (to, far) = ([p[0] - a[0], p[1] - a[1]], 1e-9);
            let (t, s) = (cross(to, edge) / turn, cross(to, along) / turn);
            if t > far && t < 1.0 - far && (-far..=1.0 + far).contains(&s) {
                marks.push(t);
            }
        }
    }
    marks.sort_by(f64::total_cmp);
    let at = |t: f64| {
        if t <= 0.0 {
            a
        } else if t >= 1.0 {
            b
        } else {
            [a[0] + t * along[0], a[1] + t * along[1]]
        }
    };
    let mut left: Vec<[f64; 2]> = Vec::new();
    for pair in marks.windows(2) {
        if inside(outline, at(f64::midpoint(pair[0], pair[1]))) {
            continue;
        }
        match left.last_mut() {
            Some(last) if last[1] >= pair[0] => last[1] = pair[1],
            _ => left.push([pair[0], pair[1]]),
        }
    }
    left.into_iter().map(|[from, to]| [at(from), at(to)]).collect()
}

/// Whether a point lies within an outline, and not on its edge (to a thousandth of a millimetre).
fn inside(outline: &[Point], [x, y]: Point) -> bool {
    let mut within = false;
    for (i, a) in outline.iter().enumerate() {
        let b = outline[(i + 1) % outline.len()];
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let length = dx.hypot(dy).max(1e-12);
        let t = (((x - a[0]) * dx + (y - a[1]) * dy) / (length * length)).clamp(0.0, 1.0);
        if (x - a[0] - t * dx).hypot(y - a[1] - t * dy) < 1e-3 {
            return false;
        }
        if (a[1] > y) != (b[1] > y) && x < dx * (y - a[1]) / dy + a[0] {
            within = !within;
        }
    }
    within
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [Point; 4] = [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]];

    #[test]
    fn a_line_under_a_face_keeps_its_ends() {
        assert_eq!(
            clipped([[-5.0, 5.0], [15.0, 5.0]], &SQUARE),
            [[[-5.0, 5.0], [0.0, 5.0]], [[10.0, 5.0], [15.0, 5.0]]]
        );
        assert_eq!(clipped([[2.0, 5.0], [8.0, 5.0]], &SQUARE), Vec::<[Point; 2]>::new());
    }

    #[test]
    fn a_line_along_the_edge_stays() {
        assert_eq!(clipped([[0.0, 2.0], [0.0, 8.0]], &SQUARE), [[[0.0, 2.0], [0.0, 8.0]]]);
    }

    #[test]
    fn a_dented_face_hides_twice() {
        let dented = [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [5.0, 2.0], [0.0, 10.0]];
        assert_eq!(clipped([[-5.0, 6.0], [15.0, 6.0]], &dented).len(), 3);
    }
}
