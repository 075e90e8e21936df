//! Worktops, paint, trim, beads and settings of any content that the types allow.

use dryfit_measure::Rate;
use dryfit_plan::*;
use proptest::collection::{btree_map, vec};
use proptest::option;
use proptest::prelude::*;

use super::{amount, figures, key, keyed, length, name};

pub fn top() -> BoxedStrategy<Top> {
    let build_up = prop_oneof![Just(BuildUp::Strips), Just(BuildUp::Whole)];
    let corner = prop_oneof![Just(CornerSeam::Butt), Just(CornerSeam::Mitre)];
    let seam = (key(), length()).prop_map(|(over, along)| CrossSeam { over, along });
    let role = prop::sample::select(vec![
        TopRole::Adhesive,
        TopRole::Glue,
        TopRole::LayerScrew,
        TopRole::FixScrew,
        TopRole::SeamBolt,
        TopRole::Cleat,
    ]);
    let made = (key(), any::<u8>(), build_up, option::of(key()), option::of(key()));
    let seamed = (corner, keyed(seam), option::of(length()), btree_map(role, key(), 0..3));
    (option::of(name()), vec(key(), 0..3), made, seamed, figures())
        .prop_map(|(name, over, made, seamed, figures)| {
            let (substrate, layers, build_up, facing, edge) = made;
            let (corner, seams, splash, roles) = seamed;
            Top {
                name,
                over,
                substrate,
                layers,
                build_up,
                facing,
                edge,
                corner,
                seams,
                splash,
                roles,
                figures,
            }
        })
        .boxed()
}

pub fn finish() -> BoxedStrategy<Finish> {
    use PartGroup::{Frames, Fronts, Insides, Skins};
    let by = prop_oneof![Just(PaintedBy::Roller), Just(PaintedBy::Brush), Just(PaintedBy::Spray)];
    let rate = (0_i64..3_000).prop_map(|n| Rate::percent(rust_decimal::Decimal::new(n, 2)));
    let parts = vec(prop::sample::select(vec![Fronts, Frames, Skins, Insides]), 0..3);
    let on = (vec(key(), 0..3), any::<bool>(), vec(key(), 0..3), parts, vec(key(), 0..3)).prop_map(
        |(walls, ceiling, recipes, parts, trims)| Painted { walls, ceiling, recipes, parts, trims },
    );
    let what = (option::of(name()), key(), any::<u8>(), option::of(key()), option::of(any::<u8>()));
    (what, by, option::of(rate), on, figures())
        .prop_map(|((name, paint, coats, primer, primer_coats), by, thinned, on, figures)| Finish {
            name,
            paint,
            coats,
            primer,
            primer_coats,
            by,
            thinned,
            on,
            figures,
        })
        .boxed()
}

pub fn trim() -> BoxedStrategy<Trim> {
    let walls = || vec(key(), 0..3);
    let kind = prop_oneof![
        walls().prop_map(|along| TrimKind::Base { along }),
        walls().prop_map(|around| TrimKind::Casing { around }),
        (walls(), any::<u8>()).prop_map(|(along, spring)| TrimKind::Crown { along, spring }),
    ];
    (option::of(name()), key(), kind, option::of(key()), figures())
        .prop_map(|(name, good, kind, nails, figures)| Trim { name, good, kind, nails, figures })
        .boxed()
}

pub fn bead() -> BoxedStrategy<Bead> {
    let runs = prop_oneof![
        key().prop_map(BeadRun::TopAtWalls),
        key().prop_map(BeadRun::SinkRims),
        key().prop_map(BeadRun::TrimEdge),
        key().prop_map(BeadRun::TrimBack),
        vec(key(), 0..3).prop_map(BeadRun::WallCorners),
        length().prop_map(BeadRun::Given),
    ];
    let section = prop_oneof![
        (length(), length()).prop_map(|(width, depth)| BeadSection::Joint { width, depth }),
        length().prop_map(BeadSection::Fillet),
        length().prop_map(BeadSection::Round),
    ];
    (option::of(name()), key(), runs, section)
        .prop_map(|(name, good, runs, section)| Bead { name, good, runs, section })
        .boxed()
}

pub fn setting() -> BoxedStrategy<Setting> {
    let trowel = (length(), length()).prop_map(|(notch, deep)| Trowel { notch, deep });
    let edge_trim = (key(), length()).prop_map(|(good, length)| EdgeTrim { good, length });
    let by_hand = (length(), length(), length(), length(), amount())
        .prop_map(|(long, wide, thick, joint, area)| HandField { long, wide, thick, joint, area });
    let field = (key(), option::of(by_hand));
    let bed = (field, key(), option::of(trowel), option::of(any::<bool>()), key());
    (bed, option::of(key()), option::of(key()), option::of(edge_trim))
        .prop_map(|(((field, by_hand), mortar, trowel, back_buttered, grout), spacers, clips, edge_trim)| {
            Setting { field, by_hand, mortar, trowel, back_buttered, grout, spacers, clips, edge_trim }
        })
        .boxed()
}

pub fn field() -> BoxedStrategy<Field> {
    let low =
        prop_oneof![Just(FieldLow::Floor), length().prop_map(FieldLow::At), key().prop_map(FieldLow::Top),];
    let high = prop_oneof![
        Just(FieldHigh::Ceiling),
        length().prop_map(FieldHigh::At),
        key().prop_map(FieldHigh::Unit),
    ];
    let stretch = (key(), option::of(length()), option::of(length()), low, high)
        .prop_map(|(wall, from, to, low, high)| WallStretch { wall, from, to, low, high });
    let on = prop_oneof![
        vec(key(), 0..3).prop_map(|bare| FieldOn::Floor { bare }),
        stretch.prop_map(FieldOn::Wall),
    ];
    let pattern = prop::sample::select(vec![
        TilePattern::Grid,
        TilePattern::BondHalf,
        TilePattern::BondThird,
        TilePattern::Herringbone,
    ]);
    let start = (length(), length()).prop_map(|(along, up)| TileStart { along, up });
    let sight =
        prop_oneof![length().prop_map(TileSight::Middle), Just(TileSight::Left), Just(TileSight::Right)];
    let tile = (key(), length(), pattern, any::<bool>(), option::of(start), option::of(sight)).prop_map(
        |(good, joint, pattern, turned, start, sight)| TileLaying {
            good,
            joint,
            pattern,
            turned,
            start,
            sight,
        },
    );
    let planks = (key(), any::<bool>(), any::<bool>(), option::of(key()))
        .prop_map(|(good, upright, whole_first, nails)| PlankLaying { good, upright, whole_first, nails });
    let with = prop_oneof![tile.prop_map(Laying::Tile), planks.prop_map(Laying::Planks)];
    let hole = (length(), length(), length(), length()).prop_map(|(along, up, width, height)| FieldHole {
        along,
        up,
        width,
        height,
    });
    (option::of(name()), on, with, keyed(hole), figures())
        .prop_map(|(name, on, with, holes, figures)| Field { name, on, with, holes, figures })
        .boxed()
}

pub fn tile_or_plank() -> BoxedStrategy<Form> {
    let sizes = (length(), length(), length());
    let more = (option::of(name()), any::<bool>(), option::of(length()), option::of(length()));
    let tile =
        (sizes, more).prop_map(|((width, height, thickness), (nominal, rectified, variation, warp))| {
            Form::Tile(TileForm { nominal, width, height, thickness, rectified, variation, warp })
        });
    let plank = (length(), length(), length(), option::of(length())).prop_map(
        |(reveal, thickness, length, tongue)| Form::Plank(PlankForm { reveal, thickness, length, tongue }),
    );
    prop_oneof![tile, plank].boxed()
}
