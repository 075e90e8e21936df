//! Which of the planned cuts the shop can make: along its guide, or else with the saw's own capacity.

use dryfit_measure::{Dim, Key, Length, Pointer, Toward};
use dryfit_plan::Edit;

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};
use crate::layouts::{CutWay, SawCut, SheetLayout};

/// How long a cut is.
pub(super) fn length(cut: &SawCut) -> Length {
    let [[x1, y1], [x2, y2]] = cut.line;
    (x2 - x1).abs().max((y2 - y1).abs())
}

impl Checked<'_> {
    /// Cuts of one way that the saw cannot make by `needs` (what of a cut has to be within its capacity) and that
    /// are too long for the guide; a finding for each good, by its worst.
    pub(super) fn beyond(
        &self,
        rule: &'static str,
        way: CutWay,
        (name, most): (&str, Length),
        needs: impl Fn(&SheetLayout, &SawCut) -> Length,
        said: impl Fn(&Key, &str, &str) -> String,
    ) -> Vec<Finding> {
        let guide = self.plan.shop.straightedge.map(|guide| guide.length);
        let fineness = self.plan.fineness;
        let up = |length: Length| length.figure(fineness, Toward::Up).to_string();
        let down = |length: Length| length.figure(fineness, Toward::Down).to_string();
        let capacity = match guide {
            Some(guide) => format!("the saw takes {}, and the guide is {} long", down(most), down(guide)),
            None => format!("the saw takes {}, and there is no guide", down(most)),
        };
        let shop = Pointer::root().child("shop");
        let mut findings = Vec::new();
        for stack in self.layouts.sheets.iter().chain(&self.layouts.boards) {
            let cuts = stack.sheets.iter().flat_map(|sheet| sheet.cuts.iter().map(move |cut| (sheet, cut)));
            let hard: Vec<(Length, Length)> = cuts
                .filter(|(_, cut)| cut.way == way)
                .map(|(sheet, cut)| (needs(sheet, cut), length(cut)))
                .filter(|(needs, length)| *needs > most && guide.is_none_or(|guide| *length > guide))
                .collect();
            let widest = hard.iter().map(|cut| cut.0).max();
            let longest = hard.iter().map(|cut| cut.1).max();
            let (Some(widest), Some(longest)) = (widest, longest) else { continue };
            let what = format!("{}: {capacity}", said(&stack.good, &up(widest), &up(longest)));
            let mut finding = found(rule, Severity::Look, vec![stack.good.clone()], shop.child(name), what);
            let long = self.mark(longest, Toward::Up);
            let label = format!("have a guide {long} long");
            finding.fixes.push(Fix::of(Edit::set(self.plan, &shop.child("straightedge"), long, label)));
            let limit = Dim::chosen(most, shop.child(name)).named("what the saw takes");
            let over = [(limit.clone(), -1.0)];
            let short = Dim::worked(widest - most, "the widest cut less what the saw takes", over);
            finding.short_by = Some(short.named("beyond the saw by").placed(stack.good.as_str()));
            finding.because = vec![limit];
            findings.push(finding);
        }
        findings
    }
}
