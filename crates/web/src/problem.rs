//! What went wrong, as problem details (RFC 9457).

use axum::Json;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use dryfit_project::shown::{TypedFault, WishFault};
use dryfit_project::{DeskFault, EditRefused, FileFault, JobFault, RemedyFault};
use serde::Serialize;

/// One problem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The status.
    pub status: StatusCode,
    /// What is wrong and what would do.
    pub detail: String,
    /// Where in what was typed, in characters.
    pub at: Option<u32>,
}

#[derive(Serialize)]
struct Body<'a> {
    /// RFC 9457, section 3.1.1: "about:blank" where the status says it all.
    r#type: &'a str,
    title: &'a str,
    status: u16,
    detail: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    at: Option<u32>,
}

impl Problem {
    /// A problem with a status.
    pub fn new(status: StatusCode, detail: impl Into<String>) -> Problem {
        Problem { status, detail: detail.into(), at: None }
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let title = self.status.canonical_reason().unwrap_or("it did not work");
        let body = Body {
            r#type: "about:blank",
            title,
            status: self.status.as_u16(),
            detail: &self.detail,
            at: self.at,
        };
        let mut answer = (self.status, Json(&body)).into_response();
        let form = HeaderValue::from_static("application/problem+json");
        answer.headers_mut().insert(header::CONTENT_TYPE, form);
        answer
    }
}

impl From<TypedFault> for Problem {
    fn from(fault: TypedFault) -> Problem {
        Problem { status: StatusCode::UNPROCESSABLE_ENTITY, detail: fault.what, at: Some(fault.at) }
    }
}

impl From<DeskFault> for Problem {
    fn from(fault: DeskFault) -> Problem {
        let status = match &fault {
            DeskFault::Wish(WishFault::Typed(typed)) => return typed.clone().into(),
            DeskFault::Stale => StatusCode::PRECONDITION_FAILED,
            DeskFault::NoSuch(_)
            | DeskFault::Wish(WishFault::Names(_) | WishFault::Repair(RemedyFault::NoFinding { .. })) => {
                StatusCode::NOT_FOUND
            }
            DeskFault::Job(JobFault::File(file)) => match file {
                FileFault::Missing { .. } | FileFault::NoMoment { .. } => StatusCode::NOT_FOUND,
                FileFault::TooLarge { .. } => StatusCode::PAYLOAD_TOO_LARGE,
                FileFault::Full { .. } => StatusCode::INSUFFICIENT_STORAGE,
                FileFault::InUse { .. } => StatusCode::LOCKED,
                FileFault::System { .. } => StatusCode::INTERNAL_SERVER_ERROR,
                _ => StatusCode::CONFLICT,
            },
            DeskFault::Nothing
            | DeskFault::MadeBefore { .. }
            | DeskFault::Job(
                JobFault::Nothing(_)
                | JobFault::Refused(EditRefused::Changed { .. } | EditRefused::Taken { .. }),
            ) => StatusCode::CONFLICT,
            DeskFault::Wish(WishFault::Repair(_)) | DeskFault::Job(_) => StatusCode::UNPROCESSABLE_ENTITY,
        };
        Problem::new(status, fault.to_string())
    }
}
