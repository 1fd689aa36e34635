//! Tables of a keeper, made at random: what happened is drawn first, then the way it is written down.

use encoding_rs::{Encoding, UTF_8, WINDOWS_1252};
use jiff::civil::{Date, date};
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;
use records::Fact;
use records::facts::*;
use records::import::{
    Answers, DateOrder, Decimal, LengthUnit, MassUnit, MealMassIs, Meaning, NoMeal, TemperatureUnit,
};
use units::length::CENTIMETRES_PER_INCH;
use units::mass::{GRAMS_PER_OUNCE, GRAMS_PER_POUND};
use units::{When, Zone};

/// A table with what it says and the answers that belong to it.
#[derive(Clone)]
pub struct Made {
    pub bytes: Vec<u8>,
    pub text: String,
    pub zone: Zone,
    pub facts: Vec<(String, Fact)>,
    pub species: Vec<(String, String)>,
    pub truth: Answers,
}

impl std::fmt::Debug for Made {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        writeln!(out, "{}\n{:?}", self.text, self.truth)
    }
}

/// A figure as it is written: so many units of the last of its decimals.
#[derive(Clone, Copy, Debug)]
struct Digits {
    whole: u32,
    decimals: u8,
}

impl Digits {
    fn value(self) -> f64 {
        self.text(Decimal::Point, false).parse().expect("digits and a point are a number")
    }

    fn text(self, decimal: Decimal, grouped: bool) -> String {
        let text = format!("{:0width$}", self.whole, width = usize::from(self.decimals) + 1);
        let (whole, rest) = text.split_at(text.len() - usize::from(self.decimals));
        let (sign, group) = if decimal == Decimal::Point { ('.', ',') } else { (',', '.') };
        let mut out = String::new();
        for (place, digit) in whole.chars().enumerate() {
            if grouped && 0 < place && (whole.len() - place) % 3 == 0 {
                out.push(group);
            }
            out.push(digit);
        }
        if !rest.is_empty() {
            out.push(sign);
            out.push_str(rest);
        }
        out
    }
}

/// A figure between `low` and `high`, with up to three decimals.
fn digits(low: u32, high: u32) -> impl Strategy<Value = Digits> {
    (0u8..=3, any::<u32>()).prop_map(move |(decimals, at)| {
        let scale = 10u32.pow(u32::from(decimals));
        Digits { whole: low * scale + at % ((high - low) * scale + 1), decimals }
    })
}

#[derive(Clone, Debug)]
struct Meals {
    prey: Option<Prey>,
    mass: Option<Digits>,
    count: u32,
    outcome: Outcome,
}

/// What happened on a day.
#[derive(Clone, Debug)]
struct Day {
    animal: usize,
    date: Date,
    clock: Option<(i8, i8)>,
    mass: Option<Digits>,
    /// The same where it is written in grams: it may be larger.
    grams: Option<Digits>,
    length: Option<Digits>,
    meal: Option<Meals>,
    event: Option<usize>,
    warmth: Option<(Digits, Digits)>,
    humidity: Option<Digits>,
    note: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum DateStyle {
    Iso,
    Slashed,
    Digits,
    Named,
    NamedFirst,
    Numeric { order: DateOrder, sign: char, short_year: bool, padded: bool },
}

impl DateStyle {
    fn write(self, date: Date) -> String {
        let (year, month, day) = (date.year(), date.month(), date.day());
        match self {
            DateStyle::Iso => date.to_string(),
            DateStyle::Slashed => format!("{year}/{month:02}/{day:02}"),
            DateStyle::Digits => format!("{year}{month:02}{day:02}"),
            DateStyle::Named => date.strftime("%-d %b %Y").to_string(),
            DateStyle::NamedFirst => date.strftime("%B %-d, %Y").to_string(),
            DateStyle::Numeric { order, sign, short_year, padded } => {
                let two = |number: i8| if padded { format!("{number:02}") } else { number.to_string() };
                let year = if short_year { format!("{:02}", year % 100) } else { year.to_string() };
                let (first, second) = if order == DateOrder::DayFirst { (day, month) } else { (month, day) };
                format!("{}{sign}{}{sign}{year}", two(first), two(second))
            }
        }
    }
}

/// How it is written down.
#[derive(Clone, Debug)]
struct Style {
    delimiter: char,
    decimal: Decimal,
    is_grouped: bool,
    dates: DateStyle,
    clock: usize,
    encoding: usize,
    mass_unit: Option<MassUnit>,
    is_unit_in_header: bool,
    temperature_unit: TemperatureUnit,
    names_scale: bool,
    length_unit: LengthUnit,
    mass_is: MealMassIs,
    names_species: bool,
    names_animal: bool,
    language: usize,
    outcomes: usize,
    order: u64,
    has_repeats: bool,
}

fn a_day() -> impl Strategy<Value = Day> {
    let when = ((2001i16..2031, 1i8..=12, 1i8..=28).prop_map(|(y, m, d)| date(y, m, d)), of((0i8..24, 0i8..60)));
    let prey =
        select(vec![Prey::RatFuzzy, Prey::RatWeaned, Prey::MouseHopper, Prey::RatPup, Prey::MouseAdult, Prey::Chick]);
    let meal = (of(prey), of(digits(1, 45)), 1u32..4, select(Outcome::ALL_HERE.to_vec()))
        .prop_map(|(prey, mass, count, outcome)| Meals { prey, mass, count, outcome })
        .prop_filter("a meal is written somehow", |meal| meal.prey.is_some() || meal.mass.is_some());
    let body = (of((digits(5, 240), digits(5, 9_000))), of(digits(20, 90)));
    let air = (of((digits(28, 34), digits(20, 26))), of(digits(30, 90)));
    let notes = select(vec![
        "ruhig, schön",
        "took a while; then fine",
        "said \"no\" at first",
        "größer",
        "12.5",
        "03/04/2025",
        "=1+1",
    ]);
    let rest = (of(0usize..EVENTS.len()), of(notes.prop_map(str::to_owned)));
    (0usize..3, when, body, of(meal), air, rest).prop_map(
        |(animal, (date, clock), (mass, length), meal, (warmth, humidity), (event, note))| Day {
            animal,
            date,
            clock,
            mass: mass.map(|(mass, _)| mass),
            grams: mass.map(|(_, grams)| grams),
            length,
            meal,
            event,
            warmth,
            humidity,
            note,
        },
    )
}

/// What a table can say of a meal without a second row.
trait Here: Sized + 'static {
    const ALL_HERE: &'static [Self];
}

impl Here for Outcome {
    const ALL_HERE: &'static [Outcome] =
        &[Outcome::Taken, Outcome::Refused, Outcome::Left, Outcome::Unseen, Outcome::Regurgitated];
}

/// Events, in the words of languages, and what they are.
const EVENTS: [(&str, &str); 8] = [
    ("shed", "Häutung"),
    ("in blue", "in blue"),
    ("laid 5 eggs", "laid 5 eggs"),
    ("mated", "Paarung"),
    ("full clean", "full clean"),
    ("water change", "Wasserwechsel"),
    ("handled", "handled"),
    ("gravid", "trächtig"),
];

fn event_fact(event: usize, at: When) -> Fact {
    match event {
        0 => Fact::Shed(Shed { shed_at: Some(at), ..Shed::default() }),
        1 => Fact::Shed(Shed { blue_at: Some(at), ..Shed::default() }),
        2 => Fact::Breeding(Breeding { at, what: BreedingWhat::Laid, count: Some(5) }),
        3 => Fact::Breeding(Breeding { at, what: BreedingWhat::Paired, count: None }),
        4 => Fact::Cleaning(Cleaning { at, task: CleaningTask::Full }),
        5 => Fact::Cleaning(Cleaning { at, task: CleaningTask::Water }),
        6 => Fact::Handling(Handling { at, minutes: None }),
        _ => Fact::Breeding(Breeding { at, what: BreedingWhat::Gravid, count: None }),
    }
}

fn a_style() -> impl Strategy<Value = Style> {
    let order = select(vec![DateOrder::DayFirst, DateOrder::MonthFirst]);
    let numeric = (order, select(vec!['/', '.', '-']), any::<bool>(), any::<bool>())
        .prop_map(|(order, sign, short_year, padded)| DateStyle::Numeric { order, sign, short_year, padded });
    let plain =
        select(vec![DateStyle::Iso, DateStyle::Slashed, DateStyle::Digits, DateStyle::Named, DateStyle::NamedFirst]);
    let dates = prop_oneof![2 => plain, 3 => numeric];
    let figures = (select(vec![',', ';', '\t', '|']), select(vec![Decimal::Point, Decimal::Comma]), any::<bool>());
    let mass =
        of(select(vec![MassUnit::Grams, MassUnit::Grams, MassUnit::Kilograms, MassUnit::Ounces, MassUnit::Pounds]));
    let scale = select(vec![TemperatureUnit::Celsius, TemperatureUnit::Fahrenheit]);
    let units = (mass, any::<bool>(), scale, any::<bool>(), select(vec![LengthUnit::Centimetres, LengthUnit::Inches]));
    let names = (any::<bool>(), any::<bool>(), 0usize..4, 0usize..3);
    let rest = (0usize..3, 0usize..5, any::<u64>(), any::<bool>(), select(vec![MealMassIs::Each, MealMassIs::Total]));
    (figures, dates, units, names, rest).prop_map(
        |((delimiter, decimal, is_grouped), dates, units, names, (clock, encoding, order, has_repeats, mass_is))| {
            let (mass_unit, is_unit_in_header, temperature_unit, names_scale, length_unit) = units;
            let (names_species, names_animal, language, outcomes) = names;
            Style {
                delimiter,
                decimal,
                is_grouped,
                dates,
                clock,
                encoding,
                mass_unit,
                is_unit_in_header,
                temperature_unit,
                names_scale,
                length_unit,
                mass_is,
                names_species,
                names_animal,
                language,
                outcomes,
                order,
                has_repeats,
            }
        },
    )
}

/// A table.
pub fn a_table() -> impl Strategy<Value = Made> {
    (a_style(), proptest::collection::vec(a_day(), 1..14))
        .prop_filter("something is written of a day", |(_, days)| {
            days.iter().any(|day| day.mass.is_some() || day.meal.is_some())
        })
        .prop_map(|(style, days)| Maker::new(style, days).make())
}

const NAMES: [(&str, &str); 3] =
    [("Noor", "Python regius"), ("Älva 2", "Boa imperator"), ("Max", "Pantherophis guttatus")];

struct Maker {
    style: Style,
    days: Vec<Day>,
    zone: Zone,
}

/// A column: its header, the meaning that a keeper would tell, and the cells.
type Made1 = (String, Meaning, Vec<String>);

impl Maker {
    fn new(style: Style, mut days: Vec<Day>) -> Maker {
        if style.mass_unit.is_none_or(|unit| unit == MassUnit::Grams) {
            for day in &mut days {
                day.mass = day.grams;
            }
        }
        if !style.names_animal {
            for day in &mut days {
                day.animal = 0;
            }
        }
        Maker { style, days, zone: Zone::none() }
    }

    fn grams(&self, figure: Digits) -> f64 {
        figure.value()
            * match self.style.mass_unit.unwrap_or(MassUnit::Grams) {
                MassUnit::Grams => 1.0,
                MassUnit::Kilograms => 1_000.0,
                MassUnit::Ounces => GRAMS_PER_OUNCE,
                MassUnit::Pounds => GRAMS_PER_POUND,
            }
    }

    fn degrees(&self, figure: Digits) -> (String, f64) {
        match self.style.temperature_unit {
            TemperatureUnit::Celsius => (self.figure(figure), figure.value()),
            TemperatureUnit::Fahrenheit => {
                // Drawn between 20 and 34: as °F twice as much and 25 more, which is warm.
                let shifted = Digits { whole: figure.whole * 2 + 25 * 10u32.pow(u32::from(figure.decimals)), ..figure };
                (self.figure(shifted), (shifted.value() - 32.0) / 1.8)
            }
        }
    }

    fn figure(&self, figure: Digits) -> String {
        figure.text(self.style.decimal, self.style.is_grouped)
    }

    fn at(&self, day: &Day) -> When {
        match day.clock {
            Some((hour, minute)) => When::exactly(self.zone.moment(day.date.at(hour, minute, 0, 0))),
            None => self.zone.day(day.date),
        }
    }

    fn facts(&self) -> Vec<(String, Fact)> {
        let mut facts: Vec<(String, Fact)> = Vec::new();
        for day in &self.days {
            let at = self.at(day);
            let mut said = Vec::new();
            if let Some(mass) = day.mass {
                said.push(Fact::Weighing(Weighing {
                    at,
                    mass_g: self.grams(mass),
                    estimated: false,
                    body_score: None,
                }));
            }
            if let Some(length) = day.length {
                let factor = if self.style.length_unit == LengthUnit::Inches { CENTIMETRES_PER_INCH } else { 1.0 };
                let total_length_cm = Some(length.value() * factor);
                said.push(Fact::Measurement(Measurement { at, total_length_cm, snout_vent_cm: None, girth_cm: None }));
            }
            said.extend(day.meal.as_ref().map(|meal| self.meal(meal, at)));
            said.extend(day.event.map(|event| event_fact(event, at)));
            let reading = |temperature_c, humidity_pct, period| {
                let (spot, means) = (Spot::WarmAir, Means::SpotCheck);
                Fact::Reading(Reading { at, spot, temperature_c, humidity_pct, period, means, hours: None })
            };
            if let Some((warm, night)) = day.warmth {
                said.push(reading(Some(self.degrees(warm).1), None, Some(Period::Day)));
                said.push(reading(Some(self.degrees(night).1), None, Some(Period::Night)));
            }
            said.extend(day.humidity.map(|humidity| reading(None, Some(humidity.value()), None)));
            said.extend(day.note.clone().map(|text| Fact::Note(Note { at, text })));
            for fact in said {
                let one = (NAMES[day.animal].0.to_owned(), fact);
                // The same shed, chore or reading said twice is one.
                let is_state = matches!(one.1, Fact::Shed(_) | Fact::Cleaning(_) | Fact::Reading(_));
                if !is_state || !facts.contains(&one) {
                    facts.push(one);
                }
            }
        }
        facts
    }

    fn meal(&self, meal: &Meals, at: When) -> Fact {
        let outcome = if self.style.outcomes == 2 { Outcome::Taken } else { self.outcome(meal) };
        let each = match self.style.mass_is {
            MealMassIs::Each => 1.0,
            MealMassIs::Total => f64::from(meal.count),
        };
        Fact::Meal(Meal {
            at,
            prey: meal.prey,
            mass_g: meal.mass.map(|mass| self.grams(mass) / each),
            count: meal.count,
            outcome,
            regurgitated_at: None,
            state: None,
            surface_c: None,
            minutes_left: None,
            thawed: None,
            frozen_on: None,
            refrozen: false,
        })
    }

    /// A column of yes and no knows two outcomes.
    fn outcome(&self, meal: &Meals) -> Outcome {
        match (self.style.outcomes, meal.outcome) {
            (1, Outcome::Taken | Outcome::Regurgitated) => Outcome::Taken,
            (1, _) => Outcome::Refused,
            (_, outcome) => outcome,
        }
    }

    fn word<'w, const N: usize>(&self, words: [&'w str; N]) -> &'w str {
        words[self.style.language % N]
    }

    fn column(&self, header: String, meaning: Meaning, cell: impl Fn(&Day) -> Option<String>) -> Made1 {
        (header, meaning, self.days.iter().map(|day| cell(day).unwrap_or_default()).collect())
    }

    fn columns(&self) -> Vec<Made1> {
        let style = &self.style;
        let unit = style.mass_unit.map(|unit| match unit {
            MassUnit::Grams => "g",
            MassUnit::Kilograms => "kg",
            MassUnit::Ounces => "oz",
            MassUnit::Pounds => "lb",
        });
        let mass_header = |word: &str| match unit.filter(|_| style.is_unit_in_header) {
            Some(unit) => format!("{word} ({unit})"),
            None => word.to_owned(),
        };
        let mass_cell = |figure: Digits| match unit.filter(|_| !style.is_unit_in_header) {
            Some(unit) => format!("{} {unit}", self.figure(figure)),
            None => self.figure(figure),
        };
        let meal = |cell: &dyn Fn(&Meals) -> Option<String>, day: &Day| day.meal.as_ref().and_then(cell);
        let mut columns = Vec::new();
        let joined = style.clock == 1;
        columns.push(self.column(self.word(["date", "Datum", "When", "fecha"]).into(), Meaning::Date, |day| {
            let date = style.dates.write(day.date);
            Some(match day.clock.filter(|_| joined) {
                Some((hour, minute)) => format!("{date} {hour:02}:{minute:02}"),
                None => date,
            })
        }));
        if !joined {
            columns.push(self.column(
                self.word(["time", "Uhrzeit", "Time of day", "hora"]).into(),
                Meaning::Time,
                |day| {
                    let (hour, minute) = day.clock?;
                    let half = if hour < 12 { "am" } else { "pm" };
                    Some(match style.clock {
                        0 => format!("{hour:02}:{minute:02}"),
                        _ => format!("{}:{minute:02} {half}", (hour + 11) % 12 + 1),
                    })
                },
            ));
        }
        if style.names_animal {
            columns.push(self.column(
                self.word(["snake", "Tiername", "Name", "serpiente"]).into(),
                Meaning::Animal,
                |day| Some(NAMES[day.animal].0.into()),
            ));
        }
        if style.names_species {
            columns.push(self.column(
                self.word(["species", "Tierart", "Scientific name", "especie"]).into(),
                Meaning::Species,
                |day| Some(NAMES[day.animal].1.into()),
            ));
        }
        columns.push(self.column(
            mass_header(self.word(["weight", "Gewicht", "Body mass", "peso"])),
            Meaning::Mass,
            |day| day.mass.map(mass_cell),
        ));
        let length = if style.length_unit == LengthUnit::Inches { "in" } else { "cm" };
        columns.push(self.column(
            format!("{} {length}", self.word(["length", "Länge", "Total Length", "longitud"])),
            Meaning::TotalLength,
            |day| day.length.map(|length| self.figure(length)),
        ));
        columns.push(self.column(
            self.word(["prey", "Futtertier", "Food item", "presa"]).into(),
            Meaning::Prey,
            |day| meal(&|meal| meal.prey.map(|prey| self.prey(prey)), day),
        ));
        columns.push(self.column(
            mass_header(self.word(["meal weight", "Futtergewicht", "Prey Mass", "peso presa"])),
            Meaning::MealMass,
            |day| meal(&|meal| meal.mass.map(mass_cell), day),
        ));
        columns.push(self.column(
            self.word(["count", "Anzahl", "How many items (number of prey)", "cantidad"]).into(),
            Meaning::MealCount,
            |day| meal(&|meal| Some(meal.count.to_string()), day),
        ));
        if style.outcomes < 2 {
            let header = if style.outcomes == 1 {
                ["eaten", "gefressen", "Accepted?", "comido"]
            } else {
                ["outcome", "Ergebnis", "Result", "resultado"]
            };
            columns.push(self.column(self.word(header).into(), Meaning::Outcome, |day| {
                meal(&|meal| Some(self.outcome_word(meal)), day)
            }));
        }
        columns.push(self.column(
            self.word(["event", "Ereignis", "What happened", "evento"]).into(),
            Meaning::Event,
            |day| day.event.map(|event| self.word([EVENTS[event].0, EVENTS[event].1]).to_owned()),
        ));
        let scale = match (style.names_scale, style.temperature_unit) {
            (false, _) => "",
            (true, TemperatureUnit::Celsius) => " °C",
            (true, TemperatureUnit::Fahrenheit) => " (F)",
        };
        for (words, meaning, second) in [
            (["temp day", "Tagestemperatur", "Daytime Temperature", "temperatura dia"], Meaning::TemperatureDay, false),
            (["temp night", "Nachttemperatur", "NightTemp", "temperatura noche"], Meaning::TemperatureNight, true),
        ] {
            columns.push(self.column(format!("{}{scale}", self.word(words)), meaning, |day| {
                day.warmth.map(|(warm, night)| self.degrees(if second { night } else { warm }).0)
            }));
        }
        columns.push(self.column(
            self.word(["humidity", "Luftfeuchte", "RH", "humedad"]).into(),
            Meaning::Humidity,
            |day| day.humidity.map(|humidity| format!("{}%", self.figure(humidity))),
        ));
        columns.push(self.column(
            self.word(["notes", "Bemerkung", "Keeper's comments", "observaciones"]).into(),
            Meaning::Note,
            |day| day.note.clone(),
        ));
        shuffle(&mut columns, style.order);
        columns
    }

    fn prey(&self, prey: Prey) -> String {
        let words = match prey {
            Prey::RatFuzzy => ["rat fuzzy", "Ratte Fuzzy"],
            Prey::RatWeaned => ["weaned rats", "rat-weaned"],
            Prey::MouseHopper => ["hopper", "Springer"],
            Prey::RatPup => ["Rat pup", "rat pup"],
            Prey::MouseAdult => ["adult mouse", "mouse, adult"],
            _ => ["chick", "Eintagsküken"],
        };
        self.word(words).to_owned()
    }

    fn outcome_word(&self, meal: &Meals) -> String {
        let words = match (self.style.outcomes, self.outcome(meal)) {
            (1, Outcome::Taken) => ["yes", "ja"],
            (1, _) => ["no", "nein"],
            (_, Outcome::Taken) => ["ate", "gefressen"],
            (_, Outcome::Refused) => ["refused", "verweigert"],
            (_, Outcome::Left) => ["left", "left"],
            (_, Outcome::Unseen) => ["gone", "gone"],
            (_, Outcome::Regurgitated) => ["regurgitated", "erbrochen"],
        };
        self.word(words).to_owned()
    }

    fn make(&self) -> Made {
        let columns = self.columns();
        let text = self.text(&columns);
        let (bytes, encoding) = self.encoded(&text);
        let order = match self.style.dates {
            DateStyle::Numeric { order, .. } => Some(order),
            _ => Some(DateOrder::DayFirst),
        };
        let species = if self.style.names_species {
            let used = self.days.iter().map(|day| NAMES[day.animal]);
            used.map(|(name, species)| (name.to_owned(), species.to_owned())).collect()
        } else {
            Vec::new()
        };
        Made {
            bytes,
            text,
            zone: self.zone.clone(),
            facts: self.facts(),
            species,
            truth: Answers {
                date_order: order,
                mass_unit: Some(self.style.mass_unit.unwrap_or(MassUnit::Grams)),
                length_unit: Some(self.style.length_unit),
                temperature_unit: Some(self.style.temperature_unit),
                decimal: Some(self.style.decimal),
                columns: columns.iter().map(|(header, meaning, _)| (header.clone(), *meaning)).collect(),
                units: Vec::new(),
                species: Some("Python regius".into()),
                animal: Some(NAMES[0].0.into()),
                encoding: Some(encoding.name().into()),
                fill_down: Some(false),
                outcome: Some(Outcome::Taken),
                meal_mass_is: Some(self.style.mass_is),
                no_meal: Some(NoMeal::Refused),
            },
        }
    }

    fn text(&self, columns: &[Made1]) -> String {
        let sign = u8::try_from(self.style.delimiter).expect("the signs are ASCII");
        let mut writer = csv::WriterBuilder::new().delimiter(sign).from_writer(Vec::new());
        let header: Vec<&str> = columns.iter().map(|(header, ..)| header.as_str()).collect();
        writer.write_record(&header).expect("memory takes it");
        for row in 0..self.days.len() {
            if self.style.has_repeats && row == self.days.len() / 2 && 0 < row {
                writer.write_record(&header).expect("memory takes it");
                writer.write_record(vec![""; columns.len()]).expect("memory takes it");
            }
            writer.write_record(columns.iter().map(|(_, _, cells)| cells[row].as_str())).expect("memory takes it");
        }
        String::from_utf8(writer.into_inner().expect("memory takes it")).expect("text went in")
    }

    fn encoded(&self, text: &str) -> (Vec<u8>, &'static Encoding) {
        let two = |order: fn(u16) -> [u8; 2]| format!("\u{feff}{text}").encode_utf16().flat_map(order).collect();
        match self.style.encoding {
            1 => (format!("\u{feff}{text}").into_bytes(), UTF_8),
            2 => (two(u16::to_le_bytes), encoding_rs::UTF_16LE),
            3 => (two(u16::to_be_bytes), encoding_rs::UTF_16BE),
            4 => (WINDOWS_1252.encode(&text.replace('\n', "\r\n")).0.into_owned(), WINDOWS_1252),
            _ => (text.as_bytes().to_vec(), UTF_8),
        }
    }
}

/// Another order, the same for the same seed.
fn shuffle<T>(items: &mut [T], mut seed: u64) {
    for last in (1..items.len()).rev() {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        items.swap(last, usize::try_from((seed >> 33) % (last as u64 + 1)).expect("a place in the list"));
    }
}

/// Lines of cells such as stand in tables, in order or out of it.
pub fn cells_at_random() -> impl Strategy<Value = String> {
    let cells = vec![
        "date",
        "mass_g",
        "weight",
        "prey",
        "fed",
        "outcome",
        "shed",
        "event",
        "kind",
        "value",
        "unit",
        "temp day",
        "humidity",
        "animal",
        "species",
        "sex",
        "hatched",
        "note",
        "count",
        "time",
        "length",
        "handled",
        "cleaned",
        "2025-01-05",
        "03/04/2025",
        "14.03.25",
        "Mar 2026",
        "45000",
        "7:30 pm",
        "120",
        "1,234",
        "12.5",
        "-3",
        "0",
        "1e12",
        "~5 g",
        "4 lb 3 oz",
        "5'3\"",
        "31 °C",
        "yes",
        "no",
        "x",
        "",
        "",
        "rat fuzzy",
        "2 x 20 g mouse + 1 rat pup",
        "refused",
        "regurgitated",
        "weighing",
        "laid 99999999999 eggs",
        "in blue",
        "\"",
        "\"\"",
        "'",
        "#",
        "total",
        "Noor",
        "Python regius",
        "0.1",
        "m",
        "%",
        "ß",
        "\u{202e}",
    ];
    let row = |cells: Vec<&'static str>| {
        proptest::collection::vec(prop_oneof![6 => select(cells).prop_map(str::to_owned), 1 => ".{0,12}"], 3)
    };
    let sign = select(vec![",", ";", "\t", "|"]);
    (proptest::collection::vec(row(cells), 1..10), sign)
        .prop_map(|(rows, sign)| rows.iter().map(|row| row.join(sign)).collect::<Vec<_>>().join("\n"))
}

/// Answers of all kinds, so that what lies behind a question is reached too.
pub fn some_answers() -> [Answers; 3] {
    let all = Answers {
        date_order: Some(DateOrder::MonthFirst),
        mass_unit: Some(MassUnit::Pounds),
        length_unit: Some(LengthUnit::Feet),
        temperature_unit: Some(TemperatureUnit::Fahrenheit),
        decimal: Some(Decimal::Comma),
        columns: vec![
            ("date".into(), Meaning::Date),
            ("event".into(), Meaning::Event),
            ("value".into(), Meaning::Value),
        ],
        units: vec![("weight".into(), "oz".into())],
        species: Some("Python regius".into()),
        animal: Some("Noor".into()),
        encoding: None,
        fill_down: Some(true),
        outcome: Some(Outcome::Unseen),
        meal_mass_is: Some(MealMassIs::Total),
        no_meal: Some(NoMeal::Refused),
    };
    let plain =
        Answers { columns: Vec::new(), units: Vec::new(), encoding: Some("windows-1252".into()), ..all.clone() };
    [plain, all, Answers::default()]
}
