//! Hatching as lines already clipped to their outline, so that every writer draws the same.

use crate::paper::{HatchKind, Point};

/// Lines that fill an outline (even-odd where it crosses itself). `mm_per_point` is the scale: hatches are spaced
/// in points.
pub fn hatch(outline: &[Point], kind: HatchKind, mm_per_point: f64) -> Vec<[Point; 2]> {
    match kind {
        HatchKind::Cut => parallel(outline, 45.0, 5.0 * mm_per_point),
        HatchKind::Waste => parallel(outline, 135.0, 9.0 * mm_per_point),
        HatchKind::Crossed => {
            let mut lines = parallel(outline, 45.0, 4.0 * mm_per_point);
            lines.extend(parallel(outline, 135.0, 4.0 * mm_per_point));
            lines
        }
        HatchKind::Along => parallel(outline, longer_way(outline), 2.6 * mm_per_point),
    }
}

/// Direction of the longer side of the outline's box, degrees.
fn longer_way(outline: &[Point]) -> f64 {
    let extent = |axis: usize| {
        let values = outline.iter().map(|point| point[axis]);
        values.clone().fold(f64::MIN, f64::max) - values.fold(f64::MAX, f64::min)
    };
    if extent(0) >= extent(1) { 0.0 } else { 90.0 }
}

fn parallel(outline: &[Point], degrees: f64, spacing: f64) -> Vec<[Point; 2]> {
    let (sin, cos) = degrees.to_radians().sin_cos();
    // Turned so that the hatch runs along u; v counts the lines.
    let turned: Vec<Point> = outline.iter().map(|[x, y]| [x * cos + y * sin, y * cos - x * sin]).collect();
    let low = turned.iter().map(|point| point[1]).fold(f64::MAX, f64::min);
    let high = turned.iter().map(|point| point[1]).fold(f64::MIN, f64::max);
    let mut lines = Vec::new();
    // A hatch finer than this many lines is not hatching any more.
    if outline.len() < 3 || spacing <= 0.0 || (high - low) / spacing > 10_000.0 {
        return lines;
    }
    // Lines fall on multiples of the spacing, so that neighbouring outlines hatch as one; the small shift keeps
    // them off corners that stand on the grid.
    let mut v = (low / spacing).ceil() * spacing + spacing * 1e-6;
    while v < high {
        let mut crossings: Vec<f64> = (0..turned.len())
            .filter_map(|index| {
                let (a, b) = (turned[index], turned[(index + 1) % turned.len()]);
                ((a[1] <= v) != (b[1] <= v)).then(|| a[0] + (v - a[1]) / (b[1] - a[1]) * (b[0] - a[0]))
            })
            .collect();
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            let back = |u: f64| [u * cos - v * sin, u * sin + v * cos];
            lines.push([back(pair[0]), back(pair[1])]);
        }
        v += spacing;
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sketch::rectangle;

    #[test]
    fn stays_inside_a_rectangle_and_covers_it() {
        let outline = rectangle([0.0, 0.0], [100.0, 50.0]);
        let lines = hatch(&outline, HatchKind::Cut, 1.0);
        for [x, y] in lines.iter().flatten() {
            assert!((-1e-9..=100.0 + 1e-9).contains(x) && (-1e-9..=50.0 + 1e-9).contains(y));
        }
        // Area = spacing x total length of the lines, within one line's worth.
        let length: f64 = lines.iter().map(|[a, b]| (b[0] - a[0]).hypot(b[1] - a[1])).sum();
        assert!((length * 5.0 - 5000.0).abs() < 5.0 * 75.0, "{length}");
    }
}
