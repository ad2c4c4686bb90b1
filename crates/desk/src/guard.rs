//! Which requests are allowed, and what a browser may do with the answer.
//!
//! A page of another site that is open in the same browser can send requests to loopback, even under a host name that it
//! has pointed there. The headers Host and Origin distinguish such requests from those of this page.

use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use crate::refused::Refused;

/// The largest body of a request \[bytes\]. A change of every value of a large plant needs far less.
pub(crate) const LARGEST_BODY: usize = 256 * 1024;

/// The largest upload \[bytes\]. A year of one-minute values with a few columns takes about 40 MB.
pub(crate) const LARGEST_FILE: usize = 64 * 1024 * 1024;

/// Sent with every answer.
const HEADERS: [(HeaderName, &str); 6] = [
    (
        header::CONTENT_SECURITY_POLICY,
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; \
         base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    ),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::REFERRER_POLICY, "no-referrer"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
];

/// The port that browsers omit from an address.
const HTTP: &str = "80";

/// The start of every path that only the page may request.
pub(crate) const API: &str = "/api/";

/// The port that is served.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Port(pub(crate) u16);

impl Port {
    fn is_own_host(self, host: &str) -> bool {
        let (name, port) = host.split_once(':').unwrap_or((host, HTTP));
        ["127.0.0.1", "localhost"].contains(&name) && port == self.0.to_string()
    }

    fn may_ask(self, path: &str, headers: &HeaderMap) -> Result<(), &'static str> {
        let text = |value: &HeaderValue| value.to_str().unwrap_or("?").to_owned();
        let all = |name: HeaderName| -> Vec<String> { headers.get_all(name).iter().map(text).collect() };
        if !matches!(&all(header::HOST)[..], [host] if self.is_own_host(host)) {
            return Err("Daylift responds only at its own address on this computer");
        }
        let own_origin = |origin: &String| origin.strip_prefix("http://").is_some_and(|host| self.is_own_host(host));
        if !all(header::ORIGIN).iter().all(own_origin) {
            return Err("requests from other pages are not allowed");
        }
        let site = all(HeaderName::from_static("sec-fetch-site"));
        // A link from another site may open the page; only the page itself may request anything else.
        if path.starts_with(API) && !site.iter().all(|site| ["same-origin", "none"].contains(&&**site)) {
            return Err("requests from other pages are not allowed");
        }
        Ok(())
    }
}

/// Refuses requests from anywhere but this page, and sets the headers of every answer.
pub(crate) async fn guard(State(port): State<Port>, request: Request<Body>, next: Next) -> Response {
    let mut response = match port.may_ask(request.uri().path(), request.headers()) {
        Ok(()) => next.run(request).await,
        Err(why) => Refused::forbidden(why).into_response(),
    };
    for (name, value) in HEADERS {
        response.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    response
        .headers_mut()
        .entry(header::CACHE_CONTROL)
        .or_insert(HeaderValue::from_static("no-store"));
    response
}
