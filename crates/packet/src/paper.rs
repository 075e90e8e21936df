//! The paper, and the room that a drawing has on it.

use dryfit_measure::Unit;
use serde::{Deserialize, Serialize};

/// What the packet is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Paper {
    /// 8 1/2 by 11 in.
    Letter,
    /// 210 by 297 mm (ISO 216).
    A4,
}

/// The room a drawing may fill: width and height in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Space {
    /// Across, points.
    pub width: f64,
    /// Up, points.
    pub height: f64,
}

const MARGIN: f64 = 36.0;
/// Head with its line of inputs, and the footer.
const HEAD_AND_FOOT: f64 = 168.0;

impl Paper {
    /// The paper that is at hand where a builder measures in this unit.
    pub fn usual(unit: Unit) -> Self {
        match unit {
            Unit::Inch => Paper::Letter,
            Unit::Millimetre => Paper::A4,
        }
    }

    /// Width and height in points.
    pub fn size(self) -> [f64; 2] {
        match self {
            Paper::Letter => [612.0, 792.0],
            Paper::A4 => [595.276, 841.89],
        }
    }

    /// A drawing over the full width, with so many points kept for what stands above and below it.
    pub fn space(self, kept: f64) -> Space {
        let [width, height] = self.size();
        Space { width: width - 2.0 * MARGIN, height: height - HEAD_AND_FOOT - kept }
    }
}
