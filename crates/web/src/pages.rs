//! What is shown: the frame, the pages, slips, and what a text reads as. All of it carries a tag of file and moment.

use axum::Json;
use axum::Router;
use axum::extract::{Path, Query, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use dryfit_project::shown::{self, Room};
use serde::{Deserialize, Serialize};

use crate::{Door, Problem};

pub fn routes() -> Router<Door> {
    Router::new()
        .route("/frame", get(frame))
        .route("/pages/{page}", get(page))
        .route("/why", get(why))
        .route("/echo", get(echo))
}

/// A tag as a header holds it (RFC 9110, section 8.8.3).
pub fn quoted(tag: &str) -> String {
    format!("\"{tag}\"")
}

/// The tag that a header holds.
pub fn unquoted(text: &str) -> Option<&str> {
    text.strip_prefix('"')?.strip_suffix('"')
}

/// An answer with its tag; nothing but the tag where the asker has it already.
pub fn tagged(headers: &HeaderMap, tag: &str, body: impl Serialize) -> Response {
    let tag = quoted(tag);
    let known = headers.get(header::IF_NONE_MATCH).and_then(|value| value.to_str().ok());
    let value = HeaderValue::from_str(&tag).unwrap_or(HeaderValue::from_static("\"\""));
    if known == Some(&tag) {
        return (StatusCode::NOT_MODIFIED, [(header::ETAG, value)]).into_response();
    }
    ([(header::ETAG, value)], Json(body)).into_response()
}

async fn frame(State(door): State<Door>) -> Result<Response, Problem> {
    door.at_desk(|desk, _| {
        let job = desk.job()?;
        let frame = shown::frame(job).map_err(dryfit_project::DeskFault::from)?;
        Ok(tagged(&HeaderMap::new(), &job.tag(), frame))
    })
    .await
}

/// What is looked at, and how much room there is for it.
#[derive(Debug, Deserialize)]
struct Look {
    #[serde(default)]
    view: String,
    #[serde(default = "usual_width")]
    width: f64,
    #[serde(default = "usual_height")]
    height: f64,
    /// A moment of the history.
    at: Option<i64>,
}

fn usual_width() -> f64 {
    740.0
}

fn usual_height() -> f64 {
    640.0
}

async fn page(
    State(door): State<Door>,
    Path(page): Path<String>,
    Query(look): Query<Look>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    door.at_desk(move |desk, _| {
        let room = Room { width: look.width, height: look.height };
        let tag = desk.tag(look.at)?;
        Ok(match page.as_str() {
            "survey" => {
                let (project, _) = desk.seen(look.at)?;
                tagged(&headers, &tag, shown::survey(project, room))
            }
            "layout" => {
                let (project, _) = desk.seen(look.at)?;
                tagged(&headers, &tag, shown::layout(project, &look.view, room))
            }
            "dry-fit" => {
                let (project, _) = desk.seen(look.at)?;
                tagged(&headers, &tag, shown::dry_fit(project, room))
            }
            "casework" | "cut-list" | "surfaces" | "rough-in" | "buying" | "order" | "costs" | "packet" => {
                let page = desk.leaves(&page, &look.view, look.at, room)?;
                tagged(&headers, &tag, page)
            }
            "history" => {
                let job = desk.job()?;
                let page = shown::history(job).map_err(dryfit_project::DeskFault::from)?;
                // undo makes no moment, yet moves where one stands
                tagged(&HeaderMap::new(), &tag, page)
            }
            other => return Err(dryfit_project::DeskFault::NoSuch(other.to_owned()).into()),
        })
    })
    .await
}

#[derive(Debug, Deserialize)]
struct Asked {
    of: String,
    #[serde(default)]
    deeper: String,
    at: Option<i64>,
}

async fn why(
    State(door): State<Door>,
    Query(asked): Query<Asked>,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    door.at_desk(move |desk, _| {
        let tag = desk.tag(asked.at)?;
        let (project, _) = desk.seen(asked.at)?;
        match shown::slip(project, &asked.of, &asked.deeper) {
            Some(slip) => Ok(tagged(&headers, &tag, slip)),
            None => Err(dryfit_project::DeskFault::NoSuch(asked.of).into()),
        }
    })
    .await
}

#[derive(Debug, Deserialize)]
struct Typed {
    text: String,
}

async fn echo(State(door): State<Door>, Query(typed): Query<Typed>) -> Result<Response, Problem> {
    door.at_desk(move |desk, _| Ok(Json(shown::echo(desk.project()?, &typed.text)).into_response())).await
}
