//! The demo's order: every wait is kept, gates stand where they have to, and the bars say what may not slip.

use dryfit_cutting::Budget;
use dryfit_plan::Plan;

use dryfit_stages::layouts::Answers;
use dryfit_stages::order::{Order, Task};

fn demo() -> Order {
    let plan =
        Plan::from_toml(include_str!("../../../demos/potting-room.toml")).expect("the demo reads").plan;
    dryfit_stages::run(&plan, &Answers::new(), Budget { steps: 0, seed: 1 }).order
}

#[test]
fn every_task_of_the_demo_waits_for_what_it_has_to() {
    let order = demo();
    assert!(order.tasks.len() > 40, "{}", order.tasks.len());
    assert!(order.loose.is_empty());
    for task in &order.tasks {
        for after in &task.after {
            let Some(before) = order.task(&after.id) else { continue };
            let lag = task.times[0] - before.times[1];
            assert!(lag >= after.wait || before.done.is_some(), "{} after {}: {lag}", task.id, after.id);
            assert!(after.within.is_none_or(|within| lag <= within), "{} after {}: {lag}", task.id, after.id);
        }
        assert!(task.latest >= task.times[1], "{}", task.id);
    }
    assert!(order.bound <= order.end);
    assert!(order.tasks.iter().any(Task::is_critical));
}

/// Boxes that need no paint: their doors are made before they are hung all the same, and nothing is coated.
#[test]
fn doors_without_paint_are_made_before_they_are_hung() {
    let plan = Plan::from_toml(include_str!("../../../demos/ski-room.toml")).expect("the demo reads").plan;
    let order = dryfit_stages::run(&plan, &Answers::new(), Budget { steps: 0, seed: 1 }).order;
    let hung: Vec<&Task> = order.tasks.iter().filter(|task| task.id.starts_with("fronts/")).collect();
    assert!(!hung.is_empty());
    for task in hung {
        let made = order.task(&task.id.replace("fronts/", "make-fronts/")).expect("they are made");
        assert!(made.times[1] <= task.times[0], "{}", task.id);
    }
    assert!(!order.tasks.iter().any(|task| task.id.starts_with("finish")), "nothing is painted");
}

#[test]
fn one_builder_does_one_thing_at_a_time() {
    let order = demo();
    let mut open: Vec<[i64; 2]> =
        order.tasks.iter().filter(|task| task.done.is_none()).map(|task| task.times).collect();
    open.sort_unstable();
    for pair in open.windows(2) {
        assert!(pair[0][1] <= pair[1][0], "{pair:?}");
    }
}

#[test]
fn gates_and_hold_points_stand_before_what_they_guard() {
    let order = demo();
    let at = |id: &str| order.task(id).unwrap_or_else(|| panic!("{id} is a task")).times;
    for (before, after) in [
        ("isolate-water", "plumb/cold"),
        ("inspect", "close/BC"),
        ("openings", "make-fronts/b3"),
        ("make-fronts/b3", "finish/b3"),
        ("finish/b3", "finish-again/b3"),
        ("finish-again/b3", "set/b3"),
        ("finish-again/u1", "hang/u1"),
        ("cut/pine-2", "hang/s1"),
        ("close/DA", "planks/planks"),
        ("planks/planks", "paint-walls/lime"),
        ("splash-measure", "splash/splash"),
        ("set/b3", "fronts/b3"),
        ("set/b4", "units-set"),
        ("units-set", "top/slate"),
        ("spread/slate", "join/slate"),
        ("sink/b4", "pressure"),
        ("pressure", "clean"),
    ] {
        assert!(at(before)[1] <= at(after)[0], "{before} before {after}");
    }
    assert_eq!(order.tasks.last().map(|task| task.id.as_str()), Some("clean"));
    // whatever can be made without it is made before the water is shut
    let without = order.without_sink.expect("there is a sink");
    assert!(Order::days(without) < 50, "{}", Order::days(without));
    // what is sprayed in the shop is no wall
    assert!(order.task("paint-walls/lime").is_some() && order.task("paint-walls/moss").is_none());
}

#[test]
fn without_a_stated_start_there_is_still_an_order() {
    let mut plan =
        Plan::from_toml(include_str!("../../../demos/potting-room.toml")).expect("the demo reads").plan;
    plan.calendar = dryfit_plan::Calendar::default();
    plan.work.clear();
    let order = dryfit_stages::run(&plan, &Answers::new(), Budget { steps: 0, seed: 1 }).order;
    assert_eq!(order.start, None);
    assert!(order.end > 0);
    assert_eq!(order.next.first().map(String::as_str), Some("protect"));
}

/// Each thing that is carried home is on one trip, there before the task that takes it, and not three weeks early.
#[test]
fn trips_bring_everything_once_and_in_time() {
    for plan in
        [include_str!("../../../demos/potting-room.toml"), include_str!("../../../demos/ski-room.toml")]
    {
        let plan = Plan::from_toml(plan).expect("the demo reads").plan;
        let derived = dryfit_stages::run(&plan, &Answers::new(), Budget { steps: 0, seed: 1 });
        let (order, takeoff) = (&derived.order, &derived.takeoff);
        let mut brought: Vec<&str> =
            order.trips.iter().flat_map(|trip| &trip.goods).map(dryfit_measure::Key::as_str).collect();
        let all = brought.len();
        brought.sort_unstable();
        brought.dedup();
        assert_eq!(brought.len(), all, "nothing twice");
        let lead = |key: &dryfit_measure::Key| plan.goods[key].lead_days.unwrap_or(0);
        let fee = dryfit_plan::Category::Fees;
        for line in takeoff.lines.iter().filter(|line| line.is_bought()) {
            let carried = lead(&line.good) == 0 && line.category != fee;
            assert_eq!(brought.contains(&line.good.as_str()), carried, "{}", line.good);
        }
        assert!((1..=8).contains(&order.trips.len()), "{} trips", order.trips.len());
        let days: Vec<i64> = order.trips.iter().map(|trip| trip.day).collect();
        let day_of =
            |good: &str| order.trips.iter().find(|trip| trip.goods.iter().any(|it| it.as_str() == good));
        for (good, task) in
            [("tile-floor", "tile/floor"), ("pine-2", "cut/pine-2"), ("plank-5", "planks/planks")]
        {
            let (Some(trip), Some(task)) = (day_of(good), order.task(task)) else { continue };
            let ahead = (task.times[0] - trip.day) / (24 * 60);
            assert!((1..=21).contains(&ahead), "{good}: {ahead} days ahead");
        }
        assert!(days.windows(2).all(|pair| pair[0] < pair[1]));
    }
}
