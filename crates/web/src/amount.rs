//! Amounts as people type them into a field: a bare number is in the field's unit, another unit is typed with it.

use records::fields::read_number;
use units::Celsius;
use units::length::CENTIMETRES_PER_INCH;
use units::mass::{GRAMS_PER_OUNCE, GRAMS_PER_POUND};

/// A number and the sign of its unit, as typed together: `0.9oz`; `None` where the text does not begin with a number.
pub fn split(text: &str) -> Option<(f64, &str)> {
    let is_of_number = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | ',' | '-' | '+');
    let (digits, sign) = text.split_at(text.find(|letter| !is_of_number(letter)).unwrap_or(text.len()));
    Some((read_number(digits)?, sign.trim()))
}

/// The number that a text holds, in the unit of the field. What is no number with a known sign stays as it was typed,
/// so that it is refused with its own words.
pub(crate) fn in_unit(text: &str, unit: &str) -> String {
    let text = text.trim();
    if text.is_empty() || read_number(text).is_some() {
        return text.to_owned();
    }
    let value = split(text).and_then(|(number, sign)| converted(number, sign, unit));
    value.map_or_else(|| text.to_owned(), rounded)
}

/// To a thousandth: finer than any scale or thermometer in a household.
pub fn rounded(value: f64) -> String {
    ((value * 1000.0).round() / 1000.0).to_string()
}

/// A number with the sign of its unit in the unit of the field; `None` when it is a unit of something else.
pub fn converted(number: f64, sign: &str, unit: &str) -> Option<f64> {
    let sign = sign.trim_start_matches('°').to_lowercase();
    let factor = match (unit, sign.as_str()) {
        ("°C", "f") => return Celsius::from_fahrenheit(number).map(Celsius::degrees),
        ("°C", "c") | ("g", "g" | "gram" | "grams") | ("cm", "cm") | ("%", "%") | ("W", "w" | "watts") => 1.0,
        ("mm", "mm") | ("l", "l" | "litres") | ("K", "k" | "c") | ("Wh", "wh") | ("kWh", "kwh") => 1.0,
        ("min", "min" | "minutes") | ("h", "h" | "hours") | ("months", "months") => 1.0,
        ("g", "kg") => 1000.0,
        ("g", "oz") => GRAMS_PER_OUNCE,
        ("g", "lb" | "lbs") => GRAMS_PER_POUND,
        ("cm", "mm") => 0.1,
        ("mm", "cm") => 10.0,
        ("mm", "in" | "\"" | "inch" | "inches") => 10.0 * CENTIMETRES_PER_INCH,
        ("cm", "m") => 100.0,
        ("cm", "in" | "\"" | "inch" | "inches") => CENTIMETRES_PER_INCH,
        ("cm", "ft" | "'" | "foot" | "feet") => 12.0 * CENTIMETRES_PER_INCH,
        ("l", "ml") => 1e-3,
        ("l", "cl") => 1e-2,
        // A difference: 9 °F warmer is 5 K warmer.
        ("K", "f") => 5.0 / 9.0,
        ("Wh", "kwh") | ("W", "kw") => 1000.0,
        ("kWh", "wh") => 1e-3,
        ("min", "h" | "hours") => 60.0,
        ("min", "d" | "days") => 1440.0,
        ("h", "min" | "minutes") => 1.0 / 60.0,
        ("h", "d" | "days") => 24.0,
        ("months", "years" | "y") => 12.0,
        _ => return None,
    };
    Some(number * factor)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn another_unit_is_typed_with_its_sign() {
        for (typed, unit, kept) in [
            ("24", "g", "24"),
            ("24,5", "g", "24,5"),
            ("0.9oz", "g", "25.515"),
            ("1.2 kg", "g", "1200"),
            ("88F", "°C", "31.111"),
            ("88 °F", "°C", "31.111"),
            ("48in", "cm", "121.92"),
            ("1.4 m", "cm", "140"),
            ("4mm", "mm", "4"),
            ("1.8 cm", "mm", "18"),
            ("0.5in", "mm", "12.7"),
            ("4g", "mm", "4g"),
            ("61 %", "%", "61"),
            ("heavy", "g", "heavy"),
            ("24 stone", "g", "24 stone"),
            ("", "g", ""),
        ] {
            assert_eq!(in_unit(typed, unit), kept, "{typed}");
        }
    }
}
