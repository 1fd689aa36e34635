//! Species: every value with its unit; its source and how it is known on demand.

use askama::Template;
use serde_json::Value;
use species::{Found, Library, Profile};

use super::frame::Frame;
use super::html;
use super::parts::{Link, SourceLine};
use crate::wording;

fn library() -> &'static Library {
    species::library()
}

/// The profile of a name, where it fits exactly one.
pub fn profile(name: &str) -> Option<&'static Profile> {
    match library().find(name) {
        Found::One(profile) => Some(profile),
        _ => None,
    }
}

/// A species as a keeper says it; as it was given where no profile is its own.
pub fn common(name: &str) -> String {
    profile(name).map_or_else(|| name.to_owned(), common_of)
}

fn common_of(profile: &Profile) -> String {
    profile.common_names.first().unwrap_or(&profile.scientific_name).clone()
}

/// A species as a keeper says it, leading to the profile that serves.
pub fn link(name: &str, serves: &str) -> Link {
    Link::to(common(name), format!("/species/{serves}"))
}

/// The names that a species can be given by: common names first, then scientific ones.
pub fn names() -> Vec<String> {
    let own = || library().profiles.iter().filter(|profile| !profile.general);
    let mut names: Vec<String> = own().flat_map(|profile| profile.common_names.iter().cloned()).collect();
    names.sort_by_key(|name| name.to_lowercase());
    names.extend(own().map(|profile| profile.scientific_name.clone()));
    names.dedup();
    names
}

struct SpeciesLine {
    key: String,
    common: String,
    also: String,
    scientific: String,
    family: String,
}

#[derive(Template)]
#[template(path = "species_list.html")]
struct List<'a> {
    frame: &'a Frame,
    sought: &'a str,
    species: Vec<SpeciesLine>,
    general: Vec<SpeciesLine>,
}

fn line(profile: &Profile) -> SpeciesLine {
    SpeciesLine {
        key: profile.key.clone(),
        common: common_of(profile),
        also: profile.common_names.iter().skip(1).cloned().collect::<Vec<_>>().join(", "),
        scientific: profile.scientific_name.clone(),
        family: profile.family.clone(),
    }
}

/// The list as a page; `sought` is part of a name.
pub fn list(frame: &Frame, sought: &str) -> String {
    let wanted = sought.trim().to_lowercase();
    let fits = |profile: &&Profile| {
        let mut all =
            profile.common_names.iter().chain(&profile.names).chain([&profile.scientific_name, &profile.family]);
        wanted.is_empty() || all.any(|name| name.to_lowercase().contains(&wanted))
    };
    let of = |general: bool| {
        let mut lines: Vec<SpeciesLine> =
            library().profiles.iter().filter(|profile| profile.general == general).filter(fits).map(line).collect();
        lines.sort_by_key(|line| line.common.to_lowercase());
        lines
    };
    html(&List { frame, sought, species: of(false), general: of(true) })
}

struct ValueLine {
    value: String,
    note: Option<String>,
    source: SourceLine,
    derived: bool,
}

struct Row {
    label: String,
    inherited: bool,
    first: ValueLine,
    others: Vec<ValueLine>,
}

struct Section {
    title: &'static str,
    rows: Vec<Row>,
    says: Vec<String>,
    others: Vec<ValueLine>,
}

struct StageRow {
    stage: &'static str,
    interval: String,
    share: String,
    grams: String,
    prey: String,
}

#[derive(Template)]
#[template(path = "species.html")]
struct Page<'a> {
    frame: &'a Frame,
    common: String,
    also: String,
    scientific: &'a str,
    older: Vec<String>,
    family: String,
    general: bool,
    lead: Vec<(&'static str, String)>,
    notes: Vec<String>,
    feeding: Vec<StageRow>,
    feeding_source: Option<SourceLine>,
    sections: Vec<Section>,
    cautions: Vec<&'static str>,
    cites: String,
}

/// A note with a capital and a full stop.
fn sentence(text: &str) -> String {
    format!("{}{}", wording::capital(text.trim()), if text.trim().ends_with(['.', '?', '!']) { "" } else { "." })
}

fn source_line(key: &str, status: &str) -> SourceLine {
    let cite = library().source(key).map_or_else(String::new, |source| source.cite.clone());
    let status = match status {
        "verified" => "read in the source",
        "common-practice" => "common practice",
        "from-memory" => "from memory, not checked",
        _ => "set by this household",
    };
    SourceLine { key: key.to_owned(), cite, status }
}

fn text<'a>(value: &'a Value, key: &str) -> Option<&'a str> {
    value.get(key).and_then(Value::as_str)
}

/// A figure as it stands in the data: with `low`, `high`, `source` and `status`.
fn value_line(figure: &Value, unit: &str) -> Option<ValueLine> {
    let low = figure.get("low")?.as_f64()?;
    let high = figure.get("high")?.as_f64()?;
    Some(ValueLine {
        value: wording::range(low, high, unit),
        note: text(figure, "note").map(sentence),
        source: source_line(text(figure, "source")?, text(figure, "status")?),
        derived: figure.get("derived").and_then(Value::as_bool).unwrap_or(false),
    })
}

/// What another source says, without or with a figure.
fn other_line(other: &Value, unit: &str) -> Option<ValueLine> {
    let from = other.get("from")?;
    let unit = text(other, "unit").unwrap_or(unit);
    let figure = other.get("figure").and_then(|figure| value_line(figure, unit)).map(|line| line.value);
    let words = [text(other, "what").map(str::to_owned), figure].into_iter().flatten().collect::<Vec<_>>().join(": ");
    Some(ValueLine {
        value: if words.is_empty() { "agrees".to_owned() } else { words },
        note: text(from, "note").map(sentence),
        source: source_line(text(from, "source")?, text(from, "status")?),
        derived: false,
    })
}

/// Values whose key says it less well than a keeper would.
const SAID: [(&str, &str); 34] = [
    ("basking_surface_c", "Warm surface"),
    ("warm_ambient_c", "Air at the warm end"),
    ("cool_ambient_c", "Air at the cool end"),
    ("night_min_c", "Coldest night"),
    ("night_min_fed_c", "Coldest night with food inside"),
    ("surface_absolute_max_c", "No surface hotter than"),
    ("surface_floor_heat_max_c", "Heated floor, no hotter than"),
    ("preferred_zone_c", "Preferred zone of the body"),
    ("digest_min_c", "Warm side needed to digest"),
    ("overheat_c", "Too hot all over from"),
    ("basking_h", "Basking, a day"),
    ("normal_pct", "As a rule"),
    ("shed_pct", "In shed"),
    ("neonate_pct", "For newborns"),
    ("girth_x", "Thickness, as a multiple of its widest part"),
    ("mass_pct", "Weight, of its own"),
    ("mass_pct_adult", "Weight, of an adult's own"),
    ("typical_d", "Usual length of a fast"),
    ("by_stage", "At the stage"),
    ("adult_male", "Adult male"),
    ("interval_d", "From shed to shed"),
    ("dull_d", "Dull for"),
    ("blue_d", "Eyes milky for"),
    ("clear_to_shed_d", "From clear eyes to the shed"),
    ("total_d", "From dull to off"),
    ("hold_weeks", "Held for"),
    ("temp_c", "Temperature"),
    ("clutch_n", "Eggs in a clutch"),
    ("litter_n", "Young in a litter"),
    ("incubation_d", "From laying to hatching"),
    ("gestation_d", "From mating to birth"),
    ("longevity_typical_y", "Usually lives"),
    ("longevity_max_y", "Longest life on record"),
    ("maturity_female_d", "Females mature at"),
];

/// The name of a value without the unit that it ends in.
fn label(key: &str) -> String {
    if let Some((_, said)) = SAID.iter().find(|(one, _)| *one == key) {
        return (*said).to_owned();
    }
    const UNITS: [&str; 9] = ["c", "pct", "h", "d", "m", "g", "y", "n", "x"];
    let words: Vec<&str> = key.split('_').filter(|part| !UNITS.contains(part)).collect();
    let said = words
        .join(" ")
        .replace("svl", "snout-vent length")
        .replace("any", "either sex")
        .replace("uv zone", "ultraviolet zone");
    wording::capital(&said)
}

/// The first keys of the sections, in the order in which a keeper asks; the rest follow by name.
const FIRST: [&str; 12] = [
    "basking_surface_c",
    "warm_ambient_c",
    "cool_ambient_c",
    "night_min_c",
    "surface_absolute_max_c",
    "preferred_zone_c",
    "normal_pct",
    "shed_pct",
    "neonate_pct",
    "length_x",
    "width_x",
    "height_x",
];

fn rows(section: &str, value: &Value, inherited: &[String]) -> Vec<Row> {
    let Some(fields) = value.as_object() else { return Vec::new() };
    let rank = |key: &str| FIRST.iter().position(|one| *one == key).unwrap_or(FIRST.len());
    let mut keys: Vec<&String> = fields.keys().collect();
    keys.sort_by_key(|key| (rank(key), (*key).clone()));
    let mut out = Vec::new();
    for key in keys {
        let path = format!("{section}.{key}");
        let Some(value) = fields.get(key) else { continue };
        out.extend(row(&label(key), &path, value, inherited));
        // One thing for each stage of life.
        if let Some(stages) = value.as_object() {
            for stage in ["hatchling", "juvenile", "subadult", "adult"] {
                if let Some(value) = stages.get(stage) {
                    out.extend(row(&format!("{}, {stage}", label(key)), &format!("{path}.{stage}"), value, inherited));
                }
            }
        }
    }
    out
}

fn row(label: &str, path: &str, value: &Value, inherited: &[String]) -> Option<Row> {
    let unit = match species::unit_of(path).unwrap_or_default() {
        "d" => "days",
        "x" if path.starts_with("enclosure") => "× its length",
        "x" => "×",
        unit => unit,
    };
    let figures: Vec<&Value> = match value {
        Value::Array(list) => list.iter().collect(),
        Value::Object(_) => vec![value],
        _ => return None,
    };
    let mut lines = figures.into_iter().filter_map(|figure| value_line(figure, unit));
    let first = lines.next()?;
    Some(Row {
        label: label.to_owned(),
        inherited: inherited.iter().any(|one| one == path),
        first,
        others: lines.collect(),
    })
}

fn others(value: &Value, unit: &str) -> Vec<ValueLine> {
    value
        .get("alt")
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
        .filter_map(|other| other_line(other, unit))
        .collect()
}

fn sections(profile: &Profile) -> Vec<Section> {
    let whole = serde_json::to_value(profile).unwrap_or(Value::Null);
    let part = |key: &str| whole.get(key).cloned().unwrap_or(Value::Null);
    let section = |title: &'static str, key: &str, unit: &str, says: Vec<String>| Section {
        title,
        rows: rows(key, &part(key), &profile.inherited),
        others: others(&part(key), unit),
        says,
    };
    let said = |what: &str, words: &str| (!words.is_empty()).then(|| format!("{what}: {words}."));
    let list = vec![
        section("Warmth", "temperature", "°C", Vec::new()),
        section("Humidity", "humidity", "%", Vec::new()),
        section("Room", "enclosure", "", vec!["Least sides as multiples of the animal's whole length.".to_owned()]),
        section("Limits of one meal", "prey_limit", "", Vec::new()),
        section(
            "Fasts that are known",
            "fasting",
            "days",
            [said("Tendency", &profile.fasting.tendency), said("Season", &profile.fasting.season)]
                .into_iter()
                .flatten()
                .collect(),
        ),
        section("Days without a meal before it is raised", "refusal_alert_d", "days", Vec::new()),
        section("Shedding", "shed", "days", Vec::new()),
        section(
            "Winter rest",
            "brumation",
            "",
            [said("Relevance", &profile.brumation.relevance), profile.brumation.note.as_deref().map(sentence)]
                .into_iter()
                .flatten()
                .collect(),
        ),
        section("Size", "size", "", Vec::new()),
        section("Life", "life", "", Vec::new()),
        section("Way of life", "habit", "", Vec::new()),
        section("Water", "water", "h", Vec::new()),
    ];
    list.into_iter().filter(|one| !one.rows.is_empty() || !one.others.is_empty()).collect()
}

fn feeding(profile: &Profile) -> Vec<StageRow> {
    profile
        .feeding
        .iter()
        .map(|(stage, feeding)| StageRow {
            stage,
            interval: wording::range(feeding.interval_d.low, feeding.interval_d.high, "days"),
            share: wording::range(feeding.prey_pct.0, feeding.prey_pct.1, "%"),
            grams: feeding.prey_g.map_or("–".to_owned(), |(low, high)| wording::masses(low, high)),
            prey: feeding.prey.clone(),
        })
        .collect()
}

/// The five things that are asked first.
fn lead(profile: &Profile) -> Vec<(&'static str, String)> {
    let range = |figures: &species::Figures, unit: &str| {
        figures.first().map(|figure| wording::range(figure.low, figure.high, unit))
    };
    let list = [
        ("Warm surface", range(&profile.temperature.basking_surface_c, "°C")),
        ("Warm air", range(&profile.temperature.warm_ambient_c, "°C")),
        ("Cool air", range(&profile.temperature.cool_ambient_c, "°C")),
        ("Night, no colder than", range(&profile.temperature.night_min_c, "°C")),
        ("Humidity", range(&profile.humidity.normal_pct, "%")),
        ("Humidity in shed", range(&profile.humidity.shed_pct, "%")),
        (
            "Adult length",
            range(&profile.size.adult_length_m_any, "m").or_else(|| range(&profile.size.adult_length_m_female, "m")),
        ),
        ("Lives", range(&profile.life.longevity_typical_y, "years")),
    ];
    list.into_iter().filter_map(|(what, value)| value.map(|value| (what, value))).collect()
}

/// The page of one profile; `None` when there is none of that key.
pub fn page(frame: &Frame, key: &str) -> Option<String> {
    let profile = library().profile(key)?;
    let cautions = ["hygiene", "large-constrictor", "call-veterinarian"]
        .into_iter()
        .filter_map(|key| library().caution(key))
        .map(|caution| caution.text.as_str())
        .take(1)
        .collect();
    let cites = match profile.law.cites.as_str() {
        "none" => "not listed in the appendices of CITES".to_owned(),
        "ask" => "not known here: ask the authority".to_owned(),
        appendix => format!("CITES Appendix {appendix}"),
    };
    let note = profile.law.note.as_deref().map_or(String::new(), |note| format!(" {}", sentence(note)));
    Some(html(&Page {
        frame,
        common: wording::capital(&common_of(profile)),
        also: profile.common_names.iter().skip(1).cloned().collect::<Vec<_>>().join(", "),
        scientific: &profile.scientific_name,
        older: profile.names.iter().filter(|name| **name != profile.scientific_name).cloned().collect(),
        family: profile.family.clone(),
        general: profile.general,
        lead: lead(profile),
        notes: profile.notes.iter().map(|note| sentence(note)).collect(),
        feeding: feeding(profile),
        feeding_source: profile
            .feeding
            .adult
            .as_ref()
            .map(|feeding| source_line(&feeding.interval_d.source, feeding.interval_d.status.key())),
        sections: sections(profile),
        cautions,
        cites: format!("{}{note}", sentence(&cites)),
    }))
}

/// The title of a profile's page.
pub fn title(key: &str) -> Option<String> {
    library().profile(key).map(common_of)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_says_the_thing_without_its_unit() {
        for (key, words) in [
            ("basking_surface_c", "Warm surface"),
            ("substrate_depth_m", "Substrate depth"),
            ("adult_length_m_female", "Adult length female"),
            ("adult_svl_m_any", "Adult snout-vent length either sex"),
        ] {
            assert_eq!(label(key), words);
        }
    }

    #[test]
    fn every_profile_shows_its_warmth_with_a_source() {
        for profile in &library().profiles {
            let sections = sections(profile);
            let warmth = sections.iter().find(|one| one.title == "Warmth").unwrap();
            assert!(!warmth.rows.is_empty(), "{}", profile.key);
            let lines = sections
                .iter()
                .flat_map(|one| &one.rows)
                .flat_map(|row| std::iter::once(&row.first).chain(&row.others));
            for line in lines {
                assert!(!line.source.cite.is_empty(), "{}: {} has a source that says nothing", profile.key, line.value);
            }
        }
    }

    #[test]
    fn a_species_is_called_as_keepers_call_it() {
        assert_eq!(common("Pantherophis guttatus"), "corn snake");
        assert_eq!(common("no such snake"), "no such snake");
        assert!(names().contains(&"corn snake".to_owned()));
    }
}
