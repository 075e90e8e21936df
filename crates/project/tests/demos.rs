//! The demos do what they are there for: the sound ones hold no *stop*, and the troubled one has its mistakes found
//! and mended.

use dryfit_project::{DEMOS, Demo, Project, demo};
use dryfit_stages::{Finding, Severity};

/// More remedies than this in a row would be one that undoes another.
const ENOUGH: usize = 60;

fn open(name: &str, text: &str) -> Project {
    Project::from_text(name, text.to_owned()).unwrap_or_else(|fault| panic!("{name}: {fault}"))
}

fn stops(project: &Project) -> Vec<&Finding> {
    project.derived.findings.iter().filter(|finding| finding.severity == Severity::Stop).collect()
}

fn ids(project: &Project) -> Vec<String> {
    project.derived.findings.iter().map(Finding::id).collect()
}

#[test]
fn a_demo_without_mistakes_holds_nothing_back() {
    for demo in DEMOS.iter().filter(|demo| demo.mistakes().is_none()) {
        let project = open(demo.name, &demo.plan());
        assert!(stops(&project).is_empty(), "{}: {:?}", demo.name, ids(&project));
    }
}

fn troubled() -> &'static Demo {
    demo("troubled-room").expect("a demo")
}

#[test]
fn each_mistake_alone_is_found() {
    let (sound, mistakes) = troubled().mistakes().expect("mistakes");
    let before = ids(&open("sound", sound));
    let mut missed = Vec::new();
    for mistake in mistakes {
        assert!(
            !before.contains(&mistake.found_by),
            "{} is found without `{}`",
            mistake.found_by,
            mistake.what
        );
        let project = open(&mistake.what, &mistake.made_in(sound));
        if !ids(&project).contains(&mistake.found_by) {
            let found: Vec<String> = ids(&project).into_iter().filter(|id| !before.contains(id)).collect();
            missed.push(format!("{}: not {}, but {}", mistake.what, mistake.found_by, found.join(" ")));
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

#[test]
fn all_mistakes_together_are_found() {
    let found = ids(&open("troubled", &troubled().plan()));
    let (_, mistakes) = troubled().mistakes().expect("mistakes");
    let missed: Vec<&str> = mistakes
        .iter()
        .filter(|mistake| !found.contains(&mistake.found_by))
        .map(|mistake| mistake.what.as_str())
        .collect();
    assert!(missed.is_empty(), "missed: {missed:#?}\nfound: {found:#?}");
}

#[test]
fn the_offered_remedies_clear_every_stop() {
    let mut project = open("troubled", &troubled().plan());
    assert!(project.stops(), "the troubled room can be built as it is");
    let mut taken = Vec::new();
    while let Some(stop) = stops(&project).first().map(|stop| stop.id()) {
        assert!(taken.len() < ENOUGH, "remedies go round in circles: {taken:#?}");
        let remedied =
            project.remedied(&stop, 1).unwrap_or_else(|fault| panic!("{stop}: {fault}\n{taken:#?}"));
        assert!(!ids(&remedied.project).contains(&stop), "{} leaves {stop}", remedied.label);
        taken.push(format!("{stop}: {}", remedied.label));
        project = remedied.project;
    }
}
