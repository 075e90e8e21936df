//! What a field of tile is set in: mortar by the trowel, grout by the volume of its joints, spacers and clips.

use dryfit_handbook::{TrowelRow, back_butter_share, grout_density, grout_waste, mortar_bag, trowels};
use dryfit_measure::{Amount, Area, Dim, Key, Length, Mass, Pointer, Volume};
use dryfit_plan::{Form, Plan, Setting};

use crate::need::Need;

/// A field of tile, as far as setting it goes.
#[derive(Clone, Debug)]
pub struct SetField {
    /// Its key in the plan.
    pub key: Key,
    /// The longer and the shorter side of its tile, and its thickness.
    pub tile: [Dim; 3],
    /// Between two tiles.
    pub joint: Dim,
    /// Where the joint is stated.
    pub joint_at: Pointer,
    /// Tiles and joints together.
    pub area: Area,
    /// The joints alone, where they have been measured; else they follow from the tile.
    pub joint_area: Option<Area>,
    /// Tiles, cut ones too.
    pub tiles: u32,
}

/// What one field is set in.
#[derive(Clone, Debug)]
pub struct Bed {
    /// The setting's key in the plan.
    pub key: Key,
    /// The field.
    pub field: SetField,
    /// Width and depth of the trowel's notches.
    pub trowel: [Length; 2],
    /// Whether the backs are spread too.
    pub back_buttered: bool,
    /// Mortar.
    pub mortar: Mass,
    /// Grout in the joints, before anything is lost.
    pub grout_volume: Volume,
    /// Grout, with what is lost.
    pub grout: Mass,
    /// Whether the grout that is stated has sand in it; none where it is no grout.
    pub sanded: Option<bool>,
    /// What has to be bought.
    pub needs: Vec<Need>,
}

/// Four spacers a tile, and four clips. Common practice, no source.
const A_TILE: u32 = 4;

/// The beds of all settings whose field there is.
pub(super) fn beds(plan: &Plan, fields: &[SetField]) -> Vec<Bed> {
    let of = |(key, setting): (&Key, &Setting)| {
        let laid = fields.iter().find(|field| field.key == setting.field).cloned();
        let field = laid.or_else(|| by_hand(key, setting))?;
        Some(bed(plan, key, setting, &field))
    };
    plan.settings.iter().filter_map(of).collect()
}

/// A field that was counted by hand.
fn by_hand(key: &Key, setting: &Setting) -> Option<SetField> {
    let hand = setting.by_hand.as_ref()?;
    let Amount::Area(area) = hand.area.amount() else { return None };
    let at = Pointer::root().child("settings").child(key.as_str()).child("by_hand");
    let taped = |name: &'static str, what: &'static str, length: Length| {
        Dim::taped(length, at.child(name)).named(what).placed(setting.field.as_str())
    };
    let joint = taped("joint", "joint", hand.joint.length);
    let module = ((hand.long.length + hand.joint.length) * (hand.wide.length + hand.joint.length)).nm2();
    let tiles = if module > 0 { area.nm2() / module + 1 } else { 0 };
    Some(SetField {
        key: setting.field.clone(),
        tile: [
            taped("long", "tile length", hand.long.length),
            taped("wide", "tile width", hand.wide.length),
            taped("thick", "tile thickness", hand.thick.length),
        ],
        joint,
        joint_at: at.child("joint"),
        area,
        joint_area: None,
        tiles: u32::try_from(tiles).unwrap_or(u32::MAX),
    })
}

/// The trowel that a tile asks for by its longest side.
pub fn trowel_for(longest: Length) -> &'static TrowelRow {
    let rows = trowels();
    rows.iter().find(|row| longest < row.tile_to.length).unwrap_or(&rows[rows.len() - 1])
}

/// Joints of a field by its tile alone: the whole less the tiles in it.
///
/// The usual `(L + W) / (L W)` counts each crossing twice, which overstates mosaic.
pub fn joint_area(area: Area, [long, wide]: [Length; 2], joint: Length) -> Area {
    let module = ((long + joint) * (wide + joint)).nm2();
    if module <= 0 {
        return Area::ZERO;
    }
    let share = 1.0 - (long * wide).nm2() as f64 / module as f64;
    Area::from_square_metres_f64(area.as_square_metres_f64() * share)
}

/// Mortar under so much tile.
pub fn mortar(area: Area, trowel: &TrowelRow, back_buttered: bool) -> Mass {
    let bags = area.as_square_metres_f64() / trowel.covers().as_square_metres_f64();
    let more = if back_buttered { 1.0 + back_butter_share() } else { 1.0 };
    Mass::from_kilograms(mortar_bag().as_kilograms_f64() * bags * more)
}

/// Grout of a volume, with what is lost.
pub fn grout(volume: Volume, sanded: bool) -> Mass {
    let net = volume * grout_density(sanded);
    Mass::from_kilograms(net.as_kilograms_f64() * (1.0 + grout_waste()))
}

fn bed(plan: &Plan, key: &Key, setting: &Setting, field: &SetField) -> Bed {
    let asked = trowel_for(field.tile[0].length());
    let row = setting.trowel.map_or(asked, |stated| {
        // what another trowel spreads is told by the nearest that is known
        let off = |row: &&TrowelRow| (row.deep.length - stated.deep.length).abs();
        trowels().iter().min_by_key(off).unwrap_or(asked)
    });
    let trowel = setting
        .trowel
        .map_or([asked.notch.length, asked.deep.length], |own| [own.notch.length, own.deep.length]);
    let back_buttered = setting.back_buttered.unwrap_or(asked.back_butter);
    let [long, wide, thick] = [0, 1, 2].map(|k| field.tile[k].length());
    let joints =
        field.joint_area.unwrap_or_else(|| joint_area(field.area, [long, wide], field.joint.length()));
    let grout_volume = joints * thick;
    let sanded = match plan.goods.get(&setting.grout).map(|good| &good.form) {
        Some(Form::Grout { sanded }) => Some(*sanded),
        _ => None,
    };
    let mortar = mortar(field.area, row, back_buttered);
    let grout = grout(grout_volume, sanded.unwrap_or(true));
    let at = || format!("/settings/{key}");
    let mut needs = vec![
        Need::of(setting.mortar.clone(), Amount::Mass(mortar), format!("mortar under {}", field.key), at())
            .because(vec![field.tile[0].clone()]),
        Need::of(setting.grout.clone(), Amount::Mass(grout), format!("joints of {}", field.key), at())
            .because(vec![field.joint.clone(), field.tile[2].clone()]),
    ];
    let counted = [(&setting.spacers, "joints of"), (&setting.clips, "level edges of")];
    for (good, what) in counted {
        if let Some(good) = good {
            let count = field.tiles.saturating_mul(A_TILE);
            needs.push(Need::pieces(good.clone(), count, format!("{what} {}", field.key), at()));
        }
    }
    if let Some(trim) = &setting.edge_trim {
        let length = Amount::Length(trim.length.length);
        needs.push(Need::of(trim.good.clone(), length, format!("free edges of {}", field.key), at()));
    }
    Bed {
        key: key.clone(),
        field: field.clone(),
        trowel,
        back_buttered,
        mortar,
        grout_volume,
        grout,
        sanded,
        needs,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square_feet(n: i64) -> Area {
        Length::FOOT * Length::feet(n)
    }

    #[test]
    fn grout_of_mosaic_is_what_the_chart_says() {
        // grout chart, 2010: mosaic of 3/8 by 3/8 by 3/8 with 1/16 joints takes 0.94 lb/sq ft; within 1.5 %
        let [tile, joint] = [Length::inches(0, 3, 8), Length::inches(0, 1, 16)];
        let joints = joint_area(square_feet(1), [tile, tile], joint);
        let found = grout(joints * tile, true).as_pounds_f64();
        assert!((found - 0.94).abs() < 0.015, "{found}");
        // the same chart: 96 sq ft take 90.2 lb, four bags of 25
        let found = grout(joint_area(square_feet(96), [tile, tile], joint) * tile, true);
        assert!((found.as_pounds_f64() - 90.2).abs() < 1.5, "{}", found.as_pounds_f64());
        let bag = Amount::Mass(Mass::from_pounds(25.0));
        assert_eq!(Amount::Mass(found).packs_of(bag), Some(4));
    }

    #[test]
    fn of_large_tile_the_exact_volume_is_near_the_usual_formula() {
        // formula (L + W) / (L W) J T: 12 by 12 by 3/8 with 1/8 joints is 1.125 cubic inches to the foot
        let [tile, thick, joint] =
            [Length::inches(12, 0, 1), Length::inches(0, 3, 8), Length::inches(0, 1, 8)];
        let volume = joint_area(square_feet(1), [tile, tile], joint) * thick;
        let inches = volume.as_cubic_feet_f64() * 1_728.0;
        assert!((inches / 1.125 - 1.0).abs() < 0.02, "{inches}");
        // metric formula: 300 by 300, joint 3, 9 deep, at 1.6 kg/l is 0.288 kg/m2
        let [tile, thick, joint] = [300, 9, 3].map(Length::mm);
        let square = Length::mm(1_000) * Length::mm(1_000);
        let kilograms = (joint_area(square, [tile, tile], joint) * thick).as_litres_f64() * 1.6;
        assert!((kilograms / 0.288 - 1.0).abs() < 0.02, "{kilograms}");
    }

    #[test]
    fn mortar_follows_the_trowel_and_the_trowel_the_tile() {
        let name = |longest: i64| {
            let row = trowel_for(Length::inches(longest, 0, 1));
            (row.notch.to_string(), row.deep.to_string(), row.back_butter)
        };
        assert_eq!(name(4), ("1/4 in".into(), "1/4 in".into(), false));
        assert_eq!(name(12), ("1/4 in".into(), "3/8 in".into(), false));
        // large tile: a 1/2 in trowel and mortar on the backs. Common practice, no source
        assert_eq!(name(15), ("1/2 in".into(), "1/2 in".into(), true));
        assert_eq!(name(200), ("1/2 in".into(), "1/2 in".into(), true));
        // trade coverage article: 200 sq ft at 65 to the bag are 3.08, so 4 bags; ours counts 60, also 4
        let under = mortar(square_feet(200), trowel_for(Length::inches(12, 0, 1)), false);
        assert_eq!(Amount::Mass(under).packs_of(Amount::Mass(mortar_bag())), Some(4));
        let more = mortar(square_feet(200), trowel_for(Length::inches(12, 0, 1)), true);
        assert!((more.as_kilograms_f64() / under.as_kilograms_f64() - 1.25).abs() < 1e-6);
    }
}
