//! What a column can mean.

use super::unit::Quantity;
use crate::choice::Choice;
use crate::choices;
use crate::facts::{Means, Period, Spot};

choices!(
    /// What a column of a keeper's table means.
    Meaning, "meaning of a column", {
        /// Name or number of the animal.
        Animal = "animal",
        /// Species.
        Species = "species",
        /// Sex.
        Sex = "sex",
        /// Date of hatching or birth.
        Hatched = "hatched",
        /// Date of arrival in the household.
        Arrived = "arrived",
        /// The day (and the hour, where it is given) of what the row says.
        Date = "date",
        /// The hour of what the row says.
        Time = "time",
        /// Mass of the animal.
        Mass = "mass",
        /// From the tip of the snout to the tip of the tail.
        TotalLength = "total-length",
        /// From the tip of the snout to the vent.
        SnoutVent = "snout-vent",
        /// Around the widest part.
        Girth = "girth",
        /// Mass of the prey.
        MealMass = "meal-mass",
        /// Prey, in words.
        Prey = "prey",
        /// How many items.
        MealCount = "meal-count",
        /// What became of the meal.
        Outcome = "outcome",
        /// A shed: yes, a date, or how it went.
        Shed = "shed",
        /// What happened, in words.
        Event = "event",
        /// A figure whose sense the kind of the row tells.
        Value = "value",
        /// The unit of that figure.
        Unit = "unit",
        /// Warm air by day.
        TemperatureDay = "temperature-day",
        /// Warm air by night.
        TemperatureNight = "temperature-night",
        /// Warm air, day or night.
        Temperature = "temperature",
        /// Warm surface.
        TemperatureWarmSurface = "temperature-warm-surface",
        /// Warm air.
        TemperatureWarmAir = "temperature-warm-air",
        /// Cool surface.
        TemperatureCoolSurface = "temperature-cool-surface",
        /// Cool air.
        TemperatureCoolAir = "temperature-cool-air",
        /// In the hide.
        TemperatureHide = "temperature-hide",
        /// In the humid hide.
        TemperatureHumidHide = "temperature-humid-hide",
        /// Water.
        TemperatureWater = "temperature-water",
        /// The room.
        TemperatureRoom = "temperature-room",
        /// Out of doors.
        TemperatureOutdoors = "temperature-outdoors",
        /// Relative humidity.
        Humidity = "humidity",
        /// A handling session: yes, or how long.
        Handling = "handling",
        /// A chore: yes, or which.
        Cleaning = "cleaning",
        /// Free words.
        Note = "note",
        /// Nothing that is kept.
        Ignored = "ignored",
    }
);

impl Meaning {
    /// What its figures measure; `None` where the cells are words or dates.
    pub(super) fn quantity(self) -> Option<Quantity> {
        Some(match self {
            Meaning::Mass | Meaning::MealMass => Quantity::Mass,
            Meaning::TotalLength | Meaning::SnoutVent | Meaning::Girth => Quantity::Length,
            Meaning::Humidity => Quantity::Humidity,
            Meaning::MealCount => Quantity::Count,
            Meaning::Handling => Quantity::Minutes,
            meaning if meaning.spot().is_some() => Quantity::Temperature,
            _ => return None,
        })
    }

    /// Where a temperature below it was read; the warm air where the column does not tell.
    pub(super) fn spot(self) -> Option<Spot> {
        Some(match self {
            Meaning::TemperatureDay
            | Meaning::TemperatureNight
            | Meaning::Temperature
            | Meaning::TemperatureWarmAir => Spot::WarmAir,
            Meaning::TemperatureWarmSurface => Spot::WarmSurface,
            Meaning::TemperatureCoolSurface => Spot::CoolSurface,
            Meaning::TemperatureCoolAir => Spot::CoolAir,
            Meaning::TemperatureHide => Spot::Hide,
            Meaning::TemperatureHumidHide => Spot::HumidHide,
            Meaning::TemperatureWater => Spot::Water,
            Meaning::TemperatureRoom => Spot::Room,
            Meaning::TemperatureOutdoors => Spot::Outdoors,
            _ => return None,
        })
    }

    /// The temperature at a spot.
    pub(super) fn of_spot(spot: Spot) -> Meaning {
        Meaning::ALL.iter().copied().rev().find(|meaning| meaning.spot() == Some(spot)).unwrap_or(Meaning::Temperature)
    }

    /// May several columns of one table mean it?
    pub(super) fn may_repeat(self) -> bool {
        matches!(
            self,
            Meaning::Note | Meaning::Ignored | Meaning::Event | Meaning::Shed | Meaning::Cleaning | Meaning::Humidity
        )
    }

    /// The largest figure, in whichever unit, that it can hold; beyond it a sign must part decimals, not thousands.
    pub(super) fn largest(self) -> f64 {
        match self.quantity() {
            Some(Quantity::Mass) => 250_000.0,
            Some(Quantity::Length) => 12_000.0,
            Some(Quantity::Temperature) => 400.0,
            Some(Quantity::Humidity) => 100.0,
            Some(Quantity::Minutes) => 1_440.0,
            Some(Quantity::Count) => 500.0,
            None => f64::INFINITY,
        }
    }
}

/// Where and when a figure was read, and what it stands for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    pub spot: Option<Spot>,
    pub period: Option<Period>,
    pub means: Means,
}

impl Place {
    /// The place of figures under a meaning, with what the header adds.
    pub fn under(self, meaning: Meaning) -> Place {
        let period = match meaning {
            Meaning::TemperatureDay => Some(Period::Day),
            Meaning::TemperatureNight => Some(Period::Night),
            _ => self.period,
        };
        let spot = meaning.spot().or(self.spot).unwrap_or(Spot::WarmAir);
        Place { spot: Some(spot), period, means: self.means }
    }
}
