//! The readings of the last days as the rules of climate look at them: newest first, each with its time of day, those
//! that are in the wrong unit told apart.

use records::facts::{Means, Period, PlannedWhat, Reading, Spot};
use records::timeline::Entry;
use species::Figure;
use units::Moment;

use crate::answer::Evidence;
use crate::draft::{Line, seen};
use crate::lines;
use crate::view::View;
use crate::warmth::looks_like_fahrenheit;

/// What a reading stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Time {
    /// By day.
    Day,
    /// By night.
    Night,
    /// Day and night together.
    Both,
}

/// A temperature with its time.
#[derive(Clone, Copy)]
pub(super) struct Felt<'v> {
    /// The reading.
    pub entry: &'v Entry<Reading>,
    /// In °C.
    pub degrees: f64,
    /// By day or by night.
    pub time: Time,
    /// When.
    pub at: Moment,
    /// Taken while the power was out.
    pub in_cut: bool,
}

impl Felt<'_> {
    /// The record.
    pub fn record(&self) -> Evidence {
        seen(self.entry)
    }

    /// Where.
    pub fn spot(&self) -> Spot {
        self.entry.spot
    }
}

/// Places where it is warm.
pub(super) const WARM: [Spot; 2] = [Spot::WarmAir, Spot::WarmSurface];
/// Places to which an animal goes to cool down or to hide.
pub(super) const COOL: [Spot; 4] = [Spot::CoolAir, Spot::CoolSurface, Spot::Hide, Spot::HumidHide];

/// The temperatures of the last days.
pub(super) struct Climate<'v> {
    /// Newest first.
    pub felt: Vec<Felt<'v>>,
    /// Readings that look like degrees Fahrenheit.
    pub doubtful: Vec<Felt<'v>>,
    /// Those make sense together as degrees Fahrenheit and none as °C: they are left out of `felt`.
    pub is_fahrenheit: bool,
}

impl<'v> Climate<'v> {
    /// Of an animal that is in its enclosure.
    pub fn of(view: &'v View<'_>) -> Climate<'v> {
        let since = view.now.plus_days(-lines::high("readings_stand").value);
        let hours = Hours::known();
        let mut felt: Vec<Felt<'v>> = Vec::new();
        if is_home(view) {
            let recent = view.line.readings.iter().rev().take_while(|one| since <= one.at.to);
            felt.extend(recent.filter(|one| one.spot != Spot::Outdoors).filter_map(|entry| {
                let at = entry.at.middle().min(view.now);
                let degrees = entry.temperature_c?;
                Some(Felt { entry, degrees, time: time_of(view, entry, &hours), at, in_cut: is_in_cut(view, entry) })
            }));
            felt.sort_by_key(|one| std::cmp::Reverse(one.at));
        }
        let doubtful: Vec<Felt<'v>> = felt.iter().filter(|one| looks_like_fahrenheit(one.entry)).copied().collect();
        let is_fahrenheit = make_sense_together(view, &doubtful);
        if is_fahrenheit {
            felt.retain(|one| !looks_like_fahrenheit(one.entry));
        }
        Climate { felt, doubtful, is_fahrenheit }
    }

    /// What stands for a place: its readings up to a day older than the newest of it, newest first.
    pub fn standing(&self, spot: Spot) -> impl Iterator<Item = &Felt<'v>> {
        let stands_d = lines::low("readings_stand").value;
        let newest = self.felt.iter().find(|one| one.spot() == spot).map(|one| one.at);
        self.felt
            .iter()
            .filter(move |one| one.spot() == spot && newest.is_some_and(|newest| newest.days_since(one.at) <= stands_d))
    }

    /// The newest that stands for a place and a time.
    pub fn newest(&self, spot: Spot, times: &[Time]) -> Option<&Felt<'v>> {
        self.standing(spot).find(|one| times.contains(&one.time))
    }

    /// The picture of the enclosure around the newest reading in it: the newest of each place, none much older than
    /// the newest of all, and of the same time of day unless it stands for both.
    pub fn picture(&self) -> Vec<&Felt<'v>> {
        let inside = |one: &&Felt<'v>| !matches!(one.spot(), Spot::Room | Spot::ControlProbe | Spot::Water);
        let Some(newest) = self.felt.iter().find(inside) else { return Vec::new() };
        let within_h = lines::high("readings_together").value;
        let mut picture: Vec<&Felt<'v>> = Vec::new();
        for one in self.felt.iter().filter(inside).take_while(|one| newest.at.hours_since(one.at) <= within_h) {
            let like = one.time == newest.time || one.time == Time::Both || newest.time == Time::Both;
            if like && !picture.iter().any(|there| there.spot() == one.spot()) {
                picture.push(one);
            }
        }
        picture
    }

    /// The newest reading of the room, where it is no older than the picture reaches.
    pub fn room(&self) -> Option<&Felt<'v>> {
        let room = self.standing(Spot::Room).next()?;
        let newest = self.felt.first()?;
        (newest.at.hours_since(room.at) <= lines::high("readings_together").value).then_some(room)
    }
}

/// Does what is measured in the enclosure bear on the animal? Not when it is dead, missing or elsewhere.
pub(super) fn is_home(view: &View<'_>) -> bool {
    !view.is_dead() && view.missing_since().is_none() && !view.is_elsewhere()
}

/// What tells day from night.
struct Hours {
    whole_day: f64,
    day_from: f64,
    day_to: f64,
}

impl Hours {
    fn known() -> Hours {
        Hours {
            whole_day: lines::low("whole_day").value,
            day_from: lines::low("daytime").value,
            day_to: lines::high("daytime").value,
        }
    }
}

fn time_of(view: &View<'_>, reading: &Reading, hours: &Hours) -> Time {
    match reading.period {
        Some(Period::Day) => return Time::Day,
        Some(Period::Night) => return Time::Night,
        None => {}
    }
    // Over a whole day, or since nobody knows when, the coldest is the night's and the hottest the day's.
    let is_long = reading.hours.map(|long| hours.whole_day <= long);
    match (reading.means, is_long) {
        (Means::Minimum, None | Some(true)) => return Time::Night,
        (Means::Maximum, None | Some(true)) => return Time::Day,
        (_, Some(true)) => return Time::Both,
        _ => {}
    }
    if !reading.at.has_hour() {
        return Time::Day;
    }
    let hour = f64::from(view.zone.clock(reading.at.from).hour());
    if hours.day_from <= hour && hour < hours.day_to { Time::Day } else { Time::Night }
}

fn is_in_cut(view: &View<'_>, reading: &Reading) -> bool {
    view.line
        .power
        .iter()
        .any(|cut| cut.from.from <= reading.at.to && cut.until.is_none_or(|until| reading.at.from <= until.to))
}

/// Two places or more, at least one of which no living enclosure heats so far, that read as degrees Fahrenheit give a
/// warm end and a cooler rest within what this species lives in.
fn make_sense_together(view: &View<'_>, doubtful: &[Felt<'_>]) -> bool {
    let celsius = |one: &Felt<'_>| units::Celsius::from_fahrenheit(one.degrees).map(units::Celsius::degrees);
    let by_heat = |a: &&Felt<'_>, b: &&Felt<'_>| a.degrees.total_cmp(&b.degrees);
    let Some(hottest) = doubtful.iter().max_by(by_heat) else { return false };
    let rest = doubtful.iter().filter(|one| !matches!(one.spot(), Spot::WarmSurface | Spot::ControlProbe));
    let Some(coolest) = rest.min_by(by_heat) else { return false };
    if doubtful.iter().all(|one| one.spot() == coolest.spot()) {
        return false;
    }
    let (Some(warm_c), Some(cool_c)) = (celsius(hottest), celsius(coolest)) else { return false };
    let temperature = &view.profile.temperature;
    let (Some(night), Some(limit)) = (low(&temperature.night_min_c), high(&temperature.surface_absolute_max_c)) else {
        return false;
    };
    let (under, over) = (lines::low("fahrenheit_pair").value, lines::high("fahrenheit_pair").value);
    night.value - under <= cool_c && warm_c <= limit.value + over
}

/// In a planned winter rest that the species bears, on the way into it or out of it.
pub(super) fn is_cooled(view: &View<'_>) -> bool {
    let bears = view.profile.brumation.relevance != "none";
    let before = lines::low("brum_cool_down").value;
    let after = lines::high("brum_warm_up").value;
    bears
        && view.line.planned.iter().any(|plan| {
            plan.what == PlannedWhat::Brumation
                && plan.from.from.plus_days(-before) <= view.now
                && view.now < plan.ends().plus_days(after)
        })
}

/// The last meal, while it is still inside. `when` is the moment from which one looks back.
pub(super) fn meal_inside<'v>(view: &'v View<'_>, when: Moment) -> Option<&'v Entry<records::facts::Meal>> {
    let eaten = view.meals.last_eaten().filter(|eaten| eaten.stayed)?;
    let over = eaten.digestion_d.unwrap_or_else(|| lines::low("gut_empty_unknown").value);
    (when.days_since(eaten.at.to) < over).then(|| view.line.meals.get(eaten.index)).flatten()
}

/// Is the gut not yet empty?
pub(super) fn is_fed(view: &View<'_>) -> bool {
    view.meals.last_eaten().is_some_and(|eaten| eaten.stayed && view.days_since(eaten.at) < eaten.gut_d())
}

/// A range as a keeper reads it: «29 to 31 °C», «35 °C».
pub(super) fn range(figure: &Figure) -> String {
    if figure.is_single() {
        crate::view::celsius(figure.low)
    } else {
        format!("{} to {}", crate::view::number(figure.low), crate::view::celsius(figure.high))
    }
}

/// The place in words.
pub(super) fn place(spot: Spot) -> &'static str {
    match spot {
        Spot::WarmSurface => "the warm surface",
        Spot::WarmAir => "the warm air",
        Spot::CoolSurface => "the cool surface",
        Spot::CoolAir => "the cool air",
        Spot::Hide => "the hide",
        Spot::HumidHide => "the humid hide",
        Spot::Water => "the water",
        Spot::Room => "the room",
        Spot::Outdoors => "the air outdoors",
        Spot::ControlProbe => "the probe of the thermostat",
    }
}

/// With a capital, for the start of a sentence.
pub(super) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// «The warm air was 26.7 °C on 24 Nov 2026 at 15:00», with the kind of figure where it is not a single look.
pub(super) fn measured(view: &View<'_>, felt: &Felt<'_>) -> String {
    let kind = match felt.entry.means {
        Means::SpotCheck => "was",
        Means::Mean => "averaged",
        Means::Minimum => "fell to",
        Means::Maximum => "rose to",
    };
    let degrees = crate::view::celsius(felt.degrees);
    format!("{} {kind} {degrees} on {}", capital(place(felt.spot())), view.date_of(felt.entry.at))
}

/// The first figure as a line, at its low or high end.
pub(super) fn low(figures: &species::Figures) -> Option<Line> {
    figures.first().map(Line::low)
}

/// The first figure as a line at its high end.
pub(super) fn high(figures: &species::Figures) -> Option<Line> {
    figures.first().map(Line::high)
}

/// What a finding about temperature is made of, before the gravest is chosen.
pub(super) struct Candidate {
    /// The finding.
    pub finding: crate::answer::Finding,
    /// Which of two equally grave ones is told: the lower.
    pub rank: u8,
}

/// One cause, one finding: the gravest is told, the others are its records.
pub(super) fn gravest(mut all: Vec<Candidate>) -> Option<crate::answer::Finding> {
    all.sort_by(|a, b| b.finding.severity.cmp(&a.finding.severity).then(a.rank.cmp(&b.rank)));
    let mut all = all.into_iter().map(|one| one.finding);
    let mut main = all.next()?;
    for other in all {
        let more: Vec<Evidence> = other.records.into_iter().filter(|one| !main.records.contains(one)).collect();
        main.records.extend(more);
    }
    Some(main)
}
