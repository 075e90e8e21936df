//! Goods: what can be bought, with nominal and measured sizes, and what is on hand of it.

use std::collections::BTreeMap;

use dryfit_measure::{Money, Rate, Stated, StatedAmount};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{Capacity, Day, Keyed};

/// One thing that can be bought.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Good {
    /// What a builder calls it: "birch ply".
    pub name: String,
    /// What it is, with its sizes.
    pub form: Form,
    /// How it is sold, by key: sheet, box, pair.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub packs: Keyed<Pack>,
    /// Where in the shop it is found and what it counts as in the costs; absent, it follows from the form.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub category: Option<Category>,
    /// What is bought beyond what is needed, against breakage and loss; absent, what is usual for the form.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spare: Option<Rate>,
    /// The consumable of the handbook that it serves as, by id: "rags", "sanding-disc".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serves: Option<String>,
    /// All of it has to come from one batch: tile, paint, laminate.
    #[serde(default, skip_serializing_if = "crate::plan::is_default")]
    pub one_batch: bool,
    /// Working days from order to hand; zero is on the shelf.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lead_days: Option<u16>,
    /// What to look at when buying: "straight, no knots at the ends".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub look_for: Option<String>,
}

/// One way in which a good is sold.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Pack {
    /// How much it holds: pieces as a bare number, or "473 ml", "50 lb", "25 sq ft", "150 ft". A bare number of
    /// what is needed by volume is millilitres.
    pub holds: StatedAmount,
    /// What it costs, without tax; absent when not asked yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Money>,
    /// When the price was asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub asked_on: Option<Day>,
}

/// Where in the shop a good is found, and what it counts as in the costs. In the order of a walk through a shop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Category {
    /// Sheets, boards, framing.
    SheetsAndBoards,
    /// Screws, hinges, slides, pulls.
    ScrewsAndFittings,
    /// Worktop: substrate goes with the sheets; laminate, edging, slab.
    Worktop,
    /// Tile, mortar, grout, what they lie on.
    Tile,
    /// Planks, base, casing, other trim.
    PlanksAndTrim,
    /// Paint, primer, filler, sealant.
    Paint,
    /// Pipes, wires, boxes, ducts.
    PipesAndWires,
    /// Appliances and sinks.
    Appliances,
    /// Glue, tape, blades, discs, rags: what is used up.
    Supplies,
    /// Tools, which outlive the job: never counted among its materials.
    Tools,
    /// Dump fees, permits, delivery, hire.
    Fees,
}

impl Category {
    /// Every category, in order.
    pub const ALL: [Category; 11] = [
        Category::SheetsAndBoards,
        Category::ScrewsAndFittings,
        Category::Worktop,
        Category::Tile,
        Category::PlanksAndTrim,
        Category::Paint,
        Category::PipesAndWires,
        Category::Appliances,
        Category::Supplies,
        Category::Tools,
        Category::Fees,
    ];

    /// The heading over it on a list.
    pub const fn name(self) -> &'static str {
        match self {
            Category::SheetsAndBoards => "Sheets and boards",
            Category::ScrewsAndFittings => "Screws and fittings",
            Category::Worktop => "Worktop",
            Category::Tile => "Tile",
            Category::PlanksAndTrim => "Planks and trim",
            Category::Paint => "Paint and sealant",
            Category::PipesAndWires => "Pipes and wires",
            Category::Appliances => "Appliances and sinks",
            Category::Supplies => "Glue, tape, blades",
            Category::Tools => "Tools",
            Category::Fees => "Fees",
        }
    }
}

impl Good {
    /// Its category: what is stated, else what follows from its form.
    pub fn category(&self) -> Category {
        self.category.unwrap_or(match &self.form {
            Form::Sheet(_) | Form::Board(_) => Category::SheetsAndBoards,
            Form::Hinge { .. }
            | Form::Slide(_)
            | Form::Pull { .. }
            | Form::Leg { .. }
            | Form::EdgeBand(_)
            | Form::Fastener { .. } => Category::ScrewsAndFittings,
            Form::Appliance(_) | Form::Sink { .. } => Category::Appliances,
            Form::Pipe { .. }
            | Form::Fitting { .. }
            | Form::Trap { .. }
            | Form::Cable { .. }
            | Form::Duct { .. }
            | Form::Box { .. }
            | Form::Device { .. }
            | Form::Plate { .. } => Category::PipesAndWires,
            Form::Coating { .. } | Form::Tube {} => Category::Paint,
            Form::Tile(_) | Form::Grout { .. } | Form::Mortar {} => Category::Tile,
            Form::Plank(_) => Category::PlanksAndTrim,
            Form::Supply {} => Category::Supplies,
        })
    }
}

/// Sorts of goods, each with the sizes that matter of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Form {
    /// Sheet goods.
    Sheet(SheetForm),
    /// Solid boards, planed.
    Board(BoardForm),
    /// A concealed (cup) hinge.
    Hinge {
        /// How far the door laps the frame or side with it.
        overlay: Stated,
        /// Diameter of the cup.
        cup: Stated,
        /// From the door's edge to the cup's centre.
        cup_in: Stated,
    },
    /// A pair of drawer slides.
    Slide(SlideForm),
    /// A pull or knob.
    Pull {
        /// How far it stands out from the front.
        projection: Stated,
        /// Between its screws; none for a knob.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        centres: Option<Stated>,
    },
    /// An appliance, with everything it needs round it.
    Appliance(ApplianceForm),
    /// A drop-in sink.
    Sink {
        /// Left to right, outside the rim.
        width: Stated,
        /// Front to back, outside the rim.
        depth: Stated,
        /// Left to right of the cut-out template.
        cutout_width: Stated,
        /// Front to back of the cut-out template.
        cutout_depth: Stated,
        /// Bowl below the worktop's upper face.
        bowl: Stated,
    },
    /// Edge banding, as it comes on its roll.
    EdgeBand(EdgeBandForm),
    /// An adjustable leg.
    Leg {
        /// As low as it goes.
        least: Stated,
        /// As high.
        most: Stated,
    },
    /// Screws, pins, nails, brackets.
    Fastener {
        /// Overall length.
        length: Stated,
    },
    /// A pipe, by the length.
    Pipe {
        /// The size it is called by.
        nominal: Stated,
        /// Its outside diameter.
        outside: Stated,
    },
    /// An elbow, tee, valve or other fitting.
    Fitting {
        /// The size it is called by.
        nominal: Stated,
        /// What it takes off the length that a duct may have.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        deducts: Option<Stated>,
    },
    /// A trap under a sink.
    Trap {
        /// The size it is called by.
        nominal: Stated,
        /// Water that stands between its weir and its dip.
        seal: Stated,
        /// From where the tailpiece goes in down to the middle of its outlet.
        rise: Stated,
    },
    /// A cable, by the length.
    Cable {
        /// American wire gauge of its conductors.
        gauge: u8,
        /// Insulated conductors in it.
        conductors: u8,
        /// Bare grounds in it.
        grounds: u8,
        /// Its greater outside measure.
        outside: Stated,
    },
    /// A round duct, by the length.
    Duct {
        /// Its diameter.
        nominal: Stated,
    },
    /// A box for devices or joints.
    Box {
        /// What it holds, as stamped, a marked ring included.
        volume: Capacity,
        /// Left to right.
        width: Stated,
        /// Bottom to top.
        height: Stated,
        /// From its front edge into the wall.
        depth: Stated,
        /// Whether it clamps its cables inside.
        clamps: bool,
    },
    /// A receptacle or switch.
    Device {
        /// Straps that fasten it in a box.
        yokes: u8,
        /// Whether it trips on a ground fault.
        ground_fault: bool,
    },
    /// A steel plate over a stud, where a pipe or cable runs near its face.
    Plate {
        /// How thick it is.
        thickness: Stated,
    },
    /// What is spread: paint, primer, contact adhesive.
    Coating {
        /// The area that `from` covers once: "350 sq ft".
        covers: StatedAmount,
        /// What covers it: "1 gal".
        from: StatedAmount,
        /// How thick a coat of it dries; the handbook's thickness where nothing is stated.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        dry_film: Option<Stated>,
    },
    /// A tile.
    Tile(TileForm),
    /// A plank with tongue and groove, or shiplapped.
    Plank(PlankForm),
    /// What fills the joints of tile.
    Grout {
        /// Whether it has sand in it.
        sanded: bool,
    },
    /// What tile is set in.
    Mortar {},
    /// Sealant and adhesive from a tube.
    Tube {},
    /// Anything counted or poured that has no size that matters: glue, tape, finish.
    Supply {},
}

/// A sheet as sold and as measured.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetForm {
    /// The thickness it is sold by.
    pub nominal: Stated,
    /// The thickness that was measured, and that parts are made to.
    pub thickness: Stated,
    /// Along the grain.
    pub length: Stated,
    /// Across it.
    pub width: Stated,
    /// Whether its face has a direction.
    pub grain: Grain,
    /// Kilograms a cubic metre.
    pub density: u32,
}

/// A tile as it was measured: the mean of some from one box.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TileForm {
    /// What it is sold as: "12 x 12".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nominal: Option<String>,
    /// Left to right.
    pub width: Stated,
    /// Bottom to top.
    pub height: Stated,
    /// Through.
    pub thickness: Stated,
    /// Whether its edges were ground to size after firing.
    #[serde(default, skip_serializing_if = "crate::plan::is_default")]
    pub rectified: bool,
    /// The largest difference between the faces of two tiles.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variation: Option<Stated>,
    /// How far an edge bows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub warp: Option<Stated>,
}

/// A plank as sold.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlankForm {
    /// What a course of it covers: its width less tongue or lap.
    pub reveal: Stated,
    /// Through.
    pub thickness: Stated,
    /// Length as sold.
    pub length: Stated,
    /// How far its tongue reaches into the next.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tongue: Option<Stated>,
}

/// A board as sold.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BoardForm {
    /// Planed thickness.
    pub thickness: Stated,
    /// Planed width.
    pub width: Stated,
    /// Length as sold.
    pub length: Stated,
    /// Kilograms a cubic metre.
    pub density: u32,
    /// The species, as the handbook names it, for movement.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub species: Option<String>,
}

/// Edge banding: it adds its thickness to the edge it is put on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EdgeBandForm {
    /// Its thickness: so much is taken off the size that a part is cut to.
    pub thickness: Stated,
    /// Its width: wider than the board is thick, and trimmed flush.
    pub width: Stated,
}

/// A pair of slides for one drawer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SlideForm {
    /// Closed length, which is the length of the drawer box.
    pub length: Stated,
    /// Taken off the opening's width on each side for the slide.
    pub each_side: Stated,
    /// Taken off the opening's height for the box.
    pub off_height: Stated,
    /// Free behind the box.
    pub behind: Stated,
    /// From the lower edge of the drawer box up to the slide's row of screws, where its holes are drilled before
    /// the box is put together.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub up: Option<Stated>,
}

/// An appliance's envelope and the air it needs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ApplianceForm {
    /// Left to right.
    pub width: Stated,
    /// Floor to top, feet screwed in.
    pub height: Stated,
    /// Front to back, with door, without handle.
    pub depth: Stated,
    /// How far the handle stands out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handle: Option<Stated>,
    /// How far the feet are screwed out to level it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feet: Option<Stated>,
    /// Air at each side.
    pub air_side: Stated,
    /// Air above.
    pub air_top: Stated,
    /// Air, hoses and plugs behind.
    pub air_back: Stated,
    /// Length of its cord, where it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cord: Option<Stated>,
    /// Length of its supply hoses.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hose: Option<Stated>,
    /// Length of its drain hose.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drain_hose: Option<Stated>,
}

/// Whether the face of a sheet has a direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Grain {
    /// The grain runs along the sheet's length.
    Length,
    /// It has none: parts may be turned.
    None,
}
