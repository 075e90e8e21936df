//! The road in one function: this is the architecture diagram.

use dryfit_cutting::Budget;
use dryfit_plan::Plan;

use crate::casework::{Casework, casework};
use crate::checks::{Checked, checks};
use crate::cutlist::{CutList, cut_list};
use crate::dims::{Derivation, dims};
use crate::finding::Finding;
use crate::layouts::{Answers, Layouts, layouts};
use crate::ledger::{Ledger, ledger};
use crate::order::{Basis, Order, order};
use crate::placement::{Placement, placement};
use crate::release::{Release, release};
use crate::services::{Services, services};
use crate::surfaces::{Surfaces, surfaces};
use crate::survey::{Survey, survey};
use crate::takeoff::{Takeoff, takeoff};

/// Everything that follows from a plan.
#[derive(Clone, Debug)]
pub struct Derived {
    /// The room as it is.
    pub survey: Survey,
    /// Where everything stands.
    pub placement: Placement,
    /// Every part.
    pub casework: Casework,
    /// What lies on units, walls and floor.
    pub surfaces: Surfaces,
    /// What runs in the walls.
    pub services: Services,
    /// What is cut from which good.
    pub cut_list: CutList,
    /// From which sheet, in which order.
    pub layouts: Layouts,
    /// What has to be bought.
    pub takeoff: Takeoff,
    /// Which task when.
    pub order: Order,
    /// What was paid, against what was planned.
    pub ledger: Ledger,
    /// What may be cut today.
    pub release: Release,
    /// What there is to say about it, by place.
    pub findings: Vec<Finding>,
    /// The solver's answers that this run used, to be remembered.
    pub answers: Answers,
}

impl Derived {
    /// Every named dimension.
    pub fn dims(&self) -> Vec<Derivation<'_>> {
        dims(&self.survey, &self.placement, &self.casework, &self.surfaces)
    }
}

/// Walks the road. `known` are the solver's answers of earlier runs; `budget` is what a new one may cost.
pub fn run(plan: &Plan, known: &Answers, budget: Budget) -> Derived {
    let (survey, mut findings) = survey(plan);
    let (placement, said) = placement(plan, &survey);
    findings.extend(said);
    let (casework, said) = casework(plan, &placement);
    findings.extend(said);
    let (surfaces, said) = surfaces(plan, &survey, &placement, &casework);
    findings.extend(said);
    let (services, said) = services(plan, &survey, &placement, &casework);
    findings.extend(said);
    let cut_list = cut_list(plan, &casework, &surfaces);
    let (layouts, answers) = layouts(plan, &cut_list, known, budget);
    let needs = [casework.needs(), surfaces.needs(), services.needs.clone()].concat();
    let takeoff = takeoff(plan, &layouts, needs, services.opened().len());
    let basis = Basis {
        plan,
        placement: &placement,
        casework: &casework,
        surfaces: &surfaces,
        services: &services,
        layouts: &layouts,
        takeoff: &takeoff,
    };
    let order = order(basis);
    let ledger = ledger(plan, &takeoff);
    let release = release(plan, &survey, &placement, &casework);
    let checked = Checked {
        plan,
        survey: &survey,
        placement: &placement,
        casework: &casework,
        surfaces: &surfaces,
        services: &services,
        cut_list: &cut_list,
        layouts: &layouts,
        takeoff: &takeoff,
        order: &order,
        ledger: &ledger,
    };
    findings.extend(checks(&checked));
    let findings = crate::finding::settled(plan, findings);
    Derived {
        survey,
        placement,
        casework,
        surfaces,
        services,
        cut_list,
        layouts,
        takeoff,
        order,
        ledger,
        release,
        findings,
        answers,
    }
}
