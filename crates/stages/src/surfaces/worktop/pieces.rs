//! What a worktop is cut from: substrate layer by layer, build-up strips, blanks of facing, edges, splash.
//!
//! Everything is cut a little large where it is fitted later: substrate by the scribe at walls, facing by what
//! is trimmed off with the router. Joints of the layers lie apart.

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::{BuildUp, Form};

use super::joints::joints;
use super::leg::{Bay, Shape, bays, side_name};
use super::{Hole, LegEnd, TopPart, TopPiece, WorkLeg};
use crate::casework::Purpose;
use crate::placement::{Plot, thickness};

/// Everything one bay is made from.
pub(super) struct Cutting<'a> {
    shape: &'a Shape<'a>,
    leg: &'a WorkLeg,
    bay: &'a Bay,
    plot: Plot,
    /// Of the substrate as cut: its left-hand end along the wall, its length, its width.
    left: Dim,
    length: Dim,
    width: Dim,
    /// The facing on its edges.
    edge: Dim,
    pieces: Vec<TopPiece>,
}

/// All pieces of a worktop's legs, bay by bay.
pub(super) fn pieces(shape: &Shape<'_>, legs: &[WorkLeg]) -> Vec<TopPiece> {
    let mut all = Vec::new();
    for leg in legs {
        let Some(plot) = Plot::of(shape.survey, &leg.wall) else { continue };
        for bay in &bays(leg) {
            let mut cutting = Cutting::of(shape, leg, bay, plot);
            cutting.substrate();
            cutting.facing();
            cutting.splash();
            all.extend(cutting.pieces);
        }
    }
    all
}

/// What one sheet of a good gives along and across, its factory edges trimmed off.
pub(super) fn usable(shape: &Shape<'_>, good: &Key) -> Option<[Dim; 2]> {
    let Form::Sheet(sheet) = &shape.plan.goods.get(good)?.form else { return None };
    let trim = match shape.plan.shop.factory_trim {
        Some(trim) => Dim::chosen(trim.length, Pointer::root().child("shop").child("factory_trim")),
        None => shape.figures.dim("factory-trim"),
    };
    let at = Pointer::root().child("goods").child(good.as_str()).child("form").child("sheet");
    let gives = |name: &'static str, stated: dryfit_measure::Stated| {
        (Dim::taped(stated.length, at.child(name)) - &trim * 2).named(format!("{name} that a sheet gives"))
    };
    Some([gives("length", sheet.length), gives("width", sheet.width)])
}

/// Ends that have a covered edge.
fn shows(end: &LegEnd) -> bool {
    matches!(end, LegEnd::Free)
}

/// Ends that are scribed to a wall.
fn is_scribed(end: &LegEnd) -> bool {
    matches!(end, LegEnd::Wall)
}

impl<'a> Cutting<'a> {
    fn of(shape: &'a Shape<'a>, leg: &'a WorkLeg, bay: &'a Bay, plot: Plot) -> Cutting<'a> {
        let good = shape.top.edge.as_ref().or(shape.top.facing.as_ref());
        let edge = good.and_then(|good| thickness(shape.plan, good)).unwrap_or_default();
        let scribe = shape.figures.dim("top-scribe");
        let [left, _] = bay.reach();
        let left = if is_scribed(&bay.ends[0]) { left - &scribe } else { left };
        let left = if shows(&bay.ends[0]) { left + &edge } else { left };
        let length = bay.length() - &edge * bay.count(shows) + &scribe * bay.count(is_scribed);
        let width = &leg.depth - &leg.behind - &edge + &scribe;
        let place = format!("{}/{}", shape.placed.key, bay.name);
        Cutting {
            shape,
            leg,
            bay,
            plot,
            left,
            length: length.named("length of the substrate").placed(place.clone()),
            width: width.named("width of the substrate").placed(place),
            edge,
            pieces: Vec::new(),
        }
    }

    /// Room coordinates of a stretch of the bay, from and to measured along its substrate, between two places
    /// out from the wall; its ends slant where the bay's do.
    fn outline(&self, [from, to]: [Length; 2], [near, far]: [Length; 2]) -> Vec<[f64; 2]> {
        let (begin, whole) = (self.left.length(), self.length.length());
        let [left, right] = [0, 1].map(|side| [self.bay.back[side].length(), self.bay.front[side].length()]);
        // a whole piece ends where the bay does, at that place out from the wall
        let slant = |[back, front]: [Length; 2], out: Length| {
            let depth = (self.leg.depth.length() - self.leg.behind.length()).as_mm_f64().max(1e-9);
            let share = (out - self.leg.behind.length()).as_mm_f64() / depth;
            back.as_mm_f64() + share * (front - back).as_mm_f64()
        };
        let at = |along: Length, out: Length| {
            let x = match () {
                () if along.is_zero() => slant(left, out),
                () if along == whole => slant(right, out),
                () => (begin + along).as_mm_f64(),
            };
            self.plot.at(x, out.as_mm_f64())
        };
        vec![at(from, far), at(to, far), at(to, near), at(from, near)]
    }

    /// The back and the front edge of the substrate, out from the wall.
    fn across(&self) -> [Length; 2] {
        [self.leg.behind.length(), self.leg.depth.length() - self.edge.length()]
    }

    fn push(
        &mut self,
        what: TopPart,
        layer: u8,
        good: &Key,
        role: String,
        sizes: [Dim; 2],
        outline: Vec<[f64; 2]>,
    ) {
        let Some(thick) = thickness(self.shape.plan, good) else { return };
        let place = format!("{}/{role}", self.shape.placed.key);
        let [length, width] = sizes;
        let purpose = match what {
            TopPart::Strip => [Purpose::Mates; 2],
            TopPart::Cleat => [Purpose::Into, Purpose::Mates],
            _ => [Purpose::Covers; 2],
        };
        self.pieces.push(TopPiece {
            name: role.replace(['.', '/'], " "),
            role,
            what,
            layer,
            run: self.leg.run.clone(),
            good: good.clone(),
            length: length.named("length").placed(place.clone()),
            width: width.named("width").placed(place.clone()),
            thickness: thick.named("thickness").placed(place),
            purpose,
            outline,
        });
    }

    /// The layers, from the upper one down.
    fn substrate(&mut self) {
        let good = &self.shape.top.substrate;
        let Some([most, _]) = usable(self.shape, good) else { return };
        let clear = self.shape.figures.dim("top-joint-cutout");
        let stagger = self.shape.figures.dim("build-up-stagger");
        let begin = self.left.length();
        let holes: Vec<[Length; 2]> = self
            .leg
            .holes
            .iter()
            .map(|hole| {
                let from = hole.left.length() - begin - clear.length();
                [from, from + hole.width.length() + clear.length() * 2]
            })
            .collect();
        let mut causes = vec![most.clone(), clear];
        causes.extend(self.leg.holes.iter().flat_map(|hole| [hole.left.clone(), hole.width.clone()]));
        let first = self.layer(1, good, &most, &holes, &causes);
        causes.push(stagger.clone());
        for layer in 2..=self.shape.top.layers.min(6) {
            let near = |at: &Length| [*at - stagger.length(), *at + stagger.length()];
            let mut off: Vec<[Length; 2]> = first.iter().map(near).collect();
            match self.shape.top.build_up {
                BuildUp::Whole => {
                    off.extend(&holes);
                    self.layer(layer, good, &most, &off, &causes);
                }
                BuildUp::Strips => self.strips(layer, good, &most, &off, &first, &causes),
            }
        }
    }

    /// A whole layer; where it is joined, from its left-hand end.
    fn layer(
        &mut self,
        layer: u8,
        good: &Key,
        most: &Dim,
        off: &[[Length; 2]],
        causes: &[Dim],
    ) -> Vec<Length> {
        let step = self.shape.plan.fineness.step();
        let at = joints(self.length.length(), most.length(), step, off);
        let lengths = self.parts(&self.length.clone(), &at, causes);
        let across = self.across();
        for (i, (length, ends)) in lengths.into_iter().enumerate() {
            let role = numbered(format!("substrate.{layer}.{}", self.bay.name), i, at.len());
            let outline = self.outline(ends, across);
            self.push(TopPart::Substrate, layer, good, role, [length, self.width.clone()], outline);
        }
        at
    }

    /// Lengths of the pieces between joints, each with its ends. Places of joints are chosen here, on the
    /// builder's marks; the last piece takes what is left.
    fn parts(&self, length: &Dim, at: &[Length], causes: &[Dim]) -> Vec<(Dim, [Length; 2])> {
        let mut parts = Vec::new();
        let mut before = Dim::zero();
        for (i, joint) in at.iter().enumerate() {
            let share = (i + 1) as f64 / (at.len() + 1) as f64;
            let inputs =
                [(length.clone(), share)].into_iter().chain(causes.iter().map(|dim| (dim.clone(), 0.0)));
            let place =
                Dim::worked(*joint, "even share, off cut-outs and other joints,", inputs.collect::<Vec<_>>());
            let place = place.named(format!("joint {}", i + 1)).placed(self.bay.name.as_str());
            parts.push((&place - &before, [before.length(), *joint]));
            before = place;
        }
        parts.push((length - &before, [before.length(), length.length()]));
        parts
    }

    /// Strips along all edges, under the joints of the upper layer, and beside the cut-outs.
    fn strips(
        &mut self,
        layer: u8,
        good: &Key,
        most: &Dim,
        off: &[[Length; 2]],
        first: &[Length],
        causes: &[Dim],
    ) {
        let wide = self.shape.figures.dim("build-up-width");
        let step = self.shape.plan.fineness.step();
        let [near, far] = self.across();
        let name = self.bay.name.clone();
        let at = joints(self.length.length(), most.length(), step, off);
        let strip = wide.length();
        for (edge, [from, to]) in [("front", [far - strip, far]), ("rear", [near, near + strip])] {
            for (i, (length, ends)) in self.parts(&self.length.clone(), &at, causes).into_iter().enumerate() {
                let role = numbered(format!("strip.{layer}.{name}.{edge}"), i, at.len());
                let outline = self.outline(ends, [from, to]);
                self.push(TopPart::Strip, layer, good, role, [length, wide.clone()], outline);
            }
        }
        let between = &self.width - &wide * 2;
        if !between.length().is_positive() {
            return;
        }
        let whole = self.length.length();
        let mut cross: Vec<(String, Length)> =
            vec![(side_name(0).to_owned(), Length::ZERO), (side_name(1).to_owned(), whole - strip)];
        for (i, joint) in first.iter().enumerate() {
            cross.push((format!("joint.{}", i + 1), *joint - strip.halves().1));
        }
        for hole in &self.leg.holes {
            let left = hole.left.length() - self.left.length();
            cross.push((format!("{}.left", hole.unit), left - strip));
            cross.push((format!("{}.right", hole.unit), left + hole.width.length()));
        }
        for (place, from) in cross {
            if from.is_negative() || from + strip > whole {
                continue;
            }
            let role = format!("strip.{layer}.{name}.{place}");
            let outline = self.outline([from, from + strip], [near + strip, far - strip]);
            self.push(TopPart::Strip, layer, good, role, [between.clone(), wide.clone()], outline);
        }
    }

    /// The blank that faces it, larger all round by what is trimmed off, and what covers its edges.
    fn facing(&mut self) {
        let Some(facing) = &self.shape.top.facing else { return };
        let trim = self.shape.figures.dim("laminate-trim");
        let ends = self.bay.count(shows);
        let length = &self.length + &self.edge * ends + &trim * 2;
        let width = &self.width + &self.edge + &trim * 2;
        let [near, _] = self.across();
        let outline = self.outline([Length::ZERO, self.length.length()], [near, self.leg.depth.length()]);
        let role = format!("laminate.{}", self.bay.name);
        self.push(TopPart::Facing, 0, facing, role, [length, width], outline);
        let edge = self.shape.top.edge.as_ref().unwrap_or(facing);
        // a board is as wide as it is bought; a strip of facing is trimmed flush on both sides
        let high = match self.shape.plan.goods.get(edge).map(|good| &good.form) {
            Some(Form::Board(_)) => self.shape.placed.thickness.clone(),
            _ => &self.shape.placed.thickness + &trim * 2,
        };
        let [from, to] = [&self.bay.front[0], &self.bay.front[1]];
        let front = (to - from) + &trim * 2;
        let out = self.leg.depth.length();
        let line = vec![
            self.plot.at(from.length().as_mm_f64(), out.as_mm_f64()),
            self.plot.at(to.length().as_mm_f64(), out.as_mm_f64()),
        ];
        self.push(
            TopPart::Edge,
            0,
            edge,
            format!("edge.{}.front", self.bay.name),
            [front, high.clone()],
            line,
        );
        for side in [0, 1] {
            if shows(&self.bay.ends[side]) {
                let length = &self.leg.depth - &self.leg.behind + &trim * 2;
                let x = self.bay.back[side].length().as_mm_f64();
                let line = vec![self.plot.at(x, near.as_mm_f64()), self.plot.at(x, out.as_mm_f64())];
                let role = format!("edge.{}.{}", self.bay.name, side_name(side));
                self.push(TopPart::Edge, 0, edge, role, [length, high.clone()], line);
            }
        }
    }

    /// A splash of the same make along the back edge.
    fn splash(&mut self) {
        let Some(splash) = self.shape.top.splash else { return };
        let at = Pointer::root().child("tops").child(self.shape.placed.key.as_str()).child("splash");
        let high = Dim::chosen(splash.length, at).named("splash height");
        let good = self.shape.top.substrate.clone();
        let Some([most, _]) = usable(self.shape, &good) else { return };
        let long = &self.bay.back[1] - &self.bay.back[0];
        let at = joints(long.length(), most.length(), self.shape.plan.fineness.step(), &[]);
        for (i, (length, _)) in self.parts(&long, &at, std::slice::from_ref(&most)).into_iter().enumerate() {
            let role = numbered(format!("splash.{}", self.bay.name), i, at.len());
            self.push(TopPart::Splash, 0, &good, role, [length, high.clone()], Vec::new());
        }
        let Some(facing) = self.shape.top.facing.clone() else { return };
        let trim = self.shape.figures.dim("laminate-trim");
        let sizes = [&long + &trim * 2, &high + &trim * 2];
        let role = format!("splash-laminate.{}", self.bay.name);
        self.push(TopPart::Facing, 0, &facing, role, sizes, Vec::new());
    }
}

/// A role with a number where there are several of it.
fn numbered(role: String, i: usize, joints: usize) -> String {
    if joints == 0 { role } else { format!("{role}.{}", i + 1) }
}

/// The cut-out of a sink with its pilot holes: one in each corner, so that its edge is where two sides meet.
pub(super) fn hole(shape: &Shape<'_>, cutout: &crate::placement::Cutout) -> Hole {
    let radius = shape.figures.dim("cutout-radius");
    let key = cutout.unit.as_str();
    let right = (&cutout.left + &cutout.width).named("right edge of the cut-out").placed(key);
    let front = (&cutout.back + &cutout.depth).named("front edge of the cut-out").placed(key);
    let [x0, x1] = [&cutout.left + &radius, &right - &radius];
    let [y0, y1] = [&cutout.back + &radius, &front - &radius];
    Hole {
        unit: cutout.unit.clone(),
        left: cutout.left.clone(),
        width: cutout.width.clone(),
        back: cutout.back.clone(),
        depth: cutout.depth.clone(),
        right,
        front,
        pilots: [[x0.clone(), y0.clone()], [x1.clone(), y0], [x1, y1.clone()], [x0, y1]],
        bit: (&radius * 2).named("bit of the pilot holes"),
        radius,
    }
}
