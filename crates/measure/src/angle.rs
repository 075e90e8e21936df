//! An angle, in radians within and degrees on paper.

use crate::fault::TextFault;
use crate::text::written_as_text;
use std::f64::consts::{FRAC_PI_2, PI};
use std::fmt;
use std::ops::{Add, Mul, Neg, Sub};
use std::str::FromStr;

/// An angle. Always finite: what is not finite becomes zero.
///
/// Read and written in degrees: `45.5 deg` (`45.5°` is read too). Plans and tapes measure lengths; an angle is
/// what follows from them, or the setting of a saw, so a float is enough.
///
/// ```
/// use dryfit_measure::Angle;
/// let mitre: Angle = "45.5 deg".parse()?;
/// assert_eq!(mitre.to_string(), "45.5 deg");
/// assert!((Angle::RIGHT.radians() - std::f64::consts::FRAC_PI_2).abs() < 1e-15);
/// assert_eq!(
///     "45".parse::<Angle>().unwrap_err().to_string(),
///     "expected an angle in degrees, found `45`; write \"45 deg\""
/// );
/// # Ok::<(), dryfit_measure::TextFault>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Angle(f64);

impl Angle {
    /// No angle.
    pub const ZERO: Angle = Angle(0.0);
    /// Ninety degrees.
    pub const RIGHT: Angle = Angle(FRAC_PI_2);
    /// A hundred and eighty degrees.
    pub const STRAIGHT: Angle = Angle(PI);

    /// So many radians.
    pub fn from_radians(radians: f64) -> Angle {
        Angle(if radians.is_finite() { radians } else { 0.0 })
    }

    /// So many degrees.
    pub fn from_degrees(degrees: f64) -> Angle {
        Angle::from_radians(degrees.to_radians())
    }

    /// The angle of the direction (`x`, `y`) from the x axis, in (-180, 180] degrees.
    pub fn of_direction(x: f64, y: f64) -> Angle {
        Angle::from_radians(y.atan2(x))
    }

    /// The angle in radians.
    pub const fn radians(self) -> f64 {
        self.0
    }

    /// The angle in degrees.
    pub fn degrees(self) -> f64 {
        self.0.to_degrees()
    }

    /// Sine.
    pub fn sin(self) -> f64 {
        self.0.sin()
    }

    /// Cosine.
    pub fn cos(self) -> f64 {
        self.0.cos()
    }

    /// Tangent.
    pub fn tan(self) -> f64 {
        self.0.tan()
    }

    /// The angle without its sign.
    #[must_use]
    pub fn abs(self) -> Angle {
        Angle(self.0.abs())
    }

    /// The same direction within (-180, 180] degrees.
    #[must_use]
    pub fn wrapped(self) -> Angle {
        let turn = self.0.rem_euclid(2.0 * PI);
        Angle(if turn > PI { turn - 2.0 * PI } else { turn })
    }
}

impl Add for Angle {
    type Output = Angle;
    fn add(self, other: Angle) -> Angle {
        Angle::from_radians(self.0 + other.0)
    }
}

impl Sub for Angle {
    type Output = Angle;
    fn sub(self, other: Angle) -> Angle {
        Angle::from_radians(self.0 - other.0)
    }
}

impl Neg for Angle {
    type Output = Angle;
    fn neg(self) -> Angle {
        Angle(-self.0)
    }
}

impl Mul<f64> for Angle {
    type Output = Angle;
    fn mul(self, factor: f64) -> Angle {
        Angle::from_radians(self.0 * factor)
    }
}

impl fmt::Display for Angle {
    /// Degrees to the millionth, or to the precision asked for: `{:.1}` gives `45.5 deg`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match f.precision() {
            Some(places) => write!(f, "{:.places$} deg", self.degrees()),
            // adding zero turns -0 into 0
            None => write!(f, "{} deg", (self.degrees() * 1e6).round() / 1e6 + 0.0),
        }
    }
}

impl FromStr for Angle {
    type Err = TextFault;
    fn from_str(text: &str) -> Result<Angle, TextFault> {
        let trimmed = text.trim();
        let number = ["deg", "\u{b0}"].iter().find_map(|mark| trimmed.strip_suffix(mark)).map(str::trim_end);
        let plain = |n: &&str| n.bytes().all(|b| b.is_ascii_digit() || b == b'.' || b == b'-');
        let read = |n: &str| n.parse::<f64>().ok().filter(|degrees| degrees.abs() <= 360_000.0);
        number.filter(plain).and_then(read).map(Angle::from_degrees).ok_or_else(|| {
            let example =
                trimmed.parse::<f64>().map_or("45 deg".to_owned(), |n| Angle::from_degrees(n).to_string());
            TextFault::new("an angle in degrees", trimmed, example)
        })
    }
}

written_as_text!(
    Angle,
    "Angle",
    "an angle in degrees",
    "^-?[0-9]*\\.?[0-9]+ ?(deg|\u{b0})$",
    ["45 deg", "45.5 deg"]
);
