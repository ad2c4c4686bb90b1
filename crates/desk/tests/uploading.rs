//! Uploads: which files are accepted, and which are refused, with a reason.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::fs;

use axum::body::Body;
use axum::http::{Method, Request, header};
use support::{Asked, OWN, Reply};

fn upload(desk: &Asked, query: &str, file: impl Into<Body>) -> Reply {
    let request = Request::builder()
        .method(Method::PUT)
        .uri(format!("/api/file?{query}"))
        .header(header::HOST, OWN)
        .header(header::ORIGIN, format!("http://{OWN}"));
    desk.send(request.body(file.into()).unwrap())
}

#[test]
fn a_file_goes_beside_the_plant_under_a_free_name() {
    let folder = tempfile::tempdir().unwrap();
    support::copy("mulenga-ridge", folder.path());
    let old = fs::read(folder.path().join("weather.csv")).unwrap();
    let desk = Asked::at(folder.path());
    for expected in ["weather-2.csv", "weather-3.csv"] {
        let answer = upload(&desk, "beside=plant.toml&name=weather.csv", "time\n").answered();
        assert_eq!(answer["name"], expected);
        assert_eq!(fs::read(folder.path().join(expected)).unwrap(), b"time\n");
    }
    assert_eq!(fs::read(folder.path().join("weather.csv")).unwrap(), old);
}

#[test]
fn a_refused_file_is_reported_and_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    support::copy("mulenga-ridge", folder.path());
    let count = || fs::read_dir(folder.path()).unwrap().count();
    let (before, desk) = (count(), Asked::at(folder.path()));
    for (query, status, said) in [
        (
            "beside=plant.toml&name=../a.csv",
            400,
            "not a valid file name for a plant",
        ),
        (
            "beside=plant.toml&name=a%2Fb.csv",
            400,
            "not a valid file name for a plant",
        ),
        (
            "beside=plant.toml&name=.hidden.csv",
            400,
            "not a valid file name for a plant",
        ),
        ("beside=plant.toml&name=a.exe", 400, "name that ends in .csv"),
        ("beside=plant.toml&name=", 400, "not a valid file name for a plant"),
        (
            "beside=../plant.toml&name=a.csv",
            400,
            "not a file in the opened folder",
        ),
        (
            "beside=%2Fetc%2Fpasswd&name=a.csv",
            400,
            "not a file in the opened folder",
        ),
        ("beside=missing.toml&name=a.csv", 400, "not a file in the opened folder"),
        ("name=a.csv", 400, "beside"),
        ("beside=plant.toml", 400, "name"),
    ] {
        let why = upload(&desk, query, "time\n").why(status);
        assert!(why.contains(said), "{query}: {why}");
    }
    let query = "beside=plant.toml&name=a.csv";
    let why = upload(&desk, query, vec![b'a', 0xe9, b'\n']).why(400);
    assert!(why.contains("save it as UTF-8"), "{why}");
    let why = upload(&desk, query, vec![b'a'; 64 * 1024 * 1024 + 1]).why(413);
    assert!(why.contains("64 MB"), "{why}");
    assert_eq!(count(), before);
}
