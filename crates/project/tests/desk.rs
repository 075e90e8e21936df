//! The desk opens what it is given, or says what to open instead.
#![expect(clippy::disallowed_methods, reason = "a test that puts a plan on the disk")]

use std::fs;

use dryfit_project::{Desk, demo};

#[test]
fn a_text_plan_that_became_a_project_is_not_made_one_again() {
    let folder = std::env::temp_dir().join(format!("dryfit-desk-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder");
    let text = folder.join("room.toml");
    fs::write(&text, demo("potting-room").expect("a demo").plan().as_bytes()).expect("written");
    let mut desk = Desk::new(folder.clone(), None);
    desk.open(&text, "today").expect("it opens the first time");
    desk.close().expect("it closes");
    let refused = desk.open(&text, "today").expect_err("it would begin anew").to_string();
    let made = folder.join("room.dryfit");
    assert_eq!(
        refused,
        format!(
            "`{}` became the project `{}` before: open that one, or rename it to begin anew from the text",
            text.display(),
            made.display()
        )
    );
    desk.open(&made, "today").expect("it opens the project");
    desk.close().expect("it closes");
    fs::remove_dir_all(&folder).expect("the folder goes");
}
