//! The page's door: a server on the loopback address alone, one file a group of routes.
//!
//! It holds no logic: what is shown is assembled in `project`. Its address carries a key that nobody can guess;
//! requests with another `Host`, another `Origin` or without the key get nothing. Nothing is sent anywhere.

mod edits;
mod events;
mod files;
mod gate;
mod pages;
mod problem;
mod start;
mod static_files;

use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::sync::{Arc, Mutex};
use std::time::Duration;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use dryfit_project::Desk;
use tokio::net::TcpListener;
use tokio::sync::broadcast;
use tower_http::timeout::TimeoutLayer;

pub use problem::Problem;

/// How long an answer may take; setting a packet in type on a slow machine is the longest.
const PATIENCE: Duration = Duration::from_secs(90);

/// The largest request, bytes: an attachment, and a little.
const LARGEST: usize = dryfit_project::LARGEST_ATTACHMENT + 4096;

/// What the door is told by the caller, who has the clock.
#[derive(Clone, Copy, Debug)]
pub struct Clock {
    /// The time, as the history keeps it.
    pub now: fn() -> String,
    /// The day, as the packet bears it.
    pub today: fn() -> String,
}

/// What every route has at hand.
#[derive(Clone)]
struct Door {
    desk: Arc<Mutex<Desk>>,
    clock: Clock,
    key: Arc<str>,
    host: Arc<str>,
    moved: broadcast::Sender<String>,
}

impl Door {
    /// Does something at the desk, away from the threads that answer.
    async fn at_desk<T: Send + 'static>(
        &self,
        what: impl FnOnce(&mut Desk, Clock) -> Result<T, Problem> + Send + 'static,
    ) -> Result<T, Problem> {
        let (desk, clock) = (self.desk.clone(), self.clock);
        let done = tokio::task::spawn_blocking(move || {
            let mut desk = desk.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
            what(&mut desk, clock)
        });
        done.await
            .unwrap_or_else(|_| Err(Problem::new(StatusCode::INTERNAL_SERVER_ERROR, "the desk fell over")))
    }

    /// Tells every open page that the plan stands elsewhere now.
    fn tell(&self, tag: &str) {
        // nobody listening is no fault
        let _ = self.moved.send(tag.to_owned());
    }
}

/// A key of 128 bits that nobody can guess, as hexadecimal.
fn new_key() -> io::Result<String> {
    let mut bytes = [0_u8; 16];
    getrandom::fill(&mut bytes).map_err(|fault| io::Error::other(fault.to_string()))?;
    Ok(format!("{:032x}", u128::from_be_bytes(bytes)))
}

/// Serves a desk on the loopback address until it is interrupted, then closes the job on it. `port` 0 takes any
/// that is free; `ready` is told the address of the page.
///
/// # Errors
/// When the port cannot be had.
pub fn serve(desk: Desk, port: u16, clock: Clock, ready: impl FnOnce(&str)) -> io::Result<Option<String>> {
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build()?;
    let desk = Arc::new(Mutex::new(desk));
    runtime.block_on(async {
        let listener = TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port))).await?;
        let host = listener.local_addr()?.to_string();
        let key = new_key()?;
        let address = format!("http://{host}/{key}/");
        let door = Door {
            desk: desk.clone(),
            clock,
            key: key.into(),
            host: host.into(),
            moved: broadcast::channel(16).0,
        };
        ready(&address);
        let interrupted = async {
            // without signals it serves until it is killed, which loses nothing
            if tokio::signal::ctrl_c().await.is_err() {
                std::future::pending::<()>().await;
            }
        };
        tokio::select! {
            served = axum::serve(listener, router(door)) => served,
            () = interrupted => Ok(()),
            () = terminated() => Ok(()),
        }
    })?;
    runtime.shutdown_timeout(Duration::from_secs(2));
    let mut desk = desk.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    Ok(desk.close().err().map(|fault| fault.to_string()))
}

/// When the system asks to end.
#[cfg(unix)]
async fn terminated() {
    use tokio::signal::unix::{SignalKind, signal};
    match signal(SignalKind::terminate()) {
        Ok(mut asked) => {
            asked.recv().await;
        }
        Err(_) => std::future::pending().await,
    }
}

#[cfg(not(unix))]
async fn terminated() {
    std::future::pending().await
}

/// All routes, behind the gate.
fn router(door: Door) -> Router {
    let timed = Router::new()
        .merge(start::routes())
        .merge(pages::routes())
        .merge(edits::routes())
        .merge(files::routes())
        .layer(TimeoutLayer::with_status_code(StatusCode::GATEWAY_TIMEOUT, PATIENCE))
        .layer(DefaultBodyLimit::max(LARGEST));
    // events never end, so they stand outside the time limit
    let api = timed.merge(events::routes());
    let inside = Router::new().nest("/api", api).merge(static_files::routes());
    Router::new()
        // a nested root would be answered without the slash that everything else is relative to
        .route(&format!("/{}/", door.key), axum::routing::get(static_files::index))
        .nest(&format!("/{}", door.key), inside)
        .fallback(gate::nowhere)
        .method_not_allowed_fallback(gate::no_method)
        .layer(axum::middleware::from_fn_with_state(door.clone(), gate::gate))
        .with_state(door)
}

#[cfg(test)]
mod tests;
