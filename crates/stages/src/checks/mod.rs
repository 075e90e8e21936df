//! Stage 8, checks: one rule a file, each with its doc, source, and tests that pass, fail and sit at the limit.
//!
//! A rule reads what the stages derived and says what is wrong with it, needed against available, with a remedy
//! that can be applied as it stands. It changes nothing and computes no size of its own.

mod found;
mod fronts;
mod mend;
mod piped;
mod sawn;

mod casework_bench_load;
mod casework_door_width;
mod casework_drawer_height;
mod casework_edge_band;
mod casework_hinge_overlay;
mod casework_leg_height;
mod casework_shelf_sag;
mod casework_system_holes;
mod cutting_too_big;
mod fit_above_top;
mod fit_appliance_depth;
mod fit_appliance_height;
mod fit_appliance_width;
mod fit_ceiling;
mod fit_collision;
mod fit_corner_front;
mod fit_door_swing;
mod fit_opening_blocked;
mod fit_scribe_least;
mod fit_sink_bowl;
mod fit_tip_up;
mod money_batch;
mod money_budget;
mod money_forgotten;
mod money_owed;
mod money_receipt;
mod order_delivery;
mod order_gate;
mod order_open_time;
mod order_sink;
mod order_two_people;
mod order_wait;
mod plan_unpriced;
mod safety_lift;
mod safety_screw;
mod safety_sheet;
mod safety_tall_anchored;
mod safety_wall_hung;
mod services_behind;
mod services_box_fill;
mod services_box_flush;
mod services_box_height;
mod services_counter;
mod services_ground_fault;
mod services_bore;
mod services_duct;
mod services_hookup;
mod services_hot_left;
mod services_plate;
mod services_drain_fall;
mod services_drain_height;
mod services_drain_size;
mod services_standpipe;
mod services_trap_arm;
mod services_vent;
mod shop_crosscut;
mod shop_rip;
mod surfaces_bond;
mod surfaces_cutout;
mod surfaces_grout;
mod surfaces_joint;
mod surfaces_laminate;
mod surfaces_paint;
mod surfaces_plank;
mod surfaces_seam;
mod surfaces_sliver;
mod surfaces_stagger;
mod surfaces_support;
mod surfaces_trim;
mod surfaces_trowel;

#[cfg(test)]
mod trial;

use dryfit_plan::Plan;

use crate::casework::Casework;
use crate::cutlist::CutList;
use crate::finding::Finding;
use crate::layouts::Layouts;
use crate::ledger::Ledger;
use crate::order::Order;
use crate::placement::Placement;
use crate::services::Services;
use crate::surfaces::Surfaces;
use crate::survey::Survey;
use crate::takeoff::Takeoff;

/// What rules look at.
#[derive(Clone, Copy, Debug)]
pub struct Checked<'a> {
    /// What is stated.
    pub plan: &'a Plan,
    /// The room.
    pub survey: &'a Survey,
    /// Where everything stands.
    pub placement: &'a Placement,
    /// Every part.
    pub casework: &'a Casework,
    /// What runs in the walls.
    pub services: &'a Services,
    /// What lies on units, walls and floor.
    pub surfaces: &'a Surfaces,
    /// What is cut from which good.
    pub cut_list: &'a CutList,
    /// From which sheet or board, in which cuts.
    pub layouts: &'a Layouts,
    /// What has to be bought.
    pub takeoff: &'a Takeoff,
    /// Which task when.
    pub order: &'a Order,
    /// What was paid.
    pub ledger: &'a Ledger,
}

/// Every rule, in the order of the job: fit, casework, surfaces, cutting and shop, safety, money. Each says its own id.
const RULES: &[fn(&Checked<'_>) -> Vec<Finding>] = &[
    fit_collision::check,
    fit_tip_up::check,
    fit_ceiling::check,
    fit_corner_front::check,
    fit_appliance_width::check,
    fit_appliance_height::check,
    fit_appliance_depth::check,
    fit_sink_bowl::check,
    fit_scribe_least::check,
    fit_opening_blocked::check,
    fit_door_swing::check,
    fit_above_top::check,
    casework_shelf_sag::check,
    casework_door_width::check,
    casework_drawer_height::check,
    casework_edge_band::check,
    casework_hinge_overlay::check,
    casework_leg_height::check,
    casework_bench_load::check,
    casework_system_holes::check,
    surfaces_laminate::check,
    surfaces_seam::check,
    surfaces_cutout::check,
    surfaces_support::check,
    surfaces_stagger::check,
    surfaces_trim::check,
    surfaces_paint::check,
    surfaces_grout::check,
    surfaces_trowel::check,
    surfaces_sliver::check,
    surfaces_joint::check,
    surfaces_bond::check,
    surfaces_plank::check,
    cutting_too_big::check,
    shop_rip::check,
    shop_crosscut::check,
    services_drain_height::check,
    services_drain_fall::check,
    services_drain_size::check,
    services_trap_arm::check,
    services_vent::check,
    services_standpipe::check,
    services_hookup::check,
    services_hot_left::check,
    services_duct::check,
    services_bore::check,
    services_plate::check,
    services_behind::check,
    services_box_height::check,
    services_box_flush::check,
    services_box_fill::check,
    services_ground_fault::check,
    services_counter::check,
    safety_lift::check,
    safety_sheet::check,
    safety_screw::check,
    safety_wall_hung::check,
    safety_tall_anchored::check,
    order_two_people::check,
    order_wait::check,
    order_gate::check,
    order_delivery::check,
    order_open_time::check,
    order_sink::check,
    plan_unpriced::check,
    money_receipt::check,
    money_budget::check,
    money_owed::check,
    money_batch::check,
    money_forgotten::check,
];

/// Holds everything against every rule.
pub fn checks(checked: &Checked<'_>) -> Vec<Finding> {
    RULES.iter().flat_map(|rule| rule(checked)).collect()
}
