//! The routes of the server.

use std::sync::Arc;

use axum::Router;
use axum::extract::rejection::JsonRejection;
use axum::extract::{DefaultBodyLimit, FromRequest, Query, State};
use axum::http::StatusCode;
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post, put};
use daylift_study::Memory;
use serde::Serialize;
use tokio::sync::Mutex;

use crate::answer::{Refused, answer, one_day};
use crate::api::{Answer, AnswerRequest, BringRequest, DayRequest, Refusal, SaveRequest, StartRequest};
use crate::bring::bring;
use crate::choose;
use crate::folder::Folder;
use crate::guard::{LARGEST_BODY, LARGEST_FILE, Port, guard};
use crate::page;
use crate::save::save;
use crate::turns::{Overtaken, Turns};
use crate::{Options, Starter};

/// An opened folder, and what was computed for its plants.
#[derive(Debug)]
pub struct Desk {
    folder: Folder,
    starter: Starter,
    port: Port,
    memory: Memory,
    answers: Turns,
    days: Turns,
    /// Held while files are written.
    writing: Mutex<()>,
}

impl Desk {
    /// Opens a folder, to be served on a port.
    ///
    /// # Errors
    /// Why it cannot be opened.
    pub fn open(options: &Options, port: u16) -> Result<Self, String> {
        Ok(Self {
            folder: Folder::open(&options.open)?,
            starter: options.starter,
            port: Port(port),
            memory: Memory::new(),
            answers: Turns::new(),
            days: Turns::new(),
            writing: Mutex::new(()),
        })
    }

    /// What the page is answered, in this thread.
    ///
    /// # Errors
    /// Why there is no answer.
    pub fn answer(&self, request: &AnswerRequest) -> Result<Answer, Refusal> {
        answer(&self.folder, &self.memory, request).map_err(Refused::refusal)
    }

    /// The part of the page's address that opens the plant that was asked for.
    #[must_use]
    pub fn first_view(&self) -> String {
        self.folder.first().map_or_else(String::new, |id| format!("#/plant/{id}"))
    }
}

type Shared = State<Arc<Desk>>;

/// All that is served.
pub fn router(desk: Desk) -> Router {
    let port = desk.port;
    Router::new()
        .route("/api/plants", get(plants).post(start_plant))
        .route("/api/answer", post(answer_plant))
        .route("/api/day", post(answer_day))
        .route("/api/save", post(save_plant))
        .layer(DefaultBodyLimit::max(LARGEST_BODY))
        .route("/api/file", put(bring_file).layer(DefaultBodyLimit::max(LARGEST_FILE)))
        .fallback(get(page::file))
        .layer(from_fn_with_state(port, guard))
        .with_state(Arc::new(desk))
}

/// A JSON body; what is wrong with it is told as JSON too.
#[derive(Debug, FromRequest)]
#[from_request(via(axum::Json), rejection(Refused))]
struct Asked<T>(T);

impl From<JsonRejection> for Refused {
    fn from(rejection: JsonRejection) -> Self {
        Self::Request(rejection.body_text())
    }
}

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        let status = match &self {
            Self::Request(_) => StatusCode::BAD_REQUEST,
            Self::Faults(_) => StatusCode::UNPROCESSABLE_ENTITY,
            Self::Changed => StatusCode::CONFLICT,
            Self::Unwritten(_) => StatusCode::INTERNAL_SERVER_ERROR,
        };
        (status, axum::Json(self.refusal())).into_response()
    }
}

/// The answer of a turn; nothing when the page has asked again meanwhile.
fn of_turn<T: Serialize>(done: Result<Result<T, Refused>, Overtaken>) -> Response {
    match done {
        Ok(Ok(answer)) => axum::Json(answer).into_response(),
        Ok(Err(refused)) => refused.into_response(),
        Err(Overtaken) => StatusCode::NO_CONTENT.into_response(),
    }
}

async fn plants(State(desk): Shared) -> Response {
    axum::Json(choose::shelf(&desk.folder, &desk.starter)).into_response()
}

async fn start_plant(State(desk): Shared, Asked(request): Asked<StartRequest>) -> Response {
    let _alone = desk.writing.lock().await;
    match choose::start(&desk.folder, &desk.starter, &request) {
        Ok(started) => axum::Json(started).into_response(),
        Err(refused) => refused.into_response(),
    }
}

async fn answer_plant(State(desk): Shared, Asked(request): Asked<AnswerRequest>) -> Response {
    let (page, number) = (request.turn.page.clone(), request.turn.number);
    let inner = Arc::clone(&desk);
    let work = move || answer(&inner.folder, &inner.memory, &request);
    of_turn(desk.answers.take(&page, number, work).await)
}

async fn answer_day(State(desk): Shared, Asked(request): Asked<DayRequest>) -> Response {
    let (page, number) = (request.turn.page.clone(), request.turn.number);
    let inner = Arc::clone(&desk);
    let work = move || one_day(&inner.folder, &inner.memory, &request);
    of_turn(desk.days.take(&page, number, work).await)
}

async fn bring_file(State(desk): Shared, Query(request): Query<BringRequest>, text: String) -> Response {
    let _alone = desk.writing.lock().await;
    match bring(&desk.folder, &request, &text) {
        Ok(brought) => axum::Json(brought).into_response(),
        Err(refused) => refused.into_response(),
    }
}

async fn save_plant(State(desk): Shared, Asked(request): Asked<SaveRequest>) -> Response {
    let _alone = desk.writing.lock().await;
    match save(&desk.folder, &request) {
        Ok(saved) => axum::Json(saved).into_response(),
        Err(refused) => refused.into_response(),
    }
}
