//! Seasons: which half of the world, which month.

use records::facts::{Sex, Stage};
use units::Zone;

use crate::view::View;

/// Zone names (IANA) of lands that lie wholly or mostly south of the equator. Prefixes of whole regions, then cities.
const SOUTHERN: [&str; 36] = [
    "Australia/",
    "Antarctica/",
    "Pacific/Auckland",
    "Pacific/Chatham",
    "Pacific/Fiji",
    "Pacific/Tongatapu",
    "Pacific/Apia",
    "Pacific/Noumea",
    "Pacific/Port_Moresby",
    "Pacific/Tahiti",
    "America/Argentina/",
    "America/Buenos_Aires",
    "America/Sao_Paulo",
    "America/Bahia",
    "America/Campo_Grande",
    "America/Cuiaba",
    "America/Fortaleza",
    "America/Recife",
    "America/Araguaina",
    "America/Maceio",
    "America/Porto_Velho",
    "America/Rio_Branco",
    "America/Santiago",
    "America/Punta_Arenas",
    "America/Montevideo",
    "America/Asuncion",
    "America/La_Paz",
    "America/Lima",
    "Africa/Johannesburg",
    "Africa/Harare",
    "Africa/Maputo",
    "Africa/Lusaka",
    "Africa/Windhoek",
    "Africa/Gaborone",
    "Indian/Antananarivo",
    "Indian/Mauritius",
];

/// Words of a region that lie south of the equator.
const SOUTHERN_WORDS: [&str; 14] = [
    "australia",
    "new zealand",
    "argentina",
    "brazil",
    "chile",
    "uruguay",
    "paraguay",
    "peru",
    "bolivia",
    "south africa",
    "namibia",
    "zimbabwe",
    "mozambique",
    "madagascar",
];

/// Does the household lie in the southern half of the world? `None` when neither zone nor region tells.
pub fn is_southern(zone: &Zone, region: Option<&str>) -> Option<bool> {
    if let Some(region) = region {
        let region = region.to_lowercase();
        return Some(SOUTHERN_WORDS.iter().any(|word| region.contains(word)));
    }
    let name = zone.name()?;
    if !name.contains('/') {
        return None;
    }
    Some(SOUTHERN.iter().any(|prefix| name.starts_with(prefix)))
}

/// Is this the month in which the species is known to pause (by sex and half of the world)?
pub fn in_season(view: &View<'_>) -> bool {
    let month = i64::from(view.zone.date(view.now).month());
    let south = view.is_southern().unwrap_or(false);
    view.profile.fasting.seasons.iter().any(|season| {
        let who = match season.who {
            species::Who::Male => view.sex() == Some(Sex::Male),
            species::Who::Female => view.sex() == Some(Sex::Female),
            species::Who::Any => true,
        };
        let months = if south { &season.months_south } else { &season.months_north };
        who && months.iter().any(|one| i64::from(*one) == month) && view.stage != Some(Stage::Hatchling)
    })
}
