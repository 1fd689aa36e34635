//! How long a what-if question takes: what a page waits for.

use care::what_if::{Known, Question};
use divan::Bencher;
use records::Raw;
use records::fields::Given;
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
