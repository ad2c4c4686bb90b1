//! Which requests are allowed, what a browser may do with the answer, and which requests are invalid.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use axum::body::Body;
use axum::http::{Method, Request, StatusCode, header};
use serde_json::json;
use support::{Asked, OWN, answer_request, by_page};

fn from(desk: &Asked, method: Method, path: &str, headers: &[(&str, &str)]) -> StatusCode {
    let mut request = Request::builder()
        .method(method)
        .uri(path)
        .header(header::CONTENT_TYPE, "application/json");
    for (name, value) in headers {
        request = request.header(*name, *value);
    }
    let body = answer_request("plant.toml", &json!([])).to_string();
    let reply = desk.send(request.body(Body::from(body)).unwrap());
    if reply.status == 403 {
        let why = reply.why(403);
        assert!(why.contains("its own address") || why.contains("other pages"), "{why}");
    }
    reply.status
}

#[test]
fn a_host_name_that_points_to_this_machine_is_refused() {
    let desk = Asked::new();
    let hosts = [
        "evil.example:7420",
        "evil.example",
        "127.0.0.1",
        "127.0.0.1:80",
        "127.0.0.1:7421",
        "127.0.0.1:7420.evil.example",
        "localhost.evil.example:7420",
        "[::1]:7420",
        "0.0.0.0:7420",
        "",
    ];
    for host in hosts {
        for (method, path) in [
            (Method::GET, "/"),
            (Method::GET, "/api/plants"),
            (Method::POST, "/api/answer"),
        ] {
            assert_eq!(from(&desk, method, path, &[("host", host)]), 403, "{host} {path}");
        }
    }
    assert_eq!(from(&desk, Method::GET, "/api/plants", &[]), 403, "no host at all");
    let two = [("host", OWN), ("host", "evil.example")];
    assert_eq!(from(&desk, Method::GET, "/api/plants", &two), 403);
    for host in [OWN, "localhost:7420"] {
        assert_eq!(from(&desk, Method::GET, "/api/plants", &[("host", host)]), 200);
    }
}

#[test]
fn another_page_may_not_ask() {
    let desk = Asked::new();
    let origins = [
        "http://evil.example",
        "https://127.0.0.1:7420",
        "http://127.0.0.1:7421",
        "http://localhost",
        "http://evil.example:7420",
        "null",
        "",
    ];
    for origin in origins {
        for path in ["/api/answer", "/api/day", "/api/save", "/api/plants"] {
            let headers = [("host", OWN), ("origin", origin)];
            assert_eq!(from(&desk, Method::POST, path, &headers), 403, "{origin} {path}");
            assert_eq!(from(&desk, Method::OPTIONS, path, &headers), 403, "{origin} {path}");
        }
    }
    for site in ["cross-site", "same-site", "x"] {
        let headers = [("host", OWN), ("sec-fetch-site", site)];
        assert_eq!(from(&desk, Method::POST, "/api/answer", &headers), 403, "{site}");
        assert_eq!(from(&desk, Method::GET, "/api/plants", &headers), 403, "{site}");
        assert_ne!(from(&desk, Method::GET, "/", &headers), 403, "a link may open the page");
    }
    let own = [
        ("host", OWN),
        ("origin", "http://127.0.0.1:7420"),
        ("sec-fetch-site", "same-origin"),
    ];
    assert_eq!(from(&desk, Method::POST, "/api/answer", &own), 200);
}

#[test]
fn every_answer_forbids_scripts_that_are_not_the_pages_own() {
    let desk = Asked::new();
    let stranger = Request::get("/").header(header::HOST, "evil.example").body(Body::empty()).unwrap();
    let replies = [
        desk.get("/"),
        desk.get("/api/plants"),
        desk.get("/api/none"),
        desk.get("/no-such-file"),
        desk.answer("no.toml", &json!([])),
        desk.send(stranger),
    ];
    for reply in replies {
        let of = |name: &str| reply.headers.get(name).map_or("", |value| value.to_str().unwrap()).to_owned();
        let policy = of("content-security-policy");
        let rules: Vec<&str> = policy.split(';').map(str::trim).collect();
        for rule in [
            "default-src 'none'",
            "script-src 'self'",
            "connect-src 'self'",
            "frame-ancestors 'none'",
        ] {
            assert!(rules.contains(&rule), "{rule} is not in {policy}");
        }
        assert!(
            !policy.contains("unsafe") && !policy.contains('*') && !policy.contains("data:"),
            "{policy}"
        );
        assert_eq!(of("x-content-type-options"), "nosniff");
        assert_eq!(of("cross-origin-resource-policy"), "same-origin");
        assert_eq!(of("access-control-allow-origin"), "");
        assert_eq!(of("cache-control"), "no-store");
    }
}

#[test]
fn the_page_itself_has_no_script_in_its_text() {
    let desk = Asked::new();
    let page = desk.get("/");
    assert_eq!(
        page.status, 200,
        "the program was built without its page: is npm there?"
    );
    let text = String::from_utf8(page.body).unwrap();
    for script in text.split("<script").skip(1) {
        let (tag, rest) = script.split_once('>').unwrap();
        assert!(tag.contains("src=") && rest.starts_with("</script>"), "{script}");
    }
    assert!(!text.contains("<style") && !text.contains(" style=") && !text.contains(" onload="));
}

#[test]
fn an_invalid_request_is_reported_in_json() {
    let desk = Asked::new();
    let send = |body: String| desk.send(by_page("/api/answer").body(Body::from(body)).unwrap());
    let sound = answer_request("plant.toml", &json!([])).to_string();
    assert_eq!(send(sound.clone()).status, 200);
    for body in ["", "{", "[]", "null", "{}", "\u{0}", &"[".repeat(100_000)] {
        send(body.to_owned()).why(400);
    }
    for (from, to) in [("\"number\":1", "\"number\":-1"), ("\"changes\":[]", "\"changes\":[1]")] {
        assert!(sound.contains(from));
        send(sound.replace(from, to)).why(400);
    }
    let large = sound.replace("\"test\"", &format!("\"{}\"", "x".repeat(300_000)));
    send(large).why(413);
    let long = sound.replace("\"test\"", &format!("\"{}\"", "x".repeat(1000)));
    assert!(send(long).why(400).contains("64"));
    let plain = Request::post("/api/answer")
        .header(header::HOST, OWN)
        .header(header::CONTENT_TYPE, "text/plain");
    desk.send(plain.body(Body::from(sound)).unwrap()).why(415);
    desk.get("/api/none").why(404);
    assert_eq!(desk.get("/api/save").status, 405);
    assert_eq!(desk.get("/../plant.toml").status, 404);
    assert_eq!(desk.get("/plant.toml").status, 404);
}
