//! The page's TypeScript types are those that the program sends. `DRYFIT_FRESH=1` writes them anew.
#![expect(clippy::disallowed_methods, reason = "a test that reads and writes one file of the repository")]

use std::fmt::Write as _;

use ts_rs::{Config, TS};

use super::*;

/// What the file says of itself.
const HEAD: &str = "// Made from the types of crates/project/src/shown, where each is explained; not to be edited.\n\
                    // DRYFIT_FRESH=1 cargo test -p dryfit-project fresh";

fn types() -> String {
    let config = Config::default();
    let mut text = String::new();
    macro_rules! all {
        ($($name:ty),* $(,)?) => { $( let _ = writeln!(text, "\nexport {}", <$name as TS>::decl(&config)); )* };
    }
    all!(
        Number,
        Run,
        HeldState,
        Held,
        Picture,
        PictureRow,
        Shape,
        Card,
        Repair,
        Frame,
        PageMark,
        Sum,
        Changed,
        Moved,
        HistoryPage,
        PastRow,
        Slip,
        SlipLine,
        SurveyPage,
        ReadingRow,
        Walk,
        LayoutPage,
        View,
        Bare,
        Offer,
        LeafPage,
        Leaf,
        Block,
        Table,
        Row,
        Echo,
        Wish,
        PlaceWish,
        ReadingWish,
        ReceiptWish,
        ReceiptLineWish,
        Start,
        Recent,
        DemoCard,
        Done,
        Preview,
        DryFitPage,
    );
    // what each field means is said where the types are
    let mut plain = String::new();
    for (i, piece) in text.split("/**").enumerate() {
        plain.push_str(if i == 0 { piece } else { piece.split_once("*/").map_or("", |(_, after)| after) });
    }
    let types = plain.split("\nexport ").map(|one| one.split_whitespace().collect::<Vec<_>>().join(" "));
    let mut types: Vec<String> = types.collect();
    types[0] = HEAD.to_owned();
    types.join("\n\nexport ") + "\n"
}

#[test]
fn the_types_of_the_page_are_fresh() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../app/src/wire.ts");
    let types = types();
    if std::env::var("DRYFIT_FRESH").is_ok() {
        std::fs::write(path, &types).expect("the app's folder can be written");
    }
    let stands = std::fs::read_to_string(path).unwrap_or_default();
    assert!(stands == types, "app/src/wire.ts is stale: DRYFIT_FRESH=1 cargo test -p dryfit-project fresh");
}
