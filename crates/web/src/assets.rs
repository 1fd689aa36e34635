//! Style sheet, script and icon, embedded; their addresses hold the hash of what is in them.

use std::hash::{DefaultHasher, Hash, Hasher};

use axum::extract::Path;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use include_dir::{Dir, include_dir};

static ASSETS: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/../render/assets");

const A_YEAR: &str = "public, max-age=31536000, immutable";

fn hash(bytes: &[u8]) -> String {
    let mut hasher = DefaultHasher::new();
    bytes.hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}

/// The address of an asset.
pub(crate) fn href(name: &str) -> String {
    let hash = ASSETS.get_file(name).map_or(String::new(), |file| hash(file.contents()));
    format!("/assets/{name}?v={hash}")
}

fn kind(name: &str) -> &'static str {
    match name.rsplit('.').next() {
        Some("css") => "text/css; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("svg") => "image/svg+xml",
        _ => "application/octet-stream",
    }
}

fn file(name: &str, headers: &HeaderMap) -> Response {
    let Some(file) = ASSETS.get_file(name) else {
        return StatusCode::NOT_FOUND.into_response();
    };
    let tag = format!("\"{}\"", hash(file.contents()));
    let known = headers.get(header::IF_NONE_MATCH).and_then(|value| value.to_str().ok());
    let about = [(header::ETAG, tag.clone()), (header::CACHE_CONTROL, A_YEAR.to_owned())];
    if known.is_some_and(|known| known.split(',').any(|one| one.trim() == tag)) {
        return (StatusCode::NOT_MODIFIED, about).into_response();
    }
    (about, [(header::CONTENT_TYPE, kind(name))], file.contents()).into_response()
}

pub(crate) async fn asset(Path(name): Path<String>, headers: HeaderMap) -> Response {
    file(&name, &headers)
}

pub(crate) async fn icon(headers: HeaderMap) -> Response {
    file("icon.svg", &headers)
}
