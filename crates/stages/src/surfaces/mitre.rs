//! How trim is cut in a corner that is not square.

/// Settings of a saw for one end of a piece that lies flat on its table, in degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mitre {
    /// The turn of the table, off square.
    pub mitre: f64,
    /// The tilt of the blade, off upright.
    pub bevel: f64,
}

impl Mitre {
    /// For trim that leans out from the wall by `spring` degrees (a base stands upright: 90) where two walls meet
    /// at `corner` degrees, inside: `mitre = atan(sin S / tan(W/2))`, `bevel = asin(cos S cos(W/2))`.
    ///
    /// An outside corner is one of more than 180 degrees; its cuts lean the other way by as much as those of its
    /// other side.
    pub fn of(spring: f64, corner: f64) -> Mitre {
        let inside = if corner > 180.0 { 360.0 - corner } else { corner };
        let (s, half) = (spring.to_radians(), (inside / 2.0).to_radians());
        Mitre {
            mitre: (s.sin() / half.tan()).atan().to_degrees(),
            bevel: (s.cos() * half.cos()).asin().to_degrees(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Mitre;

    fn close(found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 0.01, "{found} is not {wanted}");
    }

    #[test]
    fn a_square_corner_is_cut_as_the_tables_of_crown_say() {
        // usual settings for flat-cut crown, from memory: 38 degrees 31.62 and 33.86, 45 degrees 35.26 and 30
        let flat = Mitre::of(38.0, 90.0);
        close(flat.mitre, 31.62);
        close(flat.bevel, 33.86);
        let steep = Mitre::of(45.0, 90.0);
        close(steep.mitre, 35.26);
        close(steep.bevel, 30.0);
    }

    #[test]
    fn a_base_is_cut_at_half_the_real_corner_upright() {
        close(Mitre::of(90.0, 90.0).mitre, 45.0);
        close(Mitre::of(90.0, 90.0).bevel, 0.0);
        // an outside corner of 89 degrees that has to be tight is cut at 45 1/2: common practice, no source
        close(Mitre::of(90.0, 271.0).mitre, 45.5);
        close(Mitre::of(90.0, 135.0).mitre, 22.5);
    }
}
