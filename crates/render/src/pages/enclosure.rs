//! Enclosures: the list, and one of them drawn from the side.

use askama::Template;
use care::what_if::{Question, Reckoning, Unit};
use records::Fault;
use records::facts::{Enclosure, Heater, Spot};

use super::frame::Frame;
use super::html;
use super::parts::{Link, Quick, RecordIn, RecordLine};
use super::question::ENCLOSURE;
use crate::section::{self, AtSpot, Beneath, Drawn, Modelled, Section};
use crate::wording::{self, Clock};

/// An enclosure in the list.
#[derive(Clone, Debug, Default)]
pub struct EnclosureLine {
    /// Its id.
    pub id: String,
    /// The code on its door.
    pub name: String,
    /// The room.
    pub room: String,
    /// Its measure, in words.
    pub size: String,
    /// Who lives in it.
    pub animals: Vec<Link>,
}

#[derive(Template)]
#[template(path = "enclosures.html")]
struct List<'a> {
    frame: &'a Frame,
    enclosures: &'a [EnclosureLine],
}

/// The list as a page.
pub fn list(frame: &Frame, enclosures: &[EnclosureLine]) -> String {
    html(&List { frame, enclosures })
}

/// A spot with what was measured there and what is wanted.
#[derive(Clone, Debug, Default)]
pub struct SpotIn {
    /// Its latest temperature in °C, and when.
    pub temperature: Option<(f64, units::When)>,
    /// Its latest humidity in %, and when.
    pub humidity: Option<(f64, units::When)>,
}

/// What a species wants at a spot.
#[derive(Clone, Debug, Default)]
struct Wanted {
    temperature: Option<(f64, f64)>,
    humidity: Option<(f64, f64)>,
}

/// What the page is made of.
pub struct Sheet<'a> {
    /// Its id.
    pub id: String,
    /// The record that holds what it is now, to be corrected.
    pub about_record: String,
    /// The enclosure.
    pub enclosure: &'a Enclosure,
    /// Its heaters, with the records that say so.
    pub heaters: Vec<(String, Heater)>,
    /// Who lives in it: id, name, species as given, length in cm.
    pub animals: Vec<(String, String, String, Option<f64>)>,
    /// The latest readings.
    pub spots: Vec<(Spot, SpotIn)>,
    /// Chores: what, and when it was last done.
    pub chores: Vec<(records::facts::CleaningTask, Option<units::When>)>,
    /// Everything written down, newest first.
    pub records: Vec<RecordIn<'a>>,
    /// Makes a new name for a record.
    pub new_id: &'a mut dyn FnMut() -> String,
    /// The form of readings.
    pub readings: &'a Readings,
    /// What the model says.
    pub model: Model<'a>,
    /// What a log said, in words; and whether that does not hold any more.
    pub kept: Option<(String, bool)>,
    /// Can anything be written down?
    pub writable: bool,
}

/// What the model says of an enclosure as it is recorded; what it cannot say, with what is missing.
pub struct Model<'a> {
    /// The answer on warmth.
    pub warmth: Result<&'a Reckoning, &'a [Fault]>,
    /// The answer on a power cut.
    pub power_cut: Result<&'a Reckoning, &'a [Fault]>,
    /// The answer on a failed thermostat.
    pub runaway: Result<&'a Reckoning, &'a [Fault]>,
}

/// What the model says, in a line.
struct ModelLine {
    title: &'static str,
    says: String,
    href: String,
}

/// One line for each answer that there is; where there is none, one sentence says what is missing.
fn model_lines(model: &Model<'_>, id: &str) -> (Vec<ModelLine>, Option<String>) {
    let asked = [
        (Question::PowerCut, "A power cut now", &model.power_cut),
        (Question::Runaway, "If the thermostat fails", &model.runaway),
    ];
    let line = |(question, title, answer): (Question, &'static str, &Result<&Reckoning, &[Fault]>)| {
        let says = wording::kept(answer.as_ref().ok()?.says.first()?);
        Some(ModelLine { title, says, href: format!("/what-if/{}?{ENCLOSURE}={id}", question.key()) })
    };
    let lines: Vec<ModelLine> = asked.into_iter().filter_map(line).collect();
    let faults = [&model.power_cut, &model.runaway].into_iter().find_map(|answer| answer.as_ref().err());
    let missing = faults.filter(|_| lines.is_empty()).and_then(|faults| faults.first()).map(|fault| {
        let what = wording::capital(&fault.what);
        if fault.mend.is_empty() { format!("{what}.") } else { format!("{what}: {}.", fault.mend) }
    });
    (lines, missing)
}

struct HeaterLine {
    says: String,
    correct: String,
}

struct ChoreLine {
    what: String,
    when: String,
    quick: Option<Quick>,
}

/// A row of the form of readings: a spot with a temperature and a humidity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadingRow {
    /// Key of the spot.
    pub spot: &'static str,
    /// The spot in words.
    pub words: String,
    /// The temperature as typed.
    pub temperature: String,
    /// The humidity as typed.
    pub humidity: String,
    /// What is wrong with either.
    pub fault: Option<String>,
}

/// The form of readings, all spots at once.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Readings {
    /// Where it is sent.
    pub action: String,
    /// What is sent along.
    pub hidden: Vec<(String, String)>,
    /// The spots.
    pub rows: Vec<ReadingRow>,
    /// The day.
    pub date: String,
    /// The hour.
    pub time: String,
    /// What is wrong, each with the id of its field where it has one.
    pub faults: Vec<super::form::FaultLine>,
    /// What is odd and wants a yes.
    pub doubts: Vec<String>,
    /// A single reading in all its parts.
    pub single: String,
}

/// The spots that are read on a walk, in the order from warm to cool.
pub const READ: [Spot; 6] =
    [Spot::WarmSurface, Spot::WarmAir, Spot::Hide, Spot::HumidHide, Spot::CoolSurface, Spot::CoolAir];

#[derive(Template)]
#[template(path = "readings.html")]
struct ReadingsPage<'a> {
    frame: &'a Frame,
    heading: &'a str,
    readings: &'a Readings,
    back: &'a Link,
}

/// The form of readings on a page of its own.
pub fn readings_page(frame: &Frame, heading: &str, readings: &Readings, back: &Link) -> String {
    html(&ReadingsPage { frame, heading, readings, back })
}

struct SpotRow {
    spot: String,
    temperature: String,
    humidity: String,
    modelled: String,
    wanted: String,
}

#[derive(Template)]
#[template(path = "enclosure.html")]
struct Page<'a> {
    frame: &'a Frame,
    name: String,
    about: String,
    animals: Vec<Link>,
    whose: Option<String>,
    desk: String,
    phone: String,
    spots: Vec<SpotRow>,
    is_modelled: bool,
    model: Vec<ModelLine>,
    model_missing: Option<String>,
    kept: Option<String>,
    kept_outdated: Option<String>,
    calibrate: String,
    ask: String,
    heaters: Vec<HeaterLine>,
    chores: Vec<ChoreLine>,
    facts: Vec<(&'static str, String)>,
    correct: String,
    readings: &'a Readings,
    heat: String,
    note: String,
    records: Vec<RecordLine>,
    writable: bool,
}

/// What the species of the animals want at each spot: the range that suits them all, where there is one; else that of
/// the first.
fn wanted(species: &[&str]) -> Vec<(Spot, Wanted)> {
    let profiles: Vec<&species::Profile> = species.iter().filter_map(|name| super::species::profile(name)).collect();
    let common = |pick: fn(&species::Profile) -> &species::Figures| {
        let ranges: Vec<(f64, f64)> = profiles
            .iter()
            .filter_map(|profile| pick(profile).first().map(|figure| (figure.low, figure.high)))
            .collect();
        let low = ranges.iter().map(|range| range.0).fold(f64::NEG_INFINITY, f64::max);
        let high = ranges.iter().map(|range| range.1).fold(f64::INFINITY, f64::min);
        if low <= high { ranges.first().map(|_| (low, high)) } else { ranges.first().copied() }
    };
    let temperature = |range| Wanted { temperature: range, humidity: None };
    vec![
        (Spot::WarmAir, temperature(common(|profile| &profile.temperature.warm_ambient_c))),
        (
            Spot::CoolAir,
            Wanted {
                temperature: common(|profile| &profile.temperature.cool_ambient_c),
                humidity: common(|profile| &profile.humidity.normal_pct),
            },
        ),
        (Spot::WarmSurface, temperature(common(|profile| &profile.temperature.basking_surface_c))),
    ]
}

fn at_spot(read: Option<&SpotIn>, wanted: Option<&Wanted>, clock: &Clock) -> AtSpot {
    let range = |range: Option<(f64, f64)>, unit| range.map(|(low, high)| wording::range(low, high, unit));
    let temperature = read.and_then(|read| read.temperature);
    let humidity = read.and_then(|read| read.humidity);
    let oldest = [temperature, humidity].into_iter().flatten().map(|(_, at)| at.from).min();
    AtSpot {
        temperature: temperature.map(|(degrees, _)| wording::number(degrees, 1)),
        wanted_temperature: range(wanted.and_then(|one| one.temperature), ""),
        humidity: humidity.map(|(percent, _)| wording::percent(percent)),
        wanted_humidity: range(wanted.and_then(|one| one.humidity), "%"),
        age: oldest.map(|at| clock.ago(at)),
        ..AtSpot::default()
    }
}

fn spots(sheet: &Sheet<'_>, clock: &Clock) -> Vec<(Spot, AtSpot)> {
    let names: Vec<&str> = sheet.animals.iter().map(|animal| animal.2.as_str()).collect();
    let wanted = wanted(&names);
    let mut all: Vec<Spot> = wanted.iter().map(|(spot, _)| *spot).collect();
    all.extend(sheet.spots.iter().map(|(spot, _)| *spot).filter(|spot| !wanted.iter().any(|(one, _)| one == spot)));
    let modelled = sheet.model.warmth.map_or(&[][..], |answer| &answer.spots);
    all.extend(modelled.iter().map(|one| one.spot).filter(|spot| !all.contains(spot)).collect::<Vec<_>>());
    all.into_iter()
        .map(|spot| {
            let model = modelled.iter().find(|one| one.spot == spot);
            let read = sheet.spots.iter().find(|(one, _)| *one == spot).map(|(_, read)| read);
            let want = wanted.iter().find(|(one, _)| *one == spot).map(|(_, want)| want);
            let at = AtSpot {
                modelled_temperature: model
                    .and_then(|one| one.temperature_c)
                    .map(|range| Modelled::of(range, Unit::Celsius)),
                modelled_humidity: model
                    .and_then(|one| one.humidity_pct)
                    .map(|range| Modelled::of(range, Unit::Humidity)),
                ..at_spot(read, want, clock)
            };
            (spot, at)
        })
        .collect()
}

fn facts(enclosure: &Enclosure) -> Vec<(&'static str, String)> {
    let yes_no = |flag: bool| if flag { "yes" } else { "no" }.to_owned();
    let mut facts = Vec::new();
    facts.extend(
        wording::size(enclosure.length_cm, enclosure.width_cm, enclosure.height_cm).map(|size| ("Inside", size)),
    );
    facts.extend(enclosure.lid.map(|lid| ("Lid", wording::lid(lid).to_owned())));
    facts.extend(enclosure.lid_covered_pct.map(|share| ("Lid covered", wording::percent(share))));
    facts.extend(enclosure.material.clone().map(|text| ("Made of", text)));
    facts.extend(enclosure.thickness_mm.map(|mm| ("Walls", wording::millimetres(mm))));
    facts.extend(enclosure.stands_on.map(|stand| ("Stands on", wording::stand(stand).to_owned())));
    facts.extend(enclosure.substrate.clone().map(|text| ("On the floor", text)));
    facts.extend(enclosure.substrate_cm.map(|cm| ("Substrate", format!("{} deep", wording::length(cm)))));
    facts.extend(enclosure.bowl_cm.map(|cm| ("Water bowl", format!("{} wide", wording::length(cm)))));
    facts.extend(enclosure.hides.map(|count| ("Hides", count.to_string())));
    facts.extend(enclosure.humid_hide.map(|flag| ("Humid hide", yes_no(flag))));
    facts.extend(enclosure.locks.map(|flag| ("Locks", yes_no(flag))));
    facts.extend(enclosure.gaps.map(|flag| ("Gaps", yes_no(flag))));
    facts.extend(enclosure.floor_wet.map(|flag| ("Wet floor", yes_no(flag))));
    facts
}

/// The page of one enclosure.
pub fn page(frame: &Frame, sheet: Sheet<'_>, clock: &Clock) -> String {
    let spots = spots(&sheet, clock);
    let heaters: Vec<Heater> = sheet.heaters.iter().map(|(_, heater)| heater.clone()).collect();
    let beneath = |animal: &(String, String, String, Option<f64>)| {
        animal.3.map(|length_cm| Beneath { name: animal.1.clone(), length_cm })
    };
    let drawn = Drawn {
        enclosure: sheet.enclosure,
        heaters: &heaters,
        spots: spots.clone(),
        animals: sheet.animals.iter().filter_map(beneath).take(4).collect(),
    };
    let row = |(spot, at): &(Spot, AtSpot)| {
        let wanted: Vec<String> = [
            at.wanted_temperature.as_ref().map(|range| format!("{range}{}°C", wording::STAY)),
            at.wanted_humidity.clone(),
        ]
        .into_iter()
        .flatten()
        .collect();
        let age = at.age.as_ref().map_or(String::new(), |age| format!(", {age}"));
        SpotRow {
            spot: wording::capital(wording::spot(*spot)),
            temperature: at
                .temperature
                .as_ref()
                .map_or("–".into(), |value| format!("{value}{}°C{age}", wording::STAY)),
            humidity: at.humidity.as_ref().map_or("–".into(), |value| format!("{value}{age}")),
            modelled: {
                let both = [&at.modelled_temperature, &at.modelled_humidity].into_iter().flatten();
                let words: Vec<String> = both.map(Modelled::full).collect();
                if words.is_empty() { "–".to_owned() } else { words.join(", ") }
            },
            wanted: if wanted.is_empty() { "–".to_owned() } else { wanted.join(", ") },
        }
    };
    let back = format!("/enclosures/{}", sheet.id);
    let query = format!("back={}", crate::address::encoded(&back));
    let log = |kind: &str| format!("/enclosures/{}/log/{kind}?{query}", sheet.id);
    let new_id = sheet.new_id;
    let chore = |(task, last): &(records::facts::CleaningTask, Option<units::When>)| ChoreLine {
        what: wording::capital(wording::chore(*task)),
        when: last
            .map_or("never written down".to_owned(), |at| format!("{}, {}", clock.in_table(at), clock.ago(at.from))),
        quick: sheet.writable.then(|| Quick {
            action: format!("/enclosures/{}/log/cleaning", sheet.id),
            hidden: vec![
                ("id".into(), new_id()),
                ("back".into(), back.clone()),
                ("task".into(), records::choice::Choice::key(*task).to_owned()),
            ],
            number: None,
            buttons: vec![super::parts::Button { text: "Done", name: "done", value: "yes".into(), main: false }],
            more: None,
        }),
    };
    let chores = sheet.chores.iter().map(chore).collect();
    let names: Vec<&str> = sheet.animals.iter().map(|animal| animal.1.as_str()).collect();
    let (model, model_missing) = model_lines(&sheet.model, &sheet.id);
    html(&Page {
        frame,
        name: sheet.enclosure.name.clone().unwrap_or_else(|| "Enclosure without a name".to_owned()),
        about: sheet.enclosure.room.clone().unwrap_or_default(),
        animals: sheet.animals.iter().map(|animal| Link::to(&animal.1, format!("/animals/{}", animal.0))).collect(),
        whose: (!names.is_empty()).then(|| wording::listed(&names)),
        desk: Section::new(&drawn, section::DESK).svg("desk"),
        phone: Section::new(&drawn, section::PHONE).svg("phone"),
        spots: spots.iter().map(row).collect(),
        is_modelled: spots.iter().any(|(_, at)| at.modelled_temperature.is_some() || at.modelled_humidity.is_some()),
        model,
        model_missing,
        kept: sheet.kept.iter().find(|(_, is_outdated)| !is_outdated).map(|(text, _)| text.clone()),
        kept_outdated: sheet.kept.iter().find(|(_, is_outdated)| *is_outdated).map(|(text, _)| text.clone()),
        calibrate: format!("/enclosures/{}/calibrate", sheet.id),
        ask: format!("/what-if/warmth?{ENCLOSURE}={}", sheet.id),
        heaters: sheet
            .heaters
            .iter()
            .map(|(id, heater)| HeaterLine {
                says: wording::capital(&wording::fact(&records::Fact::Heater(heater.clone()), clock)),
                correct: format!("/records/{id}/correct?{query}"),
            })
            .collect(),
        chores,
        facts: facts(sheet.enclosure),
        correct: format!("/records/{}/correct?{query}", sheet.about_record),
        readings: sheet.readings,
        heat: log("heater"),
        note: log("note"),
        records: sheet.records.iter().take(60).map(|record| record.line(clock)).collect(),
        writable: sheet.writable,
    })
}
