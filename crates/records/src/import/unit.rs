//! Units as people write them, in headers and behind numbers.

use units::Celsius;
use units::length::CENTIMETRES_PER_INCH;
use units::mass::{GRAMS_PER_OUNCE, GRAMS_PER_POUND};

use super::answers::{LengthUnit, MassUnit, TemperatureUnit};

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Quantity {
    Mass,
    Length,
    Temperature,
    Humidity,
    Minutes,
    Count,
}

/// A unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unit {
    Gram,
    Kilogram,
    Ounce,
    Pound,
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Foot,
    Celsius,
    Fahrenheit,
    Percent,
    Minute,
    Hour,
    Piece,
}

impl Unit {
    pub fn quantity(self) -> Quantity {
        match self {
            Unit::Gram | Unit::Kilogram | Unit::Ounce | Unit::Pound => Quantity::Mass,
            Unit::Millimetre | Unit::Centimetre | Unit::Metre | Unit::Inch | Unit::Foot => Quantity::Length,
            Unit::Celsius | Unit::Fahrenheit => Quantity::Temperature,
            Unit::Percent => Quantity::Humidity,
            Unit::Minute | Unit::Hour => Quantity::Minutes,
            Unit::Piece => Quantity::Count,
        }
    }

    /// A figure in this unit, in the unit in which it is kept: g, cm, °C, %, min.
    pub fn kept(self, figure: f64) -> f64 {
        match self {
            Unit::Gram | Unit::Centimetre | Unit::Celsius | Unit::Percent | Unit::Minute | Unit::Piece => figure,
            Unit::Kilogram => figure * 1_000.0,
            Unit::Ounce => figure * GRAMS_PER_OUNCE,
            Unit::Pound => figure * GRAMS_PER_POUND,
            Unit::Millimetre => figure / 10.0,
            Unit::Metre => figure * 100.0,
            Unit::Inch => figure * CENTIMETRES_PER_INCH,
            Unit::Foot => figure * 12.0 * CENTIMETRES_PER_INCH,
            Unit::Fahrenheit => Celsius::from_fahrenheit(figure).map_or(f64::NAN, Celsius::degrees),
            Unit::Hour => figure * 60.0,
        }
    }

    /// Its sign.
    pub fn sign(self) -> &'static str {
        match self {
            Unit::Gram => "g",
            Unit::Kilogram => "kg",
            Unit::Ounce => "oz",
            Unit::Pound => "lb",
            Unit::Millimetre => "mm",
            Unit::Centimetre => "cm",
            Unit::Metre => "m",
            Unit::Inch => "in",
            Unit::Foot => "ft",
            Unit::Celsius => "°C",
            Unit::Fahrenheit => "°F",
            Unit::Percent => "%",
            Unit::Minute => "min",
            Unit::Hour => "h",
            Unit::Piece => "pieces",
        }
    }

    /// A unit by one folded word (see [`super::words::fold`]).
    pub fn from_word(word: &str) -> Option<Unit> {
        Some(match word {
            "g" | "gr" | "grs" | "gm" | "gms" | "gram" | "grams" | "gramm" | "gramme" | "grammes" | "gramo"
            | "gramos" | "grammo" | "grammi" | "grama" | "gramas" => Unit::Gram,
            "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" | "kilogramm" | "kilogramme" | "kilogrammes"
            | "kilogramo" | "kilogramos" => Unit::Kilogram,
            "oz" | "ozs" | "ounce" | "ounces" | "unze" | "unzen" | "once" | "onces" => Unit::Ounce,
            "lb" | "lbs" | "pound" | "pounds" => Unit::Pound,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Unit::Millimetre,
            "cm" | "cms" | "centimetre" | "centimetres" | "centimeter" | "centimeters" | "zentimeter" => {
                Unit::Centimetre
            }
            "m" | "metre" | "metres" | "meter" | "meters" | "metro" | "metros" => Unit::Metre,
            "in" | "inch" | "inches" | "\"" | "\u{201d}" | "\u{2033}" | "''" | "zoll" | "pouces" | "pulgadas" => {
                Unit::Inch
            }
            "ft" | "foot" | "feet" | "'" | "\u{2019}" | "\u{2032}" => Unit::Foot,
            "c" | "°c" | "º c" | "° c" | "ºc" | "℃" | "degc" | "deg c" | "celsius" | "centigrade" => {
                Unit::Celsius
            }
            "f" | "°f" | "º f" | "° f" | "ºf" | "℉" | "degf" | "deg f" | "fahrenheit" => Unit::Fahrenheit,
            "%" | "pct" | "percent" | "prozent" | "%rh" | "% rh" | "%rf" | "% rf" => Unit::Percent,
            "min" | "mins" | "minute" | "minutes" | "minuten" | "minutos" | "minuti" => Unit::Minute,
            "h" | "hr" | "hrs" | "hour" | "hours" | "stunden" => Unit::Hour,
            "x" | "pc" | "pcs" | "piece" | "pieces" | "stk" | "stuck" | "st" => Unit::Piece,
            _ => return None,
        })
    }
}

impl From<MassUnit> for Unit {
    fn from(unit: MassUnit) -> Unit {
        match unit {
            MassUnit::Grams => Unit::Gram,
            MassUnit::Kilograms => Unit::Kilogram,
            MassUnit::Ounces => Unit::Ounce,
            MassUnit::Pounds => Unit::Pound,
        }
    }
}

impl From<LengthUnit> for Unit {
    fn from(unit: LengthUnit) -> Unit {
        match unit {
            LengthUnit::Centimetres => Unit::Centimetre,
            LengthUnit::Metres => Unit::Metre,
            LengthUnit::Inches => Unit::Inch,
            LengthUnit::Feet => Unit::Foot,
        }
    }
}

impl From<TemperatureUnit> for Unit {
    fn from(unit: TemperatureUnit) -> Unit {
        match unit {
            TemperatureUnit::Celsius => Unit::Celsius,
            TemperatureUnit::Fahrenheit => Unit::Fahrenheit,
        }
    }
}
