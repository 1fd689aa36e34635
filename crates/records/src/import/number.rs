//! Numbers as people write them. Where `1,234` may be one and a bit or more than a thousand, both are kept until the
//! table (or the keeper) settles it.

use super::answers::Decimal;
use super::unit::Unit;
use super::words::fold;

/// A number as far as its own signs tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Number {
    /// It can mean one thing. `settles` names the decimal sign that it shows to be in use, where it shows one.
    Sure { value: f64, settles: Option<Decimal> },
    /// One sign before three digits: decimals, or thousands.
    Either { decimals: f64, thousands: f64, sign: Decimal },
}

impl Number {
    /// Its value where `decimal` is the decimal sign; `None` while that is needed and open.
    pub fn value(self, decimal: Option<Decimal>) -> Option<f64> {
        match self {
            Number::Sure { value, .. } => Some(value),
            Number::Either { decimals, thousands, sign } => {
                decimal.map(|decimal| if decimal == sign { decimals } else { thousands })
            }
        }
    }
}

/// A number with what stands around it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Figure {
    /// The number, or the two of «4 lb 3 oz».
    pub parts: Vec<(Number, Option<Unit>)>,
    /// Said to be a guess: «~120», «120?».
    pub about: bool,
}

impl Figure {
    /// The unit that is written behind it.
    pub fn unit(&self) -> Option<Unit> {
        self.parts.first().and_then(|(_, unit)| *unit)
    }

    /// Its value in the unit in which it is kept: each part in its own unit, or in `unit`. `None` while the decimal
    /// sign or the unit is needed and open.
    pub fn kept(&self, decimal: Option<Decimal>, unit: Option<Unit>) -> Option<f64> {
        let parts = self.parts.iter();
        parts.map(|(number, own)| Some(own.or(unit)?.kept(number.value(decimal)?))).sum()
    }

    /// Its first number as it stands.
    pub fn plain(&self, decimal: Option<Decimal>) -> Option<f64> {
        self.parts.first().and_then(|(number, _)| number.value(decimal))
    }
}

/// No number that a person writes is longer.
const LONGEST: usize = 48;

/// Reads a cell that is a number, with a unit behind it or without. `None` when it is anything else.
pub(super) fn read(text: &str) -> Option<Figure> {
    if LONGEST < text.len() {
        return None;
    }
    let folded = fold(text);
    let mut rest = folded.trim();
    let mut about = false;
    for mark in ["~", "≈", "±", "ca.", "ca ", "circa ", "approx.", "approx ", "about ", "etwa ", "env.", "environ "]
    {
        if let Some(after) = rest.strip_prefix(mark) {
            about = true;
            rest = after.trim_start();
        }
    }
    if let Some(before) = rest.strip_suffix('?') {
        about = true;
        rest = before.trim_end();
    }
    let mut parts = Vec::new();
    while !rest.is_empty() {
        let (number, after) = leading(rest)?;
        let after = after.trim_start();
        let end = after.find(|c: char| c.is_ascii_digit()).unwrap_or(after.len());
        let (word, next) = after.split_at_checked(end)?;
        let word = word.trim().trim_end_matches('.');
        let unit = if word.is_empty() { None } else { Some(Unit::from_word(word)?) };
        parts.push((number, unit));
        rest = next.trim();
    }
    let units: Vec<Option<Unit>> = parts.iter().map(|(_, unit)| *unit).collect();
    match units.as_slice() {
        [_] | [Some(Unit::Pound), Some(Unit::Ounce)] | [Some(Unit::Foot), Some(Unit::Inch)] => {
            Some(Figure { parts, about })
        }
        _ => None,
    }
}

/// The number at the beginning of a text, and what follows it.
pub(super) fn leading(text: &str) -> Option<(Number, &str)> {
    let (negative, body) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(body) => (true, body),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let mut end = 0;
    let bytes: Vec<(usize, char)> = body.char_indices().collect();
    for (place, (at, c)) in bytes.iter().enumerate() {
        let digit = |ahead: usize| bytes.get(place + ahead).is_some_and(|(_, c)| c.is_ascii_digit());
        let three = digit(1) && digit(2) && digit(3) && !digit(4);
        let counts = match c {
            '0'..='9' => true,
            '.' | ',' => digit(1),
            ' ' | '\u{a0}' | '\u{202f}' | '\'' | '\u{2019}' => 0 < place && three,
            _ => false,
        };
        if !counts {
            break;
        }
        end = at + c.len_utf8();
    }
    let (number, mut rest) = body.split_at_checked(end)?;
    let mut number = of_signs(number)?;
    if let Some((power, after)) = exponent(rest) {
        let value = number.value(Some(Decimal::Point))? * 10f64.powi(power);
        number = Number::Sure { value, settles: None };
        rest = after;
    }
    if negative {
        number = match number {
            Number::Sure { value, settles } => Number::Sure { value: -value, settles },
            Number::Either { decimals, thousands, sign } => {
                Number::Either { decimals: -decimals, thousands: -thousands, sign }
            }
        };
    }
    let finite = |value: f64| value.is_finite();
    number.value(Some(Decimal::Point)).is_some_and(finite).then_some((number, rest))
}

/// `E+03`, as spreadsheets write it.
fn exponent(text: &str) -> Option<(i32, &str)> {
    let after = text.strip_prefix(['e', 'E'])?;
    let signed = after.strip_prefix(['+', '-']).unwrap_or(after);
    let digits = signed.find(|c: char| !c.is_ascii_digit()).unwrap_or(signed.len());
    let end = after.len() - signed.len() + digits;
    let power = after.get(..end)?.parse().ok().filter(|power: &i32| power.abs() <= 12)?;
    Some((power, after.get(end..)?))
}

/// A number of digits and signs only.
fn of_signs(text: &str) -> Option<Number> {
    let is_gap = |c: char| matches!(c, ' ' | '\u{a0}' | '\u{202f}' | '\'' | '\u{2019}');
    let signs: Vec<char> = text.chars().filter(|c| !c.is_ascii_digit()).collect();
    let groups: Vec<&str> = text.split(|c: char| !c.is_ascii_digit()).collect();
    let digits = |groups: &[&str]| groups.concat().parse::<f64>().ok();
    let thousands = |groups: &[&str]| {
        let (first, later) = groups.split_first()?;
        let grouped = (1..=3).contains(&first.len()) && later.iter().all(|group| group.len() == 3);
        if grouped { digits(groups) } else { None }
    };
    let sign_of = |c: char| if c == ',' { Decimal::Comma } else { Decimal::Point };
    let other = |sign: Decimal| if sign == Decimal::Comma { Decimal::Point } else { Decimal::Comma };
    let Some(last) = signs.last().copied() else {
        return Some(Number::Sure { value: digits(&groups)?, settles: None });
    };
    let earlier = signs.get(..signs.len() - 1)?;
    let (whole, decimals) = (groups.get(..groups.len() - 1)?, groups.last()?);
    if is_gap(last) || earlier.contains(&last) {
        // A sign that comes more than once parts thousands.
        let same = signs.iter().all(|sign| *sign == last || (is_gap(*sign) && is_gap(last)));
        let value = same.then(|| thousands(&groups)).flatten()?;
        let settles = (!is_gap(last)).then(|| other(sign_of(last)));
        return Some(Number::Sure { value, settles });
    }
    let sign = sign_of(last);
    let with_decimals = |whole: f64| format!("{whole}.{decimals}").parse::<f64>().ok();
    if !earlier.is_empty() {
        let same = earlier.iter().all(|sign| Some(sign) == earlier.first() || is_gap(*sign));
        let value = with_decimals(same.then(|| thousands(whole)).flatten()?)?;
        return Some(Number::Sure { value, settles: Some(sign) });
    }
    let first = whole.first().copied().unwrap_or_default();
    let value = with_decimals(if first.is_empty() { 0.0 } else { digits(whole)? })?;
    if decimals.len() == 3 && !first.starts_with('0') && (1..=3).contains(&first.len()) {
        return Some(Number::Either { decimals: value, thousands: digits(&groups)?, sign });
    }
    Some(Number::Sure { value, settles: Some(sign) })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str, decimal: Option<Decimal>) -> Option<f64> {
        read(text)?.plain(decimal)
    }

    #[test]
    fn what_can_mean_one_thing_is_read_at_once() {
        for (text, expected) in [
            ("120", 120.0),
            ("12.5", 12.5),
            ("12,5", 12.5),
            ("1234.567", 1234.567),
            ("0,125", 0.125),
            (".5", 0.5),
            ("1.234,5", 1234.5),
            ("1,234.5", 1234.5),
            ("1 234", 1234.0),
            ("1'234,5", 1234.5),
            ("1.234.567", 1_234_567.0),
            ("-3", -3.0),
            ("1.5E+03", 1500.0),
        ] {
            assert_eq!(value(text, None), Some(expected), "{text}");
        }
    }

    #[test]
    fn one_sign_before_three_digits_waits_for_the_decimal_sign() {
        for (text, point, comma) in [("1,234", 1234.0, 1.234), ("107.774", 107.774, 107_774.0)] {
            assert_eq!(value(text, None), None, "{text}");
            assert_eq!(value(text, Some(Decimal::Point)), Some(point), "{text}");
            assert_eq!(value(text, Some(Decimal::Comma)), Some(comma), "{text}");
        }
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for text in
            ["", "-", "12-14", "1,2,3", "12.34.56", "1,23,456", "x", "12 apples", "1 23", "3 g 4 g", "1e99", "5 4"]
        {
            assert_eq!(read(text), None, "{text}");
        }
    }

    #[test]
    fn units_and_guesses_are_seen() {
        let pounds = read("4 lb 3 oz").unwrap();
        assert!((pounds.kept(None, None).unwrap() - (4.0 * 453.592_37 + 3.0 * 28.349_523_125)).abs() < 1e-9);
        assert!((read("5'3\"").unwrap().kept(None, None).unwrap() - 63.0 * 2.54).abs() < 1e-9);
        assert_eq!(read("~120g").unwrap(), Figure { about: true, ..read("120 g").unwrap() });
        assert_eq!(read("31 °C").unwrap().unit(), Some(Unit::Celsius));
        assert_eq!(read("1.2 Kg").unwrap().kept(None, Some(Unit::Gram)), Some(1200.0));
    }
}
