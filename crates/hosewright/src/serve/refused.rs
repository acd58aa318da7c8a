//! Why a call is refused: a status and one sentence.

use axum::Json;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};

use crate::api::{Spot, Wrong};
use crate::fault::Fault;

/// A call that is not answered with what was asked for.
#[derive(Clone, Debug)]
pub(crate) struct Refused {
    pub(crate) status: StatusCode,
    pub(crate) wrong: Wrong,
}

impl Refused {
    pub(crate) fn new(status: StatusCode, why: impl Into<String>) -> Self {
        Self {
            status,
            wrong: Wrong {
                why: why.into(),
                ..Wrong::default()
            },
        }
    }

    /// What was asked for is not there.
    pub(crate) fn missing(why: impl Into<String>) -> Self {
        Self::new(StatusCode::NOT_FOUND, why)
    }

    /// What was sent can't be done.
    pub(crate) fn unfit(why: impl Into<String>) -> Self {
        Self::new(StatusCode::UNPROCESSABLE_ENTITY, why)
    }

    /// The file is no longer what the sender saw.
    pub(crate) fn conflict(why: impl Into<String>) -> Self {
        Self::new(StatusCode::CONFLICT, why)
    }

    /// Somebody who may not.
    pub(crate) fn forbidden(why: impl Into<String>) -> Self {
        Self::new(StatusCode::FORBIDDEN, why)
    }

    /// Another call of the kind is still being worked on, or this one took too long.
    pub(crate) fn busy(why: impl Into<String>) -> Self {
        Self::new(StatusCode::SERVICE_UNAVAILABLE, why)
    }

    /// A defect of the program.
    pub(crate) fn defect() -> Self {
        Self::new(
            StatusCode::INTERNAL_SERVER_ERROR,
            "The program failed by a defect of its own; what was kept is in the boat file.",
        )
    }

    pub(crate) fn at(mut self, (line, column): (usize, usize)) -> Self {
        self.wrong.place = Some(Spot { line, column });
        self
    }

    pub(crate) fn found(mut self, found: impl Into<String>) -> Self {
        self.wrong.found = Some(found.into());
        self
    }

    pub(crate) fn expected(mut self, expected: impl Into<String>) -> Self {
        self.wrong.expected = Some(expected.into());
        self
    }
}

impl From<Fault> for Refused {
    fn from(fault: Fault) -> Self {
        let status = match &fault {
            Fault::ChangedOutside { .. } => StatusCode::CONFLICT,
            Fault::NoArrangement { .. } => StatusCode::NOT_FOUND,
            Fault::Unwritable { .. } | Fault::BadEdit { .. } | Fault::NotPrinted { .. } => {
                StatusCode::INTERNAL_SERVER_ERROR
            }
            _ => StatusCode::UNPROCESSABLE_ENTITY,
        };
        Self::new(status, fault.to_string())
    }
}

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        (self.status, Json(self.wrong)).into_response()
    }
}
