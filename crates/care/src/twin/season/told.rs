//! What the year does, in words: winter, night and summer, with what to do about each.

use records::facts::Spot;

use super::cases::{When, Year};
use super::outlook::HeaterOutlook;
use super::over;
use crate::answer::Severity;
use crate::draft::Line;
use crate::lines;
use crate::twin::warmth::push;
use crate::twin::{Description, words};
use crate::what_if::{Range, Reckoning, Unit, Warning};

/// How sure a share of the ways is: a danger, perhaps one, or none.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Sure {
    No,
    Perhaps,
    Yes,
}

fn sure(pct: Option<f64>) -> Sure {
    let (unlikely, likely) = (lines::low("twin_sure").value, lines::high("twin_sure").value);
    match pct {
        Some(pct) if likely <= pct => Sure::Yes,
        Some(pct) if unlikely <= pct => Sure::Perhaps,
        _ => Sure::No,
    }
}

/// Sentences, numbers and warnings.
pub(super) fn told(answer: &mut Reckoning, described: &Description, years: &[Year]) {
    let Some(outlook) = HeaterOutlook::of(described, years) else { return };
    if described.heaters.is_empty() {
        answer.untold.push("No heater is told, so everything inside follows the room.".into());
    } else if outlook.weak_in_winter_pct.is_none() {
        answer.untold.push("Whether the heater is strong enough, and how long it runs: its watts are needed.".into());
    }
    winter(answer, described, &outlook, years);
    summer(answer, described, &outlook, years);
    if described.profile().is_none() {
        answer.untold.push("Whether nights are too cold and summers too hot: the species is needed.".into());
    }
    answer.warnings.sort_by_key(|warning| std::cmp::Reverse(warning.severity));
}

fn room(described: &Description, years: &[Year], when: When) -> String {
    let room = over(years, |year| year.at(when).room_c());
    let told = match when {
        When::WinterDay => described.room_winter_c,
        _ => described.room_summer_c,
    };
    let range = told.map(Range::exactly).or(room);
    range.map_or_else(String::new, words::degrees)
}

fn winter(answer: &mut Reckoning, described: &Description, outlook: &HeaterOutlook, years: &[Year]) {
    let at = |when: When, spot: Spot| over(years, |year| year.at(when).spot(spot));
    let cool = at(When::WinterDay, Spot::CoolAir);
    let duty = over(years, |year| year.duty_pct(When::WinterDay));
    push(answer, "winter-duty", "time on in the coldest week, by day", duty, Unit::Percent, None);
    let key = "winter-warm-surface";
    let says = "warm surface in the coldest week, by day";
    push(answer, key, says, Some(outlook.winter_surface_c), Unit::Celsius, Some(Spot::WarmSurface));
    push(answer, "winter-cool-air", "cool air in the coldest week, by day", cool, Unit::Celsius, Some(Spot::CoolAir));
    let says = "coolest spot in a night of the coldest week";
    push(answer, "winter-night", says, Some(outlook.winter_night_c), Unit::Celsius, None);
    let weak = sure(outlook.weak_in_winter_pct);
    let room = room(described, years, When::WinterDay);
    let surface = words::degrees(outlook.winter_surface_c);
    let holds = match (described.heaters.is_empty(), weak) {
        (true, _) => format!("the warm side has {surface}"),
        (false, Sure::Yes) => format!("the heater is too weak: the warm surface comes to {surface}"),
        (false, Sure::Perhaps) => format!("the heater may be too weak: the warm surface comes to {surface}"),
        (false, Sure::No) => format!("the warm surface has {surface}"),
    };
    let runs =
        duty.map_or_else(String::new, |duty| format!(", with the heater on {} of the time", words::percent(duty)));
    answer.says.push(format!("In the coldest week, in a room of {room}, {holds}{runs}."));
    answer
        .says
        .push(format!("By night it cools there to {} on the cool side.", words::degrees(outlook.winter_night_c)));
    if weak != Sure::No {
        let full = over(years, |year| year.duty_pct(When::WinterNight));
        let runs = full.map_or_else(String::new, |duty| format!(" It runs {} of the night.", words::percent(duty)));
        let pct = outlook.weak_in_winter_pct.unwrap_or_default();
        answer.warnings.push(Warning {
            key: "heater-weak-in-winter",
            severity: if weak == Sure::Yes { Severity::Act } else { Severity::Watch },
            says: format!(
                "In the coldest week the heater does not reach what it is set to in {pct:.0} of 100 ways this enclosure may be.{runs}"
            ),
            does: "Before winter: insulate walls and lid, cover part of a mesh lid, warm the room, or take a stronger heater on a thermostat.".into(),
            source: Some(lines::source("twin_spare")),
            caution: Some("heat-and-fire"),
        });
    }
    let Some(profile) = described.profile() else { return };
    if let Some((figure, cool)) = profile.temperature.cool_ambient_c.first().zip(cool)
        && cool.mid < figure.low - lines::low("temperature_off").value
    {
        answer.warnings.push(Warning {
            key: "cool-side-cold-in-winter",
            severity: Severity::Watch,
            says: format!(
                "In the coldest week the cool air stays at {} by day; {}–{} °C is wanted.",
                words::degrees(cool),
                figure.low,
                figure.high
            ),
            does: "Warm the room or insulate walls and lid; a second, weaker heater for the air does it too.".into(),
            source: Some(Line::low(figure).source),
            caution: Some("heat-and-fire"),
        });
    }
    night(answer, described, outlook, years);
}

/// The coldest night against that of the species.
fn night(answer: &mut Reckoning, described: &Description, outlook: &HeaterOutlook, years: &[Year]) {
    let Some(figure) = described.profile().and_then(|profile| profile.temperature.night_min_c.first()) else { return };
    let cold = sure(outlook.cold_night_pct);
    if cold == Sure::No {
        answer.says.push(format!("That is no colder than nights may be: {} °C.", figure.low));
        return;
    }
    let far = lines::low("night_cold").value;
    let warmest = over(years, |year| {
        let state = year.at(When::WinterNight);
        state.spot(Spot::WarmAir).max(state.spot(Spot::WarmSurface))
    });
    // With a warm place to go to, a cold end at night is worth a word, no more.
    let refuge = warmest.is_some_and(|warmest| figure.low + far <= warmest.mid);
    let is_far = outlook.winter_night_c.mid < figure.low - far;
    let verb = if cold == Sure::Yes { "fall" } else { "may fall" };
    let place = if refuge { "; a warmer place is left at the warm end" } else { "" };
    answer.warnings.push(Warning {
        key: "night-cold-in-winter",
        severity: if is_far && !refuge { Severity::Act } else { Severity::Watch },
        says: format!(
            "Nights of the coldest week {verb} to {} on the cool side; {} °C is the coldest night that is wanted{place}.",
            words::degrees(outlook.winter_night_c),
            figure.low
        ),
        does: if described.heaters.iter().any(|one| one.night_set_c.is_some()) {
            "Raise the night setting for the winter, or leave it as by day, and insulate walls and lid.".into()
        } else {
            "Keep a heater on through the night on its thermostat, insulate walls and lid, or warm the room.".into()
        },
        source: Some(Line::low(figure).source),
        caution: Some("heat-and-fire"),
    });
}

fn summer(answer: &mut Reckoning, described: &Description, outlook: &HeaterOutlook, years: &[Year]) {
    let duty = over(years, |year| year.duty_pct(When::SummerDay));
    push(answer, "summer-duty", "time on in the warmest week, by day", duty, Unit::Percent, None);
    let surface = over(years, |year| year.at(When::SummerDay).spot(Spot::WarmSurface));
    let key = "summer-warm-surface";
    let says = "warm surface in the warmest week, by day";
    push(answer, key, says, surface, Unit::Celsius, Some(Spot::WarmSurface));
    let says = "coolest spot in the warmest week, by day";
    push(answer, "summer-coolest", says, Some(outlook.summer_coolest_c), Unit::Celsius, None);
    let cool = words::degrees(outlook.summer_coolest_c);
    let room = room(described, years, When::SummerDay);
    let rests = if described.heaters.is_empty() { Sure::No } else { sure(Some(outlook.rests_in_summer_pct)) };
    let does = match rests {
        Sure::Yes => "the heater rests, the warm side follows the room, and".to_owned(),
        Sure::Perhaps => "the heater may rest, so that the warm side follows the room, and".to_owned(),
        Sure::No => {
            surface.map_or_else(String::new, |range| format!("the warm surface has {} and", words::degrees(range)))
        }
    };
    answer.says.push(format!("In the warmest week, in a room of {room}, {does} the coolest spot has {cool}."));
    let Some(profile) = described.profile() else { return };
    let temperature = &profile.temperature;
    let (hot, overheats) = (sure(outlook.hot_in_summer_pct), sure(outlook.overheats_pct));
    if let Some(line) = temperature.overheat_c.first().filter(|_| overheats != Sure::No) {
        let pct = outlook.overheats_pct.unwrap_or_default();
        answer.warnings.push(Warning {
            key: "overheats-in-summer",
            severity: if overheats == Sure::Yes { Severity::Urgent } else { Severity::Act },
            says: format!(
                "On the warmest days even the coolest spot passes {} °C in {pct:.0} of 100 ways this enclosure may be: nowhere is left to go.",
                line.high
            ),
            does: "Plan a cooler room for these days, shade the window, run no heater by day, and never carry it in a parked car.".into(),
            source: Some(Line::high(line).source),
            caution: Some("overheating"),
        });
    } else if let Some(figure) = temperature.cool_ambient_c.first().filter(|_| hot != Sure::No) {
        let verb = if hot == Sure::Yes { "is" } else { "may be" };
        answer.warnings.push(Warning {
            key: "cool-side-hot-in-summer",
            severity: Severity::Watch,
            says: format!(
                "In the warmest week even the coolest spot {verb} warmer than the {} °C that are wanted there at most: {cool}.",
                figure.high
            ),
            does: "Cool or shade the room, let more air through the lid, move it to the coolest wall, and offer a large bowl of fresh water.".into(),
            source: Some(Line::high(figure).source),
            caution: Some("overheating"),
        });
    }
    if let Some((limit, surface)) = temperature.surface_absolute_max_c.first().zip(surface)
        && limit.high + lines::low("temperature_off").value < surface.mid
    {
        answer.warnings.push(Warning {
            key: "surface-hot-in-summer",
            severity: Severity::Act,
            says: format!(
                "In the warmest week the warm surface comes to {}; no surface may pass {} °C.",
                words::degrees(surface),
                limit.high
            ),
            does: "Put the heater on a thermostat with its probe at the warm surface, or take a weaker one.".into(),
            source: Some(Line::high(limit).source),
            caution: Some("burns"),
        });
    }
}
