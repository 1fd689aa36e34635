//! A household in memory behind the pages, asked without a socket.

use axum::body::{Body, to_bytes};
use axum::http::{Request, Response, StatusCode, header};
use records::RecordId;
use render::address::encoded;
use tower::ServiceExt;
use units::{Moment, Zone};
use web::desk::Desk;
use web::{App, Hosts};

/// The moment at which the clock stands.
pub const NOW: &str = "2027-03-14T19:30";

pub fn zone() -> Zone {
    Zone::named("Europe/Lisbon").unwrap()
}

pub fn moment(text: &str) -> Moment {
    zone().read(text).unwrap().from
}

/// What came back.
pub struct Got {
    pub status: StatusCode,
    pub text: String,
    pub headers: axum::http::HeaderMap,
}

impl Got {
    /// Where it leads.
    pub fn location(&self) -> String {
        assert_eq!(self.status, StatusCode::SEE_OTHER, "{}", self.text);
        self.headers[header::LOCATION].to_str().unwrap().to_owned()
    }

    /// The page as a reader sees it: without tags, with single spaces.
    pub fn words(&self) -> String {
        let mut out = String::new();
        let mut inside = false;
        for letter in self.text.chars() {
            match letter {
                '<' => inside = true,
                '>' => {
                    inside = false;
                    out.push(' ');
                }
                letter if !inside => out.push(if letter == '\u{a0}' { ' ' } else { letter }),
                _ => {}
            }
        }
        out.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// The value of the first attribute that begins so: `href="/assets/style`.
    pub fn attribute(&self, beginning: &str) -> String {
        let start = self.text.find(beginning).unwrap_or_else(|| panic!("{beginning} is not on the page"));
        self.text[start..].split('"').nth(1).unwrap().to_owned()
    }

    /// The part of a page's text from `from` until before `to`.
    pub fn between(&self, from: &str, to: &str) -> String {
        let start = self.text.find(from).unwrap_or_else(|| panic!("{from:?} is not on the page:\n{}", self.words()));
        let rest = &self.text[start..];
        rest.find(to).map_or(rest, |end| &rest[..end]).to_owned()
    }
}

pub struct House {
    pages: axum::Router,
    cookie: Option<String>,
}

impl House {
    pub fn empty() -> House {
        House::of(House::desk())
    }

    /// A desk with nothing on it.
    pub fn desk() -> Desk {
        Desk::in_memory(Some(zone())).unwrap().standing_at(moment(NOW))
    }

    /// What is on a desk, behind the pages.
    pub fn of(desk: Desk) -> House {
        let address = std::net::SocketAddr::from(([127, 0, 0, 1], 7878));
        House { pages: web::router(App::new(desk), Hosts::of(address)), cookie: None }
    }

    /// A household with one corn snake in an enclosure, fed three weeks ago.
    pub async fn with_ash() -> (House, String) {
        let house = House::empty();
        let id = house
            .add("Ash", "corn snake", &[("enclosure", "A1"), ("room", "study"), ("stage", "adult"), ("sex", "female")])
            .await;
        house.log(&id, "weighing", &[("at", "2027-03-01"), ("mass_g", "450")]).await;
        house
            .log(&id, "meal", &[("at", "2027-02-20"), ("prey", "mouse-adult"), ("mass_g", "25"), ("outcome", "taken")])
            .await;
        (house, id)
    }

    pub fn writing_as(self, name: &str) -> House {
        House { cookie: Some(format!("writer={}", encoded(name))), ..self }
    }

    /// Adds an animal and gives its id.
    pub async fn add(&self, name: &str, species: &str, more: &[(&str, &str)]) -> String {
        let mut fields = vec![("name", name), ("species", species)];
        fields.extend(more);
        let got = self.post("/animals/new", &fields).await;
        let location = got.location();
        let id = location.trim_start_matches("/animals/").split('?').next().unwrap().to_owned();
        assert!(RecordId::read(&id).is_some(), "{location}");
        id
    }

    /// Writes a record down without being asked back.
    pub async fn log(&self, id: &str, kind: &str, fields: &[(&str, &str)]) {
        let got = self.post(&format!("/animals/{id}/log/{kind}"), fields).await;
        assert_eq!(got.status, StatusCode::SEE_OTHER, "{}", got.words());
    }

    pub async fn get(&self, path: &str) -> Got {
        self.send(Request::get(path)).await
    }

    pub async fn post(&self, path: &str, fields: &[(&str, &str)]) -> Got {
        self.ask(Request::post(path), body(fields)).await
    }

    pub async fn send(&self, request: axum::http::request::Builder) -> Got {
        self.ask(request, String::new()).await
    }

    pub async fn ask(&self, request: axum::http::request::Builder, body: String) -> Got {
        let mut request = request;
        if request.headers_ref().is_some_and(|headers| !headers.contains_key(header::CONTENT_TYPE)) {
            request = request.header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        }
        if request.headers_ref().is_some_and(|headers| !headers.contains_key(header::HOST)) {
            request = request.header(header::HOST, "127.0.0.1:7878");
        }
        if let Some(cookie) = &self.cookie {
            request = request.header(header::COOKIE, cookie);
        }
        let response: Response<Body> =
            self.pages.clone().oneshot(request.body(Body::from(body)).unwrap()).await.unwrap();
        let (head, body) = response.into_parts();
        let bytes = to_bytes(body, usize::MAX).await.unwrap();
        Got { status: head.status, text: String::from_utf8_lossy(&bytes).into_owned(), headers: head.headers }
    }
}

/// A form as a browser sends it.
pub fn body(fields: &[(&str, &str)]) -> String {
    fields.iter().map(|(key, value)| format!("{}={}", encoded(key), encoded(value))).collect::<Vec<_>>().join("&")
}

/// The value of a hidden field in a piece of a page.
pub fn hidden(text: &str, name: &str) -> String {
    let mark = format!("name=\"{name}\" value=\"");
    let start = text.find(&mark).unwrap_or_else(|| panic!("no field {name} in {text}")) + mark.len();
    text[start..].split('"').next().unwrap().to_owned()
}
