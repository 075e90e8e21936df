//! For the eye: every view of the demos, as SVG and as the picture that a rasteriser makes of it.
//!
//! `cargo run -p dryfit-drawing --example contact_sheet -- FOLDER [KEY]` writes those whose key begins with `KEY`.
#![expect(clippy::disallowed_methods, reason = "a chore: it writes pictures")]

use std::path::PathBuf;
use std::sync::Arc;

use dryfit_cutting::Budget;
use dryfit_drawing::{svg, views};
use dryfit_plan::Plan;
use dryfit_stages::layouts::Answers;
use dryfit_stages::run;
use resvg::{tiny_skia, usvg};

/// Pixels a point.
const SCALE: f32 = 1.6;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut asked = std::env::args().skip(1);
    let folder = PathBuf::from(asked.next().ok_or("name the folder to write them into")?);
    let prefix = asked.next().unwrap_or_default();
    let mut fonts = usvg::fontdb::Database::new();
    for face in dryfit_fonts::FACES {
        fonts.load_font_data(face.bytes.to_vec());
    }
    let options = usvg::Options { fontdb: Arc::new(fonts), ..usvg::Options::default() };
    for demo in std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/../../demos"))? {
        let path = demo?.path();
        let Ok(read) = Plan::from_toml(&std::fs::read_to_string(&path)?) else { continue };
        let derived = run(&read.plan, &Answers::new(), Budget { steps: 0, seed: 1 });
        for picture in views::all(&read.plan, &derived).iter().filter(|it| it.key.starts_with(&prefix)) {
            let Some(drawing) = picture.draw(views::PAGE) else { continue };
            let text = svg(&drawing);
            let to = folder.join(path.file_stem().unwrap_or_default()).join(&picture.key);
            std::fs::create_dir_all(to.parent().unwrap_or(&folder))?;
            let named = |kind: &str| PathBuf::from(format!("{}.{kind}", to.display()));
            std::fs::write(named("svg"), &text)?;
            let tree = usvg::Tree::from_str(&text, &options)?;
            let size = tree.size().to_int_size().scale_by(SCALE).ok_or("a picture without size")?;
            let mut paper = tiny_skia::Pixmap::new(size.width(), size.height()).ok_or("no paper")?;
            paper.fill(tiny_skia::Color::WHITE);
            resvg::render(&tree, tiny_skia::Transform::from_scale(SCALE, SCALE), &mut paper.as_mut());
            std::fs::write(named("png"), paper.encode_png()?)?;
        }
    }
    Ok(())
}
