//! Hinges: how many a door takes, and cups that miss the shelves behind it.

use dryfit_handbook::{Source, hinge_bands};
use dryfit_measure::{Dim, Length, Mass, Toward};
use dryfit_plan::{Form, Hand, Role};

use super::front::Leaf;
use super::job::{Job, goods_pointer};
use super::part::Span;
use super::uprights::Grid;
use super::{Holes, OperationKind, Part};
use crate::finding::{Finding, Severity};

/// How many hinges a door of this height and mass takes: the greater of what its height and what its mass ask
/// for, by the handbook's bands (hinge makers' charts; makers differ).
pub(super) fn count(height: Length, mass: Mass) -> usize {
    let bands = hinge_bands();
    let most = bands.last().map_or(2, |band| band.hinges);
    let by_height = bands.iter().find(|band| height <= band.height.length).map_or(most, |band| band.hinges);
    let by_mass = bands.iter().find(|band| mass <= band.mass()).map_or(most, |band| band.hinges);
    by_height.max(by_mass)
}

/// Centres of the cups from the lower end of the door; on the grid of the shelf pins, where there is one.
pub(super) fn cups(
    job: &Job<'_>,
    leaf: &Leaf,
    mass: Mass,
    shelves: &[[Dim; 2]],
    grid: Option<&Grid>,
) -> Vec<Dim> {
    let count = count(leaf.height.length(), mass);
    let quarter = leaf.height.split(4).remove(0);
    let end = Dim::least([job.figure("hinge-from-end"), quarter]).named("hinge from the end");
    let between = &leaf.height - &end * 2;
    let step = between.split(count.saturating_sub(1).max(1)).remove(0);
    let evenly = (0..count).map(|k| {
        if k + 1 == count { &leaf.height - &end } else { &end + &step * i64::try_from(k).unwrap_or(0) }
    });
    let clear = job.figure("hinge-shelf-clear");
    let edge = cup_radius(job) + Length::INCH;
    // how many there are hangs on the door's mass, and so on how thick it is
    let stock =
        [Role::Door, Role::Panel].into_iter().filter_map(|role| Some((job.stock(role)?.thickness, 0.0)));
    let mass: Vec<(Dim, f64)> = stock.collect();
    evenly
        .map(|place| {
            let inputs: Vec<(Dim, f64)> = std::iter::once((place.clone(), 1.0)).chain(mass.clone()).collect();
            let place = Dim::worked(place.length(), "one of as many as height and mass ask for", inputs);
            let place = clear_of(place, leaf, shelves, &clear, edge);
            grid.and_then(|grid| on_grid(grid, &place, leaf, shelves, &clear, edge)).unwrap_or(place)
        })
        .collect()
}

/// The place on the grid that is nearest to `place`, on the door and clear of the shelves; none where there is none.
fn on_grid(
    grid: &Grid,
    place: &Dim,
    leaf: &Leaf,
    shelves: &[[Dim; 2]],
    clear: &Dim,
    edge: Length,
) -> Option<Dim> {
    let up = place.length() + leaf.bottom.length();
    let free = |at: &Dim| {
        let [low, high] = [edge, leaf.height.length() - edge];
        let own = at.length() - leaf.bottom.length();
        let hit = |[under, over]: &[Dim; 2]| {
            under.length() - clear.length() < at.length() && at.length() < over.length() + clear.length()
        };
        own >= low && own <= high && !shelves.iter().any(hit)
    };
    let at = grid.near(up).into_iter().find(free)?;
    let at = at - &leaf.bottom;
    // which place of the grid it is hangs on where the cup would be without one
    Some(Dim::worked(at.length(), "cup on the grid of the pins", [(at, 1.0), (place.clone(), 0.0)]))
}

/// The nearest place to `place` at which no shelf comes closer to the cup's centre than `clear`.
fn clear_of(place: Dim, leaf: &Leaf, shelves: &[[Dim; 2]], clear: &Dim, edge: Length) -> Dim {
    let zones: Vec<[Dim; 2]> =
        shelves.iter().map(|[low, high]| [low - &leaf.bottom - clear, high - &leaf.bottom + clear]).collect();
    let blocked = |at: Length| zones.iter().any(|[low, high]| low.length() < at && at < high.length());
    if !blocked(place.length()) {
        return place;
    }
    let within = |at: Length| at >= edge && at <= leaf.height.length() - edge;
    zones
        .iter()
        .flatten()
        .filter(|side| !blocked(side.length()) && within(side.length()))
        .min_by_key(|side| ((side.length() - place.length()).abs(), side.length()))
        .map_or(place.clone(), |side| side.clone().named("cup clear of the shelf"))
}

/// A cup that stands before a shelf, where the door leaves it no place that does not.
pub(super) fn shelf_finding(
    job: &Job<'_>,
    leaf: &Leaf,
    cups: &[Dim],
    shelves: &[[Dim; 2]],
) -> Option<Finding> {
    let clear = job.figure("hinge-shelf-clear");
    let hit = |cup: &Dim| {
        let centre = cup.length() + leaf.bottom.length();
        shelves.iter().find(|[low, high]| {
            low.length() - clear.length() < centre && centre < high.length() + clear.length()
        })
    };
    let (cup, shelf) = cups.iter().find_map(|cup| Some((cup, hit(cup)?)))?;
    let what = format!(
        "a hinge of the door `{}` in `{}` stands before a shelf, and its door leaves it no other place",
        leaf.path, job.placed.key
    );
    let mut finding = job.finding(Severity::Stop, "casework/cup-shelf", what);
    finding.because = vec![cup.clone(), shelf[0].clone()];
    if let Some(fewer) = job.unit.shelves.checked_sub(1) {
        let at = job.pointer().child("shelves");
        let label = format!("give `{}` one shelf fewer", job.placed.key);
        let edit = dryfit_plan::Edit::set(job.plan, &at, fewer, label.clone());
        finding.fixes.push(crate::finding::Fix { label, edit });
    }
    Some(finding)
}

fn cup_radius(job: &Job<'_>) -> Length {
    match job.good(Role::Hinge).map(|good| &good.form) {
        Some(Form::Hinge { cup, .. }) => cup.length.div_floor(2),
        _ => Length::ZERO,
    }
}

/// What is left of the stile between its edge and the cup: B, where the cup's centre is B + radius in.
pub(super) fn boring_distance(cup: Length, cup_in: Length) -> Length {
    cup_in - cup.div_floor(2)
}

/// Cups too near to the door's edge, or so far in that they break into the groove of the stile.
pub(super) fn cup_finding(job: &Job<'_>) -> Option<Finding> {
    let Form::Hinge { cup, cup_in, .. } = &job.good(Role::Hinge)?.form else { return None };
    if super::door::is_slab(job) {
        return edge_finding(job, cup.length, cup_in.length);
    }
    let stile = job.figure("door-stile");
    let solid = (&stile - job.figure("door-tongue")).named("stile without its groove");
    let edge = boring_distance(cup.length, cup_in.length);
    let inner = edge + cup.length;
    let mut fixes = Vec::new();
    let what = if edge < LEAST_EDGE || edge > MOST_EDGE {
        format!(
            "the cups of `{}` leave {} to the door's edge, and hinges are made for 3 to 8 mm",
            job.placed.key,
            job.show(edge)
        )
    } else if inner > solid.length() {
        let wide = stile.length() + inner - solid.length();
        fixes.extend(job.put_figure("door-stile", wide.round_to(job.plan.fineness, Toward::Up)));
        format!(
            "the cups of `{}` reach {} into stiles that are solid for {}",
            job.placed.key,
            job.show(inner),
            job.show(solid.length())
        )
    } else {
        return None;
    };
    let mut finding = job.finding(Severity::Stop, "casework/hinge-cup", what);
    finding.source = Source::Unverified { name: "hinge makers' literature".to_owned() };
    finding.because = vec![solid];
    finding.fixes = fixes;
    Some(finding)
}

/// Cups too near to the edge of a slab door, or too far in for any hinge.
fn edge_finding(job: &Job<'_>, cup: Length, cup_in: Length) -> Option<Finding> {
    let edge = boring_distance(cup, cup_in);
    if edge >= LEAST_EDGE && edge <= MOST_EDGE {
        return None;
    }
    let what = format!(
        "the cups of `{}` leave {} to the door's edge, and hinges are made for 3 to 8 mm",
        job.placed.key,
        job.show(edge)
    );
    let mut finding = job.finding(Severity::Stop, "casework/hinge-cup", what);
    finding.source = Source::Unverified { name: "hinge makers' literature".to_owned() };
    Some(finding)
}

/// The least and the most that hinge makers allow between cup and edge (hinge makers' literature: 3 to 8 mm).
const LEAST_EDGE: Length = Length::mm(3);
/// See [`LEAST_EDGE`].
const MOST_EDGE: Length = Length::mm(8);

/// Bores one cup into the back of the stile on the hinge side.
pub(super) fn bore(job: &Job<'_>, stile: Part, hand: Hand, place: &Dim) -> Part {
    let (Some(key), Some(Form::Hinge { cup, cup_in, .. })) =
        (job.good_key(Role::Hinge), job.good(Role::Hinge).map(|good| &good.form))
    else {
        return stile;
    };
    let record = goods_pointer(key).child("form").child("hinge");
    let bit = Dim::taped(cup.length, record.child("cup")).named("hinge cup");
    let inset = Dim::taped(cup_in.length, record.child("cup_in")).named("cup centre from the edge");
    let line = match hand {
        Hand::Left => Span::at(inset),
        Hand::Right => Span::at_high(inset),
    };
    let spans = [line, Span::High(job.figure("hinge-cup-depth")), Span::at(place.clone())];
    let holes = Holes { count: 1, pitch: Dim::zero(), bit };
    stile.drill(OperationKind::HingeCup, "for a hinge", &spans, holes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hinges_by_height_and_mass() {
        // C-hingecount-*: bands of hinge makers' charts (makers differ): height in inches, pounds, hinges
        for (height, pounds, hinges) in
            [(30, 8.0, 2), (41, 14.0, 3), (30, 20.0, 3), (66, 20.0, 4), (84, 40.0, 5)]
        {
            assert_eq!(count(Length::inches(height, 0, 1), Mass::from_pounds(pounds)), hinges, "{height} in");
        }
        // exactly at a band's edge it still counts in that band
        assert_eq!(count(Length::inches(40, 0, 1), Mass::from_pounds(15.0)), 2);
        assert_eq!(count(Length::inches(120, 0, 1), Mass::from_pounds(90.0)), 5);
    }

    #[test]
    fn cup_centres_by_boring_distance() {
        // C-hinge-B3 to B6: centre = B + 17.5 mm for a 35 mm cup (hinge makers' literature)
        for (boring, centre_um) in [(3, 20_500), (4, 21_500), (5, 22_500), (6, 23_500)] {
            assert_eq!(boring_distance(Length::mm(35), Length::um(centre_um)), Length::mm(boring));
        }
    }
}
