//! What the keeper says about a table that the table itself leaves open.

use super::meaning::Meaning;
use crate::choices;
use crate::facts::Outcome;

choices!(
    /// Which comes first in a date such as 03/04/2025.
    DateOrder, "order of dates", { DayFirst = "day-first", MonthFirst = "month-first" }
);

choices!(
    /// The unit of masses that name none.
    MassUnit, "unit of mass", { Grams = "grams", Kilograms = "kilograms", Ounces = "ounces", Pounds = "pounds" }
);

choices!(
    /// The unit of lengths that name none.
    LengthUnit, "unit of length", { Centimetres = "centimetres", Metres = "metres", Inches = "inches", Feet = "feet" }
);

choices!(
    /// The unit of temperatures that name none.
    TemperatureUnit, "unit of temperature", { Celsius = "celsius", Fahrenheit = "fahrenheit" }
);

choices!(
    /// The sign before decimals.
    Decimal, "decimal sign", { Point = "point", Comma = "comma" }
);

choices!(
    /// What the mass of a meal of several items stands for.
    MealMassIs, "sense of a meal's mass", {
        /// The mass of one item.
        Each = "each",
        /// The mass of all of them together.
        Total = "total",
    }
);

choices!(
    /// What a «no» or a nought under a meal's column stands for.
    NoMeal, "sense of a meal's no", {
        /// Nothing was offered.
        NotOffered = "not-offered",
        /// It was offered and not taken.
        Refused = "refused",
    }
);

/// What the keeper says about a table. Whatever is left out is found in the table, or asked for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answers {
    /// Which comes first in a date such as 03/04/2025.
    pub date_order: Option<DateOrder>,
    /// The unit of masses that name none.
    pub mass_unit: Option<MassUnit>,
    /// The unit of lengths that name none.
    pub length_unit: Option<LengthUnit>,
    /// The unit of temperatures that name none.
    pub temperature_unit: Option<TemperatureUnit>,
    /// The sign before decimals, where `1,234` or `1.234` may be either.
    pub decimal: Option<Decimal>,
    /// What a column means: its header and the meaning, before whatever the table suggests.
    pub columns: Vec<(String, Meaning)>,
    /// The unit of a column: its header and the unit (`g`, `oz`, `cm`, `F` ...), before whatever the table suggests.
    pub units: Vec<(String, String)>,
    /// The species of animals for which the table names none.
    pub species: Option<String>,
    /// The animal, where the table has no column for it.
    pub animal: Option<String>,
    /// How the file is encoded, by its name: `windows-1252`, `utf-8` ...
    pub encoding: Option<String>,
    /// Is a row without an animal about the animal of the row above?
    pub fill_down: Option<bool>,
    /// What became of meals about which the table says nothing.
    pub outcome: Option<Outcome>,
    /// What the mass of a meal of several items stands for.
    pub meal_mass_is: Option<MealMassIs>,
    /// What a «no» or a nought under a meal's column stands for.
    pub no_meal: Option<NoMeal>,
}
