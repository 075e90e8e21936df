//! Every view of the demo as SVG, one after the other on standard output, each headed by its name: for the eye.
#![expect(clippy::print_stdout, reason = "it is its only output")]

use dryfit_cutting::Budget;
use dryfit_drawing::{Frame, svg, views};
use dryfit_plan::Plan;
use dryfit_stages::layouts::Answers;
use dryfit_stages::run;

fn main() {
    let text = include_str!("../../../demos/potting-room.toml");
    let Ok(read) = Plan::from_toml(text) else { return };
    let derived = run(&read.plan, &Answers::new(), Budget { steps: 0, seed: 1 });
    let frame = Frame { width: 540.0, height: 480.0 };
    for wall in &derived.survey.walls {
        if let Some(drawing) = views::wall(&read.plan, &derived, &wall.key, frame) {
            println!("### wall-{}\n{}", wall.key, svg(&drawing));
        }
    }
}
