//! The files of the page, embedded in the program.

use axum::http::{StatusCode, Uri, header};
use axum::response::{IntoResponse, Response};
use rust_embed::Embed;

#[derive(Embed)]
#[folder = "$OUT_DIR/page"]
struct Page;

const INDEX: &str = "index.html";

/// Whether the program was built with its page.
pub(crate) fn is_built() -> bool {
    Page::get(INDEX).is_some()
}

/// A file of the page; the page itself for the root.
pub(crate) fn file(uri: &Uri) -> Response {
    let path = match uri.path().trim_start_matches('/') {
        "" => INDEX,
        path => path,
    };
    let Some(file) = Page::get(path) else {
        return (StatusCode::NOT_FOUND, "no such page").into_response();
    };
    // The names of built files contain a hash of their content.
    let keep = if path.starts_with("assets/") {
        "public, max-age=31536000, immutable"
    } else {
        "no-store"
    };
    let kind = file.metadata.mimetype().to_owned();
    (
        [(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, keep.to_owned())],
        file.data,
    )
        .into_response()
}
