//! The solvers' answers as a project file remembers them.

use dryfit_cutting::{Job, SheetAnswer, SheetLayout, verify_sheets};
use dryfit_stages::layouts::Answers;
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// An answer as it is written.
#[derive(Serialize, Deserialize)]
struct Kept {
    layout: Value,
    bound: dryfit_cutting::Bound,
    proven: bool,
    report: dryfit_cutting::SheetReport,
}

/// The answers as texts: the bare numbers asked, and what was answered. One that no text can hold is left out.
pub(crate) fn written(answers: &Answers) -> Vec<(String, String)> {
    let one = |(job, answer): (&String, &SheetAnswer)| {
        let kept = Kept {
            layout: serde_json::to_value(&answer.layout).ok()?,
            bound: answer.bound.clone(),
            proven: answer.proven,
            report: answer.report.clone(),
        };
        Some((job.clone(), serde_json::to_string(&kept).ok()?))
    };
    answers.iter().filter_map(one).collect()
}

/// The answers from their texts. One that the verifier has anything to say against is solved again.
pub(crate) fn read(kept: Vec<(String, String)>) -> Answers {
    kept.into_iter().filter_map(|(job, answer)| Some((job.clone(), one(&job, &answer)?))).collect()
}

fn one(job: &str, answer: &str) -> Option<SheetAnswer> {
    let kept: Kept = serde_json::from_str(answer).ok()?;
    let layout = SheetLayout::read(&kept.layout.to_string()).ok()?;
    let Ok(Job::Sheets(job)) = Job::read(job) else { return None };
    let sound = !layout.unplaced.is_empty() || verify_sheets(&job, &layout).is_empty();
    sound.then_some(SheetAnswer { layout, bound: kept.bound, proven: kept.proven, report: kept.report })
}
