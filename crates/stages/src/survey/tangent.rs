//! A quantity that is worked out from the adjusted unknowns, with its derivative by each of them.
//!
//! Derived lengths pass through a dozen operations; carrying the derivative along through each one is exact and
//! leaves nothing to be derived by hand a second time.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A value and its derivative by each unknown.
#[derive(Clone, Debug)]
pub(crate) struct Tangent {
    pub value: f64,
    pub by: Vec<f64>,
}

impl Tangent {
    /// A number that does not depend on the unknowns.
    pub fn constant(value: f64, unknowns: usize) -> Tangent {
        Tangent { value, by: vec![0.0; unknowns] }
    }

    /// One of the unknowns.
    pub fn unknown(x: &[f64], index: usize) -> Tangent {
        let mut by = vec![0.0; x.len()];
        by[index] = 1.0;
        Tangent { value: x[index], by }
    }

    fn through(&self, value: f64, slope: f64) -> Tangent {
        Tangent { value, by: self.by.iter().map(|d| d * slope).collect() }
    }

    fn with(&self, other: &Tangent, value: f64, slopes: [f64; 2]) -> Tangent {
        let by = self.by.iter().zip(&other.by).map(|(a, b)| a * slopes[0] + b * slopes[1]).collect();
        Tangent { value, by }
    }

    /// Times a number.
    pub fn times(&self, factor: f64) -> Tangent {
        self.through(self.value * factor, factor)
    }

    /// More by a number.
    pub fn plus(&self, number: f64) -> Tangent {
        self.through(self.value + number, 1.0)
    }

    /// The square root; zero has no slope.
    pub fn sqrt(&self) -> Tangent {
        let root = self.value.max(0.0).sqrt();
        self.through(root, if root > 0.0 { 0.5 / root } else { 0.0 })
    }

    /// The tangent of an angle.
    pub fn tan(&self) -> Tangent {
        let value = self.value.tan();
        self.through(value, 1.0 + value * value)
    }

    /// The angle of the direction (x, y), from the x axis.
    pub fn atan2(y: &Tangent, x: &Tangent) -> Tangent {
        let square = (x.value * x.value + y.value * y.value).max(f64::MIN_POSITIVE);
        y.with(x, y.value.atan2(x.value), [x.value / square, -y.value / square])
    }
}

impl Add for &Tangent {
    type Output = Tangent;
    fn add(self, other: &Tangent) -> Tangent {
        self.with(other, self.value + other.value, [1.0, 1.0])
    }
}

impl Sub for &Tangent {
    type Output = Tangent;
    fn sub(self, other: &Tangent) -> Tangent {
        self.with(other, self.value - other.value, [1.0, -1.0])
    }
}

impl Mul for &Tangent {
    type Output = Tangent;
    fn mul(self, other: &Tangent) -> Tangent {
        self.with(other, self.value * other.value, [other.value, self.value])
    }
}

impl Div for &Tangent {
    type Output = Tangent;
    fn div(self, other: &Tangent) -> Tangent {
        let value = self.value / other.value;
        self.with(other, value, [1.0 / other.value, -value / other.value])
    }
}

impl Neg for &Tangent {
    type Output = Tangent;
    fn neg(self) -> Tangent {
        self.times(-1.0)
    }
}

/// A point or a direction on the floor plan.
#[derive(Clone, Debug)]
pub(crate) struct Point {
    pub x: Tangent,
    pub y: Tangent,
}

impl Point {
    /// This point, so far along a direction.
    pub fn along(&self, direction: &Point, by: &Tangent) -> Point {
        Point { x: &self.x + &(&direction.x * by), y: &self.y + &(&direction.y * by) }
    }

    /// From `other` to this.
    pub fn less(&self, other: &Point) -> Point {
        Point { x: &self.x - &other.x, y: &self.y - &other.y }
    }

    /// The dot product.
    pub fn dot(&self, other: &Point) -> Tangent {
        &(&self.x * &other.x) + &(&self.y * &other.y)
    }

    /// The cross product's height: positive when `other` lies to the left of this.
    pub fn cross(&self, other: &Point) -> Tangent {
        &(&self.x * &other.y) - &(&self.y * &other.x)
    }

    /// How long.
    pub fn norm(&self) -> Tangent {
        self.dot(self).sqrt()
    }

    /// A quarter turn to the left.
    pub fn left(&self) -> Point {
        Point { x: -&self.y, y: self.x.clone() }
    }

    /// The other way.
    pub fn reversed(&self) -> Point {
        Point { x: -&self.x, y: -&self.y }
    }

    /// The same direction, of length one.
    pub fn unit(&self) -> Point {
        let norm = self.norm();
        let norm = if norm.value > 1e-6 { norm } else { Tangent::constant(1.0, norm.by.len()) };
        Point { x: &self.x / &norm, y: &self.y / &norm }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slopes_agree_with_differences() {
        let f = |x: &[f64]| {
            let [a, b] = [Tangent::unknown(x, 0), Tangent::unknown(x, 1)];
            let angle = Tangent::atan2(&a, &b);
            &(&angle.tan() / &b.plus(2.0)).times(3.0) - &(&a * &b).sqrt()
        };
        let x = [0.7, 1.9];
        let at = f(&x);
        for k in 0..2 {
            let moved = |by: f64| {
                let mut y = x;
                y[k] += by;
                f(&y).value
            };
            assert!(((moved(1e-6) - moved(-1e-6)) / 2e-6 - at.by[k]).abs() < 1e-8);
        }
    }
}
