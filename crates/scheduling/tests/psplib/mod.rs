//! Published instances as lines of JSON: `name`, `best` (least and greatest known end, null where there is no
//! schedule), `capacities`, `durations`, `uses` by resource, `links` (from start, to start, least lag).

use dryfit_scheduling::{Activity, Event, Job, Link, Use};
use serde_json::Value;

pub struct Instance {
    pub name: String,
    /// None: no schedule keeps the lags.
    pub best: Option<[i64; 2]>,
    pub job: Job,
}

pub fn instances(lines: &str) -> Vec<Instance> {
    lines.lines().map(|line| instance(&serde_json::from_str(line).expect("a line of JSON"))).collect()
}

fn whole(value: &Value) -> i64 {
    value.as_i64().expect("a whole number")
}

fn list(value: &Value) -> Vec<i64> {
    value.as_array().expect("a list").iter().map(whole).collect()
}

fn rows(value: &Value) -> Vec<Vec<i64>> {
    value.as_array().expect("a list of lists").iter().map(list).collect()
}

fn index(number: i64) -> usize {
    usize::try_from(number).expect("an index")
}

fn instance(line: &Value) -> Instance {
    let activity = |(duration, uses): (i64, Vec<i64>)| Activity {
        duration,
        uses: uses
            .into_iter()
            .enumerate()
            .filter(|(_, amount)| *amount > 0)
            .map(|(resource, amount)| Use { resource, amount })
            .collect(),
        ..Activity::default()
    };
    let link = |row: Vec<i64>| Link {
        from: Event::start(index(row[0])),
        to: Event::start(index(row[1])),
        least: row[2],
        most: None,
    };
    Instance {
        name: line["name"].as_str().expect("a name").to_owned(),
        best: (!line["best"].is_null()).then(|| [whole(&line["best"][0]), whole(&line["best"][1])]),
        job: Job {
            activities: list(&line["durations"]).into_iter().zip(rows(&line["uses"])).map(activity).collect(),
            links: rows(&line["links"]).into_iter().map(link).collect(),
            capacities: list(&line["capacities"]),
            ..Job::default()
        },
    }
}
