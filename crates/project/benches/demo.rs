//! What an edit costs: the demo derived again with its layouts remembered, and its packet set, as multiples of
//! reading and writing its plan as JSON in the same run. Machines are noisy, so only the ratios mean anything.
#![expect(clippy::disallowed_methods, reason = "a benchmark looks at the clock")]
#![expect(clippy::print_stdout, reason = "it prints its table")]

use std::hint::black_box;
use std::time::{Duration, Instant};

use dryfit_plan::Plan;
use dryfit_project::{DEMOS, Project};

/// The median of so many runs.
const RUNS: usize = 15;

fn median(mut work: impl FnMut()) -> Duration {
    work();
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let begun = Instant::now();
            work();
            begun.elapsed()
        })
        .collect();
    times.sort();
    times[RUNS / 2]
}

fn main() {
    for demo in DEMOS {
        let project = match Project::from_text(demo.name, demo.plan().into_owned()) {
            Ok(project) => project,
            Err(fault) => {
                println!("{}: {fault}", demo.name);
                continue;
            }
        };
        let json = median(|| {
            let text = black_box(&project.plan).to_json().to_string();
            let read = Plan::from_json_text(black_box(&text));
            assert!(read.is_ok(), "a plan reads back");
        });
        let derive = median(|| {
            black_box(project.with(project.plan.clone(), String::new()));
        });
        let packet = median(|| {
            assert!(black_box(project.packet(None)).is_ok(), "a packet is set");
        });
        let first = {
            let begun = Instant::now();
            black_box(Project::from_text(demo.name, demo.plan().into_owned()).is_ok());
            begun.elapsed()
        };
        let times = |time: Duration, unit: Duration| time.as_secs_f64() / unit.as_secs_f64().max(1e-9);
        println!("{}", demo.name);
        println!("  plan to JSON and back                       1.0  ({:.2} ms)", json.as_secs_f64() * 1e3);
        println!("  derived again, layouts remembered   {:>11.1}  (aim: under 20)", times(derive, json));
        println!("  opened, layouts searched            {:>11.1}", times(first, json));
        println!("  packet, as a multiple of deriving   {:>11.1}", times(packet, derive));
    }
}
