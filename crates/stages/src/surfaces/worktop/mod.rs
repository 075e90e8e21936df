//! Worktops: their legs in the real angles of the room, what each is cut from, seams, cut-outs, supports.
//!
//! A worktop is made after the units are set and measured again; its pieces are laid out and bought now, so that
//! sheets, blanks and seams are thought through before anything is glued.

mod joints;
mod leg;
mod needs;
mod pieces;
mod seams;
mod spans;

use dryfit_measure::{Dim, Key};
use dryfit_plan::Plan;

use crate::casework::Purpose;
use crate::figures::Figures;
use crate::need::Need;
use crate::placement::Placement;
use crate::survey::Survey;
use leg::Shape;

/// A worktop, or a piece of one that a tall unit parts.
#[derive(Clone, Debug)]
pub struct Worktop {
    /// Its key in the plan; pieces that a tall unit parts share it.
    pub key: Key,
    /// Upper face above the datum.
    pub upper: Dim,
    /// Thickness at the edge.
    pub thickness: Dim,
    /// Its legs, left to right as seen from inside the room.
    pub legs: Vec<WorkLeg>,
    /// Where legs, or the bays of one, meet.
    pub seams: Vec<Seam>,
    /// Everything it is cut from.
    pub pieces: Vec<TopPiece>,
    /// Adhesive, screws, bolts.
    pub needs: Vec<Need>,
}

/// A leg of a worktop: over one run, or over a stretch of one.
#[derive(Clone, Debug)]
pub struct WorkLeg {
    /// The run.
    pub run: Key,
    /// The wall.
    pub wall: Key,
    /// Its name in role paths: the run's key, with a number where the run has several legs.
    pub name: String,
    /// What it ends at, left and right.
    pub ends: [LegEnd; 2],
    /// Where its back edge begins and ends, along the wall.
    pub back: [Dim; 2],
    /// Where its front edge does.
    pub front: [Dim; 2],
    /// Back edge, out from the wall.
    pub behind: Dim,
    /// Front edge, out from the wall.
    pub depth: Dim,
    /// Its corners in the room, mm: front left, front right, back right, back left.
    pub outline: Vec<[f64; 2]>,
    /// Cut-outs.
    pub holes: Vec<Hole>,
    /// Stretches that no box carries.
    pub spans: Vec<Span>,
    /// Stated seams across it, left to right, each where it is along the wall.
    pub seams: Vec<(Key, Dim)>,
}

/// What a leg, or a bay of it, ends at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LegEnd {
    /// The wall, to which it is scribed.
    Wall,
    /// The front edge of the leg over this run.
    Butt(Key),
    /// The leg over this run, in a mitre.
    Mitre(Key),
    /// Another bay of the same leg.
    Seam,
    /// Nothing: its edge shows.
    Free,
    /// A taller unit.
    Unit,
}

/// A cut-out.
#[derive(Clone, Debug)]
pub struct Hole {
    /// The unit under it.
    pub unit: Key,
    /// Left edge along the wall.
    pub left: Dim,
    /// Right edge.
    pub right: Dim,
    /// Left to right.
    pub width: Dim,
    /// Back edge, out from the wall.
    pub back: Dim,
    /// Front edge, out from the wall.
    pub front: Dim,
    /// Front to back.
    pub depth: Dim,
    /// Radius of its corners.
    pub radius: Dim,
    /// Centres of the pilot holes, along and out: back left, back right, front right, front left.
    pub pilots: [[Dim; 2]; 4],
    /// What they are drilled with.
    pub bit: Dim,
}

/// A stretch of a leg that no box carries.
#[derive(Clone, Debug)]
pub struct Span {
    /// What stands, or does not, under it.
    pub units: Vec<Key>,
    /// From and to, along the wall.
    pub along: [Dim; 2],
    /// How wide it is.
    pub width: Dim,
    /// The cleat on the wall that carries its back edge, by its role; none where it is too short to need one.
    pub cleat: Option<String>,
}

/// Where two legs meet, or two bays of one.
#[derive(Clone, Debug)]
pub struct Seam {
    /// What it is called: "back to left", or the key of the stated seam.
    pub name: String,
    /// How it is cut.
    pub cut: SeamCut,
    /// The leg that is cut to it, by its run.
    pub run: Key,
    /// The leg it meets; the same where a leg is parted.
    pub with: Key,
    /// Its ends in the room, mm: at the front, at the wall.
    pub line: [[f64; 2]; 2],
    /// How long it is.
    pub length: Dim,
    /// How far from square each leg's end is cut, degrees: the leg, the one it meets.
    pub off_square: [f64; 2],
    /// Bolts that draw it together.
    pub bolts: u32,
    /// The nearest cut-out: its unit, and how far it is from the seam.
    pub cutout: Option<(Key, Dim)>,
    /// An appliance that it lies over.
    pub over: Option<Key>,
}

/// Sorts of seam.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeamCut {
    /// One leg ends at the front edge of the other.
    Butt,
    /// Both are cut to half the angle.
    Mitre,
    /// Straight across.
    Across,
}

/// What a piece of a worktop is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TopPart {
    /// A layer of the substrate, whole.
    Substrate,
    /// A strip of a lower layer.
    Strip,
    /// A blank of the facing.
    Facing,
    /// What covers an edge.
    Edge,
    /// A splash.
    Splash,
    /// A board on the wall that carries it.
    Cleat,
}

/// One piece to cut.
#[derive(Clone, Debug)]
pub struct TopPiece {
    /// Its role path within the worktop: `substrate.1.back`, `laminate.back`.
    pub role: String,
    /// What the bench calls it.
    pub name: String,
    /// What it is.
    pub what: TopPart,
    /// Its layer, from one at the upper face; nothing for what is no layer.
    pub layer: u8,
    /// The run of its leg.
    pub run: Key,
    /// The good it is cut from.
    pub good: Key,
    /// Along the wall, allowances included.
    pub length: Dim,
    /// Out from the wall, allowances included.
    pub width: Dim,
    /// As measured of the good.
    pub thickness: Dim,
    /// Which way the cut list rounds them.
    pub purpose: [Purpose; 2],
    /// Its outline in the room as fitted, mm; a line for an edge, nothing for what stands upright.
    pub outline: Vec<[f64; 2]>,
}

/// All worktops, taken apart.
pub(super) fn worktops(plan: &Plan, survey: &Survey, placement: &Placement) -> Vec<Worktop> {
    let mut parted: std::collections::BTreeMap<(&Key, &Key), u32> = std::collections::BTreeMap::new();
    let mut all = Vec::new();
    for placed in &placement.tops {
        let Some(top) = plan.tops.get(&placed.key) else { continue };
        let figures = Figures::of_top(plan, &placed.key);
        let shape = Shape { plan, survey, placed, top, figures };
        let mut legs = Vec::new();
        for leg in &placed.legs {
            let of_run =
                placement.tops.iter().filter(|other| other.key == placed.key).flat_map(|other| &other.legs);
            let several = of_run.filter(|other| other.run == leg.run).count() > 1;
            let number = parted.entry((&placed.key, &leg.run)).or_default();
            *number += 1;
            let name = if several { format!("{}-{number}", leg.run) } else { leg.run.to_string() };
            let Some(mut shaped) = shape.leg(leg, name) else { continue };
            shaped.holes = leg.cutouts.iter().map(|cutout| pieces::hole(&shape, cutout)).collect();
            shaped.spans = spans::spans(&shape, placement, &shaped);
            legs.push(shaped);
        }
        let seams = seams::seams(&shape, placement, &legs);
        let mut pieces = pieces::pieces(&shape, &legs);
        pieces.extend(legs.iter().flat_map(|leg| spans::cleats(&shape, leg)));
        let needs = needs::needs(&shape, placement, &legs, &seams, &pieces);
        all.push(Worktop {
            key: placed.key.clone(),
            upper: placed.upper.clone(),
            thickness: placed.thickness.clone(),
            legs,
            seams,
            pieces,
            needs,
        });
    }
    all
}
