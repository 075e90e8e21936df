//! The start page: what can be opened, and opening it.

use std::sync::OnceLock;

use axum::Json;
use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::routing::{get, post};
use dryfit_project::Unit;
use dryfit_project::shown::{self, DemoCard, Frame, Start, frame};
use serde::Deserialize;

use crate::{Door, Problem};

pub fn routes() -> Router<Door> {
    Router::new()
        .route("/start", get(start))
        .route("/demos", get(demos))
        .route("/open", post(open))
        .route("/new", post(new))
        .route("/demo", post(demo))
        .route("/close", post(close))
}

async fn start(State(door): State<Door>) -> Result<Json<Start>, Problem> {
    door.at_desk(|desk, _| Ok(Json(desk.start()))).await
}

/// The demo rooms as cards, drawn once; the desk is free meanwhile.
async fn demos() -> Result<Json<&'static [DemoCard]>, Problem> {
    static CARDS: OnceLock<Vec<DemoCard>> = OnceLock::new();
    let drawn = tokio::task::spawn_blocking(|| CARDS.get_or_init(shown::demos).as_slice()).await;
    drawn
        .map(Json)
        .map_err(|_| Problem::new(StatusCode::INTERNAL_SERVER_ERROR, "the demos could not be drawn"))
}

#[derive(Debug, Deserialize)]
struct Open {
    path: String,
}

#[derive(Debug, Deserialize)]
struct New {
    name: String,
    /// in or mm.
    unit: Unit,
}

#[derive(Debug, Deserialize)]
struct Demo {
    name: String,
}

async fn open(State(door): State<Door>, Json(asked): Json<Open>) -> Result<Json<Frame>, Problem> {
    opened(&door, move |desk, at| desk.open(asked.path.as_ref(), at)).await
}

async fn new(State(door): State<Door>, Json(asked): Json<New>) -> Result<Json<Frame>, Problem> {
    opened(&door, move |desk, at| desk.new_room(&asked.name, asked.unit, at)).await
}

async fn demo(State(door): State<Door>, Json(asked): Json<Demo>) -> Result<Json<Frame>, Problem> {
    opened(&door, move |desk, at| desk.demo(&asked.name, at)).await
}

async fn opened(
    door: &Door,
    how: impl FnOnce(&mut dryfit_project::Desk, &str) -> Result<(), dryfit_project::DeskFault> + Send + 'static,
) -> Result<Json<Frame>, Problem> {
    let frame = door
        .at_desk(move |desk, clock| {
            how(desk, &(clock.now)())?;
            Ok(frame(desk.job()?).map_err(dryfit_project::DeskFault::from)?)
        })
        .await?;
    door.tell(&frame.tag);
    Ok(Json(frame))
}

async fn close(State(door): State<Door>) -> Result<(), Problem> {
    door.at_desk(|desk, _| Ok(desk.close()?)).await
}
