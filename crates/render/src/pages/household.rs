//! The household: who writes, what holds for everyone, power cuts, and where the records lie.

use askama::Template;

use super::form::Form;
use super::frame::Frame;
use super::html;
use super::parts::RecordLine;

/// A power cut that has not ended, and what its correction would say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenCut {
    /// Its record.
    pub id: String,
    /// Since when, in words.
    pub since: String,
    /// Since when, as a field holds it.
    pub from: String,
    /// The minute that it is, as a field holds it.
    pub until: String,
}

#[derive(Template)]
#[template(path = "household.html")]
struct Page<'a> {
    frame: &'a Frame,
    writer: &'a str,
    form: &'a Form,
    power: &'a Form,
    plan: &'a Form,
    zone: &'a str,
    next_zone: Option<&'a str>,
    zone_fault: Option<&'a str>,
    open_cuts: &'a [OpenCut],
    folder: Option<&'a str>,
    version: &'a str,
    unknown: Option<String>,
    records: &'a [RecordLine],
    writable: bool,
}

/// What the page is made of.
pub struct Sheet<'a> {
    /// Who writes, as typed.
    pub writer: &'a str,
    /// The form of what holds for everyone.
    pub form: &'a Form,
    /// The form of a power cut.
    pub power: &'a Form,
    /// The form of a plan for everyone.
    pub plan: &'a Form,
    /// The zone of dates and hours.
    pub zone: &'a str,
    /// The zone that holds from the next start on.
    pub next_zone: Option<&'a str>,
    /// What is wrong with the zone that was typed.
    pub zone_fault: Option<&'a str>,
    /// Power cuts that have not ended.
    pub open_cuts: &'a [OpenCut],
    /// Where the records lie.
    pub folder: Option<&'a str>,
    /// The version of rules and data.
    pub version: &'a str,
    /// Records of kinds that this version does not know.
    pub unknown: Option<String>,
    /// What was written down about the whole household.
    pub records: &'a [RecordLine],
    /// Can anything be written down?
    pub writable: bool,
}

/// The page.
pub fn page(frame: &Frame, sheet: Sheet<'_>) -> String {
    html(&Page {
        frame,
        writer: sheet.writer,
        form: sheet.form,
        power: sheet.power,
        plan: sheet.plan,
        zone: sheet.zone,
        next_zone: sheet.next_zone,
        zone_fault: sheet.zone_fault,
        open_cuts: sheet.open_cuts,
        folder: sheet.folder,
        version: sheet.version,
        unknown: sheet.unknown,
        records: sheet.records,
        writable: sheet.writable,
    })
}
