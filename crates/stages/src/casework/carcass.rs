//! The measures that all parts of a box share: its outside, its inside, its levels and the plane of its back.

use dryfit_measure::{Dim, Length, Pointer};
use dryfit_plan::{BackJoint, BottomJoint, Front, Role, ToeBuild, UnitKind};

use super::job::Job;
use super::part::Stock;

/// The measures of one box.
pub(super) struct Carcass {
    /// What the box is made of.
    pub(super) stock: Stock,
    /// What the face frame is made of, if it has one and there is such a good.
    pub(super) frame: Option<Stock>,
    /// Over all, frame included.
    pub(super) over_all: Dim,
    /// How far the frame stands past the box, left and right.
    pub(super) overhang: [Dim; 2],
    /// Outside, over the sides.
    pub(super) width: Dim,
    /// Between the sides.
    pub(super) inside: Dim,
    /// From the front of the box to its back, without frame.
    pub(super) depth: Dim,
    /// From the floor (or its own bottom) to its top, or to the seat on it.
    pub(super) height: Dim,
    /// The lower end of the sides.
    pub(super) foot: Dim,
    /// Height and depth of the toe kick, if there is one.
    pub(super) toe: Option<(Dim, Dim)>,
    /// The lower end of the face frame.
    pub(super) frame_foot: Dim,
    /// Upper face of the bottom.
    pub(super) floor: Dim,
    /// Lower face of the top, where there is one.
    pub(super) ceiling: Option<Dim>,
    /// How far bottom, top and fixed shelves reach into the sides; no length where they are butted.
    pub(super) dado: Dim,
    /// The back.
    pub(super) back: Option<Back>,
    /// From the front of the box to the front face of the back, or of the nailers before it.
    pub(super) clear_depth: Dim,
    /// Whether nailers stand behind the back.
    pub(super) nailer_behind: bool,
    /// How far what is in the box stays behind its front edges.
    pub(super) behind: Dim,
}

/// The plane of a back.
pub(super) struct Back {
    /// What it is made of.
    pub(super) stock: Stock,
    /// How it is held.
    pub(super) joint: BackJoint,
    /// From the front of the box to its front face.
    pub(super) front: Dim,
    /// How far the groove or rabbet reaches into the side; nothing for an applied back.
    pub(super) reach: Dim,
    /// Free in its groove or rabbet, each way.
    pub(super) play: Dim,
    /// Where the joint is chosen.
    pub(super) chosen: Pointer,
}

impl Carcass {
    /// The measures of this unit's box; `None` where no good is named for it.
    pub(super) fn of(job: &Job<'_>) -> Option<Carcass> {
        let stock = job.stock(Role::Box)?;
        let over_all = job.placed.width.clone().named("unit width");
        let height = job.placed.height.clone().named("unit height");
        let height = match job.stock(Role::Seat).filter(|_| job.placed.kind == UnitKind::Bench) {
            Some(seat) => (height - seat.thick("seat")).named("box height"),
            None => height,
        };
        let depth = job.placed.depth.clone().named("box depth");
        let overhang = job.placed.overhang.clone();
        let flush = overhang.iter().all(|over| over.length().is_zero());
        let width = if flush { over_all.clone() } else { job.placed.box_width() };
        let inside = (&width - stock.thick("side") * 2).named("inside width");

        let toe = has_toe(job).then(|| (job.toe_height(), job.figure("toe-depth")));
        let toe_height = toe.as_ref().map_or_else(Dim::zero, |(height, _)| height.clone());
        let foot = if job.recipe.toe == ToeBuild::Notched { Dim::zero() } else { toe_height.clone() };
        let rail = job.figure("frame-rail");
        // Flush inside: the bottom's upper face is level with its rail's upper edge, where the rail covers it.
        let covered = |rail: &Dim| {
            if !job.framed() {
                return stock.thick("bottom");
            }
            Dim::greatest([rail.clone(), stock.thick("bottom")])
        };
        let floor = (&toe_height + covered(&rail)).named("floor of the box");
        let ceiling = (job.placed.kind == UnitKind::Wall || job.placed.kind.is_tall())
            .then(|| (&height - covered(&rail)).named("ceiling of the box"));
        let dado = match job.recipe.joints.bottom {
            BottomJoint::Dado => job.figure("bottom-dado-depth"),
            BottomJoint::PocketScrew | BottomJoint::Screw => Dim::zero(),
        };
        let dado =
            dado.decided_by([job.recipe_pointer().child("joints").child("bottom")]).named("dado depth");

        let back = job.stock(Role::Back).map(|stock| back_plane(job, stock, &depth));
        let nailer_behind = back.as_ref().is_some_and(|back| {
            back.joint == BackJoint::Groove
                && job.figure("back-groove-inset").length() >= stock.thickness.length()
        });
        let back_front = back.as_ref().map_or_else(|| depth.clone(), |back| back.front.clone());
        let clear_depth = if nailer_behind {
            // whether the nailer goes behind the back hangs on its thickness
            let (length, thick) = (back_front.length(), stock.thick("nailer"));
            Dim::worked(length, "nailer behind the back", [(back_front, 1.0), (thick, 0.0)])
        } else {
            (&back_front - stock.thick("nailer")).named("depth to the nailer")
        };
        Some(Carcass {
            frame: job.stock(Role::Frame).filter(|_| job.framed()),
            over_all,
            overhang,
            width,
            inside,
            depth,
            height,
            foot,
            frame_foot: toe_height,
            toe,
            floor,
            ceiling,
            dado,
            back,
            clear_depth,
            nailer_behind,
            behind: job.behind_fronts(),
            stock,
        })
    }

    /// Where the inside begins, from the left of the box.
    pub(super) fn inside_left(&self) -> Length {
        self.stock.thickness.length()
    }

    /// From the front of the box to the front face of the back.
    pub(super) fn back_front(&self) -> Dim {
        self.back.as_ref().map_or_else(|| self.depth.clone(), |back| back.front.clone())
    }

    /// Thickness of the face frame; nothing where no good is named for it.
    pub(super) fn frame_thickness(&self) -> Length {
        self.frame.as_ref().map_or(Length::ZERO, |stock| stock.thickness.length())
    }

    /// How deep sides reach: to the back edge, or to an applied back.
    pub(super) fn side_depth(&self) -> Dim {
        match &self.back {
            Some(back) if back.joint == BackJoint::Applied => back.front.clone(),
            Some(back) => self.depth.decided_by([back.chosen.clone()]),
            None => self.depth.clone(),
        }
    }

    /// How long sides are: down to the floor, or to the base that they stand on.
    pub(super) fn side_length(&self, job: &Job<'_>) -> Dim {
        if self.toe.is_none() {
            return self.height.clone();
        }
        let above = &self.height - &self.foot;
        let above = if self.foot.length().is_zero() { above } else { above.named("height above the base") };
        above.decided_by([job.recipe_pointer().child("toe")])
    }

    /// Lower face of what closes the box above at the front: its top, or its front stretcher.
    pub(super) fn front_ceiling(&self, job: &Job<'_>) -> Dim {
        match (&self.ceiling, job.placed.kind) {
            (Some(ceiling), _) => ceiling.clone(),
            (None, UnitKind::Sink) => &self.height - sink_stretcher(job),
            (None, UnitKind::Bench) if job.unit.lid => &self.height - job.figure("stretcher-width"),
            _ => &self.height - self.stock.thick("stretcher"),
        }
    }

    /// How high dividers go where no shelf is above them, and the strip on edge that they are notched for.
    pub(super) fn divider_top(&self, job: &Job<'_>) -> (Dim, Option<Dim>) {
        let on_edge = match job.placed.kind {
            UnitKind::Sink => sink_stretcher(job),
            UnitKind::Bench if job.unit.lid => job.figure("stretcher-width"),
            _ => return (self.front_ceiling(job), None),
        };
        let before = self.behind.length() < self.stock.thickness.length();
        (self.height.clone(), before.then_some(on_edge))
    }

    /// How deep bottom and top reach: over a groove, or up to a back that covers their edge.
    pub(super) fn flat_depth(&self, job: &Job<'_>) -> Dim {
        if job.placed.kind == UnitKind::Drying {
            // air goes in and out behind them
            return self.back_front() - job.figure("vent-gap");
        }
        match &self.back {
            Some(back) if back.joint != BackJoint::Groove => back.front.clone(),
            Some(back) => self.depth.decided_by([back.chosen.clone()]),
            None => self.depth.clone(),
        }
    }

    /// Whether bottom, top and fixed shelves stand in dadoes.
    pub(super) fn dadoed(&self) -> bool {
        self.dado.length().is_positive()
    }

    /// Length and left end of a bottom, top or fixed shelf.
    pub(super) fn joined(&self, name: &'static str) -> (Dim, Length) {
        let length = (&self.inside + &self.dado * 2).named(name);
        (length, self.inside_left() - self.dado.length())
    }
}

/// Whether there is a toe kick: boxes on the floor have one.
fn has_toe(job: &Job<'_>) -> bool {
    job.placed.kind.is_box() && job.placed.kind != UnitKind::Wall
}

fn back_plane(job: &Job<'_>, stock: Stock, depth: &Dim) -> Back {
    let joint = job.recipe.joints.back;
    let thick = stock.thick("back");
    let (inset, reach, play) = match joint {
        BackJoint::Groove => {
            (job.figure("back-groove-inset"), job.figure("back-groove-depth"), job.figure("back-play"))
        }
        BackJoint::Rabbet => (Dim::zero(), job.figure("back-rabbet-depth"), job.figure("back-play")),
        BackJoint::Applied => (Dim::zero(), Dim::zero(), Dim::zero()),
    };
    let chosen = job.recipe_pointer().child("joints").child("back");
    let decided = |dim: Dim, name: &'static str| dim.decided_by([chosen.clone()]).named(name);
    let front = depth - decided(inset, "back from the back edge") - &thick;
    Back {
        stock,
        joint,
        front: front.named("front of the back"),
        reach: decided(reach, "back groove"),
        play: decided(play, "back play"),
        chosen: chosen.clone(),
    }
}

/// How wide the stretcher on edge before a bowl is: behind the top rail, or behind a fixed front.
pub(super) fn sink_stretcher(job: &Job<'_>) -> Dim {
    let fixed = matches!(super::front::stated_fronts(job).first(), Some((_, Some(Front::Fixed { .. }), _)));
    job.figure(if fixed || !job.framed() { "stretcher-width" } else { "frame-rail" })
}
