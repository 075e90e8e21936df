//! Why a dimension is what it is.

use dryfit_measure::{Line, explain};
use dryfit_stages::dims::Derivation;
use dryfit_stages::likely::likely;

use crate::open::Project;

/// A dimension with its reason as lines.
#[derive(Clone, Debug)]
pub struct Why {
    /// The reason, the number itself first.
    pub lines: Vec<Line>,
    /// One standard deviation of it as the readings stand, in the plan's unit; none where no reading moves it.
    pub sigma: Option<String>,
}

/// A place or a dimension that is not there.
#[derive(Debug, thiserror::Error)]
#[error("{0}")]
pub struct NoSuchDimension(String);

/// The most lines that an answer takes.
const LINES: usize = 12;

impl Project {
    /// Explains `PLACE.DIMENSION`, split at the last dot: `b3/side.left.length`, `b3.width`, `AB.length`.
    pub fn why(&self, asked: &str) -> Result<Why, NoSuchDimension> {
        let derived = &self.derived;
        let all = derived.dims();
        let Some((place, dimension)) = asked.rsplit_once('.') else {
            return Err(NoSuchDimension(format!(
                "`{asked}` names no dimension: write the place, a dot, and what of it, such as `b1.width`"
            )));
        };
        let found = all.iter().find(|one| one.place == place && one.dimension == dimension);
        let Some(Derivation { dim, .. }) = found else {
            return Err(NoSuchDimension(missing(&all, place, dimension)));
        };
        let sigma = derived.survey.sigma(dim);
        Ok(Why {
            lines: explain(dim, self.plan.fineness, LINES),
            sigma: (sigma > 0.0).then(|| {
                let length = dryfit_measure::Length::from_mm_f64(sigma);
                length.figure(finest(self.plan.fineness), dryfit_measure::Toward::Up).to_string()
            }),
        })
    }
}

/// The finest marks of a unit, for a doubt that is smaller than what is cut to.
fn finest(fineness: dryfit_measure::Fineness) -> dryfit_measure::Fineness {
    match fineness.unit() {
        dryfit_measure::Unit::Inch => dryfit_measure::Fineness::In64,
        dryfit_measure::Unit::Millimetre => dryfit_measure::Fineness::HalfMm,
    }
}

fn missing(all: &[Derivation<'_>], place: &str, dimension: &str) -> String {
    let here: Vec<&str> = all.iter().filter(|one| one.place == place).map(|one| one.dimension).collect();
    if here.is_empty() {
        let nearest = likely(place, all.iter().map(|one| one.place.as_str()));
        let hint = nearest.map_or_else(
            || "; `check` lists the units, and their parts stand on their pages".to_owned(),
            |nearest| format!("; did you mean `{nearest}.{dimension}`?"),
        );
        format!("nothing is called `{place}`{hint}")
    } else {
        format!("`{place}` has no `{dimension}`; it has {}", here.join(", "))
    }
}
