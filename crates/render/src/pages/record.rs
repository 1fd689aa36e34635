//! One record: what it says, who wrote it, what it replaced and what became of it.

use askama::Template;

use super::frame::Frame;
use super::html;
use super::parts::{Link, RecordLine};

#[derive(Template)]
#[template(path = "record.html")]
struct Page<'a> {
    frame: &'a Frame,
    heading: &'a str,
    about: &'a Link,
    line: &'a RecordLine,
    fields: &'a [(String, String)],
    replaced: Option<&'a Link>,
    replaced_by: Option<&'a Link>,
    id: &'a str,
    back: &'a str,
    can_change: bool,
    can_remove: bool,
}

/// What the page is made of.
pub struct Sheet<'a> {
    /// Its id.
    pub id: &'a str,
    /// What it is, as a heading.
    pub heading: &'a str,
    /// Whom it is about.
    pub about: &'a Link,
    /// Its line.
    pub line: &'a RecordLine,
    /// Its fields in words.
    pub fields: &'a [(String, String)],
    /// The record that it stands in the place of.
    pub replaced: Option<&'a Link>,
    /// The record that stands in its place.
    pub replaced_by: Option<&'a Link>,
    /// The page to go back to.
    pub back: &'a str,
    /// Can it be corrected?
    pub can_change: bool,
    /// Can it be removed?
    pub can_remove: bool,
}

/// The page.
pub fn page(frame: &Frame, sheet: &Sheet<'_>) -> String {
    html(&Page {
        frame,
        heading: sheet.heading,
        about: sheet.about,
        line: sheet.line,
        fields: sheet.fields,
        replaced: sheet.replaced,
        replaced_by: sheet.replaced_by,
        id: sheet.id,
        back: sheet.back,
        can_change: sheet.can_change,
        can_remove: sheet.can_remove,
    })
}
