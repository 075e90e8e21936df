//! Every picture of every demo.

mod demos;
mod paper_checks;

use std::collections::BTreeSet;

use demos::demos;
use dryfit_drawing::views;

/// Keys name files: two that differ only in case would be one on some systems.
#[test]
fn keys_are_unique_whatever_their_case() {
    for (name, plan, derived) in demos() {
        let keys: Vec<String> = views::all(&plan, &derived).iter().map(|it| it.key.to_lowercase()).collect();
        assert_eq!(keys.iter().collect::<BTreeSet<_>>().len(), keys.len(), "{name}");
    }
}

/// Walls, the room, fields, worktops, units and sheets; part drawings of narrow parts are tried one by one.
#[test]
fn nothing_runs_off_the_paper() {
    let mut faults = Vec::new();
    for (name, plan, derived) in demos() {
        for picture in views::all(&plan, &derived).into_iter().filter(|it| !it.key.starts_with("part/")) {
            let Some(drawing) = picture.draw(views::PAGE) else { continue };
            let found = paper_checks::off_paper(&drawing);
            faults.extend(found.into_iter().map(|what| format!("{name} {}: {what}", picture.key)));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
