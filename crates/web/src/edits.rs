//! Edits: wishes, JSON Patches (RFC 6902), and previews. Each is made for a moment, which `If-Match` names.

use axum::Json;
use axum::Router;
use axum::body::Bytes;
use axum::extract::{Query, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::Response;
use axum::routing::{patch, post};
use dryfit_project::Edit;
use dryfit_project::shown::{Preview, Wish};
use serde::Deserialize;

use crate::pages::{tagged, unquoted};
use crate::{Door, Problem};

pub fn routes() -> Router<Door> {
    Router::new().route("/edits", post(edit)).route("/preview", post(preview)).route("/plan", patch(patched))
}

/// The moment that an edit was made for (RFC 6585, section 3; RFC 9110, section 13.1.1).
pub fn made_for(headers: &HeaderMap) -> Result<String, Problem> {
    let said = headers.get(header::IF_MATCH).ok_or_else(|| {
        Problem::new(StatusCode::PRECONDITION_REQUIRED, "say with If-Match which plan this was made for")
    })?;
    said.to_str()
        .ok()
        .and_then(unquoted)
        .map(str::to_owned)
        .ok_or_else(|| Problem::new(StatusCode::PRECONDITION_FAILED, "If-Match names no state of this plan"))
}

/// What a JSON body says.
fn read<T: for<'d> Deserialize<'d>>(headers: &HeaderMap, form: &str, body: &[u8]) -> Result<T, Problem> {
    let said = headers.get(header::CONTENT_TYPE).and_then(|value| value.to_str().ok()).unwrap_or_default();
    if said.split(';').next().map(str::trim) != Some(form) {
        return Err(Problem::new(StatusCode::UNSUPPORTED_MEDIA_TYPE, format!("send it as {form}")));
    }
    serde_json::from_slice(body)
        .map_err(|fault| Problem::new(StatusCode::BAD_REQUEST, format!("this does not read: {fault}")))
}

async fn edit(State(door): State<Door>, headers: HeaderMap, body: Bytes) -> Result<Response, Problem> {
    let made_for = made_for(&headers)?;
    let wish: Wish = read(&headers, "application/json", &body)?;
    let done = door.at_desk(move |desk, clock| Ok(desk.grant(&wish, &made_for, &(clock.now)())?)).await?;
    let now = done.frame.tag.clone();
    door.tell(&now);
    Ok(tagged(&HeaderMap::new(), &now, done))
}

async fn preview(
    State(door): State<Door>,
    headers: HeaderMap,
    body: Bytes,
) -> Result<Json<Preview>, Problem> {
    let wish: Wish = read(&headers, "application/json", &body)?;
    door.at_desk(move |desk, _| Ok(Json(desk.preview(&wish)?))).await
}

#[derive(Debug, Deserialize)]
struct Called {
    /// What the history calls it.
    #[serde(default)]
    called: String,
}

async fn patched(
    State(door): State<Door>,
    Query(called): Query<Called>,
    headers: HeaderMap,
    body: Bytes,
) -> Result<Response, Problem> {
    let made_for = made_for(&headers)?;
    let operations: serde_json::Value = read(&headers, "application/json-patch+json", &body)?;
    let label = if called.called.trim().is_empty() { "a patch".to_owned() } else { called.called };
    let edit: Edit = serde_json::from_value(serde_json::json!({ "label": label, "patch": operations }))
        .map_err(|fault| Problem::new(StatusCode::BAD_REQUEST, format!("this is no JSON Patch: {fault}")))?;
    let done = door.at_desk(move |desk, clock| Ok(desk.edit(&edit, &made_for, &(clock.now)())?)).await?;
    let now = done.frame.tag.clone();
    door.tell(&now);
    Ok(tagged(&HeaderMap::new(), &now, done))
}
