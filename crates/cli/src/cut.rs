//! `dryfit cut`: lay parts out on sheets or lengths, from a job of bare numbers.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use clap::{ArgGroup, Args};
use dryfit_project::{CutSearch, Overwrite, read_text, write};

use crate::progress::Doing;
use crate::said::{Ended, Outcome, say};

/// Lay parts out on sheets or lengths: guillotine cuts, kerf, grain, several stocks
#[derive(Args)]
#[command(
    group = ArgGroup::new("budget"),
    after_help = "A job is JSON with `sheets` or `stocks`, and `parts`. The same job, steps and seed give the same layout."
)]
pub struct Cut {
    /// The job
    job: PathBuf,
    /// The layout to write; standard output when left out
    #[arg(short, long, value_name = "LAYOUT")]
    output: Option<PathBuf>,
    /// Search for so long
    #[arg(long, group = "budget", value_name = "N", value_parser = seconds)]
    seconds: Option<Duration>,
    /// Search for so many steps
    #[arg(long, group = "budget", value_name = "N")]
    steps: Option<u64>,
    /// Seed of the search
    #[arg(long, default_value_t = 1, value_name = "S")]
    seed: u64,
    /// Write over a layout that is there already
    #[arg(long)]
    replace: bool,
}

fn seconds(text: &str) -> Result<Duration, String> {
    let example = || format!("`{text}` is no number of seconds; write 10 or 0.5");
    let seconds: f64 = text.parse().map_err(|_| example())?;
    Duration::try_from_secs_f64(seconds).map_err(|_| example())
}

impl Cut {
    /// Searches, verifies with the independent verifier, writes.
    pub fn run(self) -> Ended {
        let text = read_text(&self.job)?;
        let doing = Doing::now("laying out");
        let mut search = CutSearch::begin(&text, self.seed)?;
        self.spend(&mut search);
        let answer = search.answer();
        drop(doing);
        if let Some(fault) = answer.refused.first() {
            return Err(format!(
                "the verifier refused the layout, which is a mistake in this program: {fault}"
            )
            .into());
        }
        if let Some(path) = &self.output {
            let overwrite = if self.replace { Overwrite::Replace } else { Overwrite::Refuse };
            write(path, answer.layout.as_bytes(), overwrite)?;
            say(&format!("{}\nlayout: {}\n", answer.summary, path.display()))?;
        } else {
            say(&format!("{}\n", answer.layout.trim_end()))?;
            eprintln!("{}", answer.summary);
        }
        for why in &answer.cannot {
            eprintln!("cannot be cut: {why}");
        }
        Ok(Outcome::unless(!answer.cannot.is_empty()))
    }

    /// Runs a search until it is proven or the budget is spent. The clock is looked at here and nowhere else.
    fn spend(&self, search: &mut CutSearch) {
        match self.seconds {
            None => {
                search.run(self.steps.unwrap_or_else(|| search.usual_steps()));
            }
            Some(budget) => {
                #[expect(clippy::disallowed_methods, reason = "this is the door where the clock comes in")]
                let begun = Instant::now();
                while begun.elapsed() < budget && !search.run(search.stride()) {}
            }
        }
    }
}
