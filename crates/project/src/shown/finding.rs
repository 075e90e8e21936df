//! Findings as cards: what, by how much, why, and the remedies.

use dryfit_measure::because;
use dryfit_plan::Plan;
use dryfit_stages::{Finding, Severity};
use serde::Serialize;

use super::number::{Run, number, rich};
use crate::open::Project;

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Card {
    /// What a remedy is asked for by.
    pub id: String,
    /// stop, look, note.
    pub severity: &'static str,
    /// Its number among those of its severity, as pins carry it.
    pub number: u32,
    /// What, needed against available.
    pub what: Vec<Run>,
    /// How short it is, where that is a length.
    pub by: Option<Vec<Run>>,
    /// Why: the numbers it rests on.
    pub why: Vec<Vec<Run>>,
    /// Where the rule comes from.
    pub source: String,
    /// Keys of what it is about: a pin stands at the first that is drawn.
    pub about: Vec<String>,
    /// Remedies.
    pub repairs: Vec<Repair>,
    /// The builder's reason to leave it.
    pub left: Option<String>,
    /// The page where it is mended.
    pub page: &'static str,
}

/// One remedy.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Repair {
    /// Its number, as `fix` counts.
    pub number: u32,
    /// The instruction.
    pub label: Vec<Run>,
}

/// The page on which a rule is mended.
pub(super) fn page_of(rule: &str) -> &'static str {
    match rule.split('/').next().unwrap_or_default() {
        "survey" => "survey",
        "casework" | "frame" => "casework",
        "cutting" | "shop" | "cutlist" => "cut-list",
        "surfaces" | "tops" => "surfaces",
        "services" => "rough-in",
        "takeoff" | "buying" => "buying",
        "order" | "calendar" => "order",
        "ledger" | "money" | "costs" => "costs",
        "plan" if rule.ends_with("unpriced") => "buying",
        "placement" | "plan" => "layout",
        _ => "dry-fit",
    }
}

/// Every finding, gravest first; those left as they are come last.
pub(super) fn cards(project: &Project) -> Vec<Card> {
    let mut findings: Vec<&Finding> = project.derived.findings.iter().collect();
    findings.sort_by_key(|finding| (finding.waived.is_some(), finding.severity));
    let mut counts = [0; 3];
    findings
        .into_iter()
        .map(|finding| {
            let count = &mut counts[finding.severity as usize];
            *count += 1;
            card(&project.plan, finding, *count)
        })
        .collect()
}

fn card(plan: &Plan, finding: &Finding, number_of: u32) -> Card {
    let tidy = |text: &str| rich(&text.replace('`', ""));
    let by = finding.short_by.as_ref().filter(|dim| dim.length().is_positive()).map(|dim| {
        let unit = format!(" {}", plan.fineness.unit().symbol());
        vec![Run::Text("by ".into()), Run::Number(number(dim.length(), plan.fineness)), Run::Text(unit)]
    });
    Card {
        id: finding.id(),
        severity: match finding.severity {
            Severity::Stop => "stop",
            Severity::Look => "look",
            Severity::Note => "note",
        },
        number: number_of,
        what: tidy(&finding.what),
        by,
        why: finding.because.iter().map(|dim| tidy(&because(dim, plan.fineness))).collect(),
        source: finding.source.to_string(),
        about: finding.subjects.iter().map(ToString::to_string).collect(),
        repairs: finding
            .fixes
            .iter()
            .zip(1..)
            .map(|(fix, number)| Repair { number, label: tidy(&fix.label) })
            .collect(),
        left: finding.waived.clone(),
        page: page_of(finding.rule),
    }
}
