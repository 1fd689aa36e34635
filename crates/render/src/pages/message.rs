//! Pages that say one thing: nothing is there, something failed, something is to be confirmed.

use askama::Template;

use super::form::Form;
use super::frame::Frame;
use super::html;
use super::parts::Link;

#[derive(Template)]
#[template(path = "message.html")]
struct Message<'a> {
    frame: &'a Frame,
    heading: &'a str,
    says: &'a [String],
    links: &'a [Link],
}

/// A page that says one thing and where to go on.
pub fn page(frame: &Frame, heading: &str, says: &[String], links: &[Link]) -> String {
    html(&Message { frame, heading, says, links })
}

#[derive(Template)]
#[template(path = "form.html")]
struct FormPage<'a> {
    frame: &'a Frame,
    heading: &'a str,
    intro: &'a [String],
    form: &'a Form,
    back: &'a Link,
}

/// A page with one form.
pub fn form_page(frame: &Frame, heading: &str, intro: &[String], form: &Form, back: &Link) -> String {
    html(&FormPage { frame, heading, intro, form, back })
}
