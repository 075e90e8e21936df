//! What goes out and comes in as files: the packet, the room in 3-D, the plan as text, photos and receipts.

use axum::Json;
use axum::Router;
use axum::body::Bytes;
use axum::extract::{Path, Query, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use serde::Deserialize;

use crate::edits::made_for;
use crate::pages::tagged;
use crate::{Door, Problem};

pub fn routes() -> Router<Door> {
    Router::new()
        .route("/packet.pdf", get(packet))
        .route("/room.glb", get(room))
        .route("/plan.toml", get(plan).put(bring_in))
        .route("/attachments", post(attach))
        .route("/attachments/{digest}", get(attachment))
}

#[derive(Debug, Deserialize)]
struct Kept {
    /// Whether it is kept as a file rather than looked at.
    #[serde(default)]
    keep: bool,
    /// A moment of the history.
    at: Option<i64>,
}

fn file(form: &str, name: &str, keep: bool, bytes: impl IntoResponse) -> Response {
    let way = if keep { "attachment" } else { "inline" };
    let mut answer = bytes.into_response();
    let put = |value: &str| HeaderValue::from_str(value).unwrap_or(HeaderValue::from_static("attachment"));
    let headers = answer.headers_mut();
    headers.insert(header::CONTENT_TYPE, put(form));
    headers.insert(header::CONTENT_DISPOSITION, put(&format!("{way}; filename=\"{name}\"")));
    answer
}

/// A file's name without what a header cannot hold.
fn stem(file: &str) -> String {
    let name = file.trim_end_matches(".dryfit");
    name.chars().map(|c| if c.is_ascii_alphanumeric() || c == '-' { c } else { '-' }).collect()
}

async fn packet(State(door): State<Door>, Query(kept): Query<Kept>) -> Result<Response, Problem> {
    door.at_desk(move |desk, clock| {
        let name = stem(&desk.job()?.file().name());
        let (project, _) = desk.seen(kept.at)?;
        let pdf = project
            .packet(Some((clock.today)()))
            .map_err(|fault| Problem::new(StatusCode::INTERNAL_SERVER_ERROR, fault.to_string()))?;
        Ok(file("application/pdf", &format!("{name}.pdf"), kept.keep, pdf))
    })
    .await
}

async fn room(State(door): State<Door>, Query(kept): Query<Kept>) -> Result<Response, Problem> {
    let scene = door.at_desk(move |desk, _| Ok(desk.scene(kept.at)?)).await?;
    Ok(file("model/gltf-binary", "room.glb", kept.keep, scene))
}

async fn plan(State(door): State<Door>, Query(kept): Query<Kept>) -> Result<Response, Problem> {
    door.at_desk(move |desk, _| {
        let name = stem(&desk.job()?.file().name());
        let (project, _) = desk.seen(kept.at)?;
        Ok(file("text/plain; charset=utf-8", &format!("{name}.toml"), kept.keep, project.text.clone()))
    })
    .await
}

async fn bring_in(State(door): State<Door>, headers: HeaderMap, text: String) -> Result<Response, Problem> {
    let made_for = made_for(&headers)?;
    let done = door.at_desk(move |desk, clock| Ok(desk.bring_in(&text, &made_for, &(clock.now)())?)).await?;
    let now = done.frame.tag.clone();
    door.tell(&now);
    Ok(tagged(&HeaderMap::new(), &now, done))
}

#[derive(Debug, Deserialize)]
struct Named {
    name: String,
}

/// Pictures and papers are kept; what a browser would run is not.
const MEDIA: &[&str] = &["image/jpeg", "image/png", "image/webp", "application/pdf"];

async fn attach(
    State(door): State<Door>,
    Query(named): Query<Named>,
    headers: HeaderMap,
    bytes: Bytes,
) -> Result<(StatusCode, Json<String>), Problem> {
    let media = headers.get(header::CONTENT_TYPE).and_then(|value| value.to_str().ok()).unwrap_or_default();
    let Some(media) = MEDIA.iter().find(|known| **known == media) else {
        let detail = "attach a photo (JPEG, PNG, WebP) or a PDF";
        return Err(Problem::new(StatusCode::UNSUPPORTED_MEDIA_TYPE, detail));
    };
    let digest = door
        .at_desk(move |desk, clock| {
            let file = desk.job_mut()?.file_mut();
            Ok(file
                .attach(&named.name, media, &bytes, &(clock.now)())
                .map_err(dryfit_project::DeskFault::from)?)
        })
        .await?;
    Ok((StatusCode::CREATED, Json(digest)))
}

async fn attachment(State(door): State<Door>, Path(digest): Path<String>) -> Result<Response, Problem> {
    door.at_desk(move |desk, _| {
        let found = desk.job()?.file().attachment(&digest).map_err(dryfit_project::DeskFault::from)?;
        let (media, bytes) = found.ok_or(dryfit_project::DeskFault::NoSuch(digest))?;
        Ok(file(&media, "attachment", false, bytes))
    })
    .await
}
