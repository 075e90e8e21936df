//! Rods across a drying cupboard, one above the other, screwed through its sides.

use dryfit_measure::Dim;
use dryfit_plan::{Role, UnitKind};

use super::carcass::Carcass;
use super::job::Job;
use super::part::{WIDE_FRONT, part};
use super::{Part, Purpose};

/// A rod, and where its middle meets the sides.
pub(super) struct Rod {
    pub(super) part: Part,
    deep: Dim,
    up: Dim,
}

impl Rod {
    /// Where the screw through a side meets its end: from front to back, and from below.
    pub(super) fn screwed_at(&self) -> [[Dim; 2]; 2] {
        [[self.deep.clone(), self.deep.clone()], [self.up.clone(), self.up.clone()]]
    }
}

/// As many rods as the unit states shelves, the first a little under the top, each as far under the one above it.
pub(super) fn rods(job: &Job<'_>, carcass: &Carcass) -> Vec<Rod> {
    if job.placed.kind != UnitKind::Drying {
        return Vec::new();
    }
    let (Some(stock), Some(ceiling)) = (job.stock(Role::Rod), &carcass.ceiling) else { return Vec::new() };
    let (below, apart) = (job.figure("rod-below-top"), job.figure("rod-spacing"));
    let wide = stock.board_width.clone().unwrap_or_else(|| stock.thickness.clone()).named("rod");
    let halves = [&stock.thickness, &wide].map(|size| size.split(2).remove(0));
    let room = (&carcass.clear_depth - &carcass.behind).split(2).remove(0);
    let deep = (&carcass.behind + room).named("rod from the front");
    (0..i64::from(job.unit.shelves))
        .map(|k| {
            let up = (ceiling - &below - &apart * k).named("rod above the floor");
            let sizes = [carcass.inside.clone().named("rod length"), stock.thick("rod"), wide.clone()];
            let (y, z) = (deep.length() - halves[0].length(), up.length() - halves[1].length());
            let role = if k == 0 { "rod".to_owned() } else { format!("rod.{}", k + 1) };
            let rod = part(&stock, role, WIDE_FRONT, sizes, [carcass.inside_left(), y, z]);
            let rod = rod.called("rod").serves(Purpose::Into, Purpose::Mates);
            Rod { part: rod, deep: deep.clone(), up }
        })
        .filter(|rod| rod.up.length() - apart.length() > carcass.floor.length())
        .collect()
}
