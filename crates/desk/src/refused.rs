//! Why a request is not answered, told as JSON.

use axum::extract::rejection::JsonRejection;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};

use crate::api::{FaultAt, Refusal};

/// Why a request is not answered.
#[derive(Debug)]
pub(crate) struct Refused {
    status: StatusCode,
    refusal: Refusal,
}

impl Refused {
    /// A refusal of a status, in words.
    pub(crate) fn of(status: StatusCode, why: impl Into<String>) -> Self {
        let refusal = Refusal {
            why: why.into(),
            faults: Vec::new(),
        };
        Self { status, refusal }
    }

    /// What was asked for is not there or makes no sense.
    pub(crate) fn request(why: impl Into<String>) -> Self {
        Self::of(StatusCode::BAD_REQUEST, why)
    }

    /// The plant has faults.
    pub(crate) fn faults(faults: Vec<FaultAt>) -> Self {
        let mut refused = Self::of(StatusCode::UNPROCESSABLE_ENTITY, "the plant's files have faults");
        refused.refusal.faults = faults;
        refused
    }

    /// The files are not what the page knows.
    pub(crate) fn changed() -> Self {
        let why = "the plant's files have changed since this page read them; nothing was written";
        Self::of(StatusCode::CONFLICT, why)
    }

    /// Who asks may not.
    pub(crate) fn forbidden(why: impl Into<String>) -> Self {
        Self::of(StatusCode::FORBIDDEN, why)
    }

    /// It was well asked for and could not be done.
    pub(crate) fn failed(why: impl Into<String>) -> Self {
        Self::of(StatusCode::INTERNAL_SERVER_ERROR, why)
    }

    /// What is told, without its status.
    pub(crate) fn into_refusal(self) -> Refusal {
        self.refusal
    }
}

impl From<JsonRejection> for Refused {
    fn from(rejection: JsonRejection) -> Self {
        // What does not fit its type is no worse asked than what is no JSON.
        let status = match rejection.status() {
            StatusCode::UNPROCESSABLE_ENTITY => StatusCode::BAD_REQUEST,
            status => status,
        };
        Self::of(status, rejection.body_text())
    }
}

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        (self.status, axum::Json(self.refusal)).into_response()
    }
}
