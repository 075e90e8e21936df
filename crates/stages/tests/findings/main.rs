//! What the whole road has to say about the demo, the waivers that hold and lapse, and plans nudged at random.
//!
//! `demo.txt` beside this file is what is said about the demo as it stands, as a terminal shows it; where it is
//! meant to change, run this test with `UPDATE=1` and read the difference as the builder would.

mod nudged;
mod waivers;

use std::fmt::Write as _;

use dryfit_cutting::Budget;
use dryfit_measure::because;
use dryfit_plan::Plan;
use dryfit_stages::layouts::Answers;
use dryfit_stages::{Derived, Finding, Severity, run};

/// The demo room, as its plan file states it.
fn demo() -> Plan {
    Plan::from_toml(include_str!("../../../../demos/potting-room.toml")).expect("the demo reads").plan
}

/// What follows, with quick layouts.
fn derive(plan: &Plan) -> Derived {
    run(plan, &Answers::new(), Budget { steps: 0, seed: 1 })
}

/// Findings as they are said, one block each.
fn said(plan: &Plan, findings: &[Finding]) -> String {
    let mut text = String::new();
    for finding in findings {
        let severity = match finding.severity {
            Severity::Stop => "stop",
            Severity::Look => "look",
            Severity::Note => "note",
        };
        let _ = writeln!(text, "{severity}[{}]: {}", finding.id(), finding.what);
        let _ = writeln!(text, "  at: {}", finding.at);
        for dim in &finding.because {
            let _ = writeln!(text, "  because: {}", because(dim, plan.fineness));
        }
        let _ = writeln!(text, "  source: {}", finding.source);
        for fix in &finding.fixes {
            let _ = writeln!(text, "  fix: {}", fix.label);
        }
        text.push('\n');
    }
    text
}

#[test]
#[expect(clippy::disallowed_methods, reason = "an expectation that updates itself writes its file")]
fn the_demo_says_what_it_said() {
    let plan = demo();
    let findings = derive(&plan).findings;
    let text = said(&plan, &findings);
    if std::env::var_os("UPDATE").is_some() {
        let at = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/findings/demo.txt");
        std::fs::write(at, &text).expect("it can be written");
        return;
    }
    assert!(text == include_str!("demo.txt"), "it now says:\n{text}");
}

#[test]
fn nothing_stops_the_demo() {
    let stops = derive(&demo()).findings.into_iter().filter(|finding| finding.severity == Severity::Stop);
    let stops: Vec<String> = stops.map(|finding| finding.id()).collect();
    assert!(stops.is_empty(), "{stops:?}");
}

#[test]
fn every_finding_is_written_as_findings_are() {
    for finding in derive(&demo()).findings {
        let what = &finding.what;
        assert!(!what.ends_with('.'), "{what}");
        assert!(what.chars().next().is_some_and(|first| !first.is_uppercase()), "{what}");
        assert_eq!(what.matches('`').count() % 2, 0, "{what}");
    }
}
