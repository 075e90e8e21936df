//! `services/hookup`: every sink has its drain and water, every appliance something to plug into, within reach.
//!
//! What it checks: in a plan that states services, the drain, hot and cold of each sink; for an appliance with a cord a
//! receptacle that serves it, with hoses a supply or standpipe; and that cord and hoses reach.
//!
//! Why it matters: what was forgotten is found when the wall is closed; a cord that does not reach gets an extension,
//! which does not belong there for good.
//!
//! Source: the plan; NEC 210.50(C) for six feet at most to an appliance's receptacle.
//!
//! Example: a cord of 60 in reaches a receptacle 18 in up behind a fridge 24 in wide.
//!
//! Remedy: a receptacle behind it; the receptacle moved behind it; for a sink, pipes up from the floor.

use dryfit_measure::{Dim, Key, Length, Pointer, Stated, Toward};
use dryfit_plan::{BoxPurpose, Carries, Draft, Form, Node, PipeRun, Place, Service, UnitKind, WallFace};

use super::Checked;
use super::found::{found, unit_at};
use super::piped::{receptacle_at, stated_at};
use crate::finding::{Finding, Fix, Severity};
use crate::placement::PlacedUnit;
use crate::services::{DrainWindow, NodeKind, PlacedBox, PlacedRun, RunKind};

const RULE: &str = "services/hookup";

/// What is not served, or out of reach.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    // who states no services has not come to them yet
    if checked.plan.services.is_empty() {
        return Vec::new();
    }
    let sinks = checked.services.windows.iter().flat_map(|window| of_sink(checked, window));
    let appliance = |unit: &&PlacedUnit| unit.kind == UnitKind::Appliance;
    let appliances =
        checked.placement.units.iter().filter(appliance).flat_map(|unit| of_appliance(checked, unit));
    sinks.chain(appliances).collect()
}

fn serving<'a>(checked: &Checked<'a>, kind: RunKind, unit: &Key) -> Option<&'a PlacedRun> {
    checked.services.runs.iter().find(|run| run.kind == kind && run.serves.as_ref() == Some(unit))
}

fn missing(unit: &Key, what: &str, fixes: Vec<Fix>) -> Finding {
    let said = format!("no {what} serves `{unit}`");
    let key = Key::new(&what.replace(' ', "-"));
    let subjects = std::iter::once(unit.clone()).chain(key).collect();
    let finding = found(RULE, Severity::Look, subjects, unit_at(unit).child("holds"), said);
    Finding { fixes, ..finding }
}

fn of_sink(checked: &Checked<'_>, window: &DrainWindow) -> Vec<Finding> {
    let unit = &window.unit;
    let mut findings = Vec::new();
    if serving(checked, RunKind::Drain, unit).is_none() {
        findings.push(missing(unit, "drain", drained(checked, window).into_iter().collect()));
    }
    for (kind, carries, beside) in [(RunKind::Hot, Carries::Hot, -4), (RunKind::Cold, Carries::Cold, 4)] {
        if serving(checked, kind, unit).is_none() {
            let fix = supplied(checked, window, kind, carries, Length::inches(beside, 0, 1));
            findings.push(missing(unit, kind.word(), fix.into_iter().collect()));
        }
    }
    findings
}

/// How far below the datum a new pipe comes from.
const BELOW: Length = Length::inches(-10, 0, 1);

fn place(checked: &Checked<'_>, window: &DrainWindow, along: Length, up: Length) -> Place {
    let mark = |length| checked.mark(length, Toward::Nearest);
    Place {
        wall: window.outlet.wall.clone(),
        along: mark(along),
        up: Some(mark(up)),
        out: None,
        face: WallFace::Finish,
    }
}

/// A supply up from the floor beside the bowl, of the smallest pipe of half an inch or more.
fn supplied(
    checked: &Checked<'_>,
    window: &DrainWindow,
    kind: RunKind,
    carries: Carries,
    beside: Length,
) -> Option<Fix> {
    let good = checked.pipe_of(Length::inches(0, 1, 2))?;
    let key = checked.plan.free_key(&format!("{}-{}", window.unit, kind.word()))?;
    let along = window.outlet.along.length() + beside;
    let up = window.outlet.up.length() - Length::inches(4, 0, 1);
    let nodes = [
        ("low", Node::At(place(checked, window, along, BELOW))),
        ("turn", Node::At(place(checked, window, along, up))),
        ("stub", Node::Stub(place(checked, window, along, up))),
    ];
    let run = pipe(carries, good, &window.unit, nodes.into())?;
    let at = Pointer::root().child("services").child(key.as_str());
    let label = format!("bring {} water up behind `{}`", kind.word(), window.unit);
    Some(Fix::of(Draft::of(checked.plan).set(&at, Service::Pipe(run)).edit(label)))
}

fn pipe(carries: Carries, good: Key, unit: &Key, nodes: Vec<(&str, Node)>) -> Option<PipeRun> {
    let keyed: Option<Vec<(Key, Node)>> =
        nodes.into_iter().map(|(key, node)| Some((Key::new(key).ok()?, node))).collect();
    let keyed = keyed?;
    Some(PipeRun {
        name: None,
        carries,
        good,
        serves: Some(unit.clone()),
        found: false,
        order: keyed.iter().map(|(key, _)| key.clone()).collect(),
        nodes: keyed.into_iter().collect(),
        fittings: [].into(),
        with: Vec::new(),
        plate: None,
    })
}

/// A drain down behind the bowl, and a vent straight up from it.
fn drained(checked: &Checked<'_>, window: &DrainWindow) -> Option<Fix> {
    let size = Length::inches(1, 1, 2);
    let good = checked.pipe_of(size)?;
    let key = checked.plan.free_key(&format!("{}-drain", window.unit))?;
    let vent_key = checked.plan.free_key(&format!("{}-vent", window.unit))?;
    let middle = Length::from_nm(i64::midpoint(window.lowest.length().nm(), window.highest.length().nm()));
    let along = window.outlet.along.length();
    let mark = checked.plan.fineness.step();
    let nodes = [
        ("stub", Node::Stub(place(checked, window, along, middle))),
        ("tee", Node::At(place(checked, window, along, middle - mark))),
        ("low", Node::At(place(checked, window, along, BELOW))),
    ];
    let run = pipe(Carries::Drain, good.clone(), &window.unit, nodes.into())?;
    let joins = Node::Joins { service: key.clone(), node: Key::new("tee").ok()? };
    let ceiling = checked.survey.point_on_wall(&window.outlet.wall, along, Length::ZERO, Length::ZERO);
    let ceiling = ceiling.and_then(|at| checked.survey.levels.ceiling_over(at));
    let ceiling = ceiling.map_or(Length::inches(96, 0, 1), |dim| dim.length());
    let top = Node::At(place(checked, window, along, ceiling));
    let mut vent = pipe(Carries::Vent, good, &window.unit, [("foot", joins), ("top", top)].into())?;
    vent.serves = None;
    let at = |key: &Key| Pointer::root().child("services").child(key.as_str());
    let draft = Draft::of(checked.plan).set(&at(&key), Service::Pipe(run));
    let draft = draft.set(&at(&vent_key), Service::Pipe(vent));
    Some(Fix::of(draft.edit(format!("drain `{}` down behind its bowl, and vent it", window.unit))))
}

fn of_appliance(checked: &Checked<'_>, unit: &PlacedUnit) -> Vec<Finding> {
    let stated = checked.plan.units.get(&unit.key).and_then(|unit| unit.holds.as_ref());
    let Some((good, record)) = stated.and_then(|good| checked.plan.goods.get_key_value(good)) else {
        return Vec::new();
    };
    let Form::Appliance(form) = &record.form else { return Vec::new() };
    let at = Pointer::root().child("goods").child(good).child("form").child("appliance");
    let taped = |length: Stated, name: &'static str| Dim::taped(length.length, at.child(name)).named(name);
    let mut findings = Vec::new();
    if let Some(cord) = form.cord {
        let plugged = |placed: &&PlacedBox| {
            let stated = checked.plan.services.get(&placed.key);
            placed.purpose == BoxPurpose::Receptacle && stated.and_then(Service::serves) == Some(&unit.key)
        };
        match checked.services.boxes.iter().find(plugged) {
            None => findings.push(missing(&unit.key, "receptacle", vec![receptacle(checked, unit)])),
            Some(placed) => findings.extend(out_of_reach(checked, unit, placed, &taped(cord, "cord"))),
        }
    }
    if form.hose.is_some() && serving(checked, RunKind::Cold, &unit.key).is_none() {
        findings.push(missing(&unit.key, "cold", Vec::new()));
    }
    let stands = |run: &PlacedRun| run.nodes.iter().any(|node| node.kind == NodeKind::Standpipe);
    if form.drain_hose.is_some() && serving(checked, RunKind::Drain, &unit.key).is_none_or(|run| !stands(run))
    {
        findings.push(missing(&unit.key, "standpipe", Vec::new()));
    }
    findings
}

fn middle(unit: &PlacedUnit) -> Length {
    unit.along.length() + unit.width.length().div_floor(2)
}

/// A receptacle in the middle behind an appliance, eighteen inches up.
fn receptacle(checked: &Checked<'_>, unit: &PlacedUnit) -> Fix {
    let key = checked.plan.free_key(&format!("{}-receptacle", unit.key)).unwrap_or_else(|| unit.key.clone());
    let mark = |length| checked.mark(length, Toward::Nearest);
    let up = mark(unit.up.length() + Length::inches(18, 0, 1));
    let outlet = receptacle_at(&unit.wall, mark(middle(unit)), up, Some(unit.key.clone()));
    let at = Pointer::root().child("services").child(key.as_str());
    let label = format!("put a receptacle behind `{}`", unit.key);
    Fix::of(Draft::of(checked.plan).set(&at, outlet).edit(label))
}

/// A cord leaves its appliance at the foot of either side: it has to reach from the far one.
fn out_of_reach(checked: &Checked<'_>, unit: &PlacedUnit, placed: &PlacedBox, cord: &Dim) -> Option<Finding> {
    let rules = &checked.services.rules;
    let rule = &rules.wiring().cord;
    let (along, up) = (&placed.spot.along, &placed.spot.up - &unit.up);
    let far = Dim::greatest([along - &unit.along, unit.right() - along]);
    let up = if up.length().is_negative() { -up } else { up };
    let away = (far + up).named("way of the cord").placed(unit.key.as_str());
    let code = rules.dim(rule.reach.length, "cord", "to an appliance's receptacle at most");
    let most = Dim::least([cord.clone(), code]);
    let short = &away - &most;
    short.length().is_positive().then(|| {
        let what = format!(
            "the cord of `{}` goes {} to `{}`, and reaches {}",
            unit.key,
            checked.needed(&away),
            placed.key,
            checked.available(&most)
        );
        let at = stated_at(checked.plan, &placed.key).child("at");
        let subjects = vec![unit.key.clone(), placed.key.clone()];
        let mut finding = found(RULE, Severity::Look, subjects, at.child("along"), what);
        if !placed.found {
            let to = checked.mark(middle(unit), Toward::Nearest);
            let up = checked.mark(unit.up.length() + Length::inches(18, 0, 1), Toward::Nearest);
            let draft = Draft::of(checked.plan).set(&at.child("along"), to).set(&at.child("up"), up);
            let draft = draft.set(&at.child("wall"), &unit.wall);
            finding.fixes = vec![Fix::of(draft.edit(format!("move `{}` behind `{}`", placed.key, unit.key)))];
        }
        finding.because = vec![away, most];
        finding.short_by = Some(short);
        Finding { source: rules.cite_wiring(&rule.cite, rule.seen), ..finding }
    })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;
    use dryfit_measure::Pointer;
    use dryfit_plan::{Draft, Plan};

    fn without(keys: &[&str]) -> Plan {
        let plan = demo();
        let draft = keys.iter().fold(Draft::of(&plan), |draft, key| {
            draft.remove(&Pointer::parse(&format!("/services/{key}")).expect("a pointer"))
        });
        plan.apply(&draft.edit("forgotten")).expect("still a plan").0
    }

    #[test]
    fn everything_of_the_demo_is_served() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn what_is_missing_is_told_and_made() {
        for (keys, said) in [
            (&["waste", "air"][..], "no drain serves `b4`"),
            (&["hot"], "no hot serves `b4`"),
            (&["cold"], "no cold serves `b4`"),
            (&["rc3", "feed-fridge"], "no receptacle serves `a1`"),
        ] {
            let plan = without(keys);
            let findings = found(&plan, RULE);
            assert_eq!(findings.len(), 1, "{keys:?}");
            assert_eq!(findings[0].what, said);
            every_remedy_clears(&plan, &findings[0]);
        }
    }

    #[test]
    fn a_cord_that_just_reaches_passes_and_one_shorter_does_not() {
        // 18 up, and 40 - 27 1/4 or 51 1/4 - 40 along: 12 3/4 is further
        let cord = |length: &str| with(&demo(), "/goods/seed-fridge/form/appliance/cord", length);
        assert!(found(&cord("30 3/4 in"), RULE).is_empty());
        let plan = cord("30 11/16 in");
        let findings = found(&plan, RULE);
        assert_eq!(findings[0].what, "the cord of `a1` goes 30 3/4 in to `rc3`, and reaches 30 11/16 in");
        let (moved, _) = plan.apply(&findings[0].fixes[0].edit).expect("it applies");
        assert!(found(&moved, RULE).is_empty());
    }

    #[test]
    fn six_feet_are_the_most_whatever_the_cord() {
        let plan = with(&demo(), "/services/rc3/box/at/along", "90 in");
        assert!(found(&plan, RULE)[0].what.ends_with("and reaches 60 in"));
        let plan = with(&plan, "/goods/seed-fridge/form/appliance/cord", "100 in");
        assert!(found(&plan, RULE)[0].what.ends_with("and reaches 72 in"));
    }
}
