//! What a species needs, with the source of every value.

use species::{Alternative, Figure, Library, Profile, Status};

use super::Look;
use super::sheet::{Sheet, column};
use crate::wording;

/// All profiles, one line each.
pub fn profiles(library: &Library, look: Look) -> String {
    let mut sheet = Sheet::new(look.width);
    let name = |profile: &Profile| profile.common_names.first().unwrap_or(&profile.scientific_name).clone();
    let (families, mut own): (Vec<&Profile>, Vec<&Profile>) =
        library.profiles.iter().partition(|profile| profile.general);
    own.sort_by_key(|profile| name(profile).to_lowercase());
    let names: Vec<String> = own.iter().map(|profile| name(profile)).collect();
    let wide = column(names.iter().map(String::as_str));
    for (profile, name) in own.iter().zip(&names) {
        sheet.row(0, name, wide, &format!("{} ({})", profile.scientific_name, profile.family));
    }
    sheet.gap();
    sheet.say(0, "Without a profile of its own, a species is answered for from its family's:");
    for profile in families {
        let families = match profile.family.as_str() {
            "any" => "any other snake".to_owned(),
            family => family.to_owned(),
        };
        sheet.row(2, &profile.key, column(["general_colubrid"]), &families);
    }
    sheet.finish()
}

/// One profile: every value with its source, what other sources say, and the cautions.
pub fn profile(profile: &Profile, library: &Library, look: Look) -> String {
    let mut sheet = Sheet::new(look.width);
    let common = wording::capital(&profile.common_names.join(", "));
    let names = if common.is_empty() {
        profile.scientific_name.clone()
    } else {
        format!("{common} ({})", profile.scientific_name)
    };
    sheet.say(0, &format!("{names}, {}, {}.", profile.family, profile.climate.key()));
    if 1 < profile.names.len() {
        sheet.item(
            0,
            &format!("Also written: {}.", profile.names.iter().skip(1).cloned().collect::<Vec<_>>().join(", ")),
        );
    }
    for note in &profile.notes {
        sheet.item(0, &format!("- {note}"));
    }
    values(&mut sheet, profile);
    meals(&mut sheet, profile);
    others(&mut sheet, profile);
    sheet.gap();
    for caution in cautions(profile, library) {
        sheet.item(0, &format!("Caution: {caution}"));
    }
    cited(&mut sheet, profile, library);
    sheet.finish()
}

/// The cautions that go with the species.
fn cautions<'a>(profile: &Profile, library: &'a Library) -> Vec<&'a str> {
    let size = &profile.size;
    let lengths = [&size.adult_length_m_female, &size.adult_length_m_male, &size.adult_length_m_any];
    let longest = lengths.into_iter().flat_map(|figures| figures.iter()).map(|figure| figure.high).fold(0.0, f64::max);
    let two_persons = library.rule("two_person_length").and_then(|rule| rule.figure.as_ref());
    let is_large = two_persons.is_some_and(|line| line.low <= longest);
    let keys = ["hygiene", "heat-and-fire", "law"].into_iter().chain(is_large.then_some("large-constrictor"));
    keys.filter_map(|key| library.caution(key)).map(|caution| caution.text.as_str()).collect()
}

/// A path in words, without the units that stand beside the value.
fn words(path: &str) -> String {
    const UNITS: [&str; 9] = ["c", "pct", "d", "m", "g", "y", "x", "n", "h"];
    let part = |part: &str| part.split('_').filter(|word| !UNITS.contains(word)).collect::<Vec<_>>().join(" ");
    path.split('.').map(part).collect::<Vec<_>>().join(", ")
}

/// A value with its unit, source and status: «30–32 °C  [mem-trade, common practice]».
fn figure(figure: &Figure, unit: &str) -> String {
    let derived = if figure.derived { ", derived" } else { "" };
    let note = figure.note.as_ref().map(|note| format!(" {note}")).unwrap_or_default();
    format!(
        "{}  [{}, {}{derived}]{note}",
        wording::range(figure.low, figure.high, unit),
        figure.source,
        status(figure.status)
    )
}

fn status(status: Status) -> String {
    status.key().replace('-', " ")
}

fn values(sheet: &mut Sheet, profile: &Profile) {
    let found: Vec<(String, Figure)> = profile
        .value_paths()
        .into_iter()
        .filter_map(|path| profile.value(&path).map(|figure| (path, figure)))
        .collect();
    let labels: Vec<String> = found.iter().map(|(path, _)| words(path)).collect();
    let wide = column(labels.iter().map(String::as_str));
    let group = |path: &str| path.split('.').next().unwrap_or_default().to_owned();
    let mut groups: Vec<String> = found.iter().map(|(path, _)| group(path)).collect();
    let mut told = std::collections::HashSet::new();
    groups.retain(|one| told.insert(one.clone()));
    for one in &groups {
        sheet.gap();
        for ((path, value), label) in found.iter().zip(&labels).filter(|((path, _), _)| group(path) == *one) {
            let unit = species::unit_of(path).unwrap_or_default();
            let inherited = if profile.inherited.contains(path) { " (its family's)" } else { "" };
            sheet.row(0, label, wide, &format!("{}{inherited}", figure(value, unit)));
        }
    }
}

fn meals(sheet: &mut Sheet, profile: &Profile) {
    sheet.gap();
    for (stage, meal) in profile.feeding.iter() {
        sheet.item(0, &format!("Meals of a {stage}: {}.", meal.prey));
    }
}

/// What other sources say; none of it is a default.
fn others(sheet: &mut Sheet, profile: &Profile) {
    let lists: [(&str, &[Alternative], &str); 3] = [
        ("temperature", &profile.temperature.alt, "°C"),
        ("humidity", &profile.humidity.alt, "%"),
        ("shed", &profile.shed.alt, "d"),
    ];
    let mut rows = Vec::new();
    for (what, list, unit) in lists {
        for one in list {
            let value = one
                .figure
                .as_ref()
                .map(|value| wording::range(value.low, value.high, one.unit.as_deref().unwrap_or(unit)));
            let told: Vec<String> = one.what.clone().into_iter().chain(value).collect();
            rows.push(format!("{what}: {}  [{}, {}]", told.join(" "), one.from.source, status(one.from.status)));
        }
    }
    for one in &profile.feeding_alt {
        let days = one.interval_d.map(|(low, high)| format!("every {}", wording::range(low, high, "d")));
        let share = one.prey_pct.map(|(low, high)| format!("{} of body mass", wording::range(low, high, "%")));
        let told: Vec<String> = days.into_iter().chain(share).collect();
        rows.push(format!(
            "meals of a {}: {}  [{}, {}]",
            one.stage,
            told.join(", "),
            one.from.source,
            status(one.from.status)
        ));
    }
    if rows.is_empty() {
        return;
    }
    sheet.gap();
    sheet.say(0, "Others say");
    for row in rows {
        sheet.item(2, &row);
    }
}

/// Every source that was named above, spelled out.
fn cited(sheet: &mut Sheet, profile: &Profile, library: &Library) {
    let mut keys: Vec<String> =
        profile.value_paths().iter().filter_map(|path| profile.value(path)).map(|figure| figure.source).collect();
    keys.extend(
        profile
            .temperature
            .alt
            .iter()
            .chain(&profile.humidity.alt)
            .chain(&profile.shed.alt)
            .map(|one| one.from.source.clone()),
    );
    keys.extend(profile.feeding_alt.iter().map(|one| one.from.source.clone()));
    keys.sort();
    keys.dedup();
    sheet.gap();
    sheet.say(0, "Sources");
    let wide = column(keys.iter().map(String::as_str));
    for key in &keys {
        if let Some(source) = library.source(key) {
            let address = source.address.as_ref().map(|address| format!(" {address}")).unwrap_or_default();
            sheet.row(2, key, wide, &format!("{}{address}", source.cite));
        }
    }
}
