//! The order of work as bars: a row for each sort of task, weeks across; black may not slip, a thin line shows how
//! far the rest may.

use dryfit_stages::order::{Order, Task, TaskKind};

use crate::metrics::words_width;
use crate::paper::{Anchor, Drawing, HatchKind, Pen, Point, Shape, Stroke, Weight, Words};
use crate::sketch::{Frame, Margins, Sketch, rectangle};

/// The most from one row to the next, points.
const ROW: f64 = 21.0;
/// The least.
const ROW_LEAST: f64 = 11.0;
/// Size of the names, points, where there is room for them.
const NAME: f64 = 11.5;
/// Letters of a name at the most.
const LETTERS: usize = 30;
/// Size of the dates, points.
const DATE: f64 = 10.5;
/// Height of the row of dates, points.
const HEAD: f64 = 20.0;
/// The least width of a bar, points.
const LEAST: f64 = 2.4;
/// Minutes of a week.
const WEEK: i64 = 7 * 24 * 60;

/// The bars; `None` where there is nothing to do.
pub fn order(order: &Order, frame: Frame) -> Option<Drawing> {
    let rows = rows(order);
    let from = order.tasks.iter().map(|task| task.times[0]).min()?.div_euclid(WEEK) * WEEK;
    let to = order.tasks.iter().map(|task| task.times[1].max(task.latest)).max()?;
    let row = ((frame.height - HEAD) / rows.len() as f64).clamp(ROW_LEAST, ROW);
    let size = NAME.min(row * 0.8);
    let wide = |text: &str| words_width(&[Words::Plain(text.to_owned())], size, Weight::Semibold);
    let left = rows.iter().map(|(name, _)| wide(name)).fold(0.0, f64::max) + 8.0;
    let high = HEAD + row * rows.len() as f64;
    let margins = Margins { left: 0.0, right: 0.0, bottom: 0.0, top: 0.0 };
    let things = [[0.0, 0.0], [frame.width, high]];
    let mut sketch = Sketch::new(alt(order, &rows), things, margins, Frame { height: high, ..frame });
    let span = (to - from).max(1) as f64;
    let x = |tick: i64| left + (tick - from) as f64 / span * (frame.width - left);

    sketch.layer("weeks");
    for week in 0.. {
        let monday = from + week * WEEK;
        if monday > to {
            break;
        }
        sketch.line(&[[x(monday), 0.0], [x(monday), high - HEAD * 0.4]], Pen::Hair);
        let room = (frame.width - left) * WEEK as f64 / span;
        let each = (52.0 / room).ceil().max(1.0) as i64;
        if week % each == 0 && x(monday) + 40.0 < frame.width {
            let at = [x(monday) + 2.0, high - HEAD * 0.4];
            sketch.text(at, order.day_name(monday), DATE, Weight::Semibold, Anchor::Left);
        }
    }
    for (index, (name, tasks)) in rows.iter().enumerate() {
        let y = high - HEAD - row * (index as f64 + 0.5);
        sketch.layer("rows").line(&[[0.0, y - row / 2.0], [frame.width, y - row / 2.0]], Pen::Hair);
        sketch.text([0.0, y], name.clone(), size, Weight::Semibold, Anchor::Left);
        sketch.layer("tasks");
        for task in tasks {
            one(&mut sketch, task, [x(task.times[0]), x(task.times[1]), x(task.latest)], [y, row]);
        }
    }
    Some(sketch.finish())
}

/// Tasks by the recipe that made them, in the order in which each sort begins.
fn rows(order: &Order) -> Vec<(String, Vec<&Task>)> {
    let mut rows: Vec<(&str, String, Vec<&Task>)> = Vec::new();
    for task in &order.tasks {
        let sort = task.id.split('/').next().unwrap_or(&task.id);
        match rows.iter_mut().find(|(known, ..)| *known == sort) {
            Some((.., tasks)) => tasks.push(task),
            None => rows.push((sort, name(task), vec![task])),
        }
    }
    rows.into_iter().map(|(_, name, tasks)| (name, tasks)).collect()
}

/// What a sort of task is called, without what it is about.
fn name(task: &Task) -> String {
    let verb = task.verb.replace(" of {it}", "").replace(" {it}", "");
    let short = verb.split(':').next().unwrap_or_default().trim_end_matches([',', ' ']);
    if short.chars().count() <= LETTERS {
        return short.to_owned();
    }
    let kept: String = short.chars().take(LETTERS).collect();
    let whole = kept.rsplit_once(' ').map_or(kept.as_str(), |(words, _)| words);
    format!("{}\u{2026}", whole.trim_end_matches([',', ' ']))
}

fn one(sketch: &mut Sketch, task: &Task, [begins, ends, latest]: [f64; 3], [y, row]: Point) {
    let half = row * 0.32;
    match task.kind {
        TaskKind::Gate => {
            sketch.shape(Shape::Fill {
                points: rectangle([begins - half, y - half], [begins + half, y + half]).to_vec(),
            });
        }
        TaskKind::Hold => {
            let corner = |k: usize| {
                let turn = (k as f64 + 0.5) * std::f64::consts::FRAC_PI_4;
                [begins + half * 1.1 * turn.cos(), y + half * 1.1 * turn.sin()]
            };
            let octagon: Vec<Point> = (0..8).map(corner).collect();
            sketch.face(&octagon, Pen::Edge);
        }
        TaskKind::Work => {
            let bar = rectangle([begins, y - half], [ends.max(begins + LEAST), y + half]);
            if latest > ends + LEAST && task.done.is_none() {
                sketch.line(&[[ends, y], [latest, y]], Pen::Hair);
            }
            if task.done.is_some() {
                sketch.face(&bar, Pen::Thin).hatched(&bar, HatchKind::Waste);
            } else if task.is_critical() {
                sketch.shape(Shape::Fill { points: bar.to_vec() });
            } else {
                sketch.face(&bar, Pen::Edge).outline(&bar, Pen::Edge, Stroke::Solid);
            }
        }
    }
}

fn alt(order: &Order, rows: &[(String, Vec<&Task>)]) -> String {
    let told: Vec<String> = rows
        .iter()
        .map(|(name, tasks)| {
            let from = tasks.iter().map(|task| task.times[0]).min().unwrap_or(0);
            let to = tasks.iter().map(|task| task.times[1]).max().unwrap_or(0);
            format!("{name}: {} to {}", order.day_name(from), order.day_name(to - 1))
        })
        .collect();
    format!("The order of work as bars over weeks. {}", told.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_stand_in_the_order_of_their_times() {
        let plan = dryfit_plan::Plan::from_toml(include_str!("../../../../demos/potting-room.toml"));
        let plan = plan.expect("the demo reads").plan;
        let budget = dryfit_cutting::Budget { steps: 0, seed: 1 };
        let derived = dryfit_stages::run(&plan, &dryfit_stages::layouts::Answers::new(), budget);
        let frame = Frame { width: 540.0, height: 560.0 };
        let drawing = order(&derived.order, frame).expect("there is work");
        let rows = rows(&derived.order);
        assert!(rows.len() > 25, "{}", rows.len());
        assert!(rows.iter().all(|(name, _)| !name.contains("{it}") && !name.is_empty()));
        let tasks: usize = rows.iter().map(|(_, tasks)| tasks.len()).sum();
        assert_eq!(tasks, derived.order.tasks.len());
        // what may not slip is filled, and nothing leaves the frame
        let filled = drawing.marks.iter().filter(|mark| matches!(mark.shape, Shape::Fill { .. })).count();
        let black = derived.order.tasks.iter().filter(|task| match task.kind {
            TaskKind::Gate => true,
            TaskKind::Hold => false,
            TaskKind::Work => task.is_critical(),
        });
        assert_eq!(filled, black.count());
        let wide = drawing.extent[1][0] - drawing.extent[0][0];
        assert!(wide * drawing.points_per_mm <= frame.width + 8.0, "{wide}");
    }
}
