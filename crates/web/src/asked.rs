//! What a request says beside its form: address, query, and who writes.

use std::convert::Infallible;

use axum::extract::{FromRequestParts, Query};
use axum::http::Uri;
use axum::http::header::COOKIE;
use axum::http::request::Parts;
use render::address::{decoded, encoded};

/// The cookie that holds the writer's name.
pub(crate) const WRITER: &str = "writer";
/// What stands as the writer where nobody is named.
const NOBODY: &str = "keeper";
/// Words in an address that tell what was just done; they are no part of the page's own address.
const PASSING: [&str; 3] = ["noted", "removed", "undone"];

/// What a request says beside its form.
#[derive(Clone, Debug, Default)]
pub(crate) struct Asked {
    path: String,
    query: Vec<(String, String)>,
    /// Who writes, where this device knows it.
    pub writer: Option<String>,
}

impl<S: Send + Sync> FromRequestParts<S> for Asked {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Asked, Infallible> {
        Ok(Asked { path: parts.uri.path().to_owned(), query: pairs(&parts.uri), writer: writer(parts) })
    }
}

fn writer(parts: &Parts) -> Option<String> {
    let cookies = parts.headers.get_all(COOKIE).iter().filter_map(|value| value.to_str().ok());
    let named = cookies.flat_map(|line| line.split(';')).find_map(|cookie| cookie.trim().strip_prefix("writer="))?;
    Some(decoded(named).trim().to_owned()).filter(|name| !name.is_empty())
}

/// The pairs of a query.
fn pairs(address: &Uri) -> Vec<(String, String)> {
    Query::<Vec<(String, String)>>::try_from_uri(address).map(|query| query.0).unwrap_or_default()
}

impl Asked {
    /// A value of the query; `None` when it is absent or empty.
    pub fn query(&self, key: &str) -> Option<&str> {
        let (_, value) = self.query.iter().find(|(name, _)| name == key)?;
        Some(value.as_str()).filter(|value| !value.is_empty())
    }

    /// All pairs of the query.
    pub fn pairs(&self) -> &[(String, String)] {
        &self.query
    }

    /// Who writes.
    pub fn by(&self) -> &str {
        self.writer.as_deref().unwrap_or(NOBODY)
    }

    /// This page's own address.
    pub fn here(&self) -> String {
        let own: Vec<String> = self
            .query
            .iter()
            .filter(|(key, value)| !PASSING.contains(&key.as_str()) && !value.is_empty())
            .map(|(key, value)| format!("{}={}", encoded(key), encoded(value)))
            .collect();
        if own.is_empty() { self.path.clone() } else { format!("{}?{}", self.path, own.join("&")) }
    }

    /// The page to come back to, as the address names it.
    pub fn back(&self, otherwise: &str) -> String {
        local(self.query("back"), otherwise)
    }
}

/// An address of this page's own, and of nobody else's.
pub(crate) fn local(address: Option<&str>, otherwise: &str) -> String {
    let is_local = |address: &&str| {
        address.starts_with('/')
            && !address.starts_with("//")
            && address.chars().all(|letter| !letter.is_control() && letter != '\\' && letter.is_ascii())
    };
    address.filter(is_local).unwrap_or(otherwise).to_owned()
}

/// An address with one more word in its query, before what it names on the page.
pub(crate) fn with(address: &str, key: &str, value: &str) -> String {
    let (address, name) = address.split_once('#').map_or((address, String::new()), |(a, b)| (a, format!("#{b}")));
    let joint = if address.contains('?') { '&' } else { '?' };
    format!("{address}{joint}{key}={}{name}", encoded(value))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_way_back_leads_nowhere_else() {
        for outside in ["https://example.org", "//example.org", "/\\example.org", "", "javascript:alert(1)", "/a\r\nb"]
        {
            assert_eq!(local(Some(outside), "/"), "/", "{outside:?}");
        }
        assert_eq!(local(Some("/animals/1?span=whole#strip"), "/"), "/animals/1?span=whole#strip");
    }

    #[test]
    fn what_was_done_stands_in_the_query() {
        assert_eq!(with("/animals/1?span=whole#strip", "noted", "a b"), "/animals/1?span=whole&noted=a%20b#strip");
        assert_eq!(with("/", "noted", "x"), "/?noted=x");
    }

    #[test]
    fn pairs_are_read_as_browsers_write_them() {
        let read = pairs(&Uri::from_static("/x?a=1&b=tall+shelf&b=%C3%A9"));
        let said: Vec<(&str, &str)> = read.iter().map(|(key, value)| (key.as_str(), value.as_str())).collect();
        assert_eq!(said, [("a", "1"), ("b", "tall shelf"), ("b", "é")]);
    }
}
