//! Trim: base along walls wherever no unit stands, casing round openings, crown under the ceiling.
//!
//! Pieces are as long as their long points are apart; ends are mitred to half the real corner. What is longer
//! than its board is scarfed over a stud.

use dryfit_measure::{Amount, Dim, Key, Length, Pointer, sources};
use dryfit_plan::{End, Form, Hand, Level, Opening, Plan, Trim as Stated, TrimKind, UnitKind};

use super::mitre::Mitre;
use crate::casework::Purpose;
use crate::figures::Figures;
use crate::need::Need;
use crate::placement::{Beside, PlacedUnit, Placement, thickness};
use crate::survey::Survey;

/// One trim, piece by piece.
#[derive(Clone, Debug)]
pub struct Trim {
    /// Its key in the plan.
    pub key: Key,
    /// The board it is cut from.
    pub good: Key,
    /// Its pieces, wall by wall or opening by opening.
    pub pieces: Vec<TrimPiece>,
    /// Nails.
    pub needs: Vec<Need>,
}

/// One piece of trim.
#[derive(Clone, Debug)]
pub struct TrimPiece {
    /// Its role path within the trim: `AB.1`, `door.head`.
    pub role: String,
    /// The wall it is on.
    pub wall: Key,
    /// From where to where along the wall, for what runs along one.
    pub along: Option<[Dim; 2]>,
    /// Between its long points.
    pub length: Dim,
    /// As the board is.
    pub width: Dim,
    /// What its ends are cut to, left and right as seen from inside.
    pub ends: [TrimEnd; 2],
    /// Which way the cut list rounds its length.
    pub purpose: Purpose,
}

/// What an end of a piece of trim is cut to.
#[derive(Clone, Debug, PartialEq)]
pub enum TrimEnd {
    /// Square, against a unit, a casing or the floor.
    Square(String),
    /// A mitre in the corner of the room, with the angle that was measured there, degrees.
    Corner {
        /// The corner.
        corner: Key,
        /// The real angle, inside the room.
        angle: f64,
        /// The settings.
        cut: Mitre,
    },
    /// A mitre against another piece of the same frame.
    Frame(Mitre),
    /// A scarf, against the rest of a longer stretch.
    Scarf,
}

/// What a trim is made by.
struct Work<'a> {
    plan: &'a Plan,
    survey: &'a Survey,
    placement: &'a Placement,
    key: &'a Key,
    width: Dim,
    thick: Dim,
    /// As long as its boards are.
    board: Dim,
    figures: Figures<'a>,
}

/// All trim of a plan.
pub(super) fn trims(plan: &Plan, survey: &Survey, placement: &Placement) -> Vec<Trim> {
    plan.trims.iter().filter_map(|(key, stated)| trim(plan, survey, placement, key, stated)).collect()
}

fn trim(plan: &Plan, survey: &Survey, placement: &Placement, key: &Key, stated: &Stated) -> Option<Trim> {
    let Form::Board(board) = &plan.goods.get(&stated.good)?.form else { return None };
    let at = Pointer::root().child("goods").child(stated.good.as_str()).child("form").child("board");
    let work = Work {
        plan,
        survey,
        placement,
        key,
        width: Dim::taped(board.width.length, at.child("width")).named("trim width"),
        thick: thickness(plan, &stated.good)?,
        board: Dim::taped(board.length.length, at.child("length")).named("length of a board"),
        figures: Figures::of_trim(plan, key),
    };
    let pieces: Vec<TrimPiece> = match &stated.kind {
        TrimKind::Base { along } => {
            along.iter().flat_map(|wall| work.along(wall, along, 90.0, false)).collect()
        }
        TrimKind::Crown { along, spring } => {
            let spring = f64::from((*spring).clamp(1, 89));
            along.iter().flat_map(|wall| work.along(wall, along, spring, true)).collect()
        }
        TrimKind::Casing { around } => around
            .iter()
            .filter_map(|opening| Some((opening, plan.openings.get(opening)?)))
            .flat_map(|(key, opening)| work.around(key, opening))
            .collect(),
    };
    let length: Length = pieces.iter().map(|piece| piece.length.length()).sum();
    let nails = stated.nails.as_ref().map(|nails| {
        // two to a stud
        let pitch = work.figures.dim("trim-nail-pitch");
        let count = u32::try_from(length.needs(pitch.length()).max(1) * 2).unwrap_or(u32::MAX);
        Need::pieces(nails.clone(), count, "trim", key.to_string())
    });
    Some(Trim { key: key.clone(), good: stated.good.clone(), pieces, needs: nails.into_iter().collect() })
}

/// A stretch of wall that something stands before, and what it is called.
struct Covered {
    from: Dim,
    to: Dim,
    by: String,
}

impl Work<'_> {
    /// The pieces along one wall.
    fn along(&self, wall: &Key, all: &[Key], spring: f64, crown: bool) -> Vec<TrimPiece> {
        let up = self.heights(wall, crown);
        let Some(clear) = self.survey.clear(wall, None, up, self.thick.length()) else { return Vec::new() };
        let corners =
            [self.corner(wall, Hand::Left, all, spring), self.corner(wall, Hand::Right, all, spring)];
        // a wider or thicker board meets the next wall elsewhere, where that leans or is askew
        let ends = [clear.left, clear.right].map(|end| end.decided_by(self.board_stated()));
        let covered = if crown { Vec::new() } else { self.covered(wall, [&ends[0], &ends[1]]) };
        let least = self.figures.dim("trim-least").length();
        let mut pieces = Vec::new();
        for (from, to, ends) in stretches(ends, corners, covered) {
            if to.length() - from.length() < least {
                continue;
            }
            pieces.extend(self.stretch(wall, [from, to], &ends, pieces.len()));
        }
        pieces
    }

    /// Where the board's width and thickness are stated.
    fn board_stated(&self) -> Vec<Pointer> {
        [&self.width, &self.thick].into_iter().flat_map(sources).collect()
    }

    /// How high up it lies.
    fn heights(&self, wall: &Key, crown: bool) -> [Length; 2] {
        if !crown {
            return [Length::ZERO, self.width.length()];
        }
        let middle = self.survey.wall_length(wall).map_or(Length::ZERO, |length| length.length().halves().0);
        let at = self.survey.point_on_wall(wall, middle, Length::ZERO, Length::ZERO).unwrap_or_default();
        let ceiling = self.survey.levels.ceiling_over(at).map_or(self.width.length(), |dim| dim.length());
        [ceiling - self.width.length(), ceiling]
    }

    /// What an end in a corner of the room is cut to.
    fn corner(&self, wall: &Key, side: Hand, all: &[Key], spring: f64) -> TrimEnd {
        let line = self.survey.wall(wall).map(|i| &self.survey.walls[i]);
        let Some(line) = line else { return TrimEnd::Square(String::new()) };
        let corner = if side == Hand::Left { &line.left } else { &line.right };
        let meets = self.survey.beside(wall, side).is_some_and(|other| all.contains(other));
        match self.survey.corner_angle(corner).map(f64::to_degrees) {
            Some(angle) if meets => {
                TrimEnd::Corner { corner: corner.clone(), angle, cut: Mitre::of(spring, angle) }
            }
            _ => TrimEnd::Square(format!("corner {corner}")),
        }
    }

    /// What stands before the foot of a wall, from left to right.
    fn covered(&self, wall: &Key, [left, right]: [&Dim; 2]) -> Vec<Covered> {
        let mut covered = Vec::new();
        for placed in self.placement.runs.iter().filter(|run| run.wall == *wall) {
            let Some(run) = self.plan.runs.get(&placed.key).filter(|run| run.level == Level::Floor) else {
                continue;
            };
            let units: Vec<&PlacedUnit> = self.placement.units_of(&placed.key).collect();
            let stands = |unit: &&&PlacedUnit| unit.kind != UnitKind::Gap || hidden(unit);
            covered.extend(units.iter().filter(stands).map(|unit| Covered {
                from: unit.along.clone(),
                to: unit.right(),
                by: unit.key.to_string(),
            }));
            // what is left up to the corner lies behind the run, or behind the one it meets
            let closed = |end: &End| matches!(end, End::Wall | End::Corner { .. });
            if closed(&run.left) {
                covered.push(Covered {
                    from: left.clone(),
                    to: placed.from.clone(),
                    by: placed.key.to_string(),
                });
            }
            if closed(&run.right) {
                covered.push(Covered {
                    from: placed.to.clone(),
                    to: right.clone(),
                    by: placed.key.to_string(),
                });
            }
        }
        for other in self.corner_runs(wall) {
            covered.extend(self.in_corner(wall, other, [left, right]));
        }
        let doors =
            self.plan.openings.iter().filter(|(_, opening)| opening.wall == *wall && opening.sill.is_none());
        covered.extend(doors.map(|(key, opening)| self.door(key, opening)));
        covered.sort_by_key(|covered| (covered.from.length(), covered.to.length()));
        covered
    }

    /// Runs on the floor along the walls beside this one that stand up to it.
    fn corner_runs<'a>(&'a self, wall: &'a Key) -> impl Iterator<Item = (Hand, &'a Key)> {
        [Hand::Left, Hand::Right].into_iter().flat_map(move |side| {
            let other = self.survey.beside(wall, side);
            let up_to_it = move |run: &&crate::placement::PlacedRun| {
                let stated = self.plan.runs.get(&run.key);
                let end = stated.map(|run| if side == Hand::Left { &run.right } else { &run.left });
                Some(&run.wall) == other
                    && stated.is_some_and(|run| run.level == Level::Floor)
                    && end.is_some_and(|end| match end {
                        End::Wall => true,
                        End::Corner { owner, .. } => *owner == run.key,
                        _ => false,
                    })
            };
            self.placement.runs.iter().filter(up_to_it).map(move |run| (side, &run.key))
        })
    }

    /// The end of a run along the wall beside this one, which stands before this one's foot.
    fn in_corner(&self, wall: &Key, (side, run): (Hand, &Key), [left, right]: [&Dim; 2]) -> Option<Covered> {
        let units: Vec<&PlacedUnit> = self.placement.units_of(run).collect();
        let last = if side == Hand::Left { units.last() } else { units.first() }?;
        let up = [Length::ZERO, self.width.length()];
        let reach = self.survey.reach(wall, side, &last.frame_plane(), up, self.thick.length())?;
        let reach = reach.decided_by(self.board_stated());
        let by = last.key.to_string();
        Some(match side {
            Hand::Left => Covered { from: left.clone(), to: reach, by },
            Hand::Right => Covered { from: reach, to: right.clone(), by },
        })
    }

    /// A door with its casing.
    fn door(&self, key: &Key, opening: &Opening) -> Covered {
        let at = Pointer::root().child("openings").child(key.as_str());
        let taped = |name: &str, length| Dim::taped(length, at.child(name)).named(name.to_owned());
        let along = taped("along", opening.along.length);
        let side = self.beside_opening(key, opening);
        let to = &along + taped("width", opening.width.length) + &side;
        Covered { from: along - side, to, by: opening.name.clone() }
    }

    /// Casing and reveal beside an opening: the trim that cases it, else the casing that is there.
    fn beside_opening(&self, key: &Key, opening: &Opening) -> Dim {
        let cased = self.plan.trims.iter().find_map(|(trim, stated)| match &stated.kind {
            TrimKind::Casing { around } if around.contains(key) => Some((trim, &stated.good)),
            _ => None,
        });
        let board = cased.and_then(|(trim, good)| match &self.plan.goods.get(good)?.form {
            Form::Board(board) => Some((trim, good, board.width.length)),
            _ => None,
        });
        if let Some((trim, good, width)) = board {
            let at = Pointer::root()
                .child("goods")
                .child(good.as_str())
                .child("form")
                .child("board")
                .child("width");
            return Dim::taped(width, at).named("casing")
                + Figures::of_trim(self.plan, trim).dim("casing-reveal");
        }
        let at = Pointer::root().child("openings").child(key.as_str()).child("casing");
        opening.casing.map_or_else(Dim::zero, |casing| Dim::taped(casing.length, at).named("casing"))
    }

    /// One stretch, in as many pieces as its boards ask for.
    fn stretch(
        &self,
        wall: &Key,
        [from, to]: [Dim; 2],
        ends: &[TrimEnd; 2],
        before: usize,
    ) -> Vec<TrimPiece> {
        let long = |side: usize| match &ends[side] {
            // round an outside corner the long points are at the face
            TrimEnd::Corner { angle, .. } if *angle > 180.0 => {
                let half = ((360.0 - angle) / 2.0).to_radians();
                self.thick.scaled(half.tan().recip(), "outside corner")
            }
            _ => Dim::zero(),
        };
        let begin = &from - long(0);
        let finish = &to + long(1);
        let mut joints: Vec<Dim> = Vec::new();
        let whole = (&finish - &begin).length();
        let most = self.board.length() - self.thick.length();
        if whole > most && most.is_positive() {
            let n = whole.needs(most);
            for i in 1..n {
                let ideal = begin.length() + Length::from_nm(whole.nm() / n * i);
                joints.push(self.over_stud(wall, &begin, &finish, ideal, joints.last()));
            }
        }
        let mut pieces = Vec::new();
        let mut left = begin;
        for (i, joint) in joints.iter().map(Some).chain([None]).enumerate() {
            let right = joint.cloned().unwrap_or_else(|| finish.clone());
            // a scarf laps by as much as the board is thick
            let lap = if joint.is_some() { self.thick.clone() } else { Dim::zero() };
            let role = format!("{wall}.{}", before + i + 1);
            let place = format!("{}/{role}", self.key);
            let length = (&right - &left + lap).named("length").placed(place);
            let ends = [
                if i == 0 { ends[0].clone() } else { TrimEnd::Scarf },
                if joint.is_none() { ends[1].clone() } else { TrimEnd::Scarf },
            ];
            pieces.push(TrimPiece {
                role,
                wall: wall.clone(),
                along: Some([left.clone(), right.clone()]),
                length,
                width: self.width.clone(),
                ends,
                purpose: Purpose::Into,
            });
            left = right;
        }
        pieces
    }

    /// The last stud at or before a place, where that leaves pieces that come out of a board; else the place.
    fn over_stud(&self, wall: &Key, begin: &Dim, finish: &Dim, ideal: Length, before: Option<&Dim>) -> Dim {
        let framing = self.plan.walls.get(wall).and_then(|wall| wall.framing.as_ref());
        let inputs = [(begin.clone(), 0.5), (finish.clone(), 0.5), (self.board.clone(), 0.0)];
        let place =
            |at, inputs: Vec<(Dim, f64)>| Dim::worked(at, "place of the scarf", inputs).named("scarf");
        let most = self.board.length() - self.thick.length();
        let start = before.unwrap_or(begin).length();
        if let Some(framing) = framing
            && framing.studs.length.is_positive()
        {
            let pitch = framing.studs.length;
            let count = (ideal - framing.first.length).div_floor(pitch.nm()).nm();
            let stud = framing.first.length + pitch * count;
            if stud > start && finish.length() - stud <= most {
                let at = Pointer::root().child("walls").child(wall.as_str()).child("framing");
                let mut inputs = inputs.to_vec();
                inputs.push((Dim::taped(framing.first.length, at.child("first")).named("first stud"), 1.0));
                inputs.push((Dim::taped(pitch, at.child("studs")).named("studs apart"), count as f64));
                return place(stud, inputs);
            }
        }
        place(ideal, inputs.to_vec())
    }

    /// The frame round an opening.
    fn around(&self, key: &Key, opening: &Opening) -> Vec<TrimPiece> {
        let at = Pointer::root().child("openings").child(key.as_str());
        let taped = |name: &str, length| Dim::taped(length, at.child(name)).named(name.to_owned());
        let reveal = self.figures.dim("casing-reveal");
        let side = (&reveal + &self.width) * 2;
        let head = taped("width", opening.width.length) + &side;
        let window = opening.sill.map(|sill| taped("sill", sill.length));
        let leg = match &window {
            None => taped("head", opening.head.length) + &reveal + &self.width,
            Some(sill) => taped("head", opening.head.length) - sill + &side,
        };
        let square = Mitre::of(90.0, 90.0);
        let foot = || match &window {
            None => TrimEnd::Square("floor".to_owned()),
            Some(_) => TrimEnd::Frame(square),
        };
        let piece = |part: &str, length: &Dim, ends| {
            let role = format!("{key}.{part}");
            let place = format!("{}/{role}", self.key);
            TrimPiece {
                role,
                wall: opening.wall.clone(),
                along: None,
                length: length.clone().named("length").placed(place),
                width: self.width.clone(),
                ends,
                purpose: Purpose::Mates,
            }
        };
        let both = || [TrimEnd::Frame(square), TrimEnd::Frame(square)];
        let mut pieces = vec![
            piece("left", &leg, [foot(), TrimEnd::Frame(square)]),
            piece("right", &leg, [TrimEnd::Frame(square), foot()]),
            piece("head", &head, both()),
        ];
        if window.is_some() {
            pieces.push(piece("under", &head, both()));
        }
        pieces
    }
}

/// A gap that nobody sees: in a corner, behind its filler.
fn hidden(unit: &PlacedUnit) -> bool {
    unit.beside.iter().any(|beside| matches!(beside, Beside::Wall(_) | Beside::Run(_)))
}

/// What is left of a wall between its ends, each stretch with what its ends meet.
fn stretches(
    [left, right]: [Dim; 2],
    [at_left, at_right]: [TrimEnd; 2],
    covered: Vec<Covered>,
) -> Vec<(Dim, Dim, [TrimEnd; 2])> {
    let mut stretches = Vec::new();
    let (mut from, mut begins) = (left, at_left);
    for one in covered {
        if one.from.length() > from.length() {
            stretches.push((
                from.clone(),
                one.from.clone(),
                [begins.clone(), TrimEnd::Square(one.by.clone())],
            ));
        }
        if one.to.length() > from.length() {
            (from, begins) = (one.to, TrimEnd::Square(one.by));
        }
    }
    if right.length() > from.length() {
        stretches.push((from, right, [begins, at_right]));
    }
    stretches
}

impl Trim {
    /// All of it end to end: what a bead along its edge follows.
    pub fn length(&self) -> Length {
        self.pieces.iter().map(|piece| piece.length.length()).sum()
    }

    /// The same as an amount.
    pub fn amount(&self) -> Amount {
        Amount::Length(self.length())
    }
}
