//! Files of every format that there ever was are read, and the schema describes what is read.

use dryfit_measure::{Key, Length};
use dryfit_plan::{FORMAT, Plan, schema};
use serde_json::Value;

const POTTING_ROOM: &str = include_str!("../../../demos/potting-room.toml");
/// One frozen sample for each format: never edited, only added to.
const SAMPLES: [&str; FORMAT as usize] = [include_str!("samples/format-1.toml")];

fn read(text: &str) -> Plan {
    match Plan::from_toml(text) {
        Ok(read) => read.plan,
        Err(faults) => {
            panic!("{}", faults.iter().map(|fault| fault.shown("sample", text)).collect::<String>())
        }
    }
}

#[test]
fn the_sample_of_format_1_reads() {
    let plan = read(SAMPLES[0]);
    assert_eq!(plan.format, FORMAT);
    let r2 = &plan.readings[&Key::literal("r2")];
    assert_eq!(r2.length.length, Length::mm(4000));
    assert_eq!(plan.goods.len(), 10);
    assert_eq!(plan.units.len(), 10);
    assert_eq!(plan.decisions.len(), 1);
}

#[test]
fn a_sample_written_anew_reads_the_same() {
    for sample in SAMPLES {
        let plan = read(sample);
        assert_eq!(read(&plan.to_toml()), plan);
    }
}

fn check(json: &Value) -> Vec<String> {
    let judge = jsonschema::validator_for(&schema()).expect("a schema");
    judge.iter_errors(json).map(|e| format!("{}: {e}", e.instance_path())).collect()
}

/// Judged by another implementation of JSON Schema.
#[test]
fn the_schema_accepts_what_is_read() {
    for text in SAMPLES.into_iter().chain([POTTING_ROOM]) {
        // as it stands in the file, before any type has seen it
        let as_written: Value =
            serde_json::to_value(text.parse::<toml::Table>().expect("TOML")).expect("JSON");
        assert_eq!(check(&as_written), Vec::<String>::new());
        assert_eq!(check(&read(text).to_json()), Vec::<String>::new());
    }
}

#[test]
fn the_schema_refuses_what_is_refused() {
    let sound = read(SAMPLES[0]).to_json();
    for (place, wrong) in [
        ("/format", Value::from(2)),
        ("/fineness", Value::from("1/10 in")),
        ("/room/sense", Value::from("sideways")),
        ("/room/walk/0", Value::from("a b")),
        ("/readings/r1/length", Value::from("2987")),
        ("/readings/r1/of", Value::from("span")),
        ("/units/b1/shelves", Value::from(300)),
        (
            "/units/b1/width",
            serde_json::json!({ "given": "1 m", "within": { "least": "1 m", "most": "2 m" } }),
        ),
        ("/recipes/oiled/roles", serde_json::json!({ "lining": "felt" })),
        ("/money/tax", Value::from("20")),
    ] {
        let mut broken = sound.clone();
        *broken.pointer_mut(place).expect(place) = wrong;
        assert!(Plan::from_json(&broken).is_err(), "{place} is read");
        assert!(!check(&broken).is_empty(), "{place} passes the schema");
    }
}

#[test]
fn the_schema_is_always_the_same() {
    assert_eq!(schema().to_string(), schema().to_string());
}
