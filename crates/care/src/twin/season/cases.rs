//! The room in the coldest and in the warmest week, by day and by night, and where the enclosure settles in it.

use records::facts::Spot;
use science::physics::network::NetworkFault;

use crate::lines;
use crate::twin::guesses::Unknown;
use crate::twin::held::held;
use crate::twin::model::{Drive, Place};
use crate::twin::warmth::wanted_at;
use crate::twin::{Description, Guesses, Model, State};

/// A room in which the enclosure is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum When {
    WinterDay,
    WinterNight,
    Now,
    SummerDay,
    SummerNight,
}

impl When {
    pub(super) const ALL: [When; 5] =
        [When::WinterDay, When::WinterNight, When::Now, When::SummerDay, When::SummerNight];

    pub(super) fn says(self) -> &'static str {
        match self {
            When::WinterDay => "coldest week, day",
            When::WinterNight => "coldest week, night",
            When::Now => "usual room, day",
            When::SummerDay => "warmest week, day",
            When::SummerNight => "warmest week, night",
        }
    }

    fn is_night(self) -> bool {
        matches!(self, When::WinterNight | When::SummerNight)
    }

    /// The room then, °C: as told, else off the usual one.
    pub(super) fn room_c(self, described: &Description, model: &Model) -> f64 {
        let values = model.values();
        let usual = values.of(Unknown::Room);
        let day = match self {
            When::Now => usual,
            When::WinterDay | When::WinterNight => {
                described.room_winter_c.unwrap_or(usual - values.of(Unknown::RoomWinter))
            }
            When::SummerDay | When::SummerNight => {
                described.room_summer_c.unwrap_or(usual + values.of(Unknown::RoomSummer))
            }
        };
        let told = described.room_night_c.map(|night| usual - night);
        if self.is_night() { day - told.unwrap_or(values.of(Unknown::RoomNight)) } else { day }
    }
}

/// The guesses of a description, those about the seasons among them where they are not told.
pub(super) fn guesses(described: &Description) -> Guesses {
    let open = [
        (described.room_winter_c, Unknown::RoomWinter, "coldest week, below the usual"),
        (described.room_summer_c, Unknown::RoomSummer, "warmest week, above the usual"),
        (described.room_night_c, Unknown::RoomNight, "night, below the day"),
    ];
    let open = open.into_iter().filter(|(told, _, _)| told.is_none());
    open.fold(Guesses::of(described), |guesses, (_, unknown, group)| {
        guesses.wondering(unknown, lines::whole_of_group("twin_room_seasons", group))
    })
}

/// One way in which the enclosure may be, through the seasons.
pub(super) struct Year {
    states: [State; 5],
    /// The drives by day and by night.
    pub(super) day: Vec<Drive>,
    pub(super) night: Vec<Drive>,
    /// What all heaters have together, W; infinite where it is not told.
    pub(super) most_w: f64,
    /// Lowest of what the species wants at the warm surface, °C.
    wanted_c: Option<f64>,
}

impl Year {
    pub(super) fn of(described: &Description, model: &Model) -> Result<Year, NetworkFault> {
        let (day, night) = (held(described, model, false), held(described, model, true));
        let settled =
            |when: When| model.settled(if when.is_night() { &night } else { &day }, when.room_c(described, model));
        let [a, b, c, d, e] = When::ALL;
        let states = [settled(a)?, settled(b)?, settled(c)?, settled(d)?, settled(e)?];
        let most_w = (0..model.heater_count()).map(|heater| model.most_w(heater)).sum();
        let wanted_c = described.profile().and_then(|one| wanted_at(one, Spot::WarmSurface)).map(|(low, _)| low);
        Ok(Year { states, day, night, most_w, wanted_c })
    }

    pub(super) fn at(&self, when: When) -> &State {
        let [winter_day, winter_night, now, summer_day, summer_night] = &self.states;
        match when {
            When::WinterDay => winter_day,
            When::WinterNight => winter_night,
            When::Now => now,
            When::SummerDay => summer_day,
            When::SummerNight => summer_night,
        }
    }

    /// Share of the time that the heaters are on, %; no number where their watts are not told.
    pub(super) fn duty_pct(&self, when: When) -> f64 {
        let share = 100.0 * self.at(when).power_w() / self.most_w;
        if self.most_w.is_finite() { share } else { f64::NAN }
    }

    /// Does the main heater fall short of what it is to hold: its set point, or without a thermostat what the species
    /// wants on the warm surface?
    pub(super) fn is_short(&self, when: When) -> bool {
        let slack = lines::low("temperature_off").value;
        let state = self.at(when);
        let drives = if when.is_night() { &self.night } else { &self.day };
        match drives.first() {
            Some(Drive::Holds(Place::Room, _)) | None => false,
            Some(Drive::Holds(place, set_c)) => state.at(*place) < set_c - slack,
            Some(Drive::Gives(_)) => {
                self.most_w.is_finite()
                    && !when.is_night()
                    && self.wanted_c.is_some_and(|wanted| state.spot(Spot::WarmSurface) < wanted - slack)
            }
        }
    }

    /// The coolest of the spots, °C.
    pub(super) fn coolest_c(&self, when: When) -> f64 {
        let state = self.at(when);
        state.spot(Spot::CoolAir).min(state.spot(Spot::CoolSurface))
    }
}
