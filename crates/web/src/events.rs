//! Server-sent events (WHATWG HTML, section 9.2): every open page hears that the plan stands elsewhere now.

use std::convert::Infallible;
use std::time::Duration;

use axum::Router;
use axum::extract::State;
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::routing::get;
use tokio_stream::wrappers::BroadcastStream;
use tokio_stream::{Stream, StreamExt};

use crate::Door;

pub fn routes() -> Router<Door> {
    Router::new().route("/events", get(events))
}

async fn events(State(door): State<Door>) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    // one that lagged behind asks anew with the next event
    let moved = BroadcastStream::new(door.moved.subscribe())
        .filter_map(Result::ok)
        .map(|tag| Ok(Event::default().event("moved").data(tag)));
    Sse::new(moved).keep_alive(KeepAlive::new().interval(Duration::from_secs(20)))
}
