//! The project file under test: undo over closing, second openings, foreign and damaged files, a full disk.
#![expect(clippy::unwrap_used, clippy::disallowed_methods, reason = "tests")]

use std::fs;
use std::path::PathBuf;

use dryfit_measure::Pointer;
use dryfit_plan::{Edit, Plan};

use super::journal::forward;
use super::*;

const PLAN: &str = include_str!("../../../../demos/potting-room.toml");

/// A folder of its own for each test.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Folder {
        let folder = std::env::temp_dir().join(format!("dryfit-file-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        Folder(folder)
    }

    fn file(&self) -> PathBuf {
        self.0.join("room.dryfit")
    }

    fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(&self.0)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// Makes b1 so many sixteenths wide; the text after it.
fn widen(file: &mut ProjectFile, sixteenths: u32) -> String {
    let text = file.text(file.here().unwrap()).unwrap();
    let plan = Plan::from_toml(&text).unwrap().plan;
    let width = format!("{}.{} in", sixteenths / 16, sixteenths % 16 * 625);
    let width = if sixteenths.is_multiple_of(16) { format!("{} in", sixteenths / 16) } else { width };
    let at = Pointer::parse("/units/b1/width/given").unwrap();
    let edit = Edit::set(&plan, &at, width, format!("b1 {sixteenths}/16 wide"));
    let (_, inverse) = plan.apply(&edit).unwrap();
    let after = forward(&text, &edit).unwrap();
    file.append(&edit, &inverse, &after, "2026-03-02T10:00:00Z").unwrap();
    after
}

fn begun(folder: &Folder) -> ProjectFile {
    ProjectFile::create(&folder.file(), PLAN, "begun", "2026-03-01T09:00:00Z").unwrap()
}

#[test]
fn undo_and_redo_survive_closing_and_the_project_is_one_file() {
    let folder = Folder::new("undo");
    let mut file = begun(&folder);
    // past a snapshot
    let texts: Vec<String> = (400..428).map(|n| widen(&mut file, n)).collect();
    assert_eq!(file.here().unwrap(), 28);
    for _ in 0..14 {
        let (_, to) = file.undo_leads_to().unwrap().unwrap();
        file.stand_at(to, "2026-03-02T11:00:00Z").unwrap();
    }
    file.close().unwrap();
    assert_eq!(folder.names(), ["room.dryfit"]);

    let mut file = ProjectFile::open(&folder.file()).unwrap();
    assert_eq!(file.here().unwrap(), 14);
    assert_eq!(file.text(14).unwrap(), texts[13]);
    assert!(file.text(28).unwrap() == texts[27] && file.text(0).unwrap() == PLAN);
    let (label, to) = file.redo_leads_to().unwrap().unwrap();
    assert_eq!((label.as_str(), to), ("b1 414/16 wide", 15));
    // another edit sets aside what was taken back, and loses none of it
    let other = widen(&mut file, 384);
    assert_eq!((file.here().unwrap(), file.redo_leads_to().unwrap()), (29, None));
    assert_eq!(file.text(29).unwrap(), other);
    let history = file.history().unwrap();
    assert_eq!(history[20].standing, Standing::Aside);
    assert_eq!((history[29].standing, history[29].parent), (Standing::Here, Some(14)));
    assert_eq!(file.text(20).unwrap(), texts[19]);
    file.close().unwrap();
}

#[test]
fn a_clock_set_back_orders_nothing() {
    let folder = Folder::new("clock");
    let mut file = begun(&folder);
    widen(&mut file, 400);
    let (_, to) = file.undo_leads_to().unwrap().unwrap();
    file.stand_at(to, "1999-01-01T00:00:00Z").unwrap();
    assert_eq!(file.here().unwrap(), 0);
    assert_eq!(file.redo_leads_to().unwrap().unwrap().1, 1);
}

#[test]
fn a_second_opening_is_told_and_takes_nothing() {
    let folder = Folder::new("second");
    let mut file = begun(&folder);
    widen(&mut file, 400);
    let second = ProjectFile::open(&folder.file()).unwrap_err();
    assert!(matches!(second, FileFault::InUse { .. }), "{second}");
    assert!(second.to_string().contains("is open already"), "{second}");
    widen(&mut file, 401);
    file.close().unwrap();
    assert_eq!(ProjectFile::open(&folder.file()).unwrap().here().unwrap(), 2);
}

#[test]
fn what_is_there_is_never_written_over() {
    let folder = Folder::new("there");
    fs::write(folder.file(), "mine").unwrap();
    let fault = ProjectFile::create(&folder.file(), PLAN, "begun", "now").unwrap_err();
    assert!(matches!(fault, FileFault::Exists { .. }), "{fault}");
    assert_eq!(fs::read_to_string(folder.file()).unwrap(), "mine");
    assert_eq!(folder.names(), ["room.dryfit"]);
}

#[test]
fn foreign_and_newer_files_are_named_and_left_as_they_are() {
    let folder = Folder::new("foreign");
    let told = |bytes: &[u8]| {
        fs::write(folder.file(), bytes).unwrap();
        let fault = ProjectFile::open(&folder.file()).unwrap_err();
        assert_eq!(fs::read(folder.file()).unwrap(), bytes);
        assert_eq!(folder.names(), ["room.dryfit"]);
        fault.to_string()
    };
    assert!(told(b"").contains("it is empty"));
    assert!(told(PLAN.as_bytes()).contains("it is a text"));
    assert!(told(&[0xff, 0xd8, 0xff, 0xe0, 0, 16]).contains("first bytes"));

    fs::remove_file(folder.file()).unwrap();
    begun(&folder).close().unwrap();
    let ours = fs::read(folder.file()).unwrap();
    let mut other = ours.clone();
    other[68..72].copy_from_slice(b"Else");
    assert!(told(&other).contains("another program"));
    let mut newer = ours.clone();
    newer[60..64].copy_from_slice(&7_u32.to_be_bytes());
    assert!(told(&newer).contains("newer Dryfit (form 7; this one knows up to 1)"));

    let missing = ProjectFile::open(&folder.0.join("none.dryfit")).unwrap_err();
    assert!(matches!(missing, FileFault::Missing { .. }), "{missing}");
}

#[test]
fn damage_is_found_told_and_saved_from() {
    let folder = Folder::new("damage");
    let mut file = begun(&folder);
    let texts: Vec<String> = (400..428).map(|n| widen(&mut file, n)).collect();
    file.close().unwrap();
    let whole = fs::read(folder.file()).unwrap();

    // one flipped bit in the label of an edit, which SQLite itself cannot notice
    let label = b"b1 424/16 wide";
    let at = whole.windows(label.len()).position(|window| window == label).unwrap();
    let mut flipped = whole.clone();
    flipped[at] ^= 1;
    fs::write(folder.file(), &flipped).unwrap();
    let fault = ProjectFile::open(&folder.file()).unwrap_err();
    let FileFault::Damaged { what, salvage, .. } = &fault else { panic!("{fault}") };
    assert_eq!(what, &["edit 25 does not say what was written"]);
    assert_eq!((salvage.moment, salvage.last), (24, 28));
    assert_eq!(salvage.text.as_ref().unwrap(), &texts[23]);
    assert!(fault.to_string().contains("can be saved as of edit 24; 4 later are lost"), "{fault}");
    assert_eq!(fs::read(folder.file()).unwrap(), flipped);
    assert_eq!(folder.names(), ["room.dryfit"]);

    // the second half gone, as after a broken copy
    fs::write(folder.file(), &whole[..whole.len() / 2]).unwrap();
    assert!(matches!(ProjectFile::open(&folder.file()), Err(FileFault::Damaged { .. })));

    // rubbish over a page: always told, never a panic, never written to
    for page in 0..whole.len() / 4096 {
        let mut rubbish = whole.clone();
        let from = page * 4096 + if page == 0 { 100 } else { 0 };
        for (i, byte) in rubbish[from..(page + 1) * 4096].iter_mut().enumerate() {
            *byte = u8::try_from((i * 31 + page * 7) % 251).unwrap();
        }
        fs::write(folder.file(), &rubbish).unwrap();
        match ProjectFile::open(&folder.file()) {
            Err(FileFault::Damaged { .. }) => {}
            Err(fault) => panic!("page {page}: {fault}"),
            Ok(_) => panic!("page {page} was taken for whole"),
        }
        assert_eq!(fs::read(folder.file()).unwrap(), rubbish, "page {page}");
    }
}

#[test]
fn a_full_disk_loses_nothing_that_was_acknowledged() {
    let folder = Folder::new("full");
    let mut file = begun(&folder);
    widen(&mut file, 400);
    let pages: i64 = file.connection.query_row("PRAGMA page_count", [], |row| row.get(0)).unwrap();
    file.connection.query_row("PRAGMA max_page_count = 1", [], |_| Ok(())).unwrap();
    let big = vec![7_u8; 400_000];
    let fault = file.attach("receipt.jpg", "image/jpeg", &big, "now").unwrap_err();
    assert!(matches!(fault, FileFault::Full { .. }), "{fault}");
    assert!(fault.to_string().contains("no room on the disk"), "{fault}");
    assert_eq!(file.here().unwrap(), 1);
    file.connection.query_row(&format!("PRAGMA max_page_count = {}", pages + 4000), [], |_| Ok(())).unwrap();
    widen(&mut file, 401);
    file.close().unwrap();
    assert_eq!(ProjectFile::open(&folder.file()).unwrap().here().unwrap(), 2);
}

#[test]
fn photos_and_answers_are_kept() {
    let folder = Folder::new("photos");
    let mut file = begun(&folder);
    let receipt = file.attach("receipt.jpg", "image/jpeg", b"bytes", "2026-03-02").unwrap();
    assert_eq!(file.attach("the same.jpg", "image/jpeg", b"bytes", "2026-03-03").unwrap(), receipt);
    file.remember(&[("{}".into(), "[]".into())]).unwrap();
    let large = vec![0; LARGEST_ATTACHMENT + 1];
    assert!(matches!(file.attach("film", "video/mp4", &large, "now"), Err(FileFault::TooLarge { .. })));
    file.close().unwrap();
    let file = ProjectFile::open(&folder.file()).unwrap();
    let all = file.attachments().unwrap();
    assert_eq!((all.len(), all[0].name.as_str(), all[0].size), (1, "receipt.jpg", 5));
    assert_eq!(file.attachment(&receipt).unwrap(), Some(("image/jpeg".into(), b"bytes".to_vec())));
    assert_eq!(file.attachment("none").unwrap(), None);
    assert_eq!(file.remembered().unwrap(), [("{}".into(), "[]".into())]);
}

#[test]
fn the_journal_cannot_be_rewritten() {
    let folder = Folder::new("grows");
    let mut file = begun(&folder);
    widen(&mut file, 400);
    for rewriting in ["UPDATE moments SET label = 'x'", "DELETE FROM moments", "DELETE FROM steps"] {
        let refused = file.connection.execute(rewriting, []).unwrap_err();
        assert!(refused.to_string().contains("the journal only grows"), "{refused}");
    }
}
