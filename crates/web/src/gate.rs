//! Who may come in, and what every answer carries.

use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use crate::{Door, Problem};

/// What the page may do: its own files and its own server, nothing else. Content Security Policy level 3.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; \
                      font-src 'self'; connect-src 'self'; frame-src 'self'; base-uri 'none'; form-action 'none'; \
                      frame-ancestors 'self'";

const ALWAYS: [(HeaderName, &str); 5] = [
    (header::CONTENT_SECURITY_POLICY, POLICY),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::REFERRER_POLICY, "no-referrer"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
];

/// Lets in who asks this host by its address, from its own page.
pub async fn gate(State(door): State<Door>, request: Request, next: Next) -> Response {
    let mut answer = match refused(&door, request.headers(), request.method()) {
        Some(problem) => problem.into_response(),
        None => next.run(request).await,
    };
    let headers = answer.headers_mut();
    for (name, value) in ALWAYS {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-cache"));
    answer
}

fn refused(door: &Door, headers: &HeaderMap, method: &Method) -> Option<Problem> {
    let text = |name: HeaderName| headers.get(name).map(|value| value.to_str().unwrap_or("?"));
    // another name for this machine may be somebody else's page
    if text(header::HOST) != Some(&*door.host) {
        return Some(Problem::new(
            StatusCode::MISDIRECTED_REQUEST,
            "this address is asked by its number alone",
        ));
    }
    let own = format!("http://{}", door.host);
    if text(header::ORIGIN).is_some_and(|origin| origin != own) {
        return Some(Problem::new(StatusCode::FORBIDDEN, "another page may not ask here"));
    }
    // RFC 9110: safe methods change nothing; a browser says where all others come from
    let site = text(HeaderName::from_static("sec-fetch-site"));
    if !method.is_safe() && site.is_some_and(|site| site != "same-origin") {
        return Some(Problem::new(StatusCode::FORBIDDEN, "another page may not ask here"));
    }
    None
}

/// Without the key there is nothing to see; with it, there may be nothing there.
pub async fn nowhere(State(door): State<Door>, uri: Uri) -> Problem {
    if uri.path().split('/').nth(1) == Some(&*door.key) {
        return Problem::new(StatusCode::NOT_FOUND, "there is nothing here");
    }
    Problem::new(StatusCode::FORBIDDEN, "open the whole address that `dryfit` printed, its key included")
}

/// The right place, asked in the wrong way.
pub async fn no_method() -> Problem {
    Problem::new(StatusCode::METHOD_NOT_ALLOWED, "this is asked in another way")
}
