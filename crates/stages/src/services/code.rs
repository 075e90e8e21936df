//! The code that governs, as far as its clauses are known here.

use dryfit_handbook::{
    CodeFamily, ElectricalRules, Source, clause, code_families, electrical_rules, framing_rule,
};
use dryfit_measure::{Dim, Length, Pointer};
use dryfit_plan::{Code, Edit, Plan};

use crate::finding::{Finding, Fix, Severity};
use crate::likely::likely;

/// The family and edition that rules are cited from.
#[derive(Clone, Debug)]
pub struct Rules {
    /// "IRC".
    pub family: String,
    /// "2021".
    pub edition: String,
    /// The edition of the electrical code that goes with it.
    pub electrical: String,
    known: &'static CodeFamily,
}

impl Rules {
    /// What the family asks of pipes and ducts.
    pub fn plumbing(&self) -> &'static CodeFamily {
        self.known
    }

    /// What the electrical code asks.
    pub fn wiring(&self) -> &'static ElectricalRules {
        electrical_rules()
    }

    /// A clause of the family.
    pub fn cite(&self, cite: &str, seen: bool) -> Source {
        clause(&self.family, &self.edition, cite, seen)
    }

    /// A clause of the electrical code.
    pub fn cite_wiring(&self, cite: &str, seen: bool) -> Source {
        clause("NEC", &self.electrical, cite, seen)
    }

    /// Where the limits of holes in studs stand.
    pub fn framing_source(&self) -> Source {
        framing_rule().source()
    }

    /// A length that a table of the code gives, as a reason: `pipe/IRC/arm`.
    pub(crate) fn dim(&self, length: Length, rule: &str, name: &'static str) -> Dim {
        Dim::rule(length, format!("{} {} {rule}", self.family, self.edition))
            .named(name)
            .decided_by([Pointer::root().child("code")])
    }
}

/// The family that holds where none is stated or none of that name is known.
const USUAL: &str = "IRC";

const RULE: &str = "services/code";

/// The rules of a plan's code. Of one that is not known here, the usual family's latest are shown, and that is said.
pub(super) fn code(plan: &Plan) -> (Rules, Vec<Finding>) {
    let at = Pointer::root().child("code");
    let families = code_families();
    let latest = |family: &str| {
        let known = &families[family];
        let edition = known.editions.last().cloned().unwrap_or_default();
        rules(family, &edition, known)
    };
    let needed = !plan.services.is_empty();
    let Some(code) = &plan.code else {
        let what = format!(
            "no building code is stated; services are held against {} {} until it is",
            USUAL,
            latest(USUAL).edition
        );
        let usual = Code { family: USUAL.into(), edition: latest(USUAL).edition };
        let fix = Edit::set(plan, &at, &usual, format!("say that {} {} governs", USUAL, usual.edition));
        let said = needed.then(|| finding(at, what, vec![Fix::of(fix)]));
        return (latest(USUAL), said.into_iter().collect());
    };
    let family = code.family.trim().to_uppercase();
    let Some((name, known)) = families.get_key_value(&family) else {
        let meant = likely(&family, families.keys().map(String::as_str));
        let names: Vec<&str> = families.keys().map(String::as_str).collect();
        let asked = meant.map(|meant| format!("; did you mean {meant}?")).unwrap_or_default();
        let what = format!(
            "the rules of `{}` are not known here, only {}{asked}; services are held against {USUAL} {} instead",
            code.family,
            names.join(", "),
            latest(USUAL).edition
        );
        let put = meant.unwrap_or(USUAL);
        let at = at.child("family");
        let fix = Edit::set(plan, &at, put, format!("say that {put} governs"));
        let said = needed.then(|| finding(at, what, vec![Fix::of(fix)]));
        return (latest(USUAL), said.into_iter().collect());
    };
    if !known.editions.contains(&code.edition) {
        let at = at.child("edition");
        let what = format!(
            "the clauses of {name} {} are not known here, only those of {}; {} is cited instead",
            code.edition,
            known.editions.join(", "),
            latest(name).edition
        );
        let put = latest(name).edition;
        let fix = Edit::set(plan, &at, &put, format!("cite {name} {put}"));
        let said = needed.then(|| finding(at, what, vec![Fix::of(fix)]));
        return (latest(name), said.into_iter().collect());
    }
    (rules(name, &code.edition, known), Vec::new())
}

fn rules(family: &str, edition: &str, known: &'static CodeFamily) -> Rules {
    let electrical = known.electrical.get(edition).cloned().unwrap_or_default();
    Rules { family: family.to_owned(), edition: edition.to_owned(), electrical, known }
}

fn finding(at: Pointer, what: String, fixes: Vec<Fix>) -> Finding {
    let told = Finding::unresolved(RULE, Vec::new(), at, what);
    Finding { severity: Severity::Look, fixes, ..told }
}
