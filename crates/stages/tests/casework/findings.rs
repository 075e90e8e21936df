//! What casework has to say about a unit that cannot be made as it stands, and whether its remedies help.

use dryfit_plan::{Plan, UnitKind};
use dryfit_stages::{Finding, Severity};

use crate::made::{build, demo_with, placed};

/// A base unit with a drawer and a pair, and this change of the whole plan's JSON.
fn changed(change: impl FnOnce(&mut serde_json::Value)) -> Plan {
    let plan = demo_with(
        r#"
kind = "base"
recipe = "painted"
width = { given = "30 in" }
shelves = 1
fronts = { down = { order = ["d1", "d2"], parts = { d1 = { drawer = { slide = "slide-21", height = "5 in" } }, d2 = { pair = {} } } } }
"#,
    );
    let mut value = plan.to_json();
    change(&mut value);
    serde_json::from_value(value).expect("a plan")
}

fn findings(plan: &Plan, sizes: [&str; 3]) -> Vec<Finding> {
    build(plan, placed(UnitKind::Base, sizes)).1
}

const USUAL: [&str; 3] = ["30 in", "34 1/2 in", "24 in"];

/// The only finding; every remedy applies, and the first one clears it.
fn cured(plan: &Plan, sizes: [&str; 3]) -> Finding {
    let mut found = findings(plan, sizes);
    assert_eq!(found.len(), 1, "{found:?}");
    let finding = found.remove(0);
    for fix in &finding.fixes {
        plan.apply(&fix.edit).unwrap_or_else(|refused| panic!("{}: {refused}", fix.label));
    }
    if let Some(fix) = finding.fixes.first() {
        let (mended, _) = plan.apply(&fix.edit).expect("it applied before");
        assert!(findings(&mended, sizes).is_empty(), "{} does not clear it", fix.label);
    }
    finding
}

#[test]
fn the_unit_by_itself_has_none() {
    assert!(findings(&changed(|_| {}), USUAL).is_empty());
}

#[test]
fn a_role_without_a_good() {
    let plan = changed(|plan| {
        plan["recipes"]["painted"]["roles"].as_object_mut().expect("roles").shift_remove("hinge");
    });
    let finding = cured(&plan, USUAL);
    assert_eq!(finding.severity, Severity::Stop);
    assert_eq!(finding.what, "the role `hinge` in `b1` needs a good, and its recipe `painted` names none");
    assert_eq!(finding.at.as_str(), "/recipes/painted/roles/hinge");
    assert_eq!(finding.fixes[0].label, "use `hinge`, cup hinge, 1/2 lap, with plate");
}

#[test]
fn a_good_that_is_not_there() {
    let plan = changed(|plan| plan["recipes"]["painted"]["roles"]["pull"] = "pul".into());
    let finding = cured(&plan, USUAL);
    assert_eq!(
        finding.what,
        "the role `pull` in `b1` names the good `pul`, and there is none; did you mean `pull`?"
    );
}

#[test]
fn a_good_of_the_wrong_kind() {
    let plan = changed(|plan| plan["recipes"]["painted"]["roles"]["hinge"] = "ply-18".into());
    let finding = cured(&plan, USUAL);
    assert_eq!(
        finding.what,
        "the role `hinge` in `b1` is served by `ply-18`, which is not of a kind that can"
    );
}

#[test]
fn a_recipe_that_is_not_there() {
    let plan = changed(|plan| plan["units"]["b1"]["recipe"] = "panted".into());
    let placement = dryfit_stages::placement::Placement {
        runs: vec![],
        units: vec![placed(UnitKind::Base, USUAL)],
        tops: vec![],
        lines: vec![],
    };
    let (casework, found) = dryfit_stages::casework::casework(&plan, &placement);
    assert!(casework.units.is_empty());
    assert_eq!(found[0].what, "`b1` names the recipe `panted`, and there is none; did you mean `painted`?");
    let (mended, _) = plan.apply(&found[0].fixes[0].edit).expect("it applies");
    assert!(findings(&mended, USUAL).is_empty());
}

#[test]
fn slides_longer_than_the_box() {
    let plan = changed(|plan| {
        let mut short = plan["goods"]["slide-21"].clone();
        short["form"]["slide"]["length"] = "15 in".into();
        plan["goods"]["slide-15"] = short;
    });
    let sizes = ["30 in", "34 1/2 in", "20 in"];
    let finding = cured(&plan, sizes);
    // 20 - inset 1/4 - back 7/32 - nailer 23/32 + frame 3/4 = 19 9/16; 21 + 1/2
    assert_eq!(
        finding.what,
        "the slides of `d1` in `b1` need 21 1/2 in from the face of the frame, and there are 19 9/16 in"
    );
    assert_eq!(finding.fixes[0].label, "use `slide-15` for `d1`");
    // exactly at the limit they fit: 21 1/2 - 3/4 + 1/4 + 7/32 + 23/32 = 21 15/16
    assert!(findings(&plan, ["30 in", "34 1/2 in", "21 15/16 in"]).is_empty());
    assert_eq!(findings(&plan, ["30 in", "34 1/2 in", "21 7/8 in"]).len(), 1);
}

#[test]
fn openings_that_do_not_fill_the_frame() {
    let plan = changed(|plan| {
        plan["units"]["b1"]["fronts"]["down"]["parts"]["d2"]["pair"]["height"] = "20 in".into();
    });
    let finding = cured(&plan, USUAL);
    assert_eq!(finding.severity, Severity::Look);
    // 30 1/2 - 3 x 1 1/2 = 26; 5 + 20 = 25
    assert_eq!(finding.what, "the openings of `b1` are stated 25 in high in all, and its frame leaves 26 in");
    assert_eq!(finding.fixes[0].label, "make the opening of `d2` 21 in high");
}

#[test]
fn hinges_made_for_another_lap() {
    let plan = changed(|plan| plan["goods"]["hinge"]["form"]["hinge"]["overlay"] = "3/8 in".into());
    let finding = cured(&plan, USUAL);
    assert_eq!(finding.what, "the doors of `b1` lap by 1/2 in, and the hinge `hinge` is made for 3/8 in");
}

#[test]
fn front_screws_that_come_out_of_the_face() {
    let plan = changed(|plan| plan["recipes"]["painted"]["roles"]["front-screw"] = "pocket-screw".into());
    let finding = cured(&plan, USUAL);
    assert_eq!(
        finding.what,
        "the front screws of `b1` are 1 1/4 in long and go into 1 7/32 in: they come out of the face"
    );
}

#[test]
fn pocket_screws_that_do_not_suit_the_sheet() {
    let plan = changed(|plan| plan["recipes"]["painted"]["roles"]["joint-screw"] = "hang-screw".into());
    let finding = cured(&plan, USUAL);
    assert_eq!(finding.severity, Severity::Look);
    assert_eq!(
        finding.what,
        "pocket screws in stock 23/32 in thick are 1 1/4 in long, and those of `b1` are 3 in"
    );
}

#[test]
fn dadoes_deeper_than_half_the_side() {
    let deep = |depth: &str| {
        changed(|plan| plan["units"]["b1"]["figures"] = serde_json::json!({ "bottom-dado-depth": depth }))
    };
    assert_eq!(cured(&deep("7/16 in"), USUAL).rule, "casework/dado-depth");
    // exactly half of what the sheet is sold by
    assert!(findings(&deep("3/8 in"), USUAL).is_empty());
}

#[test]
fn cups_that_break_out_of_their_stile() {
    let cup_in =
        |centre: &str| changed(|plan| plan["goods"]["hinge"]["form"]["hinge"]["cup_in"] = centre.into());
    // B = centre - 17.5 mm, made for 3 to 8 mm
    assert!(findings(&cup_in("20.5 mm"), USUAL).is_empty());
    assert_eq!(cured(&cup_in("20 mm"), USUAL).rule, "casework/hinge-cup");
    assert!(findings(&cup_in("25.5 mm"), USUAL).is_empty());
    assert_eq!(cured(&cup_in("26 mm"), USUAL).rule, "casework/hinge-cup");
    // stiles of 1 3/4 less 3/8 are solid for 34.9 mm, and the cup reaches 40 mm in
    let narrow = changed(|plan| {
        plan["units"]["b1"]["figures"] = serde_json::json!({ "door-stile": "1 3/4 in" });
    });
    let finding = cured(&narrow, USUAL);
    assert_eq!(finding.fixes[0].label, "make the stile of `b1` 2 in");
}

#[test]
fn doors_too_narrow_for_their_stiles() {
    // 10 - 3 + 1 - 1/8, halved, is 3 15/16: less than two stiles of 2 1/4
    let plan = changed(|_| {});
    let sizes = ["10 in", "34 1/2 in", "24 in"];
    let found = findings(&plan, sizes);
    let narrow: Vec<&Finding> = found.iter().filter(|f| f.rule == "casework/door-inside").collect();
    assert_eq!(narrow.len(), 2, "{found:?}");
    assert_eq!(narrow[0].fixes[0].label, "close `d2` of `b1` with one door");
    let (mended, _) = plan.apply(&narrow[0].fixes[0].edit).expect("it applies");
    assert!(findings(&mended, sizes).iter().all(|finding| finding.rule != "casework/door-inside"));
}

#[test]
fn inset_fronts_thicker_than_their_frame() {
    let plan = changed(|plan| {
        plan["recipes"]["painted"]["fit"] = "inset".into();
        plan["recipes"]["painted"]["roles"]["door"] = "thick".into();
        plan["goods"]["thick"] = plan["goods"]["maple-6"].clone();
        plan["goods"]["thick"]["form"]["board"]["thickness"] = "1 in".into();
    });
    let finding = cured(&plan, USUAL);
    assert_eq!(
        finding.what,
        "the inset fronts of `b1` are 1 in thick, and the frame that they lie in is 3/4 in"
    );
}

#[test]
fn two_laps_on_one_rail() {
    let rail = |width: &str| {
        changed(|plan| plan["units"]["b1"]["figures"] = serde_json::json!({ "frame-rail": width }))
    };
    let finding = cured(&rail("15/16 in"), USUAL);
    assert_eq!(
        finding.what,
        "two fronts of `b1` that lap by 1/2 in meet on frame rail that is 15/16 in wide"
    );
    // exactly at the limit they touch, which is legal
    assert!(findings(&rail("1 in"), USUAL).is_empty());
}
