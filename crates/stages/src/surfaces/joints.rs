//! Beads of sealant and adhesive: how long they run, and what fills their section.

use dryfit_measure::{Amount, Area, Dim, Key, Length, Pointer, Volume};
use dryfit_plan::{Bead as Stated, BeadRun, BeadSection, Form, Plan};

use super::trim::Trim;
use super::worktop::{LegEnd, Worktop};
use crate::need::Need;
use crate::survey::Survey;

/// A bead with its length.
#[derive(Clone, Debug)]
pub struct Bead {
    /// Its key in the plan.
    pub key: Key,
    /// The sealant or adhesive.
    pub good: Key,
    /// Where it runs, in words.
    pub what: String,
    /// How long it is.
    pub length: Dim,
    /// Its section.
    pub section: Area,
    /// What it takes.
    pub volume: Volume,
    /// The same as something to buy.
    pub need: Need,
}

/// What beads follow.
#[derive(Clone, Copy)]
pub(super) struct Edges<'a> {
    pub plan: &'a Plan,
    pub survey: &'a Survey,
    pub worktops: &'a [Worktop],
    pub trims: &'a [Trim],
}

/// All beads of a plan.
pub(super) fn beads(edges: Edges<'_>) -> Vec<Bead> {
    edges.plan.beads.iter().map(|(key, stated)| bead(edges, key, stated)).collect()
}

fn bead(edges: Edges<'_>, key: &Key, stated: &Stated) -> Bead {
    let at = Pointer::root().child("beads").child(key.as_str());
    let (what, length) = edges.along(&stated.runs, &at);
    let what = stated.name.clone().unwrap_or(what);
    let section = section(&stated.section);
    let volume = section * length.length();
    let length = length.named("length of the bead").placed(key.as_str());
    let need = Need::of(stated.good.clone(), Amount::Volume(volume), what.clone(), format!("/beads/{key}"))
        .because(vec![length.clone()]);
    Bead { key: key.clone(), good: stated.good.clone(), what, length, section, volume, need }
}

/// What a bead is across: a joint filled, a fillet (half a square), or round as it comes out of the nozzle.
pub fn section(section: &BeadSection) -> Area {
    match section {
        BeadSection::Joint { width, depth } => width.length * depth.length,
        BeadSection::Fillet(leg) => Area::from_nm2((leg.length * leg.length).nm2() / 2),
        BeadSection::Round(diameter) => {
            let square = (diameter.length * diameter.length).as_square_metres_f64();
            Area::from_square_metres_f64(square * std::f64::consts::FRAC_PI_4)
        }
    }
}

impl Edges<'_> {
    fn along(&self, runs: &BeadRun, at: &Pointer) -> (String, Dim) {
        match runs {
            BeadRun::TopAtWalls(top) => (format!("{top} at the walls"), self.at_walls(top)),
            BeadRun::SinkRims(top) => (format!("sink rims in {top}"), self.rims(top)),
            BeadRun::TrimEdge(trim) => (format!("edge of {trim}"), self.of_trim(trim)),
            BeadRun::TrimBack(trim) => (format!("behind {trim}"), self.of_trim(trim)),
            BeadRun::WallCorners(walls) => ("wall corners".to_owned(), self.wall_corners(walls)),
            BeadRun::Given(length) => {
                let given = Dim::chosen(length.length, at.child("runs").child("given"));
                ("as stated".to_owned(), given)
            }
        }
    }

    /// Back edges of a worktop, and its ends that meet a wall.
    fn at_walls(&self, key: &Key) -> Dim {
        let legs = self.worktops.iter().filter(|top| top.key == *key).flat_map(|top| &top.legs);
        legs.flat_map(|leg| {
            let back = &leg.back[1] - &leg.back[0];
            let deep = &leg.depth - &leg.behind;
            let ends = leg.ends.iter().filter(|end| **end == LegEnd::Wall).map(move |_| deep.clone());
            [back].into_iter().chain(ends)
        })
        .sum()
    }

    /// The rims of the sinks let into a worktop.
    fn rims(&self, key: &Key) -> Dim {
        let legs = self.worktops.iter().filter(|top| top.key == *key).flat_map(|top| &top.legs);
        let rims = legs.flat_map(|leg| &leg.holes).filter_map(|hole| {
            let (good, record) =
                self.plan.goods.get_key_value(self.plan.units.get(&hole.unit)?.holds.as_ref()?)?;
            let Form::Sink { width, depth, .. } = &record.form else { return None };
            let at = Pointer::root().child("goods").child(good.as_str()).child("form").child("sink");
            let side = |name: &'static str, length: Length| Dim::taped(length, at.child(name)).named(name);
            Some((side("width", width.length) + side("depth", depth.length)) * 2)
        });
        rims.sum()
    }

    fn of_trim(&self, key: &Key) -> Dim {
        self.trims
            .iter()
            .filter(|trim| trim.key == *key)
            .flat_map(|trim| &trim.pieces)
            .map(|piece| &piece.length)
            .sum()
    }

    /// Corners at the ends of walls, each once, from the datum to the ceiling.
    fn wall_corners(&self, walls: &[Key]) -> Dim {
        let mut corners: Vec<&Key> = Vec::new();
        for wall in walls.iter().filter_map(|wall| self.survey.wall(wall)) {
            let line = &self.survey.walls[wall];
            corners.extend([&line.left, &line.right]);
        }
        corners.sort();
        corners.dedup();
        let high = |corner: &&Key| {
            let at = self.survey.corners[self.survey.corner(corner)?].at;
            self.survey.levels.ceiling_over(at)
        };
        corners.iter().filter_map(high).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use dryfit_measure::Stated as Written;

    fn stated(text: &str) -> Written {
        text.parse().expect("a length")
    }

    /// How many feet a cartridge of 10.1 US fluid ounces fills.
    fn feet(of: &BeadSection) -> f64 {
        let cartridge = 10.1 * 231.0 / 128.0;
        let section = section(of).as_square_inches_f64();
        cartridge / section / 12.0
    }

    #[test]
    fn a_cartridge_runs_as_far_as_its_volume_allows() {
        // 10.1 fl oz are 18.227 cubic inches: definition of the fluid ounce
        assert!((10.1_f64 * 231.0 / 128.0 - 18.227).abs() < 1e-3);
        // by volume: square 1/8 97.2 ft, 1/4 24.3, 3/8 10.8, 1/2 6.1; 3/8 by 1/4 16.2, 1/2 by 1/4 12.15
        // (trade coverage pages say 24 to 27 for 1/4; one that says 50 to 55 is wrong)
        let joints = [
            ("1/8 in", "1/8 in", 97.2),
            ("1/4 in", "1/4 in", 24.3),
            ("3/8 in", "3/8 in", 10.8),
            ("1/2 in", "1/2 in", 6.08),
            ("3/8 in", "1/4 in", 16.2),
            ("1/2 in", "1/4 in", 12.15),
        ];
        for (width, depth, wanted) in joints {
            let found = feet(&BeadSection::Joint { width: stated(width), depth: stated(depth) });
            assert!((found - wanted).abs() < 0.05, "{width} by {depth}: {found}");
        }
        // round: 1/8 123.8, 3/16 55.0, 1/4 30.9, 3/8 13.75, 1/2 7.7
        for (size, wanted) in
            [("1/8 in", 123.8), ("3/16 in", 55.0), ("1/4 in", 30.9), ("3/8 in", 13.75), ("1/2 in", 7.74)]
        {
            let found = feet(&BeadSection::Round(stated(size)));
            assert!((found - wanted).abs() < 0.06, "{size}: {found}");
        }
        // a fillet is half a square: double the length
        let fillet = feet(&BeadSection::Fillet(stated("1/4 in")));
        assert!((fillet - 48.6).abs() < 0.05, "{fillet}");
    }
}
