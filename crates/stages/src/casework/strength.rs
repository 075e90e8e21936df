//! How far shelves sag, and how far they may.
//!
//! Loads are spread evenly; lengths in inches and forces in pounds, or both in millimetres and newtons: the
//! formulas hold in any one family of units.

/// How the ends of a shelf are held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ends {
    /// They lie on pins or cleats and turn freely.
    Resting,
    /// They are held so that they cannot turn: glued into dadoes and nailed through.
    Held,
}

impl Ends {
    /// The factor of `w L^4 / (E I)`: 5/384 for simple supports, 1/384 for built-in ends (beam theory).
    fn factor(self) -> f64 {
        match self {
            Ends::Resting => 5.0 / 384.0,
            Ends::Held => 1.0 / 384.0,
        }
    }
}

/// A shelf as a beam.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shelf {
    /// Between its supports.
    pub span: f64,
    /// From front to back.
    pub depth: f64,
    /// Its thickness.
    pub thickness: f64,
    /// Modulus of elasticity along the span.
    pub modulus: f64,
    /// How its ends are held.
    pub ends: Ends,
}

/// What a load that stays adds to the sag at once: up to half again for MDF (a maker's design guide for
/// shelves); taken for every board, since plywood creeps less.
pub const CREEP: f64 = 1.5;

impl Shelf {
    /// Second moment of area of its section.
    fn inertia(&self) -> f64 {
        self.depth * self.thickness.powi(3) / 12.0
    }

    /// How far its middle sags at once under a load per unit of area.
    pub fn sag(&self, pressure: f64) -> f64 {
        let line_load = pressure * self.depth;
        self.ends.factor() * line_load * self.span.powi(4) / (self.modulus * self.inertia())
    }

    /// How far it sags after a long time under the same load.
    pub fn sag_in_time(&self, pressure: f64) -> f64 {
        self.sag(pressure) * CREEP
    }
}

/// The longest span that sags by no more than `1 / part` of itself under a load per unit of area.
pub fn longest_span(modulus: f64, thickness: f64, pressure: f64, part: f64, ends: Ends) -> f64 {
    (modulus * thickness.powi(3) / (12.0 * ends.factor() * pressure * part)).cbrt()
}

/// The sag that a cabinet's test load may leave between supports this far apart, in inches: 1/16 in to the foot,
/// never above 1/4 in (ANSI/KCMA A161.1, 5.1).
pub fn sag_allowed(span: f64) -> f64 {
    (span / 12.0 / 16.0).min(0.25)
}

/// Pounds a square foot, in pounds a square inch.
pub fn psf(load: f64) -> f64 {
    load / 144.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shelf_table_of_the_architectural_woodwork_standards() {
        // B-shelf-*: AWS, 1st edition (2009), section 10, 4.4.14.10.11-13; L/144, published to the inch
        let published = [
            (950e3, 0.75, 40.0, 40.0),
            (950e3, 0.75, 50.0, 37.0),
            (950e3, 1.0, 40.0, 53.0),
            (950e3, 1.0, 50.0, 49.0),
            (1800e3, 0.75, 40.0, 49.0),
            (1800e3, 0.75, 50.0, 46.0),
            (1800e3, 1.0, 40.0, 66.0),
            (1800e3, 1.0, 50.0, 61.0),
            (1820e3, 0.75, 40.0, 49.0),
            (1820e3, 0.75, 50.0, 46.0),
            (1820e3, 1.0, 40.0, 66.0),
            (1820e3, 1.0, 50.0, 61.0),
        ];
        for (modulus, thickness, load, inches) in published {
            let span = longest_span(modulus, thickness, psf(load), 144.0, Ends::Resting);
            assert!((span - inches).abs() < 1.0, "{modulus} {thickness} {load}: {span}");
        }
    }

    #[test]
    fn particleboard_spans() {
        // B-shelf-pb: the same formula with E = 326 300 psi (a grade table as in ANSI A208.1)
        for (load, inches) in [(40.0, 28.03), (50.0, 26.02)] {
            let span = longest_span(326_300.0, 0.75, psf(load), 144.0, Ends::Resting);
            assert!((span - inches).abs() < 0.01, "{span}");
        }
        // B-shelf-15: 15 psf and 1/16 in to the foot, L/192 (limit of ANSI/KCMA A161.1)
        let span = longest_span(326_300.0, 0.75, psf(15.0), 192.0, Ends::Resting);
        assert!((span - 35.32).abs() < 0.02, "{span}");
    }

    #[test]
    fn a_loaded_shelf_sags_as_published() {
        // B-udl: 50 psf on 12 in deep, 36 in span, 3/4 in, 950 000 psi (beam formula)
        let shelf = Shelf { span: 36.0, depth: 12.0, thickness: 0.75, modulus: 950e3, ends: Ends::Resting };
        assert!((shelf.sag(psf(50.0)) - 0.227_368_421_052_631_53).abs() < 1e-9);
        // B-mdf-defl: 20 kg on 800 x 300 x 18 mm, 2500 N/mm2 (an MDF maker's guide, 5 W L^3 g / 32 E b t^3)
        let shelf =
            Shelf { span: 800.0, depth: 300.0, thickness: 18.0, modulus: 2500.0, ends: Ends::Resting };
        let pressure = 20.0 * 9.81 / (800.0 * 300.0);
        assert!((shelf.sag(pressure) - 3.588_477_366).abs() < 1e-6);
    }

    #[test]
    fn held_ends_sag_a_fifth_and_time_adds_a_half() {
        let resting = Shelf { span: 30.0, depth: 11.0, thickness: 0.72, modulus: 1e6, ends: Ends::Resting };
        let held = Shelf { ends: Ends::Held, ..resting };
        assert!((resting.sag(0.3) / held.sag(0.3) - 5.0).abs() < 1e-12); // beam theory
        assert!((resting.sag_in_time(0.3) / resting.sag(0.3) - 1.5).abs() < 1e-12);
    }

    #[test]
    fn allowed_sag_has_a_cap() {
        // C-a161-sag, C-a161-sag48: ANSI/KCMA A161.1, 5.1
        assert!((sag_allowed(30.0) - 0.156_25).abs() < 1e-9);
        assert!((sag_allowed(60.0) - 0.25).abs() < 1e-9);
    }
}
