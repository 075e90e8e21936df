//! Numbers as the tape shows them.

use dryfit_measure::{Figure, Fineness, Length, Toward, Unit};

/// The figure for a size that was made or chosen: to the mark it stands on, however fine; off every mark, to the
/// nearest of the plan's.
pub(crate) fn sized(length: Length, fineness: Fineness) -> Figure {
    let finer: &[Fineness] = match fineness.unit() {
        Unit::Inch => &[Fineness::In16, Fineness::In32, Fineness::In64],
        Unit::Millimetre => &[Fineness::Mm1, Fineness::HalfMm],
    };
    let exact = finer.iter().find(|fineness| length.round_to(**fineness, Toward::Nearest) == length);
    length.figure(*exact.unwrap_or(&fineness), Toward::Nearest)
}

/// The figure for a length of the room: to the nearest of the plan's marks.
pub(crate) fn measured(length: Length, fineness: Fineness) -> Figure {
    length.figure(fineness, Toward::Nearest)
}

/// Both sides of a piece as one line: `35 1/4 x 22 1/4`, plain, for alternative texts.
pub(crate) fn plain_size(length: Length, width: Length, fineness: Fineness) -> String {
    format!("{} \u{d7} {}", sized(length, fineness).bare(), sized(width, fineness).bare())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_measured_sheet_shows_its_thirty_seconds() {
        assert_eq!(sized(Length::inches(4, 25, 32), Fineness::In16).bare().to_string(), "4 25/32");
        assert_eq!(sized(Length::inches(35, 1, 4), Fineness::In16).bare().to_string(), "35 1/4");
        assert_eq!(sized(Length::from_mm_f64(100.1), Fineness::In16).bare().to_string(), "3 15/16");
        assert_eq!(sized(Length::um(571_500), Fineness::Mm1).bare().to_string(), "571.5");
    }
}
