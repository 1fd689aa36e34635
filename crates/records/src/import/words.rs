//! The words of headers: what they suggest about a column, in some languages, before its cells are looked at.

use super::meaning::{Meaning, Place};
use super::unit::{Quantity, Unit};
use super::vocabulary::*;
use crate::facts::{Means, Period, Spot};

/// Lower case, accents taken off, so that «Länge», «LANGE» and «lange» are one word.
pub(super) fn fold(text: &str) -> String {
    if text.is_ascii() {
        return text.to_ascii_lowercase();
    }
    let mut out = String::with_capacity(text.len());
    for c in text.chars().flat_map(char::to_lowercase) {
        out.push_str(match c {
            'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' => "a",
            'è' | 'é' | 'ê' | 'ë' | 'ę' => "e",
            'ì' | 'í' | 'î' | 'ï' => "i",
            'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' => "o",
            'ù' | 'ú' | 'û' | 'ü' => "u",
            'ç' | 'ć' | 'č' => "c",
            'ñ' | 'ń' => "n",
            'ß' => "ss",
            'æ' => "ae",
            'œ' => "oe",
            'ł' => "l",
            'ś' | 'š' => "s",
            'ý' => "y",
            'ž' | 'ż' | 'ź' => "z",
            // What some alphabets leave behind when a capital letter with a dot becomes a small one.
            '\u{307}' => "",
            other => {
                out.push(other);
                continue;
            }
        });
    }
    out
}

/// What stands at the head of a column.
#[derive(Clone, Debug)]
pub(super) struct Header {
    tokens: Vec<String>,
    units: Vec<Unit>,
}

impl Header {
    /// Reads a header: its words, and the units among them.
    pub fn read(text: &str) -> Header {
        let text: String = text.chars().take(200).collect();
        let tokens = tokens(&text);
        let folded = fold(&text);
        let inner = folded
            .split(['(', '[', '{'])
            .skip(1)
            .filter_map(|part| part.split([')', ']', '}']).next())
            .filter_map(|inner| Unit::from_word(inner.trim()));
        let units = inner.chain(tokens.iter().rev().filter_map(|token| Unit::from_word(token))).collect();
        Header { tokens, units }
    }

    /// The unit of this quantity that it names; `None` when it names several, as in «weight (g/oz)».
    pub fn unit(&self, quantity: Quantity) -> Option<Unit> {
        let mut named: Vec<Unit> = self.units.iter().copied().filter(|unit| unit.quantity() == quantity).collect();
        // In «length in cm» the «in» is no inch.
        let is_word = |unit: &Unit| *unit == Unit::Inch && self.has(&["in"]);
        if named.iter().any(|unit| !is_word(unit)) {
            named.retain(|unit| !is_word(unit));
        }
        let first = named.first().copied()?;
        named.iter().all(|unit| *unit == first).then_some(first)
    }

    /// Is any of its words known, for whatever column?
    pub fn has_known_words(&self) -> bool {
        const ALL: [&[&str]; 31] = [
            SPECIES,
            SEX,
            HATCHED,
            ARRIVED,
            AGE,
            NOTE,
            TEMPERATURE,
            HUMIDITY,
            DAY,
            NIGHT,
            WARM,
            COOL,
            MEAL,
            MASS,
            COUNT,
            NUMBER,
            AMOUNT,
            OUTCOME,
            SHED,
            LENGTH,
            GIRTH,
            HANDLING,
            CLEANING,
            EVENT,
            VALUE,
            NAME,
            ANIMAL,
            DERIVED,
            THINGS,
            OTHER_DATES,
            TIME,
        ];
        ALL.iter().any(|words| self.has(words))
    }

    /// Do its words suggest anything?
    pub fn is_understood(&self) -> bool {
        !self.suggests().is_empty()
    }

    fn has(&self, words: &[&str]) -> bool {
        self.tokens.iter().any(|token| words.contains(&token.as_str()))
    }

    /// Is it about an age, which follows from two dates and holds for one day only?
    pub fn is_age(&self) -> bool {
        self.has(AGE) && !self.has(MEAL)
    }

    /// Does a «yes» below it say that a meal was refused?
    pub fn is_about_refusing(&self) -> bool {
        self.has(REFUSED)
    }

    /// Does it speak of a meal?
    pub fn is_about_meals(&self) -> bool {
        self.has(MEAL)
    }

    /// Does it say what became of a meal?
    pub fn is_about_outcomes(&self) -> bool {
        self.has(OUTCOME)
    }

    /// Does it say that prey was offered, and not what became of it?
    pub fn has_offered(&self) -> bool {
        self.has(&["offered", "angeboten", "propose", "ofrecido", "offerto", "aangeboden"]) && !self.has(OUTCOME)
    }

    /// Does a «yes» below it say that the eyes are milky?
    pub fn is_about_blue(&self) -> bool {
        self.has(BLUE)
    }

    /// Does a «yes» below it say that the colours are dull?
    pub fn is_about_dull(&self) -> bool {
        self.has(DULL)
    }

    /// Does a «yes» below it say that the bowl was cleaned and filled?
    pub fn is_about_water(&self) -> bool {
        self.has(WATER)
    }

    /// Does a «yes» below it say that everything was cleaned?
    pub fn is_about_all(&self) -> bool {
        self.has(FULL)
    }

    /// Does it say that a figure is that of one item?
    pub fn says_each(&self) -> bool {
        self.has(&["each", "per", "single", "je", "chacun", "cada"]) || self.tokens.iter().any(|token| token == "item")
    }

    /// Does it say that a figure is that of all items?
    pub fn says_total(&self) -> bool {
        self.has(&["total", "sum", "gesamt", "insgesamt", "totale", "totaal"])
    }

    /// Does it say that the mass is the animal's own?
    pub fn is_of_body(&self) -> bool {
        self.has(&["body", "bw", "korpergewicht", "live"]) || self.has(ANIMAL)
    }

    /// Is it a name rather than a number of the animal? Lower is better.
    pub fn rank_as_identity(&self) -> u8 {
        match () {
            () if self.has(NAME) => 0,
            () if self.has(ANIMAL) && !self.has(IDENTITY) => 1,
            () => 2,
        }
    }

    /// Where and when a figure below it was read, as far as its words tell.
    pub fn place(&self) -> Place {
        let surface = self.has(SURFACE);
        let spot = match () {
            () if self.has(WARM) && surface => Some(Spot::WarmSurface),
            () if self.has(WARM) => Some(Spot::WarmAir),
            () if self.has(COOL) && surface => Some(Spot::CoolSurface),
            () if self.has(COOL) => Some(Spot::CoolAir),
            () if self.has(&["hide", "versteck"]) && self.has(&["humid", "moist", "wet", "feucht"]) => {
                Some(Spot::HumidHide)
            }
            () if self.has(&["hide", "versteck"]) => Some(Spot::Hide),
            () if self.has(WATER) => Some(Spot::Water),
            () if self.has(&["room", "raum", "zimmer"]) => Some(Spot::Room),
            () if self.has(&["outdoors", "outside", "outdoor"]) => Some(Spot::Outdoors),
            () => None,
        };
        let period = match () {
            () if self.has(NIGHT) => Some(Period::Night),
            () if self.has(DAY) => Some(Period::Day),
            () => None,
        };
        let means = match () {
            () if self.has(&["max", "maximum", "high", "highest"]) => Means::Maximum,
            () if self.has(&["min", "minimum", "low", "lowest"]) => Means::Minimum,
            () if self.has(&["mean", "average", "avg", "mittel", "mittelwert"]) => Means::Mean,
            () => Means::SpotCheck,
        };
        Place { spot, period, means }
    }

    /// What its words suggest, most likely first; the cells decide. Empty when they suggest nothing.
    pub fn suggests(&self) -> Vec<Meaning> {
        let date = self.has(&["date", "dates", "datum", "fecha", "dato"]);
        let side = (self.has(WARM) || self.has(COOL)) && (self.has(SIDE) || self.has(SURFACE));
        let temperature = self.has(TEMPERATURE)
            || side
            || self
                .unit(Quantity::Temperature)
                .is_some_and(|_| self.has(WARM) || self.has(COOL) || self.has(DAY) || self.has(NIGHT));
        let mass = self.has(MASS);
        let meal = self.has(MEAL);
        let one = |meaning| vec![meaning];
        if self.has(NOTE) {
            return one(Meaning::Note);
        }
        if self.has(DERIVED) {
            return Vec::new();
        }
        if self.has(HUMIDITY) {
            return if self.has(&["incubator", "egg", "eggs", "nest"]) { Vec::new() } else { one(Meaning::Humidity) };
        }
        if temperature {
            let of_something_else =
                meal || self.has(ANIMAL) || self.has(&["set", "setpoint", "body", "incubator", "egg", "eggs", "nest"]);
            return if of_something_else { Vec::new() } else { one(self.temperature()) };
        }
        let is_share = self.has(&["%", "percent", "pct", "prozent"]);
        let is_span = self.has(SPAN) && !meal && !(self.has(LENGTH) && self.has(&["total"]));
        let is_of_origin = (mass || self.has(LENGTH)) && (self.has(HATCHED) || self.has(ARRIVED));
        let is_of_a_thing = (mass || self.has(LENGTH) || self.has(GIRTH)) && self.has(THINGS);
        if is_share || is_span || is_of_origin || is_of_a_thing || (date && self.has(OTHER_DATES)) {
            return Vec::new();
        }
        if meal {
            return self.meal(mass, date);
        }
        if self.has(SPECIES) || (self.has(&["common"]) && self.has(NAME)) {
            return if self.has(&["art"]) { vec![Meaning::Species, Meaning::Event] } else { one(Meaning::Species) };
        }
        if self.has(SEX) {
            return one(Meaning::Sex);
        }
        if self.has(HATCHED) && !self.has(AGE) {
            return one(Meaning::Hatched);
        }
        if self.has(ARRIVED) || (date && self.has(&["in"])) {
            return one(Meaning::Arrived);
        }
        if self.has(SHED) {
            return one(Meaning::Shed);
        }
        if self.has(OUTCOME) && !date {
            return one(Meaning::Outcome);
        }
        if date && (self.has(HANDLING) || self.has(CLEANING) || mass || self.has(LENGTH)) {
            return one(Meaning::Date);
        }
        if self.has(VENT) && (self.has(LENGTH) || self.unit(Quantity::Length).is_some() || self.tokens.len() > 1) {
            return one(Meaning::SnoutVent);
        }
        if self.has(LENGTH) {
            return one(Meaning::TotalLength);
        }
        if self.has(GIRTH) {
            return one(Meaning::Girth);
        }
        if mass {
            return one(Meaning::Mass);
        }
        if self.has(HANDLING) {
            return one(Meaning::Handling);
        }
        if self.has(CLEANING) {
            return one(Meaning::Cleaning);
        }
        self.rest()
    }

    fn temperature(&self) -> Meaning {
        let place = self.place();
        match (place.spot, place.period) {
            (None, Some(Period::Day)) => Meaning::TemperatureDay,
            (None, Some(Period::Night)) => Meaning::TemperatureNight,
            (None, None) => Meaning::Temperature,
            (Some(spot), _) => Meaning::of_spot(spot),
        }
    }

    fn meal(&self, mass: bool, date: bool) -> Vec<Meaning> {
        if mass || self.unit(Quantity::Mass).is_some() {
            return vec![Meaning::MealMass];
        }
        if date {
            return vec![Meaning::Date];
        }
        if self.has(COUNT) || self.has(NUMBER) {
            return vec![Meaning::MealCount];
        }
        if self.has(AMOUNT) {
            return vec![Meaning::Prey, Meaning::MealMass, Meaning::MealCount];
        }
        if self.has(OUTCOME) {
            return vec![Meaning::Outcome, Meaning::Prey];
        }
        if self.has(SPAN) || self.has(&["last"]) {
            return Vec::new();
        }
        vec![Meaning::Outcome, Meaning::Prey, Meaning::MealMass, Meaning::MealCount]
    }

    fn rest(&self) -> Vec<Meaning> {
        if self.has(EVENT) && !self.has(ANIMAL) {
            return vec![Meaning::Event];
        }
        if self.has(UNIT) {
            return vec![Meaning::Unit];
        }
        if self.has(VALUE) || self.has(AMOUNT) {
            return vec![Meaning::Value];
        }
        if self.has(COUNT) {
            return vec![Meaning::MealCount];
        }
        if self.has(NAME) || self.has(ANIMAL) || self.has(IDENTITY) {
            return if self.has(&["tag"]) { vec![Meaning::Date, Meaning::Animal] } else { vec![Meaning::Animal] };
        }
        if self.has(TIME) {
            let date_first = self.has(DATE);
            return if date_first { vec![Meaning::Date, Meaning::Time] } else { vec![Meaning::Time, Meaning::Date] };
        }
        if self.has(DATE) {
            return vec![Meaning::Date];
        }
        Vec::new()
    }
}

/// The words of a header: parted at signs, at a capital within a word, and between letters and digits.
fn tokens(text: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut word = String::new();
    let mut last = ' ';
    for c in text.chars() {
        let degree = matches!(c, '°' | 'º' | '℃' | '℉');
        let parts = (last.is_lowercase() && c.is_uppercase())
            || (last.is_ascii_digit() != c.is_ascii_digit() && last.is_alphanumeric())
            || degree;
        if parts && !word.is_empty() {
            out.push(fold(&std::mem::take(&mut word)));
        }
        if c.is_alphanumeric() || degree {
            word.push(c);
        } else {
            if !word.is_empty() {
                out.push(fold(&std::mem::take(&mut word)));
            }
            if c == '%' || c == '#' {
                out.push(c.to_string());
            }
        }
        last = c;
    }
    if !word.is_empty() {
        out.push(fold(&word));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case("mass_g", Meaning::Mass, Some("g"))]
    #[case("Weight (lbs)", Meaning::Mass, Some("lb"))]
    #[case("Gewicht [kg]", Meaning::Mass, Some("kg"))]
    #[case("weight in grams", Meaning::Mass, Some("g"))]
    #[case("meal_g", Meaning::MealMass, Some("g"))]
    #[case("Prey weight", Meaning::MealMass, None)]
    #[case("temp_day", Meaning::TemperatureDay, None)]
    #[case("tempNight °F", Meaning::TemperatureNight, Some("°F"))]
    #[case("Warm side (°C)", Meaning::TemperatureWarmAir, Some("°C"))]
    #[case("Basking temp", Meaning::TemperatureWarmSurface, None)]
    #[case("Humidity %", Meaning::Humidity, Some("%"))]
    #[case("Länge cm", Meaning::TotalLength, Some("cm"))]
    #[case("SVL (in)", Meaning::SnoutVent, Some("in"))]
    #[case("Datum", Meaning::Date, None)]
    #[case("date of birth", Meaning::Hatched, None)]
    #[case("Date weighed", Meaning::Date, None)]
    #[case("Date in", Meaning::Arrived, None)]
    #[case("Shed date", Meaning::Shed, None)]
    #[case("Scientific name", Meaning::Species, None)]
    #[case("Snake", Meaning::Animal, None)]
    #[case("total length", Meaning::TotalLength, None)]
    #[case("feeding date", Meaning::Date, None)]
    #[case("number of prey", Meaning::MealCount, None)]
    #[case("Bemerkung", Meaning::Note, None)]
    fn a_header_suggests(#[case] text: &str, #[case] meaning: Meaning, #[case] unit: Option<&str>) {
        let header = Header::read(text);
        assert_eq!(header.suggests().first(), Some(&meaning), "{header:?}");
        assert_eq!(meaning.quantity().and_then(|quantity| header.unit(quantity)).map(Unit::sign), unit, "{header:?}");
    }

    #[rstest]
    #[case("weight (g)", Quantity::Mass, Some(Unit::Gram))]
    #[case("weight (g/oz)", Quantity::Mass, None)]
    #[case("length in cm", Quantity::Length, Some(Unit::Centimetre))]
    #[case("length in", Quantity::Length, Some(Unit::Inch))]
    #[case("temp C or F", Quantity::Temperature, None)]
    fn a_header_names_one_unit_or_none(#[case] text: &str, #[case] quantity: Quantity, #[case] unit: Option<Unit>) {
        assert_eq!(Header::read(text).unit(quantity), unit);
    }

    #[rstest]
    #[case("days since shed")]
    #[case("next feed due")]
    #[case("weight change")]
    #[case("hatch weight (g)")]
    #[case("tail length")]
    #[case("tank length cm")]
    #[case("prey temp")]
    #[case("meal % of body weight")]
    #[case("last fed")]
    #[case("date sold")]
    #[case("target weight")]
    #[case("purchase price")]
    #[case("incubator humidity")]
    #[case("")]
    #[case("zzz")]
    fn a_header_that_says_nothing_to_keep_suggests_nothing(#[case] text: &str) {
        assert_eq!(Header::read(text).suggests(), [], "{text}");
    }
}
