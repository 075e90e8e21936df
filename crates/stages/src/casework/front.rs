//! The front divided: rows of openings between rails, and what closes each.

use dryfit_measure::{Dim, Key, Length, Pointer, Stated, Toward};
use dryfit_plan::{Front, Hand};

use super::FrontOpening;
use super::carcass::Carcass;
use super::job::Job;
use crate::finding::{Finding, Severity};

/// The path of a front that is not split: it has no key of its own.
pub(super) const WHOLE: &str = "front";

/// One opening of the face frame across its whole width, from the top down.
pub(super) struct Row<'a> {
    /// The front's keys in the plan's tree, joined by dots.
    pub(super) path: String,
    /// What closes it; none where the unit states no fronts.
    pub(super) front: Option<&'a Front>,
    /// Where the front is stated.
    pub(super) at: Pointer,
    /// Lower edge of the opening, in the unit.
    pub(super) bottom: Dim,
    /// Clear height.
    pub(super) height: Dim,
    /// The bays from left to right: two where a stile stands between a pair of doors, or as many as a box without
    /// a frame is divided into.
    pub(super) bays: Vec<Bay>,
    /// Without a frame: the lower edge of its front, in the unit, and the front's height.
    pub(super) face: Option<(Dim, Dim)>,
}

/// A clear part of a row.
pub(super) struct Bay {
    /// Left edge in the unit.
    pub(super) left: Length,
    /// Clear width.
    pub(super) width: Dim,
    /// The row's path, and the side where there are two.
    pub(super) path: String,
    /// Without a frame: the left edge of its front, in the unit, and the front's width.
    pub(super) face: Option<(Length, Dim)>,
}

impl Row<'_> {
    /// Upper edge of the opening.
    pub(super) fn top(&self) -> Dim {
        &self.bottom + &self.height
    }

    /// Whether doors or nothing close it, so that shelves can be reached.
    pub(super) fn takes_shelves(&self) -> bool {
        !matches!(self.front, Some(Front::Drawer { .. } | Front::Fixed { .. }))
    }

    /// Whether a drawer fills it.
    pub(super) fn is_drawer(&self) -> bool {
        matches!(self.front, Some(Front::Drawer { .. }))
    }

    /// The clear width of the whole row, mid stile included.
    pub(super) fn right(&self) -> Length {
        self.bays.last().map_or(Length::ZERO, |bay| bay.left + bay.width.length())
    }
}

/// The rows of a unit's front, from the top down, and what there is to say about their heights.
pub(super) fn rows<'a>(job: &Job<'a>, carcass: &Carcass) -> (Vec<Row<'a>>, Vec<Finding>) {
    let leaves = stated_fronts(job);
    let rail = job.figure("frame-rail");
    let rails = i64::try_from(leaves.len()).unwrap_or(i64::MAX).saturating_add(1);
    let clear = (&carcass.height - &carcass.frame_foot - &rail * rails).named("frame opening height");
    let (heights, findings) = heights(job, &clear, &leaves);

    let mut rows = Vec::new();
    let mut bottom = &carcass.frame_foot + &rail;
    for ((path, front, at), height) in leaves.into_iter().zip(heights).rev() {
        let top = &bottom + &height;
        let bays = bays(job, carcass, &path, front);
        rows.push(Row { path, front, at, bottom, height, bays, face: None });
        bottom = &top + &rail;
    }
    rows.reverse();
    (rows, findings)
}

/// A front that is not split further: its path, what closes it, and where it is stated.
pub(super) type StatedFront<'a> = (String, Option<&'a Front>, Pointer);

/// The fronts of a unit that are not split further, from the top; one that is open where none is stated.
pub(super) fn stated_fronts<'a>(job: &Job<'a>) -> Vec<StatedFront<'a>> {
    let at = job.pointer().child("fronts");
    let mut leaves = Vec::new();
    if let Some(front) = &job.unit.fronts {
        leaf_fronts(front, String::new(), at.clone(), &mut leaves);
    }
    if leaves.is_empty() {
        leaves.push((WHOLE.to_owned(), None, at));
    }
    leaves
}

/// Fronts that are not split further, from the top, with their paths and places.
fn leaf_fronts<'a>(front: &'a Front, path: String, at: Pointer, leaves: &mut Vec<StatedFront<'a>>) {
    let Front::Down { order, parts } = front else {
        let path = if path.is_empty() { WHOLE.to_owned() } else { path };
        leaves.push((path, Some(front), at));
        return;
    };
    let parts_at = at.child("down").child("parts");
    for key in order {
        if let Some(part) = parts.get(key) {
            let path = if path.is_empty() { key.to_string() } else { format!("{path}.{key}") };
            leaf_fronts(part, path, parts_at.child(key.as_str()), leaves);
        }
    }
}

/// The stated height of a front's opening, and where it is stated.
fn stated_height(front: &Front, at: &Pointer) -> Option<(Stated, Pointer)> {
    let (kind, height) = match front {
        Front::Door { height, .. } => ("door", height),
        Front::Pair { height } => ("pair", height),
        Front::Drawer { height, .. } => ("drawer", height),
        Front::Fixed { height } => ("fixed", height),
        Front::Open { height } => ("open", height),
        Front::Down { .. } => return None,
    };
    height.map(|height| (height, at.child(kind).child("height")))
}

/// The clear heights, from the top: stated ones as they are, the others an equal share on the tape's marks, and
/// the lowest of them (or the lowest of all) what is left.
pub(super) fn heights(job: &Job<'_>, clear: &Dim, leaves: &[StatedFront<'_>]) -> (Vec<Dim>, Vec<Finding>) {
    let stated: Vec<Option<Dim>> = leaves
        .iter()
        .map(|(_, front, at)| {
            let (height, at) = stated_height((*front)?, at)?;
            Some(Dim::chosen(height.length, at).named("opening height"))
        })
        .collect();
    let given: Dim = stated.iter().flatten().sum();
    let left = clear - &given;
    let open = stated.iter().filter(|height| height.is_none()).count();
    let last = stated.iter().rposition(Option::is_none).unwrap_or(stated.len().saturating_sub(1));
    let mut findings = Vec::new();
    if open == 0 && !left.length().is_zero() {
        let what = format!(
            "the {} of `{}` are stated {} high in all, and its {} {}",
            if job.framed() { "openings" } else { "fronts" },
            job.placed.key,
            job.show(given.length()),
            if job.framed() { "frame leaves" } else { "box leaves" },
            job.show(clear.length())
        );
        let mut finding = job.finding(Severity::Look, "casework/front-heights", what);
        let lowest = leaves.last().and_then(|(path, front, at)| Some((path, stated_height((*front)?, at)?)));
        if let Some((path, (height, at))) = lowest {
            let length = height.length + left.length();
            let what = if job.framed() { "opening of" } else { "front" };
            let label = format!("make the {what} `{path}` {} high", job.show(length));
            finding.fixes = job.put_length(label, &at, length).into_iter().collect();
        }
        finding.because = vec![clear.clone(), given.named("stated heights")];
        findings.push(finding);
    }
    let share = if open > 1 {
        left.split(open).remove(0).rounded(job.plan.fineness, Toward::Down).named("opening height")
    } else {
        Dim::zero()
    };
    let mut heights: Vec<Dim> =
        stated.iter().map(|height| height.clone().unwrap_or_else(|| share.clone())).collect();
    let others: Dim = heights.iter().enumerate().filter(|(i, _)| *i != last).map(|(_, height)| height).sum();
    if let Some(height) = heights.get_mut(last) {
        *height = (clear - others).named("opening height");
    }
    (heights, findings)
}

/// The bays of a row: one, or two where a pair is too wide to close on itself.
fn bays(job: &Job<'_>, carcass: &Carcass, path: &str, front: Option<&Front>) -> Vec<Bay> {
    let stile = job.figure("frame-stile");
    let width = (&carcass.over_all - &stile * 2).named("opening width");
    let left = stile.length() - carcass.overhang[0].length();
    let most = job.figure("door-pair-opening-most");
    if !matches!(front, Some(Front::Pair { .. })) || width.length() <= most.length() {
        return vec![Bay { left, width, path: path.to_owned(), face: None }];
    }
    let mid = job.figure("frame-mid-stile");
    let halves = (&width - &mid).split(2);
    let right = left + halves[0].length() + mid.length();
    let bay = |left: Length, half: &Dim, side: &str| Bay {
        left,
        width: half.clone().named("opening width"),
        path: format!("{path}.{side}"),
        face: None,
    };
    vec![bay(left, &halves[0], "left"), bay(right, &halves[1], "right")]
}

/// Openings that something closes, as planned.
pub(super) fn openings(rows: &[Row<'_>]) -> Vec<FrontOpening> {
    let closed = rows.iter().filter(|row| !matches!(row.front, None | Some(Front::Open { .. })));
    closed
        .flat_map(|row| {
            row.bays.iter().map(|bay| FrontOpening {
                front: bay.path.clone(),
                width: bay.width.clone(),
                height: row.height.clone(),
                at: [bay.left, row.bottom.length()],
            })
        })
        .collect()
}

/// A door, drawer front or fixed front as it sits on or in its opening.
pub(super) struct Leaf {
    /// The front's path, and the side where there are two.
    pub(super) path: String,
    /// The side of its hinges; none where it has none.
    pub(super) hinge: Option<Hand>,
    /// Left edge in the unit.
    pub(super) left: Length,
    /// Lower edge in the unit.
    pub(super) bottom: Dim,
    /// Over all.
    pub(super) width: Dim,
    /// Over all.
    pub(super) height: Dim,
    /// It meets another leaf in the middle of its opening.
    pub(super) paired: bool,
}

/// The leaves that close a row.
pub(super) fn leaves(job: &Job<'_>, row: &Row<'_>) -> Vec<Leaf> {
    if let Some((bottom, height)) = &row.face {
        return super::frameless::leaves(job, row, bottom, height);
    }
    let (hinge, pair) = match row.front {
        Some(Front::Door { hinge, .. }) => (Some(*hinge), false),
        Some(Front::Pair { .. }) => (None, true),
        Some(Front::Drawer { .. } | Front::Fixed { .. }) => (None, false),
        _ => return Vec::new(),
    };
    let fit = job.recipe_pointer().child("fit");
    // How far a leaf reaches past the edge of its opening: a lap, or a gap taken off.
    let (past, gap) = if job.overlays() {
        (job.figure("door-overlay"), job.figure("door-pair-gap"))
    } else {
        (-job.figure("door-inset-gap"), job.figure("door-inset-gap"))
    };
    let past = past.decided_by([fit.clone()]).named(if job.overlays() { "lap" } else { "gap taken off" });
    let over = |clear: &Dim, name: &'static str| (clear + &past * 2).named(name);
    let noun =
        if row.is_drawer() || matches!(row.front, Some(Front::Fixed { .. })) { "front" } else { "door" };
    let height = over(&row.height, if noun == "door" { "door height" } else { "front height" });
    let bottom = &row.bottom - &past;
    let leaf = |path: &str, hinge: Option<Hand>, left: Length, width: Dim, paired: bool| Leaf {
        path: path.to_owned(),
        hinge,
        left,
        bottom: bottom.clone(),
        width,
        height: height.clone(),
        paired,
    };
    match row.bays.as_slice() {
        [bay] if pair => {
            let gap = gap.decided_by([fit]).named("gap of the pair");
            let [a, b] = pair_leaves(&bay.width, &past, &gap);
            let left = bay.left - past.length();
            let right = left + a.length() + gap.length();
            vec![
                leaf(&format!("{}.left", bay.path), Some(Hand::Left), left, a, true),
                leaf(&format!("{}.right", bay.path), Some(Hand::Right), right, b, true),
            ]
        }
        [left, right] => [(left, Hand::Left), (right, Hand::Right)]
            .map(|(bay, hand)| {
                leaf(&bay.path, Some(hand), bay.left - past.length(), over(&bay.width, "door"), false)
            })
            .into(),
        bays => bays
            .iter()
            .map(|bay| leaf(&bay.path, hinge, bay.left - past.length(), over(&bay.width, noun), false))
            .collect(),
    }
}

/// The widths of two doors in one opening, each of which reaches `past` its edge (or, below nothing, stays short
/// of it): opening + 2 x past - gap, halved.
pub(super) fn pair_leaves(opening: &Dim, past: &Dim, gap: &Dim) -> [Dim; 2] {
    let both = (opening + past * 2 - gap).named("both doors");
    [0, 1].map(|i| both.split(2).swap_remove(i).named("door"))
}

/// A role path: the unsplit front needs no name of its own.
pub(super) fn role(kind: &str, path: &str) -> String {
    match path.strip_prefix(WHOLE) {
        Some(rest) => format!("{kind}{rest}"),
        None => format!("{kind}.{path}"),
    }
}

/// The keys of a plan's front tree that name nothing, for findings.
pub(super) fn unknown_keys(front: &Front) -> Vec<Key> {
    match front {
        Front::Down { order, parts } => {
            let missing = order.iter().filter(|key| !parts.contains_key(*key)).cloned();
            missing.chain(parts.values().flat_map(unknown_keys)).collect()
        }
        _ => Vec::new(),
    }
}
