//! Why a request is refused, as JSON.

use axum::extract::rejection::JsonRejection;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};

use crate::api::{FaultAt, Refusal};

/// Why a request is refused.
#[derive(Debug)]
pub(crate) struct Refused {
    status: StatusCode,
    refusal: Refusal,
}

impl Refused {
    /// A refusal with a status and a reason in words.
    pub(crate) fn of(status: StatusCode, why: impl Into<String>) -> Self {
        let refusal = Refusal {
            why: why.into(),
            faults: Vec::new(),
        };
        Self { status, refusal }
    }

    /// The request names something that does not exist, or makes no sense.
    pub(crate) fn request(why: impl Into<String>) -> Self {
        Self::of(StatusCode::BAD_REQUEST, why)
    }

    /// The plant has faults.
    pub(crate) fn faults(faults: Vec<FaultAt>) -> Self {
        let mut refused = Self::of(StatusCode::UNPROCESSABLE_ENTITY, "the plant's files have faults");
        refused.refusal.faults = faults;
        refused
    }

    /// The files are not as the page knows them.
    pub(crate) fn changed() -> Self {
        let why = "the plant's files have changed since this page read them; nothing was written";
        Self::of(StatusCode::CONFLICT, why)
    }

    /// The sender may not ask this.
    pub(crate) fn forbidden(why: impl Into<String>) -> Self {
        Self::of(StatusCode::FORBIDDEN, why)
    }

    /// The request was valid and its work failed.
    pub(crate) fn failed(why: impl Into<String>) -> Self {
        Self::of(StatusCode::INTERNAL_SERVER_ERROR, why)
    }

    /// The reason without the status.
    pub(crate) fn into_refusal(self) -> Refusal {
        self.refusal
    }
}

impl From<JsonRejection> for Refused {
    fn from(rejection: JsonRejection) -> Self {
        // JSON of the wrong type gets the same status as a body that is not JSON.
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
