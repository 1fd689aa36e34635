use axum::http::{Request, StatusCode, header};

use crate::house::{House, body};

#[tokio::test]
async fn what_another_site_sends_is_refused() {
    let (house, id) = House::with_ash().await;
    let seen = body(&[("back", "/")]);
    let to = format!("/animals/{id}/log/seen");
    for (name, value) in [("sec-fetch-site", "cross-site"), ("origin", "https://example.org")] {
        let got = house.ask(Request::post(&to).header(name, value), seen.clone()).await;
        assert_eq!(got.status, StatusCode::FORBIDDEN, "{name}");
    }
    for (name, value) in [("sec-fetch-site", "same-origin"), ("origin", "http://127.0.0.1:7878")] {
        let got = house.ask(Request::post(&to).header(name, value), seen.clone()).await;
        assert_eq!(got.status, StatusCode::SEE_OTHER, "{name}: {}", got.words());
    }
}

#[tokio::test]
async fn a_borrowed_name_is_refused() {
    let house = House::empty();
    for host in ["example.org", "127.0.0.1.example.org:7878"] {
        let got = house.send(Request::get("/").header(header::HOST, host)).await;
        assert_eq!(got.status, StatusCode::MISDIRECTED_REQUEST, "{host}");
        assert!(!got.text.contains("Warmside"), "{host} learns nothing");
    }
    let own = house.send(Request::get("/").header(header::HOST, "localhost:7878")).await;
    assert_eq!(own.status, StatusCode::OK);
}

#[tokio::test]
async fn nothing_may_be_loaded_from_outside() {
    let (house, id) = House::with_ash().await;
    for path in ["/".to_owned(), format!("/animals/{id}"), "/no-such-page".to_owned(), "/assets/style.css".to_owned()] {
        let got = house.get(&path).await;
        let policy = got.headers[header::CONTENT_SECURITY_POLICY].to_str().unwrap();
        assert!(policy.contains("default-src 'self'") && !policy.contains("unsafe"), "{path}");
        assert_eq!(got.headers[header::X_CONTENT_TYPE_OPTIONS], "nosniff");
        for outside in ["src=\"http", "href=\"http", "url(http", "@import"] {
            assert!(!got.text.contains(outside), "{path} loads from outside: {outside}");
        }
    }
}

#[tokio::test]
async fn an_asset_is_fetched_once() {
    let house = House::empty();
    let page = house.get("/").await;
    let style = page.attribute("href=\"/assets/style.css");
    let got = house.get(&style).await;
    assert!(got.headers[header::CACHE_CONTROL].to_str().unwrap().contains("immutable"));
    let tag = got.headers[header::ETAG].clone();
    let again = house.send(Request::get(&style).header(header::IF_NONE_MATCH, tag)).await;
    assert_eq!(again.status, StatusCode::NOT_MODIFIED);
    assert!(again.text.is_empty());
}

#[tokio::test]
async fn a_form_that_is_too_long_is_not_read() {
    let house = House::empty();
    let got = house.post("/what-if", &[("case", &"#".repeat(3_000_000))]).await;
    assert_eq!(got.status, StatusCode::PAYLOAD_TOO_LARGE);
}

#[tokio::test]
async fn a_way_back_that_leads_elsewhere_is_not_taken() {
    let (house, id) = House::with_ash().await;
    for elsewhere in ["https://example.org/", "//example.org", "/\\example.org"] {
        let got = house.post(&format!("/animals/{id}/log/seen"), &[("back", elsewhere)]).await;
        assert!(got.location().starts_with(&format!("/animals/{id}?noted=")), "{elsewhere}");
    }
}
