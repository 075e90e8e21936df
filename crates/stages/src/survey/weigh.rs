//! How good a reading is: its standard deviation, and the share of it that all readings of one tape have in
//! common.
//!
//! A tape's class gives the largest error it may have (OIML R 35-1:2007, clause 4): `a + b L`, with `L` rounded
//! up to the next whole metre. Such a limit has the standard deviation of an even spread, limit / sqrt(3) (JCGM
//! 100:2008, 4.3.7), and the marks that are read off have theirs, step / sqrt(12). Within the first, `a` is the
//! hook's and `b` the scale's: these are the same in every reading of one tape. What is left is each reading's
//! own. So the whole of a reading keeps the deviation that its class allows, and sums of readings are not taken
//! for independent.

use dryfit_measure::{Length, Unit};
use dryfit_plan::{Doubt, Held, Instrument, InstrumentKind, Reading, TapeClass};

/// Standard deviations of one reading, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Weight {
    /// Of the reading as a whole.
    pub whole: f64,
    /// Of its own part, without what it shares with the tape's other readings.
    pub own: f64,
}

/// What all readings of one tape share: standard deviations of its scale (mm/mm) and of its hook (mm).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Shared {
    pub scale: f64,
    pub hook: f64,
}

/// Largest error that a class allows: a constant (mm) and one for each metre (mm).
fn limits(class: TapeClass) -> (f64, f64) {
    match class {
        TapeClass::I => (0.1, 0.1),
        TapeClass::II => (0.3, 0.2),
        TapeClass::III => (0.6, 0.4),
    }
}

/// Largest permissible error (mm) of a tape over a length (mm): OIML R 35-1:2007, clause 4.
pub(crate) fn largest_error(class: TapeClass, length: f64) -> f64 {
    let (constant, each) = limits(class);
    constant + each * (length / 1000.0).ceil().max(1.0)
}

/// Largest error (mm) of a distance meter: common practice, no source.
const LASER: f64 = 1.5;
/// Class that a tape without one is taken to have.
const USUAL: TapeClass = TapeClass::II;

/// What a tape's readings share; nothing for other instruments.
pub(crate) fn shared(instrument: &Instrument) -> Option<Shared> {
    if instrument.kind != InstrumentKind::Tape {
        return None;
    }
    let (constant, each) = limits(instrument.class.unwrap_or(USUAL));
    let root3 = 3.0_f64.sqrt();
    Some(Shared { scale: each / 1000.0 / root3, hook: constant / root3 })
}

/// How good a reading is. A reading by an instrument that the plan does not know counts as a plain tape's.
pub(crate) fn weigh(reading: &Reading, instrument: Option<&Instrument>) -> Weight {
    let kind = instrument.map_or(InstrumentKind::Tape, |i| i.kind);
    let step = instrument.map_or(Length::inches(0, 1, 16), |i| i.step.length).as_mm_f64().abs();
    let length = reading.length.length.as_mm_f64().abs();
    let mark = step / 12.0_f64.sqrt();
    let root3 = 3.0_f64.sqrt();
    let (limit, common) = match kind {
        InstrumentKind::Tape => {
            let class = instrument.and_then(|i| i.class).unwrap_or(USUAL);
            let (constant, each) = limits(class);
            let hook = if reading.how == Held::BurntInch { 0.0 } else { constant };
            (largest_error(class, length), hook.hypot(each * length / 1000.0))
        }
        InstrumentKind::Laser => (LASER, 0.0),
        InstrumentKind::Level | InstrumentKind::Plumb => (0.0, 0.0),
    };
    // a plumb reading is the difference of two marks, and so is one from the one inch mark
    let marks = if kind == InstrumentKind::Plumb || reading.how == Held::BurntInch { 2.0 } else { 1.0 };
    let doubt = doubt(reading) / root3;
    let rest = marks * mark * mark + doubt * doubt;
    let whole = (limit * limit / 3.0 + rest).sqrt();
    let own = (((limit * limit - common * common) / 3.0).max(0.0) + rest).sqrt();
    // an instrument without steps would weigh without bound
    Weight { whole: whole.max(0.05), own: own.max(0.05) }
}

/// How far a doubtful reading may be off, mm: common practice, no source.
fn doubt(reading: &Reading) -> f64 {
    let half = match reading.length.unit {
        Unit::Inch => 12.7,
        Unit::Millimetre => 10.0,
    };
    match reading.doubt {
        Doubt::Plain => 0.0,
        Doubt::About => half,
        Doubt::Given => 2.0 * half,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// OIML R 35-1:2007, clause 4, as tabled in secondary texts (A-tape-*).
    #[test]
    fn classes_allow_what_the_standard_allows() {
        for (class, expect) in [
            (TapeClass::I, [0.4, 0.6, 0.9, 1.1]),
            (TapeClass::II, [0.9, 1.3, 1.9, 2.3]),
            (TapeClass::III, [1.8, 2.6, 3.8, 4.6]),
        ] {
            for (metres, expect) in [3.0, 5.0, 8.0, 10.0].into_iter().zip(expect) {
                let got = largest_error(class, metres * 1000.0);
                assert!((got - expect).abs() < 1e-9, "{class:?} {metres} m: {got}");
            }
        }
        // a length between two metres counts as the longer (rounding up: from memory)
        assert!((largest_error(TapeClass::II, 2001.0) - 0.9).abs() < 1e-9);
    }
}
