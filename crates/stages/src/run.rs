//! The road in one function: this is the architecture diagram.

use crate::casework::Casework;
use crate::cutlist::CutList;
use crate::finding::Finding;
use crate::layouts::{Answers, Layouts};
use crate::placement::Placement;
use crate::release::Release;
use crate::survey::Survey;
use crate::takeoff::Takeoff;

/// Everything that follows from a plan.
#[derive(Clone, Debug)]
pub struct Derived {
    /// The room as it is.
    pub survey: Survey,
    /// Where everything stands.
    pub placement: Placement,
    /// Every part.
    pub casework: Casework,
    /// What is cut from which good.
    pub cut_list: CutList,
    /// From which sheet, in which order.
    pub layouts: Layouts,
    /// What has to be bought.
    pub takeoff: Takeoff,
    /// What may be cut today.
    pub release: Release,
    /// What there is to say about it, by place.
    pub findings: Vec<Finding>,
    /// The solvers' answers that this run used, to be remembered.
    pub answers: Answers,
}
