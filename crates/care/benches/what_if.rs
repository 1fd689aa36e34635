//! How long a what-if question takes, what a page waits for; and how long a log takes to be read and fitted.

use care::twin::calibrate::{LogTable, fit_log, read_log};
use care::what_if::{Known, Place, Question};
use divan::Bencher;
use records::Raw;
use records::facts::{Enclosure, Heater, HeaterKind, Lid};
use records::fields::Given;
use records::import::Answers;
use units::{Moment, Zone};

fn main() {
    divan::main();
}

const TYPED: [(&str, &str); 12] = [
    ("length_cm", "120"),
    ("width_cm", "60"),
    ("height_cm", "60"),
    ("material", "pvc"),
    ("lid", "part-mesh"),
    ("heater", "panel"),
    ("watts", "80"),
    ("thermostat", "dimming"),
    ("set_c", "31"),
    ("probe", "warm-surface"),
    ("room_c", "20"),
    ("species", "ball python"),
];

fn given(question: Question) -> Given {
    let keys: Vec<&str> = question.fields().iter().map(|field| field.key).collect();
    let mut pairs: Vec<(&str, &str)> = TYPED.into_iter().filter(|(key, _)| keys.contains(key)).collect();
    match question {
        Question::PowerCut => pairs.push(("outdoors_c", "-5")),
        Question::Compare => pairs.push(("other_material", "glass")),
        Question::Thermometer => {
            pairs.extend([("first_c", "31"), ("first_pct", "40"), ("second_c", "24"), ("second_pct", "60")])
        }
        Question::Thaw => pairs.push(("prey", "2 mouse-adult, 1 rat-medium")),
        _ => {}
    }
    let pairs = pairs.into_iter().map(|(key, value)| (key.to_owned(), Raw::Text(value.to_owned()))).collect();
    Given { pairs, origin: "the bench".into() }
}

#[divan::bench(args = Question::ALL.map(Question::key), sample_count = 20)]
fn answer(bencher: Bencher<'_, '_>, key: &str) {
    let Some(question) = Question::from_key(key) else { return };
    let typed = given(question);
    let known = Known::nothing(Moment(1_795_000_000), Zone::named("Europe/Lisbon").unwrap_or(Zone::none()));
    bencher.bench(|| question.ask(&typed, &known));
}

/// An enclosure on record.
fn place() -> Place {
    let enclosure = Enclosure {
        length_cm: Some(120.0),
        width_cm: Some(60.0),
        height_cm: Some(60.0),
        material: Some("PVC".into()),
        lid: Some(Lid::Solid),
        ..Enclosure::default()
    };
    let heater = Heater { watts: Some(80.0), set_c: Some(27.5), ..Heater::of(HeaterKind::Panel) };
    Place { enclosure, heaters: vec![heater], ..Place::default() }
}

fn known() -> Known {
    Known { place: Some(place()), ..Known::nothing(Moment(1_795_000_000), Zone::none()) }
}

/// A simulated log: air on both sides, floor and walls, a thermostat with a lower set point by night, shown to 0.1 K.
fn log(days: usize, minutes: usize) -> Vec<u8> {
    let mut text = String::from("time,warm_c,cool_c,room_c,heater_on\n");
    let (mut warm, mut cool, mut floor, mut walls) = (27.0f64, 25.0f64, 25.0f64, 24.0f64);
    let mut is_on = true;
    for step in 0..days * 1440 / minutes {
        let minute = step * minutes;
        let day = (minute % 1440) as f64 / 1440.0;
        let room = 20.0 + 1.5 * (std::f64::consts::TAU * (day - 0.375)).sin();
        let set = if (0.29..0.92).contains(&day) { 27.5 } else { 24.5 };
        is_on = if set + 0.5 < warm { false } else { is_on || warm < set - 0.5 };
        let time = Zone::none().write(Moment(1_760_000_000 + 60 * minute as i64));
        text.push_str(&format!("{time},{warm:.1},{cool:.1},{room:.1},{}\n", u8::from(is_on)));
        let power = if is_on { 80.0 } else { 0.0 };
        for _ in 0..minutes * 6 {
            let (across, up) = (2.5 * (cool - warm), 2.7 * (floor - warm));
            let more = [
                0.25 * power + across + up + 6.0 * (walls - warm) + 0.4 * (room - warm),
                -across + 6.0 * (walls - cool) + 1.4 * (floor - cool) + 0.4 * (room - cool),
                0.5 * power - up - 1.4 * (floor - cool) + 2.6 * (walls - floor) + 1.2 * (room - floor),
                0.2 * power + 6.0 * (warm + cool - 2.0 * walls) + 2.6 * (floor - walls) + 8.5 * (room - walls),
            ];
            warm += more[0] * 10.0 / 3_000.0;
            cool += more[1] * 10.0 / 3_000.0;
            floor += more[2] * 10.0 / 22_000.0;
            walls += more[3] * 10.0 / 24_000.0;
        }
    }
    text.into_bytes()
}

fn table(days: usize, minutes: usize) -> Option<LogTable> {
    read_log("log.csv", &log(days, minutes), &Zone::none(), &Answers::default()).ok()
}

/// Days, and minutes from row to row.
const LOGS: [(usize, usize); 3] = [(3, 5), (3, 1), (30, 1)];

#[divan::bench(args = LOGS, sample_count = 10)]
fn read(bencher: Bencher<'_, '_>, (days, minutes): (usize, usize)) {
    let bytes = log(days, minutes);
    bencher.bench(|| read_log("log.csv", &bytes, &Zone::none(), &Answers::default()));
}

#[divan::bench(args = LOGS, sample_count = 10)]
fn calibrate(bencher: Bencher<'_, '_>, (days, minutes): (usize, usize)) {
    let Some(table) = table(days, minutes) else { return };
    bencher.bench(|| fit_log(&table, &known(), None));
}

/// The same questions, resting on a log.
#[divan::bench(args = ["warmth", "runaway", "power-cut", "humidity", "season"], sample_count = 20)]
fn fitted(bencher: Bencher<'_, '_>, key: &str) {
    let (Some(question), Some(table)) = (Question::from_key(key), table(3, 5)) else { return };
    let mut known = known();
    if let (Some(place), Ok((_, kept))) = (&mut known.place, fit_log(&table, &self::known(), None)) {
        place.fitted = kept;
    }
    let typed = Given {
        pairs: [("room_c", "20"), ("species", "ball python")]
            .map(|(key, value)| (key.to_owned(), Raw::Text(value.to_owned())))
            .to_vec(),
        origin: "the bench".into(),
    };
    bencher.bench(|| question.ask(&typed, &known));
}
