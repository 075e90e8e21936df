//! Surfaces: what lies on units, walls and floor, and what it is made from.
//!
//! Worktops, trim, paint, beads of sealant and adhesive, and what tile is set in. What is cut goes into the cut
//! list with its own role path; what is poured or counted is told as needs.

mod field;
mod tile;
mod planks;
pub mod worktop;
pub mod trim;
pub mod paint;
pub mod joints;
pub mod setting;
mod coating;
mod mitre;

use dryfit_measure::{Dim, Key};
use dryfit_plan::Plan;

use crate::casework::{Casework, Gate, Purpose};
use crate::finding::Finding;
use crate::need::Need;
use crate::placement::Placement;
use crate::survey::Survey;
pub use coating::Coat;
pub(crate) use coating::says_how_far;
pub(crate) use field::field_at;
pub use field::{Cover, LaidField};
pub use joints::Bead;
pub use mitre::Mitre;
pub use paint::Paint;
pub use planks::PlankField;
pub use setting::{Bed, SetField};
pub(crate) use tile::tile as relaid;
pub use tile::{CutRow, TileField};
pub use trim::Trim;
pub use worktop::Worktop;

/// Everything that is made of surfaces.
#[derive(Clone, Debug, Default)]
pub struct Surfaces {
    /// Fields of tile and planks.
    pub fields: Vec<LaidField>,
    /// Worktops, taken apart.
    pub worktops: Vec<Worktop>,
    /// Trim.
    pub trims: Vec<Trim>,
    /// Paint.
    pub paints: Vec<Paint>,
    /// Beads of sealant and adhesive.
    pub beads: Vec<Bead>,
    /// What fields of tile are set in.
    pub beds: Vec<Bed>,
}

/// One piece for the cut list, still exact.
#[derive(Clone, Debug)]
pub struct ToCut {
    /// What it belongs to: the worktop's or the trim's key.
    pub owner: Key,
    /// Its role path within that.
    pub role: String,
    /// What the bench calls it.
    pub name: String,
    /// The good.
    pub good: Key,
    /// Along the grain.
    pub length: Dim,
    /// Across.
    pub width: Dim,
    /// Which way the cut list rounds them.
    pub purpose: [Purpose; 2],
    /// What has to be measured before it may be cut.
    pub gate: Option<Gate>,
}

/// Derives every surface.
pub fn surfaces(
    plan: &Plan,
    survey: &Survey,
    placement: &Placement,
    casework: &Casework,
) -> (Surfaces, Vec<Finding>) {
    let (fields, findings) = field::fields(plan, survey, placement);
    let covered: Vec<_> = fields.iter().filter_map(LaidField::covers).collect();
    let worktops = worktop::worktops(plan, survey, placement);
    let trims = trim::trims(plan, survey, placement);
    let bare = paint::Bare {
        plan,
        survey,
        placement,
        casework,
        worktops: &worktops,
        trims: &trims,
        covered: &covered,
    };
    let paints = paint::paints(bare);
    let edges = joints::Edges { plan, survey, worktops: &worktops, trims: &trims };
    let beads = joints::beads(edges);
    let set: Vec<SetField> = fields.iter().filter_map(|field| Some(field.tile()?.set(&field.key))).collect();
    let beds = setting::beds(plan, &set);
    (Surfaces { fields, worktops, trims, paints, beads, beds }, findings)
}

impl Surfaces {
    /// Everything to cut, worktops first.
    pub fn to_cut(&self) -> Vec<ToCut> {
        let of_tops = self.worktops.iter().flat_map(|top| top.pieces.iter().map(move |piece| (top, piece)));
        let of_tops = of_tops.map(|(top, piece)| ToCut {
            owner: top.key.clone(),
            role: piece.role.clone(),
            name: piece.name.clone(),
            good: piece.good.clone(),
            length: piece.length.clone(),
            width: piece.width.clone(),
            purpose: piece.purpose,
            gate: Some(Gate::UnitsSet),
        });
        let of_trims = self.trims.iter().flat_map(|trim| trim.pieces.iter().map(move |piece| (trim, piece)));
        let of_trims = of_trims.map(|(trim, piece)| ToCut {
            owner: trim.key.clone(),
            role: piece.role.clone(),
            name: piece.role.replace('.', " "),
            good: trim.good.clone(),
            length: piece.length.clone(),
            width: piece.width.clone(),
            purpose: [piece.purpose, Purpose::Mates],
            // what runs between units is cut when they stand
            gate: piece.along.as_ref().map(|_| Gate::UnitsSet),
        });
        of_tops.chain(of_trims).collect()
    }

    /// Everything that is used up.
    pub fn needs(&self) -> Vec<Need> {
        let of_tops = self.worktops.iter().flat_map(|top| &top.needs);
        let of_trims = self.trims.iter().flat_map(|trim| &trim.needs);
        let of_paints = self.paints.iter().flat_map(|paint| &paint.needs);
        let of_beads = self.beads.iter().map(|bead| &bead.need);
        let of_beds = self.beds.iter().flat_map(|bed| &bed.needs);
        let of_fields = self.fields.iter().flat_map(|field| &field.needs);
        of_fields
            .chain(of_tops)
            .chain(of_trims)
            .chain(of_paints)
            .chain(of_beads)
            .chain(of_beds)
            .cloned()
            .collect()
    }
}
