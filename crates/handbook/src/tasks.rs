//! How the work of a room goes: recipes of tasks, with what they wait for and how long they take.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::Source;

/// What makes tasks of one sort.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TaskRecipe {
    /// The first part of its tasks' names: `set`.
    pub id: String,
    /// What to do, with `{it}` for its subject.
    pub does: String,
    /// Work, a hold point, or a gate.
    #[serde(default)]
    pub kind: TaskKind,
    /// One for the whole `job`, or one for each of these.
    pub each: String,
    /// What the job has to have, for a task of the whole job.
    pub when: Option<String>,
    /// Minutes, whatever its size.
    pub fixed: u32,
    /// Minutes for each of what it is counted by.
    #[serde(default)]
    pub minutes: u32,
    /// What it is counted by.
    pub per: Option<String>,
    /// Whether it has to be done in one go.
    #[serde(default)]
    pub unbroken: bool,
    /// When it takes two people.
    #[serde(default)]
    pub two_people: TwoPeople,
    /// What has to be done before.
    #[serde(default)]
    pub after: Vec<Before>,
    /// Categories of goods that have to be there when it begins; of goods that are its subjects, its own alone.
    #[serde(default)]
    pub takes: Vec<String>,
    /// Who has to have seen what, or what is measured.
    pub seen: Option<String>,
    /// What can hurt here.
    pub caution: Option<String>,
}

/// Sorts of task.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TaskKind {
    /// Hands.
    #[default]
    Work,
    /// Nothing goes on before somebody has seen it.
    Hold,
    /// Nothing goes on before it has been measured.
    Gate,
}

/// When a task takes two.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TwoPeople {
    /// One is enough.
    #[default]
    Never,
    /// Where one person should not lift it.
    Heavy,
    /// Whatever it weighs.
    Always,
}

/// What a task waits for.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Before {
    /// The recipe of what has to be done.
    pub task: String,
    /// How long after, on the clock: "24 h".
    pub wait: Option<String>,
    /// How long after at the most.
    pub within: Option<String>,
    /// What goes on meanwhile.
    pub what: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    source: Source,
    task: Vec<TaskRecipe>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    toml::from_str(include_str!("../data/tasks.toml")).expect("our own table reads; a test proves it")
});

/// The recipes, in the order of the work.
pub fn task_recipes() -> &'static [TaskRecipe] {
    &TABLE.task
}

/// Where the order and its hours come from.
pub fn task_source() -> &'static Source {
    &TABLE.source
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wait(task: &str, before: &str) -> Option<&'static str> {
        let recipe = task_recipes().iter().find(|recipe| recipe.id == task)?;
        recipe.after.iter().find(|one| one.task == before)?.wait.as_deref()
    }

    #[test]
    fn what_a_task_waits_for_comes_before_it() {
        for (at, recipe) in task_recipes().iter().enumerate() {
            for before in &recipe.after {
                let place = task_recipes().iter().position(|other| other.id == before.task);
                assert!(place.is_some_and(|place| place < at), "{} after {}", recipe.id, before.task);
            }
        }
        assert_eq!(*task_source(), Source::Practice);
    }

    /// J-cure, data-sheet practice: mortar 24 h before grout; grout 72 h for heavy things; glue 24 h in full, 30 to
    /// 60 min in clamps; contact adhesive 20 min; waterborne paint 4 h; joint compound 24 h a coat; silicone 24 h.
    #[test]
    fn waits_are_those_of_data_sheets() {
        for (task, before, expected) in [
            ("grout", "tile", "24 h"),
            ("set", "grout", "72 h"),
            ("set", "build", "24 h"),
            ("openings", "build", "1 h"),
            ("join", "spread", "20 min"),
            ("paint-walls-again", "paint-walls", "4 h"),
            ("fill", "close", "24 h"),
            ("clean", "seal", "24 h"),
        ] {
            assert_eq!(wait(task, before), Some(expected), "{task} after {before}");
        }
    }
}
