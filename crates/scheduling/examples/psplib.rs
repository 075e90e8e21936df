//! The benchmark: `psplib STEPS < INSTANCES.jsonl` solves published instances (in the form of `tests/psplib`) and
//! tells how far from the best known ends the schedules end.
#![expect(clippy::print_stdout, reason = "it is its only output")]

#[path = "../tests/psplib/mod.rs"]
mod psplib;

use dryfit_scheduling::{Budget, solve, verify};

fn main() -> std::io::Result<()> {
    let steps = std::env::args().nth(1).and_then(|text| text.parse().ok()).unwrap_or(0);
    let lines = std::io::read_to_string(std::io::stdin())?;
    let (mut solved, mut proven, mut equal, mut missed, mut wrong) = (0, 0, 0, 0, 0);
    let (mut gap, mut tried) = (0.0, 0);
    for instance in psplib::instances(&lines) {
        match (solve(&instance.job, Budget { steps, seed: 1 }), instance.best) {
            (Ok(answer), Some([_, best])) => {
                let end = answer.schedule.end();
                solved += 1;
                proven += usize::from(answer.proven);
                equal += usize::from(end <= best);
                gap += (end - best) as f64 / best as f64;
                tried += answer.steps;
                wrong +=
                    usize::from(!verify(&instance.job, &answer.schedule).is_empty() || answer.bound > best);
            }
            (Ok(_), None) => {
                println!("{}: solved, though it cannot be", instance.name);
                wrong += 1;
            }
            (Err(stuck), Some(best)) => {
                println!("{}: {stuck:?}, best known {best:?}", instance.name);
                missed += 1;
            }
            (Err(_), None) => {}
        }
    }
    println!(
        "{solved} solved, {missed} missed, {wrong} wrong; {equal} as good as the best known, {proven} proven; \
         mean {:.3} % over, {} schedules each",
        100.0 * gap / f64::from(solved.max(1)),
        tried / u64::try_from(solved.max(1)).unwrap_or(1)
    );
    Ok(())
}
