//! The page itself, built into the program, and the typeface it shares with the packet.

use axum::Router;
use axum::body::Body;
use axum::extract::Path;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use dryfit_fonts::FACES;
use rust_embed::RustEmbed;

use crate::{Door, Problem};

/// What `build.rs` made of the app.
#[derive(RustEmbed)]
#[folder = "$OUT_DIR/page"]
struct Page;

pub fn routes() -> Router<Door> {
    Router::new()
        .route(
            "/assets/{name}",
            get(|Path(name): Path<String>| async move { page_file(&format!("assets/{name}")) }),
        )
        .route("/favicon.svg", get(|| async { page_file("favicon.svg") }))
        .route("/fonts/{name}", get(font))
}

/// The page.
pub async fn index() -> Result<Response, Problem> {
    page_file("index.html")
}

fn page_file(name: &str) -> Result<Response, Problem> {
    let nothing = || Problem::new(StatusCode::NOT_FOUND, "there is nothing here");
    let file = Page::get(name).ok_or_else(nothing)?;
    let form = match name.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "svg" => "image/svg+xml",
        _ => "application/octet-stream",
    };
    let mut answer = Body::from(file.data.into_owned()).into_response();
    answer.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static(form));
    // the name of an asset holds a digest of it, but the key in the address is new each time
    if name.starts_with("assets/") {
        let keep = HeaderValue::from_static("private, max-age=86400, immutable");
        answer.headers_mut().insert(header::CACHE_CONTROL, keep);
    }
    Ok(answer)
}

async fn font(Path(name): Path<String>) -> Result<Response, Problem> {
    let face = FACES.iter().find(|face| name == format!("{}.ttf", face.weight));
    let face = face.ok_or_else(|| Problem::new(StatusCode::NOT_FOUND, "there is no such face"))?;
    let mut answer = Body::from(face.bytes).into_response();
    answer.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static("font/ttf"));
    let keep = HeaderValue::from_static("private, max-age=86400, immutable");
    answer.headers_mut().insert(header::CACHE_CONTROL, keep);
    Ok(answer)
}
