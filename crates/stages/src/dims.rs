//! Every named dimension that a run derives, by place and name: what `why` explains and the honesty test nudges.

use dryfit_measure::Dim;

use crate::casework::Casework;
use crate::placement::Placement;
use crate::surfaces::Surfaces;
use crate::survey::Survey;

/// One derived dimension and how it is asked for: `b3/side.left` and `length`.
#[derive(Clone, Debug)]
pub struct Derivation<'a> {
    /// A wall, run, unit, worktop, or a part's path.
    pub place: String,
    /// "length", "width", "thickness", "along", "up", ...
    pub dimension: &'static str,
    /// The dimension with its reason.
    pub dim: &'a Dim,
}

/// All named dimensions of the stages up to surfaces, stage by stage.
pub fn dims<'a>(
    survey: &'a Survey,
    placement: &'a Placement,
    casework: &'a Casework,
    surfaces: &'a Surfaces,
) -> Vec<Derivation<'a>> {
    let mut all = Vec::new();
    let mut push = |place: String, dimension: &'static str, dim: &'a Dim| {
        all.push(Derivation { place, dimension, dim });
    };
    for wall in &survey.walls {
        push(wall.key.to_string(), "length", &wall.length);
    }
    for run in &placement.runs {
        let key = run.key.to_string();
        push(key.clone(), "from", &run.from);
        push(key.clone(), "to", &run.to);
        push(key.clone(), "clear", &run.clear);
        push(key.clone(), "spare", &run.spare);
        push(key.clone(), "depth", &run.depth_over_all);
        for (side, kept) in ["kept-left", "kept-right"].into_iter().zip(&run.kept_clear) {
            if let Some(kept) = kept {
                push(key.clone(), side, kept);
            }
        }
    }
    for unit in &placement.units {
        let key = unit.key.to_string();
        push(key.clone(), "width", &unit.width);
        push(key.clone(), "height", &unit.height);
        push(key.clone(), "depth", &unit.depth);
        push(key.clone(), "along", &unit.along);
        push(key, "up", &unit.up);
    }
    for top in &placement.tops {
        push(top.key.to_string(), "upper", &top.upper);
        push(top.key.to_string(), "thickness", &top.thickness);
        for leg in &top.legs {
            let place = format!("{}/{}", top.key, leg.run);
            push(place.clone(), "from", &leg.from);
            push(place.clone(), "to", &leg.to);
            push(place, "depth", &leg.depth);
            for hole in &leg.cutouts {
                let place = format!("{}/cutout.{}", top.key, hole.unit);
                push(place.clone(), "left", &hole.left);
                push(place.clone(), "width", &hole.width);
                push(place.clone(), "back", &hole.back);
                push(place, "depth", &hole.depth);
            }
        }
    }
    for unit in &casework.units {
        for opening in &unit.openings {
            let place = format!("{}/opening.{}", unit.key, opening.front);
            push(place.clone(), "width", &opening.width);
            push(place, "height", &opening.height);
        }
        for part in &unit.parts {
            let place = format!("{}/{}", unit.key, part.role);
            push(place.clone(), "length", &part.length);
            push(place.clone(), "width", &part.width);
            push(place, "thickness", &part.thickness);
        }
    }
    for top in &surfaces.worktops {
        for piece in &top.pieces {
            let place = format!("{}/{}", top.key, piece.role);
            push(place.clone(), "length", &piece.length);
            push(place, "width", &piece.width);
        }
    }
    for trim in &surfaces.trims {
        for piece in &trim.pieces {
            let place = format!("{}/{}", trim.key, piece.role);
            push(place.clone(), "length", &piece.length);
            push(place, "width", &piece.width);
        }
    }
    all
}
