//! Who may speak to the page, and what a browser may do with it.
//!
//! The page is for this machine: only requests that name it by a name of its own are answered, so that a page
//! elsewhere cannot reach it under a borrowed name. What another site sends is refused. Every answer says that nothing
//! may be loaded from outside.

use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::extract::Request;
use axum::http::{HeaderValue, StatusCode, header};
use axum::middleware::{Next, from_fn};
use axum::response::{IntoResponse, Response};
use tower::ServiceBuilder;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::csrf::CsrfLayer;
use tower_http::limit::RequestBodyLimitLayer;
use tower_http::timeout::TimeoutLayer;

/// Names under which the page may be asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hosts(Vec<String>);

impl Hosts {
    /// This machine by its own names, and by the address that is served where it is another.
    pub fn of(address: SocketAddr) -> Hosts {
        let mut names = vec!["localhost".to_owned(), "127.0.0.1".to_owned(), "[::1]".to_owned()];
        let own = match address.ip() {
            std::net::IpAddr::V4(ip) => ip.to_string(),
            std::net::IpAddr::V6(ip) => format!("[{ip}]"),
        };
        if !address.ip().is_unspecified() && !names.contains(&own) {
            names.push(own);
        }
        Hosts(names)
    }

    /// Is this a name of ours, with any port?
    fn allow(&self, host: &str) -> bool {
        let name = match host.rfind(':') {
            Some(colon)
                if host.get(colon + 1..).is_some_and(|port| port.bytes().all(|digit| digit.is_ascii_digit())) =>
            {
                host.get(..colon).unwrap_or(host)
            }
            _ => host,
        };
        self.0.iter().any(|own| own.eq_ignore_ascii_case(name))
    }
}

/// A form holds no more than this.
const MOST_BYTES: usize = 2 * 1024 * 1024;
const PATIENCE: Duration = Duration::from_secs(60);

const POLICY: &str = "default-src 'self'; style-src 'self'; script-src 'self'; img-src 'self' data:; form-action 'self'; \
    base-uri 'none'; object-src 'none'; frame-ancestors 'none'";

/// Puts the guard around the pages.
pub(crate) fn guarded(pages: Router, hosts: Hosts) -> Router {
    let hosts = Arc::new(hosts);
    let layers = ServiceBuilder::new()
        .layer(from_fn(said_to_browsers))
        .layer(from_fn(move |request: Request, next: Next| known_host(Arc::clone(&hosts), request, next)))
        .layer(CsrfLayer::new())
        .layer(CompressionLayer::new())
        .layer(TimeoutLayer::with_status_code(StatusCode::SERVICE_UNAVAILABLE, PATIENCE))
        .layer(RequestBodyLimitLayer::new(MOST_BYTES))
        .layer(CatchPanicLayer::custom(|_: Box<dyn std::any::Any + Send>| broken()));
    pages.layer(layers)
}

async fn known_host(hosts: Arc<Hosts>, request: Request, next: Next) -> Response {
    let named = request.headers().get(header::HOST).and_then(|host| host.to_str().ok());
    let host = named.or_else(|| request.uri().authority().map(|authority| authority.as_str()));
    match host {
        Some(host) if hosts.allow(host) => next.run(request).await,
        _ => (StatusCode::MISDIRECTED_REQUEST, "This page answers only under the names of its own machine.\n")
            .into_response(),
    }
}

async fn said_to_browsers(request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    let said = [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::X_FRAME_OPTIONS, "DENY"),
        (header::REFERRER_POLICY, "same-origin"),
    ];
    for (name, value) in said {
        headers.insert(name, HeaderValue::from_static(value));
    }
    response
}

/// The page for a fault of ours. It stands by itself: whatever broke may be what draws the others.
pub(crate) fn broken() -> Response {
    const PAGE: &str = "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\">\
        <meta name=\"viewport\" content=\"width=device-width\"><title>A fault of ours · Warmside</title></head>\
        <body><main><h1>That is a fault of ours</h1><p>What was written down before is safe. What you just sent may not have \
        been kept: look at the rounds before you send it again.</p><p><a href=\"/\">To the rounds</a></p></main></body></html>";
    (StatusCode::INTERNAL_SERVER_ERROR, [(header::CONTENT_TYPE, "text/html; charset=utf-8")], PAGE).into_response()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_names_of_this_machine_are_answered() {
        let hosts = Hosts::of(SocketAddr::from(([127, 0, 0, 1], 7878)));
        for own in ["localhost", "localhost:7878", "127.0.0.1:1", "LOCALHOST:80", "[::1]:7878", "[::1]"] {
            assert!(hosts.allow(own), "{own}");
        }
        for other in ["example.org", "localhost.example.org", "127.0.0.1.example.org:7878", "", "192.168.0.7:7878"] {
            assert!(!hosts.allow(other), "{other}");
        }
        assert!(Hosts::of(SocketAddr::from(([192, 168, 0, 7], 80))).allow("192.168.0.7"));
    }
}
