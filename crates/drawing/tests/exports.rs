//! Exports of the demos opened by readers that know nothing of Dryfit: ezdxf, and the glTF format's own validator.

mod demos;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

use demos::demos;
use dryfit_drawing::solid::scene;
use dryfit_drawing::{dxf, glb, views};
use serde_json::Value;

/// A folder of this test's own, empty.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

#[expect(clippy::disallowed_methods, reason = "the readers read files")]
fn put(path: &Path, bytes: &[u8]) {
    std::fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
    std::fs::write(path, bytes).expect("a file");
}

fn judges(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/validator").join(name)
}

/// Runs a judge and gives what it prints, line by line as JSON.
fn ask(command: &mut Command) -> Vec<Value> {
    let done =
        command.output().unwrap_or_else(|fault| panic!("{command:?}: {fault}; run `cargo xtask tools`"));
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "{command:?}: {said}; `cargo xtask tools` installs what judges");
    let text = String::from_utf8(done.stdout).expect("text");
    text.lines().map(|line| serde_json::from_str(line).expect("JSON")).collect()
}

#[test]
fn every_picture_opens_as_dxf_without_an_error() {
    let folder = folder("dxf");
    let mut expected = BTreeMap::new();
    for (name, plan, derived) in demos() {
        for picture in views::all(&plan, &derived) {
            let Some(drawing) = picture.draw(views::PAGE) else { continue };
            let bytes = dxf(&drawing, plan.entry_unit);
            assert_eq!(bytes, dxf(&drawing, plan.entry_unit), "{}: the same twice", picture.key);
            let file = format!("{name}/{}.dxf", picture.key);
            put(&folder.join(&file), &bytes);
            expected.insert(file, drawing);
        }
    }
    let python = std::env::var_os("DRYFIT_JUDGES").expect("`cargo xtask tools` makes the judges' Python");
    let reports = ask(Command::new(python).arg(judges("audit.py")).arg(&folder));
    assert_eq!(reports.len(), expected.len());
    for report in &reports {
        let file = report["file"].as_str().expect("a file");
        for list in ["errors", "undefined"] {
            assert_eq!(report[list], Value::Array(Vec::new()), "{file}: {list}");
        }
        // the library numbers no table heads, which every reader does for itself
        for fix in report["fixes"].as_array().expect("a list").iter().filter_map(Value::as_str) {
            assert!(fix.contains("table head handle"), "{file}: {fix}");
        }
        assert!(report["count"].as_u64() > Some(2), "{file} is empty");
        // $INSUNITS: 1 is inches, 4 is millimetres
        let (unit, mm) = if file.starts_with("ski-room") { (4, 1.0) } else { (1, 25.4) };
        assert_eq!(report["units"], unit, "{file}");
        for layer in report["layers"].as_array().expect("layers").iter().filter_map(Value::as_str) {
            let weight = match layer.rsplit('-').next() {
                Some("heavy") => 70,
                Some("edge") => 40,
                Some("thin") => 20,
                Some("hair") => 15,
                Some("named") => 120,
                _ => panic!("{file}: a layer without a pen, {layer}"),
            };
            assert_eq!(report["weights"][layer], weight, "{file}: {layer}");
        }
        // real-world units: nothing lies beyond the drawing's extent, which is in millimetres
        let [low, high] = expected[file].extent;
        for axis in [0, 1] {
            let slack = 12.7 / mm;
            let within = report["low"][axis].as_f64() >= Some(low[axis] / mm - slack)
                && report["high"][axis].as_f64() <= Some(high[axis] / mm + slack);
            assert!(within, "{file}: {} {} beyond {low:?} {high:?}", report["low"], report["high"]);
        }
    }
    // a side of b1 is 35 1/4 by 22 1/4 on the drawing, and its marks are texts
    let side = reports.iter().find(|report| report["file"] == "potting-room/part/b1/side.left.dxf");
    let texts = side.expect("the side")["texts"].to_string();
    assert!(texts.contains("35 1/4") && texts.contains("GOOD FACE"), "{texts}");
}

#[test]
fn the_scene_is_valid_gltf_with_every_part_named() {
    let folder = folder("glb");
    for (name, plan, derived) in demos() {
        let scene = scene(&plan, &derived);
        let bytes = glb(&scene);
        assert_eq!(bytes, glb(&scene), "{name}: the same twice");
        let path = folder.join(format!("{name}.glb"));
        put(&path, &bytes);
        let reports = ask(Command::new("node").arg(judges("validate.cjs")).arg(&path));
        let issues = &reports[0]["issues"];
        assert_eq!(issues["numErrors"], 0, "{name}: {issues:#}");
        assert_eq!(issues["numWarnings"], 0, "{name}: {issues:#}");
        let parts = derived.casework.units.iter().map(|unit| unit.parts.len()).sum::<usize>();
        assert!(
            reports[0]["info"]["drawCallCount"].as_u64() >= Some(parts as u64),
            "{:#}",
            reports[0]["info"]
        );
        // the JSON chunk begins after the file's header and its own: 12 + 8 bytes
        let length = u32::from_le_bytes(bytes[12..16].try_into().expect("a length")) as usize;
        let json: Value = serde_json::from_slice(&bytes[20..20 + length]).expect("JSON");
        let nodes = json["nodes"].as_array().expect("nodes");
        let side = nodes.iter().find(|node| node["name"] == "b1/side.left").expect("the side");
        let [size, good] = match name {
            "ski-room" => ["720 \u{d7} 559 \u{d7} 18 mm", "melamine-faced board, white"],
            _ => ["35 1/4 \u{d7} 23 1/4 \u{d7} 23/32 in", "birch ply"],
        };
        assert_eq!([&side["extras"]["size"], &side["extras"]["good"]], [size, good], "{side}");
    }
}
