//! A desk on a copy of a worked example. Tests send it requests without a socket.

#![allow(dead_code, reason = "each test file uses its own part")]

use std::fs;
use std::future::poll_fn;
use std::path::{Path, PathBuf};
use std::pin::pin;
use std::task::Poll;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Method, Request, StatusCode, header};
use daylift_desk::{Desk, Options, Starter, router};
use serde_json::{Value, json};
use tempfile::TempDir;
use tokio::runtime::Runtime;
use tower::ServiceExt;

pub(crate) const PORT: u16 = 7420;
pub(crate) const OWN: &str = "127.0.0.1:7420";

/// The folder of a worked example.
pub(crate) fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name)
}

/// Copies an example into a new folder.
pub(crate) fn copy(name: &str, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(example(name)).unwrap() {
        let path = entry.unwrap().path();
        fs::copy(&path, to.join(path.file_name().unwrap())).unwrap();
    }
}

fn start(folder: &Path, name: &str) -> Result<usize, String> {
    if folder.exists() {
        return Err("it is there already".to_owned());
    }
    copy(name, folder);
    Ok(fs::read_dir(folder).map_or(0, Iterator::count))
}

pub(crate) fn options(open: &Path) -> Options {
    Options {
        open: open.to_owned(),
        port: PORT,
        starter: Starter {
            examples: || vec!["mulenga-ridge".to_owned()],
            start,
        },
    }
}

/// The reply to a request.
#[derive(Debug)]
pub(crate) struct Reply {
    pub(crate) status: StatusCode,
    pub(crate) headers: HeaderMap,
    pub(crate) body: Vec<u8>,
}

impl Reply {
    /// The body as JSON; null when there is none.
    pub(crate) fn json(&self) -> Value {
        if self.body.is_empty() {
            return Value::Null;
        }
        serde_json::from_slice(&self.body).unwrap()
    }

    /// Why the request was refused: a status with a sentence in JSON.
    pub(crate) fn why(&self, status: u16) -> String {
        assert_eq!(self.status, status, "{}", String::from_utf8_lossy(&self.body));
        let refusal = self.json();
        assert!(refusal["faults"].is_array());
        refusal["why"].as_str().unwrap().to_owned()
    }

    /// The only fault of the plant's files.
    pub(crate) fn fault(&self) -> Value {
        let faults = self.faults();
        assert_eq!(faults.len(), 1, "{faults:?}");
        faults[0].clone()
    }

    pub(crate) fn faults(&self) -> Vec<Value> {
        self.why(422);
        self.json()["faults"].as_array().unwrap().clone()
    }

    pub(crate) fn answered(&self) -> Value {
        assert_eq!(self.status, 200, "{}", String::from_utf8_lossy(&self.body));
        self.json()
    }
}

/// A desk that gets the requests of its own page.
pub(crate) struct Asked {
    router: Router,
    runtime: Runtime,
    folder: Option<TempDir>,
}

impl Asked {
    /// Opens a copy of the usual example.
    pub(crate) fn new() -> Self {
        let folder = TempDir::new().unwrap();
        copy("mulenga-ridge", folder.path());
        let mut desk = Self::at(folder.path());
        desk.folder = Some(folder);
        desk
    }

    /// Opens the folder or plant file at a path.
    pub(crate) fn at(path: impl AsRef<Path>) -> Self {
        Self {
            router: router(Desk::open(&options(path.as_ref()), PORT).unwrap()),
            runtime: Runtime::new().unwrap(),
            folder: None,
        }
    }

    pub(crate) fn folder(&self) -> &Path {
        self.folder.as_ref().unwrap().path()
    }

    pub(crate) fn text(&self, file: &str) -> String {
        fs::read_to_string(self.folder().join(file)).unwrap()
    }

    /// Replaces a text, which must exist.
    pub(crate) fn replace(&self, file: &str, from: &str, to: &str) {
        let text = self.text(file);
        assert!(text.contains(from), "{file} has no {from:?}");
        fs::write(self.folder().join(file), text.replacen(from, to, 1)).unwrap();
    }

    pub(crate) fn send(&self, request: Request<Body>) -> Reply {
        self.runtime.block_on(async {
            let response = self.router.clone().oneshot(request).await.unwrap();
            let (parts, body) = response.into_parts();
            Reply {
                status: parts.status,
                headers: parts.headers,
                body: to_bytes(body, usize::MAX).await.unwrap().to_vec(),
            }
        })
    }

    pub(crate) fn get(&self, path: &str) -> Reply {
        self.send(Request::get(path).header(header::HOST, OWN).body(Body::empty()).unwrap())
    }

    pub(crate) fn post(&self, path: &str, body: &Value) -> Reply {
        self.send(by_page(path).body(Body::from(body.to_string())).unwrap())
    }

    /// Sends a request and gives up before the answer, like a page that sends a newer one.
    pub(crate) fn post_and_leave(&self, path: &str, body: &Value) {
        let request = by_page(path).body(Body::from(body.to_string())).unwrap();
        let mut asked = pin!(self.router.clone().oneshot(request));
        let answered = self.runtime.block_on(poll_fn(|task| Poll::Ready(asked.as_mut().poll(task).is_ready())));
        assert!(!answered, "the page went away after its answer");
    }

    pub(crate) fn answer(&self, plant: &str, changes: &Value) -> Reply {
        self.post("/api/answer", &answer_request(plant, changes))
    }

    pub(crate) fn save(&self, changes: &Value, stamp: &str) -> Reply {
        let body = json!({ "plant": "plant.toml", "changes": changes, "stamp": stamp });
        self.post("/api/save", &body)
    }

    /// The stamp of the plant as it is on the disk.
    pub(crate) fn stamp(&self) -> String {
        let answer = self.answer("plant.toml", &json!([])).answered();
        answer["stamp"].as_str().unwrap().to_owned()
    }

    pub(crate) fn day(&self, arrangement: &str, day: u32, switched: &Value) -> Reply {
        let body = json!({
            "plant": "plant.toml", "changes": [], "arrangement": arrangement, "day": day, "switched": switched,
            "turn": { "page": "test", "number": 1 },
        });
        self.post("/api/day", &body)
    }
}

/// A request as the page sends it.
pub(crate) fn by_page(path: &str) -> axum::http::request::Builder {
    Request::builder()
        .method(Method::POST)
        .uri(path)
        .header(header::HOST, OWN)
        .header(header::ORIGIN, format!("http://{OWN}"))
        .header("sec-fetch-site", "same-origin")
        .header(header::CONTENT_TYPE, "application/json")
}

pub(crate) fn answer_request(plant: &str, changes: &Value) -> Value {
    json!({ "plant": plant, "changes": changes, "looked_at": null, "turn": { "page": "test", "number": 1 } })
}

/// A change of one value in the plant file.
pub(crate) fn change(keys: &str, value: impl Into<Value>) -> Value {
    json!([{ "file": "plant.toml", "keys": keys, "value": value.into() }])
}

/// The input with these keys in a file.
pub(crate) fn input<'a>(answer: &'a Value, file: &str, keys: &str) -> &'a Value {
    let inputs = answer["inputs"].as_array().unwrap();
    let found = inputs.iter().find(|input| input["file"] == file && input["keys"] == keys);
    found.unwrap_or_else(|| panic!("there is no {keys} in {file}"))
}
