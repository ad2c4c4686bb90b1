//! The routes of the server.

use std::sync::Arc;

use axum::Router;
use axum::body::Bytes;
use axum::extract::rejection::{BytesRejection, QueryRejection};
use axum::extract::{DefaultBodyLimit, FromRequest, Query, State};
use axum::http::{StatusCode, Uri};
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post, put};
use daylift_study::Memory;
use serde::Serialize;
use tokio::sync::Mutex;

use crate::answer::{answer, one_day};
use crate::api::{Answer, AnswerRequest, DayRequest, Refusal, SaveRequest, StartRequest, Turn, UploadRequest};
use crate::choose;
use crate::folder::Folder;
use crate::guard::{API, LARGEST_BODY, LARGEST_FILE, Port, guard};
use crate::page;
use crate::refused::Refused;
use crate::save::save;
use crate::turns::{Missed, Turns};
use crate::upload::upload;
use crate::{Options, Starter};

/// An opened folder, with what earlier answers computed for its plants.
#[derive(Debug)]
pub struct Desk {
    folder: Folder,
    starter: Starter,
    port: Port,
    memory: Memory,
    answers: Turns,
    days: Turns,
    /// Held while files are written.
    writing: Arc<Mutex<()>>,
}

impl Desk {
    /// Opens a folder that is to be served on a port.
    ///
    /// # Errors
    /// When the folder or the plant file cannot be opened; the text says why.
    pub fn open(options: &Options, port: u16) -> Result<Self, String> {
        Ok(Self {
            folder: Folder::open(&options.open)?,
            starter: options.starter,
            port: Port(port),
            memory: Memory::new(),
            answers: Turns::new(),
            days: Turns::new(),
            writing: Arc::default(),
        })
    }

    /// The answer to a request of the page, computed on this thread.
    ///
    /// # Errors
    /// When the plant has faults, or the request names a file that the plant does not have.
    pub fn answer(&self, request: &AnswerRequest) -> Result<Answer, Refusal> {
        answer(&self.folder, &self.memory, request).map_err(Refused::into_refusal)
    }

    /// The fragment of the page's address that opens the plant; empty if a folder without a plant file was opened.
    #[must_use]
    pub fn first_view(&self) -> String {
        self.folder.first().map_or_else(String::new, |id| format!("#/plant/{}", in_address(id)))
    }
}

type Shared = State<Arc<Desk>>;

/// All routes: the page, and the requests that it sends.
pub fn router(desk: Desk) -> Router {
    let port = desk.port;
    Router::new()
        .route("/api/plants", get(plants).post(start_plant))
        .route("/api/answer", post(answer_plant))
        .route("/api/day", post(answer_day))
        .route("/api/save", post(save_plant))
        .layer(DefaultBodyLimit::max(LARGEST_BODY))
        .route("/api/file", put(upload_file).layer(DefaultBodyLimit::max(LARGEST_FILE)))
        .fallback(get(page_file))
        .layer(from_fn_with_state(port, guard))
        .with_state(Arc::new(desk))
}

/// A JSON body. What is wrong with it is reported as JSON, too.
#[derive(Debug, FromRequest)]
#[from_request(via(axum::Json), rejection(Refused))]
struct Asked<T>(T);

/// Why an upload that did not arrive in full is refused.
const TOO_LARGE: &str = "the file is larger than 64 MB, or the upload is incomplete; copy the file into the plant's folder and give its path";

/// The longest name that a page may give itself \[bytes\].
const LONGEST_PAGE: usize = 64;

/// Computes an answer when it is its turn. There is no answer if the page has sent a newer request since.
async fn in_turn<T: Serialize + Send + 'static>(
    turns: &Turns,
    turn: Turn,
    work: impl FnOnce() -> Result<T, Refused> + Send + 'static,
) -> Response {
    if turn.page.len() > LONGEST_PAGE {
        return Refused::request("the id of a page has at most 64 bytes").into_response();
    }
    match turns.take(&turn.page, turn.number, work).await {
        Ok(done) => answered(done),
        Err(Missed::Overtaken) => StatusCode::NO_CONTENT.into_response(),
        Err(Missed::Broken) => broken().into_response(),
    }
}

/// Runs work that reads or writes files on a separate thread.
async fn on_own_thread<T: Serialize + Send + 'static>(
    work: impl FnOnce() -> Result<T, Refused> + Send + 'static,
) -> Response {
    tokio::task::spawn_blocking(work)
        .await
        .map_or_else(|_| broken().into_response(), answered)
}

fn answered<T: Serialize>(done: Result<T, Refused>) -> Response {
    match done {
        Ok(answer) => axum::Json(answer).into_response(),
        Err(refused) => refused.into_response(),
    }
}

fn broken() -> Refused {
    Refused::failed("the request failed; see the messages where Daylift was started")
}

async fn page_file(uri: Uri) -> Response {
    if uri.path().starts_with(API) {
        return Refused::of(StatusCode::NOT_FOUND, "unknown request").into_response();
    }
    page::file(&uri)
}

async fn plants(State(desk): Shared) -> Response {
    on_own_thread(move || Ok(choose::plant_list(&desk.folder, &desk.starter))).await
}

async fn start_plant(State(desk): Shared, Asked(request): Asked<StartRequest>) -> Response {
    let alone = Arc::clone(&desk.writing).lock_owned().await;
    on_own_thread(move || {
        let _alone = alone;
        choose::start(&desk.folder, &desk.starter, &request)
    })
    .await
}

async fn answer_plant(State(desk): Shared, Asked(request): Asked<AnswerRequest>) -> Response {
    let (inner, turn) = (Arc::clone(&desk), request.turn.clone());
    in_turn(&desk.answers, turn, move || {
        answer(&inner.folder, &inner.memory, &request)
    })
    .await
}

async fn answer_day(State(desk): Shared, Asked(request): Asked<DayRequest>) -> Response {
    let (inner, turn) = (Arc::clone(&desk), request.turn.clone());
    in_turn(&desk.days, turn, move || {
        one_day(&inner.folder, &inner.memory, &request)
    })
    .await
}

async fn upload_file(
    State(desk): Shared,
    request: Result<Query<UploadRequest>, QueryRejection>,
    file: Result<Bytes, BytesRejection>,
) -> Response {
    let (request, file) = match (request, file) {
        (Ok(Query(request)), Ok(file)) => (request, file),
        (Err(rejection), _) => return Refused::request(rejection.body_text()).into_response(),
        (_, Err(rejection)) => return Refused::of(rejection.status(), TOO_LARGE).into_response(),
    };
    let alone = Arc::clone(&desk.writing).lock_owned().await;
    on_own_thread(move || {
        let _alone = alone;
        upload(&desk.folder, &request, &file)
    })
    .await
}

async fn save_plant(State(desk): Shared, Asked(request): Asked<SaveRequest>) -> Response {
    let alone = Arc::clone(&desk.writing).lock_owned().await;
    on_own_thread(move || {
        let _alone = alone;
        save(&desk.folder, &request)
    })
    .await
}

/// A name as part of an address. Bytes that an address may not contain are percent-encoded: `%20`.
fn in_address(name: &str) -> String {
    let plain = |byte: &u8| byte.is_ascii_alphanumeric() || b"-._~/".contains(byte);
    let coded = |byte: u8| {
        if plain(&byte) {
            char::from(byte).to_string()
        } else {
            format!("%{byte:02X}")
        }
    };
    name.bytes().map(coded).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_in_an_address_is_coded() {
        assert_eq!(in_address("my farm/ä#1.toml"), "my%20farm/%C3%A4%231.toml");
    }
}
